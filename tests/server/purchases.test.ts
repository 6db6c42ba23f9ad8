import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPurchaseLines, listPurchases } from '#db/stores/buying.ts';
import { listAllMoves, listBalls, listLots } from '#db/stores/shelf.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let clock = '2026-11-25T12:00:00Z';
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  clock = '2026-11-25T12:00:00Z';
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  app = createApp({ workshop, now: () => new Date(clock), publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const purchases = () => workshop.store.read((db) => listPurchases(db));
const lines = () => workshop.store.read((db) => listPurchaseLines(db));
const lots = () => workshop.store.read((db) => listLots(db));

const ordered = {
  shop: '1',
  list: 'safe',
  'packs-1': '2',
  'price-1': '8.90',
  'packs-2': '1',
  'price-2': '9.10',
  shipping: '4,50',
  off: '',
  orderedDay: '2026-11-25',
  expectedDay: '',
};

describe('a basket that was ordered', () => {
  it('begins from the list, with what a pack costs, the postage and the day it should be here', async () => {
    const html = await page('/buying/purchases/new?shop=1&list=safe');
    expect(html).toMatch(/name="packs-2"[^>]*value="\d+"|value="\d+"[^>]*name="packs-2"/);
    expect(html).toContain('value="8.90"');
    expect(html).toContain('value="4.50"');
    expect(html).toContain('value="2026-11-29"');
    expect(await page('/buying')).toContain('/buying/purchases/new?shop=1&amp;list=safe');
  });

  it('is stored, expected after the delivery days where no day is given, and shown on three pages', async () => {
    const response = await postForm(app, '/buying/purchases/new', ordered);
    expect(response.status).toBe(303);
    expect((await purchases())[0]).toMatchObject({ state: 'ordered', expectedDay: '2026-11-29', shippingCents: 450 });
    expect(await page('/buying/purchases')).toContain('1 parcel on the way');
    expect(await page('/buying')).toContain('1 parcel on the way');
    expect(await page('/')).not.toContain('Yarn from Quay Yarns');
    clock = '2026-11-27T12:00:00Z';
    expect(await page('/')).toContain('Yarn from Quay Yarns');
    clock = '2026-12-01T12:00:00Z';
    expect(await page('/')).toContain('overdue since');
    expect(await page('/buying/purchases')).toContain('2 days overdue');
  });

  it.each([
    [{ 'packs-1': '0', 'packs-2': '' }, 'Enter how many packs you ordered'],
    [{ 'packs-1': '1.5' }, 'Enter how many packs you ordered'],
    [{ 'price-1': 'much' }, 'Enter what a pack costs'],
    [{ off: '50' }, 'More cannot be taken off than the goods cost'],
    [{ expectedDay: '2026-11-20' }, 'It cannot be here before it was ordered'],
    [{ orderedDay: '' }, 'Enter the day you ordered it'],
    [{ orderedDay: '2026-11-26' }, 'Thu 26 Nov 2026 is still to come'],
  ])('is refused with %o and keeps what was typed', async (wrong, sentence) => {
    const response = await postForm(app, '/buying/purchases/new', { ...ordered, 'price-2': '7.77', ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="7.77"');
    expect(await purchases()).toEqual([]);
  });

  it('is not stored for a shop that is gone', async () => {
    expect((await postForm(app, '/buying/purchases/new', { ...ordered, shop: '9' })).status).toBe(404);
    expect((await app.request('/buying/purchases/9')).status).toBe(404);
  });
});

describe('what comes of it', () => {
  beforeEach(async () => {
    await postForm(app, '/buying/purchases/new', ordered);
    clock = '2026-11-30T12:00:00Z';
  });

  it('goes on the shelf in parts, each with its dye lot', async () => {
    const [first, second] = await lines();
    const part = { version: '1', [`packs-${first!.id}`]: '1', [`lot-${first!.id}`]: 'A7', day: '2026-11-29' };
    const response = await postForm(app, '/buying/purchases/1/arrived', part);
    expect(response.headers.get('location')).toContain('did=part');
    expect((await lots()).at(-1)).toMatchObject({ dyeLot: 'A7', gotDay: '2026-11-29', boughtMg: 100_000 });
    const html = await page('/buying/purchases/1');
    expect(html).toContain('1 of 3 packs are here');
    expect(html).toContain('only the day can be changed');
    const rest = { [`packs-${first!.id}`]: '1', [`packs-${second!.id}`]: '1', day: '2026-11-30' };
    const done = await postForm(app, '/buying/purchases/1/arrived', { ...rest, version: '2' });
    expect(done.headers.get('location')).toContain('did=here');
    expect((await purchases())[0]).toMatchObject({ state: 'arrived' });
    expect(await page('/buying/purchases')).toContain('Nothing is on its way');
  });

  it('is named on the page of what is here, so that nothing is counted twice', async () => {
    const html = await page('/buying/arrived?shop=1&list=safe&all=yes');
    expect(html).toContain('href="/buying/purchases/1"');
  });

  it('is refused when it is more than was ordered, keeping what was typed', async () => {
    const [first] = await lines();
    const before = await lots();
    const wrong = { version: '1', [`packs-${first!.id}`]: '5', [`lot-${first!.id}`]: 'Q99', day: '2026-11-29' };
    const response = await postForm(app, '/buying/purchases/1/arrived', wrong);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain('2 packs are still to come');
    expect(html).toContain('value="Q99"');
    const none = await postForm(app, '/buying/purchases/1/arrived', { version: '1', day: '2026-11-29' });
    expect(none.status).toBe(422);
    expect(await lots()).toEqual(before);
  });

  it('is waited for again where a ball had not come after all, and its lot cost so much less', async () => {
    const [first, second] = await lines();
    const all = { version: '1', [`packs-${first!.id}`]: '2', [`packs-${second!.id}`]: '1', day: '2026-11-29' };
    await postForm(app, '/buying/purchases/1/arrived', all);
    expect((await purchases())[0]).toMatchObject({ state: 'arrived' });
    const moves = await workshop.store.read((db) => listAllMoves(db));
    const came = moves.find(({ purchaseLineId }) => purchaseLineId === first!.id)!;
    const ball = (await workshop.store.read((db) => listBalls(db))).find(({ id }) => id === came.ballId)!;
    const lot = async () => (await lots()).find(({ id }) => id === ball.lotId);
    // Of 26.90 of goods two packs are 17.80, so they carry 2.98 of the 4.50 postage: 20.78.
    expect(await lot()).toMatchObject({ paidCents: 2078, boughtMg: 200_000 });
    const undone = await postForm(app, `/shelf/lots/${ball.lotId}/undo`, { move: String(came.id), short: 'give back' });
    expect(undone.status).toBe(303);
    expect((await lines()).map(({ arrivedPacks }) => arrivedPacks)).toEqual([1, 1]);
    expect((await purchases())[0]).toMatchObject({ state: 'ordered' });
    expect(await page('/buying/purchases/1')).toContain('2 of 3 packs are here');
    expect(await lot()).toMatchObject({ paidCents: 1039, boughtMg: 100_000 });
    // When it comes after all, the bill is whole again: 26.90 and 4.50.
    const { version } = (await purchases())[0]!;
    const rest = { version: String(version), [`packs-${first!.id}`]: '1', day: '2026-11-30' };
    expect((await postForm(app, '/buying/purchases/1/arrived', rest)).status).toBe(303);
    expect((await purchases())[0]).toMatchObject({ state: 'arrived' });
    const fromIt = (await lots()).filter(({ gotDay }) => gotDay >= '2026-11-29');
    expect(fromIt.reduce((sum, { paidCents }) => sum + paidCents, 0)).toBe(3140);
  });

  it('cannot have come on a day that is still to come', async () => {
    const [first] = await lines();
    const tomorrow = { version: '1', [`packs-${first!.id}`]: '1', [`lot-${first!.id}`]: 'Q99', day: '2026-12-01' };
    const response = await postForm(app, '/buying/purchases/1/arrived', tomorrow);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain('Tue 1 Dec 2026 is still to come');
    expect(html).toContain('value="Q99"');
    expect((await lines()).map(({ arrivedPacks }) => arrivedPacks)).toEqual([0, 0]);
  });

  it('is told when somebody else was quicker', async () => {
    const [first] = await lines();
    const part = { version: '1', [`packs-${first!.id}`]: '1', day: '2026-11-29' };
    await postForm(app, '/buying/purchases/1/arrived', part);
    expect((await postForm(app, '/buying/purchases/1/arrived', part)).status).toBe(409);
  });

  it('may come on another day or at another price, or not at all', async () => {
    const [first, second] = await lines();
    const change = {
      version: '1',
      expectedDay: '2026-12-08',
      shipping: '3',
      [`price-${first!.id}`]: '8',
      [`price-${second!.id}`]: '9',
    };
    expect((await postForm(app, '/buying/purchases/1/change', change)).status).toBe(303);
    expect((await purchases())[0]).toMatchObject({ expectedDay: '2026-12-08', shippingCents: 300 });
    const early = await postForm(app, '/buying/purchases/1/change', {
      ...change,
      version: '2',
      expectedDay: '2026-11-01',
    });
    expect(early.status).toBe(422);
    expect((await postForm(app, '/buying/purchases/1/cancel', { version: '2' })).status).toBe(303);
    expect((await purchases())[0]!.state).toBe('cancelled');
    const again = await postForm(app, '/buying/purchases/1/cancel', {});
    expect(again.status).toBe(422);
    expect(await again.text()).toContain('This purchase was cancelled meanwhile');
  });
});

describe('yarn bought elsewhere', () => {
  const entry = { colour: '2', shop: '', packs: '3', price: '4,20', day: '2026-11-24', dyeLot: '88' };

  it('goes on the shelf, and less is to buy', async () => {
    expect(await page('/buying/elsewhere?colour=2')).toContain('selected');
    expect((await postForm(app, '/buying/elsewhere', entry)).status).toBe(303);
    expect((await lots()).at(-1)).toMatchObject({ yarnColourId: 2, dyeLot: '88', paidCents: 1260, boughtMg: 300_000 });
    expect(await page('/buying')).not.toContain('/working/buying/list/2');
  });

  it.each([
    [{ colour: '' }, 'Choose the colour'],
    [{ colour: '77' }, 'Choose the colour'],
    [{ shop: '9' }, 'Choose the shop'],
    [{ packs: '0' }, 'Enter how many packs'],
    [{ price: '' }, 'Enter what one of them cost'],
    [{ ballG: '-5' }, 'Enter how many grams a ball has'],
    [{ day: '2026-11-26' }, 'Thu 26 Nov 2026 is still to come'],
  ])('is refused with %o and keeps what was typed', async (wrong, sentence) => {
    const before = await lots();
    const response = await postForm(app, '/buying/elsewhere', { ...entry, dyeLot: 'keep me', ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="keep me"');
    expect(await lots()).toEqual(before);
  });
});
