import { sewingUp } from '#core/batch/work-left.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  changeBatch,
  changePair,
  changePairPiece,
  createPairEvent,
  findBatch,
  findPair,
  listCurrentPairPieces,
  listCurrentPairs,
  listPairColours,
  listPairPieces,
  type PairColourRow,
  type PairPieceRow,
  type PairRow,
} from '#db/stores/batch.ts';
import { listPlacements } from '#db/stores/placements.ts';
import { holdYarn, releaseYarn, unuseYarn, useYarn } from '#flows/batch/allot-yarn.ts';
import { nameYarn, type YarnFrom } from '#flows/batch/finish-yarn.ts';
import { placedPairs } from '#flows/batch/started-pairs.ts';

/** What can be said of a pair with one press. */
export type PairStep =
  | { readonly do: 'piece'; readonly piece: string; readonly stage: 'begun' | 'done' }
  | { readonly do: 'finish' }
  | { readonly do: 'go on' }
  | { readonly do: 'rip out' }
  | { readonly do: 'second' | 'good' }
  | { readonly do: 'let go' }
  | { readonly do: 'leave'; readonly left: 'handed over' | 'sold' | 'given' | 'lost' }
  | { readonly do: 'come back' };

type PairState = {
  readonly pair: PairRow;
  readonly pieces: readonly PairPieceRow[];
  readonly colours: readonly PairColourRow[];
};

async function readPair(tx: Tx, pairId: number): Promise<PairState> {
  const pair = await findPair(tx, pairId);
  if (!pair) throw new AppError('notFound', 'This pair is not here; it may have been removed.');
  const pieces = (await listPairPieces(tx)).filter((piece) => piece.pairId === pairId);
  const colours = (await listPairColours(tx)).filter((colour) => colour.pairId === pairId);
  return { pair, pieces, colours };
}

const isFinished = (pieces: readonly PairPieceRow[]) => pieces.every((piece) => piece.stage === 'done');

/** Every press that finishes a pair books its yarn once, whichever press it was. */
async function settleFinish(tx: Tx, before: PairState, day: Day, from: YarnFrom): Promise<void> {
  if (isFinished(before.pieces)) return;
  const after = await readPair(tx, before.pair.id);
  if (!isFinished(after.pieces)) return;
  await nameYarn(tx, after.pair, after.colours, from);
  const { colours } = await readPair(tx, before.pair.id);
  await useYarn(tx, after.pair, colours, day);
  await releaseYarn(tx, after.pair, colours);
  await createPairEvent(tx, { pairId: before.pair.id, event: 'finished' });
}

function requireHere({ pair }: PairState): void {
  if (pair.left === null) return;
  throw new AppError('conflict', `This pair has left already (${pair.left}). Look at the page again.`);
}

/** What stands in a shop is counted back there, not here. */
async function requireNotPlaced(tx: Tx, { pair }: PairState): Promise<void> {
  const placements = await listPlacements(tx);
  const isSoldThere = placements.some(({ pairId, soldDay }) => pairId === pair.id && soldDay !== null);
  if (isSoldThere && pair.left === 'sold') {
    throw new AppError(
      'conflict',
      'A shop sold this pair. Where that was a slip, take it back on the page of the shop.',
    );
  }
  if (!placedPairs(placements).has(pair.id)) return;
  throw new AppError(
    'conflict',
    'This pair stands in a shop. Count it back there first, or note there that it was sold.',
  );
}

function requireFinished({ pieces }: PairState): void {
  if (isFinished(pieces)) return;
  throw new AppError('conflict', 'This pair is not finished yet. Mark it finished first.');
}

async function markPiece(tx: Tx, state: PairState, piece: string, stage: 'begun' | 'done'): Promise<void> {
  const row = state.pieces.find((each) => each.piece === piece);
  if (!row) throw new AppError('notFound', 'This pair has no such piece. Look at the page again.');
  if (row.stage !== stage) await changePairPiece(tx, row.id, { stage });
  // What is sewn up was knitted before.
  if (piece === sewingUp && stage === 'done') {
    for (const each of state.pieces) if (each.stage !== 'done') await changePairPiece(tx, each.id, { stage: 'done' });
  }
  await createPairEvent(tx, { pairId: state.pair.id, event: `${piece} ${stage}` });
}

async function ripOut(tx: Tx, state: PairState): Promise<void> {
  requireHere(state);
  if (isFinished(state.pieces)) throw new AppError('conflict', 'This pair is finished. Take back the finish first.');
  await releaseYarn(tx, state.pair, state.colours);
  await changePair(tx, state.pair.id, { left: 'ripped out' });
}

async function goOn(tx: Tx, state: PairState, day: Day): Promise<void> {
  requireHere(state);
  requireFinished(state);
  await unuseYarn(tx, state.pair, state.colours, day);
  await holdYarn(tx, state.pair, state.colours);
  const last = state.pieces.find((piece) => piece.piece === sewingUp) ?? state.pieces.at(-1);
  if (last) await changePairPiece(tx, last.id, { stage: 'waiting' });
}

async function leave(tx: Tx, state: PairState, left: 'handed over' | 'sold' | 'given' | 'lost', day: Day) {
  requireHere(state);
  if (left === 'lost' && !isFinished(state.pieces)) {
    await useYarn(tx, state.pair, state.colours, day);
    await releaseYarn(tx, state.pair, state.colours);
  } else {
    requireFinished(state);
  }
  await changePair(tx, state.pair.id, { left });
}

async function comeBack(tx: Tx, state: PairState, day: Day): Promise<void> {
  const { pair, pieces, colours } = state;
  if (pair.left === null) throw new AppError('conflict', 'This pair is here already.');
  if (pair.left === 'ripped out') {
    throw new AppError('conflict', 'This pair was ripped out and its yarn given free. Begin another in its place.');
  }
  if (pair.left === 'lost' && !isFinished(pieces)) {
    await unuseYarn(tx, pair, colours, day);
    await holdYarn(tx, pair, colours);
  }
  await changePair(tx, pair.id, { left: null });
}

/** A batch is finished when none of its pairs is still to do, and goes on when one is again. */
async function settleBatch(tx: Tx, batchId: number | null): Promise<void> {
  const batch = batchId === null ? null : await findBatch(tx, batchId);
  if (!batch || batch.state === 'gathering') return;
  const ids = new Set(
    (await listCurrentPairs(tx)).filter((pair) => pair.batchId === batch.id && pair.left === null).map(({ id }) => id),
  );
  const isDone = (await listCurrentPairPieces(tx)).every((piece) => !ids.has(piece.pairId) || piece.stage === 'done');
  const state = isDone ? 'finished' : 'started';
  if (batch.state !== state) await changeBatch(tx, batch.id, { state });
}

/**
 * Notes one thing that happened to a pair, with what follows from it: yarn used or given free, the batch finished.
 *
 * @param version of the pair as it was shown
 * @param yarnFrom what the colours that it still waits for were knitted from, when this finishes it
 * @throws {AppError} `notFound`, or `conflict` when somebody else was faster; `YarnUnknown` where that must be said
 */
export async function stepPair(
  { store }: Workshop,
  pairId: number,
  step: PairStep,
  day: Day,
  version: number | undefined,
  yarnFrom: YarnFrom = new Map(),
): Promise<PairRow> {
  return await store.write(`batch: ${step.do}`, async (tx) => {
    const state = await readPair(tx, pairId);
    // Every press raises the pair's version, so that the same page pressed twice does nothing twice.
    await changePair(tx, pairId, {}, version);
    await requireNotPlaced(tx, state);
    switch (step.do) {
      case 'piece':
        requireHere(state);
        await markPiece(tx, state, step.piece, step.stage);
        await settleFinish(tx, state, day, yarnFrom);
        break;
      case 'finish':
        requireHere(state);
        for (const piece of state.pieces) {
          if (piece.stage !== 'done') await changePairPiece(tx, piece.id, { stage: 'done' });
        }
        await settleFinish(tx, state, day, yarnFrom);
        break;
      case 'go on':
        await goOn(tx, state, day);
        break;
      case 'rip out':
        await ripOut(tx, state);
        break;
      case 'second':
      case 'good':
        await changePair(tx, pairId, { quality: step.do });
        break;
      case 'let go':
        await changePair(tx, pairId, { lineId: null });
        break;
      case 'leave':
        await leave(tx, state, step.left, day);
        break;
      case 'come back':
        await comeBack(tx, state, day);
        break;
    }
    if (step.do !== 'piece' && step.do !== 'finish') {
      await createPairEvent(tx, { pairId, event: step.do === 'leave' ? step.left : step.do });
    }
    await settleBatch(tx, state.pair.batchId);
    return (await findPair(tx, pairId))!;
  });
}

/**
 * Hands a finished pair over for a line, in another's transaction; a pair from stock becomes that line's.
 *
 * @throws {AppError} `conflict` when it is not finished or has left already
 */
export async function handOver(tx: Tx, pairId: number, lineId: number, day: Day): Promise<void> {
  const state = await readPair(tx, pairId);
  if (state.pair.lineId !== lineId) await changePair(tx, pairId, { lineId });
  await leave(tx, state, 'handed over', day);
  await createPairEvent(tx, { pairId, event: 'handed over' });
}

/** Takes a pair that had left back, in another's transaction. @throws {AppError} `conflict` when it is here */
export async function bringBack(tx: Tx, pairId: number, day: Day): Promise<void> {
  await comeBack(tx, await readPair(tx, pairId), day);
  await createPairEvent(tx, { pairId, event: 'come back' });
}
