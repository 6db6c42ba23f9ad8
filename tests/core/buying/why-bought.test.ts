import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import type { ColourNeed, Offer, Supplier } from '#core/buying/offers.ts';
import { onlyForSafety, sparePacks, spareReason } from '#core/buying/why-bought.ts';
import { pack, supplier } from '#tests/support/purchase-cases.ts';

const options = { oneSupplierPerColour: true };
const need = (grams: number, yarnColourId = 1): ColourNeed => ({ yarnColourId, needMg: grams * 1000 });

function spareOf(needs: readonly ColourNeed[], shop: Supplier, offers: readonly Offer[]) {
  const list = buyYarn(needs, [shop], offers, options);
  const spare = sparePacks(list, needs);
  const byId = new Map(offers.map((offer) => [offer.id, offer]));
  const [basket] = list.baskets;
  return [...spare].map(([id, packs]) => [id, packs, spareReason(basket!, id, spare, byId, shop)]);
}

describe('spare packs', () => {
  it('are none where the last pack is needed, however much of it is left over', () => {
    expect(spareOf([need(101)], supplier(1, 300), [pack(1, 1, 1, 100, 700)])).toEqual([]);
    // One pack of 200 g for 13.00 against 100 and 50 g for 7.00 and 4.00: 20 g more than is needed, and none to leave out.
    const sizes = [pack(1, 1, 1, 50, 400), pack(2, 1, 1, 100, 700), pack(3, 1, 1, 200, 1000)];
    expect(spareOf([need(180)], supplier(1, 0), sizes)).toEqual([]);
  });

  it('reach the lower price of so many packs', () => {
    // Five at 6.00 are 30.00, four at 8.00 are 32.00.
    const offer = { ...pack(1, 1, 1, 100, 800), breaks: [{ fromPacks: 5, priceCents: 600 }] };
    expect(spareOf([need(350)], supplier(1, 300), [offer])).toEqual([[1, 1, 'price']]);
  });

  it('reach free postage, the share off a basket, or the least order of a shop', () => {
    const balls = [pack(1, 1, 1, 100, 400)];
    // Two balls are 8.00 and 5.00 of postage; three are 12.00 without postage.
    expect(spareOf([need(150)], supplier(1, 500, { freeFromCents: 1200 }), balls)).toEqual([[1, 1, 'postage']]);
    // Three at half price are 6.00, two at their own are 8.00.
    const half = { breaks: [{ fromCents: 1200, offRatio: 0.5 }] };
    expect(spareOf([need(150)], supplier(1, 0, half), balls)).toEqual([[1, 1, 'price']]);
    expect(spareOf([need(150)], supplier(1, 0, { minimumCents: 1100 }), balls)).toEqual([[1, 1, 'minimum']]);
  });
});

describe('what is bought only to be safe', () => {
  const offer = { ...pack(1, 1, 1, 100, 800), breaks: [{ fromPacks: 5, priceCents: 600 }] };
  const shop = supplier(1, 0);
  const listFor = (grams: number) => {
    const needs = [need(grams)];
    return { needs, list: buyYarn(needs, [shop], [offer], options) };
  };
  it('leaves out packs that are bought for their price', () => {
    // Likely 280 g: three packs. Safe 310 g: four would do, five cost less; one of them is to be safe.
    expect(onlyForSafety(listFor(310), listFor(280))).toEqual(new Map([[1, 100_000]]));
    // Likely 310 and safe 390 g: both take five, of which four are needed.
    expect(onlyForSafety(listFor(390), listFor(310))).toEqual(new Map());
    expect(onlyForSafety(listFor(450), listFor(310))).toEqual(new Map([[1, 100_000]]));
  });

  it('is all of a colour that the likely list does without', () => {
    expect(onlyForSafety(listFor(50), { needs: [], list: listFor(0).list })).toEqual(new Map([[1, 100_000]]));
  });
});
