import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { createDaysOff, removeDaysOff } from '#db/stores/knitters.ts';

/** Days without knitting, both ends included; without a knitter they are everybody's. */
export async function addDaysOff(
  workshop: Workshop,
  entry: { readonly knitterId: number | null; readonly fromDay: Day; readonly toDay: Day },
): Promise<void> {
  await workshop.store.write('knitters: add days off', (tx) => createDaysOff(tx, entry));
}

/** Takes days off away again. @throws {AppError} `notFound`, `conflict` */
export async function dropDaysOff(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('knitters: take days off away', (tx) => removeDaysOff(tx, id, version));
}
