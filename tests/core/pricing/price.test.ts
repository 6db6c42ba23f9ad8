import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { takenRatio } from '#core/pricing/outlet.ts';
import {
  applyEnding,
  feeOf,
  hourWorth,
  leastPriceCovering,
  netOf,
  priceAtMargin,
  priceAtMarkup,
  priceFigure,
} from '#core/pricing/price.ts';
import { type Figure, given, namesInWords } from '#core/shared/figure.ts';
import type { Result } from '#core/shared/problem.ts';
import { anyOutlet, outletWith } from '#tests/core/pricing/outlets.ts';

function valueIn<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems[0]!.message);
  return result.value;
}

const anyCost = fc.integer({ min: 0, max: 100_000 });

describe('priceAtMarkup', () => {
  it.each([
    // Definitions of markup and margin: cost 40, markup 50 %.
    [4000, 0.5, 6000],
    // Principles of Accounting 2 (OpenStax, 2019): 20 % on variable cost 8 and on full cost 9.
    [800, 0.2, 960],
    [900, 0.2, 1080],
    // Keystone, Monash University Marketing Dictionary: cost 10, price 20.
    [1000, 1, 2000],
    [0, 1, 0],
  ])('cost %d and markup %d make %d', (cost, priceRatio, price) => {
    expect(valueIn(priceAtMarkup(cost, outletWith({ priceRatio })))).toBe(price);
  });

  it('adds the fees so that the markup is still there after them', () => {
    // (4000 x 1.5 + 30) / (1 - 0.029) = 6210.09, up to 6211
    const outlet = outletWith({ priceRatio: 0.5, feeRatio: 0.029, feeFixedCents: 30 });
    expect(valueIn(priceAtMarkup(4000, outlet))).toBe(6211);
    expect(netOf(6211, outlet).netCents).toBeGreaterThanOrEqual(6000);
  });
});

describe('priceAtMargin', () => {
  it('is the cost grossed up by fee share and fixed fee', () => {
    // A payment processor's support page: net 100, 2.9 % + 0.30 is (100 + 0.30) / 0.971 = 103.2956, up to 103.30, fee 3.30.
    const first = outletWith({ priceRatio: 0, feeRatio: 0.029, feeFixedCents: 30 });
    expect(valueIn(priceAtMargin(10_000, first))).toBe(10_330);
    expect(feeOf(10_330, first)).toBe(330);
    // The common slip 1000 / 0.971 + 0.30 = 1030.17 leaves too little; right is 1000.30 / 0.971 = 1030.1751.
    expect(valueIn(priceAtMargin(100_000, first))).toBe(103_018);
    // Same page, Irish rate with 23 % VAT on the fee: 1.722 % + 0.3075, 102.0651, up to 102.07.
    const second = outletWith({ priceRatio: 0, feeRatio: 0.01722, feeFixedCents: 30.75 });
    expect(valueIn(priceAtMargin(10_000, second))).toBe(10_207);
    // Net 50, 1.4 % + 0.20: 50.9128, up to 50.92.
    const third = outletWith({ priceRatio: 0, feeRatio: 0.014, feeFixedCents: 20 });
    expect(valueIn(priceAtMargin(5000, third))).toBe(5092);
  });

  it('is of the price without tax, whether tax is in the price or comes on top', () => {
    // 60 / (1 - 0.4) = 100 without tax; 120 with 20 % in it
    expect(valueIn(priceAtMargin(6000, outletWith({ priceRatio: 0.4, taxRatio: 0.2 })))).toBe(12_000);
    expect(valueIn(priceAtMargin(6000, outletWith({ priceRatio: 0.4, taxRatio: 0.2, isTaxIncluded: false })))).toBe(
      10_000,
    );
  });

  it('takes fees from what the buyer pays, tax included', () => {
    // (60 + 0.20) / (1 - 0.4 - 0.05 x 1.2) = 111.4815 without tax, 133.7778 with. At 133.78 tax 22.30 and fee 6.89 are
    // rounded up and leave 104.59, short of 60 + 0.4 x 111.48 = 104.592; at 133.79 they leave 104.60, and 104.596 is wanted.
    const outlet = outletWith({ priceRatio: 0.4, feeRatio: 0.05, feeFixedCents: 20, taxRatio: 0.2 });
    expect(valueIn(priceAtMargin(6000, outlet))).toBe(13_379);
  });

  it('leaves at least the margin of the price without tax, after tax and fees and with the ending', () => {
    fc.assert(
      fc.property(anyCost, anyOutlet, (cost, any) => {
        const outlet = { ...any, priceRule: 'margin' as const };
        for (const shown of [valueIn(priceAtMargin(cost, outlet)), valueIn(priceFigure(cost, outlet)).value]) {
          const { netCents, withoutTaxCents } = netOf(shown, outlet);
          expect(netCents - cost - outlet.priceRatio * withoutTaxCents).toBeGreaterThanOrEqual(-1e-6);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('leaves at least the markup on the cost in the same way', () => {
    fc.assert(
      fc.property(anyCost, anyOutlet, (cost, any) => {
        const outlet = { ...any, priceRule: 'markup' as const };
        const shown = valueIn(priceFigure(cost, outlet)).value;
        expect(netOf(shown, outlet).netCents - cost * (1 + outlet.priceRatio)).toBeGreaterThanOrEqual(-1e-6);
      }),
      { numRuns: 1000 },
    );
  });

  it('is never far above the exact price: the formula, up to a few minor units', () => {
    fc.assert(
      fc.property(anyCost, anyOutlet, (cost, outlet) => {
        const { priceRatio: g, feeFixedCents: k, taxRatio: r } = outlet;
        const f = takenRatio(outlet);
        const left = 1 - g - f * (1 + r);
        const exact = ((cost + k) / left) * (outlet.isTaxIncluded ? 1 + r : 1);
        const shown = valueIn(priceAtMargin(cost, outlet));
        return shown >= exact - 1e-6 && shown <= exact + 2 + (2 * (1 + r)) / left;
      }),
      { numRuns: 1000 },
    );
  });

  it('never falls when the cost rises, as it does with a higher wage', () => {
    fc.assert(
      fc.property(anyCost, fc.integer({ min: 0, max: 500 }), anyOutlet, (cost, more, outlet) => {
        const [low, high] = [cost, cost + more].map((each) => valueIn(priceFigure(each, outlet)).value);
        return low! <= high!;
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    [0.9, 0.1, 'a margin of 90% and fees of 10%'],
    [1, 0, 'a margin of 100% and fees of 0%'],
    [0.6, 0.5, 'a margin of 60% and fees of 50%'],
  ])('is impossible at margin %d and fees %d', (priceRatio, feeRatio, words) => {
    const result = priceAtMargin(1000, outletWith({ priceRatio, feeRatio }));
    expect(!result.ok && result.problems).toEqual([
      {
        code: 'priceImpossible',
        path: 'priceRatio',
        message: `No price is high enough at Harbour fair: ${words} leave nothing of it for the pair. Lower the margin or the fees.`,
      },
    ]);
  });

  it('is impossible only by the fees when it is a markup', () => {
    const result = priceAtMarkup(1000, outletWith({ priceRatio: 5, feeRatio: 0.9, taxRatio: 0.2 }));
    expect(!result.ok && result.problems[0]).toEqual({
      code: 'priceImpossible',
      path: 'feeRatio',
      message:
        'No price is high enough at Harbour fair: fees of 108% leave nothing of it for the pair. Lower the fees.',
    });
  });

  it('refuses a cost that is no amount', () => {
    expect(() => priceAtMargin(-1, outletWith())).toThrow(RangeError);
    expect(() => priceAtMargin(Number.NaN, outletWith())).toThrow(RangeError);
  });
});

describe('feeOf and netOf', () => {
  it('takes nothing when nothing is paid', () => {
    expect(feeOf(0, outletWith({ feeRatio: 0.1, feeFixedCents: 30 }))).toBe(0);
  });

  it('has parts that add up to what is paid', () => {
    fc.assert(
      fc.property(anyCost, anyOutlet, (shown, outlet) => {
        const split = netOf(shown, outlet);
        expect(split.netCents + split.feeCents + split.taxCents).toBe(split.paidCents);
        expect(split.withoutTaxCents + split.taxCents).toBe(split.paidCents);
        expect(outlet.isTaxIncluded ? split.paidCents : split.withoutTaxCents).toBe(shown);
      }),
    );
  });

  it('refuses parts of a minor unit', () => {
    expect(() => netOf(10.5, outletWith())).toThrow(RangeError);
    expect(() => netOf(-1, outletWith())).toThrow(RangeError);
  });
});

describe('a shop on sale or return', () => {
  // By hand: 35 % of 45.00 is 15.75, 29.25 are left; with 2 % of a card fee besides, 37 % are 16.65 and 28.35 are left.
  it('keeps its share like a fee, of what the buyer pays', () => {
    const shop = outletWith({ kind: 'shop', terms: 'sale or return', shopShareRatio: 0.35 });
    expect(netOf(4500, shop)).toMatchObject({ feeCents: 1575, netCents: 2925 });
    expect(netOf(4500, { ...shop, feeRatio: 0.02 }).netCents).toBe(2835);
    expect(netOf(4500, { ...shop, terms: 'wholesale' }).netCents).toBe(4500);
  });

  // 29.25 / (1 - 0.35) = 45.00.
  it('is priced so that the margin is left after its share, and says whose share it is', () => {
    const shop = outletWith({ kind: 'shop', terms: 'sale or return', shopShareRatio: 0.35, priceRatio: 0 });
    expect(valueIn(priceAtMargin(2925, shop))).toBe(4500);
    expect(valueIn(leastPriceCovering(2925, shop))).toBe(4500);
    const share = valueIn(priceFigure(2925, shop)).inputs[0]!.inputs[0]!.inputs.find(
      ({ rule }) => rule.name === 'fee share',
    );
    expect(share).toMatchObject({ value: 0.35, rule: { source: 'Harbour fair, with the share that the shop keeps' } });
  });
});

describe('applyEnding', () => {
  // Our own rule: the smallest price with the ending that is not below.
  it.each([
    [2340, 99, 2399],
    [2340, 95, 2395],
    [2340, 0, 2400],
    [2399.5, 99, 2499],
    [2399, 99, 2399],
    [2400, 0, 2400],
    [2401, 0, 2500],
    [2451, 50, 2550],
    [0, 0, 0],
    [0, 50, 50],
    [2340.2, null, 2341],
  ])('%d with ending %s is %d', (price, ending, expected) => {
    expect(applyEnding(price, ending)).toBe(expected);
  });

  it.each([100, -1, 0.5])('refuses the ending %d', (ending) => {
    expect(() => applyEnding(2340, ending)).toThrow(RangeError);
  });
});

describe('leastPriceCovering', () => {
  it('covers the amount from that price on, and one minor unit less does not', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), anyOutlet, (amount, outlet) => {
        const least = valueIn(leastPriceCovering(amount, outlet));
        expect(netOf(least - 1, outlet).netCents).toBeLessThan(amount);
        for (let more = 0; more <= 30; more += 1) {
          expect(netOf(least + more, outlet).netCents).toBeGreaterThanOrEqual(amount);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('equals a plain search from far above', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 300 }), anyOutlet, (amount, outlet) => {
        let least = 3000;
        while (least > 0 && netOf(least - 1, outlet).netCents >= amount) least -= 1;
        return valueIn(leastPriceCovering(amount, outlet)) === least;
      }),
      { numRuns: 300 },
    );
  });

  it('is 0 when there is nothing to cover and nothing taken', () => {
    expect(valueIn(leastPriceCovering(0, outletWith({ taxRatio: 0.2 })))).toBe(0);
  });

  it('does not exist when fees take everything', () => {
    expect(leastPriceCovering(1, outletWith({ feeRatio: 1 })).ok).toBe(false);
    expect(leastPriceCovering(1, outletWith({ feeRatio: 0.85, taxRatio: 0.2 })).ok).toBe(false);
  });
});

describe('priceFigure', () => {
  function everyFigure(figure: Figure): Figure[] {
    return [figure, ...figure.inputs.flatMap(everyFigure)];
  }

  it('shows the whole working, each input named in the words', () => {
    const cost = given('cost of a pair', 6000, 'cents', 'ours');
    const outlet = outletWith({ priceRatio: 0.4, feeRatio: 0.05, feeFixedCents: 20, taxRatio: 0.2, endingCents: 50 });
    const price = valueIn(priceFigure(cost, outlet));
    // 133.79 as above, up to .50
    expect(price.value).toBe(13_450);
    expect(price.rule.words).toContain('ends in 50');
    const figures = everyFigure(price);
    expect(figures).toContain(cost);
    for (const figure of figures.filter(({ inputs }) => inputs.length > 0)) {
      expect(namesInWords(figure.rule.words)).toHaveLength(figure.inputs.length);
    }
  });

  it('is the fixed price as it stands, without ending', () => {
    const outlet = outletWith({ priceRule: 'fixed', fixedPriceCents: 4550, endingCents: 99 });
    expect(valueIn(priceFigure(6000, outlet)).value).toBe(4550);
  });

  it('asks for a fixed price that is missing', () => {
    const result = priceFigure(6000, outletWith({ priceRule: 'fixed' }));
    expect(!result.ok && result.problems[0]).toEqual({
      code: 'priceMissing',
      path: 'fixedPrice',
      message: 'Enter the price at Harbour fair, or choose a margin or a markup.',
    });
  });

  it('is 0 for a gift', () => {
    expect(valueIn(priceFigure(6000, outletWith({ kind: 'gift' }))).value).toBe(0);
  });
});

describe('hourWorth', () => {
  // Repair job of Principles of Accounting 2 (OpenStax, 2019): billed 310, part 42, overhead 75, three hours.
  it('is 64.33 an hour after overhead and 89.33 before', () => {
    expect(hourWorth(31_000, 4200 + 7500, 180)).toBe(6433);
    expect(hourWorth(31_000, 4200, 180)).toBe(8933);
  });

  it('is negative when the costs are not covered, and nothing without work', () => {
    expect(hourWorth(1000, 1600, 120)).toBe(-300);
    expect(hourWorth(1000, 1600, 0)).toBeNull();
  });
});
