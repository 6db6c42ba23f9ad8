import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { changeYarnColour, createYarnColour, listYarnColours, removeYarnColour } from '#db/stores/shelf.ts';
import type { ColourEntry } from '#flows/shelf/save-yarn.ts';

const sameName = (a: string, b: string) => a.localeCompare(b, 'en', { sensitivity: 'accent' }) === 0;

/** Adds colours to a yarn; each entry comes with the path of its name field. */
export async function addColours(
  { store }: Workshop,
  yarnId: number,
  entries: readonly (ColourEntry & { readonly path: string })[],
): Promise<Result<readonly number[]>> {
  return await store.write('shelf: add colours', async (tx) => {
    const there = (await listYarnColours(tx)).filter((colour) => colour.yarnId === yarnId);
    const problems: Problem[] = entries
      .filter(({ name }) => there.some((colour) => sameName(colour.name, name)))
      .map(({ name, path }) => ({
        code: 'nameTaken',
        path,
        message: `${name} is there already. Give this colour another name.`,
      }));
    if (problems.length > 0) return refuse(...problems);
    const ids: number[] = [];
    for (const { name, swatchHex } of entries) ids.push((await createYarnColour(tx, { yarnId, name, swatchHex })).id);
    return succeed(ids);
  });
}

/** Changes a colour's name or chip. */
export async function saveColour(
  { store }: Workshop,
  id: number,
  entry: ColourEntry & { readonly path: string },
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('shelf: change a colour', async (tx) => {
    const { name, swatchHex, path } = entry;
    const all = await listYarnColours(tx);
    const yarnId = all.find((colour) => colour.id === id)?.yarnId;
    if (all.some((colour) => colour.id !== id && colour.yarnId === yarnId && sameName(colour.name, name))) {
      return refuse({ code: 'nameTaken', path, message: `${name} is there already. Give this colour another name.` });
    }
    await changeYarnColour(tx, id, { name, swatchHex }, version);
    return succeed(id);
  });
}

/** Takes away a colour that nothing uses. @throws {AppError} `conflict` when something still needs it */
export async function dropColour({ store }: Workshop, id: number, version: number | undefined): Promise<void> {
  await store.write('shelf: remove a colour', (tx) => removeYarnColour(tx, id, version));
}
