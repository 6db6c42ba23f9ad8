import type { Offer, Supplier } from '#core/buying/offers.ts';
import type { BuyingAnswer, BuyingAnswers } from '#core/buying/problem.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

/** Shops as the buying problem sees them: with what they take off a whole basket. */
export function suppliersFrom({ suppliers, supplierBreaks }: WorkshopRows): readonly Supplier[] {
  if (supplierBreaks.length === 0) return suppliers;
  const breaks = groupBy(supplierBreaks, (each) => each.supplierId);
  return suppliers.map((supplier) => {
    const own = breaks.get(supplier.id);
    return own ? { ...supplier, breaks: own.map(({ fromCents, offRatio }) => ({ fromCents, offRatio })) } : supplier;
  });
}

/** Packs on sale, with their lower prices from so many on. */
export function offersFrom({ offers, offerBreaks }: WorkshopRows): readonly Offer[] {
  if (offerBreaks.length === 0) return offers;
  const breaks = groupBy(offerBreaks, (each) => each.offerId);
  return offers.map((offer) => {
    const own = breaks.get(offer.id);
    return own ? { ...offer, breaks: own.map(({ fromPacks, priceCents }) => ({ fromPacks, priceCents })) } : offer;
  });
}

/** How an answer is kept: the packs of its list, offer by offer. */
export function answerJson({ packs }: BuyingAnswer): string {
  return JSON.stringify({ packs });
}

function packsFrom(json: string): BuyingAnswer['packs'] | null {
  const { packs } = JSON.parse(json) as { packs?: unknown };
  if (!Array.isArray(packs)) return null;
  const isPack = (each: unknown): each is BuyingAnswer['packs'][number] =>
    typeof each === 'object' && each !== null && 'offerId' in each && 'packs' in each;
  return packs.every(isPack) ? packs : null;
}

/** What searches for a cheaper list found so far. Whether an answer still fits is for the plan to check. */
export function answersFrom({ answers }: WorkshopRows): BuyingAnswers {
  return new Map(
    answers.flatMap(({ problemHash, answerJson: json, bound }) => {
      const packs = packsFrom(json);
      return packs ? [[problemHash, { packs, boundCents: bound ?? 0 }]] : [];
    }),
  );
}
