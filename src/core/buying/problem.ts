import { checkList } from '#core/buying/check-list.ts';
import { listOfPacks } from '#core/buying/list-of-packs.ts';
import type { ColourNeed, Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import type { BuyOptions } from '#core/buying/shops.ts';
import { hashText } from '#core/shared/hash.ts';

/** What is to be bought, and from whom it may be. */
export type BuyingProblem = {
  readonly needs: readonly ColourNeed[];
  readonly suppliers: readonly Supplier[];
  readonly offers: readonly Offer[];
  readonly options: BuyOptions;
};

/** What a search found: packs, and what no list can undercut. */
export type BuyingAnswer = {
  readonly packs: readonly { readonly offerId: number; readonly packs: number }[];
  readonly boundCents: number;
};

/** What searches found, by the key of their problem. */
export type BuyingAnswers = ReadonlyMap<string, BuyingAnswer>;

/**
 * The part of a problem that a list for these colours can depend on: colours covered, what is sold of them, the shops
 * that sell it; sorted, so that the order of the input does not matter.
 *
 * @param uncovered colours left out, because nobody can supply them
 */
export function narrowProblem(problem: BuyingProblem, uncovered: readonly ColourNeed[]): BuyingProblem {
  const left = new Set(uncovered.map((need) => need.yarnColourId));
  const needs = problem.needs
    .filter((need) => need.needMg > 0 && !left.has(need.yarnColourId))
    .sort((a, b) => a.yarnColourId - b.yarnColourId);
  const wanted = new Set(needs.map((need) => need.yarnColourId));
  const known = new Set(problem.suppliers.map((supplier) => supplier.id));
  const offers = problem.offers
    .filter((offer) => wanted.has(offer.yarnColourId) && known.has(offer.supplierId) && offer.stockPacks !== 0)
    .sort((a, b) => a.id - b.id);
  const sellers = new Set(offers.map((offer) => offer.supplierId));
  const suppliers = problem.suppliers.filter((supplier) => sellers.has(supplier.id)).sort((a, b) => a.id - b.id);
  return { needs, suppliers, offers, options: { oneSupplierPerColour: problem.options.oneSupplierPerColour } };
}

/**
 * The name of a narrowed problem: equal where every number that a list's cost depends on is equal. Names of shops and
 * days of delivery play no part.
 *
 * @param problem from `narrowProblem`
 */
export function problemKey({ needs, suppliers, offers, options }: BuyingProblem): string {
  return hashText(
    JSON.stringify([
      'buying 1',
      options.oneSupplierPerColour,
      needs.map((need) => [need.yarnColourId, need.needMg]),
      suppliers.map((each) => [
        each.id,
        each.shippingCents,
        each.freeFromCents,
        each.minimumCents,
        (each.breaks ?? []).map((step) => [step.fromCents, step.offRatio]),
      ]),
      offers.map((each) => [
        each.id,
        each.supplierId,
        each.yarnColourId,
        each.ballMg,
        each.ballsPerPack,
        each.priceCents,
        each.stockPacks,
        (each.breaks ?? []).map((step) => [step.fromPacks, step.priceCents]),
      ]),
    ]),
  );
}

/**
 * A list from the packs that a search found, recounted in whole minor units and checked.
 *
 * @param problem from `narrowProblem`
 * @param boundCents what no list can undercut
 * @returns null when these packs are no list for this problem
 */
export function listFromAnswer(
  problem: BuyingProblem,
  packs: BuyingAnswer['packs'],
  boundCents: number,
): PurchaseList | null {
  const offers = new Map(problem.offers.map((offer) => [offer.id, offer]));
  const counts = packs.flatMap(({ offerId, packs: count }) => {
    const offer = offers.get(offerId);
    return offer ? [{ offer, packs: count }] : [];
  });
  if (counts.length !== packs.length) return null;
  const list = listOfPacks(counts, problem.suppliers, [], boundCents);
  const { needs, suppliers, offers: sold, options } = problem;
  return checkList(list, needs, suppliers, sold, options).length === 0 ? list : null;
}

/**
 * Our own list, or a stored one where that still checks and is cheaper; the greater of the two bounds.
 *
 * @param own what `buyYarn` gave
 * @param problem of the colours that `own` covers
 * @param answers an empty map costs nothing
 */
export function withAnswer(own: PurchaseList, problem: BuyingProblem, answers: BuyingAnswers): PurchaseList {
  if (own.isProvenCheapest || answers.size === 0) return own;
  const answer = answers.get(problemKey(problem));
  if (!answer) return own;
  const found = listFromAnswer(problem, answer.packs, answer.boundCents);
  const best = found && found.totalCents < own.totalCents ? found : own;
  const boundCents = Math.min(best.totalCents, Math.max(own.boundCents, found ? answer.boundCents : 0));
  return { ...best, boundCents, isProvenCheapest: boundCents === best.totalCents, uncovered: own.uncovered };
}

/**
 * A stored list that is proven cheapest and still checks, so that no search is needed; null when there is none.
 *
 * @param problem of the colours that can be covered
 * @param uncovered the colours that cannot
 */
export function provenAnswer(
  problem: BuyingProblem,
  uncovered: readonly ColourNeed[],
  answers: BuyingAnswers,
): PurchaseList | null {
  if (answers.size === 0) return null;
  const answer = answers.get(problemKey(problem));
  const found = answer ? listFromAnswer(problem, answer.packs, answer.boundCents) : null;
  return found?.isProvenCheapest ? { ...found, uncovered } : null;
}
