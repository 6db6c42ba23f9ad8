import { AppError } from '#core/shared/app-error.ts';
import { countOf } from '#core/shared/format.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import {
  changeFairDay,
  createFairPair,
  type FairDayRow,
  findFairDay,
  listFairDays,
  listFairPairs,
  removeFairPair,
} from '#db/stores/fair.ts';
import type { RoleColours } from '#flows/batch/read-batch.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import { type FairRows, pairsOf } from '#flows/fair/fair-rows.ts';
import { type KindAtTable, kindsAtTable } from '#flows/fair/read-day.ts';
import { stockToTake } from '#flows/fair/stock-to-take.ts';
import { type TakenRow, takenOf } from '#flows/fair/taken-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Pairs that look alike, and how many of them are taken along. */
export type KindToTake = {
  readonly key: string;
  readonly size: string;
  readonly colours: readonly RoleColours[];
  readonly words: string;
  readonly isSecond: boolean;
  readonly listCents: number | null;
  /** In the order in which they are taken: those taken already first. */
  readonly pairIds: readonly number[];
  readonly takenCount: number;
  /** So many must stay on the list, since they were sold or left from home since. */
  readonly least: number;
};

/** What can be taken along for a day, beside what is taken already. */
export function kindsToTake(
  rows: FairRows,
  workshopPlan: WorkshopPlan,
  day: FairDayRow,
  outletId: number,
): readonly KindToTake[] {
  const { here } = takenOf(day.id, rows);
  const taken = new Set(here.map(({ pairId }) => pairId));
  const elsewhere = new Set(rows.days.filter((each) => each.day === day.day && each.id !== day.id).map(({ id }) => id));
  const atOtherTable = new Set(
    rows.taken.filter(({ fairDayId }) => elsewhere.has(fairDayId)).map(({ pairId }) => pairId),
  );
  const others = stockToTake(workshopPlan).filter(({ row }) => !taken.has(row.id) && !atOtherTable.has(row.id));
  const stored = new Map<number, StoredPair>(pairsOf(rows, workshopPlan));
  for (const pair of others) stored.set(pair.row.id, pair);
  const asTaken = ({ row }: StoredPair): TakenRow => ({
    pairId: row.id,
    pair: row,
    isSold: false,
    cameHome: null,
    row: { id: 0, fairDayId: day.id, pairId: row.id, cameHome: null, version: 0 },
  });
  const all = [...here, ...others.map(asTaken)];
  return kindsAtTable(all, stored, outletId, workshopPlan, new Map()).map((kind) => ofKind(kind, taken));
}

function ofKind({ pairs, counts: _, soldBy: __, missing: ___, ...kind }: KindAtTable, taken: ReadonlySet<number>) {
  const isTaken = ({ pairId }: KindAtTable['pairs'][number]) => taken.has(pairId);
  const mustStay = pairs.filter((pair) => isTaken(pair) && (pair.isSold || pair.leftLater));
  const mayGo = pairs.filter((pair) => isTaken(pair) && !mustStay.includes(pair));
  const mayCome = pairs.filter((pair) => !isTaken(pair));
  return {
    ...kind,
    pairIds: [...mustStay, ...mayGo, ...mayCome].map(({ pairId }) => pairId),
    takenCount: mustStay.length + mayGo.length,
    least: mustStay.length,
  };
}

/** How many pairs of each kind are taken along, by the kind's key. */
export type TakeWish = ReadonlyMap<string, number>;

function problemsOf(kinds: readonly KindToTake[], wish: TakeWish): Problem[] {
  return kinds.flatMap(({ key, least }) => {
    const count = wish.get(key) ?? 0;
    if (count >= least) return [];
    const message = `${countOf(least, 'pair of these is', 'pairs of these are')} sold or gone since, so at least ${least} came along.`;
    return [{ code: 'isSold', path: `take-${key}`, message }];
  });
}

/**
 * Sets which pairs are taken along for a day: so many of each kind.
 *
 * @throws {AppError} `notFound`, or `conflict` when the day or the pairs have changed since
 */
export async function takePairs(
  workshop: Workshop,
  dayId: number,
  kinds: readonly KindToTake[],
  wish: TakeWish,
  version: number | undefined,
): Promise<Result<null>> {
  const problems = problemsOf(kinds, wish);
  if (problems.length > 0) return refuse(...problems);
  return await workshop.store.write('fair: choose what is taken along', async (tx) => {
    const day = await findFairDay(tx, dayId);
    if (!day) throw new AppError('notFound', 'That day is not here; it may have been removed.');
    const rows = await listFairPairs(tx);
    const own = rows.filter(({ fairDayId }) => fairDayId === dayId);
    const sameDay = new Set((await listFairDays(tx)).filter((each) => each.day === day.day).map(({ id }) => id));
    const wanted = new Set(kinds.flatMap(({ key, pairIds }) => pairIds.slice(0, wish.get(key) ?? 0)));
    const known = new Set(kinds.flatMap(({ pairIds }) => pairIds));
    const added = [...wanted].filter((id) => own.every(({ pairId }) => pairId !== id));
    const removed = own.filter(({ pairId }) => known.has(pairId) && !wanted.has(pairId));
    if (added.length === 0 && removed.length === 0) return succeed(null);
    await changeFairDay(tx, dayId, {}, version);
    const busy = rows.find(({ fairDayId, pairId }) => sameDay.has(fairDayId) && added.includes(pairId));
    if (busy) {
      throw new AppError('conflict', 'One of these pairs was taken to another table that day meanwhile. Look again.');
    }
    for (const pairId of added) await createFairPair(tx, { fairDayId: dayId, pairId, cameHome: null });
    for (const { id } of removed) await removeFairPair(tx, id);
    return succeed(null);
  });
}
