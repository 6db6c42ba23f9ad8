import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestSingleShop, buyYarn } from '#core/buying/buy-yarn.ts';
import { checkList } from '#core/buying/check-list.ts';
import type { PurchaseList, Supplier } from '#core/buying/offers.ts';
import { leastByEnumeration } from '#tests/support/enumerate-purchase.ts';
import { leastPurchaseCents } from '#tests/support/milp-purchase.ts';
import { pack, randomPurchase, supplier } from '#tests/support/purchase-cases.ts';

const oneShop = { oneSupplierPerColour: true };
const anyShops = { oneSupplierPerColour: false };

// Three colours, two suppliers; optima by full enumeration, the base case also by two MILP solvers.
const needs = Object.freeze([
  { yarnColourId: 1, needMg: 180_000 },
  { yarnColourId: 2, needMg: 90_000 },
  { yarnColourId: 3, needMg: 60_000 },
]);
const offers = Object.freeze([
  pack(1, 1, 1, 50, 420),
  pack(2, 1, 1, 100, 780),
  pack(3, 1, 2, 50, 420),
  pack(4, 1, 3, 50, 300),
  pack(5, 2, 1, 50, 400),
  pack(6, 2, 1, 100, 690),
  pack(7, 2, 2, 50, 400),
  pack(8, 2, 2, 100, 690),
  pack(9, 2, 3, 50, 400),
]);
const shopsUsed = (list: PurchaseList) => list.baskets.map((basket) => basket.supplierId);

describe('buyYarn, three colours and two shops', () => {
  it.each([
    ['goods only, no postage', [supplier(1, 0), supplier(2, 0)], 2670, [1, 2]],
    ['fixed postage', [supplier(1, 250), supplier(2, 395)], 3250, [1]],
    ['free at 2800 from shop 2', [supplier(1, 250), supplier(2, 395, { freeFromCents: 2800 })], 2870, [2]],
    [
      'free at 2900 from shop 2, the basket padded',
      [supplier(1, 250), supplier(2, 395, { freeFromCents: 2900 })],
      2980,
      [2],
    ],
    [
      '15 % off at 2500 from shop 1',
      [supplier(1, 250, { breaks: [{ fromCents: 2500, offRatio: 0.15 }] }), supplier(2, 395)],
      2800,
      [1],
    ],
  ])('%s', (_, suppliers, cents, shops) => {
    for (const options of [oneShop, anyShops]) {
      const list = buyYarn(needs, suppliers, offers, options);
      expect(list.totalCents).toBe(cents);
      expect(shopsUsed(list)).toEqual(shops);
      expect(list).toMatchObject({ isProvenCheapest: true, boundCents: cents, uncovered: [] });
      expect(checkList(list, needs, suppliers, offers, options)).toEqual([]);
    }
  });

  it('fills up to a minimum order where that is cheaper than going elsewhere', () => {
    // All from 1 is 3000 of goods; 3100 is reached for 120 more by 4 x 50 g of colour 1 at 1680 in place of
    // 2 x 100 g at 1560: 3120 + 250. Shop 2 for all: 2870 + 395 padded to its own minimum of 3200 costs more.
    const suppliers = [supplier(1, 250, { minimumCents: 3100 }), supplier(2, 395, { minimumCents: 3200 })];
    const list = buyYarn(needs, suppliers, offers, oneShop);
    expect(list.totalCents).toBe(3370);
    expect(checkList(list, needs, suppliers, offers, oneShop)).toEqual([]);
  });
});

describe('buyYarn with breaks', () => {
  const need = [{ yarnColourId: 1, needMg: 200_000 }];

  it('takes a pack more where that many cost less each', () => {
    // Four packs at 400 are 1600; five at 310 are 1550.
    const cheaperByFive = { ...pack(1, 1, 1, 50, 400), breaks: [{ fromPacks: 5, priceCents: 310 }] };
    const list = buyYarn(need, [supplier(1, 0)], [cheaperByFive], oneShop);
    expect(list).toMatchObject({ totalCents: 1550, isProvenCheapest: true });
    expect(list.baskets[0]!.lines).toMatchObject([{ packs: 5, goodsCents: 1550 }]);
    // With four in stock the lower price is out of reach.
    const few = { ...cheaperByFive, stockPacks: 4 };
    expect(buyYarn(need, [supplier(1, 0)], [few], oneShop).totalCents).toBe(1600);
  });

  it('fills a basket up to a break where that costs less, and rounds what is paid half up', () => {
    // 4 x 401 = 1604, and postage of 100; a fifth pack makes 2005, less 30 % 1403.5, paid 1404 + 100.
    const shop = supplier(1, 100, { breaks: [{ fromCents: 2000, offRatio: 0.3 }] });
    const list = buyYarn(need, [shop], [pack(1, 1, 1, 50, 401)], oneShop);
    expect(list).toMatchObject({ totalCents: 1504, isProvenCheapest: true });
    expect(list.baskets[0]).toMatchObject({ goodsCents: 2005, offCents: 601, shippingCents: 100 });
    expect(checkList(list, need, [shop], [pack(1, 1, 1, 50, 401)], oneShop)).toEqual([]);
  });

  it('counts goods before the share off for the minimum order and for free postage', () => {
    const breaks = [{ fromCents: 1500, offRatio: 0.5 }];
    const shop = supplier(1, 300, { breaks, minimumCents: 1600, freeFromCents: 1600 });
    expect(buyYarn(need, [shop], [pack(1, 1, 1, 50, 400)], oneShop).totalCents).toBe(800);
  });

  it('equals full enumeration on small seasons with limits and breaks, and never proves what is not', () => {
    for (let seed = 300; seed < 315; seed += 1) {
      const made = randomPurchase(seed, {
        colours: 3,
        packs: 2,
        suppliers: 2,
        mostG: 260,
        limits: { free: 0.5, minimum: 0.4, stock: 0.2 },
        breaks: { packs: 0.4, basket: 0.7 },
      });
      for (const options of [oneShop, anyShops]) {
        const list = buyYarn(made.needs, made.suppliers, made.offers, options);
        expect(checkList(list, made.needs, made.suppliers, made.offers, options)).toEqual([]);
        const covered = made.needs.filter((each) => !list.uncovered.includes(each));
        const least = leastByEnumeration({ ...made, needs: covered }, options, list.totalCents);
        expect({ seed, cents: list.totalCents }).toEqual({ seed, cents: least });
        expect(list.boundCents).toBeLessThanOrEqual(least);
      }
    }
  });

  // A unit off what is paid would be told as a saving that is not there, and looked for in vain.
  it('reaches the optimum with its bound, to the minor unit, where shops take shares off, and never passes it', () => {
    let unproven = 0;
    for (let seed = 300; seed < 364; seed += 1) {
      const limits = { free: 0.5, minimum: 0.4, stock: 0.2 };
      const breaks = { packs: 0.4, basket: 0.7 };
      const made = randomPurchase(seed, { colours: 3, packs: 2, suppliers: 2, mostG: 260, limits, breaks });
      const list = buyYarn(made.needs, made.suppliers, made.offers, oneShop);
      const covered = made.needs.filter((each) => !list.uncovered.includes(each));
      const least = leastByEnumeration({ ...made, needs: covered }, oneShop, list.totalCents);
      expect({ seed, isSound: list.boundCents <= least }).toEqual({ seed, isSound: true });
      if (list.boundCents < least) unproven += 1;
    }
    // Two baskets whose roundings go opposite ways may hide a unit: one of these seasons.
    expect(unproven).toBeLessThanOrEqual(1);
  });

  it('is never dearer than the best list from one shop, nor below its bound, on large seasons', () => {
    for (let seed = 330; seed < 333; seed += 1) {
      const made = randomPurchase(seed, { colours: 30, packs: 4, suppliers: 3, breaks: { packs: 0.3, basket: 1 } });
      const list = buyYarn(made.needs, made.suppliers, made.offers, oneShop);
      expect(checkList(list, made.needs, made.suppliers, made.offers, oneShop)).toEqual([]);
      expect(list.totalCents).toBeGreaterThanOrEqual(list.boundCents);
      const single = bestSingleShop(made.needs, made.suppliers, made.offers);
      expect(list.totalCents).toBeLessThanOrEqual(single!.totalCents);
    }
  });
});

describe('buyYarn, a colour from several shops', () => {
  // Three pairs of 90 g. Shop 1 has two balls of 100 g at 5.00, shop 2 any at 7.00; no postage. Two from shop 1 and one
  // from shop 2 are 300 g, yet the two would hold two pairs and the third ball one: it happens to fit, but a pair of
  // 110 g and two of 80 g would not. With the largest pair's yarn more, 270 + 90 = 360 g: two and two, 24.00.
  const shops = [supplier(1, 0), supplier(2, 0)];
  const balls = [pack(1, 1, 1, 100, 500, 2), pack(2, 2, 1, 100, 700)];
  it('buys the largest pair more, so that whole pairs find a place however the packs are dealt', () => {
    const need = [{ yarnColourId: 1, needMg: 270_000, largestPairMg: 90_000 }];
    const list = buyYarn(need, shops, balls, anyShops);
    // Three balls from shop 2 alone are 21.00.
    expect([list.totalCents, shopsUsed(list)]).toEqual([2100, [2]]);
    const dealt = [{ yarnColourId: 1, needMg: 270_000 }];
    expect(buyYarn(dealt, shops, balls, anyShops).totalCents).toBe(1700);
    const dearer = [pack(1, 1, 1, 100, 500, 2), pack(2, 2, 1, 100, 900)];
    // 2 x 5.00 + 2 x 9.00 against 3 x 9.00.
    expect(buyYarn(need, shops, dearer, anyShops)).toMatchObject({ totalCents: 2700, isProvenCheapest: true });
    const large = [{ yarnColourId: 1, needMg: 390_000, largestPairMg: 10_000 }];
    // 390 + 10 = 400 g: 2 x 5.00 + 2 x 9.00 against 4 x 9.00.
    expect(buyYarn(large, shops, dearer, anyShops)).toMatchObject({ totalCents: 2800, isProvenCheapest: true });
  });

  it('leaves a colour out that no shops can supply so', () => {
    const few = [pack(1, 1, 1, 100, 500, 2), pack(2, 2, 1, 100, 700, 1)];
    const need = [{ yarnColourId: 1, needMg: 270_000, largestPairMg: 90_000 }];
    expect(buyYarn(need, shops, few, anyShops).uncovered).toEqual(need);
    expect(buyYarn([{ yarnColourId: 1, needMg: 200_000, largestPairMg: 100_000 }], shops, few, anyShops)).toMatchObject(
      {
        uncovered: [],
        totalCents: 1000,
      },
    );
  });

  it('equals full enumeration, with limits and breaks', () => {
    for (let seed = 700; seed < 724; seed += 1) {
      const limits = { free: 0.3, minimum: 0.3, stock: 0.5 };
      const breaks = { packs: 0.3, basket: 0.3 };
      const made = randomPurchase(seed, { colours: 2, packs: 2, suppliers: 3, mostG: 300, pairG: 70, limits, breaks });
      const list = buyYarn(made.needs, made.suppliers, made.offers, anyShops);
      expect(checkList(list, made.needs, made.suppliers, made.offers, anyShops)).toEqual([]);
      const covered = made.needs.filter((each) => !list.uncovered.includes(each));
      const least = leastByEnumeration({ ...made, needs: covered }, anyShops, list.totalCents);
      expect({ seed, cents: list.totalCents }).toEqual({ seed, cents: least });
      expect(list.boundCents).toBeLessThanOrEqual(least);
    }
  });
});

describe('buyYarn, boundaries', () => {
  const shop = supplier(1, 300);

  it('buys nothing for no needs, proven', () => {
    expect(buyYarn([], [shop], offers, oneShop)).toEqual({
      baskets: [],
      totalCents: 0,
      isProvenCheapest: true,
      boundCents: 0,
      uncovered: [],
    });
    expect(buyYarn([{ yarnColourId: 1, needMg: 0 }], [shop], offers, oneShop).totalCents).toBe(0);
  });

  it('names a colour nobody has, or has enough of, and buys the rest', () => {
    const some = [pack(1, 1, 1, 50, 400), pack(2, 1, 2, 50, 400, 1)];
    const wanted = [
      { yarnColourId: 1, needMg: 50_000 },
      { yarnColourId: 2, needMg: 50_001 },
      { yarnColourId: 3, needMg: 10_000 },
    ];
    const list = buyYarn(wanted, [shop], some, oneShop);
    expect(list.uncovered.map((need) => need.yarnColourId)).toEqual([2, 3]);
    expect(list.totalCents).toBe(700);
    expect(checkList(list, wanted, [shop], some, oneShop)).toEqual([]);
  });

  it('mixes shops within a colour only where allowed', () => {
    const shops = [supplier(1, 0), supplier(2, 0)];
    const stock = [pack(1, 1, 1, 50, 400, 2), pack(2, 2, 1, 50, 500)];
    const wanted = [{ yarnColourId: 1, needMg: 150_000 }];
    expect(buyYarn(wanted, shops, stock, oneShop).totalCents).toBe(1500);
    expect(buyYarn(wanted, shops, stock, anyShops).totalCents).toBe(1300);
  });

  it('leaves out a shop whose minimum order its whole stock cannot reach', () => {
    const shops = [supplier(1, 0, { minimumCents: 1000 }), supplier(2, 0)];
    const stock = [pack(1, 1, 1, 50, 400, 2), pack(2, 2, 1, 50, 500)];
    const list = buyYarn([{ yarnColourId: 1, needMg: 50_000 }], shops, stock, oneShop);
    expect(list).toMatchObject({ totalCents: 500, isProvenCheapest: true });
    expect(buyYarn([{ yarnColourId: 1, needMg: 50_000 }], [shops[0]!], stock, oneShop).uncovered).toHaveLength(1);
  });

  it('still gives a list, unproven, when no list meets all minimum orders at once', () => {
    // Colour 1 only from shop 1, colour 2 only from shop 2; shop 2 needs 900, and shop 1 needs what colour 1 and all of
    // the colour they share cost together. Either shop works alone, both together do not.
    const shops = [supplier(1, 0, { minimumCents: 800 }), supplier(2, 0, { minimumCents: 800 })];
    const stock = [
      pack(1, 1, 1, 50, 400, 1),
      pack(2, 2, 2, 50, 400, 1),
      pack(3, 1, 3, 50, 400, 1),
      pack(4, 2, 3, 50, 400, 1),
    ];
    const wanted = [1, 2, 3].map((yarnColourId) => ({ yarnColourId, needMg: 50_000 }));
    const list = buyYarn(wanted, shops, stock, oneShop);
    expect(list).toMatchObject({ totalCents: 800, isProvenCheapest: false });
    expect(list.uncovered).toEqual([wanted[1]]);
    expect(checkList(list, wanted, shops, stock, oneShop)).toEqual([]);
  });

  it('prefers, at one price, fewer shops, then less left over, then the better rank', () => {
    const wanted = [
      { yarnColourId: 1, needMg: 50_000 },
      { yarnColourId: 2, needMg: 50_000 },
    ];
    const shops = [supplier(1, 0), supplier(2, 0), supplier(3, 0)];
    const stock = [pack(1, 1, 1, 50, 400), pack(2, 2, 2, 50, 400), pack(3, 3, 1, 100, 400), pack(4, 3, 2, 100, 400)];
    expect(shopsUsed(buyYarn(wanted, shops, stock, oneShop))).toEqual([3]);
    const twice = [...stock, pack(5, 2, 1, 50, 400), pack(6, 1, 2, 50, 400)];
    expect(shopsUsed(buyYarn(wanted, shops, twice, oneShop))).toEqual([1]);
    const ranked = [supplier(1, 0, { rank: 5 }), supplier(2, 0, { rank: 1 }), supplier(3, 0)];
    expect(shopsUsed(buyYarn(wanted, ranked, twice, oneShop))).toEqual([2]);
  });

  it('refuses a colour listed twice and amounts that make no sense', () => {
    const twice = [
      { yarnColourId: 1, needMg: 1 },
      { yarnColourId: 1, needMg: 2 },
    ];
    expect(() => buyYarn(twice, [shop], offers, oneShop)).toThrow(/colour 1 twice/);
    expect(() => buyYarn([{ yarnColourId: 1, needMg: Number.NaN }], [shop], offers, oneShop)).toThrow(RangeError);
  });
});

describe('buyYarn against a MILP', () => {
  const size = { colours: 30, packs: 4, suppliers: 3 };
  it.each(Array.from({ length: 10 }, (_, i) => 1000 + i))(
    '30 colours, 4 packs, 3 shops, season %i',
    (seed) => {
      const { needs: wanted, suppliers, offers: stock } = randomPurchase(seed, size);
      for (const options of seed % 2 === 0 ? [oneShop] : [anyShops]) {
        const list = buyYarn(wanted, suppliers, stock, options);
        expect(checkList(list, wanted, suppliers, stock, options)).toEqual([]);
        expect(list.isProvenCheapest).toBe(true);
        expect(list.totalCents).toBe(leastPurchaseCents(wanted, suppliers, stock, options));
      }
    },
    20_000,
  );

  it('equals it with free-postage limits, minimum orders and stock limits on small seasons', () => {
    for (let seed = 1; seed <= 10; seed += 1) {
      const {
        needs: wanted,
        suppliers,
        offers: stock,
      } = randomPurchase(seed, {
        colours: 3,
        packs: 2,
        suppliers: 2,
        limits: { free: 0.7, minimum: 0.5, stock: 0.2 },
      });
      for (const options of [oneShop, anyShops]) {
        const list = buyYarn(wanted, suppliers, stock, options);
        expect(checkList(list, wanted, suppliers, stock, options)).toEqual([]);
        const covered = wanted.filter((need) => !list.uncovered.includes(need));
        if (covered.length === 0) continue;
        const least = leastPurchaseCents(covered, suppliers, stock, options);
        expect(list.boundCents).toBeLessThanOrEqual(least);
        if (list.isProvenCheapest) expect(list.totalCents).toBe(least);
        else expect(list.totalCents).toBeGreaterThanOrEqual(least);
        expect({ seed, isProven: list.isProvenCheapest }).toEqual({ seed, isProven: true });
      }
    }
  }, 30_000);
});

describe('buyYarn, properties', () => {
  const seasons = fc.record({
    seed: fc.integer({ min: 1, max: 100_000 }),
    colours: fc.integer({ min: 1, max: 5 }),
    suppliers: fc.integer({ min: 1, max: 4 }),
    options: fc.constantFrom(oneShop, anyShops),
  });
  const limits = { free: 0.3, minimum: 0.3, stock: 0.2 };

  it('the list always passes its check, whatever the limits', () => {
    fc.assert(
      fc.property(seasons, ({ seed, colours, suppliers: shops, options }) => {
        const made = randomPurchase(seed, { colours, packs: 3, suppliers: shops, limits });
        const list = buyYarn(made.needs, made.suppliers, made.offers, options);
        expect(checkList(list, made.needs, made.suppliers, made.offers, options)).toEqual([]);
      }),
      { numRuns: 60, seed: 21 },
    );
  });

  it('more demand never costs less', () => {
    fc.assert(
      fc.property(seasons, fc.integer({ min: 1, max: 400 }), ({ seed, colours, suppliers: shops, options }, more) => {
        const made = randomPurchase(seed, { colours, packs: 3, suppliers: shops });
        const [first, ...rest] = made.needs;
        const larger = [{ ...first!, needMg: first!.needMg + more * 1000 }, ...rest];
        const small = buyYarn(made.needs, made.suppliers, made.offers, options);
        expect(small.totalCents).toBeLessThanOrEqual(buyYarn(larger, made.suppliers, made.offers, options).totalCents);
      }),
      { numRuns: 60, seed: 22 },
    );
  });

  it('the order of the input changes nothing', () => {
    fc.assert(
      fc.property(seasons, ({ seed, colours, suppliers: shops, options }) => {
        const made = randomPurchase(seed, { colours, packs: 3, suppliers: shops, limits });
        const turned = <T>(list: readonly T[]) => [...list].reverse();
        expect(buyYarn(turned(made.needs), turned(made.suppliers), turned(made.offers), options).baskets).toEqual(
          buyYarn(made.needs, made.suppliers, made.offers, options).baskets,
        );
      }),
      { numRuns: 40, seed: 23 },
    );
  });
});

describe('buyYarn, speed', () => {
  const median = (times: number[]) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
  const time = (run: () => unknown) => {
    const started = performance.now();
    run();
    return performance.now() - started;
  };

  it('plans 30 colours, 4 packs, 3 shops in a few milliseconds', () => {
    const made = randomPurchase(5, { colours: 30, packs: 4, suppliers: 3 });
    for (const options of [oneShop, anyShops]) {
      const times = Array.from({ length: 15 }, () =>
        time(() => buyYarn(made.needs, made.suppliers, made.offers, options)),
      );
      expect(median(times)).toBeLessThan(40);
    }
  });

  it('stops by counted steps where limits couple many colours, with a sound bound', () => {
    const made = randomPurchase(9, { colours: 30, packs: 4, suppliers: 4, limits: { free: 1, minimum: 1, stock: 0 } });
    const suppliers = made.suppliers.map((each): Supplier => ({ ...each, freeFromCents: 40_000, minimumCents: 9000 }));
    let list: PurchaseList | null = null;
    const ms = time(() => {
      list = buyYarn(made.needs, suppliers, made.offers, oneShop);
    });
    expect(ms).toBeLessThan(3000);
    expect(checkList(list!, made.needs, suppliers, made.offers, oneShop)).toEqual([]);
  });
});

describe('bestSingleShop', () => {
  it('takes the cheapest shop that has everything', () => {
    const suppliers = [supplier(1, 250), supplier(2, 395)];
    // All from shop 1: 1560 + 840 + 600 + 250; all from shop 2: 1380 + 690 + 800 + 395 = 3265.
    expect(bestSingleShop(needs, suppliers, offers)).toMatchObject({ totalCents: 3250, isProvenCheapest: true });
    const withoutThree = offers.filter((offer) => offer.id !== 4);
    expect(bestSingleShop(needs, suppliers, withoutThree)?.totalCents).toBe(3265);
    expect(bestSingleShop(needs, [suppliers[0]!], withoutThree)).toBeNull();
  });
});
