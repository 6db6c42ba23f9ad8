import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  gaugeOf,
  loopLengthCm,
  rowsFromStitches,
  texTogether,
  usualNeedleMm,
  usualStitchesByCategory,
} from '#core/gauge/gauge.ts';
import { type Gauge, type Hand, type YarnCategory, yarnsKey } from '#core/gauge/hand.ts';
import { gramsOf, texFromMetres } from '#core/yardage/rules.ts';
import { yarnOf } from '#tests/support/knit-cases.ts';
import { gauge } from '#tests/support/plan-input.ts';
import { readReference } from '#tests/support/reference.ts';

const cases = readReference('knit-worked-examples.csv').map((row) => ({
  id: row.id!,
  topic: row.topic!,
  answer: row.answer!,
  within: Number(row.abs_tolerance),
  /** Inputs as lists: `counts=60|40` is [60, 40]. */
  inputs: Object.fromEntries(
    row.inputs!.split(';').map((input) => {
      const [name, values] = input.split('=') as [string, string];
      return [name, values.split('|').map(Number)];
    }),
  ) as Record<string, number[]>,
}));
const caseOf = (id: string) => cases.find((each) => each.id === id)!;

const handWith = (gauges: readonly Gauge[] = [], tightness: Hand['tightness'] = 'usual'): Hand => ({
  key: 'hand',
  tightness,
  gauges,
});

describe('loopLengthCm', () => {
  // Loop lengths worked from l = sqrt(Ks / S), metres of yarn in 10 x 10 cm from sqrt(Ks x S), each to the digits printed.
  it.each([
    [13, 18, 3.04, 7.11, 6.67, 7.35],
    [14, 18, 2.93, 7.38, 6.92, 7.63],
    [14, 20, 2.78, 7.78, 7.29, 8.04],
    [18, 24, 2.24, 9.66, 9.06, 9.99],
    [20, 28, 1.96, 11.0, 10.32, 11.37],
    [22, 30, 1.81, 11.94, 11.2, 12.35],
  ])('%d x %d in 10 cm: %d cm a stitch, %d m in 10 x 10 cm', (stitches, rows, loopCm, metres, least, most) => {
    const metresAt = (ks: number) => (stitches * rows * loopLengthCm(stitches, rows, ks)) / 100;
    expect(loopLengthCm(stitches, rows, 21.6)).toBeCloseTo(loopCm, 2);
    for (const [ks, printed] of [
      [21.6, metres],
      [19, least],
      [23.1, most],
    ] as const)
      expect(Math.abs(metresAt(ks) - printed)).toBeLessThanOrEqual(0.0051);
    // A knitter's outside rule, yards = inches long x inches wide x stitches an inch / 6: 8 to 14 % above, for buying.
    const ruleMetres = ((10 / 2.54) ** 2 * ((stitches * 2.54) / 10) * 0.9144) / 6;
    expect(ruleMetres / metresAt(21.6)).toBeGreaterThan(1.075);
    expect(ruleMetres / metresAt(21.6)).toBeLessThan(1.142);
    // The other: a row takes 3 to 4.3 times its width.
    const perWidth = (loopLengthCm(stitches, rows, 21.6) * stitches) / 10;
    expect(perWidth).toBeGreaterThan(3);
    expect(perWidth).toBeLessThan(4.3);
  });

  it('gives back the stitches of an examination question: Kw 4.2, Kc 5.5, loop 0.5 cm', () => {
    const { inputs, answer, within } = caseOf('gate2015-54');
    const ks = inputs.Kw![0]! * inputs.Kc![0]!;
    const [wales, courses] = [inputs.Kw![0]! / 0.5, inputs.Kc![0]! / 0.5];
    expect(Math.abs(wales * courses - Number(answer))).toBeLessThanOrEqual(within);
    expect(loopLengthCm(wales * 10, courses * 10, ks)).toBeCloseTo(0.5, 9);
  });

  it('is within a stitch a yard of a knitter who counted 45', () => {
    const { inputs, answer, within } = caseOf('hand-munden');
    const loopCm = loopLengthCm((inputs.sts_per_in![0]! * 10) / 2.54, (inputs.rows_per_in![0]! * 10) / 2.54, 21.6);
    expect(Math.abs(91.44 / loopCm - Number(answer))).toBeLessThanOrEqual(within);
    // Her cloth of 25 200 stitches took 560 yards: 10 % is asked of a loop from the gauge alone, it does better.
    expect((25_200 * loopCm) / 91.44 / 560).toBeGreaterThan(0.9);
    expect((25_200 * loopCm) / 91.44 / 560).toBeLessThan(1.1);
  });

  it('gives back the loop of a cloth simulated at rest: 2.82 x 2.12 mm a stitch, 11.28 mm of yarn', () => {
    const { inputs } = caseOf('sim-rest');
    const stitches = 100 / inputs.cell_w_mm![0]!;
    const rows = 100 / inputs.cell_h_mm![0]!;
    expect(loopLengthCm(stitches, rows, 21.3) * 10).toBeCloseTo(11.28, 1);
    // Ks 21.6 for a washed cloth, all we know of it: still within 1 %.
    expect(loopLengthCm(stitches, rows, 21.6) / 1.128).toBeCloseTo(1, 1);
  });

  it('scales: half the stitches and rows, twice the loop', () => {
    fc.assert(
      fc.property(fc.double({ min: 5, max: 40, noNaN: true }), fc.double({ min: 5, max: 60, noNaN: true }), (s, r) => {
        expect(loopLengthCm(s / 2, r / 2, 21.6)).toBeCloseTo(2 * loopLengthCm(s, r, 21.6), 9);
      }),
    );
  });
});

describe('texTogether', () => {
  // W. Davis, Hosiery Manufacture: folded counts. A count of hank yards in a pound is 453.592 / (count x hank x 0.9144) x
  // 1000 tex, so the sum of the tex gives the folded count back, whatever the hank.
  const tex = (count: number, hankYards = 560) => 453_592.37 / (count * hankYards * 0.9144);
  const countOf = (texTotal: number, hankYards = 560) => 453_592.37 / (texTotal * hankYards * 0.9144);
  it.each(
    cases.filter((each) => each.topic === 'combined_strands' && each.inputs.counts && !/share|price/.test(each.id)),
  )('$id', ({ inputs, answer, within }) => {
    const total = texTogether(inputs.counts!.map((count) => ({ tex: tex(count) })));
    expect(Math.abs(countOf(total) - Number(answer))).toBeLessThanOrEqual(within);
  });

  it('shares of weight and prices of blends: each strand weighs as its tex', () => {
    for (const id of ['davis-31-share', 'davis-33-share']) {
      const { inputs, answer, within } = caseOf(id);
      const strands = inputs.counts!.map((count) => ({ tex: tex(count) }));
      const whole = inputs.total_lb?.[0] ?? 100;
      const shares = strands.map((strand) => (strand.tex / texTogether(strands)) * whole);
      for (const [i, share] of shares.entries())
        expect(Math.abs(share - Number(answer.split('|')[i]))).toBeLessThanOrEqual(within);
    }
    for (const id of ['davis-31-price', 'davis-33-price']) {
      const { inputs, answer, within } = caseOf(id);
      const strands = inputs.counts!.map((count) => ({ tex: tex(count) }));
      const prices = inputs.price_shillings_per_lb!;
      const blend = strands.reduce((sum, strand, i) => sum + strand.tex * prices[i]!, 0) / texTogether(strands);
      expect(Math.abs(blend - Number(answer))).toBeLessThanOrEqual(within);
    }
  });

  it.each(cases.filter((each) => each.id.startsWith('double-')))('$id m in 100 g', ({ inputs, answer }) => {
    const strands = Array.from({ length: inputs.strands![0]! }, () => ({ tex: texFromMetres(inputs.m_per_100g![0]!) }));
    expect(100_000 / texTogether(strands)).toBeCloseTo(Number(answer), 9);
  });

  it('the tex table: metres in 100 g', () => {
    const table = [
      [400, 250],
      [300, 333],
      [250, 400],
      [200, 500],
      [170, 588],
      [150, 667],
      [120, 833],
      [100, 1000],
      [80, 1250],
      [60, 1667],
    ] as const;
    for (const [metres, printed] of table) {
      expect(Math.round(texFromMetres(metres))).toBe(printed);
      expect(gramsOf(metres, texFromMetres(metres))).toBeCloseTo(100, 9);
    }
  });
});

describe('a guessed gauge', () => {
  it.each(readReference('yarn-weights.csv').map((row) => [Number(row.category), row.name, row] as const))(
    'category %d, %s: within the published stitches and needles',
    (category, _, row) => {
      const usual = usualStitchesByCategory[category]!;
      expect(usual).toBeGreaterThanOrEqual(Number(row.sts_per_4in_min || 0));
      expect(usual).toBeLessThanOrEqual(Number(row.sts_per_4in_max));
      const needleMm = usualNeedleMm(1, category as YarnCategory);
      expect(needleMm).toBeGreaterThanOrEqual(Number(row.needle_mm_min));
      if (row.needle_mm_max) expect(needleMm).toBeLessThanOrEqual(Number(row.needle_mm_max));
      // Metres overlap, so only the number of the category is asked to fall.
      if (category > 0) expect(usual).toBeLessThan(usualStitchesByCategory[category - 1]!);
    },
  );

  // Yarn diameter goes as the square root of tex: 20 -> 14.1, 17 -> 12.0, 22 -> 15.6 for two strands, x 0.577 for three.
  it.each([
    [20, 2, 14.1],
    [17, 2, 12.0],
    [22, 2, 15.6],
    [20, 3, 11.5],
  ])('%d stitches in one strand: %d strands give %d', (usualStitches, strands, stitches) => {
    const yarns = Array.from({ length: strands }, () => yarnOf(500, { usualStitches }));
    const guessed = gaugeOf(handWith(), yarns);
    expect(guessed.source).toBe('guess');
    expect(guessed.stitches.value).toBeCloseTo(stitches, 1);
    expect(guessed.rows.value).toBeCloseTo((guessed.stitches.value * 4) / 3, 9);
    expect(guessed.texTotal).toBe(500 * strands);
  });

  it('two unlike strands: from the first, by all the tex', () => {
    // 20 stitches at 400 tex, with 200 tex more: 20 x sqrt(400 / 600) = 16.33.
    const yarns = [yarnOf(400, { usualStitches: 20 }), yarnOf(200)];
    expect(gaugeOf(handWith(), yarns).stitches.value).toBeCloseTo(16.33, 2);
  });

  it('loose, usual and tight knitters: 0.92, 1, 1.08 of the stitches', () => {
    const yarns = [yarnOf(1000, { usualStitches: 13 })];
    const at = (tightness: Hand['tightness']) => gaugeOf(handWith([], tightness), yarns).stitches.value;
    expect(at('loose')).toBeCloseTo(11.96, 9);
    expect(at('usual')).toBe(13);
    expect(at('tight')).toBeCloseTo(14.04, 9);
  });

  it('rows go 4 to 3 stitches', () => {
    expect(rowsFromStitches(13.5)).toBe(18);
    expect(rowsFromStitches(0)).toBe(0);
  });
});

describe('gaugeOf', () => {
  const yarn = yarnOf(1000);
  it('takes the first gauge of these strands in stocking stitch', () => {
    const gauges = [
      { ...gauge('1000', 20, 40), fabric: 'garter' },
      gauge('5', 9, 12),
      gauge('1000', 13, 18),
      gauge('1000', 14, 19),
    ];
    const own = gaugeOf(handWith(gauges), [yarn]);
    expect([own.stitches.value, own.rows.value, own.source]).toEqual([13, 18, 'swatch']);
    expect(gaugeOf(handWith(gauges), [yarn, yarn]).source).toBe('guess');
  });

  it('washed and not washed: Ks 21.6 and 19.0, a loop 6.2 % shorter', () => {
    const loopAt = (isWashed: boolean) =>
      gaugeOf(handWith([{ ...gauge('1000', 13, 18), isWashed }]), [yarn]).loop.value;
    expect(loopAt(true)).toBeCloseTo(3.0382, 4);
    expect(loopAt(false)).toBeCloseTo(2.8495, 4); // sqrt(19 / 2.34)
    expect(loopAt(false) / loopAt(true)).toBeCloseTo(Math.sqrt(19 / 21.6), 9);
  });

  it('a weighed loop beats the formula, with its own error', () => {
    const weighed = { ...gauge('1000', 13, 18), loopCm: 2.9, loopRelativeSd: 0.04 };
    expect(gaugeOf(handWith([weighed]), [yarn])).toMatchObject({ loop: { value: 2.9 }, loopError: { value: 0.04 } });
    const unravelled = { ...weighed, loopRelativeSd: null };
    expect(gaugeOf(handWith([unravelled]), [yarn]).loopError!.value).toBe(0.06);
    expect(gaugeOf(handWith([gauge('1000', 13, 18)]), [yarn]).loopError).toBeNull();
  });

  it('names strands without regard to their order, and refuses none at all', () => {
    expect(yarnsKey([{ id: 12 }, { id: 3 }, { id: 3 }])).toBe('3+3+12');
    expect(() => yarnsKey([])).toThrow(RangeError);
    expect(() => gaugeOf(handWith(), [])).toThrow(RangeError);
  });
});

describe('gaugeOf a fabric with a swatch of its own', () => {
  const yarn = yarnOf(1000);
  const rib = { ...gauge('1000', 15, 19), fabric: 'rib 2x2', loopCm: 3.5, loopRelativeSd: 0.042 };
  const garter = { ...gauge('1000', 12, 24), fabric: 'garter' };

  it('a weighed rib says its own yarn, and leaves the stocking gauge alone', () => {
    const own = gaugeOf(handWith([rib, gauge('1000', 13, 18)]), [yarn]);
    expect([own.stitches.value, own.rows.value]).toEqual([13, 18]);
    expect(own.own['rib 2x2']).toMatchObject({ loop: { value: 3.5 }, loopError: { value: 0.042 } });
    expect(gaugeOf(handWith([{ ...rib, loopCm: null }]), [yarn]).own['rib 2x2']!.loop).toBeNull();
    expect(gaugeOf(handWith([rib]), [yarn, yarn]).own).toEqual({});
  });

  it('a piece in garter stitch takes the garter stitches, and the stocking loop of the same hand', () => {
    const own = gaugeOf(handWith([garter, gauge('1000', 13, 18)]), [yarn], 'garter');
    expect([own.stitches.value, own.rows.value, own.own.garter!.rows.value]).toEqual([12, 18, 24]);
    expect(own.loop.value).toBeCloseTo(3.0382, 4);
    expect(gaugeOf(handWith([garter, gauge('1000', 13, 18)]), [yarn]).stitches.value).toBe(13);
  });

  it('with a garter swatch alone nothing is a guess: Ks 30 on its counts', () => {
    const own = gaugeOf(handWith([garter]), [yarn], 'garter');
    expect([own.source, own.stitches.value]).toEqual(['swatch', 12]);
    expect(own.loop.value).toBeCloseTo(3.2275, 4); // sqrt(30 / (1.2 x 2.4))
    expect(own.loopError!.value).toBe(0.11);
    const weighed = gaugeOf(handWith([{ ...garter, loopCm: 3.1, loopRelativeSd: 0.04 }]), [yarn], 'garter');
    expect(weighed).toMatchObject({ loop: { value: 3.1 }, loopError: { value: 0.04 } });
    expect(gaugeOf(handWith([garter]), [yarn]).source).toBe('guess');
  });
});
