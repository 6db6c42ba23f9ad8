import { sewingUp } from '#core/batch/work-left.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changePairPiece,
  changePairRows,
  createPairEvent,
  createPairRows,
  findPair,
  listPairPieces,
  listPairRows,
  type PairRow,
  type PairRowsRow,
} from '#db/stores/batch.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';

/** A piece of one slipper: 1 the left or first, 2 the other. */
export type Place = { readonly piece: string; readonly slipper: 1 | 2 };

/** One press: so many rows more or less, or a number typed in against the number that was shown. */
export type RowCount = { readonly by: number } | { readonly setTo: number; readonly seen: number };

/** Keys of the steps ticked. */
export function readTicks(row: Pick<PairRowsRow, 'ticksJson'>): string[] {
  return JSON.parse(row.ticksJson) as string[];
}

async function openPair(tx: Tx, pairId: number): Promise<PairRow> {
  const pair = await findPair(tx, pairId);
  if (!pair) throw new AppError('notFound', 'This pair is not here; it may have been removed.');
  if (pair.left !== null) throw new AppError('conflict', `This pair has left already (${pair.left}).`);
  return pair;
}

/** Rows of a piece of one slipper; sewing up has none. */
function rowsOf(pair: PairRow, { piece, slipper }: Place): number {
  const { spec } = readFrozen(pair.specJson);
  const own = slipper === 2 && spec.right ? spec.right.pieces : spec.pieces;
  const counts = own.find(({ name }) => name === piece);
  if (!counts && piece !== sewingUp) {
    throw new AppError('notFound', 'This pair has no such piece. Look at the page again.');
  }
  return counts?.totalRows ?? 0;
}

async function findRows(tx: Tx, pairId: number, { piece, slipper }: Place): Promise<PairRowsRow> {
  const known = (await listPairRows(tx, pairId)).find((row) => row.piece === piece && row.slipper === slipper);
  return known ?? (await createPairRows(tx, { pairId, piece, slipper }));
}

/** What is counted or ticked is begun. */
async function markBegun(tx: Tx, pairId: number, piece: string): Promise<void> {
  const row = (await listPairPieces(tx)).find((each) => each.pairId === pairId && each.piece === piece);
  if (!row) throw new AppError('notFound', 'This pair has no such piece. Look at the page again.');
  if (row.stage !== 'waiting') return;
  await changePairPiece(tx, row.id, { stage: 'begun' });
  await createPairEvent(tx, { pairId, event: `${piece} begun` });
}

/**
 * Counts rows of a piece of one slipper. More and less are added to what is stored, so that two people pressing lose
 * nothing; a number typed in wins over another's, unless it would take away rows that were not on the page.
 *
 * @returns rows done now, from 0 to all of the piece
 * @throws {AppError} `notFound`, or `conflict` when rows would be lost unseen or the pair has left
 */
export async function countRows({ store }: Workshop, pairId: number, place: Place, count: RowCount): Promise<number> {
  return await store.write('cards: rows done', async (tx) => {
    const pair = await openPair(tx, pairId);
    const most = rowsOf(pair, place);
    const row = await findRows(tx, pairId, place);
    const wished = 'by' in count ? row.rowsDone + count.by : count.setTo;
    const rowsDone = Math.min(most, Math.max(0, wished));
    if ('setTo' in count && rowsDone < row.rowsDone && row.rowsDone !== count.seen) {
      throw new AppError(
        'conflict',
        `Meanwhile row ${row.rowsDone} was counted, and ${rowsDone} would take rows away. Look at the number now, and set it again if it is wrong.`,
        { current: row },
      );
    }
    if (rowsDone !== row.rowsDone) await changePairRows(tx, row.id, { rowsDone });
    if (rowsDone > 0) await markBegun(tx, pairId, place.piece);
    return rowsDone;
  });
}

/** Ticks a step that has no rows, or takes its tick away. */
export async function tickStep(
  { store }: Workshop,
  pairId: number,
  place: Place,
  step: string,
  isDone: boolean,
): Promise<void> {
  await store.write('cards: tick a step', async (tx) => {
    const pair = await openPair(tx, pairId);
    rowsOf(pair, place);
    const row = await findRows(tx, pairId, place);
    const others = readTicks(row).filter((key) => key !== step);
    await changePairRows(tx, row.id, { ticksJson: JSON.stringify(isDone ? [...others, step] : others) });
    if (isDone) await markBegun(tx, pairId, place.piece);
  });
}
