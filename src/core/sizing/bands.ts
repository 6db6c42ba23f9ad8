import { requireRange } from '#core/shared/check.ts';
import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthRangeMm, requireFootLength } from '#core/sizing/foot-range.ts';
import { labelRuleFor } from '#core/sizing/label-rules.ts';

/** Feet from `fromMm` up to `toMm` that share one size to knit, like 39/40 or M. `unknown` stands for any adult. */
export type SizeBand = {
  readonly name: string;
  readonly person: Person;
  readonly fromMm: number;
  readonly toMm: number;
};

const middleRule = rule(
  {
    name: 'foot length',
    unit: 'mm',
    mark: 'ours',
    source: 'a band is knitted for the foot in its middle',
    words: '({shortest foot} + {longest foot}) / 2',
  },
  (fromMm: number, toMm: number) => (fromMm + toMm) / 2,
);

/**
 * The foot length that a band is knitted for: its middle.
 *
 * @param fromMm shortest foot in mm, 60 to 360
 * @param toMm longest foot in mm, from `fromMm` to 360
 * @throws {RangeError} when a length is out of range or the two are the wrong way round
 * @example footLengthOfBand(240, 250) // => 245
 * @example footLengthOfBand(240, 240) // => 240
 */
export function footLengthOfBand(fromMm: number, toMm: number): number {
  requireFootLength('footLengthOfBand: fromMm', fromMm);
  requireRange('footLengthOfBand: toMm', toMm, fromMm, footLengthRangeMm.most);
  return middleRule.formula(fromMm, toMm);
}

/**
 * The foot length of a band as a figure, with its ends.
 *
 * @throws {RangeError} as `footLengthOfBand`
 * @example bandFigure({ name: 'M', person: 'woman', fromMm: 240, toMm: 250 }).value // => 245
 */
export function bandFigure(band: SizeBand): Figure {
  footLengthOfBand(band.fromMm, band.toMm);
  const end = (name: string, lengthMm: number) => given(name, lengthMm, 'mm', 'ours', `ends of the band ${band.name}`);
  return work(middleRule, end('shortest foot', band.fromMm), end('longest foot', band.toMm));
}

/**
 * The band of some EU sizes that follow each other, half a size wider at both ends, so that neighbouring bands touch.
 *
 * @param person whose foot; `unknown` is any adult
 * @param firstEu smallest size of the band, a size that exists for the person
 * @param lastEu largest size, at least `firstEu`
 * @throws {RangeError} when a size does not exist for the person
 * Source: the EU formula of ISO/TS 19407:2015, read second-hand; the half size is our own choice
 * @example footLengthOfBand(euPairBand('unknown', 39, 40).fromMm, euPairBand('unknown', 39, 40).toMm) // => 250, EU 39.5
 * @example euPairBand('unknown', 39, 40).name // => '39/40'
 */
export function euPairBand(person: Person, firstEu: number, lastEu: number): SizeBand {
  const column = labelRuleFor(person, 'EU', 2)!;
  requireRange('euPairBand: firstEu', firstEu, column.least, column.most);
  requireRange('euPairBand: lastEu', lastEu, firstEu, column.most);
  return {
    name: firstEu === lastEu ? String(firstEu) : `${firstEu}/${lastEu}`,
    person,
    fromMm: column.rule.formula(firstEu - 0.5),
    toMm: column.rule.formula(lastEu + 0.5),
  };
}

const childPairs = [23, 25, 27, 29, 31, 33];
const adultPairs = [35, 37, 39, 41, 43, 45];

/**
 * Bands to begin with, in order; the workshop changes them as it likes. Our own choice: M is about the middle half of
 * adult feet of the 2012 US Army survey (women 238 to 254 mm, men 263 to 280 mm), S and L lie as wide beside it; a
 * child's S, M, L are about the feet of ages 3 to 4, 5 to 6 and 7 to 8 in the 1977 Michigan survey.
 */
export const defaultBands: readonly SizeBand[] = [
  { name: 'S', person: 'child', fromMm: 150, toMm: 170 },
  { name: 'M', person: 'child', fromMm: 170, toMm: 190 },
  { name: 'L', person: 'child', fromMm: 190, toMm: 210 },
  { name: 'S', person: 'woman', fromMm: 222, toMm: 238 },
  { name: 'M', person: 'woman', fromMm: 238, toMm: 254 },
  { name: 'L', person: 'woman', fromMm: 254, toMm: 270 },
  { name: 'S', person: 'man', fromMm: 246, toMm: 263 },
  { name: 'M', person: 'man', fromMm: 263, toMm: 280 },
  { name: 'L', person: 'man', fromMm: 280, toMm: 297 },
  ...childPairs.map((eu) => euPairBand('child', eu, eu + 1)),
  ...adultPairs.map((eu) => euPairBand('unknown', eu, eu + 1)),
];
