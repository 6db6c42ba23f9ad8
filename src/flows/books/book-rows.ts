import type { Workshop } from '#db/open.ts';
import { listPairEvents, type PairEventRow } from '#db/stores/batch.ts';
import { listLeftPairColours, listLeftPairPieces, listLeftPairs } from '#db/stores/fair.ts';
import { listOrders, type OrderRow } from '#db/stores/orders.ts';
import { listShopPayments, type ShopPaymentRow } from '#db/stores/placements.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { type FairRows, readFairRows } from '#flows/fair/fair-rows.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** What the books need beside a plan. */
export type BookRows = {
  readonly fair: FairRows;
  /** Every order, cancelled ones too: their money stays. */
  readonly orders: readonly OrderRow[];
  readonly shopPayments: readonly ShopPaymentRow[];
  /** Pairs that were sold, given or handed over. */
  readonly leftPairs: readonly StoredPair[];
  readonly events: readonly PairEventRow[];
};

/** Reads what the books need beside a plan. */
export async function readBookRows(workshop: Workshop, { rows }: WorkshopPlan): Promise<BookRows> {
  const fair = await readFairRows(workshop);
  const ways = ['sold', 'given', 'handed over'] as const;
  const [orders, shopPayments, pairs, pairPieces, pairColours, events] = await workshop.store.read((db) =>
    db.batch([
      listOrders(db),
      listShopPayments(db),
      listLeftPairs(db, ...ways),
      listLeftPairPieces(db, ...ways),
      listLeftPairColours(db, ...ways),
      listPairEvents(db),
    ]),
  );
  const leftPairs = readPairs({ ...rows, pairs, pairPieces, pairColours });
  return { fair, orders, shopPayments, leftPairs, events };
}
