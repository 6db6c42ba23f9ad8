import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents } from '#core/shared/format.ts';
import {
  changeOffer,
  createOfferBreak,
  createSupplierBreak,
  listOfferBreaks,
  listOffers,
  listSupplierBreaks,
  listSuppliers,
  removeOffer,
} from '#db/stores/buying.ts';
import { changeLine, listLines } from '#db/stores/orders.ts';
import { listBalls, listLots, moveBall } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { boxOf, postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, addOffer, addSupplier, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const suppliers = () => workshop.store.read((db) => listSuppliers(db));
const offers = () => workshop.store.read((db) => listOffers(db));

describe('yarn to buy', () => {
  it('says how to begin while nothing is planned', async () => {
    expect(await page('/buying')).toContain('No pairs are planned');
  });

  it('shows both lists with the total of the plan, and marks what is bought to be safe', async () => {
    await addSeason(workshop);
    const { plan } = await readPlan(workshop, now());
    const html = await page('/buying');
    expect(html).toContain(formatCents(plan.lists.likely.totalCents, 'EUR'));
    expect(html).toContain(formatCents(plan.lists.safe.totalCents, 'EUR'));
    expect(html).toContain('it cannot be cheaper');
    expect(html).toContain('Quay Yarns');
    expect(html).toContain('/working/yardage/need/1');
    // Due on 1 February with four days of delivery and two to spare: no hurry in November.
    expect(html).toMatch(/Order by (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ (Nov|Dec|Jan)/);
  });

  it('begins with the list that the plan uses and folds the other one with its total and its balls', async () => {
    await addSeason(workshop);
    const { plan } = await readPlan(workshop, now());
    const html = await page('/buying');
    const total = formatCents(plan.lists.likely.totalCents, 'EUR');
    const summary = /<details class="fold-on-phone"><summary>([^<]*)<\/summary>/.exec(html)?.[1];
    expect(summary).toMatch(new RegExp(`^The likely list: ${total}, (as many balls|\\w+ balls? (less|more))$`));
    expect(html.indexOf('id="list-safe"')).toBeLessThan(html.indexOf('id="list-likely"'));
  });

  it('shows a list once where the likely and the safe list buy the same', async () => {
    const season = await addSeason(workshop);
    // Whole kilograms of each colour cover both amounts.
    await workshop.store.write('test: large packs alone', async (tx) => {
      for (const { id } of [season.heather, season.oat])
        await addOffer(tx, { supplierId: season.shop.id, yarnColourId: id, ballsPerPack: 10, priceCents: 900 });
      for (const offer of season.offers) await removeOffer(tx, offer.id);
    });
    const html = await page('/buying');
    expect(html).toContain('The likely list and the safe list are the same.');
    expect([...html.matchAll(/id="list-/g)]).toHaveLength(1);
    expect(html).toContain('enough 9 times in 10');
  });

  it('has ordering as its main action, and says afterwards what comes next', async () => {
    await addSeason(workshop);
    const html = await page('/buying');
    expect(html).toMatch(/class="button button-main" href="\/buying\/purchases\/new\?list=safe">I ordered it</);
    expect(html).toMatch(/class="button button-quiet" href="\/buying\/arrived\?list=safe">/);
    expect(html).not.toContain('tick off what came');
    const days = { orderedDay: '2026-11-25', expectedDay: '2026-11-29' };
    const order = { shop: '1', list: 'safe', shipping: '4.50', off: '', ...days };
    const some = { ...order, 'packs-1': '1', 'price-1': '8.90' };
    const answer = await postForm(app, '/buying/purchases/new', some);
    const first = await page(answer.headers.get('location')!.replace(/#.*/, ''));
    expect(first).toContain(
      'When the parcel is here, open it below and enter what came. Still to order from: Quay Yarns.',
    );
    const rest = { ...order, 'packs-1': '9', 'price-1': '8.90', 'packs-2': '9', 'price-2': '9.10' };
    await postForm(app, '/buying/purchases/new', rest);
    expect(await page('/buying/purchases?did=ordered')).not.toContain('Still to order from');
    const after = await page('/buying');
    expect(after).toContain('Nothing to buy: it is here or on the way');
    expect(after).toContain('tick off what came');
  });

  it('names what is bought for a lower price as that, not as safety', async () => {
    const season = await addSeason(workshop);
    // A hundred balls at a cent each are cheaper than one at its price.
    await workshop.store.write('test: a lower price', async (tx) => {
      await createOfferBreak(tx, { offerId: season.offers[1]!.id, fromPacks: 20, priceCents: 1 });
    });
    const html = await page('/buying');
    // Some 22 g of Oat: nineteen of the twenty balls are for the price.
    expect(html).toMatch(/1,900\sg of it to reach the lower price/);
    expect(html).not.toMatch(/1,900\sg of it to be safe/);
  });

  it('says by how much a lot misses a pair that it looks big enough for', async () => {
    await addSeason(workshop);
    // A pair of EU 41 in Heather with a cuff in Oat takes some 22 g of Oat to be safe, and 19 g likely.
    await workshop.store.write('test: a lot that just misses', (tx) =>
      addLot(tx, [21_000], { yarnColourId: 2, dyeLot: 'O-5' }),
    );
    const { plan } = await readPlan(workshop, now());
    const [oat] = plan.placed.toBuy.filter(({ yarnColourId }) => yarnColourId === 2);
    expect(oat!.likely.needMg).toBeLessThan(21_000);
    expect(oat!.safe.needMg).toBeGreaterThan(21_000);
    const shortG = (oat!.safe.needMg - 21_000) / 1000;
    const miss = /lot O-5 has 21\sg left, ([\d.]+)\sg short/.exec(await page('/buying'));
    expect(Math.abs(Number(miss?.[1]) - shortG)).toBeLessThan(0.1);
  });

  it('says why more than is likely needed is to buy: begun pairs get what was written down for them', async () => {
    await addSeason(workshop);
    for (const { id, massMg } of await workshop.store.read((db) => listBalls(db))) {
      const lost = { ballId: id, changeMg: -massMg, reason: 'lost' as const, day: '2026-11-25' };
      await workshop.store.write('test: an empty shelf', (tx) => moveBall(tx, lost));
    }
    const words = 'more than they likely take';
    expect(await page('/buying')).not.toContain(words);
    const plan = await readPlan(workshop, now());
    const orderIds = plan.rows.orders.map(({ id }) => id);
    const wish = { name: 'Batch', orderIds, withSpares: false, revision: plan.rows.revision };
    expect((await startBatch(workshop, plan, wish)).ok).toBe(true);
    expect(await page('/buying')).toContain(words);
    expect(await page('/working/buying/list/1')).toContain('what was written down for it to be safe');
  });

  it('without a shop still says grams and balls, and asks where each colour is bought', async () => {
    await addSeason(workshop);
    await postForm(app, '/buying/shops/1/remove', { version: '1' });
    const html = await page('/buying');
    expect(html).toContain('No shop is entered yet');
    expect(html).toMatch(/\d balls? of 100\sg, whole balls/);
    expect(html).toContain('/buying/shops/new?colour=2');
  });

  it('says why a colour is to buy of which enough lies there: in lots that hold no pair', async () => {
    await addSeason(workshop);
    const where = 'no lot has enough for a pair more';
    expect(await page('/buying')).not.toContain(where);
    await workshop.store.write('test: many small lots', async (tx) => {
      for (let lot = 0; lot < 20; lot += 1) await addLot(tx, [30_000], { yarnColourId: 1, place: 'Tin' });
    });
    const html = await page('/buying');
    expect(html).toContain(where);
    expect(html).toContain('href="/buying/dye-lots#colour-1"');
    expect(await page('/buying/dye-lots')).toContain('<small>Tin</small>');
  });

  it('names a colour that no shop sells, and buys the others', async () => {
    await addSeason(workshop);
    await workshop.store.write('test', (tx) => removeOffer(tx, 2));
    const html = await page('/buying');
    expect(html).toContain('Add where you buy it');
    expect(html).toContain('/buying/prices?colour=2');
    expect(/<h1[^>]*>([^<]*)</.exec(html)![1]).toMatch(/, a part of it: no shop is known for one colour$/);
    expect(html).toContain('the safe list with postage, for 1 of 2 colours');
  });

  it('says of a colour that a shop has too little of that no shop has enough', async () => {
    await addSeason(workshop);
    await workshop.store.write('test: none there', (tx) => changeOffer(tx, 2, { stockPacks: 0 }));
    const html = await page('/buying');
    expect(/<h1[^>]*>([^<]*)</.exec(html)![1]).toMatch(/, a part of it: no shop has enough of one colour$/);
  });

  it('heads the page with grams, balls and money of one list, and says which', async () => {
    await addSeason(workshop);
    await workshop.store.write('test: the likely list', (tx) => setSetting(tx, 'buyAt', 'likely'));
    const html = await page('/buying');
    // The smaller amounts of the table, added up, each rounded to a gram.
    const table = html.slice(html.indexOf('Yarn needed, on the shelf and to buy'));
    const likely = [...table.matchAll(/<small>likely (\d+)\sg</g)].map((match) => Number(match[1]));
    expect(likely).toHaveLength(2);
    const headline = /([\d,]+)\sg<[^>]*>\s*<[^>]*>to buy, by the likely list/.exec(html);
    expect(Math.abs(Number(headline?.[1]) - likely[0]! - likely[1]!)).toBeLessThanOrEqual(1);
    expect(html).not.toContain('to buy, to be safe');
  });

  it('says that what comes too late could be cheaper', async () => {
    const season = await addSeason(workshop);
    expect(await page('/buying')).toContain('From these shops it cannot be cheaper.');
    // It comes in a year, when everything is due long since.
    await workshop.store.write('test: a cheap shop far away', async (tx) => {
      const far = await addSupplier(tx, { shippingCents: 0, deliveryDays: 365 });
      for (const { id } of [season.heather, season.oat])
        await addOffer(tx, { supplierId: far.id, yarnColourId: id, priceCents: 100 });
    });
    const html = await page('/buying');
    expect(html).toContain('If time did not matter');
    expect(html).toContain('Of what comes in time from these shops, it cannot be cheaper.');
    expect(html).not.toContain('From these shops it cannot be cheaper.');
  });
});

describe('shops', () => {
  const fields = { name: 'Hill Wool', shipping: '3,95', freeFrom: '50', minimum: '', deliveryDays: '3', colour: '' };

  it('are none at first', async () => {
    expect(await page('/buying/shops')).toContain('No shop is entered yet');
  });

  it('are added with their terms, and lead on to a price', async () => {
    const response = await postForm(app, '/buying/shops/new', fields);
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/buying/prices?shop=1');
    expect((await suppliers())[0]).toMatchObject({
      name: 'Hill Wool',
      shippingCents: 395,
      freeFromCents: 5000,
      minimumCents: 0,
      deliveryDays: 3,
      rank: 0,
    });
  });

  it.each([
    [{ name: ' ' }, 'Enter the name of the shop'],
    [{ shipping: 'cheap' }, 'Enter the postage'],
    [{ shipping: '13.005' }, '“13.005” can be read in two ways. Write 13005 or 13.01.'],
    [{ deliveryDays: '' }, 'how many days'],
    [{ deliveryDays: '366' }, 'It may be from 0 to 365'],
  ])('are refused with %o and keep what was typed', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/shops/new', { ...fields, freeFrom: '77', ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="77"');
    expect(await suppliers()).toEqual([]);
  });

  it('take off a share of the whole basket, shown again and changed', async () => {
    const terms = { 'breakFrom-0': '40', 'breakOff-0': '5', 'breakFrom-1': '80', 'breakOff-1': '12,5 %' };
    expect((await postForm(app, '/buying/shops/new', { ...fields, ...terms })).status).toBe(303);
    const breaks = async () =>
      (await workshop.store.read((db) => listSupplierBreaks(db))).map(({ fromCents, offRatio }) => [
        fromCents,
        offRatio,
      ]);
    expect(await breaks()).toEqual([
      [4000, 0.05],
      [8000, 0.125],
    ]);
    expect(await page('/buying/shops/1')).toContain('value="12.5"');
    expect(await page('/buying/shops')).toContain('12.5% off from €80.00 on');
    const fewer = { ...fields, 'breakFrom-0': '40', 'breakOff-0': '6', version: '1' };
    expect((await postForm(app, '/buying/shops/1', fewer)).status).toBe(303);
    expect(await breaks()).toEqual([[4000, 0.06]]);
    expect((await postForm(app, '/buying/shops/1/remove', { version: '2' })).status).toBe(303);
    expect(await breaks()).toEqual([]);
  });

  it.each([
    [{ 'breakFrom-0': '40' }, 'Enter the percentage taken off'],
    [{ 'breakOff-0': '5' }, 'Enter from which amount'],
    [{ 'breakFrom-0': '40', 'breakOff-0': '95' }, 'It may be from'],
    [{ 'breakFrom-0': '40', 'breakOff-0': '9', 'breakFrom-1': '40', 'breakOff-1': '12' }, 'Enter a larger amount'],
    [{ 'breakFrom-0': '40', 'breakOff-0': '9', 'breakFrom-1': '80', 'breakOff-1': '8' }, 'Enter a larger percentage'],
  ])('are refused with the steps %o, nothing typed is lost', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/shops/new', { ...fields, ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('<details open=""');
    expect(await suppliers()).toEqual([]);
  });

  it('are changed against their version, and a taken name is refused', async () => {
    await postForm(app, '/buying/shops/new', fields);
    await postForm(app, '/buying/shops/new', { ...fields, name: 'Other' });
    expect((await postForm(app, '/buying/shops/1', { ...fields, deliveryDays: '5', version: '1' })).status).toBe(303);
    expect((await postForm(app, '/buying/shops/1', { ...fields, deliveryDays: '9', version: '1' })).status).toBe(409);
    expect((await suppliers())[0]!.deliveryDays).toBe(5);
    expect((await postForm(app, '/buying/shops/1', { ...fields, name: 'other', version: '2' })).status).toBe(422);
    expect((await postForm(app, '/buying/shops/7', fields)).status).toBe(404);
  });

  it('go with their prices, but stay when something was bought there', async () => {
    await addSeason(workshop);
    await postForm(app, '/buying/arrived', { shop: '1', 'packs-1': '1', 'price-1': '8.90', day: '2026-11-25' });
    expect((await postForm(app, '/buying/shops/1/remove', { version: '1' })).status).toBe(409);
    expect(await offers()).toHaveLength(2);
  });
});

describe('prices', () => {
  const fields = { shop: '1', what: 'yarn-1', ballG: '', ballsPerPack: '10', price: '79,50', stock: '' };
  beforeEach(() => addSeason(workshop));

  it('for all colours of a yarn at once', async () => {
    expect((await postForm(app, '/buying/prices', fields)).status).toBe(303);
    const added = (await offers()).filter(({ ballsPerPack }) => ballsPerPack === 10);
    expect(added.map(({ yarnColourId, ballMg, priceCents }) => [yarnColourId, ballMg, priceCents])).toEqual([
      [1, 100_000, 7950],
      [2, 100_000, 7950],
    ]);
  });

  it('fall with the packs, shown again, and go with their price', async () => {
    const lower = { 'breakPacks-0': '5', 'breakPrice-0': '8,20', 'breakPacks-1': '10', 'breakPrice-1': '7.70' };
    const one = { ...fields, what: 'colour-1', ballsPerPack: '1', price: '8.90', ...lower };
    expect((await postForm(app, '/buying/prices', one)).status).toBe(303);
    const breaks = async () =>
      (await workshop.store.read((db) => listOfferBreaks(db))).map((row) => [
        row.offerId,
        row.fromPacks,
        row.priceCents,
      ]);
    expect(await breaks()).toEqual([
      [1, 5, 820],
      [1, 10, 770],
    ]);
    expect(await page('/buying/offers/1')).toContain('value="7.70"');
    expect(await page('/buying/shops')).toContain('from 10 on €7.70');
    const { input } = await readPlan(workshop, now());
    expect(input.offers.find(({ id }) => id === 1)?.breaks).toHaveLength(2);
    expect((await postForm(app, '/buying/offers/1/remove', {})).status).toBe(303);
    expect(await breaks()).toEqual([]);
  });

  it.each([
    [{ 'breakPacks-0': '1', 'breakPrice-0': '7' }, 'from how many packs'],
    [{ 'breakPacks-0': '5', 'breakPrice-0': '79.50' }, 'lower price than that of one pack'],
    [
      { 'breakPacks-0': '5', 'breakPrice-0': '70', 'breakPacks-1': '5', 'breakPrice-1': '60' },
      'more packs than in the row',
    ],
    [
      { 'breakPacks-0': '5', 'breakPrice-0': '70', 'breakPacks-1': '9', 'breakPrice-1': '70' },
      'lower price than in the row',
    ],
  ])('are refused with the steps %o', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/prices', { ...fields, ...wrong });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain(sentence);
    expect(await offers()).toHaveLength(2);
  });

  it('change the price of a pack that is there', async () => {
    await postForm(app, '/buying/prices', {
      ...fields,
      what: 'colour-1',
      ballsPerPack: '1',
      price: '9.20',
      stock: '6',
    });
    expect(await offers()).toHaveLength(2);
    expect((await offers())[0]).toMatchObject({ priceCents: 920, stockPacks: 6 });
  });

  it.each([
    [{ what: '' }, 'Choose a yarn or one of its colours'],
    [{ what: 'yarn-9' }, 'Choose a yarn or one of its colours'],
    [{ shop: '9' }, 'Choose the shop'],
    [{ price: '' }, 'Enter what a pack costs'],
    [{ ballsPerPack: '1.5' }, 'how many balls are in a pack'],
  ])('are refused with %o', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/prices', { ...fields, stock: '44', ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="44"');
    expect(await offers()).toHaveLength(2);
  });

  it('are changed and removed one by one', async () => {
    const pack = { ballG: '50', ballsPerPack: '1', price: '4.60', stock: '', version: '1' };
    expect((await postForm(app, '/buying/offers/1', pack)).status).toBe(303);
    expect((await offers())[0]).toMatchObject({ ballMg: 50_000, priceCents: 460 });
    expect((await postForm(app, '/buying/offers/1', pack)).status).toBe(409);
    expect((await postForm(app, '/buying/offers/1/remove', { version: '2' })).status).toBe(303);
    expect(await offers()).toHaveLength(1);
    expect((await app.request('/buying/offers/1')).status).toBe(404);
  });

  it('lead to a shop first when there is none', async () => {
    await postForm(app, '/buying/shops/1/remove', { version: '1' });
    expect((await app.request('/buying/prices')).headers.get('location')).toBe('/buying/shops/new');
  });
});

describe('a basket that is here', () => {
  const fields = {
    shop: '1',
    list: 'safe',
    all: '',
    shipping: '4.50',
    day: '2026-11-24',
    'packs-1': '2',
    'lot-1': '4471',
    'price-1': '8.90',
    'more-1': '1',
    'lot2-1': '4480',
    'packs-2': '',
    'price-2': '9.10',
  };
  beforeEach(() => addSeason(workshop));

  it('is shown with what the list buys there', async () => {
    const html = await page('/buying/arrived?shop=1&list=safe');
    expect(html).toContain('Quay Yarns: it is here');
    expect(html).toMatch(/name="packs-\d"[^>]*value="[1-9]/);
    expect((await app.request('/buying/arrived?shop=9')).status).toBe(404);
  });

  it('begins with what so many packs cost, and what the shop takes off', async () => {
    await workshop.store.write('test: six pairs, and lower prices', async (tx) => {
      const [line] = await listLines(tx, 1);
      await changeLine(tx, line!.id, { quantity: 6 });
      await createOfferBreak(tx, { offerId: 1, fromPacks: 2, priceCents: 777 });
      await createSupplierBreak(tx, { supplierId: 1, fromCents: 1000, offRatio: 0.1 });
    });
    expect(await page('/buying')).toContain('at €7.77 each');
    const html = await page('/buying/arrived?shop=1&list=safe');
    const [heather, oat] = [Number(boxOf(html, 'packs-1')), Number(boxOf(html, 'packs-2'))];
    expect(heather).toBeGreaterThanOrEqual(2);
    expect(boxOf(html, 'price-1')).toBe('7.77');
    expect(boxOf(html, 'price-2')).toBe('9.10');
    const offCents = Math.round((heather * 777 + oat * 910) / 10);
    expect(boxOf(html, 'off')).toBe((offCents / 100).toFixed(2));
    const basket = Object.fromEntries(
      ['packs-1', 'price-1', 'packs-2', 'price-2', 'shipping', 'off', 'day'].map((name) => [name, boxOf(html, name)]),
    );
    expect((await postForm(app, '/buying/arrived', { ...basket, shop: '1', list: 'safe' })).status).toBe(303);
    const got = (await workshop.store.read((db) => listLots(db))).filter(({ gotDay }) => gotDay === '2026-11-25');
    const paid = got.reduce((sum, { paidCents }) => sum + paidCents, 0);
    expect(paid).toBe(heather * 777 + oat * 910 - offCents + 450);
  });

  it('folds what nobody asked for, and opens what was filled in or is at fault', async () => {
    const other = await workshop.store.write('test: a shop of no list', async (tx) => {
      const shop = await addSupplier(tx, { name: 'Dear Wool' });
      for (const yarnColourId of [1, 2]) await addOffer(tx, { supplierId: shop.id, yarnColourId, priceCents: 9000 });
      return shop;
    });
    const html = await page(`/buying/arrived?shop=${other.id}&list=safe`);
    expect(html).toContain('The list buys nothing here. Open what came.');
    expect(html.match(/<details class="entry">/g)).toHaveLength(2);
    const typed = {
      shop: String(other.id),
      list: 'safe',
      'packs-3': 'one',
      'price-3': '90',
      'packs-4': '',
      day: '2026-11-24',
    };
    const refused = await (await postForm(app, '/buying/arrived', typed)).text();
    expect(refused.match(/<details class="entry">/g)).toHaveLength(1);
    expect(boxOf(refused, 'packs-3')).toBe('one');
    expect(refused).toContain('What else Dear Wool sells');
  });

  it('goes on the shelf in two dye lots with exact milligrams and cents', async () => {
    const response = await postForm(app, '/buying/arrived', fields);
    expect(response.status).toBe(303);
    const lots = (await workshop.store.read((db) => listLots(db))).filter(({ gotDay }) => gotDay === '2026-11-24');
    // 2 x 8.90 goods and 4.50 postage: 11.15 each
    expect(lots.map(({ dyeLot, paidCents, boughtMg }) => [dyeLot, paidCents, boughtMg])).toEqual([
      ['4471', 1115, 100_000],
      ['4480', 1115, 100_000],
    ]);
    expect(await page(response.headers.get('location')!)).toContain('The yarn is on the shelf.');
  });

  it.each([
    [{ 'packs-1': 'two' }, 'how many packs came'],
    [{ 'price-1': '' }, 'what a pack cost'],
    [{ 'lot2-1': '4471' }, 'the other dye lot'],
    [{ day: '' }, 'the day it came'],
    [{ day: '2026-11-26' }, 'Thu 26 Nov 2026 is still to come'],
    [{ off: '18' }, 'More cannot be taken off than the goods cost'],
    [{ 'packs-1': '', 'more-1': '' }, 'how many packs came'],
    [{ 'more-1': '3' }, 'Only 2 came in all'],
  ])('is refused with %o and keeps what was typed', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/arrived', { ...fields, ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="4.50"');
    // The two balls that were there before.
    expect(await workshop.store.read((db) => listBalls(db))).toHaveLength(2);
  });
});
