import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changePair } from '#db/stores/batch.ts';
import { createFair, createFairDay, createSale, createSaleLine } from '#db/stores/fair.ts';
import { changeLine, createOrderExtra, createPayment } from '#db/stores/orders.ts';
import { createPlacement, createShopPayment } from '#db/stores/placements.ts';
import { changeOutlet, createExpense } from '#db/stores/pricing.ts';
import { changeLot } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { readBookRows } from '#flows/books/book-rows.ts';
import { readBooks } from '#flows/books/read-books.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { usualPeriods } from '#server/forms/books.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOutlet, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let season: Awaited<ReturnType<typeof addSeason>>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  season = await addSeason(workshop);
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await (await app.request(path)).text()).replaceAll('\u00a0', ' ');
const write: TestWorkshop['store']['write'] = (name, change) => workshop.store.write(name, change);
const stock = (quantity: number, more: Record<string, string> = {}) =>
  postForm(app, '/batch/stock', {
    style: '1',
    person: 'woman',
    system: 'EU',
    label: '40',
    quantity: String(quantity),
    cuff: 'short',
    fit: 'usual',
    quality: 'good',
    'colour-foot': String(season.heather.id),
    ...more,
  });

/**
 * November: deposit 30.00 and balance 30.00 of an order of 75.00 and a wrap of 5.00, tax 20 % within, 10.00 paid back in
 * December; a table for 25.00 on two days with a sale of 42.00 by card at 2 %, and one of 40.00 taken back; a shop paid
 * 20.00; bags for 3.00; the season's own yarn for 9.00.
 */
async function fillBooks() {
  await stock(3);
  await write('test: a month', async (tx) => {
    await changeOutlet(tx, season.direct.id, { taxRatio: 0.2 });
    await changeOutlet(tx, season.fair.id, { feeRatio: 0.02 });
    const orderId = season.forHilda.id;
    await changeLine(tx, 2, { agreedCents: 7500 });
    await createOrderExtra(tx, { orderId, name: 'Wrap', cents: 500, minutes: 0, materialCents: 0 });
    const pay = (day: string, kind: 'deposit' | 'balance' | 'returned', cents: number) =>
      createPayment(tx, { orderId, day, kind, cents, how: 'cash', reversesId: null });
    await pay('2026-11-03', 'deposit', 3000);
    await pay('2026-11-20', 'balance', 3000);
    await pay('2026-12-02', 'returned', 1000);
    const fair = await createFair(tx, { name: 'Autumn market', outletId: season.fair.id, feeCents: 2501 });
    const first = await createFairDay(tx, { fairId: fair.id, day: '2026-10-31', openMinutes: 300, floatCents: 0 });
    await createFairDay(tx, { fairId: fair.id, day: '2026-11-01', openMinutes: 300, floatCents: 0 });
    const sale = { fairDayId: first.id, outletId: season.fair.id, day: '2026-10-31', atMs: 0, reversesId: null };
    const sold = await createSale(tx, { ...sale, tillKey: 'a', how: 'card' });
    await createSaleLine(tx, {
      saleId: sold.id,
      pairId: 1,
      what: '=HYPERLINK("x")',
      priceCents: 4200,
      settledWhy: null,
    });
    const wrong = await createSale(tx, { ...sale, tillKey: 'b', how: 'cash' });
    await createSaleLine(tx, { saleId: wrong.id, pairId: null, what: 'a pair', priceCents: 4000, settledWhy: null });
    await createSale(tx, { ...sale, tillKey: 'c', how: 'cash', reversesId: wrong.id });
    const shop = await addOutlet(tx, { name: 'Corner shop', kind: 'shop', terms: 'sale or return' });
    await createPlacement(tx, {
      pairId: 2,
      outletId: shop.id,
      placedDay: '2026-11-01',
      priceCents: 5000,
      shareRatio: 0.4,
      soldDay: '2026-11-10',
      backDay: null,
    });
    await changePair(tx, 2, { left: 'sold' });
    await createShopPayment(tx, { outletId: shop.id, day: '2026-11-15', cents: 2000 });
    await createExpense(tx, { day: '2026-11-05', kind: 'Bags', cents: 300 });
  });
}
async function booksOf(fromDay: string, toDay: string) {
  const plan = await readPlan(workshop, now());
  return readBooks(plan, await readBookRows(workshop, plan), { fromDay, toDay });
}

describe('the books', () => {
  it('say how they fill themselves while there is nothing', async () => {
    expect(await page('/pricing/books?from=2025-01-01&to=2025-12-31')).toContain('Nothing came in or went out');
  });

  it('sum a year by month, by hand', async () => {
    await fillBooks();
    const { months, sums } = await booksOf('2026-01-01', '2026-12-31');
    // October: 42.00 in, out 0.84 to the card and 12.51 of 25.01 for the table. November: 30 + 30 + 20 in, of which
    // 5.00 + 5.00 are tax; out 12.50 for the table, 3.00, and the yarn of the season 9.00. December: 10.00 paid back
    // with its tax, 1.67 to the penny of 50.00 in all (8.33).
    expect(months).toEqual([
      { month: '2026-10', inCents: 4200, outCents: 84 + 1251, leftCents: 2865, taxCents: 0 },
      { month: '2026-11', inCents: 8000, outCents: 1250 + 300 + 900, leftCents: 5550, taxCents: 1000 },
      { month: '2026-12', inCents: -1000, outCents: 0, leftCents: -1000, taxCents: -167 },
    ]);
    expect(sums).toEqual({ inCents: 11_200, outCents: 3785, leftCents: 7415, taxCents: 833 });
  });

  it('sum by outlet to the same', async () => {
    await fillBooks();
    const { outlets, sums } = await booksOf('2026-01-01', '2026-12-31');
    const of = (name: string | null) => outlets.find(({ outlet }) => outlet === name)!;
    expect(of('By order')).toMatchObject({ inCents: 5000, outCents: 0, taxCents: 833 });
    expect(of('Winter fair')).toMatchObject({ inCents: 4200, outCents: 84 + 2501 });
    expect(of('Corner shop')).toMatchObject({ inCents: 2000, outCents: 0 });
    expect(of(null)).toMatchObject({ inCents: 0, outCents: 1200 });
    expect(outlets.reduce((sum, { leftCents }) => sum + leftCents, 0)).toBe(sums.leftCents);
  });

  it('give each style what came in for it, without tax and fees, and the hours that were paid', async () => {
    await fillBooks();
    const { styles, netCents, sums } = await booksOf('2026-01-01', '2026-12-31');
    expect(netCents).toBe(sums.inCents - sums.taxCents - 84);
    const [slipper, nobody] = styles;
    expect(slipper!.style).toBe(season.style.name);
    // Pairs: the fair's, two thirds of the shop's (20.00 of our 30.00), and 50.00 of the 80.00 that the order comes to.
    expect(slipper!.pairs).toBeCloseTo(1 + 2 / 3 + 5 / 8, 9);
    // 41.16 of the fair, 20.00 of the shop, and of the order's payments without tax (25.00, 25.00 and -8.33) 75 parts of
    // 80: 23.44, 23.44 and -7.81. The wrap has the rest: 1.56, 1.56 and -0.52.
    expect(slipper!.netCents).toBe(4116 + 2000 + 2344 + 2344 - 781);
    expect(nobody).toEqual({ style: null, netCents: 260, costCents: 0, minutes: 0, pairs: 0, hourCents: null });
    expect(slipper!.hourCents).not.toBeNull();
  });

  it('are shown for a period, and say that tax rules are local', async () => {
    await fillBooks();
    const html = await page('/pricing/books?from=2026-11-01&to=2026-11-30');
    expect(html).toContain('€55.50 left, November 2026');
    expect(html).not.toContain('October 2026');
    expect(html).toContain('Tax rules are local');
    expect(html).toContain('/pricing/books/bookings.csv?from=2026-11-01&amp;to=2026-11-30');
  });

  it.each([
    ['from=2026-13-01', 'Choose the first day'],
    ['from=2026-11-02&to=2026-11-01', 'The last day comes before the first'],
    ['from=1800-01-01&to=2026-11-01', 'at most 20 years'],
  ])('refuse the period %s at its field', async (query, words) => {
    const response = await app.request(`/pricing/books?${query}`);
    expect(response.status).toBe(422);
    expect(await response.text()).toContain(words);
  });

  it('go out as a table, a row a booking, that sums to its month ends and holds no formula', async () => {
    await fillBooks();
    const response = await app.request('/pricing/books/bookings.csv?from=2026-01-01&to=2026-12-31');
    expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
    const [, ...rows] = parse(await response.text(), { relax_quotes: true }) as string[][];
    expect(rows.every((row) => row.length === 6)).toBe(true);
    expect(rows.every((row) => row.every((cell) => /^-\d|^(?![=+\-@])/.test(cell)))).toBe(true);
    expect(rows.find(([, what]) => what!.includes('HYPERLINK'))![3]).toBe('42.00');
    const ofMonth = (month: string) => rows.filter(([day]) => day!.startsWith(month));
    for (const [month, ins, outs] of [
      ['2026-10', '42.00', '13.35'],
      ['2026-11', '80.00', '24.50'],
      ['2026-12', '-10.00', '0.00'],
    ] as const) {
      const sum = (column: number) =>
        ofMonth(month)
          .reduce((total, row) => total + Number(row[column] || 0), 0)
          .toFixed(2);
      expect([sum(3), sum(4)]).toEqual([ins, outs]);
      expect(rows.find(([, what]) => what === `sum of ${month}`)!.slice(3, 5)).toEqual([ins, outs]);
    }
    // A sale that was taken back stands in two rows that make nothing.
    expect(ofMonth('2026-10').map(([, , , cents]) => cents)).toEqual(expect.arrayContaining(['40.00', '-40.00']));
  });

  it('stand aside where slippers are given away, until somebody wants them', async () => {
    await fillBooks();
    await write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    const html = await page('/pricing/books');
    expect(html).not.toContain('€');
    expect(html).toContain('href="/pricing/gifts"');
    expect(await page('/pricing/books?money=yes')).toContain('€74.15 left');
  });
});

describe('usualPeriods', () => {
  it('knows months and years around the new year', () => {
    const of = (today: string) => usualPeriods(today).map(({ fromDay, toDay }) => `${fromDay} ${toDay}`);
    expect(of('2028-01-31')).toEqual([
      '2028-01-01 2028-01-31',
      '2027-12-01 2027-12-31',
      '2028-01-01 2028-12-31',
      '2027-01-01 2027-12-31',
    ]);
    // A leap year.
    expect(of('2028-03-01')[1]).toBe('2028-02-01 2028-02-29');
  });
});

describe('the gifts', () => {
  /** The fair's two pairs, knitted of the lot that was there: 200 g for 9.00, or given with a worth of 16.00. */
  async function knitAndGive(lot: { donor?: string; worthCents?: number; paidCents?: number }) {
    await write('test: a donor', async (tx) => {
      await changeLot(tx, season.lot.id, lot);
    });
    const plan = await readPlan(workshop, now());
    const revision = String(plan.rows.revision);
    await postForm(app, '/batch/start', { name: 'Winter', order: '1', revision });
    for (const [pair, step] of [
      [1, 'finish'],
      [1, 'let go'],
      [1, 'leave given'],
    ] as const) {
      await postForm(app, `/batch/pairs/${pair}`, { step });
    }
  }

  it('say how to note one while there are none', async () => {
    expect(await page('/pricing/gifts')).toContain('No pair was given in this time');
  });

  it('count pairs, grams and hours on the day they were given, without money unless it is wished', async () => {
    await knitAndGive({});
    const html = await page('/pricing/gifts');
    expect(html).toContain('1 pair given');
    expect(html).toMatch(/\d+ g/);
    expect(html).toContain('Heather');
    expect(html).not.toContain('€');
    expect(await page('/pricing/gifts?money=yes')).toContain('€');
    expect(await page('/pricing/gifts?from=2020-01-01&to=2020-12-31')).toContain('No pair was given');
  });

  it('cost nothing in given yarn and are worth what it would have cost, for its donor alone', async () => {
    await knitAndGive({ donor: 'Tilda Crane', paidCents: 0, worthCents: 1600 });
    const today = (await page('/pricing/gifts?money=yes')).replaceAll('&amp;', '&');
    expect(today).toContain('Whose yarn it was');
    expect(today).toContain('donor=Tilda+Crane');
    const html = await page('/pricing/gifts?donor=Tilda+Crane&money=yes');
    expect(html).toContain('1 pair of the yarn that Tilda Crane gave');
    // No material goes into it, so it cost nothing.
    expect(html).toContain('€0.00');
    const grams = Number(/(\d+) g/.exec(html)![1]);
    const worthCents = Number(/Worth of the yarn[\s\S]*?€([\d.]+)/.exec(today)![1]!.replace('.', ''));
    // 16.00 for 200 g are 8 cents a gram; the page shows whole grams.
    expect(Math.abs(worthCents - grams * 8)).toBeLessThanOrEqual(4);
    expect(await page('/pricing/gifts?donor=Nobody')).toContain('No pair was given');
  });

  it('have what was handed over for an order to give', async () => {
    await write('test: a gift', (tx) =>
      changeOutlet(tx, season.fair.id, { kind: 'gift', priceRule: 'markup', priceRatio: 0 }),
    );
    const plan = await readPlan(workshop, now());
    await postForm(app, '/batch/start', { name: 'Winter', order: '1', revision: String(plan.rows.revision) });
    for (const step of ['finish', 'leave handed over']) await postForm(app, '/batch/pairs/1', { step });
    expect(await page('/pricing/gifts')).toContain('1 pair given');
  });
});
