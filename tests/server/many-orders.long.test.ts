import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { createApp } from '#server/app.ts';
import { boxOf, postForm } from '#tests/support/form.ts';
import { manyOrders, type OrderTable } from '#tests/support/many-orders.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

// A season of 10 000 order lines: what the pages hold is checked against the table that was imported.
const today = '2026-11-29';
const now = () => new Date(`${today}T12:00:00Z`);
const lineCount = 10_000;
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let table: OrderTable;
let pairsBefore: number;

const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);
const numberIn = (text = '') => Number(text.replaceAll(',', ''));
const all = (html: string, pattern: RegExp) => [...html.matchAll(pattern)].map((match) => match[1]!);

async function page(path: string, mostBytes = 1_000_000): Promise<string> {
  const response = await app.request(path);
  expect(response.status, path).toBe(200);
  const html = await response.text();
  expect(html.length, path).toBeLessThan(mostBytes);
  return html;
}

const unescaped = (text: string) => text.replaceAll('&amp;', '&');

/** A list from its first page to its last, by the links that lead on. */
async function pagesFrom(path: string): Promise<string[]> {
  const pages: string[] = [];
  for (let next: string | undefined = path; next !== undefined; ) {
    const html: string = await page(next);
    pages.push(html);
    const link = /<a href="([^"]*)" rel="next">/.exec(html)?.[1];
    next = link === undefined ? undefined : unescaped(link);
  }
  return pages;
}

const pairsToMake = (html: string) =>
  numberIn(/([\d,]+)[\s\u00a0]pairs<\/span><span class="figure-words">to make/.exec(html)?.[1]);

/** Pairs in each row of what is to make. */
function pairCells(html: string): number[] {
  const part = html.slice(html.indexOf('id="what-to-make"'), html.indexOf('Who knits what') + 1 || undefined);
  return all(part, /data-label="Pairs"><span>([\d,]+)/g).map(numberIn);
}

beforeAll(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  await loadSample(workshop, { today });
  pairsBefore = pairsToMake(await page('/batch'));
  table = manyOrders(await readWorkshop(workshop), lineCount, today);
  const answer = await postForm(app, '/orders/import', { text: table.text });
  expect(answer.headers.get('location')).toBe('/orders?import=1');
}, 300_000);
afterAll(() => workshop.discard());

describe('10 000 order lines', () => {
  const ordersIn = (html: string) => all(html, /<tr id="order-(\d+)">/g);

  it('are listed fifty orders to a page, each order once', async () => {
    const pages = await pagesFrom('/orders?import=1');
    const orders = new Set(table.lines.map(({ reference }) => reference));
    expect(pages.every((html) => ordersIn(html).length <= 50)).toBe(true);
    const listed = pages.flatMap(ordersIn);
    expect(listed).toHaveLength(orders.size);
    expect(new Set(listed).size).toBe(orders.size);
    expect(pages[1]).toContain(`Orders 51 to 100 of ${orders.size.toLocaleString('en-GB')}`);
    expect(pages[1]).toContain('<a href="/orders?import=1" rel="prev">');
  });

  it('stand in the batch 200 rows to a page, whose pairs add up to the total that every page names', async () => {
    const pages = await pagesFrom('/batch');
    // The sample's finished pairs may answer some of them.
    const fromStock = numberIn(/(\d+)[\s\u00a0]pairs? taken from the finished ones/.exec(pages[0]!)?.[1] ?? '0');
    const totals = new Set(pages.map(pairsToMake));
    expect([...totals]).toEqual([pairsBefore + sum(table.lines.map(({ pairs }) => pairs)) - fromStock]);
    expect(pages.every((html) => pairCells(html).length <= 200)).toBe(true);
    expect(pages.slice(0, -1).every((html) => pairCells(html).length === 200)).toBe(true);
    expect(sum(pages.flatMap(pairCells))).toBe([...totals][0]);
    expect(pages.at(-1)).not.toContain('rel="next"');
  });

  it('can be printed a thousand rows to a page', async () => {
    const first = await page('/batch?print=yes', 2_000_000);
    expect(pairCells(first).length).toBe(1000);
    expect(first).toContain('Shorter pages');
  });

  it('leave the first page short, with the number of what it does not name', async () => {
    const html = await page('/');
    const late = numberIn(/<h1>([\d,]+)[\s\u00a0]orders/.exec(html)?.[1]);
    const named = all(html.slice(html.indexOf('id="late"')), /<strong class="late-words">[^<]*:<\/strong>/g).length;
    const more = numberIn(/href="\/batch\/late">and ([\d,]+)[\s\u00a0]more/.exec(html)?.[1]);
    expect(named).toBeLessThanOrEqual(10);
    expect(late).toBe(more + 10);
    const pages = await pagesFrom('/batch/late');
    const listed = pages.flatMap((each) => all(each, /<li><a href="\/orders\/(\d+)"/g));
    expect(new Set(listed).size).toBe(late);
    expect(html.length).toBeLessThan(60_000);
  });

  it('are shared out over the knitters, whose pages hold all their pairs', async () => {
    const html = await page('/batch');
    const section = html.slice(html.indexOf('Who knits what'));
    const ids = all(section, /<details class="knitter-pairs" id="knitter-(\d+)"/g);
    expect(ids.length).toBeGreaterThan(1);
    const counts = all(section.slice(0, section.indexOf('</table>')), /data-label="Pairs">([\d,]+)/g).map(numberIn);
    for (const [index, id] of ids.entries()) {
      const pages = await pagesFrom(`/batch/knitters/${id}`);
      expect(sum(pages.map((each) => all(each, /(<th scope="row")/g).length))).toBe(counts[index]);
    }
  });

  it('are started by due day without being listed, and stand in pages once they are', async () => {
    const looked = await page('/batch/start');
    const due = boxOf(looked, 'due')!;
    expect(due).toBe('2026-12-27');
    const fields = { way: 'due', due, spares: 'yes', name: 'Till Christmas', revision: boxOf(looked, 'revision')! };
    const again = await (await postForm(app, '/batch/start/look', fields)).text();
    const count = numberIn(/Start these ([\d,]+)/.exec(again)?.[1]);
    const ofTable = sum(table.lines.filter((line) => line.due <= due).map(({ pairs }) => pairs));
    // The sample's own orders are due by then too.
    expect(count - ofTable).toBeGreaterThanOrEqual(-30);
    expect(count - ofTable).toBeLessThanOrEqual(pairsBefore);
    const started = await postForm(app, '/batch/start', fields);
    const address = started.headers.get('location')!;
    const pages = await pagesFrom(address);
    const ids = pages.flatMap((each) => all(each, /<tr id="pair-(\d+)">/g));
    expect(new Set(ids).size).toBe(count);
    expect(ids).toHaveLength(count);
    // A step taken on a later page leads back to it.
    const version = boxOf(pages[2]!, 'version')!;
    const back = boxOf(pages[2]!, 'back')!;
    expect(unescaped(back)).toBe(`${address}?page=3`);
    const pair = all(pages[2]!, /action="\/batch\/pairs\/(\d+)"/g)[0]!;
    const stepped = await postForm(app, `/batch/pairs/${pair}`, { step: 'begun foot', version, back });
    expect(stepped.headers.get('location')).toBe(`${address}?page=3#pair-${pair}`);
  });

  it('keep what is ticked on other pages of the form', async () => {
    const looked = await page('/batch/start');
    const [first, second] = all(looked, /name="order" value="(\d+)"/g);
    const onNext = await (
      await postForm(app, '/batch/start/look', { way: 'ticked', order: [first!, second!], name: 'x', to: '2' })
    ).text();
    expect(boxOf(onNext, 'kept')).toBe(`${first} ${second}`);
    const third = all(onNext, /name="order" value="(\d+)"/g)[0]!;
    const body = { way: 'ticked', order: third, kept: `${first} ${second}`, name: 'Three', page: '2' };
    const revision = boxOf(onNext, 'revision')!;
    const started = await postForm(app, '/batch/start', { ...body, revision });
    const html = await page(started.headers.get('location')!);
    const orders = new Set(all(html, /for <a href="\/orders\/(\d+)"/g));
    expect(orders).toEqual(new Set([first, second, third]));
  });

  it('make no page longer than a page of 200 rows needs', async () => {
    const paths = ['/cards', '/pricing', '/pricing/tags', '/buying', '/buying/dye-lots', '/shelf', '/batch/stock'];
    for (const path of [...paths, '/settings/history', '/knitters', '/orders/new']) await page(path);
  });
});
