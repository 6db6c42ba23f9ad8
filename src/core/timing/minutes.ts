import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { Operations } from '#core/styles/spec.ts';
import type { Rates } from '#core/timing/knitter.ts';
import type { OperationWords } from '#core/timing/operations-words.ts';

/**
 * Rates of an ordinary hand knitter, until her own are known. Stocking stitch 25 a minute: "average" is quoted as 20 to
 * 30; people timing themselves report high 20s to low 40s. The rest is our own choice.
 */
export const usualRates: Rates = {
  stitchesPerMin: 25,
  castOnPerMin: 12,
  twoTogetherPerMin: 12,
  bindOffPerMin: 15,
  turnMin: 0.05,
  seamMinPer10Cm: 2.5,
  endMin: 1.5,
  colourChangeMin: 1,
  drawUpMin: 1.5,
  setUpMin: 2,
};

/** Speed with two strands, or on needles from 6.5 mm. Our own choice. */
const bulkySpeed = 0.9;

/** Relative error of the minutes until she has timed a pair: 20 % (our own choice). */
export const minutesRelativeSd = 0.2;

const byRate = (name: string) =>
  rule(
    { name, unit: 'min', mark: 'ours', source: 'counts over the rate', words: '{stitches} / ({rate} x {speed})' },
    (stitches: number, rate: number, speed: number) => stitches / (rate * speed),
  );
const byEach = (name: string) =>
  rule(
    { name, unit: 'min', mark: 'ours', source: 'counts times minutes', words: '{count} x {minutes each}' },
    (count: number, minutes: number) => count * minutes,
  );
const seam = rule(
  {
    name: 'seams',
    unit: 'min',
    mark: 'ours',
    source: 'length times minutes',
    words: '{seam length} / 100 x {minutes for 10 cm}',
  },
  (mm: number, minutes: number) => (mm / 100) * minutes,
);
const castOn = byRate('casting on');
const twoTogether = byRate('two together');
const bindOff = byRate('binding off');
const turns = byEach('turning rows');
const ends = byEach('weaving in ends');
const changes = byEach('changing colour');
const drawUps = byEach('drawing up');
const setUps = byEach('setting up pieces');

/** Minutes of one pair, with their working. */
export type MinutesFigure = {
  readonly total: Figure;
  /** Of the total: sewing up, ends, drawing up. */
  readonly sewingUpMin: number;
};

const rateRule = rule(
  {
    name: 'rate',
    unit: 'per min',
    mark: 'ours',
    source: 'ribs are slower, garter stitch is quicker than stocking stitch',
    words: '{rate in stocking stitch} x {fabric}',
  },
  (perMin: number, factor: number) => perMin * factor,
);

/** A rate and where it comes from: the knitter's own, or that of an ordinary hand knitter. */
function rateOf(name: string, rates: Rates, key: keyof Rates): Figure {
  const unit = key.endsWith('PerMin') ? 'per min' : 'min';
  if (rates[key] !== usualRates[key]) return given(name, rates[key], unit, 'yours', 'entered for this knitter');
  if (key !== 'stitchesPerMin') return given(name, rates[key], unit, 'ours', 'until you enter your own');
  return given(name, rates[key], unit, 'trade', '20 to 30 quoted; until you enter your own');
}

function fabricRate(fabric: string, rates: Rates): Figure {
  const { speedFactor } = fabricNamed(fabric);
  if (speedFactor === 1) return rateOf('rate', rates, 'stitchesPerMin');
  const factor = given('fabric', speedFactor, 'ratio', 'ours', `${fabric}, against stocking stitch`);
  return work(rateRule, rateOf('rate in stocking stitch', rates, 'stitchesPerMin'), factor);
}

/**
 * Minutes of work in one pair, with the working: stitches at their rates, then turns, seams, ends and set-up.
 *
 * @param operations handwork of the pair
 * @param rates the knitter's
 * @param words what the counts are made of, where somebody will read them
 * @returns the total as a figure, and the part that is sewing up
 */
export function minutesFigure(operations: Operations, rates: Rates, words?: OperationWords): MinutesFigure {
  const why = operations.isBulky
    ? 'two strands, or needles from 6.5 mm, are slower'
    : 'one strand, needles below 6.5 mm';
  const speed = given('speed', operations.isBulky ? bulkySpeed : 1, 'ratio', 'ours', why);
  const stitches = (count: number, of = 'counted') => given('stitches', count, 'stitches', 'ours', of);
  const parts: Figure[] = Object.entries(operations.stitches).map(([fabric, number]) =>
    work(byRate(`knitting ${fabric}`), stitches(number, words?.stitches[fabric]), fabricRate(fabric, rates), speed),
  );
  const atRate = (how: typeof castOn, key: 'castOn' | 'twoTogether' | 'bindOff') =>
    work(
      how,
      stitches(operations[`${key}Stitches`], words?.[`${key}Stitches`]),
      rateOf('rate', rates, `${key}PerMin`),
      speed,
    );
  type Counted = 'rowTurns' | 'piecesBegun' | 'colourChanges' | 'drawUps' | 'ends';
  const atEach = (how: typeof turns, counted: Counted, key: keyof Rates) =>
    work(
      how,
      given('count', operations[counted], 'count', 'ours', words?.[counted] ?? 'counted'),
      rateOf('minutes each', rates, key),
    );
  parts.push(
    atRate(castOn, 'castOn'),
    atRate(twoTogether, 'twoTogether'),
    atRate(bindOff, 'bindOff'),
    atEach(turns, 'rowTurns', 'turnMin'),
    atEach(setUps, 'piecesBegun', 'setUpMin'),
    atEach(changes, 'colourChanges', 'colourChangeMin'),
  );
  const seamMm = given('seam length', operations.seamMm, 'mm', 'ours', words?.seamMm ?? 'counted');
  const sewing = [
    atEach(drawUps, 'drawUps', 'drawUpMin'),
    work(seam, seamMm, rateOf('minutes for 10 cm', rates, 'seamMinPer10Cm')),
    atEach(ends, 'ends', 'endMin'),
  ];
  const all = [...parts, ...sewing];
  const value = all.reduce((sum, part) => sum + part.value, 0);
  return {
    total: {
      rule: {
        name: 'time for a pair',
        unit: 'min',
        mark: 'ours',
        source: 'a sum; sure to about 20 %, less once your own speed is entered',
        words: all.map((part) => `{${part.rule.name}}`).join(' + '),
      },
      value,
      sd: value * minutesRelativeSd,
      inputs: all,
    },
    sewingUpMin: sewing.reduce((sum, part) => sum + part.value, 0),
  };
}

/**
 * Minutes of work in one pair for a knitter: the sum of the same rules as `minutesFigure`, in plain numbers.
 *
 * @returns minutes, not rounded; above 0 for any pair that has stitches
 */
export function minutesOfPair(operations: Operations, rates: Rates): number {
  const speed = operations.isBulky ? bulkySpeed : 1;
  let minutes = 0;
  for (const fabric in operations.stitches) {
    const rate = rates.stitchesPerMin * fabricNamed(fabric).speedFactor;
    minutes += castOn.formula(operations.stitches[fabric]!, rate, speed);
  }
  minutes += castOn.formula(operations.castOnStitches, rates.castOnPerMin, speed);
  minutes += twoTogether.formula(operations.twoTogetherStitches, rates.twoTogetherPerMin, speed);
  minutes += bindOff.formula(operations.bindOffStitches, rates.bindOffPerMin, speed);
  minutes += turns.formula(operations.rowTurns, rates.turnMin);
  minutes += setUps.formula(operations.piecesBegun, rates.setUpMin);
  minutes += changes.formula(operations.colourChanges, rates.colourChangeMin);
  minutes += drawUps.formula(operations.drawUps, rates.drawUpMin);
  minutes += seam.formula(operations.seamMm, rates.seamMinPer10Cm);
  return minutes + ends.formula(operations.ends, rates.endMin);
}
