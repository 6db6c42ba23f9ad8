import type { Day } from '#core/shared/calendar.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeSwatch, createSwatch } from '#db/stores/gauge.ts';
import { listSettings, setSetting } from '#db/stores/workshop.ts';

export type SwatchEntry = {
  readonly knitterId: number | null;
  readonly yarnId: number;
  readonly secondYarnId: number | null;
  readonly strands: number;
  readonly needleMm: number | null;
  readonly fabric: string;
  readonly stitches: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly massMg: number | null;
  readonly isWashed: boolean;
  readonly madeDay: Day | null;
  /** A square with a reason stays in the list and no longer counts. */
  readonly leftOutReason: string | null;
};

/** The scale is one for the whole workshop: a step that was entered with a swatch is its setting from then on. */
async function keepScaleStep(tx: Tx, scaleStepG: number | null): Promise<void> {
  if (scaleStepG === null || readSettings(await listSettings(tx)).scaleStepG === scaleStepG) return;
  await setSetting(tx, 'scaleStepG', scaleStepG);
}

/**
 * Adds a knitted square; whoever's it is plans with it from now on.
 *
 * @param scaleStepG the smallest step of the scale it was weighed on; null leaves the setting as it is
 */
export async function addSwatch(
  workshop: Workshop,
  entry: SwatchEntry,
  scaleStepG: number | null = null,
): Promise<number> {
  return await workshop.store.write('knitters: add a swatch', async (tx) => {
    await keepScaleStep(tx, scaleStepG);
    return (await createSwatch(tx, entry)).id;
  });
}

/** Changes a square, or leaves it out. @throws {AppError} `notFound`, `conflict` */
export async function saveSwatch(
  workshop: Workshop,
  id: number,
  entry: SwatchEntry,
  version: number | undefined,
  scaleStepG: number | null = null,
): Promise<void> {
  await workshop.store.write('knitters: change a swatch', async (tx) => {
    await keepScaleStep(tx, scaleStepG);
    await changeSwatch(tx, id, entry, version);
  });
}
