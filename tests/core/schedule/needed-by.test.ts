import { describe, expect, it } from 'vitest';
import type { Assignment } from '#core/schedule/assign.ts';
import { neededBy } from '#core/schedule/needed-by.ts';

const row = (pairKey: string, startDay: string, finishDay: string, knitterId = 1): Assignment => ({
  pairKey,
  knitterId,
  minutes: 200,
  startDay,
  finishDay,
  reason: null,
});
const dueIn = (due: Record<string, string>) => (pairKey: string) => due[pairKey] ?? null;

describe('neededBy', () => {
  it('is the start and the days to spare', () => {
    const latest = neededBy([row('a', '2026-12-01', '2026-12-03')], dueIn({ a: '2026-12-10' }));
    expect([...latest]).toEqual([['a', '2026-12-08']]);
  });

  it('looks at all that comes after in her row: the least to spare counts', () => {
    const rows = [
      row('a', '2026-12-01', '2026-12-03'),
      row('b', '2026-12-03', '2026-12-06'),
      row('c', '2026-12-06', '2026-12-09'),
    ];
    // To spare: a 17, b 2, c 6 days; nothing may shift b by more than 2, c itself has 6.
    const latest = neededBy(rows, dueIn({ a: '2026-12-20', b: '2026-12-08', c: '2026-12-15' }));
    expect(Object.fromEntries(latest)).toEqual({ a: '2026-12-03', b: '2026-12-05', c: '2026-12-12' });
    // The order of the list is no matter.
    const again = neededBy([...rows].reverse(), dueIn({ a: '2026-12-20', b: '2026-12-08', c: '2026-12-15' }));
    expect(Object.fromEntries(again)).toEqual(Object.fromEntries(latest));
  });

  it('what is late already has nothing to spare, nor what stands before it', () => {
    const rows = [row('a', '2026-12-01', '2026-12-03'), row('b', '2026-12-03', '2026-12-09')];
    const latest = neededBy(rows, dueIn({ a: '2026-12-20', b: '2026-12-05' }));
    expect(Object.fromEntries(latest)).toEqual({ a: '2026-12-01', b: '2026-12-03' });
  });

  it('has no hurry where nothing is due any more', () => {
    const rows = [row('a', '2026-12-01', '2026-12-03'), row('b', '2026-12-03', '2026-12-09')];
    expect(Object.fromEntries(neededBy(rows, dueIn({ a: '2026-12-05' })))).toEqual({ a: '2026-12-03' });
  });

  it('keeps knitters apart and leaves out what nobody knits', () => {
    const rows = [
      row('a', '2026-12-01', '2026-12-03', 1),
      row('b', '2026-12-03', '2026-12-09', 2),
      { ...row('c', '2026-12-01', '2026-12-03'), knitterId: null },
      { ...row('d', '2026-12-01', '2026-12-03'), startDay: null, finishDay: null },
    ];
    const latest = neededBy(rows, dueIn({ a: '2026-12-13', b: '2026-12-09', c: '2026-12-02', d: '2026-12-02' }));
    expect(Object.fromEntries(latest)).toEqual({ a: '2026-12-11', b: '2026-12-03' });
    expect(neededBy([], () => null).size).toBe(0);
  });
});
