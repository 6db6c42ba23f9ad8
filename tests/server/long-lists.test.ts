import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeOrder } from '#db/stores/orders.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOrder, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

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

async function page(path: string): Promise<string> {
  const response = await app.request(path);
  expect(response.status, path).toBe(200);
  return await response.text();
}
const countOf = (html: string, part: string) => html.split(part).length - 1;

describe('an order of 250 lines', () => {
  let path: string;
  beforeEach(async () => {
    const { style, heather, oat, direct, inColours } = season;
    const line = (index: number) =>
      lineOf(style.id, heather.id, { quantity: 1 + (index % 2), ...inColours(heather.id, oat.id) });
    const order = await workshop.store.write('test: a long order', (tx) =>
      addOrder(tx, {
        outletId: direct.id,
        dueDay: null,
        lines: Array.from({ length: 250 }, (_, index) => line(index)),
      }),
    );
    path = `/orders/${order.id}`;
  });

  it('shows 200 of them, and the rest on the next page', async () => {
    const [first, second] = [await page(path), await page(`${path}?page=2`)];
    expect([countOf(first, '<tr id="line-'), countOf(second, '<tr id="line-')]).toEqual([200, 50]);
    expect(first).toContain('Lines 1 to 200 of 250');
    expect(first).toContain(`<a href="${path}?page=2" rel="next">`);
    expect(second).toContain('Lines 201 to 250 of 250');
    expect(second).not.toContain('rel="next"');
    // 125 lines of one pair and 125 of two.
    for (const html of [first, second]) expect(html).toContain('375 pairs');
  });

  it('shows all of them on one page to print', async () => {
    const html = await page(`${path}?print=yes`);
    expect(countOf(html, '<tr id="line-')).toBe(250);
    expect(html).toContain('Shorter pages');
    expect(await page(path)).toContain(`<a href="${path}?print=yes">All on one page, to print</a>`);
  });

  it('adds up what the lines it does not name come to', async () => {
    expect(await page(path)).toContain('50 more lines');
  });
});

describe('a short list', () => {
  it('has no ways to other pages, whatever page is asked for', async () => {
    for (const path of [
      '/orders',
      '/batch',
      '/batch?page=9',
      '/batch?print=yes',
      '/batch/late',
      '/cards',
      '/pricing',
    ]) {
      expect(await page(path)).not.toContain('Pages of the list');
    }
  });

  it('is started by ticks alone', async () => {
    expect(await page('/batch/start')).not.toContain('name="way"');
  });
});

describe('orders that pages lead to', () => {
  it('are those that come late, each with what would help', async () => {
    await workshop.store.write('test', (tx) => changeOrder(tx, season.forHilda.id, { dueDay: '2026-11-26' }));
    const html = await page('/batch/late');
    expect(html).toContain('1 order late as planned');
    expect(html).toContain(`/orders/${season.forHilda.id}`);
    expect(html).not.toContain(`href="/orders/${season.forFair.id}"`);
  });

  it('are those to post, and none else', async () => {
    await workshop.store.write('test', (tx) => changeOrder(tx, season.forHilda.id, { arriveByDay: '2026-11-28' }));
    const html = await page('/orders?show=post');
    expect(html).toContain('One order to post');
    expect(html).toContain(`id="order-${season.forHilda.id}"`);
    expect(html).not.toContain(`id="order-${season.forFair.id}"`);
    expect(await page('/orders?show=unplanned')).toContain('There is no such order now.');
  });

  it('of one knitter stand on her page', async () => {
    const html = await page(`/batch/knitters/${season.knitter.id}`);
    expect(html).toContain('Ilka knits 3 pairs');
    expect((await app.request('/batch/knitters/99')).status).toBe(404);
  });
});

describe('choosing orders by due day', () => {
  it('starts those due by then and no others, and asks for a day that is none', async () => {
    const revision = /name="revision" value="(\d+)"/.exec(await page('/batch/start'))![1]!;
    const fields = { way: 'due', name: 'February', revision };
    const faulty = await postForm(app, '/batch/start', { ...fields, due: 'soon' });
    expect(faulty.status).toBe(422);
    expect(await faulty.text()).toContain('Enter the last due day');
    const started = await postForm(app, '/batch/start', { ...fields, due: '2027-02-01' });
    const html = await page(started.headers.get('location')!);
    expect(html).toContain(`for <a href="/orders/${season.forHilda.id}"`);
    expect(html).not.toContain(`for <a href="/orders/${season.forFair.id}"`);
  });
});
