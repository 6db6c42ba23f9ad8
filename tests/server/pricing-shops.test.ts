import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changePair, listPairEvents, listPairs } from '#db/stores/batch.ts';
import { listPlacements, listShopPayments } from '#db/stores/placements.ts';
import { changeOutlet } from '#db/stores/pricing.ts';
import { addStock } from '#flows/batch/add-stock.ts';
import { readFinished } from '#flows/batch/read-started.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOrder, addOutlet, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let season: Awaited<ReturnType<typeof addSeason>>;
let shopId: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
  app = createApp({ workshop, now, publicUrl: null });
  const shop = await workshop.store.write('test: a shop', (tx) =>
    addOutlet(tx, {
      name: 'Corner shop',
      kind: 'shop',
      rank: 2,
      priceRule: 'fixed',
      priceRatio: 0,
      fixedPriceCents: 4500,
      terms: 'sale or return',
      shopShareRatio: 0.35,
    }),
  );
  shopId = shop.id;
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const plan = () => readPlan(workshop, now());
const shopPath = () => `/pricing/shops/${shopId}`;

// The very pair that the fair's order asks for: EU 38 in Heather.
async function addFinished(quantity: number, quality: 'good' | 'second' = 'good') {
  const added = await addStock(workshop, await plan(), {
    styleId: season.style.id,
    person: 'woman',
    system: 'EU',
    label: '38',
    fit: 'usual',
    colours: { foot: [season.heather.id], cuff: [season.heather.id] },
    cuffHeightMm: null,
    quality,
    quantity,
  });
  if (!added.ok) throw new Error(added.problems[0]!.message);
  return added.value;
}
const place = (ids: readonly number[], price = '45') =>
  postForm(app, `${shopPath()}/place`, {
    day: '2026-11-25',
    ...Object.fromEntries(ids.flatMap((id) => [[`place-${id}`, 'yes'] as const, [`price-${id}`, price] as const])),
  });
const count = (form: Record<string, string>) =>
  postForm(app, `${shopPath()}/count`, { countDay: '2026-12-01', ...form });
const stored = () =>
  workshop.store.read(async (db) => ({
    placements: await listPlacements(db),
    pairs: await listPairs(db),
    payments: await listShopPayments(db),
    events: (await listPairEvents(db)).map(({ event }) => event),
  }));

describe('a shop on sale or return', () => {
  it('takes a finished pair out of the stock that answers orders, and gives it back', async () => {
    const [first, second] = await addFinished(2);
    expect((await plan()).plan.wanted.fromStock).toHaveLength(2);
    expect((await place([first!])).status).toBe(303);
    expect((await plan()).plan.wanted.fromStock.map(({ stockPairId }) => stockPairId)).toEqual([second]);
    expect(readFinished(await plan()).free.map(({ id }) => id)).toEqual([second]);
    expect(await textAt('/batch/stock')).toContain('1 pair stands');
    const { placements } = await stored();
    expect(placements).toMatchObject([{ pairId: first, priceCents: 4500, shareRatio: 0.35, placedDay: '2026-11-25' }]);
    expect((await count({ [`what-${placements[0]!.id}`]: 'back', [`version-${placements[0]!.id}`]: '1' })).status).toBe(
      303,
    );
    expect((await plan()).plan.wanted.fromStock).toHaveLength(2);
    expect((await stored()).events.filter((event) => event.includes('Corner shop'))).toEqual([
      'placed in Corner shop',
      'came back from Corner shop',
    ]);
  });

  // By hand: 35 % of 44.50 is 15.575, so 15.58 for the shop and 28.92 for us; twice that is 57.84, less 30.00 paid.
  it('owes what was sold less its share, less what it paid', async () => {
    const ids = await addFinished(3);
    await place(ids, '44,50');
    const { placements } = await stored();
    const [a, b, c] = placements.map(({ id }) => id);
    await count({ [`what-${a}`]: 'sold', [`what-${b}`]: 'sold', [`what-${c}`]: 'still' });
    await postForm(app, `${shopPath()}/payments`, { paid: '30', paidDay: '2026-12-02' });
    const html = await textAt(shopPath());
    expect(html).toContain('€27.84');
    expect(html).toContain('1 pair at Corner shop');
    expect(html).toContain('Sold for €89.00, of which the shop keeps €31.16 and €57.84');
    expect((await stored()).pairs.map(({ left }) => left)).toEqual(['sold', 'sold', null]);
    expect(await textAt('/pricing/shops')).toContain('€27.84');
    const [payment] = (await stored()).payments;
    await postForm(app, `${shopPath()}/payments/${payment!.id}/remove`, { version: '1' });
    expect((await stored()).payments).toEqual([]);
    expect(await textAt(shopPath())).toContain('€57.84');
  });

  it('keeps price and share as they were when a pair was placed', async () => {
    const [first] = await addFinished(1);
    await place([first!]);
    await workshop.store.write('test: dearer', (tx) =>
      changeOutlet(tx, shopId, { shopShareRatio: 0.5, fixedPriceCents: 6000 }),
    );
    // 45.00 less 35 %
    expect(await textAt(shopPath())).toContain('€29.25');
  });

  it('suggests the price of a second for a pair with a flaw', async () => {
    await addFinished(1, 'second');
    // 30 % off 45.00
    expect(await textAt(shopPath())).toContain('value="31.50"');
  });

  it('takes a slip of counting back', async () => {
    const [first] = await addFinished(1);
    await place([first!]);
    const { id } = (await stored()).placements[0]!;
    await count({ [`what-${id}`]: 'sold' });
    const again = await postForm(app, `${shopPath()}/placements/${id}/uncount`, { version: '2' });
    expect(again.status).toBe(303);
    const { placements, pairs } = await stored();
    expect(placements[0]).toMatchObject({ soldDay: null, backDay: null });
    expect(pairs[0]!.left).toBeNull();
  });

  it('keeps hands off a pair that stands there or was sold there', async () => {
    const [first] = await addFinished(1);
    await place([first!]);
    const step = (word: string) => postForm(app, `/batch/pairs/${first}`, { step: word });
    const refused = await step('leave sold');
    expect(refused.status).toBe(409);
    expect(await refused.text()).toContain('stands in a shop');
    expect((await place([first!])).status).toBe(422);
    const { id } = (await stored()).placements[0]!;
    await count({ [`what-${id}`]: 'sold' });
    expect((await step('come back')).status).toBe(409);
  });

  it('tells who comes second', async () => {
    const [first] = await addFinished(1);
    await place([first!]);
    const { id } = (await stored()).placements[0]!;
    await count({ [`what-${id}`]: 'sold' });
    // The other's page still shows the pair: it is not asked for any more.
    expect((await count({ [`what-${id}`]: 'back', [`version-${id}`]: '1' })).status).toBe(422);
    expect((await stored()).placements[0]).toMatchObject({ soldDay: '2026-12-01', backDay: null });
  });

  it('refuses what says nothing, or is no amount, and keeps what was typed', async () => {
    const [first] = await addFinished(1);
    const nothing = await postForm(app, `${shopPath()}/place`, { day: '2026-11-25' });
    expect([nothing.status, await nothing.text()]).toEqual([422, expect.stringContaining('Tick at least one pair')]);
    const dear = await place([first!], 'dear');
    const html = await dear.text();
    expect(dear.status).toBe(422);
    expect(html).toContain('value="dear"');
    expect(html).toContain(`href="#field-price-${first}"`);
    await place([first!]);
    const { id } = (await stored()).placements[0]!;
    const still = await count({ [`what-${id}`]: 'still' });
    expect([still.status, await still.text()]).toEqual([422, expect.stringContaining('Say of at least one pair')]);
    const early = await count({ countDay: '2026-11-01', [`what-${id}`]: 'sold' });
    expect([early.status, await early.text()]).toEqual([422, expect.stringContaining('after it was placed')]);
    const paid = await postForm(app, `${shopPath()}/payments`, { paid: '0', paidDay: '2026-12-01' });
    expect(paid.status).toBe(422);
    expect(await paid.text()).toContain('Enter what the shop paid');
  });

  it('does not offer pairs that were made for somebody else', async () => {
    const [first] = await addFinished(1);
    const line = (await plan()).rows.lines.find((each) => each.orderId === season.forHilda.id)!;
    await workshop.store.write('test: for Hilda', (tx) => changePair(tx, first!, { lineId: line.id }));
    expect(await textAt(shopPath())).toContain('No finished pair is free for this shop');
  });

  it('answers 404 for a shop that is not here, or is none', async () => {
    expect((await app.request('/pricing/shops/99')).status).toBe(404);
    expect((await app.request(`/pricing/shops/${season.fair.id}`)).status).toBe(404);
    expect((await postForm(app, '/pricing/shops/99/payments', { paid: '3', paidDay: '2026-12-01' })).status).toBe(404);
  });
});

describe('net and hour at a shop', () => {
  it('count the share that the shop keeps', async () => {
    const { kindOfLine, rows } = await plan();
    const line = rows.lines.find((each) => each.orderId === season.forFair.id)!;
    const html = await textAt(`/pricing/pair/${line.id}?price=45&at=${shopId}`);
    expect(kindOfLine.has(line.id)).toBe(true);
    // 45.00 less 35 %
    expect(html).toContain('€29.25 are left');
    // The working of the least price that pays the wage says whose share it is.
    expect(await textAt(`/working/pricing/hour/${line.id}-${shopId}`)).toContain('with the share that the shop keeps');
  });
});

describe('a shop that buys wholesale', () => {
  beforeEach(() =>
    workshop.store.write('test: wholesale', (tx) =>
      changeOutlet(tx, shopId, { terms: 'wholesale', leastPairs: 6, shopShareRatio: 0, fixedPriceCents: 3200 }),
    ),
  );

  it('shows what it pays and twice that as what it may ask', async () => {
    const html = await textAt(shopPath());
    expect(html).toContain('€32.00');
    expect(html).toContain('€64.00');
    const line = (await plan()).rows.lines[0]!;
    expect(await textAt(`/pricing/pair/${line.id}`)).toContain('it may ask €64.00');
  });

  it('says how many pairs an order lacks to the least', async () => {
    await workshop.store.write('test: an order', (tx) =>
      addOrder(tx, { outletId: shopId, lines: [lineOf(season.style.id, season.heather.id, { quantity: 4 })] }),
    );
    const html = await textAt(shopPath());
    expect(html).toContain('It has 4 pairs, 2 fewer than agreed');
    expect(html).toContain('2 too few');
    const order = (await plan()).rows.orders.find((each) => each.outletId === shopId)!;
    expect(await textAt(`/orders/${order.id}`)).toContain('2 pairs short of a wholesale order');
  });

  it('takes no pairs on sale or return', async () => {
    const [first] = await addFinished(1);
    expect((await place([first!])).status).toBe(409);
  });
});

describe('the terms of a shop', () => {
  const form = {
    name: 'Harbour shop',
    kind: 'shop',
    priceRule: 'markup',
    markup: '20',
    taxWay: 'included',
    secondOff: '25',
    terms: 'sale or return',
    shopShare: '40',
    leastPairs: 'nonsense',
    rounding: 'invoice',
  };

  it('are kept, and only the box of the terms chosen is read', async () => {
    expect((await postForm(app, '/pricing/outlets', form)).status).toBe(303);
    const saved = (await plan()).rows.outlets.at(-1)!;
    expect(saved).toMatchObject({
      terms: 'sale or return',
      shopShareRatio: 0.4,
      rounding: 'invoice',
      leastPairs: null,
      secondOffRatio: 0.25,
    });
    expect(await textAt(`/pricing/outlets/${saved.id}`)).toContain('value="40"');
  });

  it.each([
    [{ terms: '' }, 'terms'],
    [{ shopShare: '' }, 'shopShare'],
    [{ shopShare: '100' }, 'shopShare'],
    [{ fee: '30', shopShare: '70' }, 'shopShare'],
    [{ secondOff: '101' }, 'secondOff'],
    [{ terms: 'wholesale', leastPairs: '0' }, 'leastPairs'],
  ])('with %o are refused at %s', async (change, path) => {
    const response = await postForm(app, '/pricing/outlets', { ...form, ...change });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain(`href="#field-${path}"`);
  });
});
