import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { roundWeighed, type UnitSystem } from '#core/shared/measures.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { Workshop } from '#db/open.ts';
import { listCurrentPairColours, listCurrentPairs } from '#db/stores/batch.ts';
import {
  type BallMoveRow,
  type BallRow,
  type LotRow,
  listBallMoves,
  listBalls,
  type YarnColourRow,
  type YarnRow,
} from '#db/stores/shelf.ts';
import { listChangesOf } from '#db/stores/workshop.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';
import { readShelf, type Shelf } from '#flows/shelf/read-shelf.ts';
import { todayIn } from '#flows/today.ts';

export type LotMove = BallMoveRow & {
  readonly ball: number;
  readonly isUndone: boolean;
  /** The change as it is shown: the difference of what the ball shows before and after. */
  readonly shownMg: number;
};

/** A ball that went home with a knitter, or came back: `knitterId` null. */
export type LotHandOver = { readonly ball: number; readonly knitterId: number | null; readonly day: Day };

/** A pair that has this colour, to say what used it. */
export type PairOfColour = { readonly id: number; readonly sizeWords: string };

/** A lot with all it ever was: its balls by their number in the lot, used up ones too, and every move, newest first. */
export type LotView = {
  readonly shelf: Shelf;
  readonly yarn: YarnRow;
  readonly colour: YarnColourRow;
  readonly lot: LotRow;
  readonly isAtShop: boolean;
  readonly balls: readonly (BallRow & { readonly number: number; readonly shownMg: number })[];
  readonly massMg: number;
  /** The sum of what its balls show. */
  readonly shownMg: number;
  readonly promised: Shelf['yarns'][number]['colours'][number]['lots'][number]['promised'];
  readonly promisedMg: number;
  readonly shownPromisedMg: number;
  readonly moves: readonly LotMove[];
  readonly handOvers: readonly LotHandOver[];
  /** Pairs with this colour, begun or here, newest first. */
  readonly pairs: readonly PairOfColour[];
};

type Holding = { readonly knitterId?: number | null; readonly handedDay?: Day | null };

const holdingIn = (json: string | null): Holding => (json === null ? {} : (JSON.parse(json) as Holding));

/** Moves of one ball as they are shown, in the order they were written down: each ball's add up to what it shows. */
function shownChanges(moves: readonly BallMoveRow[], system: UnitSystem): number[] {
  let massMg = 0;
  return moves.map(({ changeMg }) => {
    const before = roundWeighed(massMg, system);
    massMg += changeMg;
    return roundWeighed(massMg, system) - before;
  });
}

/** @throws {AppError} `notFound` */
export async function readLot(workshop: Workshop, lotId: number): Promise<LotView> {
  const shelf = await readShelf(workshop);
  const found = shelf.yarns
    .flatMap(({ yarn, colours }) =>
      colours.flatMap(({ colour, lots }) => lots.map((each) => ({ yarn, colour, ...each }))),
    )
    .find(({ lot }) => lot.id === lotId);
  if (!found) throw new AppError('notFound', 'This yarn is not on the shelf; it may have been removed.');
  const { timeZone, unitSystem } = shelf.settings;
  const { balls, moves, handOvers, pairs } = await workshop.store.read(async (db) => {
    const ofLot = (await listBalls(db)).filter((ball) => ball.lotId === lotId).sort((a, b) => a.id - b.id);
    const lists = [];
    const handed: LotHandOver[] = [];
    for (const [index, ball] of ofLot.entries()) {
      const own = await listBallMoves(db, ball.id);
      const shown = shownChanges(own, unitSystem);
      lists.push(own.map((move, at) => ({ ...move, shownMg: shown[at]! })));
      for (const { atMs, beforeJson, afterJson } of await listChangesOf(db, 'balls', ball.id)) {
        const { knitterId = null, handedDay } = holdingIn(afterJson);
        if (afterJson === null || knitterId === (holdingIn(beforeJson).knitterId ?? null)) continue;
        // Before days were asked for, a ball was handed over on the day that it was written down.
        handed.push({ ball: index + 1, knitterId, day: handedDay ?? todayIn(new Date(atMs), timeZone) });
      }
    }
    const own = new Set(
      (await listCurrentPairColours(db))
        .filter(({ yarnColourId }) => yarnColourId === found.colour.id)
        .map(({ pairId }) => pairId),
    );
    return {
      balls: ofLot.map((ball, index) => ({
        ...ball,
        number: index + 1,
        shownMg: roundWeighed(ball.massMg, unitSystem),
      })),
      moves: lists.flat(),
      handOvers: handed.reverse(),
      pairs: (await listCurrentPairs(db))
        .filter((pair) => own.has(pair.id))
        .map((pair) => ({
          id: pair.id,
          sizeWords: sizeWordsIn(readFrozen(pair.specJson).sizeWords ?? '', shelf.settings.unitSystem),
        }))
        .sort((a, b) => b.id - a.id),
    };
  });
  const numberOf = new Map(balls.map(({ id, number }) => [id, number]));
  const undone = new Set(moves.map((move) => move.reversesId));
  return {
    shelf,
    ...found,
    balls,
    moves: moves
      .map((move) => ({ ...move, ball: numberOf.get(move.ballId)!, isUndone: undone.has(move.id) }))
      .sort((a, b) => (a.day === b.day ? b.id - a.id : a.day < b.day ? 1 : -1)),
    handOvers,
    pairs,
  };
}
