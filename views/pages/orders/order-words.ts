import { countOf, formatCount } from '#core/shared/format.ts';
import type { LineView, OrderView, Progress } from '#views/pages/orders/types.ts';

/** "Order 12 for Mara Linden"; "Order 12, Winter fair" when nobody is named, since an outlet may be called "By order". */
export function orderTitle(order: Pick<OrderView, 'number' | 'customerName' | 'outletName'>): string {
  return `Order ${order.number}${order.customerName === null ? `, ${order.outletName}` : ` for ${order.customerName}`}`;
}

/** How far the pairs are: "2 in the batch, 1 done"; empty while nothing is begun. */
export function progressWords({ inBatch, done, handedOver }: Progress): string {
  return [
    inBatch > 0 ? `${formatCount(inBatch)} in the batch` : '',
    done > 0 ? `${formatCount(done)} done` : '',
    handedOver > 0 ? `${formatCount(handedOver)} handed over` : '',
  ]
    .filter(Boolean)
    .join(', ');
}

/** "2 pairs of woman EU 38 in Heather and Oat". */
export function lineTitle(line: Pick<LineView, 'quantity' | 'size' | 'colours'>): string {
  const names = [...new Set(line.colours.map((colour) => colour.name))];
  const colours = names.length > 0 ? ` in ${names.join(' and ')}` : '';
  return `${countOf(line.quantity, 'pair', 'pairs')} of ${line.size}${colours}`;
}

const small = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten', 'Eleven', 'Twelve'];

/** A count that begins a heading: in letters up to twelve. */
export function countInWords(count: number, one: string, many: string): string {
  const words = small[count];
  return words === undefined ? countOf(count, one, many) : `${words} ${count === 1 ? one : many}`;
}

/** "Ada", "Ada and Bram", "Ada, Bram and Ines". */
export function listInWords(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
