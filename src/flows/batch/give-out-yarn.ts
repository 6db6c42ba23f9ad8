import type { Workshop } from '#db/open.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';

/** Gives free yarn of the shelf to pairs that are begun and wait for it. @returns how many pairs got some */
export async function giveOutYarn({ store }: Workshop): Promise<number> {
  return await store.write('batch: give out yarn', (tx) => allotWaiting(tx));
}
