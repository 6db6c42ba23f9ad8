import { asc, eq } from 'drizzle-orm';
import type { Rates } from '#core/timing/knitter.ts';
import { daysOff, knitterHours, knitterRates, knitters } from '#db/schema/knitters.ts';
import type { Tx } from '#db/store.ts';
import { insert, type RowOf, remove, update } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type KnitterRow = RowOf<typeof knitters>;
export type KnitterRateRow = RowOf<typeof knitterRates>;
export type KnitterHoursRow = RowOf<typeof knitterHours>;
export type DaysOffRow = RowOf<typeof daysOff>;

export const {
  list: listKnitters,
  find: findKnitter,
  create: createKnitter,
  change: changeKnitter,
} = rowsOf(knitters, asc(knitters.name));

export const { list: listKnitterRates } = rowsOf(knitterRates, asc(knitterRates.knitterId));
export const { list: listKnitterHours } = rowsOf(knitterHours, asc(knitterHours.knitterId), asc(knitterHours.weekday));

export const {
  list: listDaysOff,
  find: findDaysOff,
  create: createDaysOff,
  change: changeDaysOff,
  remove: removeDaysOff,
} = rowsOf(daysOff, asc(daysOff.fromDay));

/** Sets a knitter's minutes for the week. @param minutesByWeekday seven whole numbers, Monday first */
export async function setKnitterHours(tx: Tx, knitterId: number, minutesByWeekday: readonly number[]): Promise<void> {
  if (minutesByWeekday.length !== 7) {
    throw new RangeError(`setKnitterHours: minutesByWeekday must have 7 entries, got ${minutesByWeekday.length}`);
  }
  const there = await listKnitterHours(tx, eq(knitterHours.knitterId, knitterId));
  for (const [index, minutes] of minutesByWeekday.entries()) {
    const row = there.find((each) => each.weekday === index + 1);
    if (!row) await insert(tx, knitterHours, { knitterId, weekday: index + 1, minutes });
    else if (row.minutes !== minutes) await update(tx, knitterHours, row.id, { minutes });
  }
}

/** Sets what is known of a knitter's own rates; an operation that is left out is as usual again. */
export async function setKnitterRates(tx: Tx, knitterId: number, rates: Partial<Rates>): Promise<void> {
  const there = await listKnitterRates(tx, eq(knitterRates.knitterId, knitterId));
  for (const row of there) {
    if (rates[row.operation] === undefined) await remove(tx, knitterRates, row.id);
  }
  for (const [operation, value] of Object.entries(rates) as [keyof Rates, number | undefined][]) {
    if (value === undefined) continue;
    const row = there.find((each) => each.operation === operation);
    if (!row) await insert(tx, knitterRates, { knitterId, operation, value });
    else if (row.value !== value) await update(tx, knitterRates, row.id, { value });
  }
}
