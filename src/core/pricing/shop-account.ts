import { shareHalfUp } from '#core/pricing/share.ts';
import { requireWhole } from '#core/shared/check.ts';
import { sumCents } from '#core/shared/money.ts';

/** What a shop keeps of a sale and what is ours. */
export type SaleShares = { readonly shopCents: number; readonly oursCents: number };

/**
 * A sale on sale or return, shared between the shop and us: its share rounded half up, the rest is ours.
 *
 * @param priceCents the shop's price, whole minor units from 0
 * @param shareRatio what the shop keeps, 0 to 1
 * @throws {RangeError} when the price is not whole or the share is out of range
 * Source: consignment, the shop keeps a share of what it sells and owes the rest (common practice, no source)
 * @example shareSale(4450, 0.35) // => { shopCents: 1558, oursCents: 2892 }
 * @example shareSale(4450, 0) // => { shopCents: 0, oursCents: 4450 }
 */
export function shareSale(priceCents: number, shareRatio: number): SaleShares {
  requireWhole('shareSale: priceCents', priceCents);
  const shopCents = Math.min(priceCents, shareHalfUp(priceCents, shareRatio));
  return { shopCents, oursCents: priceCents - shopCents };
}

/** A pair in a shop, at the price and the share that were agreed when it was placed. */
export type PlacedPair = {
  readonly priceCents: number;
  readonly shareRatio: number;
  readonly state: 'standing' | 'sold' | 'back';
};

export type ShopAccount = {
  readonly standing: number;
  readonly sold: number;
  readonly back: number;
  /** What buyers paid for what was sold; shop's share and ours add up to it. */
  readonly soldCents: number;
  readonly shopCents: number;
  readonly oursCents: number;
  readonly paidCents: number;
  /** Ours less what the shop paid; negative when it paid ahead. */
  readonly owedCents: number;
  /** Ours of what still stands there, should all of it sell. */
  readonly standingOursCents: number;
};

/**
 * Where we stand with a shop: what stands there, what was sold, whose share is how much, and what the shop owes. Each
 * sale is rounded for itself, so that the shop's own list adds up to the same.
 *
 * @param pairs everything that was ever placed there
 * @param paymentsCents what the shop paid, whole minor units
 * @throws {RangeError} when an amount is not whole
 * @example shopAccount([{ priceCents: 4500, shareRatio: 0.35, state: 'sold' }, { priceCents: 4500, shareRatio: 0.35, state: 'standing' }], [2000]).owedCents // => 925
 * @example shopAccount([], [500]).owedCents // => -500, paid ahead
 */
export function shopAccount(pairs: readonly PlacedPair[], paymentsCents: readonly number[]): ShopAccount {
  const sold = pairs.filter(({ state }) => state === 'sold');
  const standing = pairs.filter(({ state }) => state === 'standing');
  const shares = sold.map(({ priceCents, shareRatio }) => shareSale(priceCents, shareRatio));
  const oursCents = sumCents(shares.map((share) => share.oursCents));
  const paidCents = sumCents(paymentsCents);
  return {
    standing: standing.length,
    sold: sold.length,
    back: pairs.length - sold.length - standing.length,
    soldCents: sumCents(sold.map(({ priceCents }) => priceCents)),
    shopCents: sumCents(shares.map((share) => share.shopCents)),
    oursCents,
    paidCents,
    owedCents: oursCents - paidCents,
    standingOursCents: sumCents(
      standing.map(({ priceCents, shareRatio }) => shareSale(priceCents, shareRatio).oursCents),
    ),
  };
}

/**
 * How many pairs a wholesale order lacks to the shop's least; 0 when there are enough, or no least was agreed.
 *
 * @param pairs of the order, whole, at least 0
 * @param leastPairs agreed with the shop; null for none
 * @example pairsShort(4, 6) // => 2
 * @example pairsShort(6, 6) // => 0
 * @example pairsShort(1, null) // => 0
 */
export function pairsShort(pairs: number, leastPairs: number | null): number {
  requireWhole('pairsShort: pairs', pairs);
  return Math.max(0, (leastPairs ?? 0) - pairs);
}
