import { asc, eq, gt, isNull, sql } from 'drizzle-orm';
import { AppError } from '#core/shared/app-error.ts';
import { balancesAt, lowestFrom } from '#core/shared/balance.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { purchaseLines, purchases } from '#db/schema/buying.ts';
import { ballMoves, balls, lots, reservations, yarnColours, yarns } from '#db/schema/shelf.ts';
import type { Reader, Tx } from '#db/store.ts';
import { insert, type NewRowOf, type RowOf, update } from '#db/stores/record.ts';
import { type RowsQuery, rowsOf } from '#db/stores/rows.ts';

export type YarnRow = RowOf<typeof yarns>;
export type YarnColourRow = RowOf<typeof yarnColours>;
export type LotRow = RowOf<typeof lots>;
export type BallRow = RowOf<typeof balls>;
export type BallMoveRow = RowOf<typeof ballMoves>;
export type ReservationRow = RowOf<typeof reservations>;

export const {
  list: listYarns,
  find: findYarn,
  create: createYarn,
  change: changeYarn,
  remove: removeYarn,
} = rowsOf(yarns, asc(yarns.name));

export const {
  list: listYarnColours,
  find: findYarnColour,
  create: createYarnColour,
  change: changeYarnColour,
  remove: removeYarnColour,
} = rowsOf(yarnColours, asc(yarnColours.yarnId), asc(yarnColours.name));

export const {
  list: listLots,
  find: findLot,
  create: createLot,
  change: changeLot,
} = rowsOf(lots, asc(lots.yarnColourId), asc(lots.gotDay));

export const { list: listBalls, find: findBall } = rowsOf(balls, asc(balls.lotId));

/** Balls with yarn on them. */
export function listFullBalls(from: Reader): RowsQuery<BallRow> {
  return listBalls(from, gt(balls.massMg, 0));
}

const { list: listMovesWhere, find: findMove } = rowsOf(ballMoves);

export { findMove };

export function listBallMoves(from: Reader, ballId: number): RowsQuery<BallMoveRow> {
  return listMovesWhere(from, eq(ballMoves.ballId, ballId));
}

/** Every move of every ball, as they were written down. */
export function listAllMoves(from: Reader): RowsQuery<BallMoveRow> {
  return listMovesWhere(from);
}

/** The shop that a lot came from. */
export type LotShopRow = { readonly lotId: number; readonly supplierId: number };

/** The shops that lots without a number came from, where they were bought by the program. */
export function listLotShops(from: Reader): RowsQuery<LotShopRow> {
  return from
    .select({ lotId: lots.id, supplierId: sql<number>`min(${purchases.supplierId})` })
    .from(lots)
    .innerJoin(balls, eq(balls.lotId, lots.id))
    .innerJoin(ballMoves, eq(ballMoves.ballId, balls.id))
    .innerJoin(purchaseLines, eq(purchaseLines.id, ballMoves.purchaseLineId))
    .innerJoin(purchases, eq(purchases.id, purchaseLines.purchaseId))
    .where(isNull(lots.dyeLot))
    .groupBy(lots.id)
    .orderBy(asc(lots.id)) as unknown as RowsQuery<LotShopRow>;
}

export const {
  list: listReservations,
  create: createReservation,
  change: changeReservation,
  remove: removeReservation,
} = rowsOf(reservations, asc(reservations.lotId));

export type NewMove = NewRowOf<typeof ballMoves>;
export type Moved = { readonly ball: BallRow; readonly move: BallMoveRow };

const gramsOf = (mg: number) => `${Math.round(mg / 100) / 10} g`;

/**
 * Changes what is on a ball, the only way there is. More than is on it cannot be taken, nor more than was on it on a day
 * that is past or on any day since.
 *
 * @returns the ball after the move and the move; or a refusal at `grams` or `day`
 * @throws {AppError} `notFound`
 */
export async function moveBall(tx: Tx, move: NewMove): Promise<Result<Moved>> {
  const ball = await findBall(tx, move.ballId);
  if (!ball) throw new AppError('notFound', 'This ball is no longer there.');
  const massMg = ball.massMg + move.changeMg;
  if (massMg < 0) {
    return refuse({
      code: 'moreThanOnBall',
      path: 'grams',
      message: `There are ${gramsOf(ball.massMg)} on this ball, so ${gramsOf(-move.changeMg)} cannot be taken from it. Weigh the ball first, or take less.`,
    });
  }
  if (move.changeMg < 0) {
    const lowestMg = lowestFrom(await listBallMoves(tx, ball.id), move.day);
    if (lowestMg + move.changeMg < 0) {
      return refuse({
        code: 'moreThanWasOnBall',
        path: 'day',
        message: `Only ${gramsOf(Math.max(0, lowestMg))} can have gone from this ball on ${formatDay(move.day)}, by what is written down since. Choose a later day, or take less.`,
      });
    }
  }
  const added = await insert(tx, ballMoves, move);
  return succeed({ ball: await update(tx, balls, ball.id, { massMg }), move: added });
}

export type NewLot = NewRowOf<typeof lots>;

/** How a ball came to be. */
export type BallReason = 'bought' | 'given' | 'wound off';

export type NewBall = {
  readonly lotId: number;
  readonly massMg: number;
  readonly reason: BallReason;
  readonly day: Day;
  readonly knitterId?: number | null;
  readonly purchaseLineId?: number | null;
};

/** Puts a ball on the shelf, or with a knitter. @param ball `massMg` above 0 */
export async function createBall(tx: Tx, ball: NewBall): Promise<BallRow> {
  const { lotId, massMg, reason, day, knitterId = null, purchaseLineId = null } = ball;
  const added = await insert(tx, balls, { lotId, massMg: 0, knitterId });
  const moved = await moveBall(tx, { ballId: added.id, changeMg: massMg, reason, day, purchaseLineId });
  if (!moved.ok) throw new RangeError(`createBall: massMg must be above 0, got ${massMg}`);
  return moved.value.ball;
}

/** Who has the ball from a day on; null puts it back on the shelf. */
export async function handBall(
  tx: Tx,
  ballId: number,
  to: { readonly knitterId: number | null; readonly handedDay: Day },
  version?: number,
): Promise<BallRow> {
  return await update(tx, balls, ballId, to, version);
}

/** What was on a ball at the end of a day, milligrams. */
export async function massOfBallAt(from: Reader, ballId: number, day: Day): Promise<number> {
  return balancesAt(await listBallMoves(from, ballId), day).get(ballId) ?? 0;
}

/** Sets a ball to what the scale said on a day. @param massMg whole milligrams from 0 */
export async function weighBall(tx: Tx, ballId: number, massMg: number, day: Day): Promise<Result<Moved>> {
  const ball = await findBall(tx, ballId);
  if (!ball) throw new AppError('notFound', 'This ball is no longer there.');
  if (massMg < 0) {
    return refuse({ code: 'negativeMass', path: 'grams', message: 'Enter what the scale shows, 0 g or more.' });
  }
  const changeMg = massMg - (await massOfBallAt(tx, ballId, day));
  return await moveBall(tx, { ballId, changeMg, reason: 'weighed', day });
}

/** Winds yarn off into a ball of its own, of the same lot. @returns the new ball; or a refusal at `grams` */
export async function windOff(
  tx: Tx,
  ballId: number,
  massMg: number,
  day: Day,
  knitterId: number | null = null,
): Promise<Result<BallRow>> {
  const taken = await moveBall(tx, { ballId, changeMg: -massMg, reason: 'wound off', day });
  if (!taken.ok) return taken;
  const { lotId } = taken.value.ball;
  return succeed(await createBall(tx, { lotId, massMg, reason: 'wound off', day, knitterId }));
}

/** Code of the refusal to undo what is undone. */
export const undoneAlready = 'undoneAlready';

/** The other half of a winding off: out of one ball is written down just before into the other. */
async function otherHalfOf(tx: Tx, move: BallMoveRow): Promise<BallMoveRow | null> {
  if (move.reason !== 'wound off') return null;
  const [other] = await listMovesWhere(tx, eq(ballMoves.id, move.id + (move.changeMg < 0 ? 1 : -1)));
  return other?.reason === 'wound off' && other.changeMg === -move.changeMg ? other : null;
}

/**
 * Undoes a move by one that reverses it; both stay. Of a winding off both halves are undone. Refused when it is undone
 * already, or the yarn is gone since.
 */
export async function undoMove(tx: Tx, moveId: number, day: Day): Promise<Result<Moved>> {
  const [move] = await listMovesWhere(tx, eq(ballMoves.id, moveId));
  if (!move) throw new AppError('notFound', 'This move is no longer there.');
  const other = await otherHalfOf(tx, move);
  const undone = await reverseMove(tx, move, day);
  if (!undone.ok || !other) return undone;
  const second = await reverseMove(tx, other, day);
  return second.ok ? undone : second;
}

async function reverseMove(tx: Tx, move: BallMoveRow, day: Day): Promise<Result<Moved>> {
  const [undone] = await listMovesWhere(tx, eq(ballMoves.reversesId, move.id));
  if (undone || move.reversesId !== null) {
    return refuse({ code: undoneAlready, path: 'move', message: 'This has been undone already.' });
  }
  const { ballId, reason, pairId, purchaseLineId } = move;
  return await moveBall(tx, {
    ballId,
    changeMg: -move.changeMg,
    reason,
    // Never before what it undoes.
    day: day < move.day ? move.day : day,
    pairId,
    purchaseLineId,
    reversesId: move.id,
  });
}
