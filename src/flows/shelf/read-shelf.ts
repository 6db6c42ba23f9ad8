import { careCardOf } from '#core/cards/care-card.ts';
import { balancesAt } from '#core/shared/balance.ts';
import type { Day } from '#core/shared/calendar.ts';
import { roundWeighed } from '#core/shared/measures.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import { type BatchRow, listBatches } from '#db/stores/batch.ts';
import { type KnitterRow, listKnitters } from '#db/stores/knitters.ts';
import {
  type BallRow,
  type LotRow,
  listAllMoves,
  listBalls,
  listFullBalls,
  listLots,
  listReservations,
  listYarnColours,
  listYarns,
  type YarnColourRow,
  type YarnRow,
} from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { type DueAtShop, dueAtShop, isAtShop } from '#flows/shelf/due-at-shop.ts';

/** Yarn of a lot that a batch will use. */
export type PromisedYarn = { readonly batch: BatchRow; readonly massMg: number; readonly shownMg: number };

export type LotOnShelf = {
  readonly lot: LotRow;
  /** It lies at the shop, which keeps it for us. */
  readonly isAtShop: boolean;
  /** With yarn on them, whole balls first. */
  readonly balls: readonly BallRow[];
  readonly massMg: number;
  /** The sum of what its balls show. */
  readonly shownMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly promisedMg: number;
  readonly shownPromisedMg: number;
  /** What is left of it cost so much. */
  readonly paidCents: number;
  /** What is left of a gift would have cost so much; null where nobody said. */
  readonly worthCents: number | null;
};

export type ColourOnShelf = {
  readonly colour: YarnColourRow;
  readonly lots: readonly LotOnShelf[];
  readonly massMg: number;
};

export type YarnOnShelf = {
  readonly yarn: YarnRow;
  /** How to wash it, in sentences, by what it is made of. */
  readonly care: string;
  readonly colours: readonly ColourOnShelf[];
  readonly massMg: number;
};

export type Shelf = {
  readonly settings: Settings;
  readonly yarns: readonly YarnOnShelf[];
  readonly knitters: readonly KnitterRow[];
  readonly massMg: number;
  readonly promisedMg: number;
  /** Sums of what the lots show, so that the page adds up. */
  readonly shownMg: number;
  readonly shownPromisedMg: number;
  readonly paidCents: number;
  readonly colourCount: number;
  /** Names of places and givers that were typed before. */
  readonly places: readonly string[];
  readonly donors: readonly string[];
  readonly dueAtShop: (today: Day) => readonly DueAtShop[];
};

const namesIn = (names: readonly (string | null)[]) =>
  [...new Set(names.filter((name) => name !== null))].sort((a, b) => a.localeCompare(b, 'en'));

const sumOf = <T>(rows: readonly T[], amountOf: (row: T) => number) =>
  rows.reduce((sum, row) => sum + amountOf(row), 0);

/** Every ball with what was on it at the end of a day; who had it then was not written down. */
async function ballsOn({ store }: Workshop, day: Day): Promise<BallRow[]> {
  const [balls, moves] = await store.read((db) => db.batch([listBalls(db), listAllMoves(db)]));
  const balances = balancesAt(moves, day);
  return balls
    .map((ball) => ({ ...ball, knitterId: null, massMg: balances.get(ball.id) ?? 0 }))
    .filter((ball) => ball.massMg > 0);
}

/**
 * Every yarn with its colours, lots and balls, as it stands.
 *
 * @param onDay as it stood at the end of that day instead, from the moves; what was put aside then is not known
 */
export async function readShelf(workshop: Workshop, onDay: Day | null = null): Promise<Shelf> {
  const { store } = workshop;
  const [yarns, colours, lots, ballsNow, reservationsNow, batches, knitters, settingRows] = await store.read((db) =>
    db.batch([
      listYarns(db),
      listYarnColours(db),
      listLots(db),
      listFullBalls(db),
      listReservations(db),
      listBatches(db),
      listKnitters(db),
      listSettings(db),
    ]),
  );
  const balls = onDay === null ? ballsNow : await ballsOn(workshop, onDay);
  const reservations = onDay === null ? reservationsNow : [];
  const batchById = new Map(batches.map((batch) => [batch.id, batch]));
  const settings = readSettings(settingRows);
  const shown = (mg: number) => roundWeighed(mg, settings.unitSystem);
  const lotViews = lots.map((lot): LotOnShelf => {
    const own = balls.filter((ball) => ball.lotId === lot.id).sort((a, b) => b.massMg - a.massMg || a.id - b.id);
    const promised = reservations
      .filter((each) => each.lotId === lot.id && each.massMg > 0)
      .map(({ batchId, massMg }) => ({ batch: batchById.get(batchId)!, massMg, shownMg: shown(massMg) }));
    const massMg = sumOf(own, (ball) => ball.massMg);
    return {
      lot,
      isAtShop: isAtShop(lot),
      balls: own,
      massMg,
      shownMg: sumOf(own, (ball) => shown(ball.massMg)),
      promised,
      promisedMg: sumOf(promised, (each) => each.massMg),
      shownPromisedMg: sumOf(promised, (each) => each.shownMg),
      paidCents: roundHalfUp((lot.paidCents * massMg) / lot.boughtMg),
      worthCents: lot.worthCents === null ? null : roundHalfUp((lot.worthCents * massMg) / lot.boughtMg),
    };
  });
  const yarnViews = yarns.map((yarn): YarnOnShelf => {
    const ofYarn = colours
      .filter((colour) => colour.yarnId === yarn.id)
      .map((colour): ColourOnShelf => {
        const own = lotViews.filter(({ lot }) => lot.yarnColourId === colour.id);
        return { colour, lots: own, massMg: sumOf(own, (each) => each.massMg) };
      });
    return {
      yarn,
      care: careCardOf([yarn], 'unknown').care.join(' '),
      colours: ofYarn,
      massMg: sumOf(ofYarn, (each) => each.massMg),
    };
  });
  return {
    settings,
    yarns: yarnViews,
    knitters,
    massMg: sumOf(lotViews, (each) => each.massMg),
    promisedMg: sumOf(lotViews, (each) => each.promisedMg),
    shownMg: sumOf(lotViews, (each) => each.shownMg),
    shownPromisedMg: sumOf(lotViews, (each) => each.shownPromisedMg),
    paidCents: sumOf(lotViews, (each) => each.paidCents),
    colourCount: yarnViews.flatMap((each) => each.colours).filter((each) => each.massMg > 0).length,
    places: namesIn(lots.map((lot) => lot.place)),
    donors: namesIn(lots.map((lot) => lot.donor)),
    dueAtShop: (today) => dueAtShop({ yarns, yarnColours: colours, lots, balls: ballsNow }, today),
  };
}
