import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatLength,
  formatMass,
  formatYarnLength,
  type MeasureName,
  measureForInput,
  measureFromInput,
  type UnitSystem,
} from '#core/shared/measures.ts';

const systems: readonly UnitSystem[] = ['metric', 'imperial'];
const names: readonly MeasureName[] = ['lengthMm', 'massG', 'yarnM', 'per10Cm'];

describe('measures', () => {
  // International yard and pound agreement, 1959: 1 in = 25.4 mm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g, all exact.
  it.each([
    [25.4, '1.0\u00a0in'],
    [240, '9.4\u00a0in'],
    [0, '0.0\u00a0in'],
  ])('shows %s mm as %s', (mm, shown) => expect(formatLength(mm, 'imperial')).toBe(shown));

  it.each([
    [28.349523125, '1.00\u00a0oz'],
    [453.59237, '16.0\u00a0oz'],
  ])('shows %s g as %s', (g, shown) => expect(formatMass(g, 'imperial')).toBe(shown));

  it('shows 0.9144 m as a yard', () => expect(formatYarnLength(0.9144, 'imperial')).toBe('1.0\u00a0yd'));

  it('keeps what was typed: shown, typed and shown again reads the same', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...systems),
        fc.constantFrom(...names),
        fc.integer({ min: 1, max: 400_000 }),
        (system, name, thousandths) => {
          const shown = measureForInput(thousandths / 1000, name, system);
          const again = measureForInput(measureFromInput(Number(shown), name, system), name, system);
          expect(again).toBe(shown);
        },
      ),
      { numRuns: 500 },
    );
  });
});
