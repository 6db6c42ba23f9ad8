import { findMostPairs, type MostPairs, type SearchLimits } from '#core/buying/most-pairs.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import { requireAbove0 } from '#core/shared/check.ts';
import { hashText } from '#core/shared/hash.ts';

/** A ball that might be bought: it comes as a lot of its own. */
export type Ball = { readonly yarnColourId: number; readonly mg: number };

/** What one ball more of a colour would add: `atLeast` was found, `atMost` is the end of it. */
export type OneMoreBall = {
  readonly yarnColourId: number;
  readonly atLeast: number;
  readonly atMost: number;
};

/** What is known of a shelf: pairs that it can make, and what each ball would add, null where nobody looked. */
export type ShelfKnown = { readonly answer: MostPairs; readonly more: readonly (OneMoreBall | null)[] };

/** How long to search for what one ball adds. Our own choice. */
export const stepsOfBall: SearchLimits = { mostSteps: 4_000_000 };

/**
 * The same question with one ball more. The ball is another dye lot, so no pair mixes it with what is there in one
 * colour; pairs are counted, whatever they are worth.
 *
 * @throws {RangeError} when the ball weighs nothing
 */
export function withBall(question: ShelfQuestion, { yarnColourId, mg }: Ball): ShelfQuestion {
  requireAbove0('withBall: mg', mg);
  const id = 1 + question.lots.reduce((most, lot) => Math.max(most, lot.id), 0);
  const lots = [...question.lots, { id, yarnColourId, freeMg: mg }];
  return { ...question, lots, kinds: question.kinds.map((kind) => ({ ...kind, value: 1 })) };
}

/**
 * What a ball adds to the pairs of an answer; never below 0.
 *
 * @param more the answer with the ball
 */
export function addedBy({ yarnColourId }: Ball, answer: MostPairs, more: MostPairs): OneMoreBall {
  const atLeast = Math.max(0, more.pairs - answer.pairs);
  return { yarnColourId, atLeast, atMost: Math.max(atLeast, more.mostValue - answer.pairs) };
}

/**
 * The most pairs, and what one more ball of each colour would add to them, as far as some steps last for all of it.
 *
 * @param balls one a colour, mg above 0
 * @returns `isDone` where no longer search can say more
 * @example lookAtOnce({ lots: [], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }, [{ yarnColourId: 1, mg: 70 }], { mostSteps: 1000 }).more // => [{ yarnColourId: 1, atLeast: 2, atMost: 2 }]
 * @example lookAtOnce({ lots: [], kinds: [{ size: 0, needs: [{ yarnColourId: 1, mg: 30 }] }], sizes: [{ least: 0, most: 9 }] }, [{ yarnColourId: 1, mg: 70 }], { mostSteps: 0 }).more // => [null]
 */
export function lookAtOnce(
  question: ShelfQuestion,
  balls: readonly Ball[],
  { mostSteps }: SearchLimits,
): ShelfKnown & { readonly isDone: boolean } {
  const answer = findMostPairs(question, { mostSteps });
  let left = mostSteps - answer.steps;
  const more = balls.map((ball) => {
    if (!answer.isBest || left <= 0) return null;
    const found = findMostPairs(withBall(question, ball), { mostSteps: left }, answer.made);
    left -= found.steps;
    return found.isBest ? addedBy(ball, answer, found) : null;
  });
  return { answer, more, isDone: answer.isBest && more.every((each) => each !== null) };
}

/** The name of a question with its balls: equal where every number that an answer depends on is equal. */
export function shelfKey({ lots, kinds, sizes }: ShelfQuestion, balls: readonly Ball[]): string {
  return hashText(
    JSON.stringify([
      'shelf 1',
      lots.map(({ id, yarnColourId, freeMg }) => [id, yarnColourId, freeMg]),
      kinds.map(({ size, value = 1, needs }) => [size, value, needs.map(({ yarnColourId, mg }) => [yarnColourId, mg])]),
      sizes.map(({ least, most }) => [least, most]),
      balls.map(({ yarnColourId, mg }) => [yarnColourId, mg]),
    ]),
  );
}
