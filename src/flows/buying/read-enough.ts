import { chanceShort, type TwoSteps, twoSteps } from '#core/buying/enough.ts';
import type { Basket } from '#core/buying/offers.ts';
import { basketCents, basketOffCents, packsCents } from '#core/buying/prices.ts';
import { type Estimate, enoughAt, sdOf } from '#core/shared/estimate.ts';
import type { OfferRow, SupplierRow } from '#db/stores/buying.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

export type EnoughRow = {
  readonly colour: NamedColour;
  readonly pairs: number;
  readonly likelyG: number;
  readonly safeG: number;
  readonly sdG: number;
  readonly boughtG: number;
  /** The smallest pack bought: what one less would leave out. */
  readonly lessG: number;
  readonly lessBalls: number;
  readonly chanceShort: number;
  readonly chanceShortWithLess: number;
  /** Of what is bought, grams that the likely list does without. */
  readonly forSafetyG: number;
};

export type StepsOfColour = {
  readonly colour: NamedColour;
  readonly offer: OfferRow;
  readonly steps: TwoSteps;
};

/** Buying at one shop in two steps, against buying all of it at once. */
export type StepsAtShop = {
  readonly shop: SupplierRow;
  readonly colours: readonly StepsOfColour[];
  readonly onceCents: number;
  readonly nowCents: number;
  /** On average, with the second postage as often as there is something to buy. */
  readonly laterCents: number;
  /** Below 0 when two steps cost more. */
  readonly savesCents: number;
  readonly secondPostageCents: number;
  /** The first step alone would be under the least order of the shop. */
  readonly isUnderMinimum: boolean;
};

export type Enough = {
  readonly listName: 'likely' | 'safe';
  readonly rows: readonly EnoughRow[];
  /** Colours of which the shelf, with what is on its way, has all. */
  readonly fromShelf: readonly NamedColour[];
  readonly shops: readonly StepsAtShop[];
};

type Bought = { readonly grams: number; readonly offers: readonly OfferRow[] };

function boughtOf(baskets: readonly Basket[], offers: ReadonlyMap<number, OfferRow>): ReadonlyMap<number, Bought> {
  const bought = new Map<number, Bought>();
  for (const { yarnColourId, offerId, grossMg } of baskets.flatMap((basket) => basket.lines)) {
    const known = bought.get(yarnColourId) ?? { grams: 0, offers: [] };
    bought.set(yarnColourId, { grams: known.grams + grossMg / 1000, offers: [...known.offers, offers.get(offerId)!] });
  }
  return bought;
}

const packG = (offer: OfferRow) => (offer.ballMg * offer.ballsPerPack) / 1000;

/** Pairs that a colour is to be bought for. */
function pairsToBuyFor({ plan }: WorkshopPlan): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  plan.wanted.pairs.forEach((pair, i) => {
    const held = new Set(pair.started?.heldColourIds ?? []);
    for (const { yarnColourId } of plan.handwork.yarnOf(pair.kind, plan.weeks[i]?.knitterId ?? null)) {
      if (held.has(yarnColourId) || plan.placed.lotOf.has(`${pair.key}/${yarnColourId}`)) continue;
      counts.set(yarnColourId, (counts.get(yarnColourId) ?? 0) + 1);
    }
  });
  return counts;
}

function stepsAtShop(
  basket: Basket,
  needs: ReadonlyMap<number, Estimate>,
  pairs: ReadonlyMap<number, number>,
  workshopPlan: WorkshopPlan,
): StepsAtShop | null {
  const { rows, input, settings } = workshopPlan;
  const named = coloursOf(rows);
  const shop = rows.suppliers.find((each) => each.id === basket.supplierId)!;
  const supplier = input.suppliers.find((each) => each.id === basket.supplierId)!;
  const colours: StepsOfColour[] = [];
  let nowGoods = 0;
  let laterGoods = 0;
  let chanceOfNone = 1;
  for (const colourId of new Set(basket.lines.map((line) => line.yarnColourId))) {
    const own = basket.lines.filter((line) => line.yarnColourId === colourId);
    const need = needs.get(colourId);
    // One kind of pack, and all of the colour from here: else this is no plain question.
    const offer = own.length === 1 ? input.offers.find((each) => each.id === own[0]!.offerId) : undefined;
    const row = rows.offers.find((each) => each.id === own[0]!.offerId)!;
    const steps = need && offer ? twoSteps(need, pairs.get(colourId) ?? 1, packG(row), settings.confidence) : null;
    if (!steps || !offer) {
      nowGoods += own.reduce((sum, line) => sum + line.goodsCents, 0);
      continue;
    }
    colours.push({ colour: named.get(colourId)!, offer: row, steps });
    nowGoods += packsCents(offer, steps.nowPacks);
    laterGoods += steps.laterPacks * offer.priceCents;
    chanceOfNone *= steps.chanceOfNone;
  }
  if (colours.length === 0) return null;
  const isFree = (goodsCents: number) => supplier.freeFromCents !== null && goodsCents >= supplier.freeFromCents;
  const nowCents = nowGoods - basketOffCents(supplier, nowGoods) + (isFree(nowGoods) ? 0 : supplier.shippingCents);
  const secondPostageCents = isFree(laterGoods) ? 0 : supplier.shippingCents;
  const laterCents = Math.round(laterGoods + secondPostageCents * (1 - chanceOfNone));
  const onceCents = basketCents(basket);
  return {
    shop,
    colours,
    onceCents,
    nowCents,
    laterCents,
    savesCents: onceCents - nowCents - laterCents,
    secondPostageCents,
    isUnderMinimum: nowGoods < supplier.minimumCents,
  };
}

/** How sure it is that what is bought is enough, and whether buying in two steps would pay. */
export function readEnough(workshopPlan: WorkshopPlan): Enough {
  const { plan, rows, settings } = workshopPlan;
  const named = coloursOf(rows);
  const offers = new Map(rows.offers.map((offer) => [offer.id, offer]));
  const chosen = boughtOf(plan.lists.chosen.baskets, offers);
  const likely = boughtOf(plan.lists.likely.baskets, offers);
  const pairs = pairsToBuyFor(workshopPlan);
  const needs = new Map(plan.placed.toBuy.map(({ yarnColourId, grams }) => [yarnColourId, grams]));
  const enoughRows = [...needs].flatMap(([colourId, need]): EnoughRow[] => {
    const bought = chosen.get(colourId);
    if (!bought) return [];
    const least = bought.offers.reduce((small, offer) => (packG(offer) < packG(small) ? offer : small));
    return [
      {
        colour: named.get(colourId)!,
        pairs: pairs.get(colourId) ?? 0,
        likelyG: need.mean,
        safeG: enoughAt(need, settings.confidence),
        sdG: sdOf(need),
        boughtG: bought.grams,
        lessG: packG(least),
        lessBalls: least.ballsPerPack,
        chanceShort: chanceShort(need, bought.grams),
        chanceShortWithLess: chanceShort(need, bought.grams - packG(least)),
        forSafetyG: Math.max(0, bought.grams - (likely.get(colourId)?.grams ?? 0)),
      },
    ];
  });
  const fromShelf = plan.needs.filter(({ yarnColourId }) => !needs.has(yarnColourId));
  return {
    listName: plan.lists.chosenName,
    rows: enoughRows,
    fromShelf: fromShelf.map(({ yarnColourId }) => named.get(yarnColourId)!),
    shops: plan.lists.safe.baskets.flatMap((basket) => stepsAtShop(basket, needs, pairs, workshopPlan) ?? []),
  };
}
