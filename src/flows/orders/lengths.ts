import { mmInInch, type UnitSystem } from '#core/shared/measures.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

export type LengthUnit = 'cm' | 'mm' | 'in';

/** The unit that lengths are typed in unless another is written. */
export function usualUnit(system: UnitSystem): LengthUnit {
  return system === 'imperial' ? 'in' : 'cm';
}

const perUnitMm: Readonly<Record<LengthUnit, number>> = { cm: 10, mm: 1, in: mmInInch };
const unitPatterns: readonly [RegExp, LengthUnit][] = [
  [/\s*mm$/i, 'mm'],
  [/\s*cm$/i, 'cm'],
  [/\s*(?:inches|inch|in|"|″)$/i, 'in'],
];

/**
 * A length as somebody wrote it, in mm to the tenth, which is more than a tape tells and survives being shown in inches.
 * A unit that was written counts before `usual`. Null when it is not a length.
 */
export function lengthMmFrom(text: string, usual: LengthUnit): number | null {
  const typed = text.trim();
  const found = unitPatterns.find(([pattern]) => pattern.test(typed));
  const value = parseSizeNumber(found ? typed.replace(found[0], '') : typed);
  return value === null ? null : Math.round(value * perUnitMm[found ? found[1] : usual] * 10) / 10;
}
