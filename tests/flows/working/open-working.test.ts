import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { plan as planOf } from '#core/plan.ts';
import { yarnPrices } from '#core/pricing/yarn-cost.ts';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import type { Figure } from '#core/shared/figure.ts';
import { formatGrams } from '#core/shared/format.ts';
import { workingOf } from '#core/shared/working.ts';
import { specKey } from '#core/styles/specify.ts';
import { minutesOfPair } from '#core/timing/minutes.ts';
import { yarnNeeds, yarnOfPair } from '#core/yardage/needs.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { listPage } from '#flows/working/buying-pages.ts';
import {
  costWorking,
  coveringWorking,
  gramPriceFigure,
  hourWorking,
  overheadRateFigure,
  priceWorking,
  withoutLabourFigure,
} from '#flows/working/cost-figures.ts';
import { needWorking, plannedPairs } from '#flows/working/need-figures.ts';
import { pageOfFigure } from '#flows/working/open-working.ts';
import {
  type FoundFigure,
  figureTree,
  type PairWorking,
  pairFigure,
  pairFigureNames,
  workPair,
} from '#flows/working/pair-figures.ts';
import { faultsIn } from '#tests/support/adds-up.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let current: WorkshopPlan;

beforeAll(async () => {
  workshop = await openTestWorkshop();
  await putSample(workshop, '2026-11-25');
  current = await readPlan(workshop, new Date('2026-11-25T10:00:00Z'));
});
afterAll(() => workshop.discard());

/** Every agreed line in every knitter's hand, as a page opens it and as the plan has it. */
function* openedPairs() {
  const { input, plan } = current;
  for (const line of input.lines) {
    for (const knitter of input.knitters) {
      const hand = input.hands.find((each) => each.key === knitter.handKey)!;
      const { shape } = line.kind;
      const pair = workPair(shape, hand, current.footOfLine.get(line.id)!.figure, knitter.rates);
      yield { line, knitter, pair, planned: plan.specs.get(specKey(shape, hand))! };
    }
  }
}

function openedValue(pair: PairWorking, name: string): number | null {
  const found = pairFigure(pair, name);
  return found === null || typeof found === 'string' ? null : found.figure.value;
}

describe('a figure opened', () => {
  it('is the figure planned, for every line in every hand', () => {
    let count = 0;
    for (const { line, knitter, pair, planned } of openedPairs()) {
      count += 1;
      const [foot, cuff] = [planned.pieces[0]!, planned.pieces[1]];
      const { measures } = planned;
      const yarn = yarnOfPair(line.kind, planned);
      expect(pair.spec).toEqual(planned);
      const values: Readonly<Record<string, number | null>> = {
        'foot-length': line.kind.shape.foot.lengthMm,
        'ball-girth': line.kind.shape.foot.ballGirthMm,
        'heel-girth': line.kind.shape.foot.heelAnkleGirthMm,
        'heel-check': pair.worked.needed.value,
        width: measures.widthMm,
        length: measures.lengthMm,
        'cast-on': foot.castOnStitches,
        rows: foot.totalRows,
        mark: measures.markRows,
        opening: measures.openingMm,
        toe: foot.lastStitches,
        cuff: cuff?.castOnStitches ?? null,
        'cuff-rows': cuff?.totalRows ?? null,
        'heel-to-toe': measures.heelToToeMm,
        ease: measures.girthEaseRatio,
        stitches: foot.stitchesPer10Cm,
        loop: pair.worked.pieces[0]!.gauge.loop.value,
        minutes: minutesOfPair(planned.operations, knitter.rates),
      };
      for (const [name, value] of Object.entries(values))
        expect([name, openedValue(pair, name)]).toEqual([name, value]);
      // Sums are added in another order, so that only the last bits may differ.
      expect(openedValue(pair, 'grams')).toBeCloseTo(
        yarn.reduce((sum, each) => sum + each.grams, 0),
        9,
      );
      expect(openedValue(pair, 'metres')).toBeCloseTo(
        yarn.reduce((sum, each) => sum + each.metres, 0),
        9,
      );
      const names = [...Object.keys(values), 'grams', 'metres'];
      expect(pairFigureNames.map(({ name }) => name).sort()).toEqual(names.sort());
    }
    expect(count).toBeGreaterThan(50);
  });

  it('has the spread that the plan counts the yarn of one pair with', () => {
    for (const { line, pair, planned } of openedPairs()) {
      // All yarn as if of one colour: then the plan's own sum is that of the pair.
      const colours = Object.fromEntries(
        Object.entries(line.kind.colours).map(([role, ids]) => [role, ids.map(() => 1)]),
      );
      const [all] = yarnNeeds([{ kind: { ...line.kind, colours }, spec: planned, count: 1 }]);
      const grams = pairFigure(pair, 'grams');
      expect((grams as { figure: Figure }).figure.sd).toBeCloseTo(sdOf(all!.grams), 9);
    }
  });

  it('adds up by hand from the numbers shown', () => {
    const faults: string[] = [];
    for (const { line, pair } of openedPairs()) {
      const cost = costWorking(line.kind, pair, current);
      const figures = pairFigureNames.flatMap(({ name }) => {
        const found = pairFigure(pair, name);
        return found === null || typeof found === 'string' ? [] : [found.figure];
      });
      for (const outlet of current.input.outlets) {
        const price = priceWorking(cost, outlet);
        const hour = hourWorking(cost, outlet);
        const wage = coveringWorking('pays my wage', cost.figure, outlet);
        figures.push(...(price.ok ? [price.value] : []), ...(hour ? [hour] : []), ...(wage ? [wage] : []));
      }
      for (const figure of figures) faults.push(...faultsIn(figure, workingOf(figure, 'EUR')));
    }
    expect(faults).toEqual([]);
  });
});

describe('what pairs cost', () => {
  it('is the cost, the prices and the two lines of the price sheet, for every kind', () => {
    const { plan, input } = current;
    const done = new Set<string>();
    for (const { line, knitter, pair } of openedPairs()) {
      if (knitter.id !== input.referenceKnitterId || done.has(line.kind.key)) continue;
      done.add(line.kind.key);
      const sheet = plan.prices.find((each) => each.kindKey === line.kind.key)!;
      const cost = costWorking(line.kind, pair, current);
      expect(cost.figure.value).toBe(sheet.cost.totalCents);
      expect(cost.parts).toEqual(sheet.cost);
      for (const { outletId, row } of sheet.prices) {
        const outlet = input.outlets.find((each) => each.id === outletId)!;
        const price = priceWorking(cost, outlet);
        expect(price.ok ? price.value.value : null).toBe(row.priceCents);
        expect(hourWorking(cost, outlet)?.value ?? null).toBe(row.hourWorthCents);
        const back = coveringWorking('gets my money back', withoutLabourFigure(cost), outlet);
        expect(back?.value ?? null).toBe(row.getsMoneyBackCents);
        expect(coveringWorking('pays my wage', cost.figure, outlet)?.value ?? null).toBe(row.paysWageCents);
      }
    }
    expect(done.size).toBe(plan.kinds.length);
  });

  it('counts a gram of each colour as the plan does, whichever way it is known', () => {
    const { plan, input } = current;
    const nothing = { ...plan.lists.chosen, baskets: [] };
    const unlisted = { ...current, plan: { ...plan, lists: { ...plan.lists, chosen: nothing } } };
    const unsold = { ...unlisted, input: { ...input, offers: [] } };
    const from = new Set<string>();
    for (const [id, planned] of plan.gramPrices) {
      expect(gramPriceFigure(id, current).figure.value).toBeCloseTo(planned.centsPerG, 12);
      for (const each of [current, unlisted, unsold]) {
        const { offers, shelf } = each.input;
        const price = yarnPrices([id], each.plan.lists.chosen, offers, shelf).get(id)!;
        expect(gramPriceFigure(id, each).figure.value).toBeCloseTo(price.centsPerG, 12);
        from.add(price.from);
      }
    }
    expect([...from].sort()).toEqual(['list', 'offer', 'shelf', 'unknown']);
    // 30.00 in a month of 75 planned hours: 0.40 an hour
    expect(overheadRateFigure(current).value).toBe(40);
  });
});

describe('what a colour needs', () => {
  it('is what the plan needs, likely and safe, for every colour', () => {
    const pairs = plannedPairs(current);
    expect(current.plan.needs.length).toBeGreaterThan(5);
    for (const { yarnColourId, grams } of current.plan.needs) {
      const own = pairs.filter(({ pair, knitterId }) =>
        current.plan.handwork.yarnOf(pair.kind, knitterId).some((each) => each.yarnColourId === yarnColourId),
      );
      const { likely, safe } = needWorking(yarnColourId, own, current);
      expect(likely.value).toBeCloseTo(grams.mean, 9);
      expect(likely.sd).toBeCloseTo(sdOf(grams), 9);
      expect(safe.value).toBeCloseTo(enoughAt(grams, 0.9), 9);
      expect(faultsIn(safe, workingOf(safe, 'EUR'))).toEqual([]);
    }
  });
});

describe('what is to buy of a colour', () => {
  it('has columns of grams that add up to the total below them, as they stand', () => {
    const gramsIn = (text: string | null | undefined) =>
      Number(/^([\d,.]+)\u00a0g$/.exec(text ?? '')![1]!.replace(',', ''));
    let count = 0;
    for (const { yarnColourId } of current.plan.needs) {
      const { rows, footer } = listPage(yarnColourId, current)!.tables[0]!;
      const sum = rows.reduce((total, row) => total + gramsIn(row[2]), 0);
      expect(sum).toBeCloseTo(gramsIn(footer![2]), 6);
      count += 1;
    }
    expect(count).toBeGreaterThan(5);
  });

  it('is what the list buys it for, pair by pair, and says why that is more than is safe for all together', () => {
    for (const buyAt of ['safe', 'likely'] as const) {
      const settings = { ...current.input.settings, buyAt };
      const input = { ...current.input, settings };
      const each = { ...current, input, plan: planOf(input) };
      expect(each.plan.placed.toBuy.length).toBeGreaterThan(2);
      for (const toBuy of each.plan.placed.toBuy) {
        const page = listPage(toBuy.yarnColourId, each)!;
        expect(page.figure!.value).toBeCloseTo(toBuy[buyAt].needMg / 1000, 6);
        expect(faultsIn(page.figure!, workingOf(page.figure!, 'EUR'))).toEqual([]);
        // A weight is shown to a tenth of a gram: a thousandth more is nothing to be told.
        expect(JSON.stringify(workingOf(page.figure!, 'EUR'))).not.toContain('up to the whole milligram');
        const more = toBuy.safe.needMg / 1000 - enoughAt(toBuy.grams, settings.confidence);
        expect(more).toBeGreaterThan(-0.001);
        expect(page.notes.some((note) => note.includes('so that each pair finds enough in its lot'))).toBe(
          buyAt === 'safe' && toBuy.safe.needMg > toBuy.safe.largestPairMg,
        );
      }
    }
  });
});

describe('figureTree', () => {
  it('explains a pair that is not stored, and knows what there is', () => {
    const { line, knitter, pair } = openedPairs().next().value!;
    const hand = current.input.hands.find((each) => each.key === knitter.handKey)!;
    const length = current.footOfLine.get(line.id)!.figure;
    const found = figureTree(line.kind.shape, hand, length, knitter.rates, 'cast-on');
    expect((found as { figure: Figure }).figure.value).toBe(pair.worked.pieces[0]!.castOn.value);
    expect(figureTree(line.kind.shape, hand, length, knitter.rates, 'constructor')).toBeNull();
  });
});

describe('pageOfFigure', () => {
  it('is the page of a pair that is only tried', () => {
    const { line, pair } = openedPairs().next().value!;
    const found = pairFigure(pair, 'grams') as FoundFigure;
    const back = { href: '/try?size=38', words: 'Back to the pair' };
    const page = pageOfFigure(found, { where: 'woman EU 38', back, currency: 'EUR' });
    const grams = current.plan.handwork.yarnOf(line.kind, null).reduce((sum, each) => sum + each.grams, 0);
    expect(page.title).toBe(`How ${formatGrams(grams)} comes about`);
    expect([page.back, page.where, page.current]).toEqual([back, 'woman EU 38', 'buying']);
  });
});
