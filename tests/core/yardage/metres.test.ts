import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { loopLengthCm } from '#core/gauge/gauge.ts';
import type { Gauge, Hand } from '#core/gauge/hand.ts';
import { garterSlipper } from '#core/styles/shipped/garter-slipper.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { estimateOf } from '#core/yardage/metres.ts';
import { kindOf, knit, type PairWish, yarnOf } from '#tests/support/knit-cases.ts';
import { bulky, gauge, usualHand } from '#tests/support/plan-input.ts';

const woman: PairWish = Object.freeze({ person: 'woman', lengthMm: 240 });

/** Metres of one strand, by role and fabric. */
function metresIn(wish: PairWish): Record<string, number> {
  return Object.fromEntries(
    knit(wish)
      .spec.metres.filter((each) => each.strand === 0)
      .map((each) => [`${each.role} ${each.fabric}`, each.metres.mean]),
  );
}
const totalOf = (wish: PairWish) => knit(wish).spec.metres.reduce((sum, each) => sum + each.metres.mean, 0);

describe('yarn of a pair, by hand', () => {
  // EU 38, 13 x 18, 100 g balls of 1000 tex; l = sqrt(21.6 / 2.34) = 3.038218 cm. One slipper, metres:
  // foot, stocking: loops 28 + 41 x 28 + 14 x 1.2 = 1192.8 -> 36.23986; cuff cast-on 34 -> 1.03299; tails 3 x 28 x
  //   7.6923 + 150 = 0.79615 and 3 x 34 x 7.6923 + 150 = 0.93462; draw-up 0.2; heel seam 2 x 103.846 = 0.20769; top
  //   2 x 21 rows x 5.5556 = 0.23333; cuff to foot 2 x 253.846 + 300 = 0.80769. In all 40.45234, the pair with joins
  //   x 2 x 1.003 = 81.1474.
  // foot, rib: 2 x 34 x 1.1 l = 2.27259, x 2.006 = 4.5588.
  // cuff, rib: 6 x 34 x 1.1 l = 6.81776; bind-off 5 x 34 x 7.6923 + 150 = 1.45769; back seam 2 x 9 rows = 0.1. 8.37545,
  //   x 2.006 = 16.8012.
  it('in one colour: 102.5 m, and so many grams', () => {
    const metres = metresIn(woman);
    expect(metres['foot stocking']).toBeCloseTo(81.1474, 3);
    expect(metres['foot rib 2x2']).toBeCloseTo(4.5588, 3);
    expect(metres['cuff rib 2x2']).toBeCloseTo(16.8012, 3);
    expect(totalOf(woman)).toBeCloseTo(102.5074, 3);
  });

  it('in two colours: an end of 15 cm more for each at the change, in each cuff', () => {
    const [one, two] = [metresIn(woman), metresIn({ ...woman, cuffColour: 2 })];
    const ends = 2 * 0.15 * 1.003;
    expect(two['foot rib 2x2']! - one['foot rib 2x2']!).toBeCloseTo(ends, 9);
    expect(two['cuff rib 2x2']! - one['cuff rib 2x2']!).toBeCloseTo(ends, 9);
    expect(two['foot stocking']).toBe(one['foot stocking']);
  });

  it('without a cuff: the foot alone, 75.6 m', () => {
    // 40.45234 - 1.03299 - 0.93462 - 0.80769 = 37.67704, x 2.006.
    expect(metresIn({ ...woman, cuff: 'none' })).toEqual({ 'foot stocking': expect.closeTo(75.5802, 3) });
  });

  it('with a second two-together row: its plain row too', () => {
    // EU 46: loops 33 + 49 x 33 + 17 x 1.2 + 17 + 9 x 1.2 = 1698.2 -> 51.59492 m; cuff cast-on 42 -> 1.27605; tails 0.91154
    // and 1.11923; draw-up 0.2; heel 0.24615; top 2 x 26 rows = 0.28889; cuff to foot 2 x 315.385 + 300 = 0.93077.
    // 56.56755 x 2.006 = 113.4747.
    expect(metresIn({ person: 'man', lengthMm: 880 / 3 })['foot stocking']).toBeCloseTo(113.4745, 3);
  });

  it('two strands of 500 tex: twice the metres, the same grams as one of 1000', () => {
    const one = knit({ ...woman, yarns: [yarnOf(1000, { ballMg: 100_000 })] }).spec.metres;
    const strand = yarnOf(500, { ballMg: 50_000, needleMm: 7 });
    const two = knit({ ...woman, yarns: [strand, strand] }).spec.metres;
    const metres = (list: typeof one) => list.reduce((sum, each) => sum + each.metres.mean, 0);
    expect(metres(two)).toBeCloseTo(2 * metres(one), 9);
    expect(metres(two) * 0.5).toBeCloseTo(metres(one) * 1, 9);
    expect(new Set(two.map((each) => each.strand))).toEqual(new Set([0, 1]));
  });

  // Not millimetre by millimetre: a row more to the mark shortens the top seam, and one stitch more may call for the
  // second two-together row, which saves a metre.
  it('grows with the foot, 2 cm at a time, and with the cuff', () => {
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 320 }), fc.integer({ min: 20, max: 40 }), (lengthMm, more) => {
        const at = (mm: number, cuff: PairWish['cuff'] = 'none') => totalOf({ person: 'unknown', lengthMm: mm, cuff });
        expect(at(lengthMm + more)).toBeGreaterThan(at(lengthMm));
        expect(at(lengthMm, 'short')).toBeGreaterThan(at(lengthMm));
        expect(at(lengthMm, 'turned down')).toBeGreaterThan(at(lengthMm, 'short'));
      }),
    );
  });
});

describe('standing checks on the loops', () => {
  it('metres a row between 3 and 4.3 times its width, over the gauges of the yarn bands', () => {
    for (const [stitches, rows] of [
      [9, 12],
      [13, 18],
      [14, 18],
      [14, 20],
      [18, 24],
      [20, 28],
      [22, 30],
    ] as const) {
      const { worked } = knit({ ...woman, stitches, rows });
      const foot = worked.pieces[0]!;
      const perRow = (foot.castOn.value * foot.gauge.loop.value) / 100;
      const width = (foot.castOn.value * 0.1) / stitches;
      expect(perRow / width).toBeGreaterThan(3);
      expect(perRow / width).toBeLessThan(4.3);
    }
  });
});

describe('errors', () => {
  const relativeIn = (hand: Hand, wish: PairWish = woman) =>
    Object.fromEntries(
      specifyWithWorking(kindOf(wish).shape, hand).metres.map((each) => [
        `${each.role} ${each.fabric}`,
        each.error.value,
      ]),
    );
  const handWith = (changes: Partial<Gauge>): Hand => ({
    ...usualHand,
    gauges: [{ ...gauge('1', 13, 18), ...changes }],
  });

  it('7 % from the gauge in stocking stitch, 11 % in rib', () => {
    expect(relativeIn(usualHand)).toEqual({ 'foot stocking': 0.07, 'foot rib 2x2': 0.11, 'cuff rib 2x2': 0.11 });
  });

  it('a weighed swatch knows its own fabric only', () => {
    const weighed = handWith({ loopCm: 3, loopRelativeSd: 0.037 });
    expect(relativeIn(weighed)).toEqual({ 'foot stocking': 0.037, 'foot rib 2x2': 0.11, 'cuff rib 2x2': 0.11 });
    const { spec } = specifyWithWorking(kindOf(woman).shape, weighed);
    // Loops alone go with the loop: 3 for 3.038218 cm. 36.23986 + 1.03299 = 37.27285 m of loops, 1.2498 % less.
    const less = 37.27285 * (1 - 3 / loopLengthCm(13, 18, 21.6)) * 2.006;
    expect(spec.metres[0]!.metres.mean).toBeCloseTo(81.1474 - less, 3);
  });

  it('12 % where the gauge is a guess', () => {
    expect(relativeIn({ key: 'none', tightness: 'usual', gauges: [] })).toEqual({
      'foot stocking': 0.12,
      'foot rib 2x2': 0.12,
      'cuff rib 2x2': 0.12,
    });
  });

  it('each pair has 5 % of its own beside what all share', () => {
    const { metres } = knit({ ...woman, cuff: 'none', yarns: [bulky] }).spec;
    expect(metres[0]!.metres.sharedSd).toBeCloseTo(0.07 * 75.5802, 3);
    expect(metres[0]!.metres.ownVariance).toBeCloseTo((0.05 * 75.5802) ** 2, 2);
    expect(estimateOf(0, 0.07)).toEqual({ mean: 0, sharedSd: 0, ownVariance: 0 });
  });
});

describe('a fabric with a swatch of its own', () => {
  const { shape } = kindOf(woman);
  const handOf = (...gauges: Gauge[]): Hand => ({ key: 'hand', tightness: 'usual', gauges });
  const rib = { ...gauge('1', 15, 19), fabric: 'rib 2x2', loopCm: 3.5, loopRelativeSd: 0.0415 };

  // 20 x 20 stitches of 2x2 weighing 14 g at 1000 tex: 14 m / 400 = 3.5 cm each, in place of 1.1 x 3.038 = 3.342 cm.
  // Foot colour 2 x 34 x 3.5 cm = 2.38 m, x 2.006 = 4.7743; cuff colour 6 x 34 x 3.5 cm + 1.45769 + 0.1 = 8.69769, x 2.006
  // = 17.4476. Error sqrt(3.6^2 + (29 / 14)^2) = 4.15 % in place of 11 %.
  it('a weighed rib: its own loop and its own error, everything else as before', () => {
    const plain = specifyWithWorking(shape, handOf(gauge('1', 13, 18))).spec;
    const { spec } = specifyWithWorking(shape, handOf(gauge('1', 13, 18), rib));
    const of = (role: string, fabric: string, from = spec) =>
      from.metres.find((each) => each.role === role && each.fabric === fabric)!.metres;
    expect(of('foot', 'rib 2x2').mean).toBeCloseTo(4.7743, 3);
    expect(of('cuff', 'rib 2x2').mean).toBeCloseTo(17.4476, 3);
    expect(of('cuff', 'rib 2x2').sharedSd).toBeCloseTo(17.4476 * 0.0415, 3);
    expect(of('cuff', 'rib 2x2', plain).sharedSd).toBeCloseTo(16.8012 * 0.11, 3);
    expect(of('foot', 'stocking')).toEqual(of('foot', 'stocking', plain));
    expect(spec.pieces).toEqual(plain.pieces);
  });

  it('a rib that was only counted changes nothing', () => {
    const plain = specifyWithWorking(shape, handOf(gauge('1', 13, 18))).spec;
    const counted = handOf(gauge('1', 13, 18), { ...rib, loopCm: null, loopRelativeSd: null });
    expect(specifyWithWorking(shape, counted).spec).toEqual(plain);
  });

  // Garter slipper, EU 38: 0.93 x 224.5028 = 208.788 mm. By its own square of 12 x 24: 25.05 + 1 -> 26 st; heel part 0.528 x
  // 240 = 126.72 mm = 30.41 rows less the cast-on -> odd 29. By stocking 13 x 18 alone: 28 st; 26 rows in 10 cm, 32.95 - 1 ->
  // odd 31.
  it('garter stitch by its own square has its own stitches and rows', () => {
    const style = { versionId: 9, name: 'Garter slipper', body: garterSlipper };
    const pair = kindFor({ ...shape, style, colours: { foot: [1] }, yarns: { foot: [bulky] }, cuff: 'none' }).shape;
    const countsWith = (...gauges: Gauge[]) => {
      const { spec } = specifyWithWorking(pair, handOf(...gauges));
      const foot = spec.pieces[0]!;
      const heel = foot.sections.find((each) => each.name === 'heel part')!.rows;
      return [foot.castOnStitches, heel, spec.isGaugeGuessed];
    };
    const garter = { ...gauge('1', 12, 24), fabric: 'garter' };
    expect(countsWith(gauge('1', 13, 18))).toEqual([28, 31, false]);
    expect(countsWith(gauge('1', 13, 18), garter)).toEqual([26, 29, false]);
    expect(countsWith(garter)).toEqual([26, 29, false]);
  });
});
