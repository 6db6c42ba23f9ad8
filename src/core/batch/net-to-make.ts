import type { Kind, Line, StockPair } from '#core/batch/lines.ts';
import { sparesFor } from '#core/batch/spares.ts';
import type { LotPart } from '#core/buying/lots.ts';
import type { Hand } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Specs, specKey } from '#core/styles/specify.ts';

/** A pair already in somebody's hands: it answers its line, keeps its knitter, and may hold yarn of a lot. */
export type StartedPair = {
  readonly id: number;
  /** Null for a spare, or when its line was cancelled: it will become stock. */
  readonly lineId: number | null;
  readonly kind: Kind;
  readonly dueDay: Day | null;
  readonly knitterId: number | null;
  /** Colours whose yarn it already has, reserved from the shelf; they are not needed again. */
  readonly heldColourIds: readonly number[];
  /** The lots that these came from, by colour, several where it mixes them; a colour of the knitter's own yarn has none. */
  readonly heldLots?: ReadonlyMap<number, readonly LotPart[]>;
  /** What was written down for it of colours that it does not hold, whole mg: it waits for so much. */
  readonly waitsMg?: ReadonlyMap<number, number>;
  /** Share of the pair's work still to do, 0 to 1. */
  readonly workLeftRatio: number;
};

/** One pair to make. `key` is stable: the same orders give the same keys. */
export type WantedPair = {
  readonly key: string;
  readonly lineId: number | null;
  readonly orderId: number | null;
  readonly kind: Kind;
  readonly dueDay: Day | null;
  readonly isSpare: boolean;
  readonly started: StartedPair | null;
  /** Who is to knit it, as its line says; one that is begun stays with the knitter in `started`. */
  readonly pinnedKnitterId?: number | null | undefined;
  readonly mayMixLots?: boolean | undefined;
};

export type NetToMake = {
  readonly pairs: readonly WantedPair[];
  /** Which finished pair answers which line. */
  readonly fromStock: readonly { readonly lineId: number; readonly stockPairId: number }[];
};

/**
 * Compares two lines by due day (none last), outlet rank, order number, then line: a total order, so that the same
 * input gives the same plan.
 */
export function compareLines(a: Line, b: Line): number {
  if (a.dueDay !== b.dueDay) {
    if (a.dueDay === null) return 1;
    if (b.dueDay === null) return -1;
    return a.dueDay < b.dueDay ? -1 : 1;
  }
  return a.outletRank - b.outletRank || a.orderNumber - b.orderNumber || a.id - b.id;
}

function coloursKey(kind: Kind): string {
  return kind.key.slice(kind.shape.key.length);
}

/** A finished pair answers a line by fit: style, colours and cuff the same, within half a stitch and one row of its counts. */
function answersByFit(pair: StockPair, kind: Kind, specs: Specs, hand: Hand): boolean {
  // A pair for two different feet is knitted for those feet alone.
  if (pair.kind.shape.right !== null || kind.shape.right !== null) return pair.kind.key === kind.key;
  if (pair.kind.shape.style.versionId !== kind.shape.style.versionId) return false;
  if (coloursKey(pair.kind) !== coloursKey(kind)) return false;
  if ((pair.kind.shape.cuffHeightMm === 0) !== (kind.shape.cuffHeightMm === 0)) return false;
  const spec = specs.get(specKey(kind.shape, hand));
  const foot = spec?.pieces[0];
  if (!spec || !foot) return false;
  const halfStitchMm = 50 / foot.stitchesPer10Cm;
  const rowMm = 100 / foot.rowsPer10Cm;
  const cuffRowMm = rowMm + 1e-6;
  return (
    Math.abs(pair.widthMm - spec.measures.widthMm) <= halfStitchMm + 1e-6 &&
    Math.abs(pair.lengthMm - spec.measures.lengthMm) <= rowMm + 1e-6 &&
    Math.abs(pair.kind.shape.cuffHeightMm - kind.shape.cuffHeightMm) <=
      Math.max(cuffRowMm, 0.05 * kind.shape.foot.lengthMm)
  );
}

type Answer = { readonly lineId: number; readonly stockPairId: number };
type Demand = { readonly line: Line; readonly count: number };

/**
 * Which finished pairs answer which lines, so that as many pairs as can be need not be made. Lines are asked in order, each
 * for its very kind first; a later line may move an earlier one to another pair that fits it, never take one from it.
 *
 * Source: augmenting paths, which end in a largest matching (Berge 1957); checked against enumeration in the tests
 */
function answersFrom(demands: readonly Demand[], stock: readonly StockPair[], specs: Specs, hand: Hand): Answer[] {
  const fittingByKind = new Map<string, readonly number[]>();
  const fittingOf = (kind: Kind): readonly number[] => {
    let fitting = fittingByKind.get(kind.key);
    if (!fitting) {
      const all = stock.flatMap((pair, index) => (answersByFit(pair, kind, specs, hand) ? [index] : []));
      const isVery = (index: number) => stock[index]!.kind.key === kind.key;
      fitting = [...all.filter(isVery), ...all.filter((index) => !isVery(index))];
      fittingByKind.set(kind.key, fitting);
    }
    return fitting;
  };
  const takenBy = new Array<number | undefined>(stock.length);
  const seen = new Set<number>();
  const seat = (demand: number): boolean => {
    for (const index of fittingOf(demands[demand]!.line.kind)) {
      if (seen.has(index)) continue;
      seen.add(index);
      const other = takenBy[index];
      if (other !== undefined && !seat(other)) continue;
      takenBy[index] = demand;
      return true;
    }
    return false;
  };
  // What a search in vain has seen leads nowhere until a pair is seated, so it is forgotten only then.
  for (const [demand, { count }] of demands.entries()) {
    for (let number = 0; number < count && seat(demand); number += 1) seen.clear();
  }
  return demands.flatMap(({ line }, demand) =>
    stock.flatMap((pair, index) => (takenBy[index] === demand ? [{ lineId: line.id, stockPairId: pair.id }] : [])),
  );
}

/**
 * Pairs to make for some lines: ordered, less pairs in somebody's hands, less finished stock that fits, plus spares.
 * Never below zero; stock that answers nothing stays stock.
 *
 * @param lines open lines, in any order
 * @param stock finished pairs that have not left, in the order they should go out
 * @param started pairs in knitters' hands; those of a line count toward it
 * @param specs counts for every shape of the lines in `hand`
 * @param hand the reference hand, whose counts say what fits
 * @param spareRatio pairs expected to spoil, 0 for none
 * @returns whole pairs in order of due day, outlet rank and order number, started ones first, spares last
 * Source: net requirements = gross - on hand - scheduled receipts, never below zero (any production planning textbook)
 */
export function netToMake(
  lines: readonly Line[],
  stock: readonly StockPair[],
  started: readonly StartedPair[],
  specs: Specs,
  hand: Hand,
  spareRatio: number,
): NetToMake {
  const ordered = [...lines].sort(compareLines);
  const lineById = started.length === 0 ? new Map<number, Line>() : new Map(lines.map((line) => [line.id, line]));
  const startedOfLine = new Map<number, number>();
  const pairs: WantedPair[] = started.map((each) => {
    const line = each.lineId === null ? undefined : lineById.get(each.lineId);
    if (line) startedOfLine.set(line.id, (startedOfLine.get(line.id) ?? 0) + 1);
    return {
      key: `started-${each.id}`,
      lineId: line?.id ?? null,
      orderId: line?.orderId ?? null,
      kind: each.kind,
      dueDay: line?.dueDay ?? each.dueDay,
      isSpare: line === undefined,
      started: each,
      pinnedKnitterId: line?.pinnedKnitterId,
      mayMixLots: line?.mayMixLots,
    };
  });
  const stillOrdered = (line: Line) => Math.max(0, line.quantity - (startedOfLine.get(line.id) ?? 0));
  const fromStock =
    stock.length === 0
      ? []
      : answersFrom(
          ordered.map((line) => ({ line, count: stillOrdered(line) })),
          stock,
          specs,
          hand,
        );
  const stockOfLine = new Map<number, number>();
  for (const { lineId } of fromStock) stockOfLine.set(lineId, (stockOfLine.get(lineId) ?? 0) + 1);
  const spareCounts = new Map<string, { kind: Kind; count: number }>();
  for (const line of ordered) {
    const left = stillOrdered(line) - (stockOfLine.get(line.id) ?? 0);
    for (let number = 1; number <= left; number += 1) {
      pairs.push({
        key: `line-${line.id}-${number}`,
        lineId: line.id,
        orderId: line.orderId,
        kind: line.kind,
        dueDay: line.dueDay,
        isSpare: false,
        started: null,
        pinnedKnitterId: line.pinnedKnitterId,
        mayMixLots: line.mayMixLots,
      });
    }
    if (spareRatio === 0) continue;
    const spare = spareCounts.get(line.kind.key) ?? { kind: line.kind, count: 0 };
    spareCounts.set(line.kind.key, { kind: line.kind, count: spare.count + left });
  }
  for (const { kind, count } of spareCounts.values()) {
    for (let number = 1; number <= sparesFor(count, spareRatio); number += 1) {
      pairs.push({
        key: `spare-${kind.key}-${number}`,
        lineId: null,
        orderId: null,
        kind,
        dueDay: null,
        isSpare: true,
        started: null,
      });
    }
  }
  return { pairs, fromStock };
}
