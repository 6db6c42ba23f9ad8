import { describe, expect, it } from 'vitest';
import { swatchOfFirstFoot } from '#core/gauge/first-foot.ts';
import { gaugeOfSwatches } from '#core/gauge/swatch.ts';
import { drawUpTailM, loopsOfPiece } from '#core/yardage/piece-loops.ts';
import { knit } from '#tests/support/knit-cases.ts';

const woman = knit({ person: 'woman', lengthMm: 240 }).worked.pieces[0]!;

describe('the first foot as a swatch', () => {
  // EU 38: 28 + 41 x 28 + 14 x 1.2 = 1192.8 loops; by hand in the yardage of the pair.
  it('counts the loops of the whole piece', () => {
    expect(loopsOfPiece(woman)).toBeCloseTo(1192.8, 9);
    expect(drawUpTailM(woman)).toBe(0.2);
  });

  // A foot of 38.48 g at 1000 tex is 38.48 m: less a cast-on tail of (3 x 28 x 100 / 13 + 150) / 1000 = 0.79615 m and 0.2 m to
  // draw up, 37.484 m / 1192.8 loops = 3.1425 cm a stitch.
  it('gives back the yarn in one stitch and the gauge it was knitted at', () => {
    const counts = { castOnStitches: 28, loops: loopsOfPiece(woman), otherTailsM: 0.2, tex: 1000 };
    const foot = { stitches: 28, widthMm: 2800 / 13, tenRowsMm: 1000 / 18, massG: 38.48 };
    const gauge = gaugeOfSwatches(
      [
        {
          ...swatchOfFirstFoot(foot, counts),
          id: 1,
          yarnsKey: '1',
          tex: 1000,
          fabric: 'stocking',
          isWashed: false,
          needleMm: 7,
          madeDay: null,
        },
      ],
      1,
    );
    expect(gauge.stitchesPer10Cm).toBeCloseTo(13, 2);
    expect(gauge.rowsPer10Cm).toBeCloseTo(18, 2);
    expect(gauge.loopCm).toBeCloseTo(3.1425, 3);
  });

  it('of half its stitches weighs as the whole foot, twice as wide', () => {
    const counts = { castOnStitches: 28, loops: 1192.8, otherTailsM: 0.2, tex: 1000 };
    const half = swatchOfFirstFoot({ stitches: 14, widthMm: 105, tenRowsMm: 55, massG: 37.5 }, counts);
    expect(half).toEqual(swatchOfFirstFoot({ stitches: 28, widthMm: 210, tenRowsMm: 55, massG: 37.5 }, counts));
    expect(() => swatchOfFirstFoot({ stitches: 0, widthMm: 105, tenRowsMm: 55, massG: null }, counts)).toThrow(
      RangeError,
    );
  });
});
