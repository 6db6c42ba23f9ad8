import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupFor, type PriceGroup, priceOfSecond } from '#core/pricing/price-group.ts';

const group = (changes: Partial<PriceGroup> = {}): PriceGroup =>
  Object.freeze({
    id: 1,
    outletId: 1,
    styleId: 1,
    name: 'women',
    fromMm: 220,
    toMm: 250,
    priceCents: 4400,
    ...changes,
  });
const wish = (lengthMm: number, changes = {}) => ({ outletId: 1, styleId: 1, lengthMm, ...changes });

describe('groupFor', () => {
  it('takes both ends of the run in, and nothing beyond', () => {
    const groups = [group()];
    expect(groupFor(groups, wish(220))?.name).toBe('women');
    expect(groupFor(groups, wish(250))?.name).toBe('women');
    expect(groupFor(groups, wish(219.9))).toBeNull();
    expect(groupFor(groups, wish(250.1))).toBeNull();
  });

  it('forgives the hair that a label worked out in binary may miss an end by', () => {
    expect(groupFor([group()], wish(250 + 1e-9))?.name).toBe('women');
  });

  it('belongs to one outlet and one style', () => {
    expect(groupFor([group()], wish(230, { outletId: 2 }))).toBeNull();
    expect(groupFor([group()], wish(230, { styleId: 2 }))).toBeNull();
  });

  it('takes the one for fewer sizes where two fit, then the first', () => {
    const wide = group({ id: 1, name: 'all', fromMm: 150, toMm: 300 });
    const narrow = group({ id: 2 });
    const same = group({ id: 3, name: 'later' });
    expect(groupFor([wide, narrow, same], wish(230))?.id).toBe(2);
    expect(groupFor([wide, narrow, same], wish(200))?.id).toBe(1);
  });
});

describe('priceOfSecond', () => {
  // By hand: 44.50 less three tenths is 31.15; the next that ends in .50 is 31.50, in .00 32.00.
  it('takes the share off and goes up to the ending', () => {
    expect(priceOfSecond(4450, 0.3, null)).toBe(3115);
    expect(priceOfSecond(4450, 0.3, 50)).toBe(3150);
    expect(priceOfSecond(4450, 0.3, 0)).toBe(3200);
  });

  it('may be had for nothing', () => {
    expect(priceOfSecond(4450, 1, null)).toBe(0);
  });

  it('never costs more than a good pair, and is the good price without anything off', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100_000 }),
        fc.integer({ min: 0, max: 100 }),
        fc.option(fc.integer({ min: 0, max: 99 })),
        (good, off, ending) => {
          const second = priceOfSecond(good, off / 100, ending);
          expect(second).toBeLessThanOrEqual(good);
          expect(priceOfSecond(good, 0, ending)).toBe(good);
          expect(second).toBeGreaterThanOrEqual(Math.floor(good * (1 - off / 100)));
        },
      ),
    );
  });

  it('refuses what is no price and no share', () => {
    expect(() => priceOfSecond(-1, 0.3, null)).toThrow(RangeError);
    expect(() => priceOfSecond(100, 1.1, null)).toThrow(RangeError);
  });
});
