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
      // Another number when our own lists become better, so that what was found from the old ones is forgotten.
      'buying 2',
      options.oneSupplierPerColour,
      // From one shop a colour is one lot: then the largest pair plays no part.
      needs.map((need) => [
        need.yarnColourId,
        need.needMg,
        ...(options.oneSupplierPerColour ? [] : [need.largestPairMg ?? 0]),
      ]),
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
 * The lists of a plan as answers to their own problems, for a plan that asks the same.
 *
 * @param lists the likely and the safe list with their problems
 */
export function answersOf(lists: {
  readonly likely: PurchaseList;
  readonly safe: PurchaseList;
  readonly problems: { readonly likely: BuyingProblem; readonly safe: BuyingProblem };
}): BuyingAnswers {
  return new Map(
    (['likely', 'safe'] as const).map((name) => {
      const lines = lists[name].baskets.flatMap((basket) => basket.lines);
      const packs = lines.map(({ offerId, packs: count }) => ({ offerId, packs: count }));
      return [problemKey(lists.problems[name]), { packs, boundCents: lists[name].boundCents }] as const;
    }),
  );
}

/**
 * The list that a search found for a problem, recounted and checked. A search begins at our own list, so what it found
 * costs no more, and our own need not be looked for again.
 *
 * @param problem of the colours that can be covered
 * @param uncovered the colours that cannot
 * @param answers an empty map costs nothing
 * @returns null when there is none, or when it is no list for this problem
 */
export function keptList(
  problem: BuyingProblem,
  uncovered: readonly ColourNeed[],
  answers: BuyingAnswers,
): PurchaseList | null {
  if (answers.size === 0) return null;
  const answer = answers.get(problemKey(problem));
  const found = answer ? listFromAnswer(problem, answer.packs, answer.boundCents) : null;
  return found && { ...found, uncovered };
}
