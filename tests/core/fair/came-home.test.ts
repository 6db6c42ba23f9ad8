import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countKind, missingPairs, type TakenPair, takeBack, typeInKind } from '#core/fair/came-home.ts';

const paths = { sold: 'sold', home: 'home' };
const taken = (count: number): readonly TakenPair[] =>
  Object.freeze(
    Array.from({ length: count }, (_, index) => Object.freeze({ pairId: index + 1, isSold: false, cameHome: null })),
  );
function typed(pairs: readonly TakenPair[], sold: number, home: number | null): readonly TakenPair[] {
  const after = typeInKind(pairs, { sold, home }, paths);
  if (!after.ok) throw new Error(after.problems[0]!.message);
  return after.value;
}
const faultAt = (pairs: readonly TakenPair[], sold: number, home: number | null) => {
  const after = typeInKind(pairs, { sold, home }, paths);
  return after.ok ? null : after.problems[0]!.path;
};

describe('typing in a day', () => {
  it('works out what was not noted: five taken, two noted, two at home leave one missing', () => {
    const pairs = typed(taken(5), 2, 2);
    expect(countKind(pairs)).toEqual({ taken: 5, sold: 2, home: 2, missing: 1 });
    expect(missingPairs(pairs).map(({ pairId }) => pairId)).toEqual([3]);
  });

  it('sells the first and leaves the last at home', () => {
    const pairs = typed(taken(3), 1, 2);
    expect(pairs.map(({ isSold, cameHome }) => [isSold, cameHome])).toEqual([
      [true, false],
      [false, true],
      [false, true],
    ]);
  });

  it('says a sale too many at its own field, and a count that does not fit at the count', () => {
    expect(faultAt(taken(2), 3, null)).toBe('sold');
    expect(faultAt(taken(2), 1, 2)).toBe('home');
    expect(faultAt(taken(2), 0, 3)).toBe('home');
    expect(faultAt(taken(2), 2, 0)).toBe(null);
    expect(faultAt([], 0, 0)).toBe(null);
    expect(faultAt([], 1, null)).toBe('sold');
  });

  it('counts a sale noted before', () => {
    const pairs = typed(taken(3), 2, null);
    expect(faultAt(pairs, 2, null)).toBe('sold');
    expect(faultAt(pairs, 0, 2)).toBe('home');
    expect(countKind(typed(pairs, 0, 1)).missing).toBe(0);
  });

  it('forgets a count that was emptied', () => {
    expect(countKind(typed(typed(taken(3), 0, 2), 0, null))).toEqual({ taken: 3, sold: 0, home: null, missing: null });
  });

  it('never sells a pair that left from home since, and counts it as having come home', () => {
    const [first, ...others] = taken(3);
    const pairs = [{ ...first!, leftLater: true }, ...others];
    expect(typed(pairs, 1, 2).map(({ isSold, cameHome }) => [isSold, cameHome])).toEqual([
      [false, true],
      [true, false],
      [false, true],
    ]);
    expect(faultAt(pairs, 3, null)).toBe('sold');
    expect(faultAt(pairs, 2, 0)).toBe('home');
    expect(faultAt(pairs, 2, 1)).toBe(null);
  });

  it('refuses numbers that are none', () => {
    expect(() => typeInKind(taken(1), { sold: -1, home: null }, paths)).toThrow('typeInKind: sold');
    expect(() => typeInKind(taken(1), { sold: 0, home: 0.5 }, paths)).toThrow('typeInKind: home');
  });

  it('makes a pair whose sale was taken back after the count a missing one', () => {
    const counted = typed(taken(3), 1, 2);
    expect(countKind(takeBack(counted, 1))).toEqual({ taken: 3, sold: 0, home: 2, missing: 1 });
  });
});

/** A day: how many were taken, sold in several goes, and at home. */
const days = fc
  .record({ goes: fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 4 }), home: fc.nat(6), missing: fc.nat(4) })
  .map(({ goes, home, missing }) => {
    const sold = goes.reduce((sum, each) => sum + each, 0);
    return { goes, home, sold, missing, taken: sold + home + missing };
  });

describe('whatever the order of typing and counting', () => {
  it('sold, home and missing are the same pairs, and together all that were taken', () => {
    fc.assert(
      fc.property(days, fc.nat(4), ({ goes, home, sold, missing, taken: count }, countAt) => {
        const atOnce = typed(taken(count), sold, home);
        let inGoes = taken(count);
        goes.forEach((go, index) => {
          inGoes = typed(inGoes, go, index >= countAt ? home : null);
        });
        inGoes = typed(inGoes, 0, home);
        expect(inGoes).toEqual(atOnce);
        if (count > 0) expect(countKind(inGoes)).toEqual({ taken: count, sold, home, missing });
      }),
    );
  });

  it('no pair is sold twice: what one go sold the next does not', () => {
    fc.assert(
      fc.property(days, ({ goes, taken: count }) => {
        let pairs = taken(count);
        const soldIds: number[] = [];
        for (const go of goes) {
          const before = new Set(pairs.filter(({ isSold }) => isSold).map(({ pairId }) => pairId));
          pairs = typed(pairs, go, null);
          const added = pairs.filter(({ isSold, pairId }) => isSold && !before.has(pairId));
          expect(added).toHaveLength(go);
          soldIds.push(...added.map(({ pairId }) => pairId));
        }
        expect(new Set(soldIds).size).toBe(soldIds.length);
      }),
    );
  });

  it('a sale taken back brings the state before it back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), fc.nat(5), (count, sold) => {
        fc.pre(sold < count);
        const before = typed(taken(count), sold, null);
        const after = typed(before, 1, null);
        const last = after.find(({ isSold }, index) => isSold && !before[index]!.isSold)!;
        expect(takeBack(after, last.pairId)).toEqual(before);
      }),
    );
  });
});
