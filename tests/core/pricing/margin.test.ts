import { describe, expect, it } from 'vitest';
import { keystone, marginOfMarkup, markupOfMargin } from '#core/pricing/margin.ts';

// A published markup to margin chart (its row of 40 % cuts digits and is left out); the identities are exact.
const chart: readonly [number, number][] = [
  [0.25, 0.2],
  [1 / 3, 0.25],
  [0.5, 0.3333],
  [0.75, 0.4286],
  [1, 0.5],
  [1.5, 0.6],
  [2, 0.6667],
  [3, 0.75],
];

describe('marginOfMarkup and markupOfMargin', () => {
  it.each(chart)('a markup of %d is a margin of %d', (markup, margin) => {
    expect(marginOfMarkup(markup)).toBeCloseTo(margin, 4);
    expect(markupOfMargin(marginOfMarkup(markup))).toBeCloseTo(markup, 9);
  });

  it('has no margin of all of the price', () => {
    expect(() => markupOfMargin(1)).toThrow(RangeError);
    expect(() => markupOfMargin(-0.1)).toThrow(RangeError);
    expect(() => marginOfMarkup(-0.1)).toThrow(RangeError);
  });
});

describe('keystone', () => {
  // Monash University Marketing Dictionary: cost 10, price 20, markup 100 %, margin 50 %.
  it.each([
    [1000, 2000],
    [1850, 3700],
  ])('doubles %d to %d, half of which is margin', (wholesale, retail) => {
    expect(keystone(wholesale)).toBe(retail);
    expect((retail - wholesale) / retail).toBe(marginOfMarkup(1));
  });
});
