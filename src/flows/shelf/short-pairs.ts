import { sewingUp, workLeft } from '#core/batch/work-left.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { roundWeighed } from '#core/shared/measures.ts';
import { type Problem, succeed } from '#core/shared/problem.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { NamedPair } from '#core/shelf/pair-words.ts';
import { pairsLeftShort } from '#core/shelf/stocktake.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { Reader, Tx } from '#db/store.ts';
import {
  changePairColour,
  createPairEvent,
  findPair,
  listCurrentPairColours,
  listCurrentPairPieces,
  listCurrentPairs,
  type PairColourRow,
  type PairRow,
  removePairColour,
} from '#db/stores/batch.ts';
import { listCustomers, listOpenLines, listOpenOrders } from '#db/stores/orders.ts';
import { listOutlets } from '#db/stores/pricing.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { listFullBalls, listLots, listYarnColours } from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { allotWaiting, releaseYarn } from '#flows/batch/allot-yarn.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';

/** A pair that is left without enough of a lot. */
export type ShortPair = NamedPair & {
  /** What it still has to knit of the lot. */
  readonly needsMg: number;
  readonly isUnderWay: boolean;
};

/** A lot with less than the begun pairs still have to knit of it; its grams as they are shown, so that they add up. */
export type ShortLot = {
  readonly lotId: number;
  readonly yarnColourId: number;
  readonly colour: string;
  readonly dyeLot: string | null;
  readonly massMg: number;
  readonly neededMg: number;
  /** Those who go without; the others of the lot have enough. */
  readonly pairs: readonly ShortPair[];
};

/** A begun pair that waits for yarn of a colour. */
export type PairThatWaits = NamedPair & {
  readonly yarnColourId: number;
  readonly colour: string;
  readonly mg: number;
};

type Rows = Pick<
  WorkshopRows,
  | 'pairs'
  | 'pairPieces'
  | 'pairColours'
  | 'lots'
  | 'balls'
  | 'yarnColours'
  | 'orders'
  | 'lines'
  | 'customers'
  | 'outlets'
  | 'settings'
>;

/** What there is to know about begun pairs and their yarn, read one after another: for a write under way too. */
export async function readPairYarn(from: Reader): Promise<Rows> {
  return {
    pairs: await listCurrentPairs(from),
    pairPieces: await listCurrentPairPieces(from),
    pairColours: await listCurrentPairColours(from),
    lots: await listLots(from),
    balls: await listFullBalls(from),
    yarnColours: await listYarnColours(from),
    orders: await listOpenOrders(from),
    lines: await listOpenLines(from),
    customers: await listCustomers(from),
    outlets: await listOutlets(from),
    settings: await listSettings(from),
  };
}

type BegunPair = NamedPair & {
  readonly colours: readonly PairColourRow[];
  readonly isUnderWay: boolean;
  readonly leftRatio: number;
};

// What a pair was begun with is a long text: it is read once for the rows of a plan.
const knownPairs = new WeakMap<Rows, readonly BegunPair[]>();

/** Pairs that are begun and not finished, and knit with the workshop's yarn, in the order of rank. */
function begunPairs(rows: Rows): readonly BegunPair[] {
  const known = knownPairs.get(rows) ?? readBegunPairs(rows);
  knownPairs.set(rows, known);
  return known;
}

function readBegunPairs(rows: Rows): readonly BegunPair[] {
  const pieces = groupBy(rows.pairPieces, ({ pairId }) => pairId);
  const colours = groupBy(rows.pairColours, ({ pairId }) => pairId);
  const orderOfLine = new Map(rows.lines.map(({ id, orderId }) => [id, orderId]));
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const nameOf = (list: readonly { readonly id: number; readonly name: string }[], id: number | null) =>
    list.find((each) => each.id === id)?.name ?? null;
  const { unitSystem } = readSettings(rows.settings);
  return rows.pairs.flatMap(({ id, lineId, left, batchId, isOwnYarn, specJson }): BegunPair[] => {
    const own = pieces.get(id) ?? [];
    if (left !== null || batchId === null || isOwnYarn || own.every(({ stage }) => stage === 'done')) return [];
    const { spec, sizeWords } = readFrozen(specJson);
    const order = lineId === null ? undefined : orders.get(orderOfLine.get(lineId) ?? -1);
    return [
      {
        id,
        sizeWords: sizeWordsIn(sizeWords, unitSystem),
        whom: order ? (nameOf(rows.customers, order.customerId) ?? nameOf(rows.outlets, order.outletId)) : null,
        orderNumber: order?.number ?? null,
        dueDay: order ? (order.dueDay ?? order.arriveByDay) : null,
        colours: colours.get(id) ?? [],
        isUnderWay: own.some(({ piece, stage }) => piece !== sewingUp && stage !== 'waiting'),
        leftRatio: workLeft(own, spec.pieces),
      },
    ];
  });
}

const nameOfPair = ({ id, sizeWords, whom, orderNumber, dueDay }: NamedPair): NamedPair => ({
  ...{ id, sizeWords, whom, orderNumber, dueDay },
});

/**
 * Lots that have less than their begun pairs still have to knit of them, with the pairs that go without. What is in the
 * knitting already is no longer on the ball, so a pair that is under way needs by the share of its work that is left.
 */
export function shortLots(rows: Rows): readonly ShortLot[] {
  const { scaleStepG, unitSystem } = readSettings(rows.settings);
  const shown = (mg: number) => roundWeighed(mg, unitSystem);
  const massOf = new Map<number, number>();
  for (const { lotId, massMg } of rows.balls) massOf.set(lotId, (massOf.get(lotId) ?? 0) + massMg);
  const holders = begunPairs(rows).flatMap((pair) =>
    [...groupBy(pair.colours, ({ lotId }) => lotId)].flatMap(([lotId, own]) => {
      const mg = Math.round(own.reduce((sum, row) => sum + row.allottedMg, 0) * pair.leftRatio);
      return lotId === null ? [] : [{ lotId, pair, mg, isUnderWay: pair.isUnderWay, dueDay: pair.dueDay }];
    }),
  );
  return [...groupBy(holders, ({ lotId }) => lotId)].flatMap(([lotId, own]): ShortLot[] => {
    const massMg = massOf.get(lotId) ?? 0;
    const short = pairsLeftShort(massMg, own, scaleStepG * 1000);
    if (short.length === 0) return [];
    const { yarnColourId, dyeLot } = rows.lots.find(({ id }) => id === lotId)!;
    const colour = rows.yarnColours.find(({ id }) => id === yarnColourId)?.name ?? '';
    const pairs = short.map(({ pair, mg, isUnderWay }) => ({ ...nameOfPair(pair), needsMg: shown(mg), isUnderWay }));
    const neededMg = own.reduce((sum, { mg }) => sum + shown(mg), 0);
    return [{ lotId, yarnColourId, colour, dyeLot, massMg: shown(massMg), neededMg, pairs }];
  });
}

/** Begun pairs that wait for yarn, a row for each colour that they lack. */
export function pairsThatWait(rows: Rows): readonly PairThatWaits[] {
  const colourOf = new Map(rows.yarnColours.map(({ id, name }) => [id, name]));
  return begunPairs(rows).flatMap((pair) =>
    [
      ...groupBy(
        pair.colours.filter(({ lotId }) => lotId === null),
        ({ yarnColourId }) => yarnColourId,
      ),
    ].map(([yarnColourId, own]) => ({
      ...nameOfPair(pair),
      yarnColourId,
      colour: colourOf.get(yarnColourId) ?? '',
      mg: own.reduce((sum, row) => sum + row.allottedMg, 0),
    })),
  );
}

/** What becomes of pairs that a weight leaves without enough yarn; null while nobody was asked. */
export type ShortAnswer = {
  /** The pairs that the answer is about. */
  readonly pairIds: readonly number[];
  /** They give back what is put aside and wait; false leaves it as it is. */
  readonly isGivenBack: boolean;
} | null;

const pairsWouldLack = 'pairsWouldLack';

/** What was booked; or what is wrong, and the lots that pairs would lack when that is what is asked. */
export type Settling<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[]; readonly short?: readonly ShortLot[] };

/** The pairs that gave their yarn back. */
export type Settled = { readonly gaveBack: readonly number[] };

/**
 * Settles what moves in the same write mean for begun pairs: none of them goes without yarn unasked. Where they give
 * theirs back, each gets yarn of another lot that has enough, or waits for what is bought.
 *
 * @param lotIds the lots that were weighed; others were told of before
 * @param answer about the very pairs that are short, or the question comes again
 */
export async function settleShort(tx: Tx, lotIds: readonly number[], answer: ShortAnswer): Promise<Settling<Settled>> {
  const short = shortLots(await readPairYarn(tx)).filter(({ lotId }) => lotIds.includes(lotId));
  if (short.length === 0) return succeed({ gaveBack: [] });
  const pairIds = [...new Set(short.flatMap(({ pairs }) => pairs.map(({ id }) => id)))];
  const isSame = answer?.pairIds.length === pairIds.length && pairIds.every((id) => answer.pairIds.includes(id));
  if (!answer || !isSame) {
    const message = 'Pairs that are begun would lack yarn. Choose what becomes of them, and save once more.';
    return { ok: false, problems: [{ code: pairsWouldLack, path: 'short', message }], short };
  }
  if (!answer.isGivenBack) return succeed({ gaveBack: [] });
  await giveBack(tx, short);
  return succeed({ gaveBack: pairIds });
}

/** The event of a pair whose yarn was given back. */
export const gaveYarnBack = 'gave its yarn back';

/** The pairs of these lots give their yarn back and take what is free elsewhere, or wait. */
async function giveBack(tx: Tx, lots: readonly ShortLot[]): Promise<void> {
  for (const { yarnColourId, pairs } of lots) {
    for (const { id } of pairs) {
      const pair = (await findPair(tx, id))!;
      const own = (await listCurrentPairColours(tx)).filter(
        (row) => row.pairId === id && row.yarnColourId === yarnColourId,
      );
      await giveColourBack(tx, pair, own);
      await createPairEvent(tx, { pairId: id, event: gaveYarnBack });
    }
  }
  await allotWaiting(tx);
}

// All of the colour, also where a pair to give mixes lots: what waits is wanted whole, in one row for each strand.
async function giveColourBack(tx: Tx, pair: PairRow, rows: readonly PairColourRow[]): Promise<void> {
  await releaseYarn(tx, pair, rows);
  for (const [, strand] of groupBy(rows, (row) => `${row.role}/${row.strand}`)) {
    const [first, ...others] = strand;
    for (const { id } of others) await removePairColour(tx, id);
    const allottedMg = strand.reduce((sum, row) => sum + row.allottedMg, 0);
    await changePairColour(tx, first!.id, { lotId: null, allottedMg });
  }
}
