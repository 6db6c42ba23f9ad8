import { ageSystem } from '#core/sizing/stored-size.ts';
import { feet } from '#db/schema/sizing.ts';
import type { Tx } from '#db/store.ts';
import { createCustomer, listCustomers, type NewLine } from '#db/stores/orders.ts';
import { insertAll } from '#db/stores/record.ts';
import type { FootRow } from '#db/stores/sizing.ts';
import type { LineEntry, SizeEntry } from '#flows/orders/entries.ts';
import { sameName } from '#flows/orders/known-names.ts';

type FootEntry = Extract<SizeEntry, { by: 'foot' }>;

/** The customer of a name, added when there is none; null without a name. */
export async function customerIdOf(tx: Tx, name: string | null): Promise<number | null> {
  if (name === null) return null;
  const known = (await listCustomers(tx)).find((customer) => sameName(customer.name) === sameName(name));
  return known ? known.id : (await createCustomer(tx, { name })).id;
}

/** A name for equal pairs of feet. */
export function footKey(foot: FootEntry): string {
  const { person, leftLengthMm, rightLengthMm } = foot;
  const girths = [foot.leftBallGirthMm, foot.rightBallGirthMm, foot.leftHeelAnkleGirthMm, foot.rightHeelAnkleGirthMm];
  return [person, leftLengthMm, rightLengthMm, ...girths].join('/');
}

/** A stored pair of feet as it would be entered. */
export function footEntryOf(row: FootRow): FootEntry {
  return {
    by: 'foot',
    person: row.person,
    leftLengthMm: row.leftLengthMm,
    rightLengthMm: row.rightLengthMm,
    leftBallGirthMm: row.leftBallGirthMm,
    rightBallGirthMm: row.rightBallGirthMm,
    leftHeelAnkleGirthMm: row.leftHeelAnkleGirthMm,
    rightHeelAnkleGirthMm: row.rightHeelAnkleGirthMm,
  };
}

/** The columns of measured feet, as `feet` keeps them. */
export function footColumns({ by: _, ...measures }: FootEntry) {
  return measures;
}

/**
 * Stores measured feet, equal ones of one customer once, and says which row each has.
 *
 * @param wanted feet and whose they are
 */
export async function storeFeet(
  tx: Tx,
  wanted: readonly { readonly customerId: number | null; readonly foot: FootEntry }[],
): Promise<(customerId: number | null, foot: FootEntry) => number> {
  const keyOf = (customerId: number | null, foot: FootEntry) => `${customerId}/${footKey(foot)}`;
  const distinct = new Map(wanted.map(({ customerId, foot }) => [keyOf(customerId, foot), { customerId, foot }]));
  const added = await insertAll(
    tx,
    feet,
    [...distinct.values()].map(({ customerId, foot }) => ({ customerId, ...footColumns(foot) })),
  );
  const ids = new Map([...distinct.keys()].map((key, index) => [key, added[index]!.id]));
  return (customerId, foot) => ids.get(keyOf(customerId, foot))!;
}

/** The columns that keep a size; `footId` where it is a measured pair of feet. */
export function sizeColumns(size: SizeEntry, footId: number | null) {
  const none = { person: null, sizeSystem: null, sizeLabel: null, bandId: null, footId: null };
  switch (size.by) {
    case 'label':
      return { ...none, person: size.person, sizeSystem: size.system, sizeLabel: size.label };
    case 'age':
      return { ...none, person: 'child' as const, sizeSystem: ageSystem, sizeLabel: String(size.years) };
    case 'band':
      return { ...none, bandId: size.bandId };
    case 'foot':
      return { ...none, footId };
  }
}

/** The columns of a line; `footId` where its size is a measured pair of feet. */
export function lineColumns(entry: LineEntry, footId: number | null): NewLine {
  const { size, ...rest } = entry;
  return { ...sizeColumns(size, footId), ...rest };
}

/** Lines of one customer ready to be stored, with their measured feet stored before them. */
export async function newLinesOf(
  tx: Tx,
  customerId: number | null,
  entries: readonly LineEntry[],
): Promise<readonly NewLine[]> {
  const wanted = entries.flatMap(({ size }) => (size.by === 'foot' ? [{ customerId, foot: size }] : []));
  const footIdOf = await storeFeet(tx, wanted);
  return entries.map((entry) => lineColumns(entry, entry.size.by === 'foot' ? footIdOf(customerId, entry.size) : null));
}
