import { formatGrams, formatMetres, formatMmAsCm, formatNumber } from '#core/shared/format.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** How lengths and masses are shown and typed; stored they are always metric. */
export type UnitSystem = 'metric' | 'imperial';

/** Exact by definition (international yard and pound, 1959). */
export const mmInInch = 25.4;
export const metresInYard = 0.9144;
export const gramsInOunce = 28.349523125;
/** A gauge is counted over 10 cm, or over 4 inches: 1.6 % more. */
export const mmOfGauge: Readonly<Record<UnitSystem, number>> = { metric: 100, imperial: 4 * mmInInch };

const gap = '\u00a0';

/**
 * A length as on a tape: centimetres, or inches to a tenth.
 *
 * @param lengthMm millimetres
 * @example formatLength(228, 'metric') // => '22.8\u00a0cm'
 * @example formatLength(254, 'imperial') // => '10.0\u00a0in'
 */
export function formatLength(lengthMm: number, system: UnitSystem): string {
  if (system === 'metric') return formatMmAsCm(lengthMm);
  return `${fixed(lengthMm / mmInInch, 1)}${gap}in`;
}

/**
 * Two lengths from one to the other, the unit said once.
 *
 * @param fromMm millimetres
 * @param toMm millimetres, from `fromMm`
 * @example formatLengthRange(233, 240, 'metric') // => '23.3–24.0\u00a0cm'
 * @example formatLengthRange(240, 240, 'metric') // => '24.0\u00a0cm'
 */
export function formatLengthRange(fromMm: number, toMm: number, system: UnitSystem): string {
  const [from, to] = [formatLength(fromMm, system), formatLength(toMm, system)];
  return from === to ? from : `${from.split(gap)[0]}–${to}`;
}

/**
 * A mass as on a kitchen scale: grams, or ounces to a hundredth below ten.
 *
 * @param massG grams
 * @example formatMass(98.4, 'metric') // => '98\u00a0g'
 * @example formatMass(100, 'imperial') // => '3.53\u00a0oz'
 * @example formatMass(1000, 'imperial') // => '35.3\u00a0oz'
 */
export function formatMass(massG: number, system: UnitSystem): string {
  if (system === 'metric') return formatGrams(massG);
  if (massG === 0) return `0${gap}oz`;
  const ounces = massG / gramsInOunce;
  return `${fixed(ounces, Math.abs(ounces) < 9.995 ? 2 : 1)}${gap}oz`;
}

/** What is shown of yarn that was weighed: tenths of a gram, hundredths of an ounce. */
const weighedStepMg: Readonly<Record<UnitSystem, number>> = { metric: 100, imperial: gramsInOunce * 10 };

/**
 * Yarn on the shelf as it is shown: rounded before it is added up, so that what stands on a page adds up there.
 *
 * @param massMg milligrams
 * @returns milligrams, a multiple of what is shown
 * @example roundWeighed(43460, 'metric') // => 43500
 */
export function roundWeighed(massMg: number, system: UnitSystem): number {
  return roundHalfUp(massMg / weighedStepMg[system]) * weighedStepMg[system];
}

/**
 * Yarn on the shelf: tenths of a gram where there are any, or hundredths of an ounce.
 *
 * @param massMg milligrams
 * @example formatWeighed(143500, 'metric') // => '143.5\u00a0g'
 * @example formatWeighed(100000, 'metric') // => '100\u00a0g'
 * @example formatWeighed(100000, 'imperial') // => '3.53\u00a0oz'
 */
export function formatWeighed(massMg: number, system: UnitSystem): string {
  if (system === 'metric') return `${formatNumber(massMg / 1000, 1)}${gap}g`;
  return `${formatNumber(massMg / 1000 / gramsInOunce, 2)}${gap}oz`;
}

/**
 * A length of yarn: metres or yards.
 *
 * @param lengthM metres
 * @example formatYarnLength(98.6, 'metric') // => '99\u00a0m'
 * @example formatYarnLength(91.44, 'imperial') // => '100\u00a0yd'
 */
export function formatYarnLength(lengthM: number, system: UnitSystem): string {
  if (system === 'metric') return formatMetres(lengthM);
  const yards = lengthM / metresInYard;
  return `${fixed(yards, Math.abs(yards) < 9.95 ? 1 : 0)}${gap}yd`;
}

function fixed(value: number, digits: number): string {
  const text = value.toLocaleString('en-GB', { minimumFractionDigits: digits, maximumFractionDigits: digits });
  return text.replace('-', '\u2212');
}

type Measure = {
  /** How many of the stored unit one of the shown unit is. */
  readonly factor: number;
  readonly unit: string;
  /** Decimals in a box. */
  readonly digits: 1 | 2 | 3 | 4;
  /** What people type in the stored unit is mostly a multiple of this. */
  readonly step: number;
};

/** What a form asks for: the stored unit's factor, the name beside the box, the decimals it shows. */
export type MeasureName = 'lengthMm' | 'massG' | 'fineMassG' | 'yarnM' | 'per10Cm';

const measures: Readonly<Record<UnitSystem, Readonly<Record<MeasureName, Measure>>>> = {
  metric: {
    lengthMm: { factor: 10, unit: 'cm', digits: 3, step: 0.1 },
    massG: { factor: 1, unit: 'g', digits: 3, step: 0.1 },
    fineMassG: { factor: 1, unit: 'g', digits: 3, step: 0.01 },
    yarnM: { factor: 1, unit: 'm', digits: 2, step: 0.5 },
    per10Cm: { factor: 1, unit: 'in 10 cm', digits: 2, step: 0.1 },
  },
  imperial: {
    lengthMm: { factor: mmInInch, unit: 'in', digits: 3, step: 0.1 },
    massG: { factor: gramsInOunce, unit: 'oz', digits: 3, step: 0.1 },
    // A fine scale shows steps of 0.01 g, which are 0.0004 oz.
    fineMassG: { factor: gramsInOunce, unit: 'oz', digits: 4, step: 0.01 },
    yarnM: { factor: metresInYard, unit: 'yd', digits: 1, step: 0.5 },
    // Stitches in 4 in are 1.016 times those in 10 cm.
    per10Cm: { factor: 100 / (4 * mmInInch), unit: 'in 4 in', digits: 2, step: 0.1 },
  },
};

/**
 * The unit beside a form's box.
 *
 * @example unitOf('lengthMm', 'imperial') // => 'in'
 */
export function unitOf(measure: MeasureName, system: UnitSystem): string {
  return measures[system][measure].unit;
}

// No grouping, no zeros at its end.
function boxText(value: number, digits: number): string {
  const scale = 10 ** digits;
  return String(roundHalfUp(value * scale) / scale);
}

/**
 * A stored value as a form's box shows it.
 *
 * @param stored millimetres, grams, metres, or stitches in 10 cm
 * @example measureForInput(254, 'lengthMm', 'imperial') // => '10'
 * @example measureForInput(245, 'lengthMm', 'metric') // => '24.5'
 * @example measureForInput(13, 'per10Cm', 'imperial') // => '13.21'
 */
export function measureForInput(stored: number, measure: MeasureName, system: UnitSystem): string {
  const { factor, digits } = measures[system][measure];
  return boxText(stored / factor, digits);
}

/**
 * A number typed in a form's box as it is stored. A box in ounces shows a ball of 100 g as 3.527: saved unchanged it must
 * stay 100 g, so a round metric value that shows the same is taken for the one that was meant.
 *
 * @param shown the number as typed, in the box's unit
 * @returns the stored unit; shown again it reads the same
 * @example measureFromInput(10, 'lengthMm', 'imperial') // => 254
 * @example measureFromInput(24.5, 'lengthMm', 'metric') // => 245
 * @example measureFromInput(3.527, 'massG', 'imperial') // => 100
 */
export function measureFromInput(shown: number, measure: MeasureName, system: UnitSystem): number {
  const { factor, digits, step } = measures[system][measure];
  // 1.1 x 10 has no exact binary form.
  const exact = Math.round(shown * factor * 1e6) / 1e6;
  if (system === 'metric') return exact;
  const round = Math.round(Math.round(exact / step) * step * 100) / 100;
  return boxText(round / factor, digits) === boxText(exact / factor, digits) ? round : exact;
}
