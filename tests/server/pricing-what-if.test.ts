import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents } from '#core/shared/format.ts';
import { changeOutlet } from '#db/stores/pricing.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { addStock } from '#flows/batch/add-stock.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { priceOfKind, priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { readPrices } from '#flows/pricing/read-prices.ts';
import { readRunningCosts } from '#flows/pricing/running-costs.ts';
import { compareTrial, planAs, trialNow } from '#flows/pricing/what-if.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date();
const today = now().toISOString().slice(0, 10);
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let season: Awaited<ReturnType<typeof addSeason>>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const set = (settings: Record<string, unknown>) =>
  workshop.store.write('test: settings', async (tx) => {
    for (const [name, value] of Object.entries(settings)) await setSetting(tx, name, value);
  });
const firstKind = async () => {
  const plan = await readPlan(workshop, now());
  const kind = plan.kindOfLine.get(plan.rows.lines.find((line) => line.orderId === season.forFair.id)!.id)!;
  return { plan, kind };
};

describe('before and after', () => {
  it('plans with the other wage what would be planned if it were kept', async () => {
    const { plan, kind } = await firstKind();
    const tried = planAs(plan, { ...trialNow(plan), wageCentsPerHour: 1500, runningCostsCentsPerMonth: 8000 });
    await set({ wageCentsPerHour: 1500, runningCostsCentsPerMonth: 8000 });
    const kept = (await firstKind()).plan;
    expect(priceOfKind(tried, kind).cost).toEqual(priceOfKind(kept, kind).cost);
    expect(tried.plan.prices.map(({ prices }) => prices)).toEqual(kept.plan.prices.map(({ prices }) => prices));
  });

  it('makes yarn to buy dearer, and leaves yarn on the shelf at what it cost', async () => {
    const { plan } = await firstKind();
    const tried = planAs(plan, { ...trialNow(plan), yarnChangeRatio: 0.1 });
    const centsOf = (source: typeof plan, colourId: number) => source.plan.gramPrices.get(colourId)!;
    expect(centsOf(plan, season.oat.id).from).toBe('list');
    // A tenth more on 9.10 a ball; the postage stays.
    const goods = (source: typeof plan) =>
      source.plan.lists.chosen.baskets
        .flatMap((basket) => basket.lines)
        .reduce((sum, line) => sum + line.goodsCents, 0);
    expect(goods(tried)).toBe(Math.round(goods(plan) * 1.1));
    expect(centsOf(tried, season.oat.id).centsPerG).toBeGreaterThan(centsOf(plan, season.oat.id).centsPerG);
    expect(tried.input.shelf).toEqual(plan.input.shelf);
  });

  it('never lowers a cost or a price when the wage rises', async () => {
    const prices = await readPrices(workshop, now());
    const outlet = prices.outlets[0]!;
    const trial = { ...trialNow(prices.plan), wageCentsPerHour: 1900 };
    const rows = compareTrial(prices, outlet, trial);
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) {
      expect(row.afterCents).toBeGreaterThan(row.beforeCents);
      expect(row.after.priceCents!).toBeGreaterThan(row.before.priceCents!);
      // The price as it was earns an hour what it earned: the wage changes what is wished, not what is left.
      expect(row.hourAtOldPriceCents).toBe(row.before.hourWorthCents);
    }
  });

  it('tries a fee and a tax at the outlet looked at, and leaves the others alone', async () => {
    const prices = await readPrices(workshop, now());
    const outlet = prices.outlets[0]!;
    const trial = { ...trialNow(prices.plan), feeRatio: 0.1, taxRatio: 0.2 };
    for (const row of compareTrial(prices, outlet, trial)) {
      // No fee and no tax before. (cost) / (1 - 0.3 - 0.1 x 1.2) x 1.2, up to the cent that leaves the margin.
      const exact = (row.afterCents / (1 - 0.3 - 0.12)) * 1.2;
      expect(row.afterCents).toBe(row.beforeCents);
      expect(row.after.priceCents! - exact).toBeGreaterThanOrEqual(-1e-6);
      expect(row.after.priceCents! - exact).toBeLessThan(7);
    }
    const other = prices.outlets[1]!;
    const kind = prices.plan.kindOfLine.get(prices.plan.rows.lines[0]!.id)!;
    const after = planAs(prices.plan, trial, outlet.id);
    expect(priceOfPair(after, kind, other.id)).toEqual(priceOfPair(prices.plan, kind, other.id));
  });

  it('shows both side by side and keeps nothing until told so', async () => {
    const { plan, kind } = await firstKind();
    const before = priceOfKind(plan, kind).cost.totalCents;
    const after = priceOfKind(planAs(plan, { ...trialNow(plan), wageCentsPerHour: 1500 }), kind).cost.totalCents;
    const html = await textAt('/pricing/what-if?wageCentsPerHour=15&yarn=0');
    expect(html).toContain('An hour earns so much at the price before');
    expect(html).toContain(formatCents(before, 'EUR'));
    expect(html).toContain(formatCents(after, 'EUR'));
    expect((await readPlan(workshop, now())).settings.wageCentsPerHour).toBe(1200);
    const [, seen] = /name="seen" value="([^"]*)"/.exec(html)!;
    const saved = await postForm(app, '/pricing/what-if', {
      seen: seen!.replaceAll('&quot;', '"'),
      wageCentsPerHour: '15',
      runningCostsCentsPerMonth: '0',
      plannedHoursPerMonth: '40',
    });
    expect(saved.status).toBe(303);
    expect((await readPlan(workshop, now())).settings.wageCentsPerHour).toBe(1500);
  });

  it('says what to do with what is no amount, and keeps it', async () => {
    const response = await app.request('/pricing/what-if?wageCentsPerHour=lots&yarn=dear&at=99&fee=high');
    const html = await response.text();
    expect(response.status).toBe(422);
    for (const path of ['wageCentsPerHour', 'yarn', 'at', 'fee']) expect(html).toContain(`href="#field-${path}"`);
    expect(html).toContain('value="lots"');
    expect(html).toContain('value="dear"');
  });

  it('says how to begin without orders', async () => {
    const empty = await openTestWorkshop();
    const html = await (
      await createApp({ workshop: empty, now, publicUrl: null }).request('/pricing/what-if?yarn=5')
    ).text();
    expect(html).toContain('With the first order');
    await empty.discard();
  });
});

describe('running costs', () => {
  it('are carried by pairs that went out for money, at the rate of an hour', async () => {
    // 40.00 over 40 hours is 1.00 an hour.
    await set({ runningCostsCentsPerMonth: 4000, plannedHoursPerMonth: 40 });
    await postForm(app, '/pricing/expenses', { what: 'Table', day: today, amount: '25' });
    const plan = await readPlan(workshop, now());
    const added = await addStock(workshop, plan, {
      styleId: season.style.id,
      person: 'woman',
      system: 'EU',
      label: '38',
      fit: 'usual',
      colours: { foot: [season.heather.id], cuff: [season.heather.id] },
      cuffHeightMm: null,
      quality: 'good',
      quantity: 3,
    });
    if (!added.ok) throw new Error('no stock');
    const [sold, given] = added.value;
    await stepPair(workshop, sold!, { do: 'leave', left: 'sold' }, today, undefined);
    await stepPair(workshop, given!, { do: 'leave', left: 'given' }, today, undefined);
    const { periods } = await readRunningCosts(workshop, await readPlan(workshop, now()));
    const [month] = periods;
    expect(month).toMatchObject({ paidCents: 2500, pairs: 1 });
    expect(month!.carriedCents).toBe(Math.round((month!.minutes / 60) * 100));
    const html = await textAt('/pricing/hour');
    expect(html).toContain(`${formatCents(2500 - month!.carriedCents, 'EUR')} open`);
  });

  it('say how many such pairs a usual month takes, or that the pairs leave nothing', async () => {
    await set({ runningCostsCentsPerMonth: 4000 });
    const { breakEven } = await readRunningCosts(workshop, await readPlan(workshop, now()));
    if (!breakEven?.ok) throw new Error('these pairs leave something');
    expect(breakEven.value.pairs).toBe(Math.ceil(4000 / breakEven.value.contributionCents));
    expect(await textAt('/pricing/hour')).toContain(`${breakEven.value.pairs} such pairs`);
    await workshop.store.write('test: too cheap', async (tx) => {
      for (const id of [season.fair.id, season.direct.id]) {
        await changeOutlet(tx, id, { priceRule: 'fixed', priceRatio: 0, fixedPriceCents: 1000 });
      }
    });
    expect(await textAt('/pricing/hour')).toContain('do not earn the running costs');
  });
});

describe('opened balls and pairs that go wrong', () => {
  it('add to what a pair costs, in the bar and in its working, when the settings ask for it', async () => {
    const { plan, kind } = await firstKind();
    const lineId = plan.rows.lines.find((line) => line.orderId === season.forFair.id)!.id;
    const before = priceOfKind(plan, kind).cost;
    expect(await textAt(`/pricing/pair/${lineId}`)).not.toContain('opened balls');
    await set({ chargeOpenedBall: true });
    const opened = priceOfKind((await firstKind()).plan, kind).cost;
    expect(opened.openedBallCents).toBeGreaterThan(0);
    expect(Math.abs(opened.totalCents - before.totalCents - opened.openedBallCents!)).toBeLessThanOrEqual(1);
    await set({ spareRatio: 0.1 });
    const after = priceOfKind((await firstKind()).plan, kind).cost;
    // One in ten goes wrong: nine good ones pay for the labour of ten.
    expect(Math.abs(after.labourCents - opened.labourCents / 0.9)).toBeLessThanOrEqual(1.2);
    expect(after.sparesCents).toBeGreaterThan(0);
    const html = await textAt(`/pricing/pair/${lineId}`);
    expect(html).toContain('Left of opened balls');
    expect(html).toContain('Pairs that go wrong');
    const working = await textAt(`/working/pricing/cost/${lineId}`);
    expect(working).toContain(formatCents(after.totalCents, 'EUR'));
    expect(working).toContain('left of opened balls');
    expect(await textAt('/pricing/hour')).toContain('Charge what no plan can use of an opened ball');
  });
});
