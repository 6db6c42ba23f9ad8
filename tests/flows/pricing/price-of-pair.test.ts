import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { kindFor } from '#core/batch/kinds.ts';
import { priceFor } from '#core/pricing/price-sheet.ts';
import { changeOutlet, createPriceGroup } from '#db/stores/pricing.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let season: Awaited<ReturnType<typeof addSeason>>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
});
afterEach(() => workshop.discard());

const fairKind = async () => {
  const plan = await readPlan(workshop, now);
  return { plan, kind: plan.kindOfLine.get(plan.rows.lines.find((line) => line.orderId === season.forFair.id)!.id)! };
};
const group = (changes = {}) => ({
  outletId: season.fair.id,
  styleId: season.style.id,
  name: 'women',
  fromMm: 230,
  toMm: 260,
  priceCents: 4400,
  ...changes,
});

describe('priceOfPair', () => {
  it('is the price that the outlet makes of the cost where no group fits', async () => {
    const { plan, kind } = await fairKind();
    const planned = plan.plan.prices.find((price) => price.kindKey === kind.key)!;
    const row = planned.prices.find((price) => price.outletId === season.fair.id)!.row;
    expect(priceOfPair(plan, kind, season.fair.id)).toEqual({ ...row, groupName: null });
  });

  it('is the one price of the group, with what it leaves of this very pair', async () => {
    await workshop.store.write('test: a group', (tx) => createPriceGroup(tx, group()));
    const { plan, kind } = await fairKind();
    const price = priceOfPair(plan, kind, season.fair.id);
    expect(price).toMatchObject({ priceCents: 4400, groupName: 'women', netCents: 4400 });
    const { cost, minutes } = priceOfKind(plan, kind);
    // No fees and no tax here: what is left of 44.00 without yarn and the like, by the hours.
    expect(price.hourWorthCents).toBe(Math.round(((4400 - cost.totalCents + cost.labourCents) * 60) / minutes));
    // Elsewhere the group does not count.
    expect(priceOfPair(plan, kind, season.direct.id).groupName).toBeNull();
  });

  it('takes so much off a second as the outlet says, up to its ending', async () => {
    await workshop.store.write('test: a group', async (tx) => {
      await createPriceGroup(tx, group());
      await changeOutlet(tx, season.fair.id, { secondOffRatio: 0.25, endingCents: 50 });
    });
    const { plan, kind } = await fairKind();
    // A quarter off 44.00 is 33.00; the next that ends in .50 is 33.50.
    expect(priceOfPair(plan, kind, season.fair.id, { quality: 'second' })).toMatchObject({
      priceCents: 3350,
      groupName: 'women',
    });
  });

  it('prices a pair that nobody ordered yet by the same rules', async () => {
    const { plan, kind } = await fairKind();
    const { style, fit, yarns } = kind.shape;
    const wish = { style, fit, yarns, foot: { ...kind.shape.foot, lengthMm: 255 }, colours: kind.colours };
    const longer = kindFor({ ...wish, cuff: 'short' });
    const price = priceOfPair(plan, longer, season.fair.id, { styleId: season.style.id });
    const { cost, minutes } = priceOfKind(plan, longer);
    expect(price).toEqual({ ...priceFor(cost, minutes, season.fair, 1200), groupName: null });
    // A longer foot takes more yarn and time.
    expect(cost.totalCents).toBeGreaterThan(priceOfKind(plan, kind).cost.totalCents);
  });

  it('says so when the outlet is not there', async () => {
    const { plan, kind } = await fairKind();
    expect(() => priceOfPair(plan, kind, 99)).toThrow('That outlet is not here.');
  });
});
