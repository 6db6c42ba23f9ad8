import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeLine, listLineColours, listLines } from '#db/stores/orders.ts';
import { coloursToReplace, readLikeYarns } from '#flows/buying/read-like-yarns.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { addSeason } from '#tests/support/season.ts';
import {
  addLot,
  addOffer,
  addYarn,
  addYarnColour,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let ids: { heather: number; oat: number; near: number; weight: number; shelfOnly: number };

beforeEach(async () => {
  workshop = await openTestWorkshop();
  const { heather, oat, shop } = await addSeason(workshop);
  ids = await workshop.store.write('test: other yarns', async (tx) => {
    const colourOf = async (values: Parameters<typeof addYarn>[1]) =>
      (await addYarnColour(tx, { yarnId: (await addYarn(tx, values)).id })).id;
    // Within a tenth of 1000 tex, of another weight; beyond it, of the same weight; neither; like it and nowhere to be had.
    const near = await colourOf({ name: 'Near', tex: 920, category: 4, usualStitchesPer10Cm: 15 });
    const weight = await colourOf({ name: 'Weight', tex: 1250, category: 5 });
    const unlike = await colourOf({ name: 'Unlike', tex: 500, category: 4 });
    await colourOf({ name: 'Nowhere', tex: 1000, category: 5 });
    const shelfOnly = await colourOf({ name: 'Shelf', tex: 1000, category: 5 });
    for (const yarnColourId of [near, weight, unlike]) await addOffer(tx, { supplierId: shop.id, yarnColourId });
    await addLot(tx, [100_000], { yarnColourId: shelfOnly });
    return { heather: heather.id, oat: oat.id, near, weight, shelfOnly };
  });
});
afterEach(() => workshop.discard());

const like = async (colourId: number) => readLikeYarns(await readPlan(workshop, now()), colourId);

describe('the page of like yarns', () => {
  it('tells a gauge from a band from one that is guessed by the yarn weight', async () => {
    await workshop.store.write('test: a yarn without a band', async (tx) => {
      const bare = await addYarn(tx, { name: 'Bare', tex: 1010, category: 5, usualStitchesPer10Cm: null });
      await addLot(tx, [100_000], { yarnColourId: (await addYarnColour(tx, { yarnId: bare.id })).id });
    });
    const app = createApp({ workshop, now, publicUrl: null });
    const html = (await (await app.request(`/buying/instead/${ids.heather}`)).text()).replaceAll('\u00a0', ' ');
    // Near has 15 stitches in 10 cm on its band; Bare has no band.
    expect(html).toContain('reckoned from its band, 15 stitches in 10 cm');
    expect(html.match(/a guess from its yarn weight/g)).toHaveLength(1);
  });
});

describe('readLikeYarns', () => {
  it('names yarns of like tex or weight that can be had, nearest first, then other colours of the very yarn', async () => {
    const { yarns, lines, isSold } = await like(ids.heather);
    expect(yarns.map(({ colour }) => colour.id)).toEqual([ids.shelfOnly, ids.near, ids.weight, ids.oat]);
    expect(lines.map(({ number, pairs }) => [number, pairs])).toEqual([
      [1, 2],
      [2, 1],
    ]);
    expect(isSold).toBe(true);
    expect(yarns[0]).toMatchObject({ shelfG: 100, shops: [], isShort: true });
    expect(yarns[1]).toMatchObject({ isSameCategory: false, shops: [{ name: 'Quay Yarns', hereDay: '2026-11-29' }] });
  });

  it('says what the change would make of counts, grams and money: the same as when it is made', async () => {
    const before = await readPlan(workshop, now());
    const said = (await like(ids.heather)).yarns.find(({ colour }) => colour.id === ids.near)!;
    expect(await readPlan(workshop, now())).toBe(before);
    await workshop.store.write('test: change the colours', async (tx) => {
      for (const orderId of before.rows.orders.map(({ id }) => id)) {
        for (const line of await listLines(tx, orderId)) {
          const rows = (await listLineColours(tx, orderId)).filter(({ lineId }) => lineId === line.id);
          const colours = rows.map(({ role, strand, yarnColourId }) => {
            return { role, strand, yarnColourId: yarnColourId === ids.heather ? ids.near : yarnColourId };
          });
          await changeLine(tx, line.id, { colours });
        }
      }
    });
    const after = await readPlan(workshop, now());
    expect(said.listCents).toBe(after.plan.lists.chosen.totalCents - before.plan.lists.chosen.totalCents);
    expect(said.yarnCents).toBe(after.plan.costs.total.yarnCents - before.plan.costs.total.yarnCents);
    for (const [lineId, counts] of [...after.kindOfLine.keys()].sort().map((id, i) => [id, said.counts[i]!] as const)) {
      const foot = after.plan.handwork.specOf(after.kindOfLine.get(lineId)!, null).pieces[0]!;
      expect([counts.castOn, counts.rows]).toEqual([foot.castOnStitches, foot.totalRows]);
      const was = before.plan.handwork.specOf(before.kindOfLine.get(lineId)!, null).pieces[0]!;
      expect([counts.wasCastOn, counts.wasRows]).toEqual([was.castOnStitches, was.totalRows]);
      expect(counts.castOn).toBeGreaterThan(counts.wasCastOn);
    }
  });

  it('offers nothing where no pair has the colour, and only colours of pairs to choose from', async () => {
    expect((await like(ids.near)).yarns).toEqual([]);
    expect(coloursToReplace(await readPlan(workshop, now())).map(({ colour }) => colour.id)).toEqual([
      ids.heather,
      ids.oat,
    ]);
    await expect(like(999)).rejects.toMatchObject({ code: 'notFound' });
  });

  it('has a page with a link to change each line, and none that exchanges by itself', async () => {
    const app = createApp({ workshop, now, publicUrl: null });
    const html = await (await app.request(`/buying/instead/${ids.heather}`)).text();
    expect(html).toContain('/orders/lines/1/edit');
    expect(html).toContain('Near');
    expect(html).not.toContain('<form');
    expect(await (await app.request('/buying/instead')).text()).toContain(`/buying/instead/${ids.heather}`);
    expect((await app.request('/buying/instead/999')).status).toBe(404);
  });
});
