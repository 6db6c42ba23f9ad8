import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { donorAccounts, type LotMove, type MoveReason } from '#core/shelf/donors.ts';

const move = (lotId: number, changeMg: number, reason: MoveReason, pairId: number | null = null): LotMove =>
  Object.freeze({ lotId, changeMg, reason, pairId });

describe('donorAccounts', () => {
  it('tells where the yarn of each giver went', () => {
    // Ada: 200 came, 90 and 60 knitted, 5 lost, the scale found 3 less, so 42 are left: 200 = 150 + 42 + 8.
    const accounts = donorAccounts(
      [
        { id: 1, donor: 'Ada' },
        { id: 2, donor: null },
      ],
      [
        move(1, 200, 'given'),
        move(1, -90, 'used', 7),
        move(1, -60, 'used', 8),
        move(1, -5, 'lost'),
        move(1, -3, 'weighed'),
        move(2, 30, 'given'),
        move(9, 1000, 'bought'),
      ],
    );
    expect(accounts).toMatchObject([
      { donor: 'Ada', receivedMg: 200, inPairsMg: 150, leftMg: 42, wasteMg: 8, backMg: 0, pairIds: [7, 8] },
      { donor: null, receivedMg: 30, inPairsMg: 0, leftMg: 30, wasteMg: 0, pairIds: [] },
    ]);
  });

  it('counts what was given back as not received, and an undone use as no use', () => {
    const [ada] = donorAccounts(
      [{ id: 1, donor: 'Ada' }],
      [move(1, 100, 'given'), move(1, -40, 'back'), move(1, -20, 'used', 7), move(1, 20, 'used', 7)],
    );
    expect(ada).toMatchObject({ receivedMg: 60, backMg: 40, inPairsMg: 0, leftMg: 60, wasteMg: 0, pairIds: [] });
  });

  it('takes one name in two spellings for one giver, and sorts by name with the unnamed last', () => {
    const lots = [
      { id: 1, donor: null },
      { id: 2, donor: 'Zora' },
      { id: 3, donor: 'ada  Bell' },
      { id: 4, donor: ' Ada Bell ' },
    ];
    expect(donorAccounts(lots, []).map(({ donor, lotIds }) => [donor, lotIds])).toEqual([
      ['ada Bell', [3, 4]],
      ['Zora', [2]],
      [null, [1]],
    ]);
  });

  it('always adds up: received = in pairs + left + waste, whatever happened', () => {
    const reasons = ['bought', 'given', 'wound off', 'used', 'weighed', 'lost', 'back'] as const;
    const anyMove = fc.record({
      lotId: fc.integer({ min: 1, max: 4 }),
      changeMg: fc.integer({ min: -200_000, max: 200_000 }),
      reason: fc.constantFrom(...reasons),
      pairId: fc.option(fc.integer({ min: 1, max: 9 })),
    });
    const lots = [1, 2, 3, 4].map((id) => ({ id, donor: id === 4 ? null : id === 3 ? 'Bea' : 'Ada' }));
    fc.assert(
      fc.property(fc.array(anyMove, { maxLength: 40 }), (moves) => {
        for (const account of donorAccounts(lots, moves)) {
          const { receivedMg, inPairsMg, leftMg, wasteMg, lotIds } = account;
          expect(receivedMg).toBe(inPairsMg + leftMg + wasteMg);
          // What is left is counted a second way: every move of the giver's lots, whatever its reason.
          let left = 0;
          for (const each of moves) if (lotIds.includes(each.lotId)) left += each.changeMg;
          expect(leftMg).toBe(left);
        }
      }),
    );
  });
});
