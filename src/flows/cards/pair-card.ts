import { sewingUp } from '#core/batch/work-left.ts';
import { dyeLotOf, lotKeyOf, type ShelfLot } from '#core/buying/shelf.ts';
import { type BallOnScale, runsOutIn, weighBall } from '#core/cards/ball.ts';
import type { CardInput, CardStep, RowMark } from '#core/cards/card.ts';
import { gramsOfUses, rowsYarnOf, slippersOf } from '#core/cards/piece-yarn.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import { listPairRows, type PairRowsRow } from '#db/stores/batch.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { cardInputOf, subjectOfStored, wordsOf } from '#flows/cards/card-subjects.ts';
import { readTicks } from '#flows/cards/count-rows.ts';
import { type CardSheet, sheetOf } from '#flows/cards/read-runs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** 1 the left or first slipper, 2 the right or second. */
export type SlipperNumber = 1 | 2;

export type PlaceStep = CardStep & { readonly isDone: boolean };

/** One piece of one slipper, and how far it is. */
export type CardPlace = {
  readonly piece: string;
  readonly title: string;
  readonly slipper: SlipperNumber;
  readonly slipperWords: string;
  readonly rows: number;
  readonly rowsDone: number;
  readonly steps: readonly PlaceStep[];
  readonly marks: readonly RowMark[];
  readonly isDone: boolean;
};

export type PairCard = {
  readonly pair: StoredPair;
  readonly sheet: CardSheet;
  readonly input: CardInput;
  readonly places: readonly CardPlace[];
  /** The lots this pair is knitted from, with what the shelf still has of them. */
  readonly lots: readonly LotLeft[];
};

export type LotLeft = {
  readonly yarnColourId: number;
  readonly dyeLot: string;
  /** On the shelf and put aside for nobody, grams. */
  readonly freeG: number;
  /** Pairs that are not begun yet count on it. */
  readonly isPlanned: boolean;
};

function lotsOf(pairId: number, { rows, input, plan }: WorkshopPlan): LotLeft[] {
  const ids = new Set(rows.pairColours.filter((row) => row.pairId === pairId).map(({ lotId }) => lotId));
  const { lotOf, mixedOf } = plan.placed;
  const planned = new Set([...lotOf.values(), ...[...mixedOf.values()].flat().map(({ lotId }) => lotId)]);
  const lots = new Map<string, LotLeft>();
  for (const { id, yarnColourId, dyeLot } of rows.lots.filter((lot) => ids.has(lot.id))) {
    // One dye lot may have come in two parcels.
    const key = lotKeyOf(dyeLot);
    const isSame = (lot: ShelfLot) => lot.id === id || (key !== undefined && lotKeyOf(lot.dyeLot) === key);
    const here = input.shelf.filter(
      (lot) => lot.yarnColourId === yarnColourId && lot.fromDay === undefined && isSame(lot),
    );
    const freeG = here.reduce((sum, lot) => sum + lot.freeMg, 0) / 1000;
    const isPlanned = here.some((lot) => planned.has(lot.id));
    lots.set(`${yarnColourId} ${dyeLotOf({ id, dyeLot })}`, { yarnColourId, dyeLot: dyeLot ?? '', freeG, isPlanned });
  }
  return [...lots.values()];
}

function placeFrom(
  place: Pick<CardPlace, 'piece' | 'title' | 'slipper' | 'slipperWords' | 'rows' | 'marks'>,
  steps: readonly CardStep[],
  stored: PairRowsRow | undefined,
  isPieceDone: boolean,
): CardPlace {
  const rowsDone = isPieceDone ? place.rows : (stored?.rowsDone ?? 0);
  const ticks = new Set(stored ? readTicks(stored) : []);
  const done = steps.map((step) => ({
    ...step,
    isDone: isPieceDone || (step.toRow === null ? ticks.has(step.key) : rowsDone >= step.toRow),
  }));
  return { ...place, rowsDone, steps: done, isDone: done.every((step) => step.isDone) };
}

/**
 * The card of a begun pair with all that was counted and ticked on it.
 *
 * @throws {AppError} `notFound` when there is no such pair here or its style can no longer be read
 */
export async function readPairCard({ store }: Workshop, workshopPlan: WorkshopPlan, pairId: number): Promise<PairCard> {
  const pair = readPairs(workshopPlan.rows).find(({ row }) => row.id === pairId);
  if (!pair) throw new AppError('notFound', 'This pair is not here; it may have left or been removed.');
  const subject = subjectOfStored(pair);
  if (!subject) throw new AppError('notFound', 'The style or a yarn of this pair can no longer be read.');
  const sheet = sheetOf(subject, workshopPlan);
  const stored = await store.read((db) => listPairRows(db, pairId));
  const { slippers, sewing, finishing } = sheet.card;
  const storedOf = (piece: string, slipper: number) =>
    stored.find((row) => row.piece === piece && row.slipper === slipper);
  const isDone = (piece: string) => pair.pieces.find((each) => each.piece === piece)?.stage === 'done';
  const both: readonly SlipperNumber[] = [1, 2];
  const names = slippers[0]!.pieces.map((piece) => piece.name);
  const wordsOfSlipper = (slipper: SlipperNumber) =>
    slippers.length > 1 ? (slipper === 1 ? 'left' : 'right') : slipper === 1 ? 'first' : 'second';
  const knitted = names.flatMap((name) =>
    both.map((slipper) => {
      const piece = (slippers[slipper - 1] ?? slippers[0]!).pieces.find((each) => each.name === name)!;
      const place = {
        piece: name,
        title: piece.title,
        slipper,
        slipperWords: wordsOfSlipper(slipper),
        rows: piece.rows,
        marks: piece.marks,
      };
      return placeFrom(place, piece.steps, storedOf(name, slipper), isDone(name));
    }),
  );
  const sewn = both.map((slipper) =>
    placeFrom(
      {
        piece: sewingUp,
        title: 'Sewing up',
        slipper,
        slipperWords: wordsOfSlipper(slipper),
        rows: 0,
        marks: [],
      },
      [...sewing, ...finishing],
      storedOf(sewingUp, slipper),
      isDone(sewingUp),
    ),
  );
  const input = cardInputOf(subject, workshopPlan, wordsOf(subject.knitterId, workshopPlan));
  return { pair, sheet, input, places: [...knitted, ...sewn], lots: lotsOf(pairId, workshopPlan) };
}

/** What a ball on the scale is good for. */
export type BallAnswer = BallOnScale & {
  readonly colour: string;
  /** The first row of this colour still to do; null when none is. */
  readonly nextRow: number | null;
  /** Grams of this colour for all that is left of the pair, this piece included. */
  readonly pairNeedsG: number;
  /** Over what the pair needs; below 0 it is short. */
  readonly spareG: number;
  /** The piece in which the ball ends: "second cuff"; null when it is enough. */
  readonly runsOutIn: string | null;
  /** Lots of this colour that the pair is knitted from, to make up what is short. */
  readonly lots: readonly LotLeft[];
  readonly gramsARow: number;
  /** What can be done when it is short. */
  readonly waysOut: readonly string[];
};

function slipperIndex(place: CardPlace, { input }: PairCard): number {
  return slippersOf(input).length > 1 && place.slipper === 2 ? 1 : 0;
}

/** Rows of a place still to do in a colour, run by run, and the grams for ends after them. */
function leftIn(place: CardPlace, pairCard: PairCard, yarnColourId: number) {
  const { input } = pairCard;
  const index = slipperIndex(place, pairCard);
  const uses = gramsOfUses(input, rowsYarnOf(input), yarnColourId).filter(
    (use) => use.piece === place.piece && use.slipper === index,
  );
  // The yarn of a row done is used; an end comes after the rows it stands behind.
  const runs = uses
    .filter((use) => use.rows > 0)
    .flatMap((use) => {
      const last = use.fromRow + use.rows - 1;
      const rows = Math.min(use.rows, Math.max(0, last - place.rowsDone));
      return rows > 0 ? [{ fromRow: last - rows + 1, rows, gramsARow: use.grams / use.rows }] : [];
    });
  const endsG = place.isDone
    ? 0
    : uses.filter((use) => use.rows === 0 && use.fromRow > place.rowsDone).reduce((sum, use) => sum + use.grams, 0);
  return { runs, endsG };
}

/**
 * What a ball still makes of a piece, and of the whole pair.
 *
 * @param gramsLeft what is on the ball, bag or cone taken off
 * @param yarnColourId one of the pair's colours
 */
export function answerBall(pairCard: PairCard, place: CardPlace, yarnColourId: number, gramsLeft: number): BallAnswer {
  const { runs, endsG } = leftIn(place, pairCard, yarnColourId);
  const answer = weighBall(gramsLeft, runs, endsG);
  // What is in hand is finished first, then the pieces in their order.
  const order = [place, ...pairCard.places.filter((each) => each !== place && each.piece !== sewingUp)];
  const needs = order.map((each) => {
    const left = leftIn(each, pairCard, yarnColourId);
    return left.runs.reduce((sum, run) => sum + run.rows * run.gramsARow, left.endsG);
  });
  const pairNeedsG = needs.reduce((sum, grams) => sum + grams, 0);
  const end = runsOutIn(gramsLeft, needs);
  const strand = pairCard.input.strands.find((each) => each.yarnColourId === yarnColourId);
  const cuff = pairCard.input.body.pieces.find((piece) => piece.isOptional)?.name;
  const hasCuff = pairCard.input.spec.pieces.some((piece) => piece.name === cuff);
  return {
    ...answer,
    colour: strand?.colour ?? '',
    nextRow: runs[0]?.fromRow ?? null,
    pairNeedsG,
    spareG: gramsLeft - pairNeedsG,
    runsOutIn: end === null ? null : `${order[end]!.slipperWords} ${order[end]!.title.toLowerCase()}`,
    lots: pairCard.lots.filter((lot) => lot.yarnColourId === yarnColourId),
    gramsARow: runs[0]?.gramsARow ?? 0,
    waysOut: end !== null ? waysOutOf(hasCuff, place.piece === cuff, pairCard.input) : [],
  };
}

function waysOutOf(hasCuff: boolean, isInCuff: boolean, input: CardInput): string[] {
  const colour = input.words === 'american' ? 'color' : 'colour';
  return [
    ...(hasCuff ? [isInCuff ? 'Make both cuffs as many rows shorter.' : 'Make the cuffs shorter.'] : []),
    ...(hasCuff && !isInCuff ? [`Knit the cuffs in another ${colour}.`] : []),
    'Go on with another lot at the same row of both slippers; two rows of each in turn hide the change.',
  ];
}
