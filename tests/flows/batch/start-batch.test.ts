import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listBatches, listPairColours, listPairs } from '#db/stores/batch.ts';
import { changeLine, listLines } from '#db/stores/orders.ts';
import { listReservations } from '#db/stores/shelf.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { readState } from '#db/stores/workshop.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { putOnShelf } from '#flows/shelf/put-on-shelf.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
});
afterEach(() => workshop.discard());

const wishFor = (workshopPlan: WorkshopPlan) => ({
  name: 'Winter',
  orderIds: [1, 2],
  withSpares: true,
  revision: workshopPlan.rows.revision,
});

async function stored() {
  return workshop.store.read(async (db) => ({
    state: await readState(db),
    batches: await listBatches(db),
    pairs: await listPairs(db),
    colours: await listPairColours(db),
    reservations: await listReservations(db),
  }));
}

describe('startBatch', () => {
  it('leaves nothing behind when the last pair cannot be stored', async () => {
    const real = await readPlan(workshop, now);
    const before = await stored();
    // A lot that is not there: the database refuses it after the batch and its pairs were written.
    const shelf = real.input.shelf.map((lot) => ({ ...lot, id: 9999 }));
    const broken = { ...real, input: { ...real.input, shelf } };
    await expect(startBatch(workshop, broken, wishFor(real))).rejects.toThrow();
    expect(await stored()).toEqual(before);
  });

  it('allots whole milligrams that make up what the pair wants of a colour', async () => {
    const workshopPlan = await readPlan(workshop, now);
    await startBatch(workshop, workshopPlan, wishFor(workshopPlan));
    const { colours } = await stored();
    expect(colours.every(({ allottedMg }) => Number.isInteger(allottedMg) && allottedMg > 0)).toBe(true);
    // One strand for the foot and one for the cuff of each of three pairs.
    expect(colours).toHaveLength(6);
  });

  it('keeps both feet of a pair where they differ', async () => {
    await workshop.store.write('test: two feet', async (tx) => {
      const [line] = await listLines(tx, 1);
      const foot = await createFoot(tx, { person: 'woman', leftLengthMm: 240, rightLengthMm: 252 });
      await changeLine(tx, line!.id, {
        person: null,
        sizeSystem: null,
        sizeLabel: null,
        bandId: null,
        footId: foot.id,
      });
    });
    const before = await readPlan(workshop, now);
    const wished = before.plan.wanted.pairs.find((pair) => pair.kind.shape.right !== null)!;
    await startBatch(workshop, before, wishFor(before));
    const after = await readPlan(workshop, now);
    const begun = after.input.started.find((pair) => pair.kind.shape.right !== null)!;
    expect(begun.kind.key).toBe(wished.kind.key);
  });

  it('does not start a pair that nobody has time for', async () => {
    const real = await readPlan(workshop, now);
    const idle = { ...real, rows: { ...real.rows, knitters: [] } };
    const result = await startBatch(workshop, idle, wishFor(real));
    expect(result.ok).toBe(false);
    expect((await stored()).batches).toEqual([]);
  });
});

describe('allotWaiting', () => {
  it('gives waiting pairs yarn of the first lot that has enough for them, and puts it aside', async () => {
    const workshopPlan = await readPlan(workshop, now);
    await startBatch(workshop, workshopPlan, wishFor(workshopPlan));
    const waiting = (await stored()).colours.filter(({ lotId, yarnColourId }) => lotId === null && yarnColourId === 2);
    expect(waiting.length).toBeGreaterThan(0);
    const put = await putOnShelf(workshop, {
      yarnColourId: 2,
      dyeLot: '12',
      donor: null,
      reason: 'bought',
      gotDay: '2026-11-26',
      returnableUntilDay: null,
      paidCents: 910,
      worthCents: null,
      ballsMg: [100_000],
    });
    const lotId = put.ok ? put.value : null;
    const helped = await workshop.store.write('test', (tx) => allotWaiting(tx));
    expect(helped).toBe(1);
    const after = await stored();
    const own = after.colours.filter((colour) => colour.lotId === lotId);
    expect(own.map(({ id }) => id)).toEqual(waiting.map(({ id }) => id));
    const promised = after.reservations.find((each) => each.lotId === lotId)!.massMg;
    expect(promised).toBe(own.reduce((sum, { allottedMg }) => sum + allottedMg, 0));
    expect(await workshop.store.write('test', (tx) => allotWaiting(tx))).toBe(0);
  });
});
