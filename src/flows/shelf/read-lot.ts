import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import {
  type BallMoveRow,
  type BallRow,
  type LotRow,
  listBallMoves,
  listBalls,
  type YarnColourRow,
  type YarnRow,
} from '#db/stores/shelf.ts';
import { readShelf, type Shelf } from '#flows/shelf/read-shelf.ts';

export type LotMove = BallMoveRow & { readonly ball: number; readonly isUndone: boolean };

/** A lot with all it ever was: its balls by their number in the lot, used up ones too, and every move, newest first. */
export type LotView = {
  readonly shelf: Shelf;
  readonly yarn: YarnRow;
  readonly colour: YarnColourRow;
  readonly lot: LotRow;
  readonly balls: readonly (BallRow & { readonly number: number })[];
  readonly massMg: number;
  readonly promised: Shelf['yarns'][number]['colours'][number]['lots'][number]['promised'];
  readonly promisedMg: number;
  readonly moves: readonly LotMove[];
};

/** @throws {AppError} `notFound` */
export async function readLot(workshop: Workshop, lotId: number): Promise<LotView> {
  const shelf = await readShelf(workshop);
  const found = shelf.yarns
    .flatMap(({ yarn, colours }) =>
      colours.flatMap(({ colour, lots }) => lots.map((each) => ({ yarn, colour, ...each }))),
    )
    .find(({ lot }) => lot.id === lotId);
  if (!found) throw new AppError('notFound', 'This yarn is not on the shelf; it may have been removed.');
  const { balls, moves } = await workshop.store.read(async (db) => {
    const ofLot = (await listBalls(db)).filter((ball) => ball.lotId === lotId).sort((a, b) => a.id - b.id);
    const lists = [];
    for (const ball of ofLot) lists.push(await listBallMoves(db, ball.id));
    return { balls: ofLot.map((ball, index) => ({ ...ball, number: index + 1 })), moves: lists.flat() };
  });
  const numberOf = new Map(balls.map(({ id, number }) => [id, number]));
  const undone = new Set(moves.map((move) => move.reversesId));
  return {
    shelf,
    ...found,
    balls,
    moves: moves
      .map((move) => ({ ...move, ball: numberOf.get(move.ballId)!, isUndone: undone.has(move.id) }))
      .sort((a, b) => b.id - a.id),
  };
}
