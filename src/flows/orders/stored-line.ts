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
  return [foot.person, foot.leftLengthMm, foot.rightLengthMm, foot.ballGirthMm, foot.heelAnkleGirthMm].join('/');
}

/** A stored pair of feet as it would be entered: the form asks girths once, the left foot's. */
export function footEntryOf(row: FootRow): FootEntry {
  return {
    by: 'foot',
    person: row.person,
    leftLengthMm: row.leftLengthMm,
    rightLengthMm: row.rightLengthMm,
    ballGirthMm: row.leftBallGirthMm,
    heelAnkleGirthMm: row.leftHeelAnkleGirthMm,
  };
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
    [...distinct.values()].map(({ customerId, foot }) => ({
      customerId,
      person: foot.person,
      leftLengthMm: foot.leftLengthMm,
      rightLengthMm: foot.rightLengthMm,
      leftBallGirthMm: foot.ballGirthMm,
      rightBallGirthMm: foot.ballGirthMm,
      leftHeelAnkleGirthMm: foot.heelAnkleGirthMm,
      rightHeelAnkleGirthMm: foot.heelAnkleGirthMm,
    })),
  );
  const ids = new Map([...distinct.keys()].map((key, index) => [key, added[index]!.id]));
  return (customerId, foot) => ids.get(keyOf(customerId, foot))!;
}

/** The columns of a line; `footId` where its size is a measured pair of feet. */
export function lineColumns(entry: LineEntry, footId: number | null): NewLine {
  const { size, styleId, fit, cuffHeightMm, quantity, agreedCents, colours } = entry;
  const rest = { styleId, fit, cuffHeightMm, quantity, agreedCents, colours };
  const none = { person: null, sizeSystem: null, sizeLabel: null, bandId: null, footId: null };
  switch (size.by) {
    case 'label':
      return { ...none, ...rest, person: size.person, sizeSystem: size.system, sizeLabel: size.label };
    case 'band':
      return { ...none, ...rest, bandId: size.bandId };
    case 'foot':
      return { ...none, ...rest, footId };
  }
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
