import { childLengths } from '#core/sizing/ages.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthRangeMm } from '#core/sizing/foot-range.ts';
import { labelRuleFor, type SizeSystem, usWomenOffsets } from '#core/sizing/label-rules.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

// No grown-up's foot in the survey of 6 068 was longer than 32.3 cm; a child's size in cm ends at 25.
const longestFootCm = { grown: 32.5, child: 25 };
const shortestFootCm = { grown: 17, child: footLengthRangeMm.least / 10 };

function isLabel(value: number, person: Person, system: SizeSystem): boolean {
  const column = labelRuleFor(person, system, usWomenOffsets[0]);
  return column !== null && value >= column.least && value <= column.most;
}

function isFootInCm(value: number, person: Person): boolean {
  const whose = person === 'child' ? 'child' : 'grown';
  return value >= shortestFootCm[whose] && value <= longestFootCm[whose];
}

/**
 * Whether a number without its system can be nothing but an EU size: 33 to 52 of a grown-up, 25.5 to 40 of a child. No
 * UK or US size is so large, and no foot is so many centimetres long.
 *
 * @param text as typed
 * @param person whose foot; an unknown one is a grown-up's
 * @example isPlainEu('38', 'woman') // => true
 * @example isPlainEu('43', 'unknown') // => true
 * @example isPlainEu('28', 'woman') // => false, it may be 28 cm
 * @example isPlainEu('28', 'child') // => true
 * @example isPlainEu('8', 'man') // => false
 */
export function isPlainEu(text: string, person: Person): boolean {
  const value = parseSizeNumber(text);
  return value !== null && isLabel(value, person, 'EU') && !isFootInCm(value, person);
}

/**
 * What a number without its system may be, each written so that it is understood; a foot in inches is not thought of.
 *
 * @param text as typed
 * @param person whose foot; null or unknown: a grown-up's or a child's
 * @returns empty where nothing fits
 * @example plainSizeMeanings('24', 'woman') // => ['foot 24 cm']
 * @example plainSizeMeanings('8', 'man') // => ['UK 8', 'US 8']
 * @example plainSizeMeanings('5', 'child') // => ['UK 5', 'US 5', 'age 5']
 * @example plainSizeMeanings('28', null) // => ['child EU 28', 'foot 28 cm']
 * @example plainSizeMeanings('8', null) // => ['UK 8', 'woman US 8', 'man US 8', 'age 8']
 * @example plainSizeMeanings('245', 'man') // => ['foot 245 mm']
 * @example plainSizeMeanings('999', null) // => []
 */
export function plainSizeMeanings(text: string, person: Person | null): readonly string[] {
  const value = parseSizeNumber(text);
  if (value === null) return [];
  const whose = person ?? 'unknown';
  const isAnybody = whose === 'unknown';
  const isAge = childLengths.some(({ years }) => years === value);
  const mm = footLengthRangeMm;
  const meanings: readonly (readonly [words: string, isMeant: boolean])[] = [
    [`EU ${text}`, isLabel(value, whose, 'EU')],
    [`child EU ${text}`, isAnybody && isLabel(value, 'child', 'EU') && !isLabel(value, whose, 'EU')],
    [`UK ${text}`, isLabel(value, whose, 'UK')],
    [`US ${text}`, isLabel(value, whose, 'US')],
    [`woman US ${text}`, isAnybody && isLabel(value, 'woman', 'US')],
    [`man US ${text}`, isAnybody && isLabel(value, 'man', 'US')],
    [`age ${text}`, isAge && (isAnybody || whose === 'child')],
    [`foot ${text} cm`, isFootInCm(value, whose) && !(whose === 'child' && isAge)],
    [`foot ${text} mm`, value >= mm.least && value <= mm.most],
  ];
  return meanings.filter(([, isMeant]) => isMeant).map(([words]) => words);
}
