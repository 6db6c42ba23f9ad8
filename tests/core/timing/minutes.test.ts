import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Operations } from '#core/styles/spec.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { minutesFigure, minutesOfPair, usualRates } from '#core/timing/minutes.ts';
import { knit, type PairWish, yarnOf } from '#tests/support/knit-cases.ts';

const woman: PairWish = Object.freeze({ person: 'woman', lengthMm: 240 });
const operations = (wish: PairWish): Operations => knit(wish).spec.operations;
const minutes = (wish: PairWish, rates: Rates = usualRates) => minutesOfPair(operations(wish), rates);

describe('handwork of a pair, counted by hand', () => {
  // EU 38 at 13 x 18: each slipper 41 rows of 28, toe row of 28, cuff of 34 in 2 + 6 rows; seams heel 103.846, top 21 rows
  // 116.667, cuff back 9 rows 50, cuff to foot 253.846 mm. Ends: cast-on and draw-up, cast-on and bind-off, 2 of the
  // thread that sews the cuff on; the other seams are sewn with tails.
  it('EU 38 in one colour', () => {
    expect(operations(woman)).toEqual({
      stitches: { stocking: 2 * 41 * 28, 'rib 2x2': 2 * 8 * 34 },
      castOnStitches: 2 * (28 + 34),
      twoTogetherStitches: 2 * 28,
      bindOffStitches: 2 * 34,
      rowTurns: 2 * (41 + 1 + 8),
      seamMm: expect.closeTo(2 * (103.846 + 116.667 + 50 + 253.846), 1),
      ends: 2 * 6,
      colourChanges: 0,
      drawUps: 2,
      piecesBegun: 4,
      isBulky: true,
    });
  });

  it('two colours bring a change and two ends a cuff', () => {
    expect(operations({ ...woman, cuffColour: 2 })).toMatchObject({ ends: 2 * 8, colourChanges: 2 });
  });

  // EU 46: rows 49 x 33; toe 33 stitches, a plain row of 17, then 17: 50 two together and 17 plain.
  it('a toe worked twice', () => {
    expect(operations({ person: 'man', lengthMm: 880 / 3 })).toMatchObject({
      stitches: { stocking: 2 * (49 * 33 + 17), 'rib 2x2': 2 * 10 * 42 },
      twoTogetherStitches: 2 * 50,
      rowTurns: 2 * (49 + 3 + 10),
    });
  });

  it('without a cuff two pieces, no rib and no binding off', () => {
    expect(operations({ ...woman, cuff: 'none' })).toMatchObject({
      stitches: { stocking: 2296 },
      bindOffStitches: 0,
      ends: 4,
      piecesBegun: 2,
    });
  });
});

describe('minutes', () => {
  // 2296 / 22.5 = 102.044; 544 / (25 x 0.85 x 0.9) = 28.444; 124 / 10.8 = 11.481; 56 / 10.8 = 5.185; 68 / 13.5 = 5.037;
  // 100 turns 5; 4 set-ups 8; 2 draw-ups 3; 1048.718 mm of seam 26.218; 12 ends 18. In all 212.41 minutes, 3.5 hours.
  it('EU 38 in one colour: 212.4', () => {
    expect(minutes(woman)).toBeCloseTo(212.41, 2);
  });

  it('two colours: 4 ends and 2 changes more, 8 minutes', () => {
    expect(minutes({ ...woman, cuffColour: 2 }) - minutes(woman)).toBeCloseTo(4 * 1.5 + 2 * 1, 9);
  });

  it('bulky work goes at nine tenths: thick needles or two strands', () => {
    const thin: PairWish = { ...woman, yarns: [yarnOf(1000, { needleMm: 6.4 })] };
    const thick: PairWish = { ...woman, yarns: [yarnOf(1000, { needleMm: 6.5 })] };
    const atRates = 2296 / 25 + 544 / (25 * 0.85) + 124 / 12 + 56 / 12 + 68 / 15;
    const rest = 5 + 8 + 3 + 26.218 + 18;
    expect(minutes(thin)).toBeCloseTo(atRates + rest, 2);
    expect(minutes(thick)).toBeCloseTo(atRates / 0.9 + rest, 2);
    const strand = yarnOf(500, { needleMm: 5 });
    expect(minutes({ ...woman, yarns: [strand, strand] })).toBeCloseTo(atRates / 0.9 + rest, 2);
  });

  // At 30 stitches a minute 10 x 10 cm takes 234 / 30 = 7.8 minutes at 13 x 18 and 432 / 30 = 14.4 at 18 x 24.
  it('a square of cloth alone, at 30 a minute', () => {
    const square = (stitches: number): Operations => ({
      stitches: { stocking: stitches },
      castOnStitches: 0,
      twoTogetherStitches: 0,
      bindOffStitches: 0,
      rowTurns: 0,
      seamMm: 0,
      ends: 0,
      colourChanges: 0,
      drawUps: 0,
      piecesBegun: 0,
      isBulky: false,
    });
    const rates = { ...usualRates, stitchesPerMin: 30 };
    expect(minutesOfPair(square(13 * 18), rates)).toBeCloseTo(7.8, 9);
    expect(minutesOfPair(square(18 * 24), rates)).toBeCloseTo(14.4, 9);
    expect(minutesOfPair(square(0), rates)).toBe(0);
  });

  it('the figure that is opened is the number that is planned, and its parts add up', () => {
    const wish = fc.record({
      person: fc.constantFrom('woman' as const, 'man' as const, 'child' as const, 'unknown' as const),
      lengthMm: fc.integer({ min: 90, max: 330 }),
      cuff: fc.constantFrom('short' as const, 'turned down' as const, 'none' as const),
    });
    fc.assert(
      fc.property(wish, (each) => {
        const { total, sewingUpMin } = minutesFigure(operations(each), usualRates);
        expect(total.value).toBeCloseTo(minutes(each), 9);
        expect(total.inputs.reduce((sum, part) => sum + part.value, 0)).toBeCloseTo(total.value, 9);
        expect(sewingUpMin).toBeGreaterThan(0);
        expect(sewingUpMin).toBeLessThan(total.value);
        expect(total.sd).toBeCloseTo(0.2 * total.value, 9);
      }),
    );
  });

  it('a faster hand never takes longer, in any of its rates', () => {
    const speeds = ['stitchesPerMin', 'castOnPerMin', 'twoTogetherPerMin', 'bindOffPerMin'] as const;
    const efforts = ['turnMin', 'seamMinPer10Cm', 'endMin', 'colourChangeMin', 'drawUpMin', 'setUpMin'] as const;
    const two = { ...woman, cuffColour: 2 };
    for (const name of speeds)
      expect(minutes(two, { ...usualRates, [name]: usualRates[name] * 1.2 })).toBeLessThan(minutes(two));
    for (const name of efforts)
      expect(minutes(two, { ...usualRates, [name]: usualRates[name] * 0.8 })).toBeLessThan(minutes(two));
  });
});
