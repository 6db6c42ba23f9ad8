import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Tx } from '#db/store.ts';
import { makeLot } from '#flows/shelf/make-lot.ts';

/** Packs of one colour in one dye lot that came. */
export type PacksToShelve = {
  readonly yarnColourId: number;
  /** Whole milligrams of a ball, and balls in a pack, as they were ordered. */
  readonly ballMg: number;
  readonly ballsPerPack: number;
  /** Left out where no shop of the workshop sold them. */
  readonly purchaseLineId?: number;
  /** Whole packs, at least 1. */
  readonly packs: number;
  readonly dyeLot: string | null;
  /** Goods and their share of the postage. */
  readonly paidCents: number;
  /** The field with the count of packs. */
  readonly path: string;
};

/**
 * Puts what came from one shop on one day on the shelf: packs of a colour are one lot with its balls where the number of
 * the dye lot is the same, and where none was entered: one shop sends one dye lot of a colour, unless it is said otherwise.
 *
 * @returns the lots' ids; or a refusal at the field of each lot that is too large
 */
export async function shelvePacks(
  tx: Tx,
  day: Day,
  came: readonly PacksToShelve[],
): Promise<Result<readonly number[]>> {
  const lotIds: number[] = [];
  const problems: Problem[] = [];
  for (const packs of groupBy(came, ({ yarnColourId, dyeLot }) => `${yarnColourId} ${dyeLot ?? ''}`).values()) {
    const { yarnColourId, dyeLot, path } = packs[0]!;
    const balls = packs.flatMap(({ ballMg, ballsPerPack, packs: count, purchaseLineId }) =>
      Array.from({ length: count * ballsPerPack }, () => ({ ballMg, purchaseLineId })),
    );
    const lot = {
      yarnColourId,
      dyeLot,
      gotDay: day,
      paidCents: packs.reduce((sum, { paidCents }) => sum + paidCents, 0),
      reason: 'bought' as const,
      ballsMg: balls.map(({ ballMg }) => ballMg),
      purchaseLineIds: balls.map(({ purchaseLineId }) => purchaseLineId),
    };
    const made = await makeLot(tx, lot, path);
    if (made.ok) lotIds.push(made.value);
    else problems.push(...made.problems);
  }
  return problems.length > 0 ? refuse(...problems) : succeed(lotIds);
}
