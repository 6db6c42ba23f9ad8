import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCurrentPairColours, listCurrentPairs } from '#db/stores/batch.ts';
import { changeOrder } from '#db/stores/orders.ts';
import { listBalls, listReservations, moveBall } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { unuseYarn, useYarn } from '#flows/batch/allot-yarn.ts';
import { giveOutYarn } from '#flows/batch/give-out-yarn.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { readPairs } from '#flows/batch/started-pairs.ts';
import { orderBasket } from '#flows/buying/order-basket.ts';
import { readDyeLots } from '#flows/buying/read-dye-lots.ts';
import { findPurchaseView } from '#flows/buying/read-purchases.ts';
import { saveOffer } from '#flows/buying/save-prices.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, addOrder, addOutlet, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
const oatId = 2;
let workshop: TestWorkshop;
let giftOrderId: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  const season = await addSeason(workshop);
  giftOrderId = await workshop.store.write('test: a gift and rests of two lots', async (tx) => {
    const gifts = await addOutlet(tx, { kind: 'gift', rank: 2 });
    for (const grams of [60, 70]) await addLot(tx, [grams * 1000], { yarnColourId: oatId, dyeLot: `oat ${grams}` });
    // Only the gift is in Oat whole; Hilda's cuff goes with it.
    const lines = [lineOf(season.style.id, oatId, { ...season.inColours(oatId, oatId), sizeLabel: '36' })];
    return (await addOrder(tx, { outletId: gifts.id, dueDay: '2026-12-20', lines })).id;
  });
});
afterEach(() => workshop.discard());

const plan = () => readPlan(workshop, now());
const letMix = () => workshop.store.write('test', (tx) => setSetting(tx, 'mixLotsInGifts', true));
const mixedParts = async () => [...(await plan()).plan.placed.mixedOf.values()];
const balls = async () =>
  (await workshop.store.read((db) => listBalls(db))).filter(({ lotId }) => lotId > 1).map(({ massMg }) => massMg);

describe('rests of several lots', () => {
  it('are for nobody while the setting is off', async () => {
    expect(await mixedParts()).toEqual([]);
    expect((await plan()).plan.placed.toBuy.map(({ yarnColourId }) => yarnColourId)).toContain(oatId);
    // The page says by how much the fuller lot falls short of the gift.
    const oat = readDyeLots(await plan()).find(({ colour }) => colour.id === oatId)!;
    const used = oat.lots.find(({ lot }) => lot === null)!;
    const gift = used.pairs.find(({ orderId }) => orderId === giftOrderId)!;
    const fullest = oat.lots.find(({ lot }) => lot?.name?.dyeLot === 'oat 70')!;
    expect(fullest.shortG).toBeCloseTo(gift.grams - (70 - fullest.usedG), 6);
  });

  it('go to a pair to give when it is on, and to no other', async () => {
    await letMix();
    const { plan: made } = await plan();
    expect([...made.placed.mixedOf.keys()]).toEqual([`line-3-1/${oatId}`]);
    const [parts] = await mixedParts();
    expect(parts).toHaveLength(2);
    expect(made.placed.toBuy.map(({ yarnColourId }) => yarnColourId)).not.toContain(oatId);
    const dyeLots = readDyeLots(await plan()).find(({ colour }) => colour.id === oatId)!;
    expect(dyeLots.mixing).toBe(1);
    for (const { usedG, freeG } of dyeLots.lots) expect(usedG).toBeLessThanOrEqual(freeG + 1e-9);
  });

  it('cost what they cost by weight, before the pair is begun and after', async () => {
    await letMix();
    const current = await plan();
    const [parts] = await mixedParts();
    // Nine euros were paid for each: 15 cents a gram for the 60 g, 12.857 for the 70 g.
    const centsPerG = new Map([
      ['oat 60', 900 / 60],
      ['oat 70', 900 / 70],
    ]);
    const dyeLotOf = new Map(current.rows.lots.map(({ id, dyeLot }) => [id, dyeLot!]));
    const mixedMg = parts!.reduce((sum, { mg }) => sum + mg, 0);
    const cents = parts!.reduce((sum, { lotId, mg }) => sum + mg * centsPerG.get(dyeLotOf.get(lotId)!)!, 0) / mixedMg;
    const gift = current.plan.wanted.pairs.find(({ orderId }) => orderId === giftOrderId)!;
    const grams = current.plan.handwork.yarnOf(gift.kind, 1).find(({ yarnColourId }) => yarnColourId === oatId)!.grams;
    const yarnCents = async (key: string) =>
      (await plan()).plan.costs.pairs.find((pair) => pair.key === key)!.cost.yarnCents;
    expect(Math.abs((await yarnCents(gift.key)) - grams * cents)).toBeLessThanOrEqual(0.5);
    const wish = { name: 'Gifts', orderIds: [giftOrderId], withSpares: false, revision: current.rows.revision };
    expect((await startBatch(workshop, current, wish)).ok).toBe(true);
    const begun = (await plan()).plan.wanted.pairs.find(({ started }) => started !== null)!;
    expect(Math.abs((await yarnCents(begun.key)) - grams * cents)).toBeLessThanOrEqual(0.5);
  });

  it('may be on their way: the pair then waits for that parcel', async () => {
    await letMix();
    const gone = (await workshop.store.read((db) => listBalls(db))).find(({ massMg }) => massMg === 70_000)!;
    const lost = { ballId: gone.id, changeMg: -70_000, reason: 'lost' as const, day: '2026-11-25' };
    await workshop.store.write('test: lost', (tx) => moveBall(tx, lost));
    const pack = { ballMg: 70_000, ballsPerPack: 1, priceCents: 600, stockPacks: null };
    await saveOffer(workshop, 2, pack, undefined);
    const days = { orderedDay: '2026-11-25', expectedDay: '2026-11-29' };
    const packs = [{ offerId: 2, packs: 1, priceCents: 600 }];
    const id = await orderBasket(workshop, { supplierId: 1, ...days, shippingCents: 0, offCents: 0, packs });
    expect(await mixedParts()).toHaveLength(1);
    const { waitingOrders } = findPurchaseView(await plan(), id);
    expect(waitingOrders.map((order) => order.id)).toContain(giftOrderId);
  });

  it('are given out to a pair that was begun without its yarn', async () => {
    const current = await plan();
    const wish = { name: 'Gifts', orderIds: [giftOrderId], withSpares: false, revision: current.rows.revision };
    expect((await startBatch(workshop, current, wish)).ok).toBe(true);
    const giftColours = async () =>
      (await workshop.store.read((db) => listCurrentPairColours(db))).filter((each) => each.yarnColourId === oatId);
    const waiting = await giftColours();
    expect(waiting.map(({ lotId }) => lotId)).toEqual([null, null]);
    // While the setting is off a gift matches like any other pair.
    expect(await giveOutYarn(workshop, now())).toBe(0);
    await letMix();
    expect((await plan()).plan.placed.toBuy.map(({ yarnColourId }) => yarnColourId)).not.toContain(oatId);
    expect(await giveOutYarn(workshop, now())).toBe(1);
    const given = await giftColours();
    const sumOf = (rows: typeof given, role: string) =>
      rows.filter((row) => row.role === role).reduce((sum, { allottedMg }) => sum + allottedMg, 0);
    expect(new Set(given.map(({ lotId }) => lotId)).size).toBe(2);
    for (const role of ['foot', 'cuff']) expect(sumOf(given, role)).toBe(sumOf(waiting, role));
    const reserved = await workshop.store.read((db) => listReservations(db));
    for (const { lotId, massMg } of reserved) {
      const ofLot = given.filter((row) => row.lotId === lotId).reduce((sum, { allottedMg }) => sum + allottedMg, 0);
      expect(massMg).toBe(ofLot);
    }
    expect(await giveOutYarn(workshop, now())).toBe(0);
  });

  it('are not mixed for a pair that was ordered', async () => {
    await letMix();
    await workshop.store.write('test: another outlet', async (tx) => {
      const direct = await addOutlet(tx, { kind: 'order', rank: 3 });
      await changeOrder(tx, giftOrderId, { outletId: direct.id });
    });
    const current = await plan();
    const wish = { name: 'Orders', orderIds: [giftOrderId], withSpares: false, revision: current.rows.revision };
    expect((await startBatch(workshop, current, wish)).ok).toBe(true);
    expect(await giveOutYarn(workshop, now())).toBe(0);
  });

  it('are frozen as a row for each lot, reserved, used in their share, and given back', async () => {
    await letMix();
    const current = await plan();
    const [parts] = await mixedParts();
    const wish = { name: 'Gifts', orderIds: [giftOrderId], withSpares: false, revision: current.rows.revision };
    expect((await startBatch(workshop, current, wish)).ok).toBe(true);
    const { pairs, colours, reserved } = await workshop.store.read(async (db) => ({
      pairs: await listCurrentPairs(db),
      colours: await listCurrentPairColours(db),
      reserved: await listReservations(db),
    }));
    const byLot = new Map<number, number>();
    for (const { lotId, allottedMg } of colours) byLot.set(lotId!, (byLot.get(lotId!) ?? 0) + allottedMg);
    expect([...byLot].sort()).toEqual(parts!.map(({ lotId, mg }) => [lotId, mg]).sort());
    expect(reserved.map(({ lotId, massMg }) => [lotId, massMg]).sort()).toEqual([...byLot].sort());
    // One strand from two lots is one strand: the kind is what it was.
    const { rows, plan: after } = await plan();
    expect(readPairs(rows)[0]!.kind!.key).toBe(pairs[0]!.kind);
    expect(after.wanted.pairs.find(({ started }) => started !== null)!.started!.heldColourIds).toEqual([oatId]);
    const before = await balls();
    const own = colours.filter(({ pairId }) => pairId === pairs[0]!.id);
    await workshop.store.write('test: used', (tx) => useYarn(tx, pairs[0]!, own, '2026-12-01'));
    const left = await balls();
    expect(left.every((mg, i) => mg < before[i]!)).toBe(true);
    const likelyMg =
      after.handwork.yarnOf(readPairs(rows)[0]!.kind!, 1).find((yarn) => yarn.yarnColourId === oatId)!.grams * 1000;
    const usedMg = before.reduce((sum, mg) => sum + mg, 0) - left.reduce((sum, mg) => sum + mg, 0);
    expect(usedMg).toBe(Math.round(likelyMg));
    await workshop.store.write('test: not used', (tx) => unuseYarn(tx, pairs[0]!, own, '2026-12-01'));
    expect(await balls()).toEqual(before);
  });
});
