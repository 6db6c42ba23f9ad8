import { inARow } from '#core/cards/dialect.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import { formatWeighed, type UnitSystem } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  type BallMoveRow,
  type BallRow,
  findBall,
  findMove,
  handBall,
  listBallMoves,
  massOfBallAt,
  moveBall,
  undoMove as undoMoveOf,
  undoneAlready,
  weighBall,
  windOff,
} from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { takeBackArrived } from '#flows/buying/not-here.ts';
import { type Settled, type Settling, type ShortAnswer, settleShort } from '#flows/shelf/short-pairs.ts';

/** Where yarn went that is no longer on its ball; `weighed` says the old number was wrong. */
export type Reason = 'used' | 'lost' | 'back' | 'weighed';

async function findBallOf(tx: Tx, lotId: number, ballId: number): Promise<BallRow> {
  const ball = await findBall(tx, ballId);
  if (ball?.lotId !== lotId) throw new AppError('notFound', 'This ball is no longer there.');
  return ball;
}

/** A day before the ball came, refused there; null where it was here by then. */
async function refuseBeforeItCame(tx: Tx, ballId: number, day: Day): Promise<Problem | null> {
  const days = (await listBallMoves(tx, ballId)).map((move) => move.day).sort();
  const came = days[0];
  if (came === undefined || day >= came) return null;
  const message = `It came on ${formatDay(came)}. Enter that day or a later one.`;
  return { code: 'beforeItCame', path: 'day', message };
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
  answer: ShortAnswer,
): Promise<Settling<Settled>> {
  return await store.write('shelf: weigh a ball', async (tx) => {
    const { ballId, massMg, reason, pairId, day } = entry;
    await findBallOf(tx, lotId, ballId);
    const early = await refuseBeforeItCame(tx, ballId, day);
    if (early) return refuse(early);
    if (reason === 'weighed') {
      const weighed = await weighBall(tx, ballId, massMg, day);
      if (!weighed.ok) return weighed;
      const settled = await settleShort(tx, [lotId], answer);
      if (settled.ok && weighed.value.move.changeMg > 0) await allotWaiting(tx);
      return settled;
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
    return moved.ok ? await settleGone(tx, lotId, reason, answer) : moved;
  });
}

// What is used goes into pairs, so it is not missing; what is lost or went back is.
async function settleGone(tx: Tx, lotId: number, reason: Reason, answer: ShortAnswer): Promise<Settling<Settled>> {
  return reason === 'used' ? succeed({ gaveBack: [] }) : await settleShort(tx, [lotId], answer);
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
  answer: ShortAnswer,
): Promise<Settling<Settled>> {
  return await store.write('shelf: take yarn off the shelf', async (tx) => {
    const { ballId, reason, pairId, day } = entry;
    const ball = await findBallOf(tx, lotId, ballId);
    const changeMg = -(entry.massMg ?? ball.massMg);
    if (changeMg === 0) {
      return refuse({ code: 'emptyBall', path: 'ball', message: 'There is nothing on this ball. Choose another.' });
    }
    const early = await refuseBeforeItCame(tx, ballId, day);
    if (early) return refuse(early);
    const moved = await moveBall(tx, { ballId, changeMg, reason, day, pairId });
    return moved.ok ? await settleGone(tx, lotId, reason, answer) : moved;
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
    const early = await refuseBeforeItCame(tx, entry.ballId, entry.day);
    if (early) return refuse(early);
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
  entry: {
    readonly ballId: number;
    readonly knitterId: number | null;
    readonly day: Day;
    readonly version: number | undefined;
  },
): Promise<Result<null>> {
  return await store.write('shelf: hand over a ball', async (tx) => {
    const ball = await findBallOf(tx, lotId, entry.ballId);
    if (ball.knitterId === entry.knitterId) {
      const message = 'This ball is there already. Choose another ball, or somebody else.';
      return refuse({ code: 'thereAlready', path: 'who', message });
    }
    const [first] = await listBallMoves(tx, ball.id);
    const since = [ball.handedDay, first?.day]
      .filter((day) => typeof day === 'string')
      .sort()
      .at(-1);
    if (since !== undefined && entry.day < since) {
      const message = `This ball came ${ball.handedDay === since ? 'where it is' : 'to the shelf'} on ${formatDay(since)}. Enter that day or a later one.`;
      return refuse({ code: 'beforeItCame', path: 'day', message });
    }
    const { knitterId, day: handedDay } = entry;
    await handBall(tx, ball.id, { knitterId, handedDay }, entry.version);
    return succeed(null);
  });
}

/** Begun pairs that a lot leaves without enough yarn, and that kept what was put aside, give it back after all. */
export async function giveBackShort({ store }: Workshop, lotId: number, answer: ShortAnswer) {
  return await store.write('shelf: pairs give yarn back', (tx) => settleShort(tx, [lotId], answer));
}

/** What went from a ball since it came, by where it went: "86 g of it are already in pairs". */
function goneWords(moves: readonly BallMoveRow[], unitSystem: UnitSystem): string {
  const undone = new Set(moves.map(({ reversesId }) => reversesId));
  const standing = moves.filter(
    ({ id, reversesId, changeMg }) => reversesId === null && changeMg < 0 && !undone.has(id),
  );
  const sumOf = (isOne: (move: BallMoveRow) => boolean) =>
    standing.filter(isOne).reduce((sum, { changeMg }) => sum - changeMg, 0);
  const ways: readonly (readonly [mg: number, words: string])[] = [
    [sumOf(({ reason, pairId }) => reason === 'used' && pairId !== null), 'already in pairs'],
    [sumOf(({ reason, pairId }) => reason === 'used' && pairId === null), 'already used'],
    [sumOf(({ reason }) => reason === 'lost'), 'lost'],
    [sumOf(({ reason }) => reason === 'back'), 'back where it came from'],
    [sumOf(({ reason }) => reason === 'wound off'), 'wound off'],
    [sumOf(({ reason }) => reason === 'weighed'), 'missing since it was weighed'],
  ];
  const words = ways
    .filter(([mg]) => mg > 0)
    .map(([mg, where]) => `${formatWeighed(mg, unitSystem)} of it ${mg === 1000 ? 'is' : 'are'} ${where}`);
  return inARow(words, 'and');
}

/** Why a move cannot be undone, in words of what happened since; it can be, once that is undone. */
async function refuseUndo(tx: Tx, moveId: number, problems: readonly Problem[]) {
  const move = await findMove(tx, moveId);
  const [problem] = problems;
  if (!move || !problem || problem.code === undoneAlready) return refuse(...problems);
  const { unitSystem } = readSettings(await listSettings(tx));
  const gone = goneWords(await listBallMoves(tx, move.ballId), unitSystem);
  if (gone === '') return refuse(...problems);
  const message = `This cannot be undone: ${gone}. Undo that first, below, from the newest on.`;
  return refuse({ code: problem.code, path: 'move', message });
}

/**
 * Undoes a move by one that reverses it; both stay in the history. Where yarn comes back by it, pairs that wait get
 * theirs; where it goes, begun pairs are not left without unasked. A ball that came with a purchase is to come again.
 *
 * @returns a refusal at `move` that says what of it went where since, or what `settleShort` asks
 */
export async function undoMove(
  { store }: Workshop,
  lotId: number,
  moveId: number,
  day: Day,
  answer: ShortAnswer,
): Promise<Settling<Settled>> {
  return await store.write('shelf: undo a move', async (tx) => {
    const undone = await undoMoveOf(tx, moveId, day);
    if (!undone.ok) return await refuseUndo(tx, moveId, undone.problems);
    await takeBackArrived(tx, undone.value.move);
    const settled = await settleShort(tx, [lotId], answer);
    if (settled.ok && undone.value.move.changeMg > 0) await allotWaiting(tx);
    return settled;
  });
}
