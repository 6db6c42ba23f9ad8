import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { BatchRow } from '#db/stores/batch.ts';
import { changedPairs } from '#flows/batch/changed-orders.ts';
import { type PairCounts, pairCountsOf } from '#flows/batch/foot-counts.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { type OrderName, orderNames, type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { placedPairs, readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

/** Yarn of a pair in one colour: what was weighed out for it, and from which lot. */
export type PairYarnRow = {
  readonly colour: NamedColour;
  readonly grams: number;
  readonly dyeLot: string | null;
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
  readonly knitters: readonly { readonly name: string; readonly pairs: readonly PairView[] }[];
  readonly pairCount: number;
  readonly finishedCount: number;
  readonly waitingCount: number;
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
  const finishOf = new Map(plan.weeks.map((assignment) => [assignment.pairKey, assignment.finishDay]));
  return (stored) => {
    const { row, frozen, kind, pieces } = stored;
    const line = row.lineId === null ? undefined : lines.get(row.lineId);
    const order = line ? orders.get(line.orderId) : undefined;
    // In the order of the style's roles, which the estimate keeps.
    const byColour = new Map<number, { mg: number; lotId: number | null }>(
      frozen.estimate.yarn.map(({ yarnColourId }) => [yarnColourId, { mg: 0, lotId: null }]),
    );
    for (const { yarnColourId, allottedMg, lotId } of stored.colours) {
      byColour.set(yarnColourId, { mg: (byColour.get(yarnColourId)?.mg ?? 0) + allottedMg, lotId });
    }
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
      yarn: [...byColour].flatMap(([id, { mg, lotId }]) => {
        const colour = colours.get(id);
        const lot = lotId === null ? undefined : lots.get(lotId);
        return colour
          ? [{ colour, grams: mg / 1000, dyeLot: lot?.dyeLot ?? null, isHere: lotId !== null || row.isOwnYarn }]
          : [];
      }),
      minutes: frozen.estimate.minutes,
      finishDay: finishOf.get(`started-${row.id}`) ?? null,
      dueDay: order ? (order.dueDay ?? order.arriveByDay) : null,
    };
  };
}

/** A batch that was started, by knitter. @throws {AppError} `notFound` */
export function readStarted(workshopPlan: WorkshopPlan, batchId: number): StartedBatch {
  const { rows, today } = workshopPlan;
  const batch = rows.batches.find((each) => each.id === batchId && each.state !== 'gathering');
  if (!batch) throw new AppError('notFound', 'This batch is not here; it may have been removed.');
  const view = pairViewer(workshopPlan);
  const own = readPairs(rows).filter(({ row }) => row.batchId === batchId);
  const knitterIds = [...new Set(own.map((pair) => pair.knitterId))];
  const nameOf = new Map(rows.knitters.map((knitter) => [knitter.id, knitter.name]));
  return {
    today,
    batch,
    knitters: knitterIds.map((id) => ({
      name: id === null ? 'Nobody' : (nameOf.get(id) ?? 'Nobody'),
      pairs: own.filter((pair) => pair.knitterId === id).map(view),
    })),
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
    changed: changedPairs(workshopPlan)
      .filter(({ pair }) => pair.row.batchId === batchId)
      .map(({ pair, words, what }) => ({ pair: view(pair), words, what })),
  };
}

export type FinishedStock = {
  readonly today: Day;
  /** Finished and here: free ones first. */
  readonly free: readonly PairView[];
  readonly forOrders: readonly PairView[];
  readonly seconds: readonly PairView[];
  /** How many stand in each shop on sale or return; they are counted back there. */
  readonly inShops: readonly { readonly outletId: number; readonly name: string; readonly count: number }[];
};

/** Finished pairs that have not left. */
export function readFinished(workshopPlan: WorkshopPlan): FinishedStock {
  const { rows } = workshopPlan;
  const view = pairViewer(workshopPlan);
  const placed = placedPairs(rows.placements);
  const finished = readPairs(rows)
    .filter(({ row, isFinished }) => row.left === null && isFinished && !placed.has(row.id))
    .map(view);
  const standing = [...placed.values()];
  return {
    today: workshopPlan.today,
    free: finished.filter((pair) => pair.quality === 'good' && pair.lineId === null),
    forOrders: finished.filter((pair) => pair.quality === 'good' && pair.lineId !== null),
    seconds: finished.filter((pair) => pair.quality === 'second'),
    inShops: rows.outlets.flatMap(({ id: outletId, name }) => {
      const count = standing.filter((placement) => placement.outletId === outletId).length;
      return count > 0 ? [{ outletId, name, count }] : [];
    }),
  };
}
