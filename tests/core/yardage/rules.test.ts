import { describe, expect, it } from 'vitest';
import { loopLengthCm } from '#core/gauge/gauge.ts';
import { bindOffTimes, castOnTailTimes, endMm, gramsOf, texFromMetres, yardageRules } from '#core/yardage/rules.ts';
import { readReference } from '#tests/support/reference.ts';

type Case = {
  id: string;
  topic: string;
  quantity: string;
  answer: number;
  within: number;
  inputs: Record<string, number>;
};
const cases: readonly Case[] = readReference('knit-worked-examples.csv').map((row) => ({
  id: row.id!,
  topic: row.topic!,
  quantity: row.quantity!,
  answer: Number(row.answer),
  within: Number(row.abs_tolerance),
  inputs: Object.fromEntries(row.inputs!.split(';').map((each) => [each.split('=')[0]!, Number(each.split('=')[1])])),
}));
const ofTopic = (topic: string) => cases.filter((each) => each.topic === topic);

/** W. Davis, Hosiery Manufacture, c. 1920, chapter V: yards of yarn = courses x width x take-up, pounds = yards / (count x hank). */
function poundsOfDavis(inputs: Record<string, number>): number {
  const yards = inputs.courses_per_in! * 36 * inputs.length_yd! * (inputs.width_in! / 36) * inputs.takeup!;
  return yards / (inputs.count! * inputs.hank_yd!);
}

describe('yarn in a cloth', () => {
  // Our way to the same weight: loops x yarn in a loop x tex. Any stitch will do, since the take-up fixes the yarn in a row.
  it.each(ofTopic('yarn_in_fabric'))('$id: $quantity', ({ inputs, quantity, answer, within }) => {
    const known: Record<string, number> = { ...inputs, [quantity]: answer };
    const rows = known.courses_per_in! * 36 * known.length_yd!;
    const stitches = known.width_in! * 10; // ten to the inch, 0.254 cm wide
    const metres = yardageRules.section.formula(yardageRules.loops.formula(stitches, rows), known.takeup! * 0.254, 1);
    const tex = 453_592.37 / (known.count! * known.hank_yd! * 0.9144);
    const pounds = gramsOf(metres, tex) / 453.59237;
    // As far as the printed answer can be off, the weight can.
    expect(Math.abs(pounds / known.weight_lb! - 1)).toBeLessThanOrEqual(within / answer + 1e-9);
    expect(pounds).toBeCloseTo(poundsOfDavis(known), 6);
  });

  it('a knitter: 40 x 18 inches at 5 x 7 to the inch are 25 200 stitches, 560 yards at 45 a yard', () => {
    const stitches = cases.find((each) => each.id === 'hand-stitches')!;
    const loops = yardageRules.loops.formula(
      stitches.inputs.sts_per_in! * stitches.inputs.width_in!,
      stitches.inputs.rows_per_in! * stitches.inputs.length_in!,
    );
    expect(loops).toBe(stitches.answer);
    const metres = yardageRules.section.formula(loops, 91.44 / stitches.inputs.sts_per_yd!, 1);
    expect(metres / 0.9144).toBeCloseTo(cases.find((each) => each.id === 'hand-yards')!.answer, 6);
  });
});

describe('tails', () => {
  it('cast-on: 3 times the width and an end, a published rule; other published rules lie about it', () => {
    // 50 stitches at 20 in 10 cm are 25 cm: 75 cm (published, without an end) and the end.
    expect(yardageRules.castOnTail.formula(50, 20)).toBeCloseTo(0.75 + endMm / 1000, 9);
    const [four, ten, addTen] = ['caston-20in', 'caston-12in', 'caston-8in'].map(
      (id) => cases.find((each) => each.id === id)!,
    );
    // Stitches of 1 inch: 10 in 4 inches is as good as any other gauge.
    const oursIn = (widthIn: number) => (yardageRules.castOnTail.formula(widthIn, 10 / 2.54) * 1000) / 25.4;
    expect(oursIn(8)).toBeLessThan(addTen!.answer); // 3 x and 10 inches: 29.9 of 34
    expect(oursIn(8)).toBeGreaterThan(0.85 * addTen!.answer);
    expect(oursIn(12)).toBeGreaterThan(ten!.answer); // 3 x and 10 %: 41.9 for 39.6
    expect(oursIn(12)).toBeLessThan(1.1 * ten!.answer);
    expect(oursIn(20)).toBeGreaterThan(0.75 * four!.answer); // 4 x and 6 inches, the widest of the rules
    expect(castOnTailTimes).toBe(3);
  });

  it('binding off: 5 times the width, within the published 3 to 6 and over the one measured, 4.67', () => {
    const measured = cases.find((each) => each.id === 'bindoff-12cm')!;
    expect(bindOffTimes).toBeGreaterThanOrEqual(3);
    expect(bindOffTimes).toBeLessThanOrEqual(6);
    expect(yardageRules.bindOff.formula(24, 20) * 100 - endMm / 10).toBeGreaterThan(measured.answer); // 12 cm: 60 of 56
    const six = cases.find((each) => each.id === 'bindoff-40in')!;
    expect((yardageRules.bindOff.formula(40, 10 / 2.54) * 1000) / 25.4).toBeLessThan(six.answer); // 206 of 246 inches
  });

  it('a row of stocking stitch takes about what knitters allow, 3 times its width or up to 4', () => {
    const row = cases.find((each) => each.id === 'row-40in')!;
    const stitches = 40 * 5; // 5 x 7 to the inch
    const metres = yardageRules.section.formula(stitches, loopLengthCm(50 / 2.54, 70 / 2.54, 21.6), 1);
    const inches = (metres * 1000) / 25.4;
    expect(inches).toBeGreaterThan(row.answer); // 3 x 40 and 6: 126
    expect(inches).toBeLessThan(4.3 * 40);
  });

  it('seams: twice the length, and two ends of a hand for a fresh thread', () => {
    expect(yardageRules.seam.formula(100, 2)).toBeCloseTo(0.5, 9);
    expect(yardageRules.seam.formula(100, 0)).toBeCloseTo(0.2, 9);
  });

  // 1000 m of 500 tex are 500 g, ten balls of 50 g: ten joins of two ends of 15 cm, 3 m.
  it('one join for every ball finished', () => {
    expect(yardageRules.withJoins.formula(1000, 500, 50)).toBeCloseTo(1003, 9);
    expect(yardageRules.withJoins.formula(0, 500, 50)).toBe(0);
  });
});

describe('grams and metres', () => {
  it('are one by the yarn', () => {
    expect(gramsOf(1000, 885.8)).toBeCloseTo(885.8, 9);
    expect(texFromMetres(95)).toBeCloseTo(1052.63, 2);
  });
});
