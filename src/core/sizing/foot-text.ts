import { type Figure, given } from '#core/shared/figure.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { footLengthRangeMm } from '#core/sizing/foot-range.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

const unitsMm: readonly [RegExp, number][] = [
  [/mm$/, 1],
  [/cm$/, 10],
  [/(?:inches|inch|in|"|″)$/, 25.4],
];
/** A bare number up to here could be inches as well as cm: no foot is longer than 14.2 in, hardly one above 13. */
const longestInches = 13;

function factorOf(value: number): number | null {
  if (value >= footLengthRangeMm.least) return 1;
  return value > longestInches ? 10 : null;
}

/**
 * A measured foot length as somebody wrote it, with or without a unit.
 * Without one, 60 and more are taken as mm and more than 13 as cm; up to 13 it may be inches, and the unit is asked for.
 *
 * @param text like `24.5`, `24,5 cm`, `245 mm`, `9 1/2 in`
 * @param path field that a problem belongs to
 * @returns a figure in mm, not rounded; or the problem in a sentence
 * @example footLengthFromText('24,5').value.value // => 245
 * @example footLengthFromText('245 mm').value.value // => 245
 * @example footLengthFromText('9 1/2 in').value.value // => 241.3
 * @example footLengthFromText('9.5').ok // => false, centimetres or inches
 * @example footLengthFromText('2450').ok // => false
 */
export function footLengthFromText(text: string, path = 'footLength'): Result<Figure> {
  const typed = text.trim().toLowerCase();
  const unit = unitsMm.find(([pattern]) => pattern.test(typed));
  const value = parseSizeNumber(unit ? typed.replace(unit[0], '') : typed);
  const seen = typed === '' ? '' : ` You typed “${text.trim()}”.`;
  if (value === null) {
    const message = `Enter the length of the foot, like 24.5 cm or 245 mm.${seen}`;
    return refuse({ code: 'lengthNotANumber', path, message });
  }
  const factor = unit ? unit[1] : factorOf(value);
  if (factor === null && value * 25.4 >= footLengthRangeMm.least) {
    const message = `Say whether this is centimetres or inches: enter ${text.trim()} cm or ${text.trim()} in.`;
    return refuse({ code: 'unitNeeded', path, message });
  }
  const lengthMm = value * (factor ?? 10);
  if (lengthMm < footLengthRangeMm.least || lengthMm > footLengthRangeMm.most) {
    const message = `Enter the length of the foot between 6 and 36 cm, like 24.5 cm.${seen}`;
    return refuse({ code: 'lengthOutOfRange', path, message });
  }
  return succeed(given('foot length', lengthMm, 'mm', 'yours'));
}
