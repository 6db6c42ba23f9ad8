import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCurrentPairColours } from '#db/stores/batch.ts';
import { listPurchaseLines } from '#db/stores/buying.ts';
import { listLots, listReservations } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { orderBasket } from '#flows/buying/order-basket.ts';
import { readDyeLots } from '#flows/buying/read-dye-lots.ts';
import { receivePurchase } from '#flows/buying/receive-purchase.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, addOffer, addOrder, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let season: Awaited<ReturnType<typeof addSeason>>;
beforeEach(async () => {
  now = new Date('2026-11-25T12:00:00Z');
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
});
afterEach(() => workshop.discard());

const plan = () => readPlan(workshop, now);
const toBuy = async () => (await plan()).plan.placed.toBuy.map(({ yarnColourId, safe }) => [yarnColourId, safe.needMg]);

/** Orders the chosen list exactly as it is shown. */
async function orderList(): Promise<number[]> {
  const { plan: made } = await plan();
  const ids: number[] = [];
  for (const { supplierId, lines, shippingCents, offCents } of made.lists.chosen.baskets) {
    const packs = lines.map(({ offerId, packs: count, goodsCents }) => {
      return { offerId, packs: count, priceCents: goodsCents / count };
    });
    const days = { orderedDay: '2026-11-25', expectedDay: '2026-11-29' };
    ids.push(await orderBasket(workshop, { supplierId, shippingCents, offCents, packs, ...days }));
  }
  return ids;
}

async function comeHome(ids: readonly number[]): Promise<number> {
  now = new Date('2026-11-29T12:00:00Z');
  const lines = await workshop.store.read((db) => listPurchaseLines(db));
  let helped = 0;
  for (const id of ids) {
    const packs = lines
      .filter(({ purchaseId }) => purchaseId === id)
      .map(({ id: lineId, packs: count }) => ({ lineId, packs: count, dyeLot: null }));
    const come = await receivePurchase(workshop, id, { day: '2026-11-29', packs }, undefined);
    if (come.ok) helped += come.value.helpedPairs;
    expect(come.ok).toBe(true);
  }
  return helped;
}

const start = async (orderIds: readonly number[]) => {
  const current = await plan();
  const wish = { name: 'Winter', orderIds, withSpares: true, revision: current.rows.revision };
  expect((await startBatch(workshop, current, wish)).ok).toBe(true);
};

describe('the chosen list, ordered exactly as it is shown', () => {
  // With packs of 25 and of 100 g the list comes close to what is needed, and a colour of two sizes.
  beforeEach(() =>
    workshop.store.write('test: more orders, small packs', async (tx) => {
      for (const { id } of [season.heather, season.oat])
        await addOffer(tx, { supplierId: season.shop.id, yarnColourId: id, ballMg: 25_000, priceCents: 250 });
      for (const sizeLabel of ['36', '39', '42']) {
        for (const [foot, cuff] of [
          [season.heather.id, season.oat.id],
          [season.oat.id, season.oat.id],
        ] as const)
          await addOrder(tx, {
            lines: [lineOf(season.style.id, foot, { sizeLabel, ...season.inColours(foot, cuff) })],
          });
      }
    }),
  );

  for (const buyAt of ['safe', 'likely'] as const) {
    it(`leaves nothing to buy on its way, here, and as pairs are begun: the ${buyAt} list`, async () => {
      await workshop.store.write('test', (tx) => setSetting(tx, 'buyAt', buyAt));
      expect((await toBuy()).length).toBe(2);
      const ids = await orderList();
      const lines = await workshop.store.read((db) => listPurchaseLines(db));
      expect(lines.length).toBeGreaterThan(2); // some colour of two pack sizes
      expect(await toBuy()).toEqual([]);
      await comeHome(ids);
      expect(await toBuy()).toEqual([]);
      const orderIds = [...new Set((await plan()).plan.wanted.pairs.map(({ orderId }) => orderId!))];
      for (const orderId of orderIds) {
        await start([orderId]);
        expect(await toBuy()).toEqual([]);
      }
      const waiting = (await workshop.store.read((db) => listCurrentPairColours(db))).filter(
        ({ lotId }) => lotId === null,
      );
      expect(waiting).toEqual([]);
    });
  }

  it('is enough for pairs that were begun without yarn, whichever list the plan counts with by then', async () => {
    await start((await plan()).rows.orders.map(({ id }) => id));
    await workshop.store.write('test', (tx) => setSetting(tx, 'buyAt', 'likely'));
    const ids = await orderList();
    expect(await comeHome(ids)).toBeGreaterThan(0);
    const colours = await workshop.store.read((db) => listCurrentPairColours(db));
    expect(colours.filter(({ lotId }) => lotId === null)).toEqual([]);
    expect(await toBuy()).toEqual([]);
  });
});

describe('a dye lot in two rows of the shelf', () => {
  // EU 38 in one colour takes some 110 g to be safe: neither row of 60 g has that, both together have.
  const addRows = (...numbers: readonly (string | null)[]) =>
    workshop.store.write('test: rows', async (tx) => {
      for (const dyeLot of numbers) await addLot(tx, [60_000], { yarnColourId: season.oat.id, dyeLot });
      const oat = lineOf(season.style.id, season.oat.id, season.inColours(season.oat.id, season.oat.id));
      return (await addOrder(tx, { dueDay: '2026-12-01', lines: [oat] })).id;
    });
  const lackOat = async () => (await plan()).plan.placed.toBuy.find((each) => each.yarnColourId === season.oat.id);

  it('is one lot: a pair takes from both, and they are weighed out as they are', async () => {
    const orderId = await addRows('A7', ' a7');
    const { plan: made } = await plan();
    const parts = made.placed.mixedOf.get(`line-3-1/${season.oat.id}`)!;
    expect(parts.map(({ mg }) => mg)[0]).toBe(60_000);
    expect(readDyeLots(await plan()).find(({ colour }) => colour.id === season.oat.id)!.mixing).toBe(0);
    await start([orderId]);
    const colours = await workshop.store.read((db) => listCurrentPairColours(db));
    const lots = await workshop.store.read((db) => listLots(db));
    const oatLots = lots.filter(({ yarnColourId }) => yarnColourId === season.oat.id).map(({ id }) => id);
    expect(new Set(colours.map(({ lotId }) => lotId))).toEqual(new Set(oatLots));
    const held = await workshop.store.read((db) => listReservations(db));
    const allottedMg = colours.reduce((sum, colour) => sum + colour.allottedMg, 0);
    expect(held.reduce((sum, { massMg }) => sum + massMg, 0)).toBe(allottedMg);
    for (const { massMg } of held) expect(massMg).toBeLessThanOrEqual(60_000);
  });

  it('is two where the numbers differ, and where there is none', async () => {
    await addRows('A7', 'A8');
    expect((await lackOat())!.safe.needMg).toBeGreaterThan(105_000);
    await addRows(null, null);
    expect((await lackOat())!.safe.needMg).toBeGreaterThan(2 * 105_000);
  });
});
