import type { LotLeft } from '#core/buying/lots.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';

/** A pair that may be made: a size in colours, and what it takes of each. */
export type WishedPair = {
  /** Position among the sizes. */
  readonly size: number;
  /** Each colour once, all its roles together, mg above 0. */
  readonly needs: readonly { readonly yarnColourId: number; readonly mg: number }[];
  /** What a pair is worth, whole and at least 1; 1 counts pairs. */
  readonly value?: number;
};

/** How many pairs of a size are wanted. */
export type SizeWish = { readonly least: number; readonly most: number };

export type ShelfQuestion = {
  /** In the order in which they had best be used up. */
  readonly lots: readonly LotLeft[];
  readonly kinds: readonly WishedPair[];
  readonly sizes: readonly SizeWish[];
};

/** One way to make a pair: a kind with one lot for each of its colours. */
export type Way = {
  readonly kind: number;
  readonly size: number;
  readonly value: number;
  /** Positions among the lots, in the order of the kind's needs, each with what is taken of it. */
  readonly takes: readonly { readonly lot: number; readonly mg: number }[];
};

/** The lots that can give one pair its yarn, for each need of a kind. */
function lotsFor({ lots }: ShelfQuestion, kind: WishedPair): readonly (readonly number[])[] {
  return kind.needs.map(({ yarnColourId, mg }) =>
    [...lots.entries()].filter(([, lot]) => lot.yarnColourId === yarnColourId && lot.freeMg >= mg).map(([at]) => at),
  );
}

/**
 * How many ways there are to make one pair: each kind with each choice of lots. The search grows with them.
 *
 * @example countWays({ lots: [{ id: 1, yarnColourId: 1, freeMg: 9 }, { id: 2, yarnColourId: 1, freeMg: 9 }], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 5 }] }], sizes: [{ least: 0, most: 9 }] }) // => 2
 */
export function countWays(question: ShelfQuestion): number {
  return question.kinds.reduce(
    (sum, kind) => sum + lotsFor(question, kind).reduce((product, lots) => product * lots.length, 1),
    0,
  );
}

/**
 * Every way to make one pair, kinds in their order, lots in theirs.
 *
 * @throws {RangeError} when an amount is no positive number, a kind wants a colour twice or nothing, or a size is unknown
 */
export function waysOf(question: ShelfQuestion): readonly Way[] {
  checkQuestion(question);
  return question.kinds.flatMap((kind, index) =>
    lotsFor(question, kind)
      .reduce<readonly (readonly number[])[]>(
        (chosen, lots) => chosen.flatMap((before) => lots.map((lot) => [...before, lot])),
        [[]],
      )
      .map((chosen) => ({
        kind: index,
        size: kind.size,
        value: kind.value ?? 1,
        takes: chosen.map((lot, need) => ({ lot, mg: Math.ceil(kind.needs[need]!.mg) })),
      })),
  );
}

function checkQuestion({ lots, kinds, sizes }: ShelfQuestion): void {
  for (const lot of lots) requireRange('waysOf: lots.freeMg', lot.freeMg, 0, Number.MAX_SAFE_INTEGER);
  for (const { least, most } of sizes) {
    requireWhole('waysOf: sizes.least', least);
    requireWhole('waysOf: sizes.most', most, least);
  }
  for (const { size, needs, value = 1 } of kinds) {
    requireWhole('waysOf: kinds.value', value, 1);
    if (sizes[size] === undefined) throw new RangeError(`waysOf: kinds.size must be a size, got ${size}`);
    if (needs.length === 0) throw new RangeError('waysOf: kinds.needs must not be empty');
    for (const { mg } of needs) requireRange('waysOf: kinds.needs.mg', mg, 0, Number.MAX_SAFE_INTEGER, true);
    if (new Set(needs.map((need) => need.yarnColourId)).size < needs.length)
      throw new RangeError('waysOf: kinds.needs must name a colour once');
  }
}
