import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPairEvents, listPairs } from '#db/stores/batch.ts';
import { listPlacements, listShopPayments } from '#db/stores/placements.ts';
import { readState } from '#db/stores/workshop.ts';
import { addStock } from '#flows/batch/add-stock.ts';
import { addShopPayment, countBack, placePairs, uncount } from '#flows/pricing/placements.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOutlet, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
const day = '2026-11-25';
let workshop: TestWorkshop;
let shopId: number;
let ids: readonly number[];

beforeEach(async () => {
  workshop = await openTestWorkshop();
  const season = await addSeason(workshop);
  shopId = (
    await workshop.store.write('test: a shop', (tx) =>
      addOutlet(tx, { kind: 'shop', rank: 2, terms: 'sale or return', shopShareRatio: 0.4 }),
    )
  ).id;
  const added = await addStock(workshop, await readPlan(workshop, now), {
    styleId: season.style.id,
    person: 'woman',
    system: 'EU',
    label: '38',
    fit: 'usual',
    colours: { foot: [season.heather.id], cuff: [season.heather.id] },
    cuffHeightMm: null,
    quality: 'good',
    quantity: 2,
  });
  if (!added.ok) throw new Error('no stock');
  ids = added.value;
});
afterEach(() => workshop.discard());

const stored = () =>
  workshop.store.read(async (db) => ({
    state: await readState(db),
    placements: await listPlacements(db),
    payments: await listShopPayments(db),
    pairs: await listPairs(db),
    events: await listPairEvents(db),
  }));
const entry = (pairIds: readonly number[]) => ({
  day,
  pairs: pairIds.map((pairId) => ({ pairId, priceCents: 4500, version: undefined })),
});
const counted = (placementIds: readonly number[], what: 'sold' | 'back' = 'sold') => ({
  day,
  pairs: placementIds.map((placementId) => ({ placementId, what, version: undefined })),
});

describe('placePairs', () => {
  it('leaves nothing behind when the last pair is not here', async () => {
    const before = await stored();
    await expect(placePairs(workshop, shopId, entry([...ids, 99]))).rejects.toThrow('not here any more');
    expect(await stored()).toEqual(before);
  });

  it('places no pair twice, and none that was changed since it was shown', async () => {
    await placePairs(workshop, shopId, entry([ids[0]!]));
    const before = await stored();
    await expect(placePairs(workshop, shopId, entry(ids))).rejects.toThrow('not here any more');
    const old = { day, pairs: [{ pairId: ids[1]!, priceCents: 4500, version: 7 }] };
    await expect(placePairs(workshop, shopId, old)).rejects.toThrow('Somebody else changed this');
    expect(await stored()).toEqual(before);
  });
});

describe('countBack', () => {
  it('leaves nothing behind when one of them was counted before', async () => {
    await placePairs(workshop, shopId, entry(ids));
    const [first, second] = (await stored()).placements;
    await countBack(workshop, shopId, counted([second!.id], 'back'));
    const before = await stored();
    await expect(countBack(workshop, shopId, counted([first!.id, second!.id]))).rejects.toThrow('counted already');
    expect(await stored()).toEqual(before);
  });

  it('refuses a day before the pair was placed', async () => {
    await placePairs(workshop, shopId, entry(ids));
    const [first] = (await stored()).placements;
    const early = { ...counted([first!.id]), day: '2026-11-24' };
    await expect(countBack(workshop, shopId, early)).rejects.toThrow('before the day it was placed');
  });
});

describe('uncount', () => {
  it('refuses a pair that went on since', async () => {
    await placePairs(workshop, shopId, entry([ids[0]!]));
    const [first] = (await stored()).placements;
    await countBack(workshop, shopId, counted([first!.id], 'back'));
    await placePairs(workshop, shopId, entry([ids[0]!]));
    const before = await stored();
    await expect(uncount(workshop, shopId, first!.id, undefined)).rejects.toThrow('gone on since');
    expect(await stored()).toEqual(before);
  });
});

describe('addShopPayment', () => {
  it('is for a shop alone', async () => {
    const before = await stored();
    await expect(addShopPayment(workshop, 1, { day, cents: 500 })).rejects.toThrow('not here');
    expect(await stored()).toEqual(before);
  });
});
