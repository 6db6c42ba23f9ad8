import { roundHalfUp } from '#core/shared/rounding.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import { type BatchRow, listBatches } from '#db/stores/batch.ts';
import { type KnitterRow, listKnitters } from '#db/stores/knitters.ts';
import {
  type BallRow,
  type LotRow,
  listFullBalls,
  listLots,
  listReservations,
  listYarnColours,
  listYarns,
  type YarnColourRow,
  type YarnRow,
} from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';

/** Yarn of a lot that a batch will use. */
export type PromisedYarn = { readonly batch: BatchRow; readonly massMg: number };

export type LotOnShelf = {
  readonly lot: LotRow;
  /** With yarn on them, whole balls first. */
  readonly balls: readonly BallRow[];
  readonly massMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly promisedMg: number;
  /** What is left of it cost so much. */
  readonly paidCents: number;
};

export type ColourOnShelf = {
  readonly colour: YarnColourRow;
  readonly lots: readonly LotOnShelf[];
  readonly massMg: number;
};

export type YarnOnShelf = {
  readonly yarn: YarnRow;
  readonly colours: readonly ColourOnShelf[];
  readonly massMg: number;
};

export type Shelf = {
  readonly settings: Settings;
  readonly yarns: readonly YarnOnShelf[];
  readonly knitters: readonly KnitterRow[];
  readonly massMg: number;
  readonly promisedMg: number;
  readonly paidCents: number;
  readonly colourCount: number;
};

const sumOf = <T>(rows: readonly T[], amountOf: (row: T) => number) =>
  rows.reduce((sum, row) => sum + amountOf(row), 0);

/** Every yarn with its colours, lots and balls, as it stands. */
export async function readShelf({ store }: Workshop): Promise<Shelf> {
  const [yarns, colours, lots, balls, reservations, batches, knitters, settingRows] = await store.read((db) =>
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
  const batchById = new Map(batches.map((batch) => [batch.id, batch]));
  const lotViews = lots.map((lot): LotOnShelf => {
    const own = balls.filter((ball) => ball.lotId === lot.id).sort((a, b) => b.massMg - a.massMg || a.id - b.id);
    const promised = reservations
      .filter((each) => each.lotId === lot.id && each.massMg > 0)
      .map(({ batchId, massMg }) => ({ batch: batchById.get(batchId)!, massMg }));
    const massMg = sumOf(own, (ball) => ball.massMg);
    return {
      lot,
      balls: own,
      massMg,
      promised,
      promisedMg: sumOf(promised, (each) => each.massMg),
      paidCents: roundHalfUp((lot.paidCents * massMg) / lot.boughtMg),
    };
  });
  const yarnViews = yarns.map((yarn): YarnOnShelf => {
    const ofYarn = colours
      .filter((colour) => colour.yarnId === yarn.id)
      .map((colour): ColourOnShelf => {
        const own = lotViews.filter(({ lot }) => lot.yarnColourId === colour.id);
        return { colour, lots: own, massMg: sumOf(own, (each) => each.massMg) };
      });
    return { yarn, colours: ofYarn, massMg: sumOf(ofYarn, (each) => each.massMg) };
  });
  return {
    settings: readSettings(settingRows),
    yarns: yarnViews,
    knitters,
    massMg: sumOf(lotViews, (each) => each.massMg),
    promisedMg: sumOf(lotViews, (each) => each.promisedMg),
    paidCents: sumOf(lotViews, (each) => each.paidCents),
    colourCount: yarnViews.flatMap((each) => each.colours).filter((each) => each.massMg > 0).length,
  };
}
