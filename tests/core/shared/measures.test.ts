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
const names = ['lengthMm', 'massG', 'fineMassG', 'yarnM', 'per10Cm'] as const;

describe('measures', () => {
  // International yard and pound agreement, 1959: 1 in = 25.4 mm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g, all exact.
  it.each([
    [25.4, '1.0\u00a0in'],
    [240, '9.4\u00a0in'],
    [0, '0.0\u00a0in'],
  ])('shows %s mm as %s', (mm, shown) => expect(formatLength(mm, 'imperial')).toBe(shown));

  it.each([
    [28.349523125, '1.00\u00a0oz'],
    [0, '0\u00a0oz'],
    [-28.349523125, '\u22121.00\u00a0oz'],
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

  it('leaves a whole gram, millimetre or metre as it is when its box in ounces, inches or yards is saved unchanged', () => {
    const whole = (name: MeasureName, most: number) =>
      fc.assert(
        fc.property(fc.integer({ min: 1, max: most }), (stored) => {
          const shown = Number(measureForInput(stored, name, 'imperial'));
          expect(measureFromInput(shown, name, 'imperial')).toBe(stored);
        }),
        { numRuns: 200 },
      );
    whole('massG', 20_000);
    whole('lengthMm', 3000);
    whole('yarnM', 20_000);
  });

  it('moves nothing by more than half of the last digit shown', () => {
    // Three decimals of an inch and an ounce, one of a yard, two of a stitch in 4 in (1.016 of those in 10 cm).
    const halves = {
      lengthMm: 25.4 * 0.0005,
      massG: 28.349523125 * 0.0005,
      fineMassG: 28.349523125 * 0.00005,
      yarnM: 0.9144 * 0.05,
      per10Cm: 0.005 / 1.016,
    };
    fc.assert(
      fc.property(fc.constantFrom(...names), fc.integer({ min: 1, max: 4_000_000 }), (name, tenThousandths) => {
        const stored = tenThousandths / 10_000;
        const again = measureFromInput(Number(measureForInput(stored, name, 'imperial')), name, 'imperial');
        // A round value is taken for the one meant: it is within half a digit of what was shown.
        expect(Math.abs(again - stored)).toBeLessThanOrEqual(2 * halves[name] + 1e-6);
      }),
      { numRuns: 500 },
    );
  });

  it('keeps metric values as they are to the hundredth of a millimetre and the milligram', () => {
    fc.assert(
      fc.property(fc.constantFrom('lengthMm', 'massG'), fc.integer({ min: 1, max: 4_000_000 }), (name, parts) => {
        const stored = name === 'lengthMm' ? parts / 100 : parts / 1000;
        const again = measureFromInput(Number(measureForInput(stored, name, 'metric')), name, 'metric');
        expect(again).toBeCloseTo(stored, 6);
      }),
      { numRuns: 500 },
    );
  });
});
