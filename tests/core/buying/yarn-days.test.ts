import { describe, expect, it } from 'vitest';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { quickestDays, readyDays, type YarnWanted } from '#core/buying/yarn-days.ts';
import { offerOf, planInputOf } from '#tests/support/plan-input.ts';

const shop = (id: number, deliveryDays: number) => ({ ...planInputOf([]).suppliers[0]!, id, deliveryDays });
const lot = (id: number, yarnColourId: number, grams: number): ShelfLot => ({
  id,
  yarnColourId,
  dyeLot: `lot ${id}`,
  freeMg: grams * 1000,
  paidCents: 500,
  boughtMg: 100_000,
});
const wants = (...yarn: readonly (readonly [number, number])[]): YarnWanted =>
  yarn.map(([yarnColourId, grams]) => ({ yarnColourId, grams }));

describe('quickestDays', () => {
  it('takes the quickest shop that has any, for each colour', () => {
    const offers = [
      offerOf(1, { supplierId: 1, yarnColourId: 1 }),
      offerOf(2, { supplierId: 2, yarnColourId: 1 }),
      offerOf(3, { supplierId: 2, yarnColourId: 2 }),
      offerOf(4, { supplierId: 3, yarnColourId: 2, stockPacks: 0 }),
      offerOf(5, { supplierId: 99, yarnColourId: 3 }),
    ];
    const quickest = quickestDays([shop(1, 5), shop(2, 3), shop(3, 1)], offers);
    expect([...quickest]).toEqual([
      [1, 3],
      [2, 3],
    ]);
  });
});

describe('readyDays', () => {
  const today = '2026-12-30';
  it('today from the shelf while it lasts, earlier pairs first, then when the shop delivers', () => {
    const pairs = [wants([1, 60]), wants([1, 60]), wants([1, 40])];
    const ready = readyDays(pairs, [lot(1, 1, 100)], new Map([[1, 4]]), today);
    expect(ready).toEqual([
      '2026-12-30',
      '2027-01-03', // 40 g left are too few
      '2026-12-30', // but enough for the next
    ]);
  });

  it('waits for a purchase on its way rather than for a new one, and leaves the shelf to who fits it', () => {
    const onWay = { ...lot(9, 1, 100), fromDay: '2027-01-02' };
    const pairs = [wants([1, 60]), wants([1, 60]), wants([1, 35]), wants([1, 60])];
    const ready = readyDays(pairs, [onWay, lot(1, 1, 95)], new Map([[1, 9]]), today);
    expect(ready).toEqual(['2026-12-30', '2027-01-02', '2026-12-30', '2027-01-08']);
  });

  it('waits for the slowest of its colours', () => {
    const quickest = new Map([
      [1, 2],
      [2, 9],
    ]);
    const ready = readyDays([wants([1, 60], [2, 20]), wants([1, 60])], [], quickest, today);
    expect(ready).toEqual(['2027-01-08', '2027-01-01']);
  });

  it('takes a colour that nobody sells as here', () => {
    expect(readyDays([wants([7, 60])], [], new Map(), today)[0]).toBe(today);
    expect(readyDays([wants()], [], new Map(), today)[0]).toBe(today);
  });
});
