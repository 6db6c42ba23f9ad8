import type { StepBudget } from '#core/buying/coupled.ts';
import { listOfPacks } from '#core/buying/list-of-packs.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import { mostGoodsCents } from '#core/buying/prices.ts';
import { searchShops } from '#core/buying/search-shops.ts';
import { grossOf, isBetterShopping, type Shopping } from '#core/buying/shopping.ts';
import { type BuyOptions, type Market, openMarket, type PackCount } from '#core/buying/shops.ts';

/** One way a shop may price a basket: a share off, from so much goods on. */
type Step = { readonly fromCents: number; readonly offRatio: number };
/** Which step each shop is taken at, in the order of the market's shops. */
type Choice = readonly Step[];

const mostChoices = 12;
const plain: Step = { fromCents: 0, offRatio: 0 };
/** Prices are counted in such parts of a minor unit that a share off leaves them whole. */
const scales = [1, 2, 4, 5, 10, 20, 25, 50, 100, 200, 1000, 10_000];

/**
 * The cheapest list where shops take a share off the whole basket. Each shop is taken at one of its steps: without a
 * share off, or with a break's share as a minimum order at lower prices. That is a market without breaks, searched like
 * any other; the best of all choices is the best list, since a basket beyond its step only costs less than counted.
 * Rounding: a list costs no less than its unrounded prices, less what each shop with a share off may round down, and it
 * costs whole units, so the next whole unit is a bound too. Where two shops have a share off, a list that uses but one of
 * them is one of another choice as well: this choice's bound is that of lists that use both. With many shops and breaks only a few choices are searched, and the bound is
 * that of every shop at its greatest share from the first unit on.
 *
 * @param market with its breaks
 * @param offers those the market was opened with
 * @param budget counted steps for all choices together
 */
export function searchWithBreaks(
  market: Market,
  offers: readonly Offer[],
  options: BuyOptions,
  budget: StepBudget,
): { best: Shopping | null; boundCents: number } {
  const stepsOf = market.shops.map(({ supplier }) => basketSteps(supplier, offers));
  const choices = choicesOf(stepsOf);
  const isComplete = stepsOf.reduce((product, steps) => product * steps.length, 1) <= mostChoices;
  let best: Shopping | null = null;
  const bounds: number[] = [];
  for (const choice of choices) {
    const found = searchChoice(market, offers, options, choice, best?.cents ?? Number.POSITIVE_INFINITY, budget);
    if (found.best && isBetterShopping(found.best, best)) best = found.best;
    bounds.push(found.boundCents);
  }
  if (isComplete) {
    const cents = best?.cents ?? Number.POSITIVE_INFINITY;
    // Roundings hide a unit for each shop at most; what lies further below was not searched to its end.
    const isNear = (bound: number, shares: number) => shares > 1 && bound < cents && bound >= cents - shares;
    const proven = choices.map((choice, i) =>
      isNear(bounds[i]!, sharesOff(choice)) ? boundOfAll(market, offers, options, choice, cents, budget) : 0,
    );
    return { best, boundCents: Math.min(...bounds.map((bound, i) => Math.max(bound, proven[i]!))) };
  }
  const greatest = stepsOf.map((steps) => ({ fromCents: 0, offRatio: steps.at(-1)!.offRatio }));
  const ceiling = best?.cents ?? Number.POSITIVE_INFINITY;
  return { best, boundCents: searchChoice(market, offers, options, greatest, ceiling, { left: 0 }).boundCents };
}

/** The steps of a shop that can be reached, each with a greater share than the one before. */
function basketSteps({ id, breaks }: Supplier, offers: readonly Offer[]): readonly Step[] {
  const mostCents = offers
    .filter((offer) => offer.supplierId === id)
    .reduce((total, offer) => total + mostGoodsCents(offer), 0);
  const steps = [plain];
  for (const each of [...(breaks ?? [])].sort((a, b) => a.fromCents - b.fromCents || b.offRatio - a.offRatio)) {
    if (each.offRatio > steps.at(-1)!.offRatio && each.fromCents <= mostCents) steps.push(each);
  }
  return steps;
}

/** All choices where they are few; else all plain, each shop alone at its best, and all at their best. */
function choicesOf(stepsOf: readonly (readonly Step[])[]): readonly Choice[] {
  const count = stepsOf.reduce((product, steps) => product * steps.length, 1);
  if (count <= mostChoices) {
    return stepsOf.reduce<Choice[]>((made, steps) => made.flatMap((choice) => steps.map((s) => [...choice, s])), [[]]);
  }
  const alone = stepsOf.flatMap((steps, shop) =>
    steps.slice(1).map((step) => stepsOf.map((_, other) => (other === shop ? step : plain))),
  );
  return [stepsOf.map(() => plain), ...alone, stepsOf.map((steps) => steps.at(-1)!)];
}

const sharesOff = (choice: Choice) => choice.filter((step) => step.offRatio > 0).length;

/** A market at the prices of a choice, in parts of a minor unit; `roundedParts` is the most that one shop rounds down. */
function marketOfChoice(market: Market, offers: readonly Offer[], options: BuyOptions, choice: Choice) {
  const exact = scales.find((each) => choice.every((step) => isNearWhole(each * (1 - step.offRatio))));
  const scale = exact ?? scales.at(-1)!;
  // Rounded down where a share is no round one, so that the bound stays below.
  const factors = new Map(
    market.shops.map(({ supplier }, i) => [supplier.id, Math.floor(scale * (1 - choice[i]!.offRatio) + 1e-9)]),
  );
  const priced = openMarket(
    market.colours.map((colour) => colour.need),
    market.shops.map(({ supplier }, i) => pricedShop(supplier, choice[i]!, factors.get(supplier.id)!, scale)),
    offers.flatMap((offer) => {
      const factor = factors.get(offer.supplierId);
      return factor === undefined ? [] : [pricedOffer(offer, factor)];
    }),
    options,
  );
  // Prices in whole parts fall by less than half a unit; what is rounded to parts, by half at most.
  return { priced, scale, roundedParts: exact ? Math.ceil(scale / 2) - 1 : scale / 2 };
}

/**
 * What lists of a choice cannot undercut that use every shop with a share off.
 *
 * @param knownCents what the best list costs, whole units
 * @returns `knownCents` where no such list costs less, else 0
 */
function boundOfAll(
  market: Market,
  offers: readonly Offer[],
  options: BuyOptions,
  choice: Choice,
  knownCents: number,
  budget: StepBudget,
): number {
  const { priced, scale, roundedParts } = marketOfChoice(market, offers, options, choice);
  if (priced.uncovered.length > 0) return knownCents;
  const ids = market.shops.filter((_, i) => choice[i]!.offRatio > 0).map(({ supplier }) => supplier.id);
  const mustUse = ids.map((id) => priced.shops.findIndex(({ supplier }) => supplier.id === id));
  if (mustUse.includes(-1)) return knownCents;
  // A list that costs a unit less has unrounded prices of at most this.
  const ceiling = (knownCents - 1) * scale + sharesOff(choice) * roundedParts;
  return searchShops(priced, options, ceiling + 1, budget, mustUse).boundCents > ceiling ? knownCents : 0;
}

function searchChoice(
  market: Market,
  offers: readonly Offer[],
  options: BuyOptions,
  choice: Choice,
  ceilingCents: number,
  budget: StepBudget,
): { best: Shopping | null; boundCents: number } {
  const { priced, scale, roundedParts } = marketOfChoice(market, offers, options, choice);
  if (priced.uncovered.length > 0) return { best: null, boundCents: ceilingCents };
  const rounded = sharesOff(choice) * roundedParts;
  const found = searchShops(priced, options, ceilingCents * scale + rounded, budget);
  const wholeBound = Math.ceil((found.boundCents - rounded) / scale - 1e-6);
  const boundCents = Number.isFinite(found.boundCents) ? Math.min(ceilingCents, wholeBound) : ceilingCents;
  if (!found.best) return { best: null, boundCents };
  const originals = new Map(offers.map((offer) => [offer.id, offer]));
  const packs = found.best.packs.map((entry) => ({ offer: originals.get(entry.offer.id)!, packs: entry.packs }));
  return { best: recount(market, packs), boundCents };
}

const isNearWhole = (value: number) => Math.abs(value - Math.round(value)) < 1e-9;

function pricedShop(supplier: Supplier, step: Step, factor: number, scale: number): Supplier {
  const { breaks: _, ...rest } = supplier;
  return {
    ...rest,
    shippingCents: supplier.shippingCents * scale,
    freeFromCents: supplier.freeFromCents === null ? null : supplier.freeFromCents * factor,
    minimumCents: Math.max(supplier.minimumCents, step.fromCents) * factor,
  };
}

function pricedOffer(offer: Offer, factor: number): Offer {
  const breaks = offer.breaks?.map((each) => ({ ...each, priceCents: each.priceCents * factor }));
  return { ...offer, priceCents: offer.priceCents * factor, ...(breaks ? { breaks } : {}) };
}

function recount(market: Market, packs: readonly PackCount[]): Shopping {
  const suppliers = market.shops.map((shop) => shop.supplier);
  const list = listOfPacks(packs, suppliers, [], 0);
  const used = new Set(list.baskets.map((basket) => basket.supplierId));
  const shops = [...suppliers.keys()].filter((position) => used.has(suppliers[position]!.id));
  return { cents: list.totalCents, shops, grossMg: grossOf(packs), packs };
}
