import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readState } from '#db/stores/workshop.ts';
import { buyElsewhere } from '#flows/buying/buy-elsewhere.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
const oatId = 2;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
  await addSeason(workshop);
});
afterEach(() => workshop.discard());

const page = async (path: string) =>
  (await (await app.request(path)).text()).replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/[\s\u00a0]+/g, ' ');

/** 100 g of Oat without a lot number: given, bought at the season's shop, or from nobody knows where. */
const ways = {
  given: () =>
    workshop.store.write('test: given', (tx) =>
      addLot(tx, [100_000], { yarnColourId: oatId, dyeLot: null, donor: 'Quillmoor', gotDay: '2026-10-27' }),
    ),
  bought: async () => {
    const bought = { yarnColourId: oatId, ballMg: 100_000, ballsPerPack: 1, packs: 1, priceCents: 900 };
    const entry = { ...bought, supplierId: 1, shippingCents: 0, dyeLot: null, day: '2026-11-03' };
    expect((await buyElsewhere(workshop, entry)).ok).toBe(true);
  },
  unknown: () =>
    workshop.store.write('test: unknown', (tx) =>
      addLot(tx, [100_000], { yarnColourId: oatId, dyeLot: null, gotDay: '2025-11-04' }),
    ),
} as const;
// 27 October and 3 November 2026 are Tuesdays, 4 November 2025 is one too.
const words = {
  given: 'no lot number, from Quillmoor, Tue 27 Oct',
  bought: 'no lot number, from Quay Yarns, Tue 3 Nov',
  unknown: 'no lot number, came Tue 4 Nov 2025',
} as const;

describe('a lot without a number', () => {
  it('is told from others of its colour by where it came from and when, among the dye lots', async () => {
    for (const way of Object.values(ways)) await way();
    const text = await page('/buying/dye-lots');
    for (const each of Object.values(words)) expect(text).toContain(each);
  });

  it.each(['given', 'bought', 'unknown'] as const)('%s, is so named before the start and to weigh out', async (way) => {
    await ways[way]();
    const looked = await page('/batch/start');
    expect(looked).toContain(`Oat Fell Bulky ${words[way]}`);
    expect(looked).toMatch(new RegExp(`\\d+ g Oat ${words[way]}`));
    const { revision } = await workshop.store.read((db) => readState(db));
    await postForm(app, '/batch/start', { name: 'Winter', order: ['1', '2'], revision: String(revision) });
    expect(await page('/batch/started/1')).toMatch(new RegExp(`\\d+ g Oat ${words[way]}`));
  });

  it('with a number goes by its number alone', async () => {
    await workshop.store.write('test: numbered', (tx) =>
      addLot(tx, [100_000], { yarnColourId: oatId, dyeLot: '31', donor: 'Quillmoor' }),
    );
    expect(await page('/batch/start')).toMatch(/\d+ g Oat lot 31(?! ?,)/);
  });
});
