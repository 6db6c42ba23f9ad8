import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { Operations } from '#core/styles/spec.ts';
import type { Rates } from '#core/timing/knitter.ts';

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

/**
 * Minutes of work in one pair, with the working: stitches at their rates, then turns, seams, ends and set-up.
 *
 * @param operations handwork of the pair
 * @param rates the knitter's
 * @returns the total as a figure, and the part that is sewing up
 */
export function minutesFigure(operations: Operations, rates: Rates): MinutesFigure {
  const speed = given(
    'speed',
    operations.isBulky ? bulkySpeed : 1,
    'ratio',
    'ours',
    'two strands or thick needles are slower',
  );
  const rate = (name: string, perMin: number) =>
    given(name, perMin, 'per min', 'trade', '20 to 30 quoted for stocking stitch');
  const each = (name: string, minutes: number) => given(name, minutes, 'min', 'ours');
  const stitches = (count: number) => given('stitches', count, 'stitches', 'ours');
  const count = (value: number) => given('count', value, 'count', 'ours');
  const parts: Figure[] = Object.entries(operations.stitches).map(([fabric, number]) =>
    work(
      byRate(`knitting ${fabric}`),
      stitches(number),
      rate('rate', rates.stitchesPerMin * fabricNamed(fabric).speedFactor),
      speed,
    ),
  );
  parts.push(
    work(castOn, stitches(operations.castOnStitches), rate('rate', rates.castOnPerMin), speed),
    work(twoTogether, stitches(operations.twoTogetherStitches), rate('rate', rates.twoTogetherPerMin), speed),
    work(bindOff, stitches(operations.bindOffStitches), rate('rate', rates.bindOffPerMin), speed),
    work(turns, count(operations.rowTurns), each('minutes each', rates.turnMin)),
    work(setUps, count(operations.piecesBegun), each('minutes each', rates.setUpMin)),
    work(changes, count(operations.colourChanges), each('minutes each', rates.colourChangeMin)),
  );
  const sewing = [
    work(drawUps, count(operations.drawUps), each('minutes each', rates.drawUpMin)),
    work(seam, given('seam length', operations.seamMm, 'mm', 'ours'), each('minutes for 10 cm', rates.seamMinPer10Cm)),
    work(ends, count(operations.ends), each('minutes each', rates.endMin)),
  ];
  const all = [...parts, ...sewing];
  const value = all.reduce((sum, part) => sum + part.value, 0);
  return {
    total: {
      rule: {
        name: 'time for a pair',
        unit: 'min',
        mark: 'ours',
        source: 'a sum; sure to about 20 % until you have timed a pair',
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
