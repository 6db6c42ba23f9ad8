import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPurchaseLines, listPurchases } from '#db/stores/buying.ts';
import { listBalls, listLots } from '#db/stores/shelf.ts';
import { bringHome } from '#flows/buying/bring-home.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

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

describe('bringHome', () => {
  it('puts each dye lot on the shelf with its goods and its share of the postage, to the cent', async () => {
    await bringHome(workshop, {
      supplierId: 1,
      day: '2026-11-30',
      shippingCents: 451,
      offCents: 0,
      packs: [
        { offerId: 1, packs: 2, dyeLot: '4471', priceCents: 890 },
        { offerId: 1, packs: 1, dyeLot: '4480', priceCents: 890 },
        { offerId: 2, packs: 3, dyeLot: null, priceCents: 910 },
      ],
    });
    const { lots, balls, purchases, lines } = await stored();
    // Goods 1780, 890 and 2730, together 5400; postage 451: 451 x 1780/5400 = 148.66, 74.33, 228.00; down 148, 74, 228
    // is 450, and the cent left goes to the largest remainder, the first.
    const paid = lots
      .filter(({ gotDay }) => gotDay === '2026-11-30')
      .map(({ dyeLot, paidCents, boughtMg }) => [dyeLot, paidCents, boughtMg]);
    expect(paid).toEqual([
      ['4471', 1780 + 149, 200_000],
      ['4480', 890 + 74, 100_000],
      [null, 2730 + 228, 300_000],
    ]);
    // Two balls were there before; six came.
    expect(balls.map(({ massMg }) => massMg)).toEqual(Array(8).fill(100_000));
    expect(purchases[0]).toMatchObject({ state: 'arrived', shippingCents: 451 });
    expect(lines.map(({ packs, arrivedPacks }) => [packs, arrivedPacks])).toEqual([
      [2, 2],
      [1, 1],
      [3, 3],
    ]);
  });

  it('shares out what the shop took off the whole of it', async () => {
    await bringHome(workshop, {
      supplierId: 1,
      day: '2026-11-30',
      shippingCents: 0,
      offCents: 541,
      packs: [
        { offerId: 1, packs: 3, dyeLot: '4471', priceCents: 890 },
        { offerId: 2, packs: 3, dyeLot: null, priceCents: 910 },
      ],
    });
    const { lots, purchases } = await stored();
    // A tenth off 2670 and 2730, and a cent: 541 x 2670/5400 = 267.49, 273.51; the cent left goes to the second.
    expect(lots.filter(({ gotDay }) => gotDay === '2026-11-30').map(({ paidCents }) => paidCents)).toEqual([
      2670 - 267,
      2730 - 274,
    ]);
    expect(purchases[0]).toMatchObject({ offCents: 541 });
  });

  it('leaves nothing behind when a price of the basket is gone', async () => {
    const before = await stored();
    await expect(
      bringHome(workshop, {
        supplierId: 1,
        day: '2026-11-30',
        shippingCents: 450,
        offCents: 0,
        packs: [
          { offerId: 1, packs: 2, dyeLot: null, priceCents: 890 },
          { offerId: 99, packs: 1, dyeLot: null, priceCents: 100 },
        ],
      }),
    ).rejects.toMatchObject({ code: 'notFound' });
    expect(await stored()).toEqual(before);
  });
});
