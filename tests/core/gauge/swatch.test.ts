import { describe, expect, it } from 'vitest';
import {
  gaugeOfSwatches,
  gaugesFromSwatches,
  loopOfWeighed,
  per10Cm,
  type SwatchReading,
  weighedLoopSd,
} from '#core/gauge/swatch.ts';

const square: SwatchReading = Object.freeze({
  id: 1,
  yarnsKey: '5',
  tex: 1000,
  fabric: 'stocking',
  stitches: 26,
  rows: 36,
  widthMm: 200,
  heightMm: 200,
  massG: null,
  isWashed: true,
  needleMm: 7,
  madeDay: null,
});

describe('per10Cm', () => {
  it('takes a count over any length', () => {
    // 24 stitches over 18 cm: 24 / 18 x 10 = 13 1/3, by hand
    expect(per10Cm(24, 180)).toBeCloseTo(40 / 3, 12);
    expect(per10Cm(12.5, 100)).toBe(12.5);
  });
  it.each([
    [0, 100],
    [10, 0],
    [-1, 100],
    [Number.NaN, 100],
  ])('throws for %d over %d mm', (count, lengthMm) => expect(() => per10Cm(count, lengthMm)).toThrow(RangeError));
});

describe('loopOfWeighed', () => {
  it('is the yarn of the square over its stitches', () => {
    // 28 g at 1 g a metre are 28 m, over 26 x 36 = 936 stitches: 2.9915 cm, by hand
    expect(loopOfWeighed(28, 26, 36, 1000)).toBeCloseTo(2800 / 936, 10);
  });
  it('needs no halving for two strands: each runs the same length', () => {
    // two strands of 500 tex weigh as one of 1000
    expect(loopOfWeighed(28, 26, 36, 500 + 500)).toBe(loopOfWeighed(28, 26, 36, 1000));
  });
  it('throws for a square of no weight', () => expect(() => loopOfWeighed(0, 26, 36, 1000)).toThrow(RangeError));
});

describe('weighedLoopSd', () => {
  it('is hardly more than 3.6 % on a letter scale, and grows on a kitchen scale', () => {
    // sqrt(3.6^2 + (29 x 0.1 / 29)^2) = sqrt(12.96 + 0.01) = 3.60139 %
    expect(weighedLoopSd(29, 0.1)).toBeCloseTo(0.0360139, 7);
    // sqrt(3.6^2 + (29 x 1 / 10)^2) = sqrt(12.96 + 8.41) = 4.62277 %
    expect(weighedLoopSd(10, 1)).toBeCloseTo(0.0462277, 7);
  });
});

describe('gaugeOfSwatches', () => {
  it('weighs squares by their area', () => {
    // 20 x 20 cm at 13 and 10 x 10 cm at 15: (400 x 13 + 100 x 15) / 500 = 13.4
    const small = { ...square, id: 2, stitches: 15, rows: 20, widthMm: 100, heightMm: 100 };
    const gauge = gaugeOfSwatches([square, small], 1);
    expect(gauge.stitchesPer10Cm).toBeCloseTo(13.4, 12);
    // rows: (400 x 18 + 100 x 20) / 500 = 18.4
    expect(gauge.rowsPer10Cm).toBeCloseTo(18.4, 12);
    expect(gauge.source).toBe('swatch');
  });

  it('counts washed squares alone where there are any', () => {
    const unwashed = { ...square, id: 2, stitches: 30, isWashed: false };
    expect(gaugeOfSwatches([unwashed, square], 1)).toMatchObject({ stitchesPer10Cm: 13, isWashed: true });
    expect(gaugeOfSwatches([unwashed], 1)).toMatchObject({ stitchesPer10Cm: 15, isWashed: false });
  });

  it('takes the yarn in a stitch from the weighed squares, and none when none was weighed', () => {
    const weighed = { ...square, id: 2, massG: 28 };
    const gauge = gaugeOfSwatches([square, weighed], 1);
    expect(gauge.loopCm).toBeCloseTo(2800 / 936, 10);
    // sqrt(12.96 + (29 / 28)^2) = sqrt(14.0327) = 3.74602 %
    expect(gauge.loopRelativeSd).toBeCloseTo(0.0374602, 6);
    expect(gaugeOfSwatches([square], 1)).toMatchObject({ loopCm: null, loopRelativeSd: null });
  });

  it('is no surer for two weighed squares: the metres on the band are wrong in both', () => {
    const weighed = { ...square, massG: 28 };
    expect(gaugeOfSwatches([weighed, { ...weighed, id: 2 }], 1).loopRelativeSd).toBeCloseTo(
      gaugeOfSwatches([weighed], 1).loopRelativeSd!,
      12,
    );
  });

  it('throws without a square', () => expect(() => gaugeOfSwatches([], 1)).toThrow(RangeError));
});

describe('gaugesFromSwatches', () => {
  it('keeps yarns, fabrics and needles apart, the needle of the latest square first', () => {
    const later = { ...square, id: 2, needleMm: 6.5, stitches: 28, madeDay: '2026-10-02' };
    const rib = { ...square, id: 3, fabric: 'rib 2x2', madeDay: '2026-09-01' };
    const other = { ...square, id: 4, yarnsKey: '7+7', madeDay: '2026-08-01' };
    const gauges = gaugesFromSwatches([{ ...square, madeDay: '2026-07-01' }, other, rib, later], 1);
    expect(gauges.map((gauge) => [gauge.yarnsKey, gauge.fabric, gauge.needleMm])).toEqual([
      ['5', 'stocking', 6.5],
      ['5', 'rib 2x2', 7],
      ['7+7', 'stocking', 7],
      ['5', 'stocking', 7],
    ]);
  });

  it('does not depend on the order the squares come in', () => {
    const all = [square, { ...square, id: 2, needleMm: 6 }, { ...square, id: 3, stitches: 25 }];
    expect(gaugesFromSwatches([...all].reverse(), 1)).toEqual(gaugesFromSwatches(all, 1));
  });

  it('gives none for none', () => expect(gaugesFromSwatches([], 1)).toEqual([]));
});
