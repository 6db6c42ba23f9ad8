import type { PaidHow } from '#core/fair/day-account.ts';
import { addDays } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changePair, createPairEvent } from '#db/stores/batch.ts';
import { changeFairDay, createAsked, createFairPair } from '#db/stores/fair.ts';
import { addStock, type StockEntry } from '#flows/batch/add-stock.ts';
import { addFair } from '#flows/fair/save-fair.ts';
import { markSold, noteSale } from '#flows/fair/sell-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

const usual: Omit<StockEntry, 'styleId' | 'colours' | 'label' | 'quantity'> = {
  person: 'woman',
  system: 'EU',
  fit: 'usual',
  cuffHeightMm: null,
  quality: 'good',
};

/** What went along, in colours that no order of the season asks for; the first of each were sold. */
const taken: readonly {
  readonly label: string;
  readonly foot: string;
  readonly cuff: string;
  readonly quantity: number;
  readonly sold: readonly (readonly [how: PaidHow, priceCents: number])[];
}[] = [
  {
    label: '39',
    foot: 'Fog',
    cuff: 'Heather',
    quantity: 3,
    sold: [
      ['cash', 4450],
      ['card', 4450],
    ],
  },
  { label: '37', foot: 'Oat', cuff: 'Fir', quantity: 2, sold: [['cash', 4000]] },
  { label: '41', foot: 'Slate', cuff: 'Heather', quantity: 2, sold: [['card', 4850]] },
];
const [daysAgo, openMinutes, feeCents, floatCents, cashCents] = [11, 360, 2500, 5000, 13_450] as const;

/** A market of the sample season that was: seven pairs taken along, four of them sold; and a pair that was given. */
export async function addSampleMarket(workshop: Workshop, plan: WorkshopPlan): Promise<void> {
  const { rows, today } = plan;
  const outlet = rows.outlets.find(({ kind }) => kind === 'fair');
  const style = rows.styles[0];
  const colour = (name: string) => rows.yarnColours.find((each) => each.name === name)?.id ?? 0;
  if (!outlet || !style) return;
  const inColours = (foot: string, cuff: string) => ({
    styleId: style.id,
    colours: { foot: [colour(foot)], cuff: [colour(cuff)] },
  });
  const day = addDays(today, -daysAgo);
  const dayId = await addFair(workshop, {
    name: 'Autumn market',
    outletId: outlet.id,
    feeCents,
    day,
    openMinutes,
    floatCents,
  });
  for (const { label, foot, cuff, quantity, sold } of taken) {
    const added = await addStock(workshop, plan, { ...usual, ...inColours(foot, cuff), label, quantity });
    if (!added.ok) return;
    const sale = { fairDayId: dayId, outletId: outlet.id, day, what: `woman EU ${label}, ${foot} and ${cuff}` };
    await workshop.store.write('begin: a market of the sample season', async (tx) => {
      for (const [index, pairId] of added.value.entries()) {
        await createFairPair(tx, { fairDayId: dayId, pairId, cameHome: index >= sold.length });
        const [how, priceCents] = sold[index] ?? [];
        if (how === undefined || priceCents === undefined) continue;
        await markSold(tx, pairId);
        await noteSale(tx, { ...sale, tillKey: `sample-${label}-${index}`, how, pairId, priceCents });
      }
    });
  }
  const given = await addStock(workshop, plan, { ...usual, ...inColours('Oat', 'Fir'), label: '40', quantity: 1 });
  await workshop.store.write('begin: a market of the sample season', async (tx) => {
    await endDay(tx, dayId);
    for (const pairId of given.ok ? given.value : []) {
      await changePair(tx, pairId, { left: 'given' });
      await createPairEvent(tx, { pairId, event: 'given' });
    }
  });
}

async function endDay(tx: Tx, fairDayId: number): Promise<void> {
  await changeFairDay(tx, fairDayId, { cashCents });
  await createAsked(tx, { fairDayId, size: '43', colour: 'grey', count: 2 });
  await createAsked(tx, { fairDayId, size: 'child 30', colour: null, count: 1 });
}
