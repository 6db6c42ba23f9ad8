import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Workshop } from '#db/open.ts';
import { createOfferBreak, createSupplierBreak } from '#db/stores/buying.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';
import {
  addKnitter,
  addOffer,
  addOrder,
  addOutlet,
  addStyle,
  addSupplier,
  addYarn,
  addYarnColour,
  lineOf,
} from '#tests/support/workshop.ts';

/**
 * A season whose shops take so much off whole baskets that its cheapest list is not proven at once: many colours, some
 * shops with limits and breaks, an order of some pairs in each colour.
 */
export async function addCoupledSeason(
  { store }: Workshop,
  { colours = 12, suppliers = 3, mostG = 600, seed = 3 } = {},
): Promise<void> {
  const made = randomPurchase(seed, {
    colours,
    packs: 4,
    suppliers,
    mostG,
    limits: { free: 0.5, minimum: 0.3, stock: 0 },
    breaks: { packs: 0.3, basket: 1 },
  });
  await store.write('test: a coupled season', async (tx) => {
    const style = await addStyle(tx, twoPieceSlipper);
    const yarn = await addYarn(tx, { name: 'Fell Bulky', needleMm: 7 });
    await addKnitter(tx, { name: 'Ilka' });
    const outlet = await addOutlet(tx, { name: 'By order', kind: 'order' });
    const colourIds = new Map<number, number>();
    for (const need of made.needs) {
      const colour = await addYarnColour(tx, { yarnId: yarn.id, name: `Shade ${need.yarnColourId}` });
      colourIds.set(need.yarnColourId, colour.id);
    }
    const shopIds = new Map<number, number>();
    for (const { id, breaks, ...terms } of made.suppliers) {
      const shop = await addSupplier(tx, { ...terms, rank: id });
      shopIds.set(id, shop.id);
      for (const each of breaks ?? []) await createSupplierBreak(tx, { supplierId: shop.id, ...each });
    }
    for (const { id: _, breaks, ...pack } of made.offers) {
      const offer = await addOffer(tx, {
        ...pack,
        supplierId: shopIds.get(pack.supplierId)!,
        yarnColourId: colourIds.get(pack.yarnColourId)!,
      });
      for (const each of breaks ?? []) await createOfferBreak(tx, { offerId: offer.id, ...each });
    }
    const lines = made.needs.map(({ yarnColourId, needMg }) => {
      const colour = colourIds.get(yarnColourId)!;
      return lineOf(style.id, colour, {
        quantity: Math.max(1, Math.round(needMg / 110_000)),
        colours: [
          { role: 'foot', strand: 0, yarnColourId: colour },
          { role: 'cuff', strand: 0, yarnColourId: colour },
        ],
      });
    });
    await addOrder(tx, { outletId: outlet.id, dueDay: '2028-12-12', lines });
  });
}
