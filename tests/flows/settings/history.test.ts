import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { listBalls } from '#db/stores/shelf.ts';
import { readHistory } from '#flows/settings/history.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  await postForm(app, '/begin/sample', {});
});
afterEach(() => workshop.discard());

describe('readHistory', () => {
  it('tells a write of many rows by its own words and counts, each row in words below', async () => {
    const begun = (await readHistory(workshop, await readWorkshop(workshop))).find(
      ({ action }) => action === 'Opened the sample season',
    );
    // Lot by lot: Heather 3 and 2 balls, Fir 3, Fog 1, Oat 4, Cream 4, Marigold 3, Poppy 2 and Slate 1.
    expect(begun!.counts).toBe('18 orders, 23 balls, 3 knitters and more');
    // Balls are stored empty and filled by a movement: told once, with what they weigh, and without the movement.
    expect(begun!.changes).toContain('a ball of Heather: 100\u00a0g');
    expect(begun!.changes.join(' ')).not.toMatch(/0\u00a0g to|ball move|null|undefined| Id\b/);
  });

  it('tells a weighed ball by its colour and what it weighs', async () => {
    const { lots, yarnColours } = await readWorkshop(workshop);
    const colour = yarnColours.find(({ name }) => name === 'Heather')!;
    const lot = lots.find(({ yarnColourId }) => yarnColourId === colour.id)!;
    const ball = (await workshop.store.read((db) => listBalls(db))).find(({ lotId }) => lotId === lot.id)!;
    await postForm(app, `/shelf/lots/${lot.id}/weigh`, { ball: String(ball.id), grams: '48', reason: 'used' });
    expect((await readHistory(workshop, await readWorkshop(workshop)))[0]).toMatchObject({
      action: 'Weighed a ball',
      counts: '',
      changes: ['a ball of Heather weighed: 48\u00a0g'],
    });
  });

  it('tells a change of an order by its number and the names of what it leads to', async () => {
    const { orders, outlets } = await readWorkshop(workshop);
    const shop = outlets.find(({ name }) => name === 'Corner shop')!;
    const order = orders.find(({ state, outletId }) => state === 'agreed' && outletId !== shop.id)!;
    const before = outlets.find(({ id }) => id === order.outletId)!;
    const typed = { outlet: String(shop.id), state: 'agreed', due: order.dueDay ?? '', version: String(order.version) };
    const customer = (await readWorkshop(workshop)).customers.find(({ id }) => id === order.customerId)?.name ?? '';
    const response = await postForm(app, `/orders/${order.id}`, {
      ...typed,
      customer,
      reference: order.reference ?? '',
    });
    expect(response.status).toBe(303);
    expect((await readHistory(workshop, await readWorkshop(workshop)))[0]).toMatchObject({
      action: 'Changed an order',
      changes: [`order ${order.number}: outlet from ${before.name} to Corner shop`],
    });
  });
});
