import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeOffer, listPurchases } from '#db/stores/buying.ts';
import { listLots } from '#db/stores/shelf.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let lotsBefore: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
  lotsBefore = await lotCount();
});
afterEach(() => workshop.discard());

const lotCount = async () => (await workshop.store.read((db) => listLots(db))).length;
const fieldOf = (html: string, name: string) =>
  new RegExp(`id="field-${name}-error"[^>]*>([^<]*)<`).exec(html)?.[1] ?? '';

// Balls of 100 kg each: 11 packs of one are 1,100 kg.
const makeBallsHuge = () =>
  workshop.store.write('test', (tx) => changeOffer(tx, 1, { ballMg: 100_000_000, ballsPerPack: 1 }));

describe('packs that are more than a lot can hold', () => {
  it('are refused at their count on the page of what is here, and nothing of it stays', async () => {
    await makeBallsHuge();
    const fields = {
      shop: '1',
      list: 'safe',
      all: 'yes',
      'packs-1': '11',
      'price-1': '8.90',
      'lot-1': '4471',
      day: '2026-11-25',
    };
    const response = await postForm(app, '/buying/arrived', fields);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'packs-1')).toContain('A lot holds at most 1,000 kg; this is 1,100 kg.');
    expect(html).toContain('value="4471"');
    expect(await lotCount()).toBe(lotsBefore);
    expect(await workshop.store.read((db) => listPurchases(db))).toEqual([]);
  });

  it('are refused at their count when a purchase comes, and can come in parts', async () => {
    await makeBallsHuge();
    const ordered = { shop: '1', list: 'safe', 'packs-1': '11', 'price-1': '8.90', orderedDay: '2026-11-25' };
    expect((await postForm(app, '/buying/purchases/new', ordered)).status).toBe(303);
    const come = (packs: string) =>
      postForm(app, '/buying/purchases/1/arrived', { 'packs-1': packs, 'lot-1': '4471', day: '2026-11-25' });
    const refused = await come('11');
    expect(refused.status).toBe(422);
    expect(fieldOf(await refused.text(), 'packs-1')).toContain('A lot holds at most 1,000 kg');
    expect(await lotCount()).toBe(lotsBefore);
    expect((await come('6')).status).toBe(303);
    expect((await come('5')).status).toBe(303);
    expect(await lotCount()).toBe(lotsBefore + 2);
  });

  it.each([
    // 1000 packs of 1000 balls.
    [{ packs: '1000', ballsPerPack: '1000', ballG: '1' }, 'A lot holds at most 1,000 balls; this is 1,000,000.'],
    // 20 balls of 100 kg.
    [{ packs: '20', ballsPerPack: '1', ballG: '100000' }, 'A lot holds at most 1,000 kg; this is 2,000 kg.'],
    // 100 balls at 90 million each: 9 thousand million, where one lot may have cost a thousand million.
    [{ packs: '100', ballsPerPack: '1', ballG: '50', price: '90000000' }, 'More was paid than can be written down'],
  ])('are refused at their count when bought elsewhere: %o', async (wrong, sentence) => {
    for (const shop of ['', '1']) {
      const fields = { colour: '1', shop, price: '7.50', day: '2026-11-25', dyeLot: '31', ...wrong };
      const response = await postForm(app, '/buying/elsewhere', fields);
      expect(response.status).toBe(422);
      const html = await response.text();
      expect(fieldOf(html, 'packs')).toContain(sentence);
      expect(html).toContain('value="31"');
    }
    expect(await lotCount()).toBe(lotsBefore);
  });
});
