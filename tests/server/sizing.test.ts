import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});

afterEach(() => workshop.discard());

const bands = async () => (await readWorkshop(workshop)).bands;
const newBand = { name: '36½', person: 'woman', from: '22,8', to: '23.4' };

describe('GET /sizing', () => {
  it('says how to begin while there is no style', async () => {
    const page = await (await app.request('/sizing')).text();
    expect(page).toContain('Begin on the first page');
  });

  it('charts the women of the sample season, and EU 38 is a foot of 24.0 cm', async () => {
    await putSample(workshop, '2026-11-25');
    const page = await (await app.request('/sizing?person=woman')).text();
    expect(page).toContain('EU 38');
    expect(page).toMatch(/24\.0\u00a0cm/);
    expect(page).toContain('The length of the foot decides.');
  });

  it('charts children with sizes of their own', async () => {
    await putSample(workshop, '2026-11-25');
    const page = await (await app.request('/sizing?person=child')).text();
    expect(page).toContain('EU 24');
    expect(page).not.toContain('EU 41');
  });
});

describe('bands', () => {
  beforeEach(async () => {
    await putSample(workshop, '2026-11-25');
  });

  it('shows the form and adds a band', async () => {
    expect((await app.request('/sizing/bands/new')).status).toBe(200);
    const before = await bands();
    const answer = await postForm(app, '/sizing/bands', newBand);
    expect(answer.status).toBe(303);
    const after = await bands();
    expect(after).toHaveLength(before.length + 1);
    expect(after.at(-1)).toMatchObject({ name: '36½', person: 'woman', fromMm: 228, toMm: 234 });
  });

  it('refuses a band that ends before it begins, keeps what was typed', async () => {
    const before = await bands();
    const answer = await postForm(app, '/sizing/bands', { ...newBand, to: '22' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('The longest foot must be longer than the shortest.');
    expect(page).toContain('value="22,8"');
    expect(await bands()).toHaveLength(before.length);
  });

  it('refuses a name that this person has already', async () => {
    const answer = await postForm(app, '/sizing/bands', { ...newBand, name: 'm' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('already');
  });

  it('changes a band, and tells the second of two who change it', async () => {
    const band = (await bands())[3]!;
    const form = { name: band.name, person: 'woman', from: '22', to: '24', version: String(band.version) };
    expect((await postForm(app, `/sizing/bands/${band.id}`, form)).status).toBe(303);
    expect((await bands()).find((each) => each.id === band.id)).toMatchObject({ fromMm: 220, toMm: 240 });
    const second = await postForm(app, `/sizing/bands/${band.id}`, { ...form, to: '25' });
    expect(second.status).toBe(409);
    const page = await second.text();
    // The page's own label and unit, not the column's.
    expect(page.replace(/<[^>]*>/g, '|')).toMatch(/\|To\|+24 cm\|+25 cm\|/);
    expect(page).toContain('Save mine over it');
    expect(page).toContain(`name="version" value="${band.version + 1}"`);
    expect((await bands()).find((each) => each.id === band.id)).toMatchObject({ toMm: 240 });
  });

  it('removes a band that no order uses, and keeps one that an order does', async () => {
    const rows = await readWorkshop(workshop);
    const used = rows.lines.find((line) => line.bandId !== null)!.bandId!;
    const free = rows.bands.find((band) => !rows.lines.some((line) => line.bandId === band.id))!;
    const version = (id: number) => String(rows.bands.find((band) => band.id === id)!.version);
    expect((await postForm(app, `/sizing/bands/${free.id}/remove`, { version: version(free.id) })).status).toBe(303);
    expect((await postForm(app, `/sizing/bands/${used}/remove`, { version: version(used) })).status).toBe(409);
    const left = await bands();
    expect(left.some((band) => band.id === free.id)).toBe(false);
    expect(left.some((band) => band.id === used)).toBe(true);
  });

  it('answers 404 for a band that is not there', async () => {
    expect((await app.request('/sizing/bands/9999')).status).toBe(404);
  });
});
