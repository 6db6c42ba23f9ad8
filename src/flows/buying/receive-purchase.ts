import { landedByLine, partCents } from '#core/buying/purchases.ts';
import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatDay } from '#core/shared/format.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { changePurchase, changePurchaseLine, findOffer } from '#db/stores/buying.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { readOpenPurchase } from '#flows/buying/order-basket.ts';
import { type PacksToShelve, shelvePacks } from '#flows/buying/shelve-packs.ts';

/** Packs of one line in one dye lot. */
export type ReceivedPacks = { readonly lineId: number; readonly packs: number; readonly dyeLot: string | null };

export type Receipt = {
  readonly day: Day;
  /** At least one. */
  readonly packs: readonly ReceivedPacks[];
};

export type Received = {
  readonly lotIds: readonly number[];
  readonly helpedPairs: number;
  /** Packs that are still to come. */
  readonly stillToCome: number;
};

/**
 * All or a part of a purchase is here: each dye lot becomes a lot at what was paid for it, postage included, and pairs
 * that wait get theirs. When the last pack is here the parts add up to the bill. One write.
 *
 * @returns what went on the shelf, or what is wrong with the counts
 * @throws {AppError} `notFound`, `conflict`
 */
export async function receivePurchase(
  { store }: Workshop,
  id: number,
  receipt: Receipt,
  version: number | undefined,
): Promise<Result<Received>> {
  return await store.write('buying: a purchase is here', async (tx) => {
    const open = await readOpenPurchase(tx, id);
    if (!open.ok) return open;
    const { purchase, lines } = open.value;
    const problems: Problem[] = [];
    if (receipt.day < purchase.orderedDay) {
      const message = `It was ordered on ${formatDay(purchase.orderedDay)}: enter that day or a later one.`;
      problems.push({ code: 'beforeOrdered', path: 'day', message });
    }
    for (const line of lines) {
      const now = receipt.packs.filter(({ lineId }) => lineId === line.id).reduce((sum, { packs }) => sum + packs, 0);
      const missing = line.packs - line.arrivedPacks;
      if (now <= missing) continue;
      const message = `${countOf(missing, 'pack is', 'packs are')} still to come. If more came, put the rest on the shelf as bought elsewhere.`;
      problems.push({ code: 'moreThanOrdered', path: `packs-${line.id}`, message });
    }
    if (problems.length > 0) return refuse(...problems);
    const landed = landedByLine(lines, purchase.shippingCents, purchase.offCents);
    const arrivedOf = new Map(lines.map((line) => [line.id, line.arrivedPacks]));
    const came: PacksToShelve[] = [];
    for (const { lineId, packs, dyeLot } of receipt.packs) {
      const at = lines.findIndex((line) => line.id === lineId);
      const line = lines[at];
      if (!line) continue;
      const before = arrivedOf.get(lineId)!;
      const { yarnColourId } = (await findOffer(tx, line.offerId))!;
      const { ballMg, ballsPerPack } = line;
      const pack = { yarnColourId, ballMg, ballsPerPack, packs };
      const paidCents = partCents(landed[at]!, line.packs, before, packs);
      came.push({ ...pack, purchaseLineId: lineId, dyeLot, paidCents, path: `packs-${lineId}` });
      arrivedOf.set(lineId, before + packs);
    }
    const made = await shelvePacks(tx, receipt.day, came);
    if (!made.ok) return made;
    for (const line of lines) {
      const arrivedPacks = arrivedOf.get(line.id)!;
      if (arrivedPacks !== line.arrivedPacks) await changePurchaseLine(tx, line.id, { arrivedPacks });
    }
    const stillToCome = lines.reduce((sum, line) => sum + line.packs - arrivedOf.get(line.id)!, 0);
    await changePurchase(tx, id, { state: stillToCome === 0 ? 'arrived' : 'ordered' }, version);
    return succeed({ lotIds: made.value, helpedPairs: await allotWaiting(tx, new Map(), made.value), stillToCome });
  });
}
