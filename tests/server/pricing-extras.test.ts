import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listExtras } from '#db/stores/orders.ts';
import { listPostageBands } from '#db/stores/pricing.ts';
import { readState, setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { boxOf, postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T10:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const post = (path: string, fields: Record<string, string> = {}) => postForm(app, path, fields);
const revision = async () => (await workshop.store.read((db) => readState(db))).revision;

describe('usual extras', () => {
  const wrap = { name: 'Gift wrap', price: '2.50', minutes: '5', material: '0.60' };
  const extrasNow = () => workshop.store.read((db) => listExtras(db));

  it('say what they are for while there is none', async () => {
    expect(await textAt('/pricing/extras')).toContain('then added with one press');
  });

  it('are added, shown, changed and taken away', async () => {
    expect((await post('/pricing/extras', wrap)).status).toBe(303);
    expect(await extrasNow()).toMatchObject([{ name: 'Gift wrap', cents: 250, minutes: 5, materialCents: 60 }]);
    expect(await textAt('/pricing/extras')).toContain('href="/pricing/extras/1"');
    expect(await textAt('/pricing/extras/1')).toMatch(/name="price"[^>]*value="2.50"/);
    const change = { ...wrap, price: '3', minutes: '', material: '', version: '1' };
    expect((await post('/pricing/extras/1', change)).status).toBe(303);
    expect(await extrasNow()).toMatchObject([{ cents: 300, minutes: 0, materialCents: 0, version: 2 }]);
    expect((await post('/pricing/extras/1/remove', { version: '2' })).status).toBe(303);
    expect(await extrasNow()).toEqual([]);
  });

  it.each([
    ['name', '', 'Enter what it is, like Gift wrap'],
    ['name', 'x'.repeat(81), 'Use at most 80 letters'],
    ['price', '', 'Enter what it costs the customer'],
    ['minutes', 'five', 'Enter the minutes it takes'],
    ['material', '-1', 'Enter what it is made of costs you'],
  ])('refuse %s “%s” and keep the rest', async (field, value, sentence) => {
    await post('/pricing/extras', { ...wrap, name: 'Card' });
    for (const path of ['/pricing/extras', '/pricing/extras/1']) {
      const before = await revision();
      const answer = await post(path, { ...wrap, [field]: value, version: '1' });
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain(sentence);
      if (field !== 'name') expect(page).toMatch(/name="name"[^>]*value="Gift wrap"/);
      expect(await revision()).toBe(before);
    }
  });

  it('have names of their own', async () => {
    await post('/pricing/extras', wrap);
    const answer = await post('/pricing/extras', { ...wrap, name: 'gift WRAP' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('There is “Gift wrap” already');
    expect((await post('/pricing/extras/1', { ...wrap, version: '1' })).status).toBe(303);
  });

  it('say when one is gone, or somebody else was first', async () => {
    await post('/pricing/extras', wrap);
    expect((await app.request('/pricing/extras/7')).status).toBe(404);
    expect((await post('/pricing/extras/7', { ...wrap, name: 'Card' })).status).toBe(404);
    const answer = await post('/pricing/extras/1', { ...wrap, price: '9', version: '5' });
    expect(answer.status).toBe(409);
    expect((await extrasNow())[0]!.cents).toBe(250);
    expect((await post('/pricing/extras/1/remove', { version: '5' })).status).toBe(409);
    expect(await extrasNow()).toHaveLength(1);
  });
});

describe('what the post asks', () => {
  const band = { name: 'Inland', upTo: '1000', price: '4.95', days: '2' };
  const bandsNow = () => workshop.store.read((db) => listPostageBands(db));

  it('is added, shown, changed and taken away', async () => {
    expect(await textAt('/pricing/postage')).toContain('Copy the prices of your post here');
    expect((await post('/pricing/postage', band)).status).toBe(303);
    expect(await bandsNow()).toMatchObject([{ name: 'Inland', upToG: 1000, cents: 495, days: 2 }]);
    expect(await textAt('/pricing/postage')).toMatch(/Inland, up to 1,000\sg/);
    expect(await textAt('/pricing/postage/1')).toMatch(/name="upTo"[^>]*value="1000"/);
    expect((await post('/pricing/postage/1', { ...band, upTo: '2 kg', version: '1' })).status).toBe(303);
    expect(await bandsNow()).toMatchObject([{ upToG: 2000, version: 2 }]);
    expect((await post('/pricing/postage/1/remove', { version: '2' })).status).toBe(303);
    expect(await bandsNow()).toEqual([]);
  });

  it.each([
    ['name', '', 'Enter where it goes, like Inland'],
    ['upTo', '0', 'Enter the grams up to which the price holds'],
    ['upTo', 'heavy', 'Enter the grams up to which the price holds'],
    ['price', '', 'Enter what the post asks, like 4.95'],
    ['days', '', 'Enter the days in the post, like 3'],
    ['days', '1.5', 'Enter the days in the post, like 3'],
    ['days', '400', 'Enter the days in the post, like 3'],
  ])('refuses %s “%s” and keeps the rest', async (field, value, sentence) => {
    await post('/pricing/postage', { ...band, upTo: '50' });
    for (const path of ['/pricing/postage', '/pricing/postage/1']) {
      const before = await revision();
      const answer = await post(path, { ...band, name: 'Abroad', [field]: value, version: '1' });
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain(sentence);
      if (field !== 'name') expect(page).toMatch(/name="name"[^>]*value="Abroad"/);
      expect(await revision()).toBe(before);
    }
  });

  it('has one price for a weight and a place, whatever the letters', async () => {
    await post('/pricing/postage', band);
    const answer = await post('/pricing/postage', { ...band, name: 'inland', price: '5' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('There is a price for Inland up to this weight already');
    await post('/pricing/postage', { ...band, name: 'INLAND', upTo: '2000' });
    expect((await bandsNow()).map(({ name }) => name)).toEqual(['Inland', 'Inland']);
  });

  it('is asked in ounces where the workshop weighs in them, and kept when it is left as it was shown', async () => {
    await post('/pricing/postage', band);
    await workshop.store.write('test', (tx) => setSetting(tx, 'unitSystem', 'imperial'));
    const page = await textAt('/pricing/postage/1');
    // 1000 g / 28.349523125 = 35.274 oz.
    expect(page).toMatch(/name="upTo"[^>]*value="35.274"/);
    await post('/pricing/postage/1', { ...band, upTo: '35.274', units: 'imperial', version: '1' });
    expect((await bandsNow())[0]!.upToG).toBe(1000);
    // 8 oz are 226.8 g, 2.5 lb 1133.98 g.
    for (const [id, upTo, grams] of [
      [2, '8', 226.8],
      [3, '2.5 lb', 1133.98],
    ] as const) {
      await post('/pricing/postage', { ...band, upTo, units: 'imperial' });
      const stored = (await bandsNow()).find((each) => each.id === id)!;
      expect(stored.upToG).toBeCloseTo(grams, 2);
    }
    expect(boxOf(await textAt('/pricing/postage/2'), 'upTo')).toBe('8');
    expect(boxOf(await textAt('/pricing/postage/3'), 'upTo')).toBe('40');
    expect((await textAt('/pricing/postage')).replaceAll('\u00a0', ' ')).toContain('Inland, up to 8.00 oz');
  });

  it('says when one is gone, or somebody else was first', async () => {
    await post('/pricing/postage', band);
    expect((await app.request('/pricing/postage/7')).status).toBe(404);
    expect((await post('/pricing/postage/7', { ...band, upTo: '70' })).status).toBe(404);
    expect((await post('/pricing/postage/1', { ...band, price: '9', version: '5' })).status).toBe(409);
    expect((await post('/pricing/postage/1/remove', { version: '5' })).status).toBe(409);
    expect((await bandsNow())[0]!.cents).toBe(495);
  });
});
