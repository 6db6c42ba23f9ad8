import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createBand } from '#db/stores/sizing.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let season: Awaited<ReturnType<typeof addSeason>>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const groups = async () => (await readPlan(workshop, now())).rows.priceGroups;
const form = () => ({
  name: 'Women',
  outletId: String(season.fair.id),
  styleId: String(season.style.id),
  from: '22',
  to: '27',
  price: '44',
  units: 'metric',
});
const add = (changes: Record<string, string> = {}) => postForm(app, '/pricing/groups', { ...form(), ...changes });

describe('one price for several sizes', () => {
  it('is what the pairs of these sizes cost at the outlet, and names the size that earns least', async () => {
    const added = await add();
    expect(added.status).toBe(303);
    expect(await groups()).toMatchObject([{ name: 'Women', fromMm: 220, toMm: 270, priceCents: 4400 }]);
    // EU 41 takes more yarn and time than EU 38 at the same price.
    const html = await textAt(added.headers.get('location')!);
    expect(html).toMatch(/>woman EU 41<\/a> earns least/);
    const { rows } = await readPlan(workshop, now());
    const pair = await textAt(`/pricing/pair/${rows.lines[0]!.id}`);
    expect(pair).toContain('for Women');
    expect(pair).toContain('€44.00');
    expect(await textAt('/pricing')).toContain('Women, €44.00');
    const working = await textAt(`/working/pricing/price/${rows.lines[0]!.id}-${season.fair.id}`);
    expect(working).toContain('one price for Women');
    expect(working).toContain('€44.00');
  });

  it('is changed and taken away, and tells who comes second', async () => {
    await add();
    const [group] = await groups();
    const path = `/pricing/groups/${group!.id}`;
    expect((await postForm(app, path, { ...form(), price: '46', version: '1' })).status).toBe(303);
    expect((await groups())[0]!.priceCents).toBe(4600);
    expect((await postForm(app, path, { ...form(), price: '47', version: '1' })).status).toBe(409);
    expect((await postForm(app, `${path}/remove`, { version: '1' })).status).toBe(409);
    expect((await postForm(app, `${path}/remove`, { version: '2' })).status).toBe(303);
    expect(await groups()).toEqual([]);
    expect((await app.request(path)).status).toBe(404);
  });

  it('takes sizes of the list before the boxes', async () => {
    const band = await workshop.store.write('test: a band', (tx) =>
      createBand(tx, { name: '37/38', person: null, fromMm: 232, toMm: 245, rank: 0 }),
    );
    await add({ fromBand: String(band.id), toBand: String(band.id), from: 'nonsense', to: '' });
    expect(await groups()).toMatchObject([{ fromMm: 232, toMm: 245 }]);
  });

  it('says in inches what was meant in inches', async () => {
    await add({ from: '8 1/2', to: '10', units: 'imperial' });
    expect((await groups())[0]!.fromMm).toBeCloseTo(215.9, 6);
    expect((await groups())[0]!.toMm).toBeCloseTo(254, 6);
  });

  it.each([
    [{ name: '' }, 'name'],
    [{ outletId: '' }, 'outletId'],
    [{ outletId: '99' }, 'outletId'],
    [{ styleId: '' }, 'styleId'],
    [{ from: 'long' }, 'from'],
    [{ to: '20' }, 'to'],
    [{ price: 'dear' }, 'price'],
    [{ fromBand: '99' }, 'fromBand'],
  ])('with %o is refused at %s, what was typed kept', async (change, path) => {
    const response = await add(change);
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain(`href="#field-${path}"`);
    if (!('name' in change)) expect(html).toContain('value="Women"');
    expect(await groups()).toEqual([]);
  });
});

describe('what others ask', () => {
  const note = (changes: Record<string, string> = {}) =>
    postForm(app, '/pricing/seen', {
      what: 'Felted slippers',
      place: 'Harbour fair',
      price: '52',
      day: '2026-11-01',
      ...changes,
    });

  it('stands beside the prices as a range, and makes no price', async () => {
    const { rows, plan } = await readPlan(workshop, now());
    const before = JSON.stringify(plan.prices);
    await note();
    await note({ what: 'Plain ones', price: '38' });
    expect(await textAt('/pricing/seen')).toContain('Others ask €38.00 to €52.00');
    expect(await textAt('/pricing')).toContain('€38.00 to €52.00');
    expect(await textAt(`/pricing/pair/${rows.lines[0]!.id}`)).toContain('by 2 notes');
    expect(JSON.stringify((await readPlan(workshop, now())).plan.prices)).toBe(before);
  });

  it('is taken away again', async () => {
    await note();
    expect((await postForm(app, '/pricing/seen/1/remove', { version: '1' })).status).toBe(303);
    expect(await textAt('/pricing/seen')).not.toContain('Harbour fair');
    expect((await postForm(app, '/pricing/seen/1/remove', { version: '1' })).status).toBe(404);
  });

  it.each([
    [{ what: '' }, 'what'],
    [{ place: '' }, 'place'],
    [{ price: 'much' }, 'price'],
    [{ day: 'yesterday' }, 'day'],
  ])('with %o is refused at %s, what was typed kept', async (change, path) => {
    const response = await note(change);
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain(`href="#field-${path}"`);
    if (!('what' in change)) expect(html).toContain('value="Felted slippers"');
  });
});
