import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents } from '#core/shared/format.ts';
import { listAnswers } from '#db/stores/workshop.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { createSolver, type Solver } from '#solver/solver.ts';
import { brokenWorker } from '#tests/support/broken-worker.ts';
import { addCoupledSeason } from '#tests/support/coupled-season.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let solver: Solver;
let app: ReturnType<typeof createApp>;

function serve(options: Parameters<typeof createSolver>[0] = {}): void {
  solver = createSolver(options);
  app = createApp({ workshop, now, publicUrl: null, solver });
}
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(async () => {
  await solver.close();
  // What a search that was closed had found is kept before the file goes.
  await new Promise((resolve) => setTimeout(resolve, 50));
  await workshop.discard();
});

const page = async (path: string) => (await app.request(path)).text();
const fragment = () => app.request('/buying/search', { headers: { 'HX-Request': 'true' } });
const lists = async () => (await readPlan(workshop, now())).plan.lists;
const answers = () => workshop.store.read((db) => listAnswers(db));

async function waitUntilEnded(): Promise<Response> {
  for (;;) {
    const response = await fragment();
    if (response.headers.get('hx-refresh') === 'true') return response;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

describe('a list that is proven cheapest', () => {
  it('is not looked at again', async () => {
    serve();
    await addSeason(workshop);
    const html = await page('/buying');
    expect(html).toContain('it cannot be cheaper');
    expect(html).not.toContain('Looking for a cheaper list');
    expect(await (await fragment()).text()).toBe('');
    expect(await answers()).toEqual([]);
  });
});

describe('a list that may not be the cheapest', () => {
  it('is shown at once, looked at in the background, and the answer is kept', async () => {
    serve();
    await addCoupledSeason(workshop, { colours: 4 });
    const own = await lists();
    expect(own.safe.isProvenCheapest).toBe(false);
    const html = await page('/buying');
    expect(html).toContain('Looking for a cheaper list');
    expect(html).toContain('<a href="/buying">See how far it is</a>');
    expect(html).toContain(formatCents(own.safe.totalCents, 'EUR'));
    expect(html).toContain('Off the basket');
    expect((await app.request('/buying/search')).headers.get('location')).toBe('/buying');

    await waitUntilEnded();
    expect(await answers()).toHaveLength(2);
    const found = await lists();
    expect(found.safe.isProvenCheapest).toBe(true);
    expect(found.safe.totalCents).toBeLessThanOrEqual(own.safe.totalCents);
    expect(found.safe.boundCents).toBeGreaterThanOrEqual(own.safe.boundCents);
    expect(await page('/buying')).toContain('From these shops it cannot be cheaper.');
  });

  it('says that the search was stopped, and looks again when asked', async () => {
    serve();
    await addCoupledSeason(workshop);
    await page('/buying');
    expect((await postForm(app, '/buying/search/stop', {})).status).toBe(303);
    const html = await page('/buying');
    const { safe } = await lists();
    const saving = formatCents(safe.totalCents - safe.boundCents, 'EUR');
    expect(html).toContain(
      `The search was stopped; this list covers everything, and at most ${saving} could be saved.`,
    );
    expect(html).not.toContain('Looking for a cheaper list');
    expect(html).toContain('Look for a cheaper list again');
    expect((await postForm(app, '/buying/search', { list: 'safe' })).status).toBe(303);
    expect(await page('/buying')).toContain('Looking for a cheaper list');
    await postForm(app, '/buying/search/stop', {});
  });

  it('stays as it is when the worker breaks', async () => {
    serve({ scripts: brokenWorker('worker-crashing') });
    await addCoupledSeason(workshop);
    const own = await lists();
    await page('/buying');
    await waitUntilEnded();
    const html = await page('/buying');
    expect(html).toContain('The search broke off; this list covers everything, and at most');
    expect(html).toContain(formatCents(own.safe.totalCents, 'EUR'));
    expect((await lists()).safe.totalCents).toBe(own.safe.totalCents);
  });

  it('says how much could be saved when time runs out', async () => {
    serve({ scripts: brokenWorker('worker-silent'), graceMs: -2100 });
    await addCoupledSeason(workshop);
    await page('/buying');
    await waitUntilEnded();
    expect(await page('/buying')).toContain(
      'The search for a cheaper one ran out of time; this list covers everything',
    );
    expect(await page('/buying')).toContain('Look longer');
  });
});
