import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import { costFigures } from '#core/pricing/cost.ts';
import { priceFigure } from '#core/pricing/price.ts';
import { type Figure, given, rule, withSd, work } from '#core/shared/figure.ts';
import { wordsWithNumbers, workingOf } from '#core/shared/working.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFigures, footFrom } from '#core/sizing/girths.ts';
import { footLengthFromLabel } from '#core/sizing/labels.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { bodyFigures } from '#core/styles/work-out.ts';
import { minutesFigure, usualRates } from '#core/timing/minutes.ts';
import { yardageRules } from '#core/yardage/rules.ts';
import { faultsIn } from '#tests/support/adds-up.ts';
import { bulky, byOrder, gauge, medium, slipper, usualHand } from '#tests/support/plan-input.ts';

const sum = (name: string, inputs: readonly Figure[]): Figure => ({
  rule: {
    name,
    unit: 'm',
    mark: 'ours',
    source: 'a sum',
    words: inputs.map((each) => `{${each.rule.name}}`).join(' + '),
  },
  value: inputs.reduce((total, each) => total + each.value, 0),
  sd: 0,
  inputs,
});

const area = rule(
  { name: 'area', unit: 'count', mark: 'ours', source: 'geometry', words: '{width} x {height} - {width} x 0' },
  (width: number, height: number) => width * height,
);

describe('wordsWithNumbers', () => {
  it('puts the n-th input where the n-th new name stands, again where the name comes again', () => {
    const figure = work(area, given('a', 3, 'mm', 'yours'), given('b', 4, 'mm', 'yours'));
    expect(wordsWithNumbers(figure, 'EUR')).toBe('3\u00a0mm × 4\u00a0mm − 3\u00a0mm × 0');
  });

  it('keeps parts of a sum apart that have the same name, whatever is in the name', () => {
    const parts = [1, 2, 4.5].map((value) => given('seam {x} + y', value, 'm', 'ours'));
    expect(wordsWithNumbers(sum('yarn', parts), 'EUR')).toBe('1\u00a0m + 2\u00a0m + 4.5\u00a0m');
  });

  it('takes the inputs by place when a rule has fewer names than inputs', () => {
    const twice = rule(
      { name: 'both', unit: 'mm', mark: 'ours', source: '', words: '{edge} + {edge}' },
      (left: number, right: number) => left + right,
    );
    expect(wordsWithNumbers(work(twice, given('edge', 5, 'mm', 'ours'), given('edge', 7, 'mm', 'ours')), 'EUR')).toBe(
      '5\u00a0mm + 7\u00a0mm',
    );
  });

  it('shows more digits where the usual ones do not lead to the result', () => {
    // 0.06 mm is 0.1 mm at one digit, and 1 000 times that is 100, not 60.
    const figure = work(area, given('a', 0.06, 'mm', 'ours'), given('b', 1000, 'count', 'ours'));
    expect(wordsWithNumbers(figure, 'EUR')).toContain('0.06\u00a0mm × 1,000');
  });

  it.each([
    ['EUR', 'nearest cent'],
    ['GBP', 'nearest penny'],
    ['JPY', 'nearest yen'],
    ['SEK', 'nearest hundredth of a krona'],
    ['CHF', 'nearest hundredth of a franc'],
    ['KWD', 'nearest thousandth of a dinar'],
  ])('says in %s to the %s', (currency, words) => {
    const whole = rule(
      { name: 'b', unit: 'cents', mark: 'ours', source: '', words: '{a}, to the nearest cent' },
      Math.round,
    );
    const figure = work(whole, given('a', 6260.33, 'cents', 'yours'));
    expect(workingOf(figure, currency).words).toBe(`a, to the ${words}`);
    expect(wordsWithNumbers(figure, currency)).toContain(`, to the ${words}`);
  });

  it('is empty for what was not computed', () => {
    expect(wordsWithNumbers(given('foot length', 240, 'mm', 'yours'), 'EUR')).toBe('');
  });
});

describe('workingOf', () => {
  it.each<[number, Parameters<typeof given>[2], string, string]>([
    [240, 'mm', 'EUR', '240\u00a0mm'],
    [224.5028, 'mm', 'EUR', '224.5\u00a0mm'],
    [28, 'stitches', 'EUR', '28 stitches'],
    [1, 'rows', 'EUR', '1 row'],
    [0.5, 'stitches', 'EUR', '0.5 stitches'],
    [-0.0749, 'percent', 'EUR', '−7.5%'],
    [1227, 'loops', 'EUR', '1,227 stitches'],
    [13, 'per 10 cm', 'EUR', '13 in 10\u00a0cm'],
    [1200, 'cents per h', 'GBP', '£12.00 an hour'],
    [6.2, 'cents per g', 'EUR', '€0.062 a gram'],
    [500, 'cents', 'JPY', '¥500'],
    [-50, 'cents', 'GBP', '−£0.50'],
  ])('shows %d %s in %s as %s', (value, unit, currency, text) => {
    expect(workingOf(given('x', value, unit, 'yours'), currency).valueText).toBe(text);
  });

  it('says how far a value may lie to either side', () => {
    expect(workingOf(withSd(given('girth', 224.5, 'mm', 'published'), 9.37), 'EUR').sdText).toBe('±9.4\u00a0mm');
    expect(workingOf(given('girth', 224.5, 'mm', 'published'), 'EUR').sdText).toBeNull();
  });

  it('calls a tie a tie where no number of digits would show it', () => {
    const nearest = rule(
      { name: 'rows', unit: 'rows', mark: 'ours', source: '', words: 'nearest to {length} x {rows in 1 mm}' },
      (lengthMm: number, perMm: number) => Math.floor(lengthMm * perMm + 0.5 + 1e-9),
    );
    // 236.111... x 0.18 = 42.5, which goes up; 236.1 x 0.18 = 42.498 does not, nor does any longer decimal.
    const figure = work(nearest, given('length', 850 / 3.6, 'mm', 'ours'), given('rows', 0.18, 'ratio', 'yours'));
    expect(figure.value).toBe(43);
    expect(workingOf(figure, 'EUR').formulaText).toBe('nearest to 236.1\u00a0mm × 0.18 (a tie, which goes up)');
  });

  it('shows a step in full once, and then says where', () => {
    const inner = work(area, given('a', 3, 'mm', 'yours'), given('b', 4, 'mm', 'yours'));
    const tree = workingOf(sum('both', [inner, inner]), 'EUR');
    expect(tree.steps.map((step) => [step.shownAt, step.steps.length])).toEqual([
      [null, 2],
      [tree.steps[0]!.id, 0],
    ]);
  });
});

const yarns: readonly Yarn[] = [
  bulky,
  medium,
  { ...bulky, id: 3, tex: 437, ballMg: 40_000, category: 4, needleMm: null },
];
const hands: readonly Hand[] = [
  usualHand,
  { key: 'tight', tightness: 'tight', gauges: [] },
  {
    key: 'loose',
    tightness: 'loose',
    gauges: [gauge('1', 12.37, 16.81), { ...gauge('2', 17.29, 23.4), loopCm: 2.2871 }],
  },
];

/** Everything a page may open for one pair. */
function figuresOf(person: Person, lengthMm: number, yarn: Yarn, hand: Hand, cuff: 'short' | 'none'): Figure[] {
  const label = footLengthFromLabel({ person: person === 'child' ? 'child' : person, system: 'UK', label: '9.5' });
  const foot = footFrom({ person, lengthMm });
  const kind = kindFor({
    style: slipper,
    foot,
    fit: 'snug',
    yarns: { foot: [yarn], cuff: [yarn, yarn] },
    colours: { foot: [1], cuff: [2, 3] },
    cuff,
  });
  const girths = footFigures(foot);
  const body = { ...bodyFigures(kind.shape), ballGirth: girths.ballGirth, heelAnkleGirth: girths.heelAnkleGirth };
  const { spec, worked, metres, heelToToe, girthEase, lengthEase } = specifyWithWorking(kind.shape, hand, body);
  const minutes = minutesFigure(spec.operations, usualRates).total;
  const grams = metres.map((each) =>
    work(yardageRules.grams, each.metres, given('tex', each.yarn.tex, 'tex', 'yours')),
  );
  const yarnCents = grams.reduce((total, each) => total + each.value * 6.137, 0);
  const cost = costFigures(
    { yarnCents, materialsCents: 105, minutes: minutes.value, wageCentsPerHour: 1234, overheadCentsPerHour: 41.7 },
    { minutes },
  ).total;
  const outlet = { ...byOrder, feeRatio: 0.0175, taxRatio: 0.19 };
  const prices = [priceFigure(cost, outlet), priceFigure(cost, { ...outlet, priceRule: 'markup', endingCents: null })];
  return [
    ...(label.ok ? [label.value] : []),
    ...worked.pieces.flatMap((piece) => [piece.castOn, piece.totalRows, piece.width, piece.length]),
    ...worked.marks.flatMap((mark) => [mark.rows, mark.edge]),
    worked.needed,
    ...Object.values(worked.lengths),
    heelToToe,
    girthEase,
    lengthEase,
    ...grams,
    minutes,
    cost,
    ...prices.flatMap((price) => (price.ok ? [price.value] : [])),
  ];
}

describe('numbers shown', () => {
  it('lead by hand from the shown inputs to the shown result, for any pair', () => {
    const counted = { steps: 0 };
    fc.assert(
      fc.property(
        fc.constantFrom<Person>('woman', 'man', 'child', 'unknown'),
        fc.double({ min: 95, max: 320, noNaN: true }),
        fc.constantFrom(...yarns),
        fc.constantFrom(...hands),
        fc.constantFrom<'short' | 'none'>('short', 'none'),
        (person, lengthMm, yarn, hand, cuff) => {
          const faults = figuresOf(person, lengthMm, yarn, hand, cuff).flatMap((figure) =>
            faultsIn(figure, workingOf(figure, 'EUR'), counted),
          );
          expect(faults).toEqual([]);
        },
      ),
      { numRuns: 150 },
    );
    expect(counted.steps).toBeGreaterThan(10_000);
  });

  it('would be found wrong when they were', () => {
    const off = { ...work(area, given('a', 3, 'mm', 'yours'), given('b', 4, 'mm', 'yours')), value: 14 };
    const step = workingOf(off, 'EUR');
    expect(faultsIn(off, step)).not.toEqual([]);
  });
});
