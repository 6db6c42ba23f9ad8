import type { UnitSystem } from '#core/shared/measures.ts';
import { gramsInOunce, type MeasureName, measureFromInput, metresInYard, mmInInch } from '#core/shared/measures.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';
import { numberFrom } from '#server/forms/numbers.ts';

type Written = { readonly pattern: RegExp; readonly factor: number };

// Units that people write after a number, longest first, and how many of the stored unit each is.
const masses: readonly Written[] = [
  { pattern: /\s*(?:ounces|ounce|oz)$/i, factor: gramsInOunce },
  { pattern: /\s*(?:pounds|pound|lbs|lb)$/i, factor: 16 * gramsInOunce },
  { pattern: /\s*kg$/i, factor: 1000 },
  { pattern: /\s*(?:grams|gram|g)$/i, factor: 1 },
];
const written: Readonly<Record<MeasureName, readonly Written[]>> = {
  lengthMm: [
    { pattern: /\s*(?:inches|inch|in|"|″)$/i, factor: mmInInch },
    { pattern: /\s*mm$/i, factor: 1 },
    { pattern: /\s*cm$/i, factor: 10 },
  ],
  massG: masses,
  fineMassG: masses,
  yarnM: [
    { pattern: /\s*(?:yards|yard|yds|yd)$/i, factor: metresInYard },
    { pattern: /\s*(?:metres|metre|meters|meter|m)$/i, factor: 1 },
  ],
  per10Cm: [],
};

/**
 * What was typed into a box with a measure, in the stored unit. A unit that was written counts before the form's own;
 * a fraction is understood, since that is how a tape in inches is read.
 *
 * @param system what a bare number is in
 * @returns null when it is not a number
 */
export function measureFrom(text: string, measure: MeasureName, system: UnitSystem): number | null {
  const typed = text.trim();
  const unit = written[measure].find(({ pattern }) => pattern.test(typed));
  const bare = unit ? typed.replace(unit.pattern, '') : typed;
  const value = numberFrom(bare) ?? parseSizeNumber(bare);
  if (value === null) return null;
  return unit ? Math.round(value * unit.factor * 1e6) / 1e6 : measureFromInput(value, measure, system);
}
