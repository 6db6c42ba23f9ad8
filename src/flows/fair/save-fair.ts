import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeFair,
  changeFairDay,
  createFair,
  createFairDay,
  findFair,
  findFairDay,
  listAsked,
  listFairDays,
  listFairPairs,
  listSales,
  removeAsked,
  removeFair,
  removeFairDay,
  removeFairPair,
} from '#db/stores/fair.ts';

export type FairEntry = { readonly name: string; readonly outletId: number; readonly feeCents: number };
export type DayEntry = { readonly day: Day; readonly openMinutes: number | null; readonly floatCents: number };

/** Adds a fair with its first day. @returns the day's id */
export async function addFair(workshop: Workshop, entry: FairEntry & DayEntry): Promise<number> {
  const { name, outletId, feeCents, day, openMinutes, floatCents } = entry;
  return await workshop.store.write('fair: add a fair', async (tx) => {
    const fair = await createFair(tx, { name, outletId, feeCents });
    return (await createFairDay(tx, { fairId: fair.id, day, openMinutes, floatCents })).id;
  });
}

/** @throws {AppError} `notFound`, `conflict` */
export async function saveFair(
  workshop: Workshop,
  id: number,
  entry: FairEntry,
  version: number | undefined,
): Promise<void> {
  await workshop.store.write('fair: change a fair', async (tx) => {
    const fair = await findFair(tx, id);
    await changeFair(tx, id, entry, version);
    if (!fair || fair.outletId === entry.outletId) return;
    // What was sold stays where it was sold.
    const days = (await listFairDays(tx)).filter(({ fairId }) => fairId === id).map((day) => day.id);
    if ((await listSales(tx)).some(({ fairDayId }) => fairDayId !== null && days.includes(fairDayId))) {
      throw new AppError(
        'conflict',
        'Sales are noted at this fair already, so its outlet stays. Add another fair for another outlet.',
      );
    }
  });
}

async function refuseDayTwice(tx: Tx, fairId: number, day: Day, id: number | null) {
  const other = (await listFairDays(tx)).find((each) => each.fairId === fairId && each.day === day && each.id !== id);
  if (!other) return null;
  const message = `${formatDay(day)} is there already: choose another day.`;
  return refuse({ code: 'dayTwice', path: 'day', message });
}

/** Adds a day to a fair. @throws {AppError} `notFound` */
export async function addDay(workshop: Workshop, fairId: number, entry: DayEntry): Promise<Result<number>> {
  return await workshop.store.write('fair: add a day', async (tx) => {
    if (!(await findFair(tx, fairId)))
      throw new AppError('notFound', 'That fair is not here; it may have been removed.');
    const twice = await refuseDayTwice(tx, fairId, entry.day, null);
    return twice ?? succeed((await createFairDay(tx, { fairId, ...entry })).id);
  });
}

/** Changes a day; its sales go along. @throws {AppError} `notFound`, `conflict` */
export async function saveDay(
  workshop: Workshop,
  id: number,
  entry: DayEntry,
  version: number | undefined,
): Promise<Result<number>> {
  return await workshop.store.write('fair: change a day', async (tx) => {
    const day = await findFairDay(tx, id);
    if (!day) throw new AppError('notFound', 'That day is not here; it may have been removed.');
    if (day.day !== entry.day && (await listSales(tx)).some(({ fairDayId }) => fairDayId === id)) {
      const message = 'Sales are noted on this day already, so it stays. Add the other day to the fair.';
      return refuse({ code: 'hasSales', path: 'day', message });
    }
    const twice = await refuseDayTwice(tx, day.fairId, entry.day, id);
    if (twice) return twice;
    await changeFairDay(tx, id, entry, version);
    return succeed(id);
  });
}

/** Takes a day without sales away, and its fair with the last of its days. @throws {AppError} `notFound`, `conflict` */
export async function dropDay(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('fair: take a day away', async (tx) => {
    const day = await findFairDay(tx, id);
    if (!day) throw new AppError('notFound', 'That day is not here; it may have been removed.');
    if ((await listSales(tx)).some(({ fairDayId }) => fairDayId === id)) {
      throw new AppError('conflict', 'Sales are noted on this day, so it cannot be taken away.');
    }
    for (const pair of await listFairPairs(tx)) if (pair.fairDayId === id) await removeFairPair(tx, pair.id);
    for (const wish of await listAsked(tx)) if (wish.fairDayId === id) await removeAsked(tx, wish.id);
    await removeFairDay(tx, id, version);
    const isLast = (await listFairDays(tx)).every(({ fairId }) => fairId !== day.fairId);
    if (isLast) await removeFair(tx, day.fairId);
  });
}
