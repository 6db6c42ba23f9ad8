import type { Kind, Mix } from '#core/buying/cover-need.ts';
import { packsCents } from '#core/buying/prices.ts';

const mostTableCells = 4_000_000;
const tieBase = 2 ** 21;

/**
 * The cheapest cover where prices fall with the packs: each offer is one stage of the covering table, f(q) being the
 * best of no pack of it, packs at its first price, or a break's packs at once and further ones at that price. Taking
 * more packs than a break at the price before it is dearer than with it, so each step needs no upper end.
 *
 * @param kinds offers in order of preference among equals, with weights in whole units; `steps` where the price falls
 * @param need whole units, at least 1; all kinds together reach it
 * @returns the cover, cheapest, then least left over, then fewest packs; null when the table would be too large
 * Source: covering knapsack by dynamic programming, all-units breaks as alternatives of a stage
 */
export function coverByStages(kinds: readonly Kind[], need: number): Mix | null {
  const width = need + 1;
  if (kinds.length * width > mostTableCells) return null;
  let cents: Float64Array = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
  let ties: Float64Array = new Float64Array(width);
  cents[0] = 0;
  const taken = new Int32Array(kinds.length * width);
  for (const [i, kind] of kinds.entries()) {
    const bestCents = cents.slice();
    const bestTies = ties.slice();
    for (const step of kind.steps ?? [{ fromPacks: 1, priceCents: kind.cents }]) {
      const run = runOf(kind, step, need, cents, ties);
      for (let q = 1; q < width; q += 1) {
        const isLess = run.cents[q]! < bestCents[q]!;
        if (!isLess && !(run.cents[q] === bestCents[q] && run.ties[q]! < bestTies[q]!)) continue;
        if (run.cents[q] === Number.POSITIVE_INFINITY) continue;
        bestCents[q] = run.cents[q]!;
        bestTies[q] = run.ties[q]!;
        taken[i * width + q] = run.packs[q]!;
      }
    }
    cents = bestCents;
    ties = bestTies;
  }
  const mix: Mix = { cents: 0, units: 0, packs: kinds.map(() => 0) };
  let q = need;
  for (let i = kinds.length - 1; i >= 0; i -= 1) {
    const packs = taken[i * width + q]!;
    mix.packs[i] = packs;
    mix.units += packs * kinds[i]!.units;
    mix.cents += packsCents(kinds[i]!.offer, packs);
    q = Math.max(0, q - packs * kinds[i]!.units);
  }
  return mix;
}

/** Covers that take at least a step's packs of a kind, all at that step's price, on top of the stages before. */
function runOf(
  kind: Kind,
  { fromPacks, priceCents }: { readonly fromPacks: number; readonly priceCents: number },
  need: number,
  before: Float64Array,
  beforeTies: Float64Array,
): { cents: Float64Array; ties: Float64Array; packs: Int32Array } {
  const cents = new Float64Array(need + 1).fill(Number.POSITIVE_INFINITY);
  const ties = new Float64Array(need + 1);
  const packs = new Int32Array(need + 1);
  for (let q = 0; q <= need; q += 1) {
    const rest = Math.max(0, q - fromPacks * kind.units);
    cents[q] = before[rest]! + fromPacks * priceCents;
    ties[q] = beforeTies[rest]! + fromPacks * (kind.units * tieBase + 1);
    packs[q] = fromPacks;
  }
  const add = (q: number, more: number) => {
    const rest = Math.max(0, q - more * kind.units);
    const total = cents[rest]! + more * priceCents;
    const tie = ties[rest]! + more * (kind.units * tieBase + 1);
    if (total > cents[q]! || (total === cents[q]! && tie >= ties[q]!)) return;
    cents[q] = total;
    ties[q] = tie;
    packs[q] = packs[rest]! + more;
  };
  if (kind.offer.stockPacks === null || kind.most * kind.units >= need) {
    // Upward, a cell builds on the same kind: more packs than the need takes are dearer or weigh more, and never stay.
    for (let q = 1; q <= need; q += 1) add(q, 1);
  } else {
    // A limited stock in portions of 1, 2, 4, ... packs, each taken once: downward.
    let rest = kind.most - fromPacks;
    for (let more = 1; rest > 0; more *= 2) {
      const portion = Math.min(more, rest);
      for (let q = need; q >= 1; q -= 1) add(q, portion);
      rest -= portion;
    }
  }
  return { cents, ties, packs };
}
