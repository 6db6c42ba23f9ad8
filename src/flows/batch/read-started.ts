import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { firstPage, type PageWish, type Paging, pagingOf, rowsOn } from '#core/shared/paging.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { BatchRow } from '#db/stores/batch.ts';
import { changedPairs } from '#flows/batch/changed-orders.ts';
import { type PairCounts, pairCountsOf } from '#flows/batch/foot-counts.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { type OrderName, orderNames, type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { placedPairs, readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { yarnByLot } from '#flows/batch/yarn-by-lot.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { type LotName, lotNamer } from '#flows/shelf/lot-names.ts';
import { type ShortLot, shortLots } from '#flows/shelf/short-pairs.ts';

/** Yarn of a pair in one colour and dye lot: what was weighed out for it. */
export type PairYarnRow = {
  readonly colour: NamedColour;
  readonly grams: number;
  readonly lot: LotName | null;
  /** False while its yarn is still to come. */
  readonly isHere: boolean;
};

/** A pair that is begun, finished or gone, as pages show it. */
export type PairView = PairCounts & {
  readonly id: number;
  readonly version: number;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly order: OrderName | null;
  readonly lineId: number | null;
  readonly isSpare: boolean;
  readonly quality: 'good' | 'second';
  readonly left: StoredPair['row']['left'];
  readonly isFinished: boolean;
  readonly pieces: readonly { readonly piece: string; readonly stage: 'waiting' | 'begun' | 'done' }[];
  readonly yarn: readonly PairYarnRow[];
  readonly minutes: number;
  readonly finishDay: Day | null;
  readonly dueDay: Day | null;
};

export type StartedBatch = {
  readonly today: Day;
  readonly batch: BatchRow;
  /** The pairs of one page, by knitter. */
  readonly knitters: readonly { readonly name: string; readonly pairs: readonly PairView[] }[];
  /** Over the pairs of all knitters, one knitter after another. */
  readonly paging: Paging;
  readonly pairCount: number;
  readonly finishedCount: number;
  readonly waitingCount: number;
  /** Lots that lack yarn for pairs of this batch. */
  readonly short: readonly ShortLot[];
  readonly changedCount: number;
  /** The first of them; more come up as these are settled. */
  readonly changed: readonly {
    readonly pair: PairView;
    readonly words: readonly string[];
    readonly what: 'cancelled' | 'fewer' | 'changed';
  }[];
};

/** Makes the view of any stored pair. */
export function pairViewer(workshopPlan: WorkshopPlan): (pair: StoredPair) => PairView {
  const { plan, rows, settings } = workshopPlan;
  const colours = coloursOf(rows);
  const names = orderNames(workshopPlan);
  const lines = new Map(rows.lines.map((line) => [line.id, line]));
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const nameOfLot = lotNamer(rows);
  const finishOf = new Map(plan.weeks.map((assignment) => [assignment.pairKey, assignment.finishDay]));
  return (stored) => {
    const { row, frozen, kind, pieces } = stored;
    const line = row.lineId === null ? undefined : lines.get(row.lineId);
    const order = line ? orders.get(line.orderId) : undefined;
    // In the order of the style's roles, which the estimate keeps.
    const weighed = groupBy(yarnByLot(stored.colours, lots), ({ yarnColourId }) => yarnColourId);
    const colourIds = new Set([...frozen.estimate.yarn.map(({ yarnColourId }) => yarnColourId), ...weighed.keys()]);
    return {
      id: row.id,
      version: row.version,
      sizeWords: pairWords(sizeWordsIn(frozen.sizeWords, settings.unitSystem), kind, rows),
      colours: kind ? roleColours(kind, colours) : [],
      order: order ? (names.get(order.id) ?? null) : null,
      lineId: line?.id ?? null,
      isSpare: line === undefined,
      quality: row.quality,
      left: row.left,
      isFinished: stored.isFinished,
      pieces,
      ...pairCountsOf(frozen.spec),
      yarn: [...colourIds].flatMap((id) => {
        const colour = colours.get(id);
        if (!colour) return [];
        return (weighed.get(id) ?? [{ mg: 0, lot: null }]).map(({ mg, lot }) => {
          return { colour, grams: mg / 1000, lot: lot && nameOfLot(lot), isHere: lot !== null || row.isOwnYarn };
        });
      }),
      minutes: frozen.estimate.minutes,
      finishDay: finishOf.get(`started-${row.id}`) ?? null,
      dueDay: order ? (order.dueDay ?? order.arriveByDay) : null,
    };
  };
}

/** Changed pairs that are shown at once, each with its form. Our own choice. */
const mostChanged = 20;

/** A page of a batch that was started, by knitter. @throws {AppError} `notFound` */
export function readStarted(workshopPlan: WorkshopPlan, batchId: number, wish: PageWish = firstPage): StartedBatch {
  const { rows, today } = workshopPlan;
  const batch = rows.batches.find((each) => each.id === batchId && each.state !== 'gathering');
  if (!batch) throw new AppError('notFound', 'This batch is not here; it may have been removed.');
  const view = pairViewer(workshopPlan);
  const own = readPairs(rows).filter(({ row }) => row.batchId === batchId);
  const byKnitter = [...groupBy(own, (pair) => pair.knitterId).values()].flat();
  const paging = pagingOf(byKnitter.length, wish);
  const nameOf = new Map(rows.knitters.map((knitter) => [knitter.id, knitter.name]));
  const ownIds = new Set(own.map(({ row }) => row.id));
  const changed = changedPairs(workshopPlan).filter(({ pair }) => pair.row.batchId === batchId);
  return {
    today,
    batch,
    knitters: [...groupBy(rowsOn(byKnitter, paging), (pair) => pair.knitterId)].map(([id, pairs]) => ({
      name: id === null ? 'Nobody' : (nameOf.get(id) ?? 'Nobody'),
      pairs: pairs.map(view),
    })),
    paging,
    pairCount: own.filter(({ row }) => row.left !== 'ripped out').length,
    finishedCount: own.filter((pair) => (pair.row.left === null ? pair.isFinished : pair.row.left !== 'ripped out'))
      .length,
    waitingCount: own.filter(
      (pair) =>
        pair.row.left === null &&
        !pair.isFinished &&
        !pair.row.isOwnYarn &&
        pair.colours.some((colour) => colour.lotId === null),
    ).length,
    short: shortLots(rows).filter(({ pairs }) => pairs.some(({ id }) => ownIds.has(id))),
    changedCount: changed.length,
    changed: changed.slice(0, mostChanged).map(({ pair, words, what }) => ({ pair: view(pair), words, what })),
  };
}

export type FinishedStock = {
  readonly today: Day;
  /** The pairs of one page: free ones, those for orders, those with a flaw. */
  readonly paging: Paging;
  readonly free: readonly PairView[];
  readonly forOrders: readonly PairView[];
  readonly seconds: readonly PairView[];
  /** How many stand in each shop on sale or return; they are counted back there. */
  readonly inShops: readonly { readonly outletId: number; readonly name: string; readonly count: number }[];
};

/**
 * A page of the finished pairs that have not left.
 *
 * @param wish the page, or a pair: then the page it stands on
 */
export function readFinished(
  workshopPlan: WorkshopPlan,
  wish: PageWish & { readonly pairId?: number } = firstPage,
): FinishedStock {
  const { rows } = workshopPlan;
  const placed = placedPairs(rows.placements);
  const finished = readPairs(rows).filter(
    ({ row, isFinished }) => row.left === null && isFinished && !placed.has(row.id),
  );
  const openLines = new Set(rows.lines.map((line) => line.id));
  const heapOf = ({ row: { quality, lineId } }: StoredPair) =>
    quality === 'second' ? 2 : lineId !== null && openLines.has(lineId) ? 1 : 0;
  const heaps = [0, 1, 2].map((heap) => finished.filter((pair) => heapOf(pair) === heap));
  const all = heaps.flat();
  const place = all.findIndex(({ row }) => row.id === wish.pairId);
  const paging = pagingOf(all.length, place < 0 ? wish : { ...wish, page: Math.floor(place / wish.size) + 1 });
  const shown = new Set(rowsOn(all, paging));
  const view = pairViewer(workshopPlan);
  const [free, forOrders, seconds] = heaps.map((heap) => heap.filter((pair) => shown.has(pair)).map(view));
  const standing = [...placed.values()];
  return {
    today: workshopPlan.today,
    paging,
    free: free!,
    forOrders: forOrders!,
    seconds: seconds!,
    inShops: rows.outlets.flatMap(({ id: outletId, name }) => {
      const count = standing.filter((placement) => placement.outletId === outletId).length;
      return count > 0 ? [{ outletId, name, count }] : [];
    }),
  };
}
