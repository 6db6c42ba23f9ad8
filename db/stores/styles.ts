import { asc, eq, max } from 'drizzle-orm';
import type { StyleBody } from '#core/styles/style.ts';
import { materials, styleMaterials, styles, styleVersions } from '#db/schema/styles.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insert, type RowOf, remove, update } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type StyleRow = RowOf<typeof styles>;
export type StyleVersionRow = RowOf<typeof styleVersions>;
export type MaterialRow = RowOf<typeof materials>;
export type StyleMaterialRow = RowOf<typeof styleMaterials>;

/** In the order they were added: the usual slipper, which ships, comes first. */
export const { list: listStyles, find: findStyle } = rowsOf(styles, asc(styles.id));

/** Versions are never altered, and go only with their style: pairs on the needles point to them. */
export const { list: listStyleVersions, find: findStyleVersion } = rowsOf(
  styleVersions,
  asc(styleVersions.styleId),
  asc(styleVersions.number),
);

/** Adds a style with its first version. */
export async function createStyle(
  tx: Tx,
  style: { readonly name: string; readonly isShipped: boolean; readonly body: StyleBody },
): Promise<StyleRow> {
  const { id } = await insert(tx, styles, { name: style.name, isShipped: style.isShipped });
  return await addStyleVersion(tx, id, style.body);
}

/** Adds a version and makes it the current one. */
export async function addStyleVersion(tx: Tx, styleId: number, body: StyleBody, version?: number): Promise<StyleRow> {
  const [last] = await tx
    .select({ number: max(styleVersions.number) })
    .from(styleVersions)
    .where(eq(styleVersions.styleId, styleId));
  const added = await insert(tx, styleVersions, {
    styleId,
    number: (last?.number ?? 0) + 1,
    format: body.format,
    bodyJson: JSON.stringify(body),
  });
  return await update(tx, styles, styleId, { currentVersionId: added.id }, version);
}

export async function renameStyle(tx: Tx, styleId: number, name: string, version?: number): Promise<StyleRow> {
  return await update(tx, styles, styleId, { name }, version);
}

/** The version that new lines of a style are knitted from; null when there is no such style. */
export async function findCurrentVersion(from: Reader, styleId: number): Promise<StyleVersionRow | null> {
  const style = await findStyle(from, styleId);
  return style?.currentVersionId ? await findStyleVersion(from, style.currentVersionId) : null;
}

export const {
  list: listMaterials,
  find: findMaterial,
  create: createMaterial,
  change: changeMaterial,
  remove: removeMaterial,
} = rowsOf(materials, asc(materials.name));

export const {
  list: listStyleMaterials,
  create: createStyleMaterial,
  change: changeStyleMaterial,
  remove: removeStyleMaterial,
} = rowsOf(styleMaterials, asc(styleMaterials.styleId));

/**
 * Takes a style away with its versions and materials.
 *
 * @throws {AppError} `notFound`, or `conflict` when the version moved on, or an order, a pair or a price still points to it
 */
export async function removeStyle(tx: Tx, styleId: number, version?: number): Promise<void> {
  // The style points to its newest version, and every version to the style.
  const { version: now } = await update(tx, styles, styleId, { currentVersionId: null }, version);
  for (const { id } of await listStyleMaterials(tx, eq(styleMaterials.styleId, styleId))) {
    await removeStyleMaterial(tx, id);
  }
  for (const { id } of await listStyleVersions(tx, eq(styleVersions.styleId, styleId))) {
    await remove(tx, styleVersions, id);
  }
  await remove(tx, styles, styleId, now);
}
