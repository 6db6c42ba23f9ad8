import { describe, expect, it } from 'vitest';
import { checkList } from '#core/buying/check-list.ts';
import type { Offer, PurchaseList, Supplier } from '#core/buying/offers.ts';
import { buyLikelyAndSafe, needsOf, type ShoppingOptions } from '#core/buying/shopping-lists.ts';
import type { Day } from '#core/shared/calendar.ts';
import { offerOf } from '#tests/support/plan-input.ts';

const shop = (id: number, deliveryDays: number, over: Partial<Supplier> = {}): Supplier => ({
  id,
  name: `Shop ${id}`,
  shippingCents: 300,
  freeFromCents: null,
  minimumCents: 0,
  deliveryDays,
  rank: id,
  ...over,
});
/** One pair of so many grams with an error of 20: 9 times in 10 they are 1.2816 x 20 = 25.632 g more at most. */
const amount = (yarnColourId: number, meanG: number) =>
  Object.freeze({ yarnColourId, likely: onePair(meanG * 1000), safe: onePair(meanG * 1000 + 25_632) });
const onePair = (mg: number) => ({ needMg: mg, largestPairMg: mg });
const options: ShoppingOptions = Object.freeze({
  today: '2026-11-25',
  buyAt: 'safe',
  oneSupplierPerColour: true,
});
const quick = shop(1, 2);
const slow = shop(2, 10);
/** Balls of 100 g of colour 1: 9.00 in the quick shop, 6.00 in the slow one. */
const dear = offerOf(1, { supplierId: 1, priceCents: 900 });
const cheap = offerOf(2, { supplierId: 2, priceCents: 600 });

function lists(
  amounts: readonly ReturnType<typeof amount>[],
  offers: readonly Offer[],
  neededBy: Readonly<Record<number, Day>> = {},
  over: Partial<ShoppingOptions> = {},
) {
  const latest = new Map(Object.entries(neededBy).map(([colour, day]) => [Number(colour), day]));
  const result = buyLikelyAndSafe(amounts, [quick, slow], offers, latest, { ...options, ...over });
  for (const name of ['likely', 'safe'] as const)
    expect(checkList(result[name], needsOf(amounts, name), [quick, slow], offers, { ...options, ...over })).toEqual([]);
  return result;
}
const shopsOf = (list: PurchaseList) => list.baskets.map((basket) => basket.supplierId);

describe('needsOf', () => {
  it('what the list needs, nothing for nothing', () => {
    expect(needsOf([amount(1, 90)], 'safe')).toEqual([{ yarnColourId: 1, needMg: 115_632, largestPairMg: 115_632 }]);
    expect(needsOf([amount(1, 90)], 'likely')).toEqual([{ yarnColourId: 1, needMg: 90_000, largestPairMg: 90_000 }]);
    expect(needsOf([amount(1, 0)], 'likely')).toEqual([]);
    expect(needsOf([], 'safe')).toEqual([]);
  });
});

describe('the likely and the safe list', () => {
  it('a ball or two: 90 g are likely, 115.6 g are safe', () => {
    const { likely, safe, chosen, chosenName } = lists([amount(1, 90)], [dear]);
    expect([likely.totalCents, safe.totalCents]).toEqual([900 + 300, 1800 + 300]);
    expect([chosen, chosenName]).toEqual([safe, 'safe']);
    const thrifty = lists([amount(1, 90)], [dear], {}, { buyAt: 'likely' });
    expect([thrifty.chosen, thrifty.chosenName]).toEqual([thrifty.likely, 'likely']);
  });

  it('nothing to buy: empty lists, no arrivals', () => {
    const none = lists([], [dear, cheap]);
    expect(none.safe.baskets).toEqual([]);
    expect(none.arrivals.size).toBe(0);
    expect(none.cheaperButLate).toBeNull();
  });

  it('says on which day each colour of the chosen list is here', () => {
    const two = [dear, cheap, offerOf(3, { supplierId: 1, yarnColourId: 2 })];
    const { arrivals } = lists([amount(1, 90), amount(2, 90)], two);
    // Colour 2 is had in shop 1 only; colour 1 costs 2 x 9.00 there, or 2 x 6.00 and a second postage of 3.00 in shop 2.
    expect(Object.fromEntries(arrivals)).toEqual({ 1: '2026-12-05', 2: '2026-11-27' });
  });
});

describe('what comes in time', () => {
  it('is bought where it does, and the cheaper list that is late is told', () => {
    const hurry = lists([amount(1, 90)], [dear, cheap], { 1: '2026-11-30' });
    expect(shopsOf(hurry.safe)).toEqual([1]);
    expect(hurry.cheaperButLate).toMatchObject({ totalCents: 2 * 600 + 300 });
    expect(Object.fromEntries(hurry.arrivals)).toEqual({ 1: '2026-11-27' });
    const leisure = lists([amount(1, 90)], [dear, cheap], { 1: '2026-12-05' });
    expect(shopsOf(leisure.safe)).toEqual([2]);
    expect(leisure.cheaperButLate).toBeNull();
    expect(shopsOf(lists([amount(1, 90)], [dear, cheap]).safe)).toEqual([2]);
  });

  it('on its last day is in time', () => {
    expect(shopsOf(lists([amount(1, 90)], [dear, cheap], { 1: '2026-12-05' }).safe)).toEqual([2]);
    expect(shopsOf(lists([amount(1, 90)], [dear, cheap], { 1: '2026-12-04' }).safe)).toEqual([1]);
  });

  it('where nothing comes in time, what comes soonest', () => {
    const late = lists([amount(1, 90)], [dear, cheap], { 1: '2026-11-26' });
    expect(shopsOf(late.safe)).toEqual([1]);
    expect(late.cheaperButLate).toMatchObject({ totalCents: 1500 });
    expect(shopsOf(lists([amount(1, 90)], [cheap], { 1: '2026-11-20' }).safe)).toEqual([2]);
  });

  it('where the quick shop has too little, the slow one, not nothing at all', () => {
    const few = offerOf(1, { supplierId: 1, priceCents: 500, stockPacks: 1 });
    const short = lists([amount(1, 90)], [few, cheap], { 1: '2026-11-30' });
    expect(short.safe.uncovered).toEqual([]);
    expect(shopsOf(short.safe)).toEqual([2]);
    expect(Object.fromEntries(short.arrivals)).toEqual({ 1: '2026-12-05' });
    // One ball is enough for what is likely, and it is there in time.
    expect(shopsOf(short.likely)).toEqual([1]);
    // The quick shop's ball and one more would be two lots, and no lot would hold the pair.
    const both = lists([amount(1, 90)], [few, cheap], { 1: '2026-11-30' }, { oneSupplierPerColour: false });
    expect(both.safe.uncovered).toEqual([]);
    expect(shopsOf(both.safe)).toEqual([2]);
    // Sold out is as good as not sold.
    const sold = offerOf(1, { supplierId: 1, stockPacks: 0 });
    expect(shopsOf(lists([amount(1, 90)], [sold, cheap], { 1: '2026-11-30' }).safe)).toEqual([2]);
  });

  it('each colour has its own day', () => {
    const offers = [
      dear,
      cheap,
      offerOf(3, { supplierId: 1, yarnColourId: 2, priceCents: 2000 }),
      offerOf(4, { supplierId: 2, yarnColourId: 2 }),
    ];
    const { safe } = lists([amount(1, 90), amount(2, 90)], offers, { 1: '2026-11-30', 2: '2026-12-24' });
    expect(safe.baskets.map((basket) => [basket.supplierId, basket.lines.map((line) => line.yarnColourId)])).toEqual([
      [1, [1]],
      [2, [2]],
    ]);
  });
});

describe('colours that nobody sells', () => {
  it('are named with what is needed of them, the others are bought', () => {
    const { safe, likely } = lists([amount(1, 90), amount(7, 50)], [cheap], { 7: '2026-11-30' });
    expect(safe.uncovered).toEqual([{ yarnColourId: 7, needMg: 75_632, largestPairMg: 75_632 }]);
    expect(likely.uncovered).toEqual([{ yarnColourId: 7, needMg: 50_000, largestPairMg: 50_000 }]);
    expect(shopsOf(safe)).toEqual([2]);
  });

  it('without any shop all are', () => {
    const none = buyLikelyAndSafe([amount(1, 90)], [], [], new Map([[1, '2026-11-30']]), options);
    expect(none.safe).toMatchObject({ baskets: [], totalCents: 0, uncovered: [{ yarnColourId: 1 }] });
    expect(none.cheaperButLate).toBeNull();
  });
});
