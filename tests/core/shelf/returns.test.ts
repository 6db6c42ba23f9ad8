import { describe, expect, it } from 'vitest';
import { lotsDueAtShop } from '#core/shelf/returns.ts';

const lot = (id: number, returnableUntilDay: string | null, massMg = 100) =>
  Object.freeze({ id, returnableUntilDay, massMg });

describe('lotsDueAtShop', () => {
  it('warns from a week before until the day itself, soonest first', () => {
    const lots = [
      lot(1, '2026-12-02'),
      lot(2, '2026-11-25'),
      lot(3, '2026-12-03'),
      lot(4, '2026-11-24'),
      lot(5, null),
      lot(6, '2026-11-25'),
    ];
    expect(lotsDueAtShop(lots, '2026-11-25').map(({ id }) => id)).toEqual([2, 6, 1]);
  });

  it('says nothing of yarn that is used up', () => {
    expect(lotsDueAtShop([lot(1, '2026-11-26', 0)], '2026-11-25')).toEqual([]);
  });
});
