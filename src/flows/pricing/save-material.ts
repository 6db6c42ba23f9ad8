import { AppError } from '#core/shared/app-error.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeMaterial,
  changeStyleMaterial,
  createMaterial,
  createStyleMaterial,
  listMaterials,
  listStyleMaterials,
  removeMaterial,
  removeStyleMaterial,
} from '#db/stores/styles.ts';

/** Something beside yarn that goes into each pair of one style or of several. */
export type MaterialEntry = {
  /** At least one. */
  readonly styleIds: readonly number[];
  readonly name: string;
  readonly eachCents: number;
  readonly perPair: number;
};

async function named(tx: Tx, name: string) {
  const wanted = name.toLowerCase();
  return (await listMaterials(tx)).find((each) => each.name.toLowerCase() === wanted);
}

/**
 * Adds a material to styles, those that have it already passed over; one of that name that other styles use is taken, at
 * its price.
 */
export async function addMaterial(workshop: Workshop, entry: MaterialEntry): Promise<Result<null>> {
  return await workshop.store.write('pricing: add a material', async (tx) => {
    const { styleIds, name, eachCents, perPair } = entry;
    const known = await named(tx, name);
    if (known && known.eachCents !== eachCents) {
      const message = `There is “${known.name}” at another price already: change it there, or choose another name.`;
      return refuse({ code: 'nameTwice', path: 'name', message });
    }
    const material = known ?? (await createMaterial(tx, { name, eachCents }));
    const uses = await listStyleMaterials(tx);
    const without = styleIds.filter(
      (styleId) => !uses.some((use) => use.styleId === styleId && use.materialId === material.id),
    );
    if (without.length === 0) {
      const where = styleIds.length === 1 ? 'this style' : 'every style';
      const message = `“${material.name}” is on the list of ${where} already: change it there.`;
      return refuse({ code: 'usedTwice', path: 'name', message });
    }
    for (const styleId of without) await createStyleMaterial(tx, { styleId, materialId: material.id, perPair });
    return succeed(null);
  });
}

async function findUse(tx: Tx, useId: number) {
  const use = (await listStyleMaterials(tx)).find((each) => each.id === useId);
  if (!use) throw new AppError('notFound', 'That material is not here; it may have been removed.');
  return use;
}

/** Changes a material and how much of it a pair takes. @throws {AppError} `notFound`, `conflict` */
export async function saveMaterial(
  workshop: Workshop,
  useId: number,
  entry: Omit<MaterialEntry, 'styleIds'>,
  version: number | undefined,
): Promise<Result<null>> {
  return await workshop.store.write('pricing: change a material', async (tx) => {
    const use = await findUse(tx, useId);
    const other = await named(tx, entry.name);
    if (other && other.id !== use.materialId) {
      const message = `There is “${other.name}” already: choose another name.`;
      return refuse({ code: 'nameTwice', path: 'name', message });
    }
    await changeMaterial(tx, use.materialId, { name: entry.name, eachCents: entry.eachCents }, version);
    await changeStyleMaterial(tx, useId, { perPair: entry.perPair });
    return succeed(null);
  });
}

/** Takes a material off a style; one that no style uses goes altogether. @throws {AppError} `notFound` */
export async function dropMaterial(workshop: Workshop, useId: number): Promise<void> {
  await workshop.store.write('pricing: take a material away', async (tx) => {
    const use = await findUse(tx, useId);
    await removeStyleMaterial(tx, useId);
    const isUsed = (await listStyleMaterials(tx)).some((each) => each.materialId === use.materialId);
    if (!isUsed) await removeMaterial(tx, use.materialId);
  });
}
