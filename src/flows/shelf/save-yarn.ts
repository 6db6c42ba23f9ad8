import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeYarn, createYarn, createYarnColour, listYarns, removeYarn, type YarnRow } from '#db/stores/shelf.ts';

export type YarnEntry = Omit<YarnRow, 'id' | 'version'>;
export type ColourEntry = { readonly name: string; readonly swatchHex: string };

const sameName = (a: string, b: string) => a.localeCompare(b, 'en', { sensitivity: 'accent' }) === 0;

async function refuseTakenName(tx: Tx, name: string, ownId: number | null) {
  const isTaken = (await listYarns(tx)).some((yarn) => yarn.id !== ownId && sameName(yarn.name, name));
  return isTaken
    ? refuse({
        code: 'nameTaken',
        path: 'name',
        message: `There is a yarn called ${name} already. Give this one another name.`,
      })
    : null;
}

/** Adds a yarn with its first colours. @returns the yarn's id */
export async function addYarn(
  { store }: Workshop,
  entry: YarnEntry,
  colours: readonly ColourEntry[],
): Promise<Result<number>> {
  return await store.write('shelf: add a yarn', async (tx) => {
    const refusal = await refuseTakenName(tx, entry.name, null);
    if (refusal) return refusal;
    const { id } = await createYarn(tx, entry);
    for (const colour of colours) await createYarnColour(tx, { ...colour, yarnId: id });
    return succeed(id);
  });
}

/** Changes what is known of a yarn; every plan uses it from now on. */
export async function saveYarn(
  { store }: Workshop,
  id: number,
  entry: YarnEntry,
  version: number | undefined,
): Promise<Result<number>> {
  return await store.write('shelf: change a yarn', async (tx) => {
    const refusal = await refuseTakenName(tx, entry.name, id);
    if (refusal) return refusal;
    await changeYarn(tx, id, entry, version);
    return succeed(id);
  });
}

/** Takes away a yarn that has no colours. @throws {AppError} `conflict` when something still needs it */
export async function dropYarn({ store }: Workshop, id: number, version: number | undefined): Promise<void> {
  await store.write('shelf: remove a yarn', (tx) => removeYarn(tx, id, version));
}
