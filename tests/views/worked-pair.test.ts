import { describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { costOfPair } from '#core/pricing/cost.ts';
import { priceFor } from '#core/pricing/price-sheet.ts';
import { footFigures, footFrom } from '#core/sizing/girths.ts';
import { footLengthFromLabel } from '#core/sizing/labels.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { bodyFigures } from '#core/styles/work-out.ts';
import { minutesOfPair, usualRates } from '#core/timing/minutes.ts';
import { gramsOf } from '#core/yardage/rules.ts';
import { bulky, byOrder, slipper, usualHand } from '#tests/support/plan-input.ts';
import { handPair } from '#views/help/worked-pair.tsx';

// The numbers of the help page were worked with a pocket calculator from the rules; here the program works them.
const label = footLengthFromLabel({ person: 'woman', system: 'EU', label: '38' });
if (!label.ok) throw new Error('EU 38 is a size');
const { shape } = kindFor({
  style: slipper,
  foot: footFrom({ person: 'woman', lengthMm: label.value.value }),
  fit: 'usual',
  yarns: { foot: [bulky], cuff: [bulky] },
  colours: { foot: [1], cuff: [2] },
  cuff: 'short',
});
const girths = footFigures(shape.foot, label.value);
const body = { ...bodyFigures(shape), ballGirth: girths.ballGirth, heelAnkleGirth: girths.heelAnkleGirth };
const { spec, worked, metres, heelToToe, girthEase } = specifyWithWorking(shape, usualHand, body);
const [foot, cuff] = [worked.pieces[0]!, worked.pieces[1]!];
const rowsOf = (piece: typeof foot, name: string) => piece.sections.find((each) => each.section.name === name)!.rows;
const metresOf = (role: string) =>
  metres.filter((each) => each.role === role).reduce((sum, each) => sum + each.metres.value, 0);
// The figures are of a pair with ball joins: 0.3 m in 100 m.
const oneSlipperM = (role: string) => metresOf(role) / 1.003 / 2;
const grams = (role: string) => gramsOf(metresOf(role), 1000);
const minutes = minutesOfPair(spec.operations, usualRates);
const cost = costOfPair({
  yarnCents: (grams('foot') + grams('cuff')) * 6.2,
  materialsCents: 90 + 15,
  minutes,
  wageCentsPerHour: 1200,
  overheadCentsPerHour: 100,
});
// Margin 0.2, card fee 2 % and 10 cents, prices in whole euros.
const sheet = priceFor(cost, minutes, { ...byOrder, endingCents: 0 }, 1200);

const program: Readonly<Record<keyof typeof handPair, number>> = {
  footLength: label.value.value,
  ballGirth: worked.body.ballGirth.value,
  heelGirth: worked.body.heelAnkleGirth.value,
  needed: worked.needed.value,
  widthWished: worked.lengths.width!.value,
  castOn: foot.castOn.value,
  footRows: rowsOf(foot, 'sole and sides'),
  allRows: foot.totalRows.value,
  toe: foot.lastStitches,
  width: foot.width.value,
  length: foot.length.value,
  heelToToe: heelToToe.value,
  easePercent: girthEase.value * 100,
  mark: worked.marks[0]!.rows.value,
  opening: worked.marks[0]!.edge.value,
  openingStretched: worked.marks[0]!.edge.value * 1.35,
  cuffStitches: cuff.castOn.value,
  cuffFlat: cuff.width.value,
  cuffStretched: cuff.width.value * 1.37,
  cuffHeight: shape.cuffHeightMm,
  ribRows: rowsOf(cuff, 'rib'),
  cuffRows: cuff.totalRows.value,
  loop: foot.gauge.loop.value,
  footLoops: spec.operations.stitches.stocking! / 2,
  footMetres: oneSlipperM('foot'),
  cuffMetres: oneSlipperM('cuff'),
  footGrams: grams('foot'),
  cuffGrams: grams('cuff'),
  grams: grams('foot') + grams('cuff'),
  minutes,
  cost: cost.totalCents / 100,
  price: sheet.priceCents! / 100,
  moneyBack: sheet.getsMoneyBackCents! / 100,
  wage: sheet.paysWageCents! / 100,
  hour: sheet.hourWorthCents! / 100,
};

describe('the pair worked by hand', () => {
  it.each(Object.entries(handPair))('%s is what the program reckons', (name, { value, digits }) => {
    const reckoned = program[name as keyof typeof handPair];
    expect(Math.abs(reckoned - value), `program ${reckoned}, by hand ${value}`).toBeLessThanOrEqual(
      0.5 * 10 ** -digits + 1e-9,
    );
  });

  it('has no step that only one of the two knows', () => {
    expect(Object.keys(program)).toEqual(Object.keys(handPair));
  });

  // Read back from the page's own text.
  it.each(['footMetres', 'cuffMetres', 'minutes'] as const)('%s: the parts on the page add up', (name) => {
    const parts = [...handPair[name].work.matchAll(/(?:^|\+ )(\d+(?:\.\d+)?)/g)].map((match) => Number(match[1]));
    expect(parts.length).toBeGreaterThan(3);
    expect(parts.reduce((sum, part) => sum + part, 0)).toBeCloseTo(handPair[name].value, 6);
  });
});
