import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createPair, createPairColour } from '#db/stores/batch.ts';
import { createBall, listAllMoves, listBalls } from '#db/stores/shelf.ts';
import { unuseYarn, useYarn } from '#flows/batch/allot-yarn.ts';
import { addLot, addStyle, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

/** A pair that likely used 90 g of a lot with a ball of 60 g, here since the 2nd, and one of 80 g that came on a day. */
async function usePair(cameOn: string, day: string) {
  return await workshop.store.write('test', async (tx) => {
    const style = await addStyle(tx);
    const { lot } = await addLot(tx, [60_000]);
    await createBall(tx, { lotId: lot.id, massMg: 80_000, reason: 'bought', day: cameOn });
    const { yarnColourId } = lot;
    const specJson = JSON.stringify({ estimate: { yarn: [{ yarnColourId, grams: 90 }] } });
    const pair = await createPair(tx, { styleVersionId: style.currentVersionId!, kind: 'k', specJson, rank: 0 });
    const place = { pairId: pair.id, role: 'foot', strand: 0, yarnColourId, lotId: lot.id, allottedMg: 90_000 };
    const colours = [await createPairColour(tx, place)];
    await useYarn(tx, pair, colours, day);
    return { pair, colours };
  });
}
const massesMg = async () => (await workshop.store.read((db) => listBalls(db))).map((ball) => ball.massMg);

describe('useYarn', () => {
  it('takes the likely grams off the smallest balls first', async () => {
    await usePair('2026-11-10', '2026-11-25');
    // 60 g and 30 of the 80 g.
    expect(await massesMg()).toEqual([0, 50_000]);
  });

  it('loses no gram where a ball was written down with a day that is still to come', async () => {
    const { pair, colours } = await usePair('2026-12-01', '2026-11-25');
    expect(await massesMg()).toEqual([0, 50_000]);
    const moves = await workshop.store.read((db) => listAllMoves(db));
    expect(moves.filter(({ reason }) => reason === 'used').map(({ day }) => day)).toEqual(['2026-11-25', '2026-12-01']);
    await workshop.store.write('test', (tx) => unuseYarn(tx, pair, colours, '2026-11-26'));
    expect(await massesMg()).toEqual([60_000, 80_000]);
  });
});
