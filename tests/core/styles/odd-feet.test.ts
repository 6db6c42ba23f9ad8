import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { minutesOfPair, usualRates } from '#core/timing/minutes.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import { bulky, slipper, usualHand } from '#tests/support/plan-input.ts';

type FootInput = Parameters<typeof footFrom>[0];

/** A pair whose feet may differ, with a cuff of one height and colours of its own. */
function pairOf(left: FootInput, right: FootInput | null) {
  const kind = kindFor({
    style: slipper,
    foot: footFrom(left),
    right: right && footFrom(right),
    fit: 'usual',
    yarns: { foot: [bulky], cuff: [bulky] },
    colours: { foot: [1], cuff: [2] },
    cuff: 55,
  });
  const { spec } = specifyWithWorking(kind.shape, usualHand);
  const grams = yarnOfPair(kind, spec).map((each) => each.grams);
  return { spec, grams, minutes: minutesOfPair(spec.operations, usualRates) };
}

const left: FootInput = { person: 'man', lengthMm: 274, ballGirthMm: 256, heelAnkleGirthMm: 345 };
const right: FootInput = { person: 'man', lengthMm: 258, ballGirthMm: 244, heelAnkleGirthMm: 330 };

describe('feet that differ', () => {
  // By hand, 13 x 18. Left: 0.93 x 256 = 238.08 -> 30.95 + 1 = 32 st; 49.32 rows - 2 = 47.32 -> odd 47, 49 in all; mark 24.5 -> 25,
  // opening 277.78 x 1.35 = 375. Right: 226.92 -> 29.5 + 1 = 30.5, ties up: 30.4996 -> 30 st; 46.44 - 2 = 44.44 -> 45; 47; 24.
  it('each has the counts of its own foot', () => {
    const { spec } = pairOf(left, right);
    expect([spec.pieces[0]!.castOnStitches, spec.pieces[0]!.totalRows, spec.measures.markRows]).toEqual([32, 49, 25]);
    expect(spec.right!.pieces[0]).toMatchObject({ castOnStitches: 30, totalRows: 47 });
    expect(spec.right!.measures.markRows).toBe(24);
  });

  it('yarn and minutes of the pair lie half way between the two like pairs', () => {
    const [odd, lefts, rights] = [pairOf(left, right), pairOf(left, null), pairOf(right, null)];
    for (const [index, grams] of odd.grams.entries()) {
      expect(grams).toBeCloseTo((lefts.grams[index]! + rights.grams[index]!) / 2, 9);
    }
    expect(odd.minutes).toBeCloseTo((lefts.minutes + rights.minutes) / 2, 9);
    expect(lefts.grams[0]).toBeGreaterThan(rights.grams[0]!);
  });

  it('whatever the two feet are', () => {
    const foot = fc.record({
      person: fc.constantFrom('woman' as const, 'man' as const),
      lengthMm: fc.integer({ min: 215, max: 300 }),
    });
    fc.assert(
      fc.property(foot, fc.integer({ min: -25, max: 25 }), (one, more) => {
        const other = { ...one, lengthMm: one.lengthMm + more };
        const [odd, ones, others] = [pairOf(one, other), pairOf(one, null), pairOf(other, null)];
        expect(odd.minutes).toBeCloseTo((ones.minutes + others.minutes) / 2, 6);
        for (const [index, grams] of odd.grams.entries()) {
          expect(grams).toBeCloseTo((ones.grams[index]! + others.grams[index]!) / 2, 6);
        }
      }),
    );
  });

  it('a right foot that is the same is no right foot', () => {
    expect(pairOf(left, left).spec.right).toBeNull();
  });
});

describe('whoever knits', () => {
  it('a finished width is within half a stitch of the width wished, in any hand', () => {
    const hand = fc.record({ stitches: fc.integer({ min: 90, max: 300 }), rows: fc.integer({ min: 120, max: 420 }) });
    fc.assert(
      fc.property(hand, fc.integer({ min: 215, max: 300 }), (gauge, lengthMm) => {
        const counted = { ...usualHand.gauges[0]!, stitchesPer10Cm: gauge.stitches / 10, rowsPer10Cm: gauge.rows / 10 };
        const { shape } = kindFor({
          style: slipper,
          foot: footFrom({ person: 'woman', lengthMm }),
          fit: 'usual',
          yarns: { foot: [bulky], cuff: [bulky] },
          colours: { foot: [1], cuff: [1] },
          cuff: 'short',
        });
        const { spec, worked } = specifyWithWorking(shape, { ...usualHand, gauges: [counted] });
        const wishedMm = worked.lengths.width!.value;
        expect(Math.abs(spec.measures.widthMm - wishedMm)).toBeLessThanOrEqual(500 / gauge.stitches + 1e-9);
      }),
    );
  });
});
