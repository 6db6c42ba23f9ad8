import { coverByStages } from '#core/buying/cover-breaks.ts';
import type { Offer } from '#core/buying/offers.ts';
import { lowestPackCents, packsCents, priceSteps } from '#core/buying/prices.ts';
import { requireRange, requireWhole } from '#core/shared/check.ts';

/** Whole packs that cover a need. `boundCents` is what no cover can undercut: equal to `goodsCents` when proven cheapest. */
export type Cover = {
  readonly packs: readonly { readonly offer: Offer; readonly packs: number }[];
  readonly goodsCents: number;
  readonly grossMg: number;
  readonly boundCents: number;
};

/** Sums are compared by price, then grams, then packs; `packs[i]` counts packs of the i-th kind. */
export type Mix = { cents: number; units: number; packs: number[] };
/** `cents` is the lowest price a pack can come to; `steps` are there where the price falls with the packs. */
export type Kind = {
  readonly offer: Offer;
  readonly units: number;
  readonly cents: number;
  readonly most: number;
  readonly steps: ReturnType<typeof priceSteps> | null;
};

const mostTableCells = 8_000_000;
const mostSearchSteps = 400_000;
const tieBase = 2 ** 21;

/**
 * What one pack weighs.
 *
 * @param offer a pack on sale
 * @returns milligrams
 * @example packMg({ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 10, priceCents: 3900, stockPacks: null }) // => 500000
 */
export function packMg(offer: Offer): number {
  return offer.ballMg * offer.ballsPerPack;
}

/**
 * The cheapest whole packs of one colour that weigh at least the need; ties: less left over, fewer packs, offer order.
 * Covering recurrence f(q) = least over packs of price + f(max(0, q - grams)), in units of the packs' greatest common
 * divisor, stock limits split into 1, 2, 4, ... packs. A big need without stock limits first takes the pack that is
 * cheapest by the gram, b, in bulk: among any b-many other packs (b in units) some add up to a multiple of b, and
 * swapping those for b's costs no more, so the others never weigh more than (b - 1) x the largest pack. Where the price
 * falls with the packs, an offer is one stage of the table (`coverByStages`). Pack sizes with
 * hardly any common divisor are searched depth first instead; only when that search stops at its step limit is the
 * cover not proven, and `boundCents` then lies below `goodsCents`.
 *
 * @param needMg at least 0, milligrams; a fraction counts as the next whole milligram
 * @param offers packs of one colour, in order of preference among equals; may be empty
 * @returns the packs bought, none for no need; null when all packs in stock together are not enough
 * @throws {RangeError} when the need is negative or not finite, or a pack's weight, price or stock makes no sense
 * Source: covering (minimum) knapsack by dynamic programming; the bulk rule is the usual argument by remainders
 * @example coverNeed(60000, [{ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 300, stockPacks: null }]).goodsCents // => 600
 * @example coverNeed(60000, [{ id: 1, supplierId: 1, yarnColourId: 1, ballMg: 50000, ballsPerPack: 1, priceCents: 300, stockPacks: 1 }]) // => null
 * @example coverNeed(0, []) // => { packs: [], goodsCents: 0, grossMg: 0, boundCents: 0 }
 */
export function coverNeed(needMg: number, offers: readonly Offer[]): Cover | null {
  const wholeMg = Math.ceil(requireRange('coverNeed: needMg', needMg, 0, Number.MAX_SAFE_INTEGER));
  if (wholeMg === 0) return { packs: [], goodsCents: 0, grossMg: 0, boundCents: 0 };
  const unitMg = offers.reduce((divisor, offer) => greatestCommonDivisor(divisor, checkedPackMg(offer)), 0);
  if (unitMg === 0) return null;
  const need = Math.ceil(wholeMg / unitMg);
  const kinds: Kind[] = [];
  for (const offer of offers) {
    const units = packMg(offer) / unitMg;
    const steps = offer.breaks && offer.breaks.length > 0 ? priceSteps(offer) : null;
    // More packs than the need takes only where that many reach a lower price.
    const useful = Math.max(Math.ceil(need / units), steps?.at(-1)?.fromPacks ?? 0);
    const most = Math.min(useful, offer.stockPacks ?? Number.MAX_SAFE_INTEGER);
    if (most > 0) kinds.push({ offer, units, cents: lowestPackCents(offer), most, steps });
  }
  if (kinds.reduce((total, kind) => total + kind.units * kind.most, 0) < need) return null;
  const { mix, boundCents } = cover(kinds, need);
  return {
    packs: kinds.map((kind, i) => ({ offer: kind.offer, packs: mix.packs[i]! })).filter((line) => line.packs > 0),
    goodsCents: mix.cents,
    grossMg: mix.units * unitMg,
    boundCents,
  };
}

function checkedPackMg(offer: Offer): number {
  requireWhole('coverNeed: offers.priceCents', offer.priceCents);
  for (const each of offer.breaks ?? []) {
    requireWhole('coverNeed: offers.breaks.priceCents', each.priceCents);
    requireWhole('coverNeed: offers.breaks.fromPacks', each.fromPacks, 1);
  }
  if (offer.stockPacks !== null) requireWhole('coverNeed: offers.stockPacks', offer.stockPacks);
  return requireWhole('coverNeed: offers pack weight in mg', packMg(offer), 1);
}

function greatestCommonDivisor(a: number, b: number): number {
  let [larger, smaller] = [a, b];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

function cover(kinds: readonly Kind[], need: number): { mix: Mix; boundCents: number } {
  if (kinds.some((kind) => kind.steps)) {
    const staged = coverByStages(kinds, need);
    return staged ? { mix: staged, boundCents: staged.cents } : coverNearly(kinds, need);
  }
  const bulk = bulkPacks(kinds, need);
  const rest = need - bulk.packs * (bulk.kind?.units ?? 0);
  if (rest * kinds.length <= mostTableCells && tableCells(kinds, rest) <= mostTableCells) {
    const mix = coverByTable(kinds, rest);
    if (bulk.kind && bulk.packs > 0) {
      mix.packs[kinds.indexOf(bulk.kind)]! += bulk.packs;
      mix.cents += bulk.packs * bulk.kind.cents;
      mix.units += bulk.packs * bulk.kind.units;
    }
    return { mix, boundCents: mix.cents };
  }
  return coverNearly(kinds, need);
}

/** Where a table would be too large: depth first, and when that stops at its step limit the better of two covers. */
function coverNearly(kinds: readonly Kind[], need: number): { mix: Mix; boundCents: number } {
  const searched = coverBySearch(kinds, need);
  if (searched.isProven) return { mix: searched.mix, boundCents: searched.mix.cents };
  const coarse = coverByCoarseTable(kinds, need);
  const mix = coarse && isBetter(coarse, searched.mix) ? coarse : searched.mix;
  return { mix, boundCents: Math.min(mix.cents, Math.ceil(leastCents(byGramPrice(kinds), 0, need) - 1e-6)) };
}

/** Packs of the kind cheapest by the gram that some cheapest cover surely holds; none where stock is limited. */
function bulkPacks(kinds: readonly Kind[], need: number): { kind: Kind | null; packs: number } {
  if (kinds.some((kind) => kind.units * kind.most < need)) return { kind: null, packs: 0 };
  const best = byGramPrice(kinds).at(-1)!;
  const largest = kinds.reduce((most, kind) => Math.max(most, kind.units), 0);
  const others = (best.units - 1) * largest;
  return { kind: best, packs: Math.max(0, Math.floor((need - others) / best.units)) };
}

/** Dearest by the gram first; among equals the smaller pack first, so that the bulk pack also means fewest packs. */
function byGramPrice(kinds: readonly Kind[]): readonly Kind[] {
  return kinds
    .map((kind, index) => ({ kind, index }))
    .sort(
      (a, b) =>
        b.kind.cents * a.kind.units - a.kind.cents * b.kind.units || a.kind.units - b.kind.units || b.index - a.index,
    )
    .map((entry) => entry.kind);
}

type Item = { readonly kind: number; readonly packs: number; readonly isUnlimited: boolean };

function itemsOf(kinds: readonly Kind[], need: number): Item[] {
  const items: Item[] = [];
  for (const [index, kind] of kinds.entries()) {
    if (kind.most * kind.units >= need) items.push({ kind: index, packs: 1, isUnlimited: true });
    else {
      let left = kind.most;
      for (let packs = 1; left > 0; packs *= 2) {
        items.push({ kind: index, packs: Math.min(packs, left), isUnlimited: false });
        left -= packs;
      }
    }
  }
  return items;
}

function tableCells(kinds: readonly Kind[], need: number): number {
  return itemsOf(kinds, need).length * (need + 1);
}

function coverByTable(kinds: readonly Kind[], need: number): Mix {
  const items = itemsOf(kinds, need);
  const cents = new Float64Array(need + 1).fill(Number.POSITIVE_INFINITY);
  const ties = new Float64Array(need + 1); // grams first, packs second, in one number
  const taken = new Uint8Array(items.length * (need + 1));
  cents[0] = 0;
  for (const [i, item] of items.entries()) {
    const kind = kinds[item.kind]!;
    const units = kind.units * item.packs;
    const price = kind.cents * item.packs;
    const tie = units * tieBase + item.packs;
    const row = i * (need + 1);
    // Upward, a cell may build on the same item taken already; downward, each item is taken once.
    const [from, step] = item.isUnlimited ? [1, 1] : [need, -1];
    for (let q = from; q >= 1 && q <= need; q += step) {
      const before = q > units ? q - units : 0;
      const total = cents[before]! + price;
      const totalTie = ties[before]! + tie;
      if (total < cents[q]! || (total === cents[q]! && total < Number.POSITIVE_INFINITY && totalTie < ties[q]!)) {
        cents[q] = total;
        ties[q] = totalTie;
        taken[row + q] = 1;
      }
    }
  }
  const mix: Mix = { cents: cents[need]!, units: 0, packs: kinds.map(() => 0) };
  let q = need;
  for (let i = items.length - 1; i >= 0; i -= 1) {
    const item = items[i]!;
    const units = kinds[item.kind]!.units * item.packs;
    while (q > 0 && taken[i * (need + 1) + q] === 1) {
      mix.packs[item.kind]! += item.packs;
      mix.units += units;
      q = Math.max(0, q - units);
      if (!item.isUnlimited) break;
    }
  }
  return mix;
}

/** Least price of the need with the kinds from `from` on, packs taken as divisible; infinite when stock is short. */
function leastCents(ordered: readonly Kind[], from: number, need: number): number {
  let left = need;
  let cents = 0;
  for (let i = ordered.length - 1; i >= from && left > 0; i -= 1) {
    const kind = ordered[i]!;
    const packs = Math.min(left / kind.units, kind.most);
    cents += packs * kind.cents;
    left -= packs * kind.units;
  }
  return left > 1e-6 ? Number.POSITIVE_INFINITY : cents;
}

function coverBySearch(kinds: readonly Kind[], need: number): { mix: Mix; isProven: boolean } {
  const ordered = byGramPrice(kinds);
  const counts = ordered.map(() => 0);
  let best: Mix | null = null;
  let steps = 0;
  const visit = (index: number, cents: number, units: number): void => {
    steps += 1;
    const left = need - units;
    if (left <= 0) {
      const found = { cents, units, packs: kinds.map((kind) => counts[ordered.indexOf(kind)]!) };
      if (!best || isBetter(found, best)) best = found;
      return;
    }
    const kind = ordered[index];
    if (!kind) return;
    const isLast = index === ordered.length - 1;
    const least = isLast ? Math.ceil(left / kind.units) : 0;
    const enough = Math.min(kind.most, Math.ceil(left / kind.units));
    const most = Math.max(enough, Math.min(kind.most, kind.steps?.at(-1)?.fromPacks ?? 0));
    for (let packs = least; packs <= most; packs += 1) {
      if (best && steps > mostSearchSteps) break;
      const bound = cents + packs * kind.cents + leastCents(ordered, index + 1, left - packs * kind.units);
      if (bound === Number.POSITIVE_INFINITY) continue; // the cheaper packs alone run out of stock: take more of this one
      if (best && Math.ceil(bound - 1e-6) > best.cents) break; // each further dearer pack only raises the bound
      const spent = cents + (kind.steps ? packsCents(kind.offer, packs) : packs * kind.cents);
      if (best && spent > best.cents) continue; // more packs may come to a lower price
      counts[index] = packs;
      visit(index + 1, spent, units + packs * kind.units);
    }
    counts[index] = 0;
  };
  visit(0, 0, 0);
  return { mix: best!, isProven: steps <= mostSearchSteps };
}

/** Pack sizes rounded down to a coarser unit: its cover is a cover, though not always the cheapest. */
function coverByCoarseTable(kinds: readonly Kind[], need: number): Mix | null {
  const scale = Math.ceil((need * kinds.length * 20) / mostTableCells);
  const coarse = kinds.map((kind) => ({ ...kind, units: Math.floor(kind.units / scale) }));
  if (coarse.some((kind) => kind.units === 0)) return null;
  const coarseNeed = Math.ceil(need / scale);
  if (coarse.reduce((total, kind) => total + kind.units * kind.most, 0) < coarseNeed) return null;
  const { packs } = coarse.some((kind) => kind.steps)
    ? (coverByStages(coarse, coarseNeed) ?? { packs: [] })
    : coverByTable(coarse, coarseNeed);
  if (packs.length === 0) return null;
  return {
    packs,
    cents: packs.reduce((total, count, i) => total + packsCents(kinds[i]!.offer, count), 0),
    units: packs.reduce((total, count, i) => total + count * kinds[i]!.units, 0),
  };
}

function isBetter(a: Mix, b: Mix): boolean {
  if (a.cents !== b.cents) return a.cents < b.cents;
  if (a.units !== b.units) return a.units < b.units;
  return a.packs.reduce((total, count) => total + count, 0) < b.packs.reduce((total, count) => total + count, 0);
}
