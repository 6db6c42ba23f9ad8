import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeLine } from '#db/stores/orders.ts';
import { oddPricesOf } from '#flows/orders/odd-prices.ts';
import { readOrder } from '#flows/orders/read-orders.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let orderId: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  orderId = (await addSeason(workshop)).forHilda.id;
});
afterEach(() => workshop.discard());

async function noticesAt(agreedCents: number | null): Promise<string[]> {
  const before = await readOrder(workshop, now, orderId);
  const { id, version } = before.order.lines[0]!;
  await workshop.store.write('test: a price', (tx) => changeLine(tx, id, { agreedCents }, version));
  const { source, order } = await readOrder(workshop, now, orderId);
  return oddPricesOf(source.plan, order);
}

describe('oddPricesOf', () => {
  it('asks about a price with a digit too few or too many, with the figures beside it, and about no other', async () => {
    for (const cents of [null, 0, 3000, 4500, 9000]) expect(await noticesAt(cents)).toEqual([]);
    expect(await noticesAt(200)).toEqual([
      expect.stringMatching(/^€2.00 was agreed for .*41; such a pair costs you €\d/),
    ]);
    expect(await noticesAt(123_450)).toEqual([
      expect.stringMatching(/^€1,234.50 was agreed .*; your usual price is €\d/),
    ]);
  });
});
