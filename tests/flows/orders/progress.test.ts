import { describe, expect, it } from 'vitest';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { addProgress, progressByLine, stateWordsOf } from '#flows/orders/progress.ts';

const none = { ordered: 3, inBatch: 0, done: 0, handedOver: 0 };

describe('stateWordsOf', () => {
  it.each([
    ['agreed', none, 'agreed'],
    ['asked', none, 'asked'],
    ['agreed', { ...none, inBatch: 1 }, 'in the batch'],
    ['agreed', { ...none, done: 2, inBatch: 1 }, 'in the batch'],
    ['agreed', { ...none, done: 1, handedOver: 2 }, 'done'],
    ['agreed', { ...none, handedOver: 3 }, 'handed over'],
    ['agreed', { ...none, handedOver: 2 }, 'in the batch'],
    ['cancelled', { ...none, handedOver: 3 }, 'cancelled'],
    ['agreed', { ...none, ordered: 0 }, 'agreed'],
  ] as const)('%s with %j is %s', (state, progress, words) => {
    expect(stateWordsOf(state, progress)).toBe(words);
  });
});

describe('progressByLine', () => {
  const pair = (id: number, left: string | null, lineId: number | null = 1) => ({ id, lineId, left });
  const piece = (pairId: number, stage: string) => ({ pairId, stage });

  it('counts pairs by what became of them', () => {
    const rows = {
      pairs: [
        pair(1, null),
        pair(2, null),
        pair(3, 'handed over'),
        pair(4, 'ripped out'),
        pair(5, null, null),
        pair(6, null),
      ],
      pairPieces: [piece(1, 'done'), piece(1, 'begun'), piece(2, 'done'), piece(2, 'done')],
      batches: [{ id: 9, state: 'gathering' }],
      batchLines: [
        { batchId: 9, lineId: 1, quantity: 4 },
        { batchId: 8, lineId: 1, quantity: 4 },
      ],
    } as unknown as WorkshopRows;
    // Pair 1 is begun, 6 has no pieces yet, four more are gathered; 2 is done; 3 has left; 4 no longer exists.
    expect(progressByLine(rows)({ id: 1, quantity: 9 })).toEqual({ ordered: 9, inBatch: 6, done: 1, handedOver: 1 });
    expect(progressByLine(rows)({ id: 2, quantity: 1 })).toEqual({ ordered: 1, inBatch: 0, done: 0, handedOver: 0 });
  });

  it('adds up', () => {
    const parts = [
      { ordered: 1, inBatch: 1, done: 0, handedOver: 0 },
      { ordered: 2, inBatch: 0, done: 1, handedOver: 1 },
    ];
    expect(addProgress(parts)).toEqual({ ordered: 3, inBatch: 1, done: 1, handedOver: 1 });
    expect(addProgress([])).toEqual({ ordered: 0, inBatch: 0, done: 0, handedOver: 0 });
  });
});
