import { type Figure, given } from '#core/shared/figure.ts';
import { mmInInch, type UnitSystem } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { footLengthRangeMm } from '#core/sizing/foot-range.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

const unitsMm: readonly [RegExp, number][] = [
  [/mm$/, 1],
  [/cm$/, 10],
  [/(?:inches|inch|in|"|″)$/, mmInInch],
];
/** A bare number up to here could be inches as well as cm: no foot is longer than 14.2 in, hardly one above 13. */
const longestInches = 13;

const likes: Readonly<Record<UnitSystem, { readonly like: string; readonly range: string }>> = {
  metric: { like: '24.5 cm or 245 mm', range: 'between 6 and 36 cm, like 24.5 cm' },
  imperial: { like: '9.6 in or 9 1/2 in', range: 'between 2.4 and 14.2 in, like 9.6 in' },
};

function factorOf(value: number, system: UnitSystem): number | null {
  if (system === 'imperial') return value * mmInInch <= footLengthRangeMm.most ? mmInInch : null;
  if (value >= footLengthRangeMm.least) return 1;
  return value > longestInches ? 10 : null;
}

/**
 * A measured foot length as somebody wrote it, with or without a unit.
 * Without one, inches where the workshop measures in inches; else 60 and more are taken as mm and more than 13 as cm; up to 13 it may be inches, and the unit is asked for.
 *
 * @param text like `24.5`, `24,5 cm`, `245 mm`, `9 1/2 in`
 * @param path field that a problem belongs to
 * @param system what a bare number is in, and a problem's sentence
 * @returns a figure in mm, not rounded; or the problem in a sentence
 * @example footLengthFromText('24,5').value.value // => 245
 * @example footLengthFromText('245 mm').value.value // => 245
 * @example footLengthFromText('9 1/2 in').value.value // => 241.3
 * @example footLengthFromText('9.5').ok // => false, centimetres or inches
 * @example footLengthFromText('9.5', 'foot', 'imperial').value.value // => 241.3
 * @example footLengthFromText('2450').ok // => false
 */
export function footLengthFromText(text: string, path = 'footLength', system: UnitSystem = 'metric'): Result<Figure> {
  const typed = text.trim().toLowerCase();
  const unit = unitsMm.find(([pattern]) => pattern.test(typed));
  const value = parseSizeNumber(unit ? typed.replace(unit[0], '') : typed);
  const seen = typed === '' ? '' : ` You typed “${text.trim()}”.`;
  if (value === null) {
    const message = `Enter the length of the foot, like ${likes[system].like}.${seen}`;
    return refuse({ code: 'lengthNotANumber', path, message });
  }
  const factor = unit ? unit[1] : factorOf(value, system);
  if (factor === null && value * mmInInch >= footLengthRangeMm.least) {
    const message = `Say whether this is centimetres or inches: enter ${text.trim()} cm or ${text.trim()} in.`;
    return refuse({ code: 'unitNeeded', path, message });
  }
  const lengthMm = value * (factor ?? 10);
  if (lengthMm < footLengthRangeMm.least || lengthMm > footLengthRangeMm.most) {
    const message = `Enter the length of the foot ${likes[system].range}.${seen}`;
    return refuse({ code: 'lengthOutOfRange', path, message });
  }
  return succeed(given('foot length', lengthMm, 'mm', 'yours', 'as you entered it'));
}
