import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPairEvents, listPairs } from '#db/stores/batch.ts';
import { listAsked, listFairDays, listFairPairs, listFairs, listSaleLines, listSales } from '#db/stores/fair.ts';
import { changeOutlet } from '#db/stores/pricing.ts';
import { readState, setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

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

const textOf = async (response: Response | Promise<Response>) =>
  (await (await response).text()).replaceAll('\u00a0', ' ');
const page = async (path: string) => textOf(app.request(path));
const read = {
  fairs: () => workshop.store.read((db) => listFairs(db)),
  days: () => workshop.store.read((db) => listFairDays(db)),
  taken: () => workshop.store.read((db) => listFairPairs(db)),
  asked: () => workshop.store.read((db) => listAsked(db)),
  sales: () => workshop.store.read((db) => listSales(db)),
  lines: () => workshop.store.read((db) => listSaleLines(db)),
  pairs: () => workshop.store.read((db) => listPairs(db)),
  events: () => workshop.store.read((db) => listPairEvents(db)),
  revision: async () => (await workshop.store.read((db) => readState(db))).revision,
};

const stock = (label: string, quantity: number, more: Record<string, string> = {}) =>
  postForm(app, '/batch/stock', {
    style: '1',
    person: 'woman',
    system: 'EU',
    label,
    quantity: String(quantity),
    cuff: 'short',
    fit: 'usual',
    quality: 'good',
    'colour-foot': String(season.heather.id),
    ...more,
  });
const newFair = (more: Record<string, string> = {}) =>
  postForm(app, '/fair', {
    name: 'Autumn market',
    outlet: String(season.fair.id),
    fee: '30',
    day: '2026-11-21',
    hours: '6',
    float: '50',
    ...more,
  });

/** Three pairs of 39 (1 to 3), two of 42 (4, 5) and a second (6), taken along to a fair at a fixed 40.00. */
async function beAtTheFair() {
  await workshop.store.write('test: a price', (tx) =>
    changeOutlet(tx, season.fair.id, {
      priceRule: 'fixed',
      fixedPriceCents: 4000,
      feeRatio: 0.02,
      secondOffRatio: 0.25,
    }),
  );
  await stock('39', 3);
  await stock('42', 2);
  await stock('39', 1, { quality: 'second' });
  await newFair();
  return take({ 'take-1': '3', 'take-4': '2', 'take-6': '1' });
}
async function take(counts: Record<string, string>) {
  const [day] = await read.days();
  return postForm(app, '/fair/days/1/pairs', { version: String(day!.version), ...counts });
}
const token = (letter: string) => letter.repeat(32);
/** What is typed in besides what the form already shows. */
async function type(fields: Record<string, string>, as = 'a') {
  const html = await page('/fair/days/1/tally');
  const shown = [...html.matchAll(/name="(home-\d+|asked-\w+-\d+|cash|version)"[^>]*value="([^"]*)"/g)];
  const now = Object.fromEntries(shown.map(([, name, value]) => [name!, value!]));
  return postForm(app, '/fair/days/1/tally', { ...now, ...fields, token: token(as) });
}
const rowOf = (html: string, words: string) => {
  const table = /What became of the pairs[\s\S]*?<\/table>/.exec(html)![0];
  const row = table.split('<tr').find((each) => each.includes(words))!;
  return [...row.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(([, cell]) => cell);
};

describe('a fair', () => {
  it('is begun from an empty page', async () => {
    expect(await page('/fair')).toContain('href="/fair/new"');
    expect(await page('/fair/new')).toContain('Save, then choose the pairs');
  });

  it('is added with its first day, and leads to the choice of pairs', async () => {
    const response = await newFair();
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/fair/days/1/pairs');
    expect((await read.fairs())[0]).toMatchObject({ name: 'Autumn market', feeCents: 3000, outletId: season.fair.id });
    expect((await read.days())[0]).toMatchObject({ day: '2026-11-21', openMinutes: 360, floatCents: 5000 });
  });

  it('is refused with what was typed, each fault at its field', async () => {
    const response = await newFair({ name: '', outlet: '99', fee: 'much', day: 'soon', hours: '30', float: '-1' });
    expect(response.status).toBe(422);
    const html = await textOf(response);
    for (const name of ['name', 'outlet', 'fee', 'day', 'hours', 'float'])
      expect(html).toContain(`id="field-${name}-error"`);
    expect(html).toContain('value="much"');
    expect(await read.fairs()).toEqual([]);
  });

  it('is changed, and shares its fee over two days', async () => {
    await newFair();
    const saved = await postForm(app, '/fair/1', {
      name: 'Harbour fair',
      outlet: String(season.fair.id),
      fee: '45.01',
      version: '1',
    });
    expect(saved.status).toBe(303);
    await postForm(app, '/fair/1/days', { day: '2026-11-22', hours: '', float: '' });
    expect(await page('/fair/1')).toContain('Harbour fair');
    // 45.01 over two days: the spare cent to the first.
    expect(await page('/fair/days/1')).toContain('€22.51');
    expect(await page('/fair/days/2')).toContain('€22.50');
  });

  it('has each day once, and keeps a faulty form', async () => {
    await newFair();
    const twice = await postForm(app, '/fair/1/days', { day: '2026-11-21', hours: '5', float: '' });
    expect(twice.status).toBe(422);
    expect(await textOf(twice)).toContain('is there already: choose another day');
    const faulty = await postForm(app, '/fair/1', { name: 'x', outlet: '1', fee: '?', version: '1' });
    expect(faulty.status).toBe(422);
    const bad = await postForm(app, '/fair/days/1', { day: '', hours: 'x', float: '', version: '1' });
    expect(bad.status).toBe(422);
  });

  it('changes a day, and takes away one without sales', async () => {
    await newFair();
    const saved = await postForm(app, '/fair/days/1', { day: '2026-11-20', hours: '7.5', float: '20', version: '1' });
    expect(saved.status).toBe(303);
    expect((await read.days())[0]).toMatchObject({ day: '2026-11-20', openMinutes: 450, floatCents: 2000 });
    const stale = await postForm(app, '/fair/days/1', { day: '2026-11-20', hours: '1', float: '20', version: '1' });
    expect(stale.status).toBe(409);
    await postForm(app, '/fair/days/1/remove', { version: '2' });
    expect(await read.days()).toEqual([]);
    expect(await read.fairs()).toEqual([]);
  });

  it('says so when a fair, a day or a sale is not there', async () => {
    for (const path of [
      '/fair/9',
      '/fair/days/9',
      '/fair/days/9/tally',
      '/fair/days/9/sheet',
      '/fair/days/9/pairs',
      '/fair/days/9/edit',
    ]) {
      expect((await app.request(path)).status).toBe(404);
    }
    for (const path of [
      '/fair/days/9/tally',
      '/fair/days/9/pairs',
      '/fair/days/9/missing',
      '/fair/days/9',
      '/fair/sales/9/back',
      '/fair/days/9/remove',
    ]) {
      expect((await postForm(app, path, {})).status).toBe(404);
    }
    expect((await postForm(app, '/fair/9/days', { day: '2026-11-21' })).status).toBe(404);
  });
});

describe('what comes along', () => {
  it('is every finished pair but customers’ orders, unless somebody says otherwise', async () => {
    await stock('39', 3);
    await newFair();
    const html = await page('/fair/days/1/pairs');
    expect(html).toMatch(/name="take-1"[^>]*value="3"/);
    await take({ 'take-1': '2' });
    expect((await read.taken()).map(({ pairId }) => pairId)).toEqual([1, 2]);
    expect(await page('/fair/days/1/pairs')).toMatch(/name="take-1"[^>]*value="2"/);
    await take({ 'take-1': '' });
    expect(await read.taken()).toEqual([]);
  });

  it('is refused above what is there, with what was typed', async () => {
    await stock('39', 3);
    await newFair();
    const response = await take({ 'take-1': '4' });
    expect(response.status).toBe(422);
    const html = await textOf(response);
    expect(html).toContain('value="4"');
    expect(html).toContain('Enter how many you take along, 0 to 3');
    expect(await read.taken()).toEqual([]);
  });

  it('keeps what was sold, and stands on one table a day', async () => {
    await beAtTheFair();
    await type({ 'cash-1': '2' });
    const less = await take({ 'take-1': '1', 'take-4': '2', 'take-6': '1' });
    expect(less.status).toBe(422);
    expect(await textOf(less)).toContain('at least 2 came along');
    await newFair({ name: 'Another' });
    expect(await page('/fair/days/2/pairs')).toContain('No finished pair to take along');
  });

  it('is refused to two people at once', async () => {
    await stock('39', 3);
    await newFair();
    expect((await postForm(app, '/fair/days/1/pairs', { version: '1', 'take-1': '3' })).status).toBe(303);
    expect((await postForm(app, '/fair/days/1/pairs', { version: '1', 'take-1': '1' })).status).toBe(409);
    expect(await read.taken()).toHaveLength(3);
  });

  it('is on the sheet to print: a box a pair, the price, lines for the rest', async () => {
    await beAtTheFair();
    const html = await page('/fair/days/1/sheet');
    expect(html).toContain('3 boxes for woman EU 39, Heather');
    expect(html).toContain('€40.00');
    // A second for a quarter less.
    expect(html).toMatch(/With a flaw[\s\S]*€30\.00/);
    for (const words of ['Asked for in vain', 'Float', 'In the box in the evening', 'Table'])
      expect(html).toContain(words);
  });
});

describe('typing in the day', () => {
  beforeEach(beAtTheFair);

  it('shows each kind with its price, and what was noted', async () => {
    const html = await page('/fair/days/1/tally');
    expect(html).toMatch(/name="price-1"[^>]*value="40.00"/);
    expect(html).toMatch(/name="price-6"[^>]*value="30.00"/);
    await type({ 'cash-1': '1', 'card-1': '1' });
    expect(await page('/fair/days/1/tally')).toContain('3 taken, noted: 1 cash, 1 card');
  });

  it('notes sales in cash and by card, bargained ones, and takes the pairs out of stock', async () => {
    const response = await type({
      'cash-1': '1',
      'card-1': '1',
      'bargained-kind-0': '4',
      'bargained-count-0': '1',
      'bargained-price-0': '35',
      'bargained-how-0': 'cash',
      cash: '125',
    });
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/fair/days/1');
    expect((await read.sales()).map(({ how, day }) => [how, day])).toEqual([
      ['cash', '2026-11-21'],
      ['card', '2026-11-21'],
      ['cash', '2026-11-21'],
    ]);
    // The first by rank are sold.
    expect((await read.lines()).map(({ pairId, priceCents }) => [pairId, priceCents])).toEqual([
      [1, 4000],
      [2, 4000],
      [4, 3500],
    ]);
    expect((await read.pairs()).filter(({ left }) => left === 'sold').map(({ id }) => id)).toEqual([1, 2, 4]);
    expect((await read.events()).filter(({ event }) => event === 'sold').map(({ pairId }) => pairId)).toEqual([
      1, 2, 4,
    ]);
    const html = await page('/fair/days/1');
    // Cash 40 + 35, card 40; the card takes 2 %; float 50 and cash 75 are in the box.
    expect(html).toContain('€115.00');
    expect(html).toContain('−€0.80');
    expect(html).toContain('to the penny');
  });

  it('counts once what is sent twice', async () => {
    const version = String((await read.days())[0]!.version);
    const form = { token: token('a'), version, 'cash-1': '2', 'asked-size-0': '45', 'asked-count-0': '3', cash: '130' };
    expect((await postForm(app, '/fair/days/1/tally', form)).status).toBe(303);
    const before = await read.revision();
    expect((await postForm(app, '/fair/days/1/tally', form)).status).toBe(303);
    expect(await read.sales()).toHaveLength(2);
    expect(await read.asked()).toHaveLength(1);
    expect(await read.revision()).toBe(before + 1);
    expect((await read.days())[0]!.version).toBe(Number(version) + 1);
  });

  it('counts once what is sent twice without a sale', async () => {
    const version = String((await read.days())[0]!.version);
    const form = { token: token('a'), version, 'asked-size-0': '45', 'home-1': '3', cash: '130' };
    for (const _ of [1, 2]) expect((await postForm(app, '/fair/days/1/tally', form)).status).toBe(303);
    expect(await read.asked()).toMatchObject([{ size: '45', colour: null, count: 1 }]);
  });

  it('does not take a changed form that was saved for a new one', async () => {
    await type({ 'cash-1': '1' });
    const response = await type({ 'cash-1': '2' });
    expect(response.status).toBe(422);
    expect(await textOf(response)).toContain('This form was saved already');
    expect(await read.sales()).toHaveLength(1);
  });

  it('refuses more sold than taken, and sold and home together, and keeps what was typed', async () => {
    const tooMany = await type({
      'cash-1': '4',
      'other-what-0': 'a red pair',
      'other-price-0': '44',
      'other-how-0': 'cash',
    });
    expect(tooMany.status).toBe(422);
    const html = await textOf(tooMany);
    expect(html).toContain('at most 3 more can have been sold');
    expect(html).toContain('value="a red pair"');
    expect(html).toMatch(/id="field-cash-1"[^>]*aria-invalid/);
    const both = await type({ 'card-1': '2', 'home-1': '2' });
    expect(both.status).toBe(422);
    expect(await textOf(both)).toContain('2 sold and 2 at home make 4');
    expect(await read.sales()).toEqual([]);
    expect((await read.taken()).every(({ cameHome }) => cameHome === null)).toBe(true);
  });

  it.each([
    ['cash-1', 'two'],
    ['price-1', 'dear'],
    ['home-1', '-1'],
    ['cash', 'lots'],
    ['asked-count-0', '0'],
    ['bargained-count-0', 'x'],
    ['other-price-0', '1'],
  ])('refuses %s %s at its field', async (name, value) => {
    const response = await type({ [name]: value });
    expect(response.status).toBe(422);
    expect(await textOf(response)).toContain(value === '1' ? 'Enter what was sold' : `value="${value}"`);
  });

  it('works out the sales from what came home, and books them at the list price', async () => {
    await type({ 'cash-1': '1', 'home-1': '1', 'home-4': '2' });
    const html = await page('/fair/days/1');
    expect(html).toContain('1 pair is neither sold nor home');
    expect(rowOf(html, 'EU 39')).toEqual(['3', '1', '–', '1', '1']);
    const form = { token: token('c'), 'became-1': 'other', 'missed-price-1': '40' };
    expect((await postForm(app, '/fair/days/1/missing', form)).status).toBe(303);
    expect((await postForm(app, '/fair/days/1/missing', form)).status).toBe(303);
    expect((await read.sales()).map(({ how }) => how)).toEqual(['cash', 'other']);
    expect(await page('/fair/days/1')).not.toContain('neither sold nor home');
  });

  it('keeps the form about missing pairs when it is wrong, and notes a loss', async () => {
    await type({ 'home-1': '2' });
    const nothing = await postForm(app, '/fair/days/1/missing', { token: token('c'), 'became-1': '' });
    expect(nothing.status).toBe(422);
    const wrong = await postForm(app, '/fair/days/1/missing', { 'became-1': 'cash', 'missed-price-1': 'x' });
    expect(wrong.status).toBe(422);
    expect(await textOf(wrong)).toContain('value="x"');
    await postForm(app, '/fair/days/1/missing', { token: token('c'), 'became-1': 'lost' });
    expect((await read.pairs())[0]!.left).toBe('lost');
    const html = await page('/fair/days/1');
    expect(html).toContain('Lost or given away');
    expect(html).not.toContain('neither sold nor home');
    await postForm(app, '/fair/days/1/found/1', {});
    expect((await read.pairs())[0]!.left).toBeNull();
  });

  it('gives the same day whether it was typed or counted first', async () => {
    await type({ 'home-1': '1' }, 'a');
    await type({ 'cash-1': '2' }, 'b');
    const countedFirst = await read.lines();
    const html = await page('/fair/days/1');
    expect(rowOf(html, 'EU 39')).toEqual(['3', '2', '–', '1', '–']);
    expect(countedFirst.map(({ pairId }) => pairId)).toEqual([1, 2]);
    expect((await read.taken()).filter(({ pairId }) => pairId <= 3).map(({ cameHome }) => cameHome)).toEqual([
      false,
      false,
      true,
    ]);
  });

  it('takes a sale back once, and the pair is here again', async () => {
    await type({ 'cash-1': '2', 'home-1': '1' });
    for (const _ of [1, 2]) {
      const back = await postForm(app, '/fair/sales/1/back', {});
      expect(back.headers.get('location')).toBe('/fair/days/1#sales');
    }
    expect((await read.sales()).map(({ reversesId }) => reversesId)).toEqual([null, null, 1]);
    expect((await read.pairs())[0]!.left).toBeNull();
    // What was counted stays: a pair that is neither sold nor home now.
    expect(rowOf(await page('/fair/days/1'), 'EU 39')).toEqual(['3', '1', '–', '1', '1']);
    expect((await postForm(app, '/fair/sales/3/back', {})).status).toBe(404);
  });

  it('leaves pairs that came home in stock for the next fair', async () => {
    await type({ 'cash-1': '1', 'home-1': '2', 'home-4': '2', 'home-6': '1' });
    await newFair({ name: 'Next', day: '2026-11-28' });
    const html = await page('/fair/days/2/pairs');
    expect(html).toMatch(/name="take-2"[^>]*value="2"/);
    expect(html).toMatch(/name="take-4"[^>]*value="2"/);
  });

  it('leaves nothing behind when it fails midway', async () => {
    // Somebody marks the first pair sold elsewhere, between the look and the write.
    const version = String((await read.days())[0]!.version);
    await postForm(app, '/batch/pairs/1', { step: 'leave given', version: '1', back: '/batch/stock' });
    const response = await postForm(app, '/fair/days/1/tally', {
      token: token('a'),
      version,
      'cash-1': '3',
      cash: '170',
    });
    expect(response.status).toBe(422);
    expect(await read.sales()).toEqual([]);
    expect((await read.days())[0]!.cashCents).toBeNull();
  });

  it('passes nothing over that was typed for pairs that are gone', async () => {
    await type({ 'home-4': '0' });
    await postForm(app, '/fair/days/1/missing', { token: token('c'), 'became-4': 'lost' });
    const response = await type({ 'cash-4': '1' }, 'b');
    expect(response.status).toBe(422);
    expect(await textOf(response)).toContain('gone from the list');
  });

  it('is refused to two people at once', async () => {
    const version = String((await read.days())[0]!.version);
    const form = (as: string) => ({ token: token(as), version, 'cash-1': '1', cash: '90' });
    expect((await postForm(app, '/fair/days/1/tally', form('a'))).status).toBe(303);
    expect((await postForm(app, '/fair/days/1/tally', form('b'))).status).toBe(409);
    expect(await read.sales()).toHaveLength(1);
  });
});

describe('what is to be settled', () => {
  beforeEach(beAtTheFair);
  const sellUnknown = () => type({ 'other-what-0': 'a grey pair', 'other-price-0': '38', 'other-how-0': 'card' });

  it('keeps a sale whose pair nobody can name, with its money', async () => {
    await sellUnknown();
    expect((await read.lines())[0]).toMatchObject({ pairId: null, what: 'a grey pair', priceCents: 3800 });
    const html = await page('/fair');
    expect(html).toContain('1 sale waits');
    expect(html).toContain('€38.00');
    expect(await page('/fair/settle')).toContain('a grey pair');
  });

  it('is settled with a pair, which has left then', async () => {
    await sellUnknown();
    const nothing = await postForm(app, '/fair/settle/lines/1/pair', { 'pair-1': '', version: '1' });
    expect(nothing.status).toBe(422);
    expect(await textOf(nothing)).toContain('Choose the pair that was sold.');
    expect((await postForm(app, '/fair/settle/lines/1/pair', { 'pair-1': '4', version: '1' })).status).toBe(303);
    expect((await read.pairs()).find(({ id }) => id === 4)!.left).toBe('sold');
    expect(await page('/fair/settle')).toContain('Nothing is left to be settled');
    expect((await postForm(app, '/fair/settle/lines/1/pair', { 'pair-1': '5', version: '1' })).status).toBe(409);
    expect(rowOf(await page('/fair/days/1'), 'EU 42')).toEqual(['2', '–', '1', 'not counted', '–']);
  });

  it('is settled with a reason', async () => {
    await sellUnknown();
    expect((await postForm(app, '/fair/settle/lines/1/why', { 'why-1': ' ', version: '1' })).status).toBe(422);
    await postForm(app, '/fair/settle/lines/1/why', { 'why-1': 'knitted by a friend', version: '1' });
    expect((await read.lines())[0]).toMatchObject({ pairId: null, settledWhy: 'knitted by a friend' });
    expect(await page('/fair/settle')).toContain('Nothing is left to be settled');
    expect((await postForm(app, '/fair/settle/lines/9/why', { 'why-9': 'x', version: '1' })).status).toBe(404);
  });

  it('has pairs that were marked as sold without a price', async () => {
    await postForm(app, '/batch/pairs/5', { step: 'leave sold', version: '1', back: '/batch/stock' });
    expect(await page('/fair/settle')).toContain('woman EU 42, Heather');
    const form = {
      token: token('d'),
      'price-5': '42',
      'how-5': 'cash',
      'outlet-5': String(season.fair.id),
      'day-5': '2026-11-24',
    };
    const wrong = await postForm(app, '/fair/settle/pairs/5', { ...form, 'price-5': '?' });
    expect(wrong.status).toBe(422);
    expect(await textOf(wrong)).toContain('value="?"');
    for (const _ of [1, 2]) expect((await postForm(app, '/fair/settle/pairs/5', form)).status).toBe(303);
    expect(await read.sales()).toMatchObject([{ day: '2026-11-24', fairDayId: null }]);
    expect(await read.lines()).toMatchObject([{ pairId: 5, priceCents: 4200 }]);
  });
});

describe('where slippers are given away', () => {
  it('says nothing of money', async () => {
    await beAtTheFair();
    await type({ 'cash-1': '1' });
    await workshop.store.write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    for (const path of [
      '/fair',
      '/fair/new',
      '/fair/days/1',
      '/fair/days/1/tally',
      '/fair/days/1/sheet',
      '/fair/days/1/pairs',
    ]) {
      expect(await page(path)).not.toMatch(/€|float/i);
    }
    await type({ 'cash-4': '1' }, 'b');
    expect(rowOf(await page('/fair/days/1'), 'EU 42')).toEqual(['2', '1', 'not counted', '–']);
    expect((await read.lines()).map(({ priceCents }) => priceCents)).toEqual([4000, 0]);
  });
});
