import { packsCents } from '#core/buying/prices.ts';
import { addDays } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { orderBasket } from '#flows/buying/order-basket.ts';
import { receivePurchase } from '#flows/buying/receive-purchase.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { saveUnlabelled } from '#flows/shelf/save-unlabelled.ts';

const wool = [
  { massG: 84, tenMetresG: 9.5, colour: 'Brick', swatchHex: '#9c4a34' },
  { massG: 61, tenMetresG: 9.5, colour: 'Brick', swatchHex: '#9c4a34' },
  { massG: 47, tenMetresG: 5.2, colour: 'Sea green', swatchHex: '#3f7f77' },
].map((ball) => ({ ...ball, wrapsPerInch: null, donor: 'Bea Larch' }));

/**
 * Yarn of the sample season that came or is to come: a basket that was ordered, one of which a part is here, and balls
 * without labels.
 */
export async function addSampleYarn(workshop: Workshop, { rows, input, today, settings }: WorkshopPlan): Promise<void> {
  const day = (days: number) => addDays(today, days);
  /** Single balls of a colour at a shop, at what so many cost. */
  function balls(shop: { readonly id: number }, name: string, packs: number) {
    const colour = rows.yarnColours.find((each) => each.name === name);
    const offer = input.offers.find(
      (each) => each.supplierId === shop.id && each.yarnColourId === colour?.id && each.ballsPerPack === 1,
    );
    return offer ? [{ offerId: offer.id, packs, priceCents: packsCents(offer, packs) / packs }] : [];
  }
  const [lantern, quillmoor] = rows.suppliers;
  if (!lantern || !quillmoor) return;
  await orderBasket(workshop, {
    supplierId: quillmoor.id,
    ...{ orderedDay: day(-1), expectedDay: day(7), shippingCents: quillmoor.shippingCents, offCents: 0 },
    packs: [...balls(quillmoor, 'Moss', 5), ...balls(quillmoor, 'Cream', 2)],
  });
  const id = await orderBasket(workshop, {
    supplierId: lantern.id,
    ...{ orderedDay: day(-4), expectedDay: day(1), shippingCents: lantern.shippingCents, offCents: 0 },
    packs: [...balls(lantern, 'Slate', 3), ...balls(lantern, 'Fog', 2)],
  });
  const [slate, fog] = (await readWorkshop(workshop)).purchaseLines.filter(({ purchaseId }) => purchaseId === id);
  if (!slate || !fog) return;
  const came = [
    { lineId: slate.id, packs: 1, dyeLot: '44' },
    { lineId: fog.id, packs: 2, dyeLot: '33' },
  ];
  await receivePurchase(workshop, id, { day: day(-1), packs: came }, undefined);
  await saveUnlabelled(
    workshop,
    { rows: wool, joinBy: 'thickness', day: day(-6), place: 'Box under the stairs' },
    settings,
  );
}
