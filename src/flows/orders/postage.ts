import type { Day } from '#core/shared/calendar.ts';
import { countOf } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { listCurrentPairPieces, listCurrentPairs, type PairRow } from '#db/stores/batch.ts';
import { changeOrder, listLines, type OrderRow } from '#db/stores/orders.ts';
import { listPlacements } from '#db/stores/placements.ts';
import {
  changePostageBand,
  createPostageBand,
  listPostageBands,
  type PostageBandRow,
  removePostageBand,
} from '#db/stores/pricing.ts';
import { placedPairs } from '#flows/batch/started-pairs.ts';
import { bringBack, handOver } from '#flows/batch/step-pair.ts';
import { agreeOpenPrices, type PriceToAgree } from '#flows/orders/agree-prices.ts';
import { requireOpenOrder } from '#flows/orders/open-order.ts';

/** How an order goes: what the customer pays for the post, its days, when it is to be there, and where. */
export type PostageEntry = {
  /** Null when it is fetched or handed over. */
  readonly postageCents: number | null;
  readonly postDays: number | null;
  readonly arriveByDay: Day | null;
  readonly address: string | null;
};

/** @throws {AppError} `notFound`, or `conflict` with the other's order when the version moved on */
export async function setPostage(
  workshop: Workshop,
  orderId: number,
  entry: PostageEntry,
  version: number | undefined,
): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: change the postage', async (tx) => {
    const order = await requireOpenOrder(tx, orderId, 'band');
    return order.ok ? succeed(await changeOrder(tx, orderId, entry, version)) : order;
  });
}

type PairsOfOrder = {
  /** Finished and here: with the line that they answer. */
  readonly ready: readonly { readonly pair: PairRow; readonly lineId: number }[];
  readonly out: readonly PairRow[];
  readonly ordered: number;
};

const goneOut: readonly PairRow['left'][] = ['handed over', 'sold', 'given'];

/** @param fromStock finished pairs of no line that answer one of this order's, as planned */
async function pairsIn(
  tx: Tx,
  orderId: number,
  fromStock: readonly { readonly lineId: number; readonly stockPairId: number }[],
): Promise<PairsOfOrder> {
  const lines = await listLines(tx, orderId);
  const lineIds = new Set(lines.map((line) => line.id));
  const unfinished = new Set(
    (await listCurrentPairPieces(tx)).filter((piece) => piece.stage !== 'done').map((piece) => piece.pairId),
  );
  const pairs = await listCurrentPairs(tx);
  const placed = placedPairs(await listPlacements(tx));
  const own = pairs.filter((pair) => pair.lineId !== null && lineIds.has(pair.lineId));
  const isReady = (pair: PairRow) =>
    pair.left === null && pair.quality === 'good' && !unfinished.has(pair.id) && !placed.has(pair.id);
  const stock = fromStock.flatMap(({ lineId, stockPairId }) => {
    const pair = pairs.find((each) => each.id === stockPairId);
    return pair && lineIds.has(lineId) && isReady(pair) ? [{ pair, lineId }] : [];
  });
  return {
    ready: [...own.filter(isReady).map((pair) => ({ pair, lineId: pair.lineId! })), ...stock],
    out: own.filter((pair) => goneOut.includes(pair.left) && pair.quality === 'good'),
    ordered: lines.reduce((sum, line) => sum + line.quantity, 0),
  };
}

export type PostedEntry = {
  readonly day: Day;
  /** What is finished goes, though not all is: the rest stays to be knitted. */
  readonly isInPart: boolean;
};

/**
 * Notes that an order was posted: its finished pairs are handed over, those that finished stock answers too, and prices that
 * nobody had agreed become the ones it was sent at. Pairs that are not finished stop it, unless it is to go in part.
 *
 * @param prices of lines without an agreed one
 * @throws {AppError} `notFound`, or `conflict` with the other's order when the version moved on
 */
export async function markPosted(
  workshop: Workshop,
  orderId: number,
  entry: PostedEntry,
  {
    fromStock,
    prices,
    version,
  }: {
    readonly fromStock: readonly { readonly lineId: number; readonly stockPairId: number }[];
    readonly prices: readonly PriceToAgree[];
    readonly version: number | undefined;
  },
): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: put in the post', async (tx) => {
    const order = await requireOpenOrder(tx, orderId, 'day');
    if (!order.ok) return order;
    if (order.value.state === 'asked') {
      return refuse({
        code: 'notAgreed',
        path: 'day',
        message: 'This order is only asked. Say that it is agreed first.',
      });
    }
    const { ready, out, ordered } = await pairsIn(tx, orderId, fromStock);
    const missing = ordered - ready.length - out.length;
    if (missing > 0 && !entry.isInPart) {
      const message = `${missingWords(missing, ordered)} Mark what is finished under Batch, or say that it goes in part.`;
      return refuse({ code: notFinished, path: 'day', message });
    }
    for (const { pair, lineId } of ready) await handOver(tx, pair.id, lineId, entry.day);
    await agreeOpenPrices(tx, prices);
    return succeed(await changeOrder(tx, orderId, { postedDay: entry.day }, version));
  });
}

function missingWords(missing: number, ordered: number): string {
  if (ordered === 1) return 'The pair is not finished.';
  if (missing === ordered) return `None of the ${ordered} pairs is finished.`;
  return `${countOf(missing, 'pair', 'pairs')} of ${ordered} ${missing === 1 ? 'is' : 'are'} not finished.`;
}

/** The code of the problem that pairs are missing. */
export const notFinished = 'notFinished';

/** Says that an order was not posted after all: its pairs are here again. @throws {AppError} `notFound`, `conflict` */
export async function takeBackPosted(
  workshop: Workshop,
  orderId: number,
  today: Day,
  version: number | undefined,
): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: take back that it was posted', async (tx) => {
    const order = await requireOpenOrder(tx, orderId, 'day');
    if (!order.ok) return order;
    const { out } = await pairsIn(tx, orderId, []);
    for (const pair of out) if (pair.left === 'handed over') await bringBack(tx, pair.id, today);
    return succeed(await changeOrder(tx, orderId, { postedDay: null }, version));
  });
}

/** What the post asks up to a weight to one part of the world. */
export type BandEntry = Pick<PostageBandRow, 'name' | 'upToG' | 'cents' | 'days'>;

async function checkBand(tx: Tx, { name, upToG }: BandEntry, ownId: number | null): Promise<Result<string>> {
  const bands = (await listPostageBands(tx)).filter((each) => each.id !== ownId);
  const isSame = (other: string) => other.toLowerCase() === name.toLowerCase();
  const twice = bands.find((each) => isSame(each.name) && each.upToG === upToG);
  if (twice) {
    const message = `There is a price for ${twice.name} up to this weight already: change it there, or enter another weight.`;
    return refuse({ code: 'bandTwice', path: 'upTo', message });
  }
  // "inland" joins the bands of "Inland".
  return succeed(bands.find((each) => isSame(each.name))?.name ?? name);
}

export async function addBand(workshop: Workshop, entry: BandEntry): Promise<Result<PostageBandRow>> {
  return await workshop.store.write('pricing: add a price of the post', async (tx) => {
    const name = await checkBand(tx, entry, null);
    return name.ok ? succeed(await createPostageBand(tx, { ...entry, name: name.value })) : name;
  });
}

/** Changes a band; orders keep the postage they were given. @throws {AppError} `notFound`, `conflict` */
export async function saveBand(
  workshop: Workshop,
  id: number,
  entry: BandEntry,
  version: number | undefined,
): Promise<Result<PostageBandRow>> {
  return await workshop.store.write('pricing: change a price of the post', async (tx) => {
    const name = await checkBand(tx, entry, id);
    return name.ok ? succeed(await changePostageBand(tx, id, { ...entry, name: name.value }, version)) : name;
  });
}

/** Takes a band away; orders keep their postage. @throws {AppError} `notFound`, `conflict` */
export async function dropBand(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: remove a price of the post', (tx) => removePostageBand(tx, id, version));
}
