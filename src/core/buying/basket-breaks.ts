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
 * Rounding: a list costs more than its unrounded prices less half a minor unit for each shop with a share off, so the
 * bound is the next whole unit above that. With many shops and breaks only a few choices are searched, and the bound is
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
  let leastBound = Number.POSITIVE_INFINITY;
  for (const choice of choices) {
    const found = searchChoice(market, offers, options, choice, best?.cents ?? Number.POSITIVE_INFINITY, budget);
    if (found.best && isBetterShopping(found.best, best)) best = found.best;
    leastBound = Math.min(leastBound, found.boundCents);
  }
  if (isComplete) return { best, boundCents: leastBound };
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

function searchChoice(
  market: Market,
  offers: readonly Offer[],
  options: BuyOptions,
  choice: Choice,
  ceilingCents: number,
  budget: StepBudget,
): { best: Shopping | null; boundCents: number } {
  const scale =
    scales.find((each) => choice.every((step) => isNearWhole(each * (1 - step.offRatio)))) ?? scales.at(-1)!;
  // Rounded down where a share is no round one, so that the bound stays below.
  const factors = new Map(
    market.shops.map(({ supplier }, i) => [supplier.id, Math.floor(scale * (1 - choice[i]!.offRatio) + 1e-9)]),
  );
  const sharesOff = choice.filter((step) => step.offRatio > 0).length;
  const priced = openMarket(
    market.colours.map((colour) => colour.need),
    market.shops.map(({ supplier }, i) => pricedShop(supplier, choice[i]!, factors.get(supplier.id)!, scale)),
    offers.flatMap((offer) => {
      const factor = factors.get(offer.supplierId);
      return factor === undefined ? [] : [pricedOffer(offer, factor)];
    }),
    options,
  );
  if (priced.uncovered.length > 0) return { best: null, boundCents: ceilingCents };
  const ceiling = (ceilingCents + sharesOff / 2) * scale;
  const found = searchShops(priced, options, ceiling, budget);
  const bound = found.boundCents / scale;
  const wholeBound = sharesOff === 0 ? Math.ceil(bound - 1e-6) : Math.floor(bound - sharesOff / 2 + 1e-6) + 1;
  const boundCents = Number.isFinite(bound) ? Math.min(ceilingCents, wholeBound) : ceilingCents;
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
