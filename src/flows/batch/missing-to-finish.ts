import { sewingUp } from '#core/batch/work-left.ts';
import type { Workshop } from '#db/open.ts';
import { findPair, listPairColours, listPairPieces, type PairPieceRow } from '#db/stores/batch.ts';
import { type LotRow, listLots, listYarnColours } from '#db/stores/shelf.ts';
import { lotsTooSmall } from '#flows/batch/allot-yarn.ts';
import type { PairStep } from '#flows/batch/step-pair.ts';

/** Yarn that a finished pair likely used and that is no longer written down: its colour and lot, and how much. */
export type YarnNotThere = {
  readonly colour: string;
  readonly lot: LotRow;
  readonly usedMg: number;
  readonly massMg: number;
};

/** Whether a press finishes what is not finished. */
function finishes(pieces: readonly PairPieceRow[], step: PairStep): boolean {
  if (pieces.every(({ stage }) => stage === 'done')) return false;
  if (step.do !== 'piece') return step.do === 'finish';
  if (step.stage !== 'done') return false;
  return step.piece === sewingUp || pieces.every(({ piece, stage }) => piece === step.piece || stage === 'done');
}

/** What a press would find missing on the shelf when it books what the pair used; none where it finishes no pair. */
export async function missingToFinish({ store }: Workshop, pairId: number, step: PairStep): Promise<YarnNotThere[]> {
  return await store.read(async (db) => {
    const pair = await findPair(db, pairId);
    const pieces = (await listPairPieces(db)).filter((piece) => piece.pairId === pairId);
    if (!pair || pair.left !== null || !finishes(pieces, step)) return [];
    const own = (await listPairColours(db)).filter((colour) => colour.pairId === pairId);
    const small = await lotsTooSmall(db, pair, own);
    if (small.length === 0) return [];
    const [lots, colours] = await db.batch([listLots(db), listYarnColours(db)]);
    return small.map(({ lotId, usedMg, massMg }) => {
      const lot = lots.find(({ id }) => id === lotId)!;
      return { colour: colours.find(({ id }) => id === lot.yarnColourId)?.name ?? '', lot, usedMg, massMg };
    });
  });
}
