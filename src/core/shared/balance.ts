import type { Day } from '#core/shared/calendar.ts';

/** What changed on a ball, and when. */
export type MassMove = { readonly ballId: number; readonly changeMg: number; readonly day: Day };

/**
 * What was on each ball at the end of a day: the sum of its moves up to then. An undone move and the one that undoes it
 * both count, each on its own day, so a day is shown as it was known then.
 *
 * @param moves in any order
 * @param day the day, included
 * @returns milligrams by ball; a ball that had no move yet is left out
 * @example [...balancesAt([{ ballId: 1, changeMg: 100, day: '2026-11-02' }, { ballId: 1, changeMg: -40, day: '2026-11-05' }], '2026-11-04')] // => [[1, 100]]
 * @example balancesAt([{ ballId: 1, changeMg: 100, day: '2026-11-02' }], '2026-11-01').size // => 0
 */
export function balancesAt(moves: readonly MassMove[], day: Day): ReadonlyMap<number, number> {
  const balances = new Map<number, number>();
  for (const move of moves) {
    if (move.day > day) continue;
    balances.set(move.ballId, (balances.get(move.ballId) ?? 0) + move.changeMg);
  }
  return balances;
}

/**
 * The least that a ball held at the end of a day or of any day after it: so much can be taken from it on that day without
 * its ever having been below nothing.
 *
 * @param moves of one ball, in any order
 * @returns milligrams; 0 for a ball without moves, below 0 only where the moves themselves are
 * @example lowestFrom([{ changeMg: 100, day: '2026-11-02' }, { changeMg: -70, day: '2026-11-10' }], '2026-11-05') // => 30
 * @example lowestFrom([{ changeMg: 100, day: '2026-11-02' }], '2026-11-01') // => 0, it was not there yet
 */
export function lowestFrom(moves: readonly Omit<MassMove, 'ballId'>[], day: Day): number {
  const until = (last: Day) => moves.reduce((sum, move) => (move.day <= last ? sum + move.changeMg : sum), 0);
  const later = new Set(moves.filter((move) => move.day > day).map((move) => move.day));
  return Math.min(until(day), ...[...later].map(until));
}
