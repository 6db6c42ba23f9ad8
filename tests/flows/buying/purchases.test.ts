import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { listPurchaseLines, listPurchases } from '#db/stores/buying.ts';
import { listBalls, listLots } from '#db/stores/shelf.ts';
import { pairsToStart, startBatch } from '#flows/batch/start-batch.ts';
import { buyElsewhere } from '#flows/buying/buy-elsewhere.ts';
import { cancelOrdered, changeOrdered, orderBasket } from '#flows/buying/order-basket.ts';
import { findPurchaseView, readPurchases } from '#flows/buying/read-purchases.ts';
import { receivePurchase } from '#flows/buying/receive-purchase.ts';
import { saveOffer } from '#flows/buying/save-prices.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
});
afterEach(() => workshop.discard());

const stored = () =>
  workshop.store.read(async (db) => ({
    lots: await listLots(db),
    balls: await listBalls(db),
    purchases: await listPurchases(db),
    lines: await listPurchaseLines(db),
  }));

const basket = {
  supplierId: 1,
  orderedDay: '2026-11-25',
  expectedDay: '2026-11-29',
  shippingCents: 451,
  offCents: 0,
  packs: [
    { offerId: 1, packs: 3, priceCents: 890 },
    { offerId: 2, packs: 2, priceCents: 910 },
  ],
};
// Goods 2670 and 1820 of 4490; postage 451 x 2670/4490 = 268.19 and 182.81: 268 and 183.
const landed = [2938, 2003];
const paidSince = async () => (await stored()).lots.filter(({ id }) => id > 1).map(({ paidCents }) => paidCents);

describe('an ordered basket', () => {
  it('is written down with the prices of that day and counts as shelf from its day', async () => {
    const before = (await readPlan(workshop, now())).plan;
    expect(before.placed.toBuy.length).toBeGreaterThan(0);
    const id = await orderBasket(workshop, basket);
    const { purchases, lines, lots } = await stored();
    expect(purchases).toMatchObject([{ id, state: 'ordered', expectedDay: '2026-11-29', shippingCents: 451 }]);
    expect(lines.map(({ packs, arrivedPacks, priceCents }) => [packs, arrivedPacks, priceCents])).toEqual([
      [3, 0, 890],
      [2, 0, 910],
    ]);
    expect(lots).toHaveLength(1);
    const { plan, input } = await readPlan(workshop, now());
    expect(input.shelf.filter(({ id: lotId }) => isOnWayLot(lotId)).map((lot) => [lot.freeMg, lot.fromDay])).toEqual([
      [300_000, '2026-11-29'],
      [200_000, '2026-11-29'],
    ]);
    // The three pairs want some 330 g of Heather and Oat; 200 g are here and 500 g to come: no second order.
    expect(plan.placed.toBuy).toEqual([]);
    expect(plan.lists.chosen.baskets).toEqual([]);
    // Hilda's cuff is of Oat, which is on its way alone.
    const hilda = plan.wanted.pairs.find(
      ({ kind }) => Object.keys(kind.colours).length === 2 && kind.colours.cuff![0] === 2,
    )!;
    expect(plan.placed.arrivalDay(hilda.key, plan.lists.arrivals, '2026-11-25')).toBe('2026-11-29');
    const week = plan.weeks.find(({ pairKey }) => pairKey === hilda.key)!;
    expect(week.startDay! >= '2026-11-29').toBe(true);
  });

  it('says who waits for it, and that it is overdue once its day is past', async () => {
    const id = await orderBasket(workshop, basket);
    const view = findPurchaseView(await readPlan(workshop, now()), id);
    expect(view).toMatchObject({ daysOverdue: 0, missingPacks: 5, totalCents: 2670 + 1820 + 451 });
    expect(view.waitingPairs).toBeGreaterThanOrEqual(1);
    expect(view.waitingOrders.map(({ isLate }) => isLate)).not.toContain(true);
    const later = await readPlan(workshop, new Date('2026-12-02T12:00:00Z'));
    expect(findPurchaseView(later, id).daysOverdue).toBe(3);
    expect(readPurchases(later).onTheirWay).toHaveLength(1);
  });

  it('names the orders that its day makes late', async () => {
    const id = await orderBasket(workshop, { ...basket, expectedDay: '2027-02-20' });
    const { waitingOrders } = findPurchaseView(await readPlan(workshop, now()), id);
    // Hilda's cuff and one pair for the fair come on 20 February: from then to 1 March there are six evenings of fifty
    // minutes, too few for two pairs of some four hours, and Hilda's is due on 1 February.
    const late = waitingOrders.filter(({ isLate }) => isLate).map(({ dueDay }) => dueDay);
    expect(late).toEqual(['2027-02-01', '2027-03-01']);
  });

  it('stays what was ordered when the shop sells another pack from then on', async () => {
    const id = await orderBasket(workshop, basket);
    const pack = { ballMg: 50_000, ballsPerPack: 10, priceCents: 400, stockPacks: null };
    await saveOffer(workshop, 1, pack, undefined);
    const { input } = await readPlan(workshop, now());
    expect(input.shelf.filter((lot) => isOnWayLot(lot.id)).map(({ freeMg }) => freeMg)).toEqual([300_000, 200_000]);
    const [heather] = (await stored()).lines;
    const packs = [{ lineId: heather!.id, packs: 2, dyeLot: '9' }];
    await receivePurchase(workshop, id, { day: '2026-11-25', packs }, undefined);
    const { lots, balls } = await stored();
    const lot = lots.find(({ dyeLot }) => dyeLot === '9')!;
    // Two single balls of 100 g at two thirds of what the line costs: 2938 x 2/3 = 1958.7.
    expect(lot).toMatchObject({ boughtMg: 200_000, paidCents: 1959 });
    expect(balls.filter(({ lotId }) => lotId === lot.id).map(({ massMg }) => massMg)).toEqual([100_000, 100_000]);
  });

  it('leaves nothing behind when a price of it is gone', async () => {
    const before = await stored();
    const wrong = { ...basket, packs: [...basket.packs, { offerId: 99, packs: 1, priceCents: 1 }] };
    await expect(orderBasket(workshop, wrong)).rejects.toMatchObject({ code: 'notFound' });
    expect(await stored()).toEqual(before);
  });

  it('cannot be weighed out before it is here: a pair that is begun waits, and gets it then', async () => {
    const id = await orderBasket(workshop, basket);
    const plan = await readPlan(workshop, now());
    const orderIds = plan.rows.orders.map((order) => order.id);
    const lots = pairsToStart(plan, new Set(orderIds), false).flatMap(({ colours }) =>
      colours.map((each) => each.lotId),
    );
    expect(lots).toContain(null);
    expect(lots.every((lot) => lot === null || lot === 1)).toBe(true);
    const wish = { name: 'Batch', orderIds, withSpares: false, revision: plan.rows.revision };
    expect((await startBatch(workshop, plan, wish)).ok).toBe(true);
    const [heather, oat] = (await stored()).lines;
    const receipt = {
      day: '2026-11-28',
      packs: [
        { lineId: heather!.id, packs: 3, dyeLot: '9' },
        { lineId: oat!.id, packs: 2, dyeLot: '7' },
      ],
    };
    const received = await receivePurchase(workshop, id, receipt, undefined);
    expect(received.ok && received.value.helpedPairs).toBeGreaterThan(0);
    const after = (await readPlan(workshop, now())).rows.pairColours;
    expect(after.filter(({ lotId }) => lotId === null)).toEqual([]);
  });
});

describe('what comes of it', () => {
  it('comes in parts that add up to the bill', async () => {
    const id = await orderBasket(workshop, basket);
    const [heather, oat] = (await stored()).lines;
    const first = await receivePurchase(
      workshop,
      id,
      {
        day: '2026-11-29',
        packs: [
          { lineId: heather!.id, packs: 1, dyeLot: '4480' },
          { lineId: oat!.id, packs: 2, dyeLot: '12' },
        ],
      },
      1,
    );
    expect(first).toMatchObject({ ok: true, value: { stillToCome: 2 } });
    // A third of 2938 is 979.33.
    expect(await paidSince()).toEqual([979, landed[1]]);
    expect((await stored()).purchases[0]).toMatchObject({ state: 'ordered', version: 2 });
    const { input } = await readPlan(workshop, now());
    const onWay = input.shelf.filter(({ id: lotId }) => isOnWayLot(lotId));
    expect(onWay.map(({ freeMg, paidCents }) => [freeMg, paidCents])).toEqual([[200_000, 2938 - 979]]);
    const rest = { day: '2026-12-01', packs: [{ lineId: heather!.id, packs: 2, dyeLot: '4481' }] };
    expect(await receivePurchase(workshop, id, rest, 2)).toMatchObject({ ok: true, value: { stillToCome: 0 } });
    expect((await paidSince()).reduce((sum, cents) => sum + cents, 0)).toBe(2670 + 1820 + 451);
    expect((await stored()).purchases[0]).toMatchObject({ state: 'arrived' });
    expect(await receivePurchase(workshop, id, rest, undefined)).toMatchObject({ ok: false });
  });

  it('is never more than was ordered, and never before', async () => {
    const id = await orderBasket(workshop, basket);
    const [heather] = (await stored()).lines;
    const before = await stored();
    const packs = [
      { lineId: heather!.id, packs: 2, dyeLot: 'a' },
      { lineId: heather!.id, packs: 2, dyeLot: 'b' },
    ];
    const wrong = await receivePurchase(workshop, id, { day: '2026-11-24', packs }, undefined);
    expect(wrong.ok ? [] : wrong.problems.map(({ path }) => path)).toEqual(['day', `packs-${heather!.id}`]);
    await expect(receivePurchase(workshop, id, { day: '2026-11-29', packs: packs.slice(1) }, 9)).rejects.toMatchObject({
      code: 'conflict',
    });
    expect(await stored()).toEqual(before);
  });

  it('can be expected on another day; its price stands once some of it is here', async () => {
    const id = await orderBasket(workshop, basket);
    const [heather] = (await stored()).lines;
    const bill = { shippingCents: 300, offCents: 90, prices: [{ lineId: heather!.id, priceCents: 800 }] };
    expect(await changeOrdered(workshop, id, { expectedDay: '2026-12-04', bill }, 1)).toMatchObject({ ok: true });
    expect((await stored()).purchases[0]).toMatchObject({
      expectedDay: '2026-12-04',
      shippingCents: 300,
      offCents: 90,
    });
    expect((await stored()).lines[0]!.priceCents).toBe(800);
    expect(await changeOrdered(workshop, id, { expectedDay: '2026-11-20' }, undefined)).toMatchObject({ ok: false });
    const part = { day: '2026-11-30', packs: [{ lineId: heather!.id, packs: 1, dyeLot: null }] };
    await receivePurchase(workshop, id, part, undefined);
    expect(await changeOrdered(workshop, id, { expectedDay: '2026-12-05', bill }, undefined)).toMatchObject({
      ok: false,
    });
    expect(await changeOrdered(workshop, id, { expectedDay: '2026-12-05' }, undefined)).toMatchObject({ ok: true });
  });

  it('when the rest is cancelled, what came pays the postage alone', async () => {
    const id = await orderBasket(workshop, basket);
    const [heather, oat] = (await stored()).lines;
    const part = {
      day: '2026-11-30',
      packs: [
        { lineId: heather!.id, packs: 1, dyeLot: '1' },
        { lineId: oat!.id, packs: 1, dyeLot: '2' },
      ],
    };
    await receivePurchase(workshop, id, part, undefined);
    expect(await cancelOrdered(workshop, id, undefined)).toMatchObject({ ok: true });
    expect((await paidSince()).reduce((sum, cents) => sum + cents, 0)).toBe(890 + 910 + 451);
    const { input } = await readPlan(workshop, now());
    expect(input.shelf.some(({ id: lotId }) => isOnWayLot(lotId))).toBe(false);
  });

  it('when all is cancelled, the yarn is to buy again', async () => {
    const before = (await readPlan(workshop, now())).plan.lists.chosen;
    const id = await orderBasket(workshop, basket);
    await cancelOrdered(workshop, id, 1);
    expect((await readPlan(workshop, now())).plan.lists.chosen).toEqual(before);
  });
});

describe('yarn bought elsewhere', () => {
  const entry = {
    supplierId: null,
    yarnColourId: 2,
    ballMg: 50_000,
    ballsPerPack: 2,
    packs: 2,
    priceCents: 700,
    shippingCents: 99,
    dyeLot: '31',
    day: '2026-11-24',
  };

  it('lies on the shelf at what was paid, and need not be bought', async () => {
    await buyElsewhere(workshop, entry);
    const { lots, balls, purchases } = await stored();
    expect(lots.at(-1)).toMatchObject({ yarnColourId: 2, dyeLot: '31', paidCents: 1499, boughtMg: 200_000 });
    expect(balls.filter(({ lotId }) => lotId === lots.at(-1)!.id).map(({ massMg }) => massMg)).toEqual(
      Array(4).fill(50_000),
    );
    expect(purchases).toEqual([]);
    const { plan } = await readPlan(workshop, now());
    expect(plan.placed.toBuy.map(({ yarnColourId }) => yarnColourId)).not.toContain(2);
  });

  it('at a shop of the workshop is a purchase, with a price for a pack that had none', async () => {
    await buyElsewhere(workshop, { ...entry, supplierId: 1 });
    const { purchases, lines } = await stored();
    expect(purchases).toMatchObject([{ state: 'arrived', shippingCents: 99 }]);
    expect(lines).toMatchObject([{ packs: 2, arrivedPacks: 2, priceCents: 700 }]);
    const { rows } = await readPlan(workshop, now());
    expect(rows.offers.at(-1)).toMatchObject({ supplierId: 1, ballMg: 50_000, ballsPerPack: 2, priceCents: 700 });
    await buyElsewhere(workshop, { ...entry, supplierId: 1, priceCents: 650 });
    expect((await readPlan(workshop, now())).rows.offers).toEqual(rows.offers);
  });

  it('leaves nothing behind when the shop is gone', async () => {
    const before = await stored();
    await expect(buyElsewhere(workshop, { ...entry, supplierId: 9 })).rejects.toMatchObject({ code: 'notFound' });
    expect(await stored()).toEqual(before);
  });
});
