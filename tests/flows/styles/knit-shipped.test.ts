import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { babyBootie } from '#core/styles/shipped/baby-bootie.ts';
import { bedSock } from '#core/styles/shipped/bed-sock.ts';
import { garterSlipper } from '#core/styles/shipped/garter-slipper.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import type { StyleBody } from '#core/styles/style.ts';
import { minutesOfPair, usualRates } from '#core/timing/minutes.ts';
import { yarnOf } from '#tests/support/knit-cases.ts';
import { gauge } from '#tests/support/plan-input.ts';

type Wish = {
  person: Person;
  lengthMm: number;
  heelAnkleGirthMm?: number;
  tex: number;
  stitches: number;
  rows: number;
};

/** Counts by piece and step, grams and minutes of a pair in one yarn. */
function knit(body: StyleBody, { tex, stitches, rows, ...foot }: Wish) {
  const yarns = [yarnOf(tex)];
  const roles = body.roles.map((role) => role.name);
  const { shape } = kindFor({
    style: { versionId: 1, name: body.style, body },
    foot: footFrom(foot),
    fit: 'usual',
    yarns: Object.fromEntries(roles.map((role) => [role, yarns])),
    colours: Object.fromEntries(roles.map((role) => [role, [1]])),
    cuff: 'short',
  });
  const hand = { key: 'hand', tightness: 'usual' as const, gauges: [gauge(String(tex), stitches, rows)] };
  const { spec } = specifyWithWorking(shape, hand);
  const piece = spec.pieces[0]!;
  return {
    castOn: piece.castOnStitches,
    rowsOf: (name: string) => piece.sections.find((section) => section.name === name)!.rows,
    afterOf: (name: string) => piece.sections.find((section) => section.name === name)!.stitchesAfter,
    last: piece.lastStitches,
    grams: (spec.metres.reduce((sum, each) => sum + each.metres.mean, 0) * tex) / 1000,
    minutes: minutesOfPair(spec.operations, usualRates),
  };
}

// Counts, grams and minutes of a first reckoning of these styles by a separate program, before this one was written.
describe('the shipped styles come out as they were reckoned elsewhere', () => {
  it('garter slipper, EU 38, 14 by 20 in bulky yarn', () => {
    const pair = knit(garterSlipper, { person: 'woman', lengthMm: 240, tex: 1000, stitches: 14, rows: 20 });
    expect([pair.castOn, pair.rowsOf('heel part'), pair.rowsOf('instep'), pair.last]).toEqual([30, 35, 20, 15]);
    expect(pair.grams).toBeCloseTo(101, -1);
    expect(Math.abs(pair.minutes - 184)).toBeLessThan(10);
  });

  it('baby bootie, foot of 9.5 cm, 22 by 30 in 400 tex', () => {
    const wish = { person: 'child', lengthMm: 95, tex: 400, stitches: 22, rows: 30 } as const;
    // A leg of 26: (26 - 2) x 100 / 22 = 109.1 mm, x 1.37 = 149.5 mm. It lets a heel of 14 cm in.
    const pair = knit(babyBootie, { ...wish, heelAnkleGirthMm: 140 });
    expect([pair.castOn, pair.afterOf('instep')]).toEqual([46, 26]);
    // Not measured, the heel is thought 1.36 x (0.77 x 95 + 35) = 147.1 mm and some more: one repeat is added.
    expect(knit(babyBootie, wish).afterOf('instep')).toBe(30);
    expect(Math.abs(pair.grams - 22)).toBeLessThan(2);
  });

  it('bed sock, EU 38, 18 by 24 in 500 tex', () => {
    const pair = knit(bedSock, { person: 'woman', lengthMm: 240, tex: 500, stitches: 18, rows: 24 });
    expect([pair.castOn, pair.rowsOf('rib')]).toEqual([46, 8]);
    expect([pair.afterOf('toe'), pair.last]).toEqual([12, 12]);
    expect(Math.abs(pair.rowsOf('tube') - 94)).toBeLessThanOrEqual(2);
    expect(Math.abs(pair.grams - 111)).toBeLessThan(6);
  });
});
