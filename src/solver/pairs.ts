import { checkPairs } from '#core/buying/count-pairs.ts';
import type { MostPairs } from '#core/buying/most-pairs.ts';
import { addedBy, type Ball, type OneMoreBall, type ShelfKnown, withBall } from '#core/buying/one-more-ball.ts';
import type { ShelfQuestion } from '#core/buying/pair-ways.ts';
import type { SearchFinding } from '#solver/messages.ts';
import type { Run, RunEnd, Thread } from '#solver/thread.ts';

export type PairsEnd = ShelfKnown & { readonly how: RunEnd };

/** A search for more pairs, under way. */
export type PairsSearch = Pick<Run, 'isWaiting' | 'stop'> & {
  readonly ended: Promise<PairsEnd>;
  /** The best known so far; recounted and checked, whatever the worker said. */
  readonly best: () => ShelfKnown;
};

/** The search counts its steps and ends by itself within a second or two; this is for machines that are very slow. */
const usualPairsMs = 15_000;

/** Looks for more pairs than are known, and for what each ball would add to them. */
export function searchPairs(
  thread: Thread,
  question: ShelfQuestion,
  balls: readonly Ball[],
  own: MostPairs,
  deadlineMs = usualPairsMs,
): PairsSearch {
  let answer = own;
  let isAnswered = false;
  const more = balls.map((): OneMoreBall | null => null);

  function hear(found: SearchFinding): void {
    if (found.kind !== 'pairs') return;
    if (found.ball === null) {
      const checked = checkPairs(question, found.answer, own.made);
      if (checked) answer = checked;
      isAnswered = checked !== null;
      return;
    }
    const ball = balls[found.ball];
    const checked = ball && checkPairs(withBall(question, ball), found.answer, answer.made);
    if (checked) more[found.ball] = addedBy(ball, answer, checked);
  }

  const best = (): ShelfKnown => ({ answer, more: [...more] });
  const run = thread.run({ kind: 'pairs', question, balls, start: own.made }, deadlineMs, hear);
  const ended = run.ended.then((end): PairsEnd => {
    const isWhole = isAnswered && more.every((each) => each !== null);
    return { ...best(), how: end === 'done' && !isWhole ? 'failed' : end };
  });
  return { ended, best, isWaiting: run.isWaiting, stop: run.stop };
}
