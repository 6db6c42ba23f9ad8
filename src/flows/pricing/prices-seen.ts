import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import { createPriceSeen, listPricesSeen, type PriceSeenRow, removePriceSeen } from '#db/stores/pricing.ts';

/** What others ask, as it was noted; no part of any price. */
export type SeenEntry = {
  readonly day: Day;
  readonly place: string;
  readonly what: string;
  readonly cents: number;
};

export async function addPriceSeen(workshop: Workshop, entry: SeenEntry): Promise<void> {
  await workshop.store.write('pricing: note a price seen elsewhere', (tx) => createPriceSeen(tx, entry));
}

/** @throws {AppError} `notFound`, `conflict` */
export async function dropPriceSeen(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: take a price seen away', (tx) => removePriceSeen(tx, id, version));
}

/** The notes, latest first. */
export async function readPricesSeen(workshop: Workshop): Promise<readonly PriceSeenRow[]> {
  return await workshop.store.read(async (db) => listPricesSeen(db));
}

/** From the least to the most that others ask; null without a note. */
export type SeenRange = { readonly leastCents: number; readonly mostCents: number; readonly count: number };

export function rangeOfSeen(seen: readonly PriceSeenRow[]): SeenRange | null {
  if (seen.length === 0) return null;
  const amounts = seen.map(({ cents }) => cents);
  return { leastCents: Math.min(...amounts), mostCents: Math.max(...amounts), count: seen.length };
}
