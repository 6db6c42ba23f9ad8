import { afterEach, beforeEach, expect, it } from 'vitest';
import { changePairColour, createPairColour, listPairColours } from '#db/stores/batch.ts';
import { changeLine } from '#db/stores/orders.ts';
import { changedPairs } from '#flows/batch/changed-orders.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  const plan = await readPlan(workshop, now);
  await startBatch(workshop, plan, {
    name: 'Winter',
    orderIds: [1, 2],
    withSpares: false,
    revision: plan.rows.revision,
  });
});
afterEach(() => workshop.discard());

/** Takes half of every strand that has its yarn from another row of the shelf: of the same dye lot, or of another. */
async function splitStrands(dyeLot: string): Promise<number> {
  return workshop.store.write('test: two rows', async (tx) => {
    const { lot } = await addLot(tx, [400_000], { yarnColourId: 1, dyeLot });
    const rows = (await listPairColours(tx)).filter(({ lotId }) => lotId === 1);
    for (const { id, pairId, role, strand, yarnColourId, allottedMg } of rows) {
      const half = Math.floor(allottedMg / 2);
      await changePairColour(tx, id, { allottedMg: allottedMg - half });
      await createPairColour(tx, { pairId, role, strand, yarnColourId, lotId: lot.id, allottedMg: half });
    }
    return rows.length;
  });
}
const changed = async () => changedPairs(await readPlan(workshop, now)).flatMap(({ words }) => words);

it.each(['4471', '31'])('a strand on two rows of the shelf, lots 4471 and %s, is no changed colour', async (dyeLot) => {
  expect(await splitStrands(dyeLot)).toBeGreaterThan(0);
  expect(await changed()).toEqual([]);
});

it('a strand on two rows whose order asks for another size still is told of, without its colour', async () => {
  await splitStrands('4471');
  await workshop.store.write('test: another fit', (tx) => changeLine(tx, 1, { fit: 'snug' }));
  const words = await changed();
  expect(words.some((each) => each.startsWith('Fit: begun as'))).toBe(true);
  expect(words.join(' ')).not.toContain('Colour of');
});
