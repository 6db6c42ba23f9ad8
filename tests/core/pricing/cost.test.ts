import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CostInput, costFigures, costOfPair, minutesWithSpares } from '#core/pricing/cost.ts';
import { given, namesInWords } from '#core/shared/figure.ts';

const nothing: CostInput = Object.freeze({
  yarnCents: 0,
  materialsCents: 0,
  minutes: 0,
  wageCentsPerHour: 0,
  overheadCentsPerHour: 0,
});

const anyCost = fc.record({
  yarnCents: fc.integer({ min: 0, max: 5_000_000 }).map((thousandths) => thousandths / 1000),
  materialsCents: fc.integer({ min: 0, max: 5000 }),
  minutes: fc.integer({ min: 0, max: 1000 }),
  wageCentsPerHour: fc.integer({ min: 0, max: 5000 }),
  overheadCentsPerHour: fc.integer({ min: 0, max: 1000 }),
});

describe('costOfPair', () => {
  // Principles of Accounting 2 (OpenStax, 2019), job order costing: material 700, labour 66, overhead 2.50 on each
  // unit of labour cost; one hour at 66 carries 165.
  it('is 931 for the job with material 700 and labour 66', () => {
    const cost = costOfPair({
      ...nothing,
      materialsCents: 70000,
      minutes: 60,
      wageCentsPerHour: 6600,
      overheadCentsPerHour: 16500,
    });
    expect(cost).toEqual({
      yarnCents: 0,
      materialsCents: 70000,
      labourCents: 6600,
      overheadCents: 16500,
      totalCents: 93100,
    });
  });

  // Same book, exercise: overhead 50 000 / 5 000 h = 10 an hour; material 70, two hours at 20.
  it('is 130 for material 70 and two hours at 20 with 10 an hour of overhead', () => {
    const cost = costOfPair({
      yarnCents: 7000,
      materialsCents: 0,
      minutes: 120,
      wageCentsPerHour: 2000,
      overheadCentsPerHour: 1000,
    });
    expect(cost.totalCents).toBe(13000);
  });

  // Same book, repair job: part 42, three hours at 25, overhead as much as labour.
  it('is 192 for a part of 42 and three hours at 25', () => {
    const cost = costOfPair({
      ...nothing,
      materialsCents: 4200,
      minutes: 180,
      wageCentsPerHour: 2500,
      overheadCentsPerHour: 2500,
    });
    expect(cost.totalCents).toBe(19200);
  });

  it('rounds once: four parts of 0.4 are 1.6, so 2 in all, to the first two', () => {
    // 0.4 + 0.4 + 24/60 + 24/60
    const cost = costOfPair({
      yarnCents: 0.4,
      materialsCents: 0.4,
      minutes: 24,
      wageCentsPerHour: 1,
      overheadCentsPerHour: 1,
    });
    expect(cost).toEqual({ yarnCents: 1, materialsCents: 1, labourCents: 0, overheadCents: 0, totalCents: 2 });
  });

  it('leaves a part that is whole as it is', () => {
    // 5000 + 100.25 + 100.25 = 5200.5, up to 5201; the cent belongs to one of the fractions
    const cost = costOfPair({
      yarnCents: 5000,
      materialsCents: 0,
      minutes: 60,
      wageCentsPerHour: 100.25,
      overheadCentsPerHour: 100.25,
    });
    expect(cost).toEqual({
      yarnCents: 5000,
      materialsCents: 0,
      labourCents: 101,
      overheadCents: 100,
      totalCents: 5201,
    });
  });

  it('has whole parts within one of the exact ones, that add up to the exact sum rounded half up', () => {
    fc.assert(
      fc.property(anyCost, (input) => {
        const cost = costOfPair(Object.freeze(input));
        const hours = new Decimal(input.minutes).div(60);
        const exact = [
          new Decimal(input.yarnCents),
          new Decimal(input.materialsCents),
          hours.times(input.wageCentsPerHour),
          hours.times(input.overheadCentsPerHour),
        ];
        const parts = [cost.yarnCents, cost.materialsCents, cost.labourCents, cost.overheadCents];
        const total = exact.reduce((sum, part) => sum.plus(part)).toDecimalPlaces(6);
        expect(cost.totalCents).toBe(total.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber());
        expect(parts.reduce((sum, part) => sum + part, 0)).toBe(cost.totalCents);
        parts.forEach((part, index) => {
          expect(Number.isInteger(part) && part >= 0).toBe(true);
          expect(exact[index]!.minus(part).abs().lessThan(1)).toBe(true);
        });
      }),
      { numRuns: 2000 },
    );
  });

  it.each(['yarnCents', 'materialsCents', 'minutes', 'wageCentsPerHour', 'overheadCentsPerHour'])(
    'refuses a negative or unknown %s',
    (name) => {
      expect(() => costOfPair({ ...nothing, [name]: -1 })).toThrow(name);
      expect(() => costOfPair({ ...nothing, [name]: Number.NaN })).toThrow(RangeError);
    },
  );
});

describe('costFigures', () => {
  it('is the same cost before rounding', () => {
    fc.assert(
      fc.property(anyCost, (input) => {
        const { total } = costFigures(input);
        expect(Math.abs(total.value - costOfPair(input).totalCents)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
    );
  });

  it('keeps the working of yarn and minutes, and names each input in its words', () => {
    const yarn = given('yarn of the pair', 700, 'cents', 'ours');
    const minutes = given('minutes', 120, 'min', 'ours');
    const figures = costFigures(
      { ...nothing, yarnCents: 700, minutes: 120, wageCentsPerHour: 1000 },
      { yarn, minutes },
    );
    expect(figures.total.inputs[0]).toBe(yarn);
    expect(figures.labour.inputs[0]).toBe(minutes);
    expect(figures.total.value).toBe(2700);
    for (const figure of [figures.labour, figures.overhead, figures.total]) {
      expect(namesInWords(figure.rule.words)).toHaveLength(figure.inputs.length);
    }
  });
});

describe('costOfPair with pairs that go wrong and opened balls', () => {
  // By hand: of 20 pairs one goes wrong, 19 good ones pay for it. 190 min / 0.95 = 200 min at 12.00 an hour: 40.00.
  // All but the work: 7.00 + 0.40 + 3.1667 = 10.5667, of which a nineteenth is 0.5561. Together 51.1228.
  it('adds a nineteenth when one in twenty goes wrong', () => {
    const input = {
      yarnCents: 700,
      materialsCents: 40,
      minutes: 190,
      wageCentsPerHour: 1200,
      overheadCentsPerHour: 100,
    };
    expect(costOfPair({ ...input, spareRatio: 0.05 })).toEqual({
      yarnCents: 700,
      materialsCents: 40,
      labourCents: 4000,
      overheadCents: 317,
      sparesCents: 55,
      totalCents: 5112,
    });
    expect(minutesWithSpares(190, 0.05)).toBeCloseTo(200, 9);
  });

  it('costs a good pair what all pairs begun cost, over those that are good', () => {
    fc.assert(
      fc.property(
        anyCost,
        fc.integer({ min: 0, max: 90 }),
        fc.integer({ min: 0, max: 300 }),
        (input, share, opened) => {
          const spareRatio = share / 100;
          const plain = costFigures({ ...input, openedBallCents: opened }).total.value;
          const cost = costOfPair({ ...input, openedBallCents: opened, spareRatio });
          expect(Math.abs(cost.totalCents - plain / (1 - spareRatio))).toBeLessThanOrEqual(0.5 + 1e-6);
          const { yarnCents, materialsCents, labourCents, overheadCents, openedBallCents = 0, sparesCents = 0 } = cost;
          expect(yarnCents + materialsCents + labourCents + overheadCents + openedBallCents + sparesCents).toBe(
            cost.totalCents,
          );
          const figures = costFigures({ ...input, openedBallCents: opened, spareRatio });
          expect(Math.abs(figures.total.value - cost.totalCents)).toBeLessThanOrEqual(0.5 + 1e-6);
        },
      ),
    );
  });

  it('refuses a share of nearly all', () => {
    expect(() => costOfPair({ ...nothing, spareRatio: 0.95 })).toThrow('spareRatio');
    expect(() => minutesWithSpares(10, -0.1)).toThrow(RangeError);
  });
});
