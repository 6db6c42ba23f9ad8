import { AppError } from '#core/shared/app-error.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { StyleBody } from '#core/styles/style.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  addStyleVersion,
  createStyle,
  findStyle,
  listStyles,
  listStyleVersions,
  removeStyle,
  renameStyle,
} from '#db/stores/styles.ts';
import { missingStyles, type WorkshopStyle } from '#flows/styles/read-styles.ts';

const sameName = (name: string) => name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();

async function isTaken(tx: Tx, name: string, ownId: number | null): Promise<boolean> {
  const styles = await listStyles(tx);
  return styles.some((style) => style.id !== ownId && sameName(style.name) === sameName(name));
}

async function freeName(tx: Tx, wished: string): Promise<string> {
  for (let count = 1; ; count += 1) {
    const name = count === 1 ? wished : `${wished} ${count}`;
    if (!(await isTaken(tx, name, null))) return name;
  }
}

/** Adds the shipped styles that this workshop does not have. */
export async function addShippedStyles(workshop: Workshop): Promise<void> {
  await workshop.store.write('styles: add those that ship', async (tx) => {
    const rows = { styles: await listStyles(tx), styleVersions: await listStyleVersions(tx) };
    for (const body of missingStyles(rows)) {
      await createStyle(tx, { name: await freeName(tx, body.style), isShipped: true, body });
    }
  });
}

/** Adds a style of the workshop's own, under a name that is still free. */
export async function addOwnStyle(workshop: Workshop, body: StyleBody): Promise<{ readonly id: number }> {
  return await workshop.store.write('styles: add a style', async (tx) => {
    const name = await freeName(tx, body.style);
    const { id } = await createStyle(tx, { name, isShipped: false, body: { ...body, style: name } });
    return { id };
  });
}

const shippedStays = 'This style comes with the program and stays as it is. Copy it, and change the copy.';

/**
 * Saves an own style: a new version, which new pairs are knitted from. Older versions stay for the pairs begun from them.
 *
 * @param version the row's version when it was opened
 * @throws {AppError} `notFound`, or `conflict` where the style ships or somebody else was first
 */
export async function saveStyle(
  workshop: Workshop,
  id: number,
  body: StyleBody,
  version: number | undefined,
): Promise<Result<null>> {
  return await workshop.store.write('styles: save a style', async (tx) => {
    const row = await findStyle(tx, id);
    if (!row) throw new AppError('notFound', 'This style is not here; it may have been removed.');
    if (row.isShipped) throw new AppError('conflict', shippedStays);
    if (await isTaken(tx, body.style, id)) {
      const message = `There is a style “${body.style}” already. Give this one another name.`;
      return refuse({ code: 'styleTwice', path: 'style', message });
    }
    const saved = await addStyleVersion(tx, id, body, version);
    if (row.name !== body.style) await renameStyle(tx, id, body.style, saved.version);
    return succeed(null);
  });
}

/**
 * Takes an own style away, with its versions and materials.
 *
 * @param version the row's version when its page was opened
 * @throws {AppError} `conflict` where the style comes with the program, something uses it, or somebody else was first
 */
export async function removeOwnStyle(
  workshop: Workshop,
  { id, name, isShipped, usedBy }: WorkshopStyle,
  version: number | undefined,
): Promise<void> {
  if (isShipped) throw new AppError('conflict', 'This style comes with the program and stays.');
  if (usedBy !== '') throw new AppError('conflict', `“${name}” stays, since it is used by ${usedBy}.`);
  await workshop.store.write('styles: remove a style', async (tx) => {
    await removeStyle(tx, id, version);
  });
}
