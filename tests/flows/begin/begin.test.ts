import { existsSync } from 'node:fs';
import { createClient } from '@libsql/client';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { listBallMoves, listBalls } from '#db/stores/shelf.ts';
import { saveAnswer, setSetting } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { clearAll } from '#flows/begin/clear-all.ts';
import { isEmpty, isSample } from '#flows/begin/is-empty.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { ownWorkIn } from '#flows/begin/own-work.ts';
import { readPurchases } from '#flows/buying/read-purchases.ts';
import { repeatOrder } from '#flows/orders/repeat-order.ts';
import { planRows, readPlan } from '#flows/read-plan.ts';
import { dueAtShop } from '#flows/shelf/due-at-shop.ts';
import { undoMove } from '#flows/shelf/move-yarn.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const today = '2026-11-25';
const now = new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;

beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

/** Rows in each table, read from the file itself. */
async function countRows(file: string): Promise<Record<string, number>> {
  const client = createClient({ url: `file:${file}` });
  try {
    const tables = await client.execute(
      "select name from sqlite_master where type = 'table' and name not like 'sqlite_%' and name not like '\\_\\_%' escape '\\'",
    );
    const counts: Record<string, number> = {};
    for (const { name } of tables.rows) {
      const { rows } = await client.execute(`select count(*) as number from "${name}"`);
      counts[String(name)] = Number(rows[0]!.number);
    }
    return counts;
  } finally {
    client.close();
  }
}

describe('beginOwn', () => {
  it('gives the shipped style, bands, one knitter, three outlets and two yarns of six colours', async () => {
    expect(isEmpty(await readWorkshop(workshop))).toBe(true);
    expect(await beginOwn(workshop, { purpose: 'order', timeZone: 'Europe/London' })).toEqual({
      ok: true,
      value: null,
    });
    const rows = await readWorkshop(workshop);
    expect(isEmpty(rows)).toBe(false);
    expect(isSample(rows)).toBe(false);
    expect(JSON.parse(rows.styleVersions[0]!.bodyJson)).toEqual(twoPieceSlipper);
    expect(rows.bands.length).toBeGreaterThan(10);
    expect(rows.knitters.map((each) => each.name)).toEqual(['Knitter 1']);
    // an hour from Monday to Friday, two on Saturday and Sunday
    expect(rows.knitterHours.map((each) => each.minutes)).toEqual([60, 60, 60, 60, 60, 120, 120]);
    expect(rows.outlets.map((each) => each.kind)).toEqual(['order', 'fair', 'gift']);
    expect(rows.yarns.map((each) => [each.tex, each.usualStrands])).toEqual([
      [1000, 1],
      [500, 2],
    ]);
    expect(rows.yarnColours).toHaveLength(12);
    const plan = planRows(rows, today);
    expect(plan.settings).toMatchObject({ purpose: 'order', timeZone: 'Europe/London' });
    expect(plan.plan.wanted.pairs).toEqual([]);
  });

  it('is refused when anything is there, and leaves it as it is', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const before = await readWorkshop(workshop);
    expect((await beginOwn(workshop, { purpose: 'give' })).ok).toBe(false);
    expect(await readWorkshop(workshop)).toEqual(before);
  });

  it('lets one of two beginnings at once through', async () => {
    const both = await Promise.allSettled([beginOwn(workshop, { purpose: 'sell' }), loadSample(workshop, { today })]);
    expect(both.filter((each) => each.status === 'fulfilled' && each.value.ok)).toHaveLength(1);
    expect((await readWorkshop(workshop)).styles).toHaveLength(shippedStyles.length);
  });
});

describe('loadSample', () => {
  it('fills an empty workshop with a season that can be planned whole', async () => {
    expect((await loadSample(workshop, { today })).ok).toBe(true);
    const rows = await readWorkshop(workshop);
    expect(isSample(rows)).toBe(true);
    expect(rows.knitters.map((each) => each.hand).sort()).toEqual(['loose', 'tight', 'usual']);
    expect(rows.orders.length).toBeGreaterThanOrEqual(14);
    expect(new Set(rows.suppliers.map((each) => each.shippingCents)).size).toBe(2);
    const heather = rows.yarnColours.find((each) => each.name === 'Heather')!;
    expect(rows.lots.filter((each) => each.yarnColourId === heather.id)).toHaveLength(2);
    const { plan, lineProblems } = await readPlan(workshop, now);
    expect(lineProblems).toEqual([]);
    expect(plan.lists.chosen.uncovered).toEqual([]);
    expect(plan.weeks.every((each) => each.finishDay !== null)).toBe(true);
    expect(plan.prices.some((each) => each.isYarnPriceUnknown)).toBe(false);
  });

  it('reckons every date from today', async () => {
    await loadSample(workshop, { today });
    const other = await openTestWorkshop();
    try {
      await loadSample(other, { today: '2027-03-01' });
      const [first, second] = [await readWorkshop(workshop), await readWorkshop(other)];
      const days = (value: unknown): string[] => [...JSON.stringify(value).matchAll(/\d{4}-\d{2}-\d{2}/g)].map(String);
      const shift = (day: string) => new Date(Date.parse(day) + (Date.parse('2027-03-01') - Date.parse(today)));
      const dated = ({ orders, lots, swatches, daysOff, expenses }: typeof first) => ({
        orders,
        lots,
        swatches,
        daysOff,
        expenses,
      });
      expect(days(dated(first)).length).toBeGreaterThan(20);
      expect(days(dated(second))).toEqual(days(dated(first)).map((day) => shift(day).toISOString().slice(0, 10)));
    } finally {
      await other.discard();
    }
  });

  it('has lower prices for more, two parcels on their way, wool without labels and yarn that may go back', async () => {
    await loadSample(workshop, { today });
    const workshopPlan = await readPlan(workshop, now);
    const { rows, plan, input } = workshopPlan;
    expect(input.offers.filter(({ breaks }) => breaks)).toHaveLength(6);
    expect(input.suppliers.map(({ breaks }) => breaks?.length ?? 0)).toEqual([0, 1]);
    // Each list is proven, and the one that counts gets something off its basket.
    for (const list of [plan.lists.likely, plan.lists.safe]) expect(list.isProvenCheapest).toBe(true);
    const [, quillmoor] = plan.lists.safe.baskets;
    // A twentieth of the goods.
    expect(quillmoor!.offCents).toBe(Math.round(quillmoor!.goodsCents / 20));
    const { onTheirWay, closed } = readPurchases(workshopPlan);
    expect(closed).toEqual([]);
    expect(onTheirWay.map(({ shop, arrivedPacks, missingPacks }) => [shop.name, arrivedPacks, missingPacks])).toEqual([
      ['Lanternside Yarns', 3, 2],
      ['Quillmoor Wool Post', 0, 7],
    ]);
    // Three balls of Slate at 5.90 and two of Fog at 6.20, 3.95 postage: 17.70 + 12.40 + 3.95. The lots that came, by
    // hand: the postage is 2.32 for Slate and 1.63 for Fog, so a ball of Slate 20.02/3 = 6.67 and both of Fog 14.03.
    expect(onTheirWay[0]!.totalCents).toBe(3405);
    const came = rows.lots.filter(({ gotDay }) => gotDay === '2026-11-24');
    expect(came.map(({ dyeLot, paidCents }) => [dyeLot, paidCents])).toEqual([
      ['44', 667],
      ['33', 1403],
    ]);
    expect(rows.yarns.filter(({ name }) => name.startsWith('Unlabelled'))).toHaveLength(2);
    expect(dueAtShop(rows, today).map(({ day, colour, isAtShop }) => [day, colour, isAtShop])).toEqual([
      ['2026-11-30', 'Poppy', false],
    ]);
    expect(dueAtShop(rows, '2026-12-01').map(({ colour, isAtShop }) => [colour, isAtShop])).toEqual([['Slate', true]]);
  });

  it('is refused beside somebody’s own work, and leaves it as it is', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const before = await readWorkshop(workshop);
    expect((await loadSample(workshop, { today })).ok).toBe(false);
    expect(await readWorkshop(workshop)).toEqual(before);
  });
});

describe('clearAll', () => {
  it('takes the sample away in one step: no table holds anything but the workshop’s name', async () => {
    await loadSample(workshop, { today });
    expect(await clearAll(workshop, { typed: '', now })).toEqual({ ok: true, value: { keptAs: null } });
    const { state, ...counts } = await countRows(workshop.file);
    expect(state).toBe(1);
    expect(Object.keys(counts).length).toBeGreaterThan(30);
    expect(Object.entries(counts).filter(([, number]) => number > 0)).toEqual([]);
    expect((await loadSample(workshop, { today })).ok).toBe(true);
  });

  it('asks first when something in the sample is somebody’s own, says what would go, and keeps a copy', async () => {
    await loadSample(workshop, { today });
    expect(await ownWorkIn(workshop)).toBeNull();
    const [order] = (await readWorkshop(workshop)).orders;
    for (let times = 0; times < 2; times += 1) await repeatOrder(workshop, order!.id, today);
    await workshop.store.write('settings: change settings', (tx) => setSetting(tx, 'wageCentsPerHour', 1300));
    expect(await ownWorkIn(workshop)).toEqual({ orders: 2, otherChanges: 1 });
    const before = await countRows(workshop.file);
    const refused = await clearAll(workshop, { typed: '', now });
    expect(refused).toMatchObject({ ok: false, problems: [{ path: 'typed' }] });
    expect(refused.ok ? '' : refused.problems[0]!.message).toContain('2 orders of your own and 1 other change');
    expect(await countRows(workshop.file)).toEqual(before);
    const cleared = await clearAll(workshop, { typed: 'clear all', now });
    if (!cleared.ok) throw new Error('not cleared');
    expect(await countRows(cleared.value.keptAs!)).toEqual(before);
    expect(isEmpty(await readWorkshop(workshop))).toBe(true);
  });

  it('does not take a list that a search found for somebody’s own work', async () => {
    await loadSample(workshop, { today });
    const found = { problemHash: 'p', answerJson: '{}', bound: null, isProven: false };
    await workshop.store.write('buying: keep a list', (tx) => saveAnswer(tx, found));
    expect(await ownWorkIn(workshop)).toBeNull();
  });

  it('takes away what was undone too', async () => {
    await loadSample(workshop, { today });
    const moves = await workshop.store.read(async (db) => listBallMoves(db, (await listBalls(db))[0]!.id));
    expect(await undoMove(workshop, 1, moves[0]!.id, today, null)).toMatchObject({ ok: true });
    expect(await clearAll(workshop, { typed: 'clear all', now })).toMatchObject({ ok: true });
    expect((await countRows(workshop.file)).ball_moves).toBe(0);
  });

  it('asks for the word before one’s own work goes', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const refused = await clearAll(workshop, { typed: 'yes', now });
    expect(refused).toMatchObject({ ok: false, problems: [{ path: 'typed' }] });
    expect(isEmpty(await readWorkshop(workshop))).toBe(false);
  });

  it('keeps a copy of one’s own work beside the file first', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const before = await countRows(workshop.file);
    const cleared = await clearAll(workshop, { typed: ' Clear all ', now });
    if (!cleared.ok) throw new Error('not cleared');
    expect(existsSync(cleared.value.keptAs!)).toBe(true);
    expect(await countRows(cleared.value.keptAs!)).toEqual(before);
    expect(isEmpty(await readWorkshop(workshop))).toBe(true);
  });
});
