import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { changeSwatch, createSwatch } from '#db/stores/gauge.ts';

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

/** Adds a knitted square; whoever's it is plans with it from now on. */
export async function addSwatch(workshop: Workshop, entry: SwatchEntry): Promise<number> {
  return await workshop.store.write('knitters: add a swatch', async (tx) => (await createSwatch(tx, entry)).id);
}

/** Changes a square, or leaves it out. @throws {AppError} `notFound`, `conflict` */
export async function saveSwatch(
  workshop: Workshop,
  id: number,
  entry: SwatchEntry,
  version: number | undefined,
): Promise<void> {
  await workshop.store.write('knitters: change a swatch', (tx) => changeSwatch(tx, id, entry, version));
}
