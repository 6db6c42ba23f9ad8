import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import * as schema from '#db/schema/index.ts';
import { insert, type NewRowOf, type RecordTable } from '#db/stores/record.ts';
import {
  addKnitter,
  addLot,
  addOrder,
  addStyle,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

// One workshop with a row 1 in every table that others point to; each test adds one row to it, and takes none away.
let workshop: TestWorkshop;
beforeAll(async () => {
  workshop = await openTestWorkshop();
  await workshop.store.write('test', async (tx) => {
    const style = await addStyle(tx);
    const { lot } = await addLot(tx, [100_000]);
    await addKnitter(tx);
    await addOrder(tx, { lines: [lineOf(style.id, lot.yarnColourId)] });
    await insert(tx, schema.sizeBands, { name: 'S', person: 'woman', fromMm: 220, toMm: 235, rank: 0 });
    await insert(tx, schema.feet, { person: 'woman', leftLengthMm: 240, rightLengthMm: 242 });
    await insert(tx, schema.batches, { name: 'First', state: 'started', startedMs: 1 });
    await insert(tx, schema.suppliers, { name: 'Mill', shippingCents: 0, minimumCents: 0, deliveryDays: 0, rank: 0 });
  });
});
afterAll(() => workshop.discard());

/** A table, a row it takes, and what it must not take in that row's place. */
type Case = readonly [RecordTable, Record<string, unknown>, readonly Record<string, unknown>[]];

const cases: readonly Case[] = [
  [schema.customers, { name: 'Ines' }, [{ name: '' }, { name: '  ' }, { name: 'x'.repeat(201) }, { name: null }]],
  [
    schema.orders,
    { number: 2, outletId: 1, state: 'agreed', createdDay: '2026-11-25', dueDay: '2026-12-12' },
    [
      { number: 1 },
      { number: 0 },
      { number: 2.5 },
      { outletId: 99 },
      { state: 'lost' },
      { createdDay: null },
      { dueDay: '12.12.2026' },
      { dueDay: '2026-02-30' },
      { dueDay: '2026-13-01' },
      { dueDay: '2026-12-12 08:00' },
      { dueDay: '' },
      { depositCents: -1 },
      { depositCents: 10.5 },
    ],
  ],
  [
    schema.orderLines,
    { orderId: 1, styleId: 1, person: 'woman', sizeSystem: 'EU', sizeLabel: '38', fit: 'usual', quantity: 1 },
    [
      { quantity: 0 },
      { quantity: 1000 },
      { quantity: 1.5 },
      { sizeLabel: null },
      { person: null },
      { person: 'dog' },
      { bandId: 1 },
      { footId: 1 },
      { person: null, sizeSystem: null, sizeLabel: null },
      { person: null, sizeSystem: null, sizeLabel: null, bandId: 1, footId: 1 },
      { person: 'woman', sizeSystem: null, sizeLabel: null, bandId: 1 },
      { fit: 'tight' },
      { cuffHeightMm: -1 },
      { cuffHeightMm: 501 },
      { agreedCents: 0.5 },
    ],
  ],
  [
    schema.orderLines,
    { orderId: 1, styleId: 1, bandId: 1, fit: 'snug', quantity: 999, cuffHeightMm: 0 },
    [{ bandId: 99 }, { bandId: null }],
  ],
  [schema.orderLines, { orderId: 1, styleId: 1, footId: 1, fit: 'roomy', quantity: 2 }, [{ footId: 99 }]],
  [
    schema.lineColours,
    { lineId: 1, role: 'cuff', strand: 0, yarnColourId: 1 },
    [{ role: 'foot' }, { strand: -1 }, { role: '' }, { yarnColourId: 99 }],
  ],
  [
    schema.sizeBands,
    { name: '36/37', fromMm: 228.5, toMm: 240, rank: 1 },
    [{ fromMm: 250 }, { fromMm: 'wide' }, { toMm: 500 }, { rank: -1 }],
  ],
  [
    schema.feet,
    { person: 'child', leftLengthMm: 150, rightLengthMm: 151.5 },
    [{ person: null }, { leftLengthMm: 0 }, { leftLengthMm: 1500 }, { rightLengthMm: null }, { leftBallGirthMm: 1 }],
  ],
  [
    schema.styleVersions,
    { styleId: 1, number: 2, format: 1, bodyJson: '{}' },
    [{ number: 1 }, { bodyJson: 'not json' }, { format: 0 }],
  ],
  [schema.materials, { name: 'Button', eachCents: 0 }, [{ eachCents: -1 }, { eachCents: 1.5 }]],
  [
    schema.swatches,
    {
      yarnId: 1,
      strands: 1,
      fabric: 'stocking',
      stitches: 13.5,
      rows: 18,
      widthMm: 100,
      heightMm: 100,
      isWashed: false,
    },
    [
      { strands: 0 },
      { strands: 4 },
      { secondYarnId: 1 },
      { stitches: 0 },
      { rows: -1 },
      { widthMm: 0 },
      { massMg: 0 },
      { massMg: 12.5 },
      { isWashed: null },
      { needleMm: 0 },
    ],
  ],
  [
    schema.yarns,
    { name: 'Plain', tex: 500.5, ballMg: 50_000, category: 4 },
    [{ tex: 0 }, { tex: -1 }, { ballMg: 0 }, { ballMg: 0.5 }, { category: 8 }, { category: -1 }, { usualStrands: 4 }],
  ],
  [
    schema.yarnColours,
    { yarnId: 1, name: 'Marl', swatchHex: '#a1B2c3 #000000 #ffffff #123456' },
    [
      { swatchHex: 'green' },
      { swatchHex: '' },
      { swatchHex: '#12345' },
      { swatchHex: '#1234567' },
      { swatchHex: '#123456,#123456' },
      { swatchHex: '#123456  #123456' },
      { swatchHex: '#111111 #222222 #333333 #444444 #555555' },
      { swatchHex: '#12345g' },
    ],
  ],
  [
    schema.lots,
    { yarnColourId: 1, gotDay: '2026-11-25', paidCents: 0, boughtMg: 1 },
    [{ paidCents: -1 }, { boughtMg: 0 }, { gotDay: 'today' }, { worthCents: -5 }],
  ],
  [schema.balls, { lotId: 1, massMg: 0 }, [{ massMg: -1 }, { massMg: 0.5 }, { knitterId: 99 }]],
  [
    schema.ballMoves,
    { ballId: 1, changeMg: 5, reason: 'bought', day: '2026-11-25' },
    [
      { changeMg: 0 },
      { changeMg: -5 },
      { changeMg: 2.5 },
      { reason: 'used' },
      { reason: 'lost' },
      { reason: 'eaten' },
      { reason: 'wound off', changeMg: 0 },
      { day: null },
    ],
  ],
  [
    schema.suppliers,
    { name: 'Fold', shippingCents: 495, minimumCents: 0, deliveryDays: 3, rank: 0 },
    [{ name: 'Mill' }, { shippingCents: -1 }, { deliveryDays: -1 }, { deliveryDays: 2.5 }, { freeFromCents: -1 }],
  ],
  [
    schema.offers,
    { supplierId: 1, yarnColourId: 1, ballMg: 50_000, ballsPerPack: 10, priceCents: 4550 },
    [{ ballMg: 0 }, { ballsPerPack: 0 }, { priceCents: -1 }, { stockPacks: -1 }, { supplierId: 99 }],
  ],
  [
    schema.purchases,
    { supplierId: 1, state: 'ordered', orderedDay: '2026-11-25', expectedDay: '2026-11-25', shippingCents: 0 },
    [{ expectedDay: '2026-11-24' }, { state: 'asked' }],
  ],
  [
    schema.knitters,
    { name: 'Ruth', hand: 'tight', pairsAMonth: 0.5 },
    [{ hand: 'wild' }, { dailyCapMin: 1441 }, { pairsAMonth: 0 }, { lastDay: 'never' }, { words: 'welsh' }],
  ],
  [schema.knitterRates, { knitterId: 1, operation: 'turnMin', value: 0.05 }, [{ operation: 'hum' }, { value: 0 }]],
  [schema.daysOff, { fromDay: '2026-12-24', toDay: '2026-12-24' }, [{ toDay: '2026-12-23' }, { knitterId: 99 }]],
  [
    schema.batches,
    { name: 'Winter', state: 'gathering' },
    [{ startedMs: 5 }, { state: 'started' }, { state: 'asleep' }],
  ],
  [schema.batchLines, { batchId: 1, lineId: 1, quantity: 1 }, [{ quantity: 0 }, { batchId: 99 }]],
  [
    schema.pairs,
    { batchId: 1, lineId: 1, styleVersionId: 1, kind: 'k', specJson: '{}', rank: 0 },
    [{ left: 'away' }, { quality: 'fine' }, { specJson: '{' }, { rank: -1 }, { styleVersionId: 99 }],
  ],
  [
    schema.outlets,
    { name: 'Market', kind: 'fair', rank: 0, priceRule: 'margin', priceRatio: 0.99 },
    [
      { priceRatio: 1 },
      { priceRatio: -0.1 },
      { priceRule: 'fixed' },
      { fixedPriceCents: 100 },
      { feeRatio: 1 },
      { taxRatio: -0.1 },
      { endingCents: 100 },
      { endingCents: -1 },
      { depositRatio: 1.1 },
      { kind: 'stall' },
    ],
  ],
  [schema.expenses, { day: '2026-11-01', kind: 'rent', cents: 12_000 }, [{ cents: -1 }, { cents: 1.5 }, { day: '' }]],
  [schema.passphrase, { id: 1, hash: 'x' }, [{ id: 2 }, { hash: '' }, { hash: 'x'.repeat(201) }]],
  [
    schema.sessions,
    { tokenHash: 'x', bornMs: 1, lastSeenMs: 1, expiresMs: 2 },
    [{ tokenHash: '' }, { bornMs: -1 }, { lastSeenMs: 1.5 }, { expiresMs: null }],
  ],
  [schema.settings, { name: 'x', valueJson: '1' }, [{ valueJson: 'EUR' }]],
];

describe('tables', () => {
  const add = (table: RecordTable, row: Record<string, unknown>) =>
    workshop.store.write('test', (tx) => insert(tx, table, row as NewRowOf<RecordTable>));

  const all = cases.flatMap(([table, fine, bad]) =>
    bad.map((change) => ({ table, row: { ...fine, ...change }, title: JSON.stringify({ ...fine, ...change }) })),
  );

  test.each(all)('refuses $title', async ({ table, row }) => {
    await expect(add(table, row)).rejects.toThrow();
  });

  // Last, so that no bad row was refused only because a good one had its name.
  test.each(cases)('%# takes what each bad row was made from', async (table, fine) => {
    expect(await add(table, fine)).toMatchObject(fine);
  });

  test('one batch at a time is gathered', async () => {
    await expect(add(schema.batches, { name: 'Second', state: 'gathering' })).rejects.toMatchObject({
      code: 'conflict',
    });
    await add(schema.batches, { name: 'Third', state: 'started', startedMs: 2 });
  });
});
