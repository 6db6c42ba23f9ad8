import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listLines } from '#db/stores/orders.ts';
import { createApp } from '#server/app.ts';
import { createSolver, type Solver } from '#solver/solver.ts';
import { brokenWorker } from '#tests/support/broken-worker.ts';
import { postForm } from '#tests/support/form.ts';
import { addLargeShelf } from '#tests/support/large-shelf.ts';
import { addLot, addOutlet, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let solver: Solver;
let app: ReturnType<typeof createApp>;
let fields: Awaited<ReturnType<typeof addLargeShelf>>;
let query: string;

function serve(options: Parameters<typeof createSolver>[0] = {}): void {
  solver = createSolver(options);
  app = createApp({ workshop, now, publicUrl: null, solver });
}
beforeEach(async () => {
  workshop = await openTestWorkshop();
  fields = await addLargeShelf(workshop);
  query = new URLSearchParams(
    Object.entries(fields).flatMap(([name, value]) => [value].flat().map((each) => [name, each])),
  ).toString();
});
afterEach(async () => {
  await solver.close();
  await workshop.discard();
});

const page = async () => (await app.request(`/shelf/most-pairs?${query}`)).text();
const fragment = (of = query) => app.request(`/shelf/most-pairs/search?${of}`, { headers: { 'HX-Request': 'true' } });
const press = (what: 'search' | 'search/stop') => postForm(app, `/shelf/most-pairs/${what}?${query}`, {});
const plain = (html: string) => html.replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/\s+/g, ' ');
const figure = (html: string) => Number(/(\d+) pairs: (?:cannot be more|at most)/.exec(plain(html))![1]);
const hidden = (html: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(html)![1]!;
const makeBatch = (html: string, changed: Record<string, string> = {}) =>
  postForm(app, '/shelf/most-pairs', {
    ...fields,
    ...{ outlet: '1', due: '', revision: hidden(html, 'revision') },
    ...{ question: hidden(html, 'question'), made: hidden(html, 'made') },
    ...changed,
  });
const pairsOrdered = async () =>
  (await workshop.store.read((db) => listLines(db, 1))).reduce((sum, { quantity }) => sum + quantity, 0);

async function waitUntilEnded(): Promise<string> {
  for (;;) {
    const html = await (await fragment()).text();
    if (!html.includes('hx-get')) return html;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

describe('a shelf that takes longer to count', () => {
  it('is answered at once, with what is known, and asks for more by itself', async () => {
    serve();
    const first = await page();
    expect(plain(first)).toMatch(
      /\d+ pairs: at most \d+, if a better way is there .* Looking for more pairs\. Look again/,
    );
    expect(first).toMatch(/<h1[^>]*>Most pairs from this shelf/);
    expect(first).toContain('Stop looking');
    const address = /hx-get="([^"]*)"/.exec(first)![1]!.replaceAll('&amp;', '&');
    expect(address).toBe(`/shelf/most-pairs/search?${query}`);
    // Without a script a link looks again, at the same address as before.
    expect(first).toContain(`<a href="/shelf/most-pairs?${query.replaceAll('&', '&amp;')}">Look again</a>`);

    const part = await (await fragment()).text();
    expect(part).toMatch(/^<div id="shelf-answer" class="stack" hx-get=/);
    expect(part).not.toContain('<html');

    const last = await waitUntilEnded();
    expect(last).toMatch(/^<div id="shelf-answer"/);
    // Said aloud where the page has a place for it.
    expect(first).toMatch(/<p id="shelf-search-end"[^>]* role="status"><\/p>/);
    expect(last).toContain(
      `<p id="shelf-search-end" hx-swap-oob="innerHTML">${figure(last)} pairs: cannot be more.</p>`,
    );
    expect(last).not.toContain('Looking');
    expect(last).not.toContain('Stop looking');
    expect(last).toContain('One more ball');
    expect(figure(last)).toBeGreaterThanOrEqual(figure(first));
    expect(await page()).toMatch(new RegExp(`<h1[^>]*>${figure(last)} pairs from this shelf`));
  });

  it('makes a batch of the pairs that were seen, though better ones are known by then', async () => {
    serve();
    const first = await page();
    const last = await waitUntilEnded();
    expect(figure(last)).toBeGreaterThan(figure(first));
    expect((await makeBatch(first)).headers.get('location')).toBe('/batch?made=1');
    expect(await pairsOrdered()).toBe(figure(first));
  });

  it('makes a batch of what was found once it is shown', async () => {
    serve();
    const first = await page();
    const last = await waitUntilEnded();
    // What the form carries of the answer comes with the answer.
    const swapped = { question: hidden(last, 'question'), made: hidden(last, 'made') };
    expect((await makeBatch(first, swapped)).headers.get('location')).toBe('/batch?made=1');
    expect(await pairsOrdered()).toBe(figure(last));
  });

  it('makes a batch although something else was written meanwhile', async () => {
    serve();
    const first = await page();
    await workshop.store.write('test: an outlet', (tx) => addOutlet(tx, { name: 'Winter fair', kind: 'fair' }));
    const answer = await makeBatch(first);
    expect(answer.status).toBe(303);
  });

  it.each([
    ['other yarn on the shelf', {}, true],
    ['pairs that the shelf cannot give', { made: '[[0,[1],9999]]' }, false],
    ['pairs that are no pairs', { made: 'seven' }, false],
    ['another question', { question: 'x' }, false],
  ])('makes no batch of %s', async (_, changed, hasMore) => {
    serve();
    const first = await page();
    if (hasMore) await workshop.store.write('test: a lot more', (tx) => addLot(tx, [400_000], { yarnColourId: 1 }));
    const answer = await makeBatch(first, changed);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Something in the workshop changed since you looked');
    expect(await pairsOrdered()).toBe(0);
  });

  it('leads to the whole page where no part is wanted, and where the question is faulty', async () => {
    serve();
    const whole = await app.request(`/shelf/most-pairs/search?${query}`);
    expect([whole.status, whole.headers.get('location')]).toEqual([303, `/shelf/most-pairs?${query}`]);
    const faulty = query.replace('together=two', 'together=x');
    const answer = await fragment(faulty);
    expect(answer.headers.get('hx-redirect')).toBe(`/shelf/most-pairs?${faulty}`);
    expect(await answer.text()).toBe('');
  });
});

describe('a search that does not come to its end', () => {
  it('says that it was stopped, with the pairs that are known, and looks again when asked', async () => {
    serve({ scripts: brokenWorker('worker-silent') });
    const first = await page();
    const stopped = await press('search/stop');
    expect([stopped.status, stopped.headers.get('location')]).toEqual([303, `/shelf/most-pairs?${query}`]);
    const html = await page();
    expect(figure(html)).toBe(figure(first));
    expect(plain(html)).toMatch(
      /The search for more was stopped: there is yarn for these pairs, and at most \d+ more could be possible\. What one more ball would add was not found out\./,
    );
    expect(html).not.toContain('hx-get');
    expect((await makeBatch(html)).status).toBe(303);
  });

  it('looks once more when asked', async () => {
    serve({ scripts: brokenWorker('worker-silent') });
    await page();
    await press('search/stop');
    expect(await page()).toContain('Look once more');
    const again = await press('search');
    expect([again.status, again.headers.get('location')]).toEqual([303, `/shelf/most-pairs?${query}`]);
    expect(await page()).toContain('Looking for more pairs');
  });

  it('stays with the pairs that are known when the worker breaks', async () => {
    serve({ scripts: brokenWorker('worker-crashing') });
    const first = await page();
    const last = await waitUntilEnded();
    expect(plain(last)).toContain('The search for more broke off: there is yarn for these pairs');
    expect(figure(last)).toBe(figure(first));
    expect(last).toContain('Look once more');
  });

  it('stays with the pairs that are known when what comes back is more than the shelf has', async () => {
    serve({ scripts: brokenWorker('worker-lying') });
    const first = await page();
    const last = await waitUntilEnded();
    expect(plain(last)).toContain('The search for more broke off');
    expect(figure(last)).toBe(figure(first));
    expect((await makeBatch(await page())).status).toBe(303);
    expect(await pairsOrdered()).toBe(figure(first));
  });

  it('says so when time runs out', async () => {
    serve({ scripts: brokenWorker('worker-silent'), graceMs: -14_900 });
    const first = await page();
    const last = await waitUntilEnded();
    expect(plain(last)).toContain('The search for more ran out of time: there is yarn for these pairs');
    expect(figure(last)).toBe(figure(first));
  });
});
