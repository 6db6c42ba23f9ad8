import { describe, expect, it } from 'vitest';
import { usualRates } from '#core/timing/minutes.ts';
import type { SwatchRow } from '#db/stores/gauge.ts';
import type { KnitterRow } from '#db/stores/knitters.ts';
import { handsOf } from '#flows/knitters/hands.ts';

type Rows = Parameters<typeof handsOf>[0];

const knitter = (id: number, values: Partial<KnitterRow> = {}): KnitterRow => ({
  id,
  name: `Knitter ${id}`,
  hand: 'usual',
  dailyCapMin: 240,
  pairsAMonth: null,
  lastDay: null,
  words: 'british',
  isActive: true,
  version: 1,
  ...values,
});

const swatch = (id: number, values: Partial<SwatchRow> = {}): SwatchRow => ({
  id,
  knitterId: null,
  yarnId: 5,
  secondYarnId: null,
  strands: 1,
  needleMm: 7,
  fabric: 'stocking',
  stitches: 26,
  rows: 36,
  widthMm: 200,
  heightMm: 200,
  massMg: null,
  isWashed: true,
  madeDay: null,
  leftOutReason: null,
  version: 1,
  ...values,
});

const yarn = (id: number, tex: number): Rows['yarns'][number] => ({
  id,
  name: `Yarn ${id}`,
  fibre: 'wool',
  tex,
  ballMg: 100_000,
  category: 5,
  usualStrands: 1,
  needleMm: 7,
  usualStitchesPer10Cm: 13,
  version: 1,
});

const rowsWith = (values: Partial<Rows>): Rows => ({
  knitters: [knitter(1)],
  knitterRates: [],
  knitterHours: [],
  daysOff: [],
  swatches: [],
  yarns: [yarn(5, 1000), yarn(7, 500)],
  settings: [],
  ...values,
});

describe('handsOf', () => {
  it('gives knitters without a swatch the workshop’s hand of their tightness, each hand once', () => {
    const { hands, knitters } = handsOf(
      rowsWith({ knitters: [knitter(1), knitter(2, { hand: 'loose' }), knitter(3)] }),
    );
    expect(hands.map((hand) => [hand.key, hand.tightness])).toEqual([
      ['usual', 'usual'],
      ['loose', 'loose'],
    ]);
    expect(knitters.map((each) => each.handKey)).toEqual(['usual', 'loose', 'usual']);
  });

  it('gives a knitter with a swatch a hand of her own, with the workshop’s squares behind hers', () => {
    const { hands, knitters } = handsOf(
      rowsWith({
        knitters: [knitter(1), knitter(2, { hand: 'tight' })],
        swatches: [
          swatch(1, { knitterId: 2, stitches: 29 }),
          swatch(2, { stitches: 25 }),
          swatch(3, { yarnId: 7, strands: 2 }),
        ],
      }),
    );
    expect(knitters.map((each) => each.handKey)).toEqual(['usual', 'knitter-2']);
    // 29 stitches over 20 cm are 14.5 in 10, hers first; the workshop's 12.5 and, for two strands, 13
    expect(hands.find((hand) => hand.key === 'knitter-2')!.gauges.map((g) => [g.yarnsKey, g.stitchesPer10Cm])).toEqual([
      ['5', 14.5],
      ['7+7', 13],
      ['5', 12.5],
    ]);
    expect(hands.find((hand) => hand.key === 'usual')!.gauges).toHaveLength(2);
  });

  it('leaves out squares with a reason, and squares whose yarn is gone', () => {
    const { hands, knitters } = handsOf(
      rowsWith({ swatches: [swatch(1, { knitterId: 1, leftOutReason: 'curled' }), swatch(2, { yarnId: 99 })] }),
    );
    expect(knitters[0]!.handKey).toBe('usual');
    expect(hands[0]!.gauges).toEqual([]);
  });

  it('adds the tex of two strands for the yarn in a stitch', () => {
    // 28 g of two strands of 500 tex: 28 m over 936 stitches
    const { hands } = handsOf(rowsWith({ swatches: [swatch(1, { yarnId: 7, strands: 2, massMg: 28_000 })] }));
    expect(hands[0]!.gauges[0]!.loopCm).toBeCloseTo(2800 / 936, 10);
  });

  it('reads hours, own rates over usual ones, and days off of her own and of everybody', () => {
    const { knitters } = handsOf(
      rowsWith({
        knitterHours: [{ id: 1, knitterId: 1, weekday: 7, minutes: 90 }],
        knitterRates: [{ id: 1, knitterId: 1, operation: 'stitchesPerMin', value: 31 }],
        daysOff: [
          { id: 1, knitterId: null, fromDay: '2026-12-24', toDay: '2026-12-26', version: 1 },
          { id: 2, knitterId: 2, fromDay: '2026-12-01', toDay: '2026-12-02', version: 1 },
        ],
      }),
    );
    expect(knitters[0]).toMatchObject({
      minutesByWeekday: [0, 0, 0, 0, 0, 0, 90],
      rates: { ...usualRates, stitchesPerMin: 31 },
      daysOff: [{ fromDay: '2026-12-24', toDay: '2026-12-26' }],
    });
  });

  it('reckons at the knitter of the settings, else the first who knits', () => {
    const knitters = [knitter(3), knitter(2), knitter(1, { isActive: false })];
    expect(handsOf(rowsWith({ knitters })).referenceKnitterId).toBe(2);
    const settings = [{ id: 1, name: 'referenceKnitterId', valueJson: '3' }];
    expect(handsOf(rowsWith({ knitters, settings })).referenceKnitterId).toBe(3);
  });

  it('has somebody without time when nobody knits, so that a plan can still be made', () => {
    const { hands, knitters } = handsOf(rowsWith({ knitters: [] }));
    expect(knitters).toHaveLength(1);
    expect(knitters[0]!.minutesByWeekday).toEqual([0, 0, 0, 0, 0, 0, 0]);
    expect(hands.map((hand) => hand.key)).toContain(knitters[0]!.handKey);
  });
});
