import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  type BallRow,
  findBall,
  handBall,
  massOfBallAt,
  moveBall,
  undoMove as undoMoveOf,
  weighBall,
  windOff,
} from '#db/stores/shelf.ts';

/** Where yarn went that is no longer on its ball; `weighed` says the old number was wrong. */
export type Reason = 'used' | 'lost' | 'back' | 'weighed';

async function findBallOf(tx: Tx, lotId: number, ballId: number): Promise<BallRow> {
  const ball = await findBall(tx, ballId);
  if (ball?.lotId !== lotId) throw new AppError('notFound', 'This ball is no longer there.');
  return ball;
}

/** Books the difference between what a ball was thought to weigh on a day and what the scale said. */
export async function weigh(
  { store }: Workshop,
  lotId: number,
  entry: {
    readonly ballId: number;
    readonly massMg: number;
    readonly reason: Reason;
    /** The pair that used it, when that is known; for `used` alone. */
    readonly pairId: number | null;
    readonly day: Day;
  },
): Promise<Result<null>> {
  return await store.write('shelf: weigh a ball', async (tx) => {
    const { ballId, massMg, reason, pairId, day } = entry;
    await findBallOf(tx, lotId, ballId);
    if (reason === 'weighed') {
      const weighed = await weighBall(tx, ballId, massMg, day);
      return weighed.ok ? succeed(null) : weighed;
    }
    const changeMg = massMg - (await massOfBallAt(tx, ballId, day));
    if (changeMg >= 0) {
      return refuse({
        code: 'notLess',
        path: 'reason',
        message: 'The scale shows no less than before, so nothing has gone. Choose "nothing, the number was wrong".',
      });
    }
    const moved = await moveBall(tx, { ballId, changeMg, reason, day, pairId });
    return moved.ok ? succeed(null) : moved;
  });
}

/** Takes grams off a ball, or the whole ball. @param entry `massMg` null takes all of it */
export async function takeOff(
  { store }: Workshop,
  lotId: number,
  entry: {
    readonly ballId: number;
    readonly massMg: number | null;
    readonly reason: Exclude<Reason, 'weighed'>;
    /** The pair that used it, when that is known; for `used` alone. */
    readonly pairId: number | null;
    readonly day: Day;
  },
): Promise<Result<null>> {
  return await store.write('shelf: take yarn off the shelf', async (tx) => {
    const { ballId, reason, pairId, day } = entry;
    const ball = await findBallOf(tx, lotId, ballId);
    const changeMg = -(entry.massMg ?? ball.massMg);
    if (changeMg === 0) {
      return refuse({ code: 'emptyBall', path: 'ball', message: 'There is nothing on this ball. Choose another.' });
    }
    const moved = await moveBall(tx, { ballId, changeMg, reason, day, pairId });
    return moved.ok ? succeed(null) : moved;
  });
}

/** Winds grams off into a ball of their own. */
export async function windOffBall(
  { store }: Workshop,
  lotId: number,
  entry: { readonly ballId: number; readonly massMg: number; readonly day: Day },
): Promise<Result<null>> {
  return await store.write('shelf: wind off a ball', async (tx) => {
    const ball = await findBallOf(tx, lotId, entry.ballId);
    const wound = await windOff(tx, entry.ballId, entry.massMg, entry.day, ball.knitterId);
    return wound.ok ? succeed(null) : wound;
  });
}

/**
 * Gives a ball to a knitter to take home, or takes it back on the shelf.
 *
 * @param entry `knitterId` null is the shelf
 * @throws {AppError} `conflict` when the ball changed since it was shown
 */
export async function handOver(
  { store }: Workshop,
  lotId: number,
  entry: { readonly ballId: number; readonly knitterId: number | null; readonly version: number | undefined },
): Promise<Result<null>> {
  return await store.write('shelf: hand over a ball', async (tx) => {
    const ball = await findBallOf(tx, lotId, entry.ballId);
    if (ball.knitterId === entry.knitterId) {
      const message = 'This ball is there already. Choose another ball, or somebody else.';
      return refuse({ code: 'thereAlready', path: 'who', message });
    }
    await handBall(tx, ball.id, entry.knitterId, entry.version);
    return succeed(null);
  });
}

/** Undoes a move by one that reverses it; both stay in the history. */
export async function undoMove({ store }: Workshop, moveId: number, day: Day): Promise<Result<null>> {
  return await store.write('shelf: undo a move', async (tx) => {
    const undone = await undoMoveOf(tx, moveId, day);
    return undone.ok ? succeed(null) : undone;
  });
}
