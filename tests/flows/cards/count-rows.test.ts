import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changePair, listPairPieces, listPairRows, listPairs } from '#db/stores/batch.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { countRows, type Place, readTicks, tickStep } from '#flows/cards/count-rows.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
const foot: Place = { piece: 'foot', slipper: 1 };
let workshop: TestWorkshop;
let pairId: number;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  const { forFair } = await addSeason(workshop);
  const { revision } = await readWorkshop(workshop);
  await startBatch(workshop, await readPlan(workshop, now), {
    name: 'Winter',
    orderIds: [forFair.id],
    withSpares: false,
    revision,
  });
  pairId = (await workshop.store.read((db) => listPairs(db)))[0]!.id;
});
afterEach(() => workshop.discard());

const rowsDone = async (place: Place = foot) =>
  (await workshop.store.read((db) => listPairRows(db, pairId))).find(
    (row) => row.piece === place.piece && row.slipper === place.slipper,
  )?.rowsDone ?? 0;
const stageOf = async (piece: string) =>
  (await workshop.store.read((db) => listPairPieces(db))).find((row) => row.pairId === pairId && row.piece === piece)
    ?.stage;

describe('countRows', () => {
  it('keeps each press, each slipper for itself', async () => {
    expect(await countRows(workshop, pairId, foot, { by: 1 })).toBe(1);
    expect(await countRows(workshop, pairId, foot, { by: 1 })).toBe(2);
    expect(await countRows(workshop, pairId, { ...foot, slipper: 2 }, { by: 1 })).toBe(1);
    expect(await countRows(workshop, pairId, foot, { by: -1 })).toBe(1);
    expect(await rowsDone()).toBe(1);
    expect(await rowsDone({ ...foot, slipper: 2 })).toBe(1);
  });

  it('loses none of two people pressing at once', async () => {
    await Promise.all(Array.from({ length: 12 }, () => countRows(workshop, pairId, foot, { by: 1 })));
    expect(await rowsDone()).toBe(12);
  });

  it('stops at none and at the last row', async () => {
    expect(await countRows(workshop, pairId, foot, { by: -1 })).toBe(0);
    const { spec } = JSON.parse((await workshop.store.read((db) => listPairs(db)))[0]!.specJson);
    const last = spec.pieces[0].totalRows as number;
    expect(await countRows(workshop, pairId, foot, { setTo: last, seen: 0 })).toBe(last);
    expect(await countRows(workshop, pairId, foot, { by: 1 })).toBe(last);
  });

  it('takes a number typed in, over another press that lay below it', async () => {
    await countRows(workshop, pairId, foot, { by: 1 });
    expect(await countRows(workshop, pairId, foot, { setTo: 20, seen: 0 })).toBe(20);
  });

  it('takes rows away that were on the page, and refuses to take away others', async () => {
    await countRows(workshop, pairId, foot, { setTo: 20, seen: 0 });
    await expect(countRows(workshop, pairId, foot, { setTo: 8, seen: 7 })).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('Meanwhile row 20 was counted'),
    });
    expect(await rowsDone()).toBe(20);
    expect(await countRows(workshop, pairId, foot, { setTo: 8, seen: 20 })).toBe(8);
  });

  it('marks the piece begun at its first row, and no other', async () => {
    expect(await stageOf('foot')).toBe('waiting');
    await countRows(workshop, pairId, foot, { by: 1 });
    expect(await stageOf('foot')).toBe('begun');
    expect(await stageOf('cuff')).toBe('waiting');
  });

  it('refuses a piece or a pair that is not there, and keeps nothing', async () => {
    await expect(countRows(workshop, pairId, { piece: 'sleeve', slipper: 1 }, { by: 1 })).rejects.toMatchObject({
      code: 'notFound',
    });
    await expect(countRows(workshop, 999, foot, { by: 1 })).rejects.toMatchObject({ code: 'notFound' });
    await workshop.store.write('test', (tx) => changePair(tx, pairId, { left: 'lost' }));
    await expect(countRows(workshop, pairId, foot, { by: 1 })).rejects.toMatchObject({ code: 'conflict' });
    expect(await workshop.store.read((db) => listPairRows(db))).toEqual([]);
  });
});

describe('tickStep', () => {
  it('keeps ticks beside the rows, once each, and takes them away', async () => {
    const sewing: Place = { piece: 'sewing up', slipper: 1 };
    await tickStep(workshop, pairId, sewing, 'heel', true);
    await tickStep(workshop, pairId, sewing, 'top', true);
    await tickStep(workshop, pairId, sewing, 'heel', true);
    const ticks = async () => readTicks((await workshop.store.read((db) => listPairRows(db, pairId)))[0]!);
    expect([...(await ticks())].sort()).toEqual(['heel', 'top']);
    await tickStep(workshop, pairId, sewing, 'top', false);
    expect(await ticks()).toEqual(['heel']);
    expect(await stageOf('sewing up')).toBe('begun');
  });
});
