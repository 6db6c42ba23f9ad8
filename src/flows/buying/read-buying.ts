import { bestSingleShop } from '#core/buying/buy-yarn.ts';
import { placementKey } from '#core/buying/lots.ts';
import { lotsAfter, nearestMiss } from '#core/buying/lots-after.ts';
import type { Basket, PurchaseLine, PurchaseList } from '#core/buying/offers.ts';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { joinLots } from '#core/buying/same-lots.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { needsOf } from '#core/buying/shopping-lists.ts';
import { type PairWant, wantsOf } from '#core/buying/wants.ts';
import { onlyForSafety, type SpareReason, sparePacks, spareReason } from '#core/buying/why-bought.ts';
import { scheduleOptionsOf } from '#core/plan.ts';
import { neededBy } from '#core/schedule/needed-by.ts';
import { dueDays } from '#core/schedule/pairs-to-knit.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import type { ColourAmount } from '#core/yardage/needs.ts';
import type { OfferRow, SupplierRow } from '#db/stores/buying.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { type ShortLot, shortLots } from '#flows/shelf/short-pairs.ts';

type Amount = { readonly grams: number; readonly metres: number; readonly balls: number };

export type NeedOfColour = {
  readonly colour: NamedColour;
  readonly likely: Amount;
  readonly safe: Amount;
  readonly sdG: number;
  /** On the shelf: all of it, and what of it is put aside for pairs that are begun. */
  readonly shelfG: number;
  readonly heldG: number;
  /** Ordered and not here yet. */
  readonly onWayG: number;
  readonly toBuyLikelyG: number;
  readonly toBuySafeG: number;
  /**
   * What was written down of it for begun pairs that wait for it, where that is more than they likely take: the list buys
   * so much; 0 else.
   */
  readonly writtenDownG: number;
  /** A lot that looks big enough for a pair that is to be bought for, and is not; null where none does. */
  readonly nearMiss: {
    /** What the pair likely takes, and what is enough for it alone. */
    readonly likelyG: number;
    readonly pairG: number;
    readonly dyeLot: string;
    readonly isHere: boolean;
    readonly leftG: number;
  } | null;
};

export type ListLine = {
  readonly offer: OfferRow;
  readonly colour: NamedColour;
  readonly packs: number;
  readonly goodsCents: number;
  /** How much of it is bought only to be safe, g. */
  readonly forSafetyG: number;
  /** How much of it is bought beyond the need, g, and what for; null where nothing is. */
  readonly spare: { readonly grams: number; readonly reason: SpareReason } | null;
};

export type ListBasket = {
  readonly shop: SupplierRow;
  readonly lines: readonly ListLine[];
  readonly goodsCents: number;
  /** Taken off the whole basket by the shop. */
  readonly offCents: number;
  readonly shippingCents: number;
  readonly arrivesDay: Day;
  /** The last good day to order; null when nothing waits for it. */
  readonly orderByDay: Day | null;
};

export type ListView = {
  readonly name: 'likely' | 'safe';
  readonly isChosen: boolean;
  readonly baskets: readonly ListBasket[];
  readonly totalCents: number;
  /** At most so much could be saved; 0 when the list cannot be cheaper. */
  readonly savingCents: number;
};

export type Buying = {
  readonly today: Day;
  /** What the chosen list needs more than is enough for all pairs together, so that each finds enough in its lot, g. */
  readonly moreForLotsG: number;
  readonly needs: readonly NeedOfColour[];
  readonly lists: readonly ListView[];
  readonly hasShops: boolean;
  readonly onWay: { readonly parcels: number; readonly overdue: number };
  /** Lots that lack yarn for begun pairs; none is bought for them. */
  readonly short: readonly ShortLot[];
  /** Colours the lists leave out, and why. */
  readonly missing: readonly {
    readonly colour: NamedColour;
    readonly needG: number;
    readonly balls: number;
    readonly isSold: boolean;
  }[];
  /** What will likely be left of what is bought by the chosen list. */
  readonly left: readonly { readonly colour: NamedColour; readonly boughtG: number; readonly usedG: number }[];
  /** Everything of the chosen list from one shop, when another number of shops is chosen. */
  readonly oneShop: { readonly shop: SupplierRow; readonly totalCents: number; readonly moreCents: number } | null;
  readonly cheaperButLate: {
    readonly totalCents: number;
    readonly savesCents: number;
    readonly shops: readonly string[];
  } | null;
};

/** Wants that found no lot, and what the others leave of the lots. */
function leftOf({ plan, settings, input }: WorkshopPlan) {
  const { wants } = wantsOf(plan.wanted.pairs, plan.weeks, plan.handwork, settings);
  const { lotOf, mixedOf } = plan.placed;
  const isLeft = ({ pairKey, yarnColourId }: PairWant) => {
    const key = placementKey(pairKey, yarnColourId);
    return !lotOf.has(key) && !mixedOf.has(key);
  };
  return { wants: wants.filter(isLeft), lots: joinLots(lotsAfter(input.shelf, wants, plan.placed)) };
}

function nearMissOf(yarnColourId: number, left: ReturnType<typeof leftOf>, shelf: readonly ShelfLot[]) {
  const ofColour = (each: { readonly yarnColourId: number }) => each.yarnColourId === yarnColourId;
  const miss = nearestMiss(left.wants.filter(ofColour), left.lots.filter(ofColour));
  if (!miss) return null;
  const { dyeLot, fromDay } = shelf.find(({ id }) => id === miss.lotId)!;
  const [likelyG, pairG, leftG] = [miss.likelyMg / 1000, miss.wantMg / 1000, miss.leftMg / 1000];
  return { likelyG, pairG, leftG, dyeLot, isHere: fromDay === undefined };
}

const sumMg = (rows: readonly { readonly massMg: number }[]) => rows.reduce((sum, { massMg }) => sum + massMg, 0);

function needOf(
  amount: ColourAmount,
  workshopPlan: WorkshopPlan,
  colour: NamedColour,
  left: ReturnType<typeof leftOf>,
): NeedOfColour {
  const { plan, rows, settings, input } = workshopPlan;
  const { yarnColourId, grams, metres } = amount;
  const ballG = colour.yarn.ballMg / 1000;
  const amountAt = (confidence: number): Amount => {
    const massG = enoughAt(grams, confidence);
    return { grams: massG, metres: enoughAt(metres, confidence), balls: massG / ballG };
  };
  const toBuy = plan.placed.toBuy.find((each) => each.yarnColourId === yarnColourId);
  const lots = input.shelf.filter((lot) => lot.yarnColourId === yarnColourId);
  const onWayMg = lots.filter(({ id }) => isOnWayLot(id)).reduce((sum, lot) => sum + lot.freeMg, 0);
  const here = lots
    .filter(({ id }) => !isOnWayLot(id))
    .map(({ id, freeMg }) => {
      const ofLot = ({ lotId }: { readonly lotId: number }) => lotId === id;
      const heldMg = sumMg(rows.reservations.filter(ofLot));
      // No more of what is put aside is on the shelf than there is of the lot.
      return { heldMg, shelfMg: freeMg + Math.min(heldMg, sumMg(rows.balls.filter(ofLot))) };
    });
  const heldMg = here.reduce((sum, lot) => sum + lot.heldMg, 0);
  return {
    colour,
    likely: amountAt(0.5),
    safe: amountAt(settings.confidence),
    sdG: sdOf(grams),
    shelfG: here.reduce((sum, lot) => sum + lot.shelfMg, 0) / 1000,
    heldG: heldMg / 1000,
    onWayG: onWayMg / 1000,
    toBuyLikelyG: (toBuy?.likely.needMg ?? 0) / 1000,
    toBuySafeG: (toBuy?.safe.needMg ?? 0) / 1000,
    writtenDownG: toBuy ? writtenDownG(yarnColourId, workshopPlan) : 0,
    nearMiss: toBuy ? nearMissOf(yarnColourId, left, input.shelf) : null,
  };
}

/** What was written down of a colour for begun pairs that wait for it; 0 where it is not half a gram more than is likely. */
export function writtenDownG(yarnColourId: number, { plan }: WorkshopPlan): number {
  let settledG = 0;
  let likelyG = 0;
  plan.wanted.pairs.forEach((pair, index) => {
    const settledMg = pair.started?.waitsMg?.get(yarnColourId);
    if (settledMg === undefined) return;
    const yarn = plan.handwork.yarnOf(pair.kind, plan.weeks[index]?.knitterId ?? null);
    settledG += settledMg / 1000;
    likelyG += yarn.find((each) => each.yarnColourId === yarnColourId)?.grams ?? 0;
  });
  return settledG - likelyG > 0.5 ? settledG : 0;
}

/**
 * What the list that the plan counts with needs more than is enough for all its pairs together, so that each of them finds
 * enough in its lot, g; 0 with the likely list, whose amounts add up.
 */
export function moreForLotsG({ plan, settings }: WorkshopPlan): number {
  if (plan.lists.chosenName === 'likely') return 0;
  return plan.placed.toBuy.reduce((sum, { safe, grams }) => {
    return sum + Math.max(0, safe.needMg / 1000 - enoughAt(grams, settings.confidence));
  }, 0);
}

/** Grams of each colour that a list buys. */
function grossOf(list: PurchaseList): ReadonlyMap<number, number> {
  const gross = new Map<number, number>();
  for (const { yarnColourId, grossMg } of list.baskets.flatMap((basket) => basket.lines)) {
    gross.set(yarnColourId, (gross.get(yarnColourId) ?? 0) + grossMg / 1000);
  }
  return gross;
}

/** The last good day for each colour still to buy, as the weeks are laid out. */
export function lastGoodDays({ plan, input }: WorkshopPlan): ReadonlyMap<number, Day> {
  const latest = neededBy(plan.weeks, dueDays(plan.wanted.pairs), input.knitters, scheduleOptionsOf(input));
  return plan.placed.neededByDay(latest);
}

// What was read out of a plan holds as long as the plan does.
const remembered = new WeakMap<WorkshopPlan, Buying>();

/** What to buy, where and when, out of the plan: everything the page *Yarn to buy* shows. */
export function readBuying(workshopPlan: WorkshopPlan): Buying {
  const known = remembered.get(workshopPlan);
  if (known) return known;
  const buying = gatherBuying(workshopPlan);
  remembered.set(workshopPlan, buying);
  return buying;
}

function gatherBuying(workshopPlan: WorkshopPlan): Buying {
  const { plan, rows, input, settings, today } = workshopPlan;
  const colours = coloursOf(rows);
  const ordered = rows.purchases.filter(({ state }) => state === 'ordered');
  const shopById = new Map(rows.suppliers.map((shop) => [shop.id, shop]));
  const offerById = new Map(rows.offers.map((offer) => [offer.id, offer]));
  const open = leftOf(workshopPlan);
  const needs = plan.needs.map((amount) => needOf(amount, workshopPlan, colours.get(amount.yarnColourId)!, open));
  const needByColour = new Map(needs.map((need) => [need.colour.id, need]));
  const { likely, safe, chosen, cheaperButLate } = plan.lists;
  const needsFor = (name: ListView['name']) => needsOf(plan.placed.toBuy, name);
  const forSafety = onlyForSafety({ list: safe, needs: needsFor('safe') }, { list: likely, needs: needsFor('likely') });
  const supplierById = new Map(input.suppliers.map((supplier) => [supplier.id, supplier]));
  const inputOffers = new Map(input.offers.map((offer) => [offer.id, offer]));
  const lastDay = lastGoodDays(workshopPlan);

  function basketView(basket: Basket, sparePacksOf: ReadonlyMap<number, number>): ListBasket {
    const supplier = supplierById.get(basket.supplierId)!;
    const spareOf = ({ offerId, packs, grossMg }: PurchaseLine): ListLine['spare'] => {
      const spare = sparePacksOf.get(offerId);
      if (spare === undefined) return null;
      const reason = spareReason(basket, offerId, sparePacksOf, inputOffers, supplier);
      return { grams: (spare * grossMg) / packs / 1000, reason };
    };
    const shop = shopById.get(basket.supplierId)!;
    const lastDays = basket.lines.flatMap(({ yarnColourId }) => lastDay.get(yarnColourId) ?? []).sort();
    const needed = lastDays[0];
    return {
      shop,
      lines: basket.lines.map((line) => ({
        offer: offerById.get(line.offerId)!,
        colour: colours.get(line.yarnColourId)!,
        packs: line.packs,
        goodsCents: line.goodsCents,
        forSafetyG: 0,
        spare: spareOf(line),
      })),
      goodsCents: basket.goodsCents,
      offCents: basket.offCents,
      shippingCents: basket.shippingCents,
      arrivesDay: addDays(today, shop.deliveryDays),
      orderByDay: needed === undefined ? null : addDays(needed, -(shop.deliveryDays + settings.orderByBufferDays)),
    };
  }

  function listView(list: PurchaseList, name: ListView['name']): ListView {
    const extra = new Map(name === 'likely' ? [] : forSafety);
    const spare = sparePacks(list, needsFor(name));
    // The extra of a colour stands at its last lines, as far as they reach.
    const baskets = list.baskets.map((basket) => basketView(basket, spare));
    const marked = baskets.map((basket) => ({
      ...basket,
      lines: basket.lines.map((line) => {
        const wantedMg = extra.get(line.colour.id) ?? 0;
        const lineMg = line.packs * line.offer.ballsPerPack * line.offer.ballMg - (line.spare?.grams ?? 0) * 1000;
        const forSafetyMg = Math.min(wantedMg, lineMg);
        extra.set(line.colour.id, wantedMg - forSafetyMg);
        return { ...line, forSafetyG: forSafetyMg / 1000 };
      }),
    }));
    return {
      name,
      isChosen: plan.lists.chosenName === name,
      baskets: marked,
      totalCents: list.totalCents,
      savingCents: list.isProvenCheapest ? 0 : list.totalCents - list.boundCents,
    };
  }

  const sold = new Set(rows.offers.map((offer) => offer.yarnColourId));
  const single = bestSingleShop(needsOf(plan.placed.toBuy, plan.lists.chosenName), input.suppliers, input.offers);
  const usesOneShop = chosen.baskets.length < 2;
  const left = [...grossOf(chosen)].map(([id, boughtG]) => {
    const usedG = Math.min(boughtG, needByColour.get(id)?.toBuyLikelyG ?? 0);
    return { colour: colours.get(id)!, boughtG, usedG };
  });
  return {
    today,
    moreForLotsG: moreForLotsG(workshopPlan),
    needs,
    lists: [listView(likely, 'likely'), listView(safe, 'safe')],
    hasShops: rows.suppliers.length > 0,
    short: shortLots(rows),
    onWay: {
      parcels: ordered.length,
      overdue: ordered.filter(({ expectedDay }) => expectedDay < today).length,
    },
    missing: chosen.uncovered.map(({ yarnColourId, needMg }) => {
      const colour = colours.get(yarnColourId)!;
      return {
        colour,
        needG: needMg / 1000,
        balls: Math.ceil(needMg / colour.yarn.ballMg),
        isSold: sold.has(yarnColourId),
      };
    }),
    left,
    oneShop:
      single === null || usesOneShop || single.uncovered.length > 0
        ? null
        : {
            shop: shopById.get(single.baskets[0]!.supplierId)!,
            totalCents: single.totalCents,
            moreCents: single.totalCents - chosen.totalCents,
          },
    cheaperButLate:
      cheaperButLate === null
        ? null
        : {
            totalCents: cheaperButLate.totalCents,
            savesCents: safe.totalCents - cheaperButLate.totalCents,
            shops: cheaperButLate.baskets.map((basket) => shopById.get(basket.supplierId)!.name),
          },
  };
}
