import type { Workshop } from '#db/open.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { heldByQuotes } from '#flows/orders/quote-place.ts';
import { readPlan } from '#flows/read-plan.ts';

/**
 * Gives free yarn of the shelf to pairs that are begun and wait for it, but for what quotes hold.
 *
 * @returns how many pairs got some
 */
export async function giveOutYarn(workshop: Workshop, now: Date): Promise<number> {
  const held = heldByQuotes(await readPlan(workshop, now));
  return await workshop.store.write('batch: give out yarn', (tx) => allotWaiting(tx, held));
}
