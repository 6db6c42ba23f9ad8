import { type Cover, packMg } from '#core/buying/cover-need.ts';
import type { Offer } from '#core/buying/offers.ts';
import { lowestPackCents, packsCents } from '#core/buying/prices.ts';
import { isBetterShopping, type Shopping, shippingOf } from '#core/buying/shopping.ts';
import { type BuyOptions, type Colour, type Market, needFrom, type PackCount } from '#core/buying/shops.ts';

/** Counted steps shared by one whole search: the same input stops at the same place on every machine. */
export type StepBudget = { left: number };

/** One way to buy one colour: what it adds to each coupled shop's basket, and which of the open shops it uses. */
type Bundle = {
  readonly adds: readonly number[];
  readonly used: number;
  readonly cents: number;
  readonly grossMg: number;
  readonly packs: readonly PackCount[];
};

type State = {
  readonly baskets: readonly number[];
  readonly used: number;
  readonly cents: number;
  readonly grossMg: number;
  readonly bundle: Bundle | null;
  readonly before: State | null;
};

const mostStates = 1500;
const mostBundleSteps = 20_000;

/**
 * The best list from given open shops when minimum orders or free-postage limits tie the colours together.
 * Colour by colour, every way to buy it within the slack (incumbent less bound) is tried, states with equal baskets
 * (each counted up to its shop's target only) are merged, and what cannot beat the incumbent is dropped.
 *
 * @param open positions of the shops open, at most 30, in order
 * @param covers cheapest cover of each colour from the open shops, same order as the market's colours
 * @param leastCents what no list from exactly these shops can undercut
 * @param incumbent the best list so far; only what betters it is looked for
 * @param mustUse positions of shops that a list must use to count
 * @returns the best list found, or null when none beats the incumbent; `isExhaustive` false when steps ran out
 */
export function shopCoupled(
  market: Market,
  options: BuyOptions,
  open: readonly number[],
  covers: readonly Cover[],
  leastCents: number,
  incumbent: Shopping,
  budget: StepBudget,
  mustUse: readonly number[] = [],
): { best: Shopping | null; isExhaustive: boolean } {
  const coupled = open.filter((position) => market.shops[position]!.targetCents > 0);
  const targets = coupled.map((position) => market.shops[position]!.targetCents);
  const slackCents = incumbent.cents - leastCents;
  let isExhaustive = true;
  let states: State[] = [{ baskets: targets.map(() => 0), used: 0, cents: 0, grossMg: 0, bundle: null, before: null }];
  let leastSoFar = 0;
  for (const [i, colour] of market.colours.entries()) {
    const cover = covers[i]!;
    const listed = listBundles(colour, options, open, coupled, targets, cover.boundCents + slackCents, budget);
    isExhaustive &&= listed.isComplete;
    leastSoFar += cover.boundCents;
    const merged = new Map<string, State>();
    for (const state of states) {
      for (const bundle of listed.bundles) {
        budget.left -= 1;
        const cents = state.cents + bundle.cents;
        if (cents - leastSoFar > slackCents) continue;
        const baskets = state.baskets.map((amount, k) => Math.min(targets[k]!, amount + bundle.adds[k]!));
        const used = state.used | bundle.used;
        const grossMg = state.grossMg + bundle.grossMg;
        const key = `${used}:${baskets.join()}`;
        const known = merged.get(key);
        if (!known || cents < known.cents || (cents === known.cents && grossMg < known.grossMg)) {
          merged.set(key, { baskets, used, cents, grossMg, bundle, before: state });
        }
      }
      if (budget.left < 0) return { best: null, isExhaustive: false };
    }
    states = [...merged.values()];
    if (states.length > mostStates) {
      isExhaustive = false;
      states = states.sort((a, b) => a.cents - b.cents || a.grossMg - b.grossMg).slice(0, mostStates);
    }
  }
  let best: Shopping | null = null;
  for (const state of states) {
    const found = finish(market, open, coupled, state);
    const isWanted = found && mustUse.every((position) => found.shops.includes(position));
    if (isWanted && isBetterShopping(found, best ?? incumbent)) best = found;
  }
  return { best, isExhaustive };
}

function finish(market: Market, open: readonly number[], coupled: readonly number[], state: State): Shopping | null {
  const shops = open.filter((_, k) => (state.used >> k) & 1);
  let cents = state.cents;
  for (const position of shops) {
    const k = coupled.indexOf(position);
    const shop = market.shops[position]!;
    // A basket counted up to its target has reached the minimum and the limit alike.
    const shipping = k < 0 ? shop.shippingCents : shippingOf(shop, state.baskets[k]!);
    if (shipping === null) return null;
    cents += shipping;
  }
  const packs: PackCount[] = [];
  for (let each: State | null = state; each?.bundle; each = each.before) packs.push(...each.bundle.packs);
  return { cents, shops, grossMg: state.grossMg, packs };
}

const shopsIn = (offers: readonly { readonly shop: number }[], counts: readonly number[]): number =>
  new Set(offers.flatMap(({ shop }, i) => (counts[i] === 0 ? [] : [shop]))).size;

/** Every way to cover one colour for at most `mostCents`, one for each effect on the coupled baskets. */
function listBundles(
  colour: Colour,
  options: BuyOptions,
  open: readonly number[],
  coupled: readonly number[],
  targets: readonly number[],
  mostCents: number,
  budget: StepBudget,
): { bundles: readonly Bundle[]; isComplete: boolean } {
  const needMg = Math.ceil(colour.need.needMg);
  const byEffect = new Map<string, Bundle>();
  let steps = 0;

  function collect(offers: readonly { readonly offer: Offer; readonly shop: number }[]): void {
    // Dearest by the gram first: then the bound of what follows only rises with each further pack.
    const ordered = offers
      .map((entry) => ({ ...entry, mg: packMg(entry.offer), cents: lowestPackCents(entry.offer) }))
      .sort((a, b) => b.cents * a.mg - a.cents * b.mg || a.mg - b.mg);
    const counts = ordered.map(() => 0);
    const leastRest = (from: number, mg: number): number => {
      let left = mg;
      let cents = 0;
      for (let i = ordered.length - 1; i >= from && left > 0; i -= 1) {
        const packs = Math.min(left / ordered[i]!.mg, ordered[i]!.offer.stockPacks ?? Number.POSITIVE_INFINITY);
        cents += packs * ordered[i]!.cents;
        left -= packs * ordered[i]!.mg;
      }
      return left > 1e-6 ? Number.POSITIVE_INFINITY : cents;
    };
    const visit = (index: number, cents: number, mg: number): void => {
      steps += 1;
      if (steps > mostBundleSteps) return;
      if (index === ordered.length) {
        if (mg >= needFrom(colour.need, Math.max(1, shopsIn(ordered, counts)))) keep(ordered, counts, cents, mg);
        return;
      }
      const entry = ordered[index]!;
      const stock = entry.offer.stockPacks ?? Number.POSITIVE_INFINITY;
      // A pack that costs nothing raises no basket: beyond the need it is only left over.
      const lastBreak = (entry.offer.breaks ?? []).reduce((last, each) => Math.max(last, each.fromPacks), 0);
      const useful = Math.max(0, Math.ceil((needMg - mg) / entry.mg), lastBreak);
      const most = entry.cents === 0 ? Math.min(stock, useful) : stock;
      for (let packs = 0; packs <= most; packs += 1) {
        const least = cents + packs * entry.cents;
        const rest = leastRest(index + 1, needMg - mg - packs * entry.mg);
        if (least > mostCents) break;
        if (rest === Number.POSITIVE_INFINITY) continue;
        if (least + rest > mostCents + 1e-6) break;
        const spent = cents + packsCents(entry.offer, packs);
        if (spent > mostCents) continue; // more packs may come to a lower price
        counts[index] = packs;
        visit(index + 1, spent, mg + packs * entry.mg);
      }
      counts[index] = 0;
    };
    visit(0, 0, 0);
  }

  function keep(
    ordered: readonly { readonly offer: Offer; readonly shop: number }[],
    counts: readonly number[],
    cents: number,
    grossMg: number,
  ): void {
    const adds = targets.map(() => 0);
    let used = 0;
    for (const [i, packs] of counts.entries()) {
      if (packs === 0) continue;
      const { shop, offer } = ordered[i]!;
      used |= 1 << open.indexOf(shop);
      const k = coupled.indexOf(shop);
      if (k >= 0) adds[k] = Math.min(targets[k]!, adds[k]! + packsCents(offer, packs));
    }
    const key = `${used}:${adds.join()}`;
    const known = byEffect.get(key);
    if (known && (known.cents < cents || (known.cents === cents && known.grossMg <= grossMg))) return;
    const packs = ordered
      .map((entry, i) => ({ offer: entry.offer, packs: counts[i]! }))
      .filter((entry) => entry.packs > 0);
    byEffect.set(key, { adds, used, cents, grossMg, packs });
  }

  const offersOf = (shop: number) => (colour.offersByShop.get(shop) ?? []).map((offer) => ({ offer, shop }));
  if (options.oneSupplierPerColour) for (const shop of open) collect(offersOf(shop));
  else collect(open.flatMap(offersOf));
  budget.left -= steps;
  return { bundles: [...byEffect.values()], isComplete: steps <= mostBundleSteps };
}
