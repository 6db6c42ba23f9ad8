import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { netOf } from '#core/pricing/price.ts';
import { type PlacedPair, pairsShort, shareSale, shopAccount } from '#core/pricing/shop-account.ts';
import { outletWith } from '#tests/core/pricing/outlets.ts';

const anyPair: fc.Arbitrary<PlacedPair> = fc.record({
  priceCents: fc.integer({ min: 0, max: 20_000 }),
  shareRatio: fc.integer({ min: 0, max: 1000 }).map((thousandths) => thousandths / 1000),
  state: fc.constantFrom('standing' as const, 'sold' as const, 'back' as const),
});

describe('shareSale', () => {
  // By hand: 35 % of 44.50 is 15.575, half a cent goes up to the shop: 15.58 and 28.92.
  it('rounds the share of the shop half up, and the rest is ours', () => {
    expect(shareSale(4450, 0.35)).toEqual({ shopCents: 1558, oursCents: 2892 });
  });

  it('adds up to the price to the penny', () => {
    fc.assert(
      fc.property(anyPair, ({ priceCents, shareRatio }) => {
        const { shopCents, oursCents } = shareSale(priceCents, shareRatio);
        expect(shopCents + oursCents).toBe(priceCents);
        expect(Math.min(shopCents, oursCents)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('is what the price pages count, where nothing else is taken', () => {
    fc.assert(
      fc.property(anyPair, ({ priceCents, shareRatio }) => {
        const shop = outletWith({ kind: 'shop', terms: 'sale or return', shopShareRatio: shareRatio });
        expect(netOf(priceCents, shop).netCents).toBe(shareSale(priceCents, shareRatio).oursCents);
      }),
    );
  });
});

describe('shopAccount', () => {
  const pair = (state: PlacedPair['state'], priceCents = 4500): PlacedPair =>
    Object.freeze({ priceCents, shareRatio: 0.35, state });

  // By hand: 45.00 and 40.00 sold; 35 % are 15.75 and 14.00, ours 29.25 and 26.00, together 55.25; 30.00 paid.
  it('owes what was sold less its share, less what was paid', () => {
    const account = shopAccount([pair('sold'), pair('sold', 4000), pair('standing'), pair('back')], [1000, 2000]);
    expect(account).toEqual({
      standing: 1,
      sold: 2,
      back: 1,
      soldCents: 8500,
      shopCents: 2975,
      oursCents: 5525,
      paidCents: 3000,
      owedCents: 2525,
      standingOursCents: 2925,
    });
  });

  it('owes nothing for what stands there or came back', () => {
    expect(shopAccount([pair('standing'), pair('back')], []).owedCents).toBe(0);
  });

  it('adds up: pairs by state, both shares to what was paid by buyers, owed and paid to ours', () => {
    fc.assert(
      fc.property(fc.array(anyPair), fc.array(fc.integer({ min: 1, max: 9000 })), (pairs, payments) => {
        const account = shopAccount(pairs, payments);
        expect(account.standing + account.sold + account.back).toBe(pairs.length);
        expect(account.shopCents + account.oursCents).toBe(account.soldCents);
        expect(account.owedCents + account.paidCents).toBe(account.oursCents);
      }),
    );
  });
});

describe('pairsShort', () => {
  it('is what lacks to the least, and nothing from there on', () => {
    expect([0, 4, 6, 7].map((pairs) => pairsShort(pairs, 6))).toEqual([6, 2, 0, 0]);
    expect(pairsShort(1, null)).toBe(0);
  });
});
