import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { createBand } from '#db/stores/sizing.ts';
import { createStyle } from '#db/stores/styles.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { type KnownNames, knownNamesOf } from '#flows/orders/known-names.ts';
import { readOrdersSource } from '#flows/orders/read-orders.ts';
import { createApp } from '#server/app.ts';
import { addKnitter, addOutlet, addYarn, addYarnColour, openTestWorkshop } from '#tests/support/workshop.ts';

export const now = () => new Date('2026-11-25T10:00:00Z');

/** A workshop with a style, two yarns (the second held double), four outlets and two bands; no order yet. */
export async function openOrdersWorkshop() {
  const workshop = await openTestWorkshop();
  const ids = await workshop.store.write('test: a workshop for orders', async (tx) => {
    const style = await createStyle(tx, { name: 'Two-piece slipper', isShipped: true, body: twoPieceSlipper });
    const bulky = await addYarn(tx, { name: 'Harbour Bulky', tex: 1000, category: 5 });
    const medium = await addYarn(tx, {
      name: 'Meadow Medium',
      tex: 500,
      category: 4,
      usualStrands: 2,
      usualStitchesPer10Cm: 20,
    });
    const colour = async (yarnId: number, name: string) => (await addYarnColour(tx, { yarnId, name })).id;
    const heather = await colour(bulky.id, 'Heather');
    const oat = await colour(bulky.id, 'Oat');
    for (const name of ['Fir', 'Slate', 'Rosehip', 'Fog']) await colour(bulky.id, name);
    const cream = await colour(medium.id, 'Cream');
    for (const name of ['Marigold', 'Moss', 'Ink']) await colour(medium.id, name);
    const fair = await addOutlet(tx, { name: 'Winter fair', kind: 'fair', rank: 0 });
    const order = await addOutlet(tx, { name: 'By order', kind: 'order', rank: 1 });
    const shop = await addOutlet(tx, { name: 'Corner shop', kind: 'shop', rank: 2 });
    await addOutlet(tx, { name: 'Gifts', kind: 'gift', rank: 3 });
    const band = await createBand(tx, { name: '36/37', person: null, fromMm: 223, toMm: 237, rank: 0 });
    await createBand(tx, { name: 'M', person: 'woman', fromMm: 238, toMm: 254, rank: 1 });
    await createBand(tx, { name: 'M', person: 'man', fromMm: 263, toMm: 280, rank: 2 });
    await addKnitter(tx, { name: 'Ines' });
    await setSetting(tx, 'wageCentsPerHour', 1200);
    return {
      style: style.id,
      bulky: bulky.id,
      heather,
      oat,
      cream,
      fair: fair.id,
      order: order.id,
      shop: shop.id,
      band: band.id,
    };
  });
  const app = createApp({ workshop, now, publicUrl: null });
  return { workshop, app, ids };
}

export type OrdersWorkshop = Awaited<ReturnType<typeof openOrdersWorkshop>>;

export async function knownOf({ workshop }: Pick<OrdersWorkshop, 'workshop'>): Promise<KnownNames> {
  return knownNamesOf((await readOrdersSource(workshop, now())).rows);
}

/** What the form of a new order sends when only a size and a colour were filled in. */
export function filledForm({ ids }: Pick<OrdersWorkshop, 'ids'>): Record<string, string> {
  return {
    by: 'label',
    person: 'woman',
    system: 'EU',
    label: '38',
    unit: 'cm',
    leftLength: '',
    rightLength: '',
    leftBallGirth: '',
    rightBallGirth: '',
    leftHeelAnkleGirth: '',
    rightHeelAnkleGirth: '',
    band: '',
    age: '',
    'colour-foot': String(ids.heather),
    'colour-cuff': '',
    quantity: '1',
    cuff: 'short',
    cuffHeight: '',
    fit: 'usual',
    agreed: '',
    outlet: String(ids.fair),
    customer: '',
    due: '',
    reference: '',
    state: 'agreed',
  };
}
