import { chanceShort, type TwoSteps, twoSteps } from '#core/buying/enough.ts';
import { placementKey } from '#core/buying/lots.ts';
import type { Basket } from '#core/buying/offers.ts';
import { basketCents, basketOffCents } from '#core/buying/prices.ts';
import { needsOf } from '#core/buying/shopping-lists.ts';
import { onlyForSafety } from '#core/buying/why-bought.ts';
import { type Estimate, enoughAt, sdOf } from '#core/shared/estimate.ts';
import type { OfferRow, SupplierRow } from '#db/stores/buying.ts';
import { moreForLotsG } from '#flows/buying/read-buying.ts';
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

type Packs = { readonly packs: number; readonly offer: OfferRow };

export type StepsOfColour = {
  readonly colour: NamedColour;
  readonly now: readonly Packs[];
  readonly once: readonly Packs[];
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
  /** They save enough for another parcel, and maybe another dye lot. */
  readonly isAdvised: boolean;
  readonly secondPostageCents: number;
  /** The first step alone would be under the least order of the shop. */
  readonly isUnderMinimum: boolean;
};

export type Enough = {
  readonly listName: 'likely' | 'safe';
  readonly rows: readonly EnoughRow[];
  /** What the list needs more than is enough for all pairs together, so that each finds enough in its lot, g. */
  readonly moreForLotsG: number;
  /** Colours of which the shelf, with what is on its way, has all. */
  readonly fromShelf: readonly NamedColour[];
  readonly shops: readonly StepsAtShop[];
};

/** What two steps must save of the bill to be advised: our own choice. */
const worthItShare = 0.05;

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
      const key = placementKey(pair.key, yarnColourId);
      if (held.has(yarnColourId) || plan.placed.lotOf.has(key) || plan.placed.mixedOf.has(key)) continue;
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
  const { rows, input, settings, plan } = workshopPlan;
  const named = coloursOf(rows);
  const rowOf = new Map(rows.offers.map((offer) => [offer.id, offer]));
  const packsOf = (packs: number, offerId: number): Packs => ({ packs, offer: rowOf.get(offerId)! });
  const elsewhere = new Set(
    plan.lists.safe.baskets
      .filter((each) => each !== basket)
      .flatMap((each) => each.lines.map(({ yarnColourId }) => yarnColourId)),
  );
  const shop = rows.suppliers.find((each) => each.id === basket.supplierId)!;
  const supplier = input.suppliers.find((each) => each.id === basket.supplierId)!;
  const colours: StepsOfColour[] = [];
  let nowGoods = 0;
  let laterGoods = 0;
  let chanceOfNone = 1;
  for (const colourId of new Set(basket.lines.map((line) => line.yarnColourId))) {
    const own = basket.lines.filter((line) => line.yarnColourId === colourId);
    const need = needs.get(colourId);
    const sold = input.offers.filter((offer) => offer.supplierId === supplier.id && offer.yarnColourId === colourId);
    // A colour that two shops share is no plain question.
    const steps =
      need && !elsewhere.has(colourId) ? twoSteps(need, pairs.get(colourId) ?? 1, sold, settings.confidence) : null;
    if (!steps) {
      nowGoods += own.reduce((sum, line) => sum + line.goodsCents, 0);
      continue;
    }
    colours.push({
      colour: named.get(colourId)!,
      now: steps.now.packs.map(({ offer, packs }) => packsOf(packs, offer.id)),
      once: own.map(({ offerId, packs }) => packsOf(packs, offerId)),
      steps,
    });
    nowGoods += steps.now.goodsCents;
    laterGoods += steps.laterCents;
    chanceOfNone *= steps.chanceOfNone;
  }
  if (colours.length === 0) return null;
  const isFree = (goodsCents: number) => supplier.freeFromCents !== null && goodsCents >= supplier.freeFromCents;
  const nowCents = nowGoods - basketOffCents(supplier, nowGoods) + (isFree(nowGoods) ? 0 : supplier.shippingCents);
  const secondPostageCents = isFree(laterGoods) ? 0 : supplier.shippingCents;
  const laterCents = Math.round(laterGoods + secondPostageCents * (1 - chanceOfNone));
  const onceCents = basketCents(basket);
  const savesCents = onceCents - nowCents - laterCents;
  const isUnderMinimum = nowGoods < supplier.minimumCents;
  return {
    shop,
    colours,
    onceCents,
    nowCents,
    laterCents,
    savesCents,
    isAdvised: !isUnderMinimum && savesCents >= worthItShare * onceCents,
    secondPostageCents,
    isUnderMinimum,
  };
}

/** How sure it is that what is bought is enough, and whether buying in two steps would pay. */
export function readEnough(workshopPlan: WorkshopPlan): Enough {
  const { plan, rows, settings } = workshopPlan;
  const named = coloursOf(rows);
  const offers = new Map(rows.offers.map((offer) => [offer.id, offer]));
  const chosen = boughtOf(plan.lists.chosen.baskets, offers);
  const { likely, chosen: list, chosenName } = plan.lists;
  const forSafety =
    chosenName === 'likely'
      ? new Map<number, number>()
      : onlyForSafety(
          { list, needs: needsOf(plan.placed.toBuy, 'safe') },
          { list: likely, needs: needsOf(plan.placed.toBuy, 'likely') },
        );
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
        forSafetyG: (forSafety.get(colourId) ?? 0) / 1000,
      },
    ];
  });
  const fromShelf = plan.needs.filter(({ yarnColourId }) => !needs.has(yarnColourId));
  return {
    listName: plan.lists.chosenName,
    rows: enoughRows,
    moreForLotsG: moreForLotsG(workshopPlan),
    fromShelf: fromShelf.map(({ yarnColourId }) => named.get(yarnColourId)!),
    shops: plan.lists.safe.baskets.flatMap((basket) => stepsAtShop(basket, needs, pairs, workshopPlan) ?? []),
  };
}
