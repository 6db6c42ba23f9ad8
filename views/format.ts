import { useContext } from 'hono/jsx';
import type { Day } from '#core/shared/calendar.ts';
import * as format from '#core/shared/format.ts';
import { formatNumber, formatRange } from '#core/shared/format.ts';
import * as measures from '#core/shared/measures.ts';
import { ThisWorkshop } from '#views/layout.tsx';

/** The workshop's unit system; call it while a page is drawn. */
export function unitSystem(): measures.UnitSystem {
  return useContext(ThisWorkshop).unitSystem;
}

/** A day, with its year where that is not the present one. */
export function formatDayShort(day: Day): string {
  return format.formatDayShort(day, useContext(ThisWorkshop).today);
}

/** Whether a day lies before the present one. */
export function isPast(day: Day): boolean {
  return day < useContext(ThisWorkshop).today;
}

/** A length as on a tape, in the workshop's units. */
export function formatLength(lengthMm: number): string {
  return measures.formatLength(lengthMm, unitSystem());
}

/** A mass as on a kitchen scale, in the workshop's units. */
export function formatMass(massG: number): string {
  return measures.formatMass(massG, unitSystem());
}

/** A length of yarn, in the workshop's units. */
export function formatYarnLength(lengthM: number): string {
  return measures.formatYarnLength(lengthM, unitSystem());
}

/** Whether grams or ounces stand beside a box. */
export function unitOf(measure: measures.MeasureName): string {
  return measures.unitOf(measure, unitSystem());
}

/** A stored value for its box, in the workshop's units. */
export function measureForInput(stored: number, measure: measures.MeasureName): string {
  return measures.measureForInput(stored, measure, unitSystem());
}

/** The units of a form: as its values came back, or the workshop's for a fresh one. */
export function unitsOfForm(values: Readonly<Record<string, string>>): measures.UnitSystem {
  return values.units === 'metric' || values.units === 'imperial' ? values.units : unitSystem();
}

/** What yarn is compared by: 100 g, or 4 oz. */
export function priceMass(): { readonly grams: number; readonly words: string } {
  return unitSystem() === 'metric'
    ? { grams: 100, words: '100\u00a0g' }
    : { grams: 4 * measures.gramsInOunce, words: '4\u00a0oz' };
}

/** A count of stitches or rows as the workshop counts it, without its unit: in 10 cm, or in 4 in. */
export function formatGauge(per10Cm: number): string {
  return formatNumber((per10Cm * measures.mmOfGauge[unitSystem()]) / 100, 1);
}

/** "in 10 cm", or "in 4 in". */
export function gaugeUnit(): string {
  return unitOf('per10Cm');
}

/** How far a mass may lie to either side, in the unit that stands before it. */
export function formatMassRange(sdG: number): string {
  if (unitSystem() === 'metric') return formatRange(sdG);
  return `±${formatNumber(Math.ceil((Math.abs(sdG) / measures.gramsInOunce) * 100 - 1e-9) / 100, 2)}`;
}

/** The yarn in one stitch, to the tenth of a millimetre. */
export function formatLoop(loopCm: number): string {
  return unitSystem() === 'metric'
    ? `${formatNumber(loopCm, 2)}\u00a0cm`
    : `${formatNumber((loopCm * 10) / measures.mmInInch, 3)}\u00a0in`;
}

/** A little mass, as a row of knitting takes it, with a decimal more. */
export function formatFineMass(massG: number): string {
  return unitSystem() === 'metric'
    ? `${formatNumber(massG, 2)}\u00a0g`
    : `${formatNumber(massG / measures.gramsInOunce, 3)}\u00a0oz`;
}

/** Yarn on the shelf, milligrams, in the workshop's units: what was rounded before adds up as it stands. */
export function formatWeighed(massMg: number): string {
  return measures.formatWeighed(massMg, unitSystem());
}
