import type { MostPairs } from '#core/buying/most-pairs.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';

/** Like pairs of an answer: a kind, and the lot of each of its colours in the order of its needs. */
export type MadePairs = { readonly kind: number; readonly lotIds: readonly number[]; readonly count: number };

/** What pairs come to. */
export type CountedPairs = {
  readonly pairs: number;
  readonly value: number;
  /** Pairs that count towards a size's least. */
  readonly wanted: number;
  readonly ofSize: readonly number[];
  readonly usedMg: ReadonlyMap<number, number>;
};

/**
 * Counts pairs on the shelf of a question: each colour of a pair from one lot of that colour, no lot beyond its grams, no
 * size above its most.
 *
 * @param made pairs from anywhere; nothing is believed of them
 * @returns null when the shelf cannot give these pairs
 * @example countPairs({ lots: [{ id: 4, yarnColourId: 1, freeMg: 100 }], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }, [{ kind: 0, lotIds: [4], count: 3 }])?.pairs // => 3
 * @example countPairs({ lots: [{ id: 4, yarnColourId: 1, freeMg: 100 }], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }, [{ kind: 0, lotIds: [4], count: 4 }]) // => null
 */
export function countPairs(question: ShelfQuestion, made: readonly MadePairs[]): CountedPairs | null {
  const { kinds, sizes } = question;
  const lots = new Map(question.lots.map((lot) => [lot.id, lot]));
  const usedMg = new Map<number, number>();
  const ofSize = sizes.map(() => 0);
  let value = 0;
  for (const { kind: index, lotIds, count } of made) {
    const kind = kinds[index];
    if (!kind || !Number.isSafeInteger(count) || count < 1 || lotIds.length !== kind.needs.length) return null;
    for (const [need, { yarnColourId, mg }] of kind.needs.entries()) {
      const id = lotIds[need]!;
      if (lots.get(id)?.yarnColourId !== yarnColourId) return null;
      usedMg.set(id, (usedMg.get(id) ?? 0) + Math.ceil(mg) * count);
    }
    ofSize[kind.size]! += count;
    value += (kind.value ?? 1) * count;
  }
  for (const [id, mg] of usedMg) if (mg > lots.get(id)!.freeMg) return null;
  if (ofSize.some((count, size) => count > sizes[size]!.most)) return null;
  const pairs = ofSize.reduce((sum, count) => sum + count, 0);
  const wanted = ofSize.reduce((sum, count, size) => sum + Math.min(count, sizes[size]!.least), 0);
  return { pairs, value, wanted, ofSize, usedMg };
}

/**
 * An answer that was found elsewhere, recounted: what it says of its pairs must be so, and they must be no worse than
 * pairs that are known. That no better answer is possible is a claim that nobody can recount; it must fit the pairs.
 *
 * @param own pairs of the same question that are known
 * @returns null when it is not to be believed
 */
export function checkPairs(question: ShelfQuestion, claimed: MostPairs, own: readonly MadePairs[]): MostPairs | null {
  const counted = countPairs(question, claimed.made);
  const known = countPairs(question, own);
  if (!counted || !known) return null;
  const { pairs, value, wanted, ofSize, usedMg } = counted;
  if (wanted < known.wanted || (wanted === known.wanted && value < known.value)) return null;
  if (!(claimed.mostValue >= value) || (claimed.isBest && claimed.mostValue !== value)) return null;
  const short = question.sizes.flatMap(({ least }, size) =>
    ofSize[size]! < least ? [{ size, made: ofSize[size]! }] : [],
  );
  const isSame = (each: (typeof short)[number], at: number) =>
    claimed.short[at]?.size === each.size && claimed.short[at].made === each.made;
  if (claimed.short.length !== short.length || !short.every(isSame)) return null;
  return { ...claimed, pairs, value, usedMg };
}
