/** Why the mass of a ball changed, as the shelf keeps it. */
export type MoveReason = 'bought' | 'given' | 'wound off' | 'used' | 'weighed' | 'lost' | 'back';

/** A move with its lot. */
export type LotMove = {
  readonly lotId: number;
  readonly changeMg: number;
  readonly reason: MoveReason;
  readonly pairId: number | null;
};

/** Where one giver's yarn went: received = in pairs + left + waste, to the milligram. */
export type DonorAccount = {
  /** Null where nobody was named. */
  readonly donor: string | null;
  readonly lotIds: readonly number[];
  /** What came, less what was given back. */
  readonly receivedMg: number;
  readonly inPairsMg: number;
  readonly leftMg: number;
  /** What was lost, and what the scale found missing; below 0 where it found more than was written down. */
  readonly wasteMg: number;
  /** Given back; already taken from what was received. */
  readonly backMg: number;
  /** Pairs that are known to have some of it. */
  readonly pairIds: readonly number[];
};

/** Names that differ by case or blanks alone are one giver. */
const keyOf = (donor: string | null) => donor?.trim().replace(/\s+/g, ' ').toLowerCase() ?? '';

/**
 * The account of every giver, from the moves of the lots they gave. An undone move and its reverse cancel, as both carry
 * one reason; winding off moves yarn from ball to ball and comes to nothing over a lot.
 *
 * @param lots given ones, each with who gave it
 * @param moves of these lots (others are passed over), in any order
 * @returns one account a giver, by name, those without a name last; none for no lots
 * @example donorAccounts([{ id: 1, donor: 'Ada' }], [{ lotId: 1, changeMg: 100, reason: 'given', pairId: null }, { lotId: 1, changeMg: -60, reason: 'used', pairId: 7 }])[0].leftMg // => 40
 * @example donorAccounts([], []) // => []
 */
export function donorAccounts(
  lots: readonly { readonly id: number; readonly donor: string | null }[],
  moves: readonly LotMove[],
): readonly DonorAccount[] {
  const groups = new Map<string, { donor: string | null; lotIds: number[] }>();
  for (const { id, donor } of lots) {
    const key = keyOf(donor);
    const group = groups.get(key);
    if (group) group.lotIds.push(id);
    else groups.set(key, { donor: key === '' ? null : donor!.trim().replace(/\s+/g, ' '), lotIds: [id] });
  }
  const accounts = [...groups.values()].map(({ donor, lotIds }) => {
    const own = new Set(lotIds);
    return accountOf(
      donor,
      lotIds,
      moves.filter((move) => own.has(move.lotId)),
    );
  });
  return accounts.sort((a, b) => {
    if (a.donor === null || b.donor === null) return a.donor === b.donor ? 0 : a.donor === null ? 1 : -1;
    return a.donor.localeCompare(b.donor, 'en');
  });
}

function accountOf(donor: string | null, lotIds: readonly number[], moves: readonly LotMove[]): DonorAccount {
  const sumOf = (...reasons: readonly MoveReason[]) =>
    moves.reduce((sum, move) => (reasons.includes(move.reason) ? sum + move.changeMg : sum), 0);
  const usedByPair = new Map<number, number>();
  for (const { reason, pairId, changeMg } of moves) {
    if (reason === 'used' && pairId !== null) usedByPair.set(pairId, (usedByPair.get(pairId) ?? 0) - changeMg);
  }
  return {
    donor,
    lotIds,
    receivedMg: sumOf('bought', 'given', 'back'),
    inPairsMg: 0 - sumOf('used'),
    leftMg: moves.reduce((sum, move) => sum + move.changeMg, 0),
    wasteMg: 0 - sumOf('lost', 'weighed', 'wound off'),
    backMg: 0 - sumOf('back'),
    pairIds: [...usedByPair].filter(([, mg]) => mg > 0).map(([pairId]) => pairId),
  };
}
