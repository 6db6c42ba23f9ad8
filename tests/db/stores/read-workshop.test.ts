import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readSettings } from '#core/shared/settings.ts';
import { createBatch, createPair, createPairColour, createPairPiece, findGatheringBatch } from '#db/stores/batch.ts';
import { listKnitterHours, listKnitterRates, setKnitterHours, setKnitterRates } from '#db/stores/knitters.ts';
import { changeOrder, listLines } from '#db/stores/orders.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { moveBall } from '#db/stores/shelf.ts';
import { addStyleVersion, findCurrentVersion, listStyleVersions } from '#db/stores/styles.ts';
import { findAnswer, listSettings, readState, saveAnswer, setSetting } from '#db/stores/workshop.ts';
import {
  addKnitter,
  addLot,
  addOffer,
  addOrder,
  addStyle,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

describe('readWorkshop', () => {
  test('an empty workshop has its name and nothing else', async () => {
    const { born, revision, ...lists } = await readWorkshop(workshop);
    expect({ born, revision }).toEqual(await workshop.store.read(readState));
    expect(Object.values(lists).every((list) => list.length === 0)).toBe(true);
  });

  test('has the open orders, full balls and pairs that count, and leaves the rest out', async () => {
    await workshop.store.write('test', async (tx) => {
      const style = await addStyle(tx);
      const { lot, balls } = await addLot(tx, [50_000, 20_000]);
      await moveBall(tx, { ballId: balls[1]!.id, changeMg: -20_000, reason: 'used', day: '2026-11-25' });
      await addOffer(tx, { yarnColourId: lot.yarnColourId });
      await addKnitter(tx);
      await setSetting(tx, 'wageCentsPerHour', 1250);
      const open = await addOrder(tx, { lines: [lineOf(style.id, lot.yarnColourId)] });
      const cancelled = await addOrder(tx, { lines: [lineOf(style.id, lot.yarnColourId)] });
      await changeOrder(tx, cancelled.id, { state: 'cancelled' });
      const batch = await createBatch(tx, { name: 'First', state: 'started', startedMs: tx.atMs });
      const lineIdOf = async (orderId: number) => (await listLines(tx, orderId))[0]!.id;
      const pairs: [string, number | null, 'handed over' | 'sold' | null][] = [
        ['stock', null, null],
        ['handed over', await lineIdOf(open.id), 'handed over'],
        ['sold from stock', null, 'sold'],
        ['of the cancelled, gone', await lineIdOf(cancelled.id), 'sold'],
        ['of the cancelled, here', await lineIdOf(cancelled.id), null],
      ];
      for (const [rank, [kind, lineId, left]] of pairs.entries()) {
        const pair = await createPair(tx, {
          batchId: batch.id,
          lineId,
          styleVersionId: style.currentVersionId!,
          kind,
          specJson: '{}',
          rank,
          left,
        });
        await createPairPiece(tx, { pairId: pair.id, piece: 'foot' });
        const { yarnColourId } = lot;
        await createPairColour(tx, { pairId: pair.id, role: 'foot', strand: 0, yarnColourId, allottedMg: 90_000 });
      }
    });
    const rows = await readWorkshop(workshop);
    expect(rows.orders.map((order) => order.number)).toEqual([1]);
    expect([rows.lines.length, rows.lineColours.length]).toEqual([1, 1]);
    expect(rows.balls.map((ball) => ball.massMg)).toEqual([50_000]);
    expect(rows.pairs.map((pair) => pair.kind)).toEqual(['stock', 'handed over', 'of the cancelled, here']);
    const ids = rows.pairs.map((pair) => pair.id);
    expect(rows.pairPieces.map((piece) => piece.pairId)).toEqual(ids);
    expect(rows.pairColours.map((colour) => colour.pairId)).toEqual(ids);
    expect([rows.offers.length, rows.suppliers.length, rows.knitters.length, rows.knitterHours.length]).toEqual([
      1, 1, 1, 7,
    ]);
    expect(readSettings(rows.settings).wageCentsPerHour).toBe(1250);
    expect(rows.revision).toBe(1);
  });
});

describe('addStyleVersion', () => {
  test('becomes the current one; the old one stays word for word', async () => {
    const style = await workshop.store.write('test', (tx) => addStyle(tx));
    const first = await workshop.store.read((db) => findCurrentVersion(db, style.id));
    const body = { ...JSON.parse(first!.bodyJson), make: 1 };
    await workshop.store.write('test', (tx) => addStyleVersion(tx, style.id, body, style.version));
    const second = await workshop.store.read((db) => findCurrentVersion(db, style.id));
    expect(second).toMatchObject({ number: 2, bodyJson: JSON.stringify(body) });
    expect((await workshop.store.read((db) => listStyleVersions(db)))[0]).toEqual(first);
  });
});

describe('knitters', () => {
  test('hours are set for the week and changed where they differ', async () => {
    const { id } = await workshop.store.write('test', (tx) => addKnitter(tx));
    await workshop.store.write('test', (tx) => setKnitterHours(tx, id, [0, 60, 60, 60, 60, 0, 90]));
    const hours = await workshop.store.read((db) => listKnitterHours(db));
    expect(hours.map((each) => each.minutes)).toEqual([0, 60, 60, 60, 60, 0, 90]);
    await expect(workshop.store.write('test', (tx) => setKnitterHours(tx, id, [60]))).rejects.toThrow(RangeError);
  });

  test('rates that are left out are as usual again', async () => {
    const { id } = await workshop.store.write('test', (tx) => addKnitter(tx));
    await workshop.store.write('test', (tx) => setKnitterRates(tx, id, { stitchesPerMin: 22, turnMin: 0.06 }));
    await workshop.store.write('test', (tx) => setKnitterRates(tx, id, { stitchesPerMin: 24, endMin: 2 }));
    const rates = await workshop.store.read((db) => listKnitterRates(db));
    expect(Object.fromEntries(rates.map((rate) => [rate.operation, rate.value]))).toEqual({
      stitchesPerMin: 24,
      endMin: 2,
    });
  });
});

describe('setSetting', () => {
  test('keeps one row a name; null gives the default back', async () => {
    const read = async () => (await workshop.store.read((db) => listSettings(db))).map((row) => row.valueJson);
    await workshop.store.write('test', (tx) => setSetting(tx, 'currency', 'GBP'));
    await workshop.store.write('test', (tx) => setSetting(tx, 'currency', 'CHF'));
    expect(await read()).toEqual(['"CHF"']);
    await workshop.store.write('test', (tx) => setSetting(tx, 'currency', null));
    expect(await read()).toEqual([]);
  });
});

describe('findGatheringBatch', () => {
  test('is the one that is being gathered, or none', async () => {
    expect(await workshop.store.read(findGatheringBatch)).toBeNull();
    await workshop.store.write('test', async (tx) => {
      await createBatch(tx, { name: 'Old', state: 'finished', startedMs: 1 });
      await createBatch(tx, { name: 'Now', state: 'gathering' });
    });
    expect((await workshop.store.read(findGatheringBatch))?.name).toBe('Now');
  });
});

describe('saveAnswer', () => {
  test('a better answer takes the place of the first', async () => {
    const answer = { problemHash: 'h', answerJson: '[1]', bound: 10.5, isProven: false };
    await workshop.store.write('test', (tx) => saveAnswer(tx, answer));
    await workshop.store.write('test', (tx) => saveAnswer(tx, { ...answer, answerJson: '[2]', isProven: true }));
    expect(await workshop.store.read((db) => findAnswer(db, 'h'))).toMatchObject({ answerJson: '[2]', isProven: true });
  });
});
