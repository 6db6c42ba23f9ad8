import { useContext } from 'hono/jsx';
import * as measures from '#core/shared/measures.ts';
import { ThisWorkshop } from '#views/layout.tsx';

/** The workshop's unit system; call it while a page is drawn. */
export function unitSystem(): measures.UnitSystem {
  return useContext(ThisWorkshop).unitSystem;
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
