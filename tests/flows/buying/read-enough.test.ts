import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { chanceShort } from '#core/buying/enough.ts';
import { sdOf } from '#core/shared/estimate.ts';
import { changeOffer, changeSupplier, createOffer } from '#db/stores/buying.ts';
import { changeLine, listLines } from '#db/stores/orders.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { orderBasket } from '#flows/buying/order-basket.ts';
import { readEnough } from '#flows/buying/read-enough.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOffer, addSupplier, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  await workshop.store.write('test: twenty pairs, small balls', async (tx) => {
    const [line] = await listLines(tx, 1);
    await changeLine(tx, line!.id, { quantity: 20 });
    for (const id of [1, 2]) await changeOffer(tx, id, { ballMg: 25_000, priceCents: 250 });
  });
});
afterEach(() => workshop.discard());

const plan = () => readPlan(workshop, now());
const page = async () => {
  const app = createApp({ workshop, now, publicUrl: null });
  return (await app.request('/buying/enough')).text();
};

describe('readEnough', () => {
  it('says for each colour what is bought and how likely it runs short, now and with one ball less', async () => {
    const current = await plan();
    const { rows, listName } = readEnough(current);
    expect(listName).toBe('safe');
    const [heather] = rows;
    const need = current.plan.placed.toBuy[0]!.grams;
    const boughtG = current.plan.lists.safe.baskets[0]!.lines[0]!.grossMg / 1000;
    expect(heather).toMatchObject({ boughtG, lessG: 25, likelyG: need.mean });
    // Safe is enough 9 times in 10, and whole balls are a little more.
    expect(heather!.chanceShort).toBeLessThanOrEqual(0.1 + 1e-4);
    expect(heather!.chanceShortWithLess).toBeCloseTo(chanceShort(need, boughtG - 25), 12);
    expect(heather!.chanceShortWithLess).toBeGreaterThan(heather!.chanceShort);
    const likelyG = current.plan.lists.likely.baskets[0]!.lines[0]!.grossMg / 1000;
    expect(heather!.forSafetyG).toBe(boughtG - likelyG);
    expect(heather!.pairs).toBe(
      current.plan.wanted.pairs.filter(({ key }) => !current.plan.placed.lotOf.has(`${key}/1`)).length,
    );
  });

  it('counts the second postage against two steps, and says when they do not pay', async () => {
    const [shop] = readEnough(await plan()).shops;
    expect(shop!.colours.map(({ colour }) => colour.name)).toEqual(['Heather']);
    expect(shop!.secondPostageCents).toBe(450);
    expect(shop!.onceCents - shop!.nowCents - shop!.laterCents).toBe(shop!.savesCents);
    expect(shop!.savesCents).toBeGreaterThan(0);
    // Dearer postage eats the saving up: less than a twentieth of the bill is told, not advised.
    const rows: { readonly share: number; readonly words: boolean }[] = [];
    for (const shippingCents of [0, 450, 600, 700, 800, 900, 1000]) {
      await workshop.store.write('test: postage', (tx) => changeSupplier(tx, 1, { shippingCents }));
      const [at] = readEnough(await plan()).shops;
      const html = await page();
      rows.push({ share: at!.savesCents / at!.onceCents, words: html.includes('Two steps are worth it here') });
      expect(html.includes('Hardly worth it: two steps save')).toBe(
        at!.savesCents > 0 && at!.savesCents / at!.onceCents < 0.05,
      );
      if (at!.savesCents > 0) expect(html).toContain('another parcel, and another dye lot');
    }
    expect(rows.map(({ share }) => share >= 0.05)).toEqual(rows.map(({ words }) => words));
    expect(rows.some(({ share }) => share > 0 && share < 0.05)).toBe(true);
    expect(await page()).not.toMatch(/Phi\(|runs short hardly ever/);
    // The first postage is paid either way; the second as often as there is something to buy.
    await workshop.store.write('test: dear postage', (tx) => changeSupplier(tx, 1, { shippingCents: 3000 }));
    const [dear] = readEnough(await plan()).shops;
    const isAny = 1 - dear!.colours[0]!.steps.chanceOfNone;
    expect(Math.abs(dear!.savesCents - (shop!.savesCents - 2550 * isAny))).toBeLessThanOrEqual(1);
    expect(dear!.savesCents).toBeLessThan(0);
    expect(await page()).toContain('Two steps do not pay here');
  });

  it('takes two steps also where a colour comes in packs and in single balls', async () => {
    const tenBalls = { supplierId: 1, yarnColourId: 1, ballMg: 25_000, ballsPerPack: 10, priceCents: 2200 };
    await workshop.store.write('test: a pack of ten', (tx) => createOffer(tx, tenBalls));
    const current = await plan();
    const listed = current.plan.lists.safe.baskets[0]!.lines.filter(({ yarnColourId }) => yarnColourId === 1);
    expect(listed).toHaveLength(2);
    const [shop] = readEnough(current).shops;
    const [heather] = shop!.colours;
    expect(heather!.once.map(({ packs, offer }) => [offer.id, packs])).toEqual(
      listed.map(({ offerId, packs }) => [offerId, packs]),
    );
    const gramsOf = (packs: NonNullable<typeof heather>['now']) =>
      packs.reduce((sum, each) => sum + (each.packs * each.offer.ballsPerPack * each.offer.ballMg) / 1000, 0);
    const need = current.plan.placed.toBuy[0]!.grams;
    // Used 19 times in 20, to a ball of 25 g; a pack of ten may weigh more where it is cheaper.
    const certainG = Math.max(0.7 * need.mean, need.mean - 1.6449 * sdOf(need));
    expect(gramsOf(heather!.now)).toBeGreaterThan(certainG - 25);
    expect(gramsOf(heather!.now)).toBeLessThan(certainG + 250);
    expect(gramsOf(heather!.now)).toBeLessThan(gramsOf(heather!.once));
    expect(await page()).toMatch(/packs? of 10 balls of 25\sg/);
  });

  it('leaves a colour alone that two shops share', async () => {
    await workshop.store.write('test: the second shop has the last balls', async (tx) => {
      await setSetting(tx, 'oneSupplierPerColour', false);
      await changeOffer(tx, 1, { stockPacks: 60 });
      const other = await addSupplier(tx, { shippingCents: 0 });
      await addOffer(tx, { supplierId: other.id, yarnColourId: 1, ballMg: 25_000, priceCents: 300 });
    });
    const current = await plan();
    const shops = current.plan.lists.safe.baskets.filter(({ lines }) =>
      lines.some(({ yarnColourId }) => yarnColourId === 1),
    );
    expect(shops).toHaveLength(2);
    expect(readEnough(current).shops.flatMap(({ colours }) => colours.map(({ colour }) => colour.id))).not.toContain(1);
  });

  it('has nothing to be sure of once all is ordered', async () => {
    const packs = [1, 2].map((offerId) => ({ offerId, packs: 150, priceCents: 250 }));
    const order = { supplierId: 1, orderedDay: '2026-11-25', expectedDay: '2026-11-29', shippingCents: 0, offCents: 0 };
    await orderBasket(workshop, { ...order, packs });
    const { rows, fromShelf } = readEnough(await plan());
    expect([rows.length, fromShelf.length]).toEqual([0, 2]);
    expect(await page()).toContain('Nothing is to buy');
  });
});
