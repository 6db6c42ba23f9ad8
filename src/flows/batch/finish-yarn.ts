import { AppError } from '#core/shared/app-error.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { Tx } from '#db/store.ts';
import { changePairColour, type PairColourRow, type PairRow, removePairColour } from '#db/stores/batch.ts';
import { listLots } from '#db/stores/shelf.ts';
import { putAside } from '#flows/batch/allot-yarn.ts';
import { readPairs } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { type LotName, lotNamer } from '#flows/shelf/lot-names.ts';

/** A pair is to be finished, and nobody said what a colour that it waits for was knitted from. */
export class YarnUnknown extends AppError {
  constructor() {
    super('conflict', 'Say first what this pair was knitted from: it still waits for yarn.');
  }
}

/** The lot that each colour of a pair was knitted from; null for yarn that is not on the shelf. */
export type YarnFrom = ReadonlyMap<number, number | null>;

/** What a pair of a batch still waits for; pairs that were there before, or of the knitter's own yarn, never wait. */
function waitingColours(pair: PairRow, colours: readonly PairColourRow[]): readonly PairColourRow[] {
  return pair.batchId === null || pair.isOwnYarn ? [] : colours.filter(({ lotId }) => lotId === null);
}

/**
 * Weighs out what a pair still waits for, as it is finished: put aside first, like what others were given at once.
 *
 * @throws {YarnUnknown} when a colour that waits is not named
 */
export async function nameYarn(tx: Tx, pair: PairRow, colours: readonly PairColourRow[], from: YarnFrom) {
  const waiting = waitingColours(pair, colours);
  if (waiting.length === 0) return;
  const lots = new Map((await listLots(tx)).map((lot) => [lot.id, lot]));
  for (const row of waiting) {
    const lotId = from.get(row.yarnColourId);
    if (lotId === undefined) throw new YarnUnknown();
    if (lotId === null) continue;
    if (lots.get(lotId)?.yarnColourId !== row.yarnColourId) throw new YarnUnknown();
    const same = colours.find((each) => each.lotId === lotId && each.role === row.role && each.strand === row.strand);
    if (same) {
      await changePairColour(tx, same.id, { allottedMg: same.allottedMg + row.allottedMg });
      await removePairColour(tx, row.id);
    } else {
      await changePairColour(tx, row.id, { lotId });
    }
    await putAside(tx, pair.batchId!, lotId, row.allottedMg);
  }
}

/** A colour that a pair waits for, and the lots of it that are on the shelf. */
export type ColourToName = {
  readonly colour: NamedColour;
  /** What it likely took of the whole colour. */
  readonly grams: number;
  readonly lots: readonly { readonly id: number; readonly name: LotName; readonly grams: number }[];
};

export type PairToName = {
  readonly id: number;
  readonly version: number;
  readonly batchId: number | null;
  readonly sizeWords: string;
  readonly colours: readonly ColourToName[];
};

/** What must be said before a pair is finished. @throws {AppError} `notFound` */
export function readPairToName({ rows, settings }: WorkshopPlan, pairId: number): PairToName {
  const stored = readPairs(rows).find(({ row }) => row.id === pairId);
  if (!stored) throw new AppError('notFound', 'This pair is not here; it may have been removed.');
  const { row, frozen } = stored;
  const named = coloursOf(rows);
  const nameOf = lotNamer(rows);
  const massMg = new Map<number, number>();
  for (const ball of rows.balls) massMg.set(ball.lotId, (massMg.get(ball.lotId) ?? 0) + ball.massMg);
  const waiting = groupBy(waitingColours(row, stored.colours), ({ yarnColourId }) => yarnColourId);
  return {
    id: row.id,
    version: row.version,
    batchId: row.batchId,
    sizeWords: sizeWordsIn(frozen.sizeWords, settings.unitSystem),
    colours: [...waiting.keys()].map((yarnColourId) => ({
      colour: named.get(yarnColourId)!,
      grams: frozen.estimate.yarn.find((each) => each.yarnColourId === yarnColourId)?.grams ?? 0,
      lots: rows.lots
        .filter((lot) => lot.yarnColourId === yarnColourId && (massMg.get(lot.id) ?? 0) > 0)
        .map((lot) => ({ id: lot.id, name: nameOf(lot), grams: massMg.get(lot.id)! / 1000 })),
    })),
  };
}
