import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeLine, findLine, type OrderRow } from '#db/stores/orders.ts';
import { requireOpenOrder } from '#flows/orders/open-order.ts';

/** A price of one pair of a line, to be agreed. */
export type PriceToAgree = { readonly lineId: number; readonly cents: number };

/** Agrees prices of lines that have none yet; a price that somebody agreed in the meantime stays. */
export async function agreeOpenPrices(tx: Tx, prices: readonly PriceToAgree[]): Promise<void> {
  for (const { lineId, cents } of prices) {
    const line = await findLine(tx, lineId);
    if (line?.agreedCents === null) await changeLine(tx, lineId, { agreedCents: cents });
  }
}

/**
 * Agrees the price of a pair of some lines of an order.
 *
 * @param prices with the version that each line had when its price was typed
 * @throws {AppError} `notFound`, or `conflict` with the other's line when one moved on
 */
export async function agreePrices(
  workshop: Workshop,
  orderId: number,
  prices: readonly (PriceToAgree & { readonly version: number | undefined })[],
): Promise<Result<OrderRow>> {
  return await workshop.store.write('orders: change agreed prices', async (tx) => {
    const order = await requireOpenOrder(tx, orderId, 'prices');
    if (!order.ok) return order;
    for (const { lineId, cents, version } of prices) {
      if ((await findLine(tx, lineId))?.orderId !== orderId) {
        const message = 'A line of this order is gone. Look at the order again.';
        return refuse({ code: 'lineGone', path: `price-${lineId}`, message });
      }
      await changeLine(tx, lineId, { agreedCents: cents }, version);
    }
    return succeed(order.value);
  });
}
