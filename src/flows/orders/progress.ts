import type { Day } from '#core/shared/calendar.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { OrderState } from '#flows/orders/entries.ts';

/** How far the pairs of a line or an order are. The rest of what was ordered is not begun. */
export type Progress = {
  readonly ordered: number;
  /** Gathered for a batch or in somebody's hands. */
  readonly inBatch: number;
  readonly done: number;
  readonly handedOver: number;
};

/** What an order is, in one word for the list: its own state, or what follows from its pairs. */
export type StateWords = OrderState | 'run out' | 'in the batch' | 'done' | 'handed over';

/** A quote is good on its last day; one without a last day was never given, and does not run out. */
export function isRunOut(
  { state, validUntilDay }: { readonly state: OrderState; readonly validUntilDay: Day | null },
  today: Day,
): boolean {
  return state === 'asked' && validUntilDay !== null && validUntilDay < today;
}

export function addProgress(parts: readonly Progress[]): Progress {
  return parts.reduce(
    (sum, part) => ({
      ordered: sum.ordered + part.ordered,
      inBatch: sum.inBatch + part.inBatch,
      done: sum.done + part.done,
      handedOver: sum.handedOver + part.handedOver,
    }),
    { ordered: 0, inBatch: 0, done: 0, handedOver: 0 },
  );
}

export function stateWordsOf(state: OrderState, { ordered, inBatch, done, handedOver }: Progress): StateWords {
  if (state === 'cancelled') return 'cancelled';
  if (ordered > 0 && handedOver >= ordered) return 'handed over';
  if (ordered > 0 && done + handedOver >= ordered) return 'done';
  return inBatch + done + handedOver > 0 ? 'in the batch' : state;
}

const leftWithCustomer = ['handed over', 'sold', 'given'];

/** Progress by line, from the pairs that exist; a line without any has none begun. */
export function progressByLine(
  rows: WorkshopRows,
): (line: { readonly id: number; readonly quantity: number }) => Progress {
  const unfinished = new Set(rows.pairPieces.filter((piece) => piece.stage !== 'done').map((piece) => piece.pairId));
  const withPieces = new Set(rows.pairPieces.map((piece) => piece.pairId));
  const counts = new Map<number, { inBatch: number; done: number; handedOver: number }>();
  const countOf = (lineId: number) => {
    const count = counts.get(lineId) ?? { inBatch: 0, done: 0, handedOver: 0 };
    counts.set(lineId, count);
    return count;
  };
  for (const pair of rows.pairs) {
    if (pair.lineId === null) continue;
    const count = countOf(pair.lineId);
    if (pair.left === null) {
      const isDone = withPieces.has(pair.id) && !unfinished.has(pair.id);
      if (isDone) count.done += 1;
      else count.inBatch += 1;
    } else if (leftWithCustomer.includes(pair.left)) {
      count.handedOver += 1;
    }
  }
  const gathering = rows.batches.find((batch) => batch.state === 'gathering');
  for (const row of rows.batchLines) {
    if (row.batchId === gathering?.id) countOf(row.lineId).inBatch += row.quantity;
  }
  return ({ id, quantity }) => ({ inBatch: 0, done: 0, handedOver: 0, ...counts.get(id), ordered: quantity });
}
