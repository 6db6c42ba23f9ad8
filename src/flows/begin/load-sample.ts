import type { Day } from '#core/shared/calendar.ts';
import { type Result, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { addSample, sampleSetting } from '#db/sample.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { notEmpty } from '#flows/begin/begin-own.ts';
import { addFirstRows } from '#flows/begin/first-rows.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';
import { addSampleMarket } from '#flows/begin/sample-market.ts';
import { addSampleShop } from '#flows/begin/sample-shop.ts';
import { addSampleYarn } from '#flows/begin/sample-yarn.ts';
import { planRows } from '#flows/read-plan.ts';

/** Fills an empty workshop with the sample season, its dates reckoned from today. Never mixed with anybody's own work. */
export async function loadSample(
  workshop: Workshop,
  { today, timeZone }: { readonly today: Day; readonly timeZone?: string },
): Promise<Result<null>> {
  if (!isEmpty(await readWorkshop(workshop))) return notEmpty;
  await workshop.store.write('begin: the sample season', async (tx) => {
    const { style, bands } = await addFirstRows(tx);
    await addSample(tx, { today, style, bands });
    if (timeZone) await setSetting(tx, 'timeZone', timeZone);
  });
  // Its pairs are knitted in the plan's own counts, so they come after it.
  const plan = planRows(await readWorkshop(workshop), today);
  await addSampleMarket(workshop, plan);
  await addSampleShop(workshop, plan);
  await addSampleYarn(workshop, plan);
  // The last of it: whatever is written from here on is somebody's own.
  await workshop.store.write('begin: mark the sample season', (tx) => setSetting(tx, sampleSetting, true));
  return succeed(null);
}
