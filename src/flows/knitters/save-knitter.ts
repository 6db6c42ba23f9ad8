import type { Tightness } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Rates } from '#core/timing/knitter.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { listCurrentPairs } from '#db/stores/batch.ts';
import { changeKnitter, createKnitter, listKnitters, setKnitterHours, setKnitterRates } from '#db/stores/knitters.ts';
import { listOpenLines, listOpenOrders } from '#db/stores/orders.ts';

export type KnitterEntry = {
  readonly name: string;
  readonly hand: Tightness;
  /** Seven, Monday first. */
  readonly minutesByWeekday: readonly number[];
  readonly pairsAMonth: number | null;
  readonly dailyCapMin: number;
  readonly lastDay: Day | null;
  readonly words: 'british' | 'american';
  readonly isActive: boolean;
  readonly rates: Partial<Rates>;
};

async function refuseNameTwice(tx: Tx, name: string, id: number | null) {
  const wanted = name.toLowerCase();
  const other = (await listKnitters(tx)).find((each) => each.id !== id && each.name.toLowerCase() === wanted);
  if (!other) return null;
  const message = other.isActive
    ? `There is a ${other.name} already: add a letter or a family name to tell them apart.`
    : `There was a ${other.name} who stopped knitting: open that page and tick “Knits at present”, or choose another name.`;
  return refuse({ code: 'nameTwice', path: 'name', message });
}

/** Whoever is to knit pairs of an order stays a knitter until these are given to somebody else, or begun. */
async function refuseWhileKept(tx: Tx, id: number, name: string) {
  const begun = (await listCurrentPairs(tx)).filter(({ left }) => left !== 'ripped out' && left !== 'lost');
  const kept = (await listOpenLines(tx)).filter(
    (line) => line.knitterId === id && begun.filter((pair) => pair.lineId === line.id).length < line.quantity,
  );
  if (kept.length === 0) return null;
  const numbers = (await listOpenOrders(tx)).flatMap((order) =>
    kept.some((line) => line.orderId === order.id) ? [order.number] : [],
  );
  const orders = numbers.length === 1 ? `order ${numbers[0]}` : `orders ${numbers.join(', ')}`;
  const message = `${name} is to knit pairs of ${orders}. Open their lines and choose who knits them first.`;
  return refuse({ code: 'stillKept', path: 'isActive', message });
}

/** Adds a knitter with hours and rates. @returns her id */
export async function addKnitter(workshop: Workshop, entry: KnitterEntry): Promise<Result<number>> {
  const { minutesByWeekday, rates, ...row } = entry;
  return await workshop.store.write('knitters: add a knitter', async (tx) => {
    const twice = await refuseNameTwice(tx, entry.name, null);
    if (twice) return twice;
    const { id } = await createKnitter(tx, row);
    await setKnitterHours(tx, id, minutesByWeekday);
    await setKnitterRates(tx, id, rates);
    return succeed(id);
  });
}

/** Changes a knitter. @throws {AppError} `notFound`, `conflict` */
export async function saveKnitter(
  workshop: Workshop,
  id: number,
  entry: KnitterEntry,
  version: number | undefined,
): Promise<Result<number>> {
  const { minutesByWeekday, rates, ...row } = entry;
  return await workshop.store.write('knitters: change a knitter', async (tx) => {
    const twice = await refuseNameTwice(tx, entry.name, id);
    if (twice) return twice;
    const kept = entry.isActive ? null : await refuseWhileKept(tx, id, entry.name);
    if (kept) return kept;
    // The version guards hours and rates too: they change only together with the knitter's own row.
    await changeKnitter(tx, id, row, version);
    await setKnitterHours(tx, id, minutesByWeekday);
    await setKnitterRates(tx, id, rates);
    return succeed(id);
  });
}
