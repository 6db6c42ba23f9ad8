import { addDays } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { addStock, type StockEntry } from '#flows/batch/add-stock.ts';
import { countBack, placePairs } from '#flows/pricing/placements.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

const woman: Omit<StockEntry, 'styleId' | 'colours' | 'label' | 'quantity'> = {
  person: 'woman',
  system: 'EU',
  fit: 'usual',
  cuffHeightMm: null,
  quality: 'good',
};

/** Pairs of the sample season that went to the shop on the corner: three placed, one of them sold. */
export async function addSampleShop(workshop: Workshop, plan: WorkshopPlan): Promise<void> {
  const { rows, today } = plan;
  const shop = rows.outlets.find((outlet) => outlet.terms === 'sale or return');
  const colour = (name: string) => rows.yarnColours.find((each) => each.name === name)?.id;
  const [style, fog, rosehip] = [rows.styles[0], colour('Fog'), colour('Rosehip')];
  if (!shop || !style || fog === undefined || rosehip === undefined) return;
  const inColours = (foot: number, cuff: number) => ({ styleId: style.id, colours: { foot: [foot], cuff: [cuff] } });
  const first = await addStock(workshop, plan, { ...woman, ...inColours(rosehip, fog), label: '38', quantity: 2 });
  const second = await addStock(workshop, plan, { ...woman, ...inColours(fog, fog), label: '40', quantity: 1 });
  if (!first.ok || !second.ok) return;
  const pairs = [...first.value, ...second.value].map((pairId) => ({ pairId, priceCents: 4500, version: undefined }));
  await placePairs(workshop, shop.id, { day: addDays(today, -24), pairs });
  const placed = (await readWorkshop(workshop)).placements;
  const sold = placed.slice(0, 1).map(({ id }) => ({ placementId: id, what: 'sold' as const, version: undefined }));
  await countBack(workshop, shop.id, { day: addDays(today, -3), pairs: sold });
}
