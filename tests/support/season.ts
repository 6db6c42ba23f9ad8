import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Workshop } from '#db/open.ts';
import { setSetting } from '#db/stores/workshop.ts';
import {
  addKnitter,
  addLot,
  addOffer,
  addOrder,
  addOutlet,
  addStyle,
  addSupplier,
  addYarn,
  addYarnColour,
  lineOf,
} from '#tests/support/workshop.ts';

/** A small season that plans: one style, one yarn in two colours, a lot of each, a shop, a knitter, two orders. */
export async function addSeason({ store }: Workshop) {
  return await store.write('test: a small season', async (tx) => {
    await setSetting(tx, 'wageCentsPerHour', 1200);
    const style = await addStyle(tx, twoPieceSlipper);
    const yarn = await addYarn(tx, { name: 'Fell Bulky', needleMm: 7 });
    const heather = await addYarnColour(tx, { yarnId: yarn.id, name: 'Heather', swatchHex: '#7a5f8f' });
    const oat = await addYarnColour(tx, { yarnId: yarn.id, name: 'Oat', swatchHex: '#d8c9a8' });
    const lot = (await addLot(tx, [100_000, 100_000], { yarnColourId: heather.id, dyeLot: '4471' })).lot;
    const shop = await addSupplier(tx, { name: 'Quay Yarns', shippingCents: 450, deliveryDays: 4 });
    const offers = [
      await addOffer(tx, { supplierId: shop.id, yarnColourId: heather.id, priceCents: 890 }),
      await addOffer(tx, { supplierId: shop.id, yarnColourId: oat.id, priceCents: 910 }),
    ];
    const knitter = await addKnitter(tx, { name: 'Ilka' });
    const fair = await addOutlet(tx, { name: 'Winter fair', kind: 'fair' });
    const direct = await addOutlet(tx, { name: 'By order', kind: 'order', rank: 1 });
    const inColours = (foot: number, cuff: number) => ({
      colours: [
        { role: 'foot', strand: 0, yarnColourId: foot },
        { role: 'cuff', strand: 0, yarnColourId: cuff },
      ],
    });
    const forFair = await addOrder(tx, {
      outletId: fair.id,
      dueDay: '2027-03-01',
      lines: [lineOf(style.id, heather.id, { quantity: 2, ...inColours(heather.id, heather.id) })],
    });
    const forHilda = await addOrder(tx, {
      outletId: direct.id,
      dueDay: '2027-02-01',
      lines: [lineOf(style.id, heather.id, { sizeLabel: '41', ...inColours(heather.id, oat.id) })],
    });
    return { style, yarn, heather, oat, lot, shop, offers, knitter, fair, direct, forFair, forHilda, inColours };
  });
}
