import { type LotLeft, type LotPart, placementKey, placeOnLots, type Want } from '#core/buying/lots.ts';
import { lotsAfter } from '#core/buying/lots-after.ts';
import { lotKeyOf, usableMg } from '#core/buying/shelf.ts';
import { mayMixLots, type OutletKind } from '#core/pricing/outlet.ts';
import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { splitCents } from '#core/shared/money.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { Reader, Tx } from '#db/store.ts';
import {
  changePairColour,
  createPairColour,
  listCurrentPairColours,
  listCurrentPairPieces,
  listCurrentPairs,
  type PairColourRow,
  type PairRow,
} from '#db/stores/batch.ts';
import { findLine, findOrder } from '#db/stores/orders.ts';
import { findOutlet } from '#db/stores/pricing.ts';
import {
  changeReservation,
  createReservation,
  listBallMoves,
  listBalls,
  listFullBalls,
  listLots,
  listReservations,
  moveBall,
  removeReservation,
  undoMove,
} from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';

/** Yarn of one strand to weigh out, and the lot it comes from; no lot while it is still to buy. */
export type Allotment = {
  readonly role: string;
  readonly strand: number;
  readonly yarnColourId: number;
  readonly lotId: number | null;
  readonly allottedMg: number;
};

/** Strands of a colour that mixes lots: each takes from one lot after another, in a row for each lot that it meets. */
export function mixedAllotments(
  strands: readonly { readonly role: string; readonly strand: number }[],
  strandsMg: readonly number[],
  lots: readonly LotPart[],
  yarnColourId: number,
): Allotment[] {
  const left = lots.map((lot) => ({ ...lot }));
  return strands.flatMap(({ role, strand }, index) => {
    let mg = strandsMg[index]!;
    const rows: Allotment[] = [];
    while (mg > 0 && left.length > 0) {
      const lot = left[0]!;
      const allottedMg = Math.min(mg, lot.mg);
      rows.push({ role, strand, yarnColourId, lotId: lot.lotId, allottedMg });
      mg -= allottedMg;
      lot.mg -= allottedMg;
      if (lot.mg === 0) left.shift();
    }
    return rows.length > 0 ? rows : [{ role, strand, yarnColourId, lotId: lots[0]!.lotId, allottedMg: 0 }];
  });
}

/** What every lot can still give: its balls without the ends, less what is put aside. */
export async function freeLots(from: Reader) {
  const balls = await listFullBalls(from);
  const reservations = await listReservations(from);
  const { leastPartBallG } = readSettings(await listSettings(from));
  return (await listLots(from)).map(({ id, yarnColourId, dyeLot }) => {
    const massesMg = balls.filter((ball) => ball.lotId === id).map((ball) => ball.massMg);
    const promisedMg = reservations.filter((each) => each.lotId === id).reduce((sum, each) => sum + each.massMg, 0);
    const freeMg = usableMg(massesMg, promisedMg, leastPartBallG * 1000);
    return { id, yarnColourId, freeMg, lotKey: lotKeyOf(dyeLot) };
  });
}

/** Puts more (or less, when negative) of a lot aside for a batch; nothing is left of it at 0. */
export async function putAside(tx: Tx, batchId: number, lotId: number, changeMg: number): Promise<void> {
  if (changeMg === 0) return;
  const row = (await listReservations(tx)).find((each) => each.batchId === batchId && each.lotId === lotId);
  const massMg = Math.max(0, (row?.massMg ?? 0) + changeMg);
  if (!row) {
    if (massMg > 0) await createReservation(tx, { batchId, lotId, massMg });
  } else if (massMg === 0) {
    await removeReservation(tx, row.id);
  } else {
    await changeReservation(tx, row.id, { massMg });
  }
}

/** Milligrams of each lot that some colours of a pair were allotted. */
function allottedByLot(colours: readonly PairColourRow[]): ReadonlyMap<number, number> {
  const byLot = new Map<number, number>();
  for (const { lotId, allottedMg } of colours) {
    if (lotId !== null) byLot.set(lotId, (byLot.get(lotId) ?? 0) + allottedMg);
  }
  return byLot;
}

/** Gives what was put aside for a pair free again. */
export async function releaseYarn(tx: Tx, pair: PairRow, colours: readonly PairColourRow[]): Promise<void> {
  if (pair.batchId === null) return;
  for (const [lotId, mg] of allottedByLot(colours)) await putAside(tx, pair.batchId, lotId, -mg);
}

/** Puts it aside once more, when a pair that was finished by mistake goes on. */
export async function holdYarn(tx: Tx, pair: PairRow, colours: readonly PairColourRow[]): Promise<void> {
  if (pair.batchId === null) return;
  for (const [lotId, mg] of allottedByLot(colours)) await putAside(tx, pair.batchId, lotId, mg);
}

/** What a pair likely used of each of its lots. */
function likelyUses(pair: PairRow, colours: readonly PairColourRow[]): LotPart[] {
  return readFrozen(pair.specJson).estimate.yarn.flatMap(({ yarnColourId, grams }) => {
    const own = colours.filter((colour) => colour.yarnColourId === yarnColourId && colour.lotId !== null);
    // One lot, but where a pair to give mixes them: each then gives in the share that was weighed out of it.
    const byLot = [...allottedByLot(own)];
    if (byLot.length === 0) return [];
    const shares = splitCents(
      Math.round(grams * 1000),
      byLot.map(([, mg]) => mg),
    );
    return byLot.map(([lotId], index) => ({ lotId, mg: shares[index]! }));
  });
}

/** Takes what a pair likely used off its lots, smallest balls first, and never more than there is. */
export async function useYarn(tx: Tx, pair: PairRow, colours: readonly PairColourRow[], day: Day): Promise<void> {
  for (const { lotId, mg } of likelyUses(pair, colours)) await useOfLot(tx, pair.id, lotId, mg, day);
}

/** A lot that has less than a pair likely used of it. */
export type LotTooSmall = { readonly lotId: number; readonly usedMg: number; readonly massMg: number };

/** The lots that have less than a pair likely used of them, by more than the scale can show. */
export async function lotsTooSmall(
  from: Reader,
  pair: PairRow,
  colours: readonly PairColourRow[],
): Promise<LotTooSmall[]> {
  const balls = await listFullBalls(from);
  const stepMg = readSettings(await listSettings(from)).scaleStepG * 1000;
  return likelyUses(pair, colours).flatMap(({ lotId, mg: usedMg }) => {
    const massMg = balls.filter((ball) => ball.lotId === lotId).reduce((sum, ball) => sum + ball.massMg, 0);
    return usedMg - massMg > stepMg ? [{ lotId, usedMg, massMg }] : [];
  });
}

async function useOfLot(tx: Tx, pairId: number, lotId: number, mg: number, day: Day): Promise<void> {
  let leftMg = mg;
  const balls = (await listFullBalls(tx)).filter((ball) => ball.lotId === lotId);
  balls.sort((a, b) => a.massMg - b.massMg || a.id - b.id);
  for (const ball of balls) {
    const changeMg = -Math.min(leftMg, ball.massMg);
    if (changeMg === 0) continue;
    // A ball written down with a later day is used on that day: it cannot have been less than nothing before.
    const days = (await listBallMoves(tx, ball.id)).map((move) => move.day);
    const onDay = [day, ...days].sort().at(-1)!;
    const used = await moveBall(tx, { ballId: ball.id, changeMg, reason: 'used', day: onDay, pairId });
    if (used.ok) leftMg += changeMg;
  }
}

/** Puts back on its lots what a pair was booked to have used. */
export async function unuseYarn(tx: Tx, pair: PairRow, colours: readonly PairColourRow[], day: Day): Promise<void> {
  const lotIds = new Set(allottedByLot(colours).keys());
  for (const ball of (await listBalls(tx)).filter((each) => lotIds.has(each.lotId))) {
    const moves = await listBallMoves(tx, ball.id);
    const undone = new Set(moves.map((move) => move.reversesId));
    for (const move of moves) {
      if (move.pairId === pair.id && move.reversesId === null && !undone.has(move.id)) await undoMove(tx, move.id, day);
    }
  }
}

/** Where a pair that was ordered goes; null where it was not. */
async function outletKindOf(tx: Tx, { lineId }: PairRow): Promise<OutletKind | null> {
  const line = lineId === null ? undefined : await findLine(tx, lineId);
  const order = line && (await findOrder(tx, line.orderId));
  return order ? ((await findOutlet(tx, order.outletId))?.kind ?? null) : null;
}

/** Takes the strands of a colour that waited from lots: one, or one after another. */
async function takeFromLots(tx: Tx, pair: PairRow, rows: readonly PairColourRow[], lots: readonly LotPart[]) {
  const strandsMg = rows.map(({ allottedMg }) => allottedMg);
  const allotments = mixedAllotments(rows, strandsMg, lots, rows[0]!.yarnColourId);
  for (const row of rows) {
    const own = allotments.filter(({ role, strand }) => role === row.role && strand === row.strand);
    for (const [index, allotment] of own.entries()) {
      const { lotId, allottedMg } = allotment;
      if (index === 0) await changePairColour(tx, row.id, { lotId, allottedMg });
      else await createPairColour(tx, { ...allotment, pairId: pair.id });
    }
  }
  for (const { lotId, mg } of lots) await putAside(tx, pair.batchId!, lotId, mg);
}

/** Places wants on the lots that came, and what is then left on all lots; the most that finds a place so or at once. */
function placeOnCame(wants: readonly Want[], lots: readonly LotLeft[], came: ReadonlySet<number>) {
  const atOnce = placeOnLots(wants, lots);
  if (came.size === 0) return atOnce;
  const first = placeOnLots(
    wants.map((want) => ({ ...want, mayMix: false })),
    lots.filter(({ id }) => came.has(id)),
  );
  const rest = wants.filter(({ pairKey, yarnColourId }) => !first.placed.has(placementKey(pairKey, yarnColourId)));
  const then = placeOnLots(rest, lotsAfter(lots, wants, { lotOf: first.placed, mixedOf: new Map() }));
  const leftMg = (left: readonly Want[]) => left.reduce((sum, { mg }) => sum + mg, 0);
  if (leftMg(then.left) > leftMg(atOnce.left)) return atOnce;
  return { placed: new Map([...first.placed, ...then.placed]), mixed: then.mixed };
}

/**
 * Gives yarn that is free to pairs that are begun and still wait for it, first pair first, each colour of a pair from
 * one lot, but where a pair to give may mix what is left of several.
 *
 * @param heldMg what is kept of each lot all the same, for quotes that hold their yarn
 * @param cameIds lots that have just come: they were bought for pairs that wait, and are given before others
 * @returns how many pairs got yarn
 */
export async function allotWaiting(
  tx: Tx,
  heldMg: ReadonlyMap<number, number> = new Map(),
  cameIds: readonly number[] = [],
): Promise<number> {
  const pieces = await listCurrentPairPieces(tx);
  const isUnfinished = (pair: PairRow) => pieces.some((piece) => piece.pairId === pair.id && piece.stage !== 'done');
  const waiting = (await listCurrentPairs(tx)).filter(
    (pair) => pair.left === null && pair.batchId !== null && !pair.isOwnYarn && isUnfinished(pair),
  );
  const colours = await listCurrentPairColours(tx);
  const groups = waiting.flatMap((pair) => {
    const own = colours.filter((colour) => colour.pairId === pair.id && colour.lotId === null);
    return [...groupBy(own, ({ yarnColourId }) => yarnColourId)].map(([yarnColourId, rows]) => ({
      pair,
      yarnColourId,
      rows,
    }));
  });
  if (groups.length === 0) return 0;
  const settings = readSettings(await listSettings(tx));
  const wants: Want[] = [];
  for (const { pair, yarnColourId, rows } of groups) {
    const mg = rows.reduce((sum, row) => sum + row.allottedMg, 0);
    wants.push({
      pairKey: String(pair.id),
      yarnColourId,
      mg,
      mayMix: mayMixLots(await outletKindOf(tx, pair), settings),
    });
  }
  const lots = (await freeLots(tx)).map((lot) => ({
    ...lot,
    freeMg: Math.max(0, lot.freeMg - (heldMg.get(lot.id) ?? 0)),
  }));
  const { placed, mixed } = placeOnCame(wants, lots, new Set(cameIds));
  const helped = new Set<number>();
  for (const [index, { pair, yarnColourId, rows }] of groups.entries()) {
    const key = placementKey(String(pair.id), yarnColourId);
    const lotId = placed.get(key);
    const lots = lotId === undefined ? mixed.get(key) : [{ lotId, mg: wants[index]!.mg }];
    if (!lots) continue;
    await takeFromLots(tx, pair, rows, lots);
    helped.add(pair.id);
  }
  return helped.size;
}
