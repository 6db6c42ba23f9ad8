import { describe, expect, it } from 'vitest';
import type { PurchaseProps } from '#views/pages/buying/purchase-words.ts';
import { Waiting } from '#views/pages/buying/purchases-page.tsx';

async function wordsOf(names: readonly string[]) {
  const waitingOrders = names.map((name, i) => ({ id: i + 1, number: i + 1, name, dueDay: null, isLate: false }));
  const view = { waitingPairs: 60, waitingOrders } as unknown as PurchaseProps;
  const html = String(await (<Waiting view={view} />));
  return html
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll(/\s+/g, ' ')
    .trim();
}

describe('who waits for a purchase', () => {
  it('names each once with its orders, a few of many', async () => {
    expect(await wordsOf(['By order', 'Mara Linden', 'By order'])).toBe(
      '60 pairs wait for it: By order, orders 1 and 3; Mara Linden, order 2.',
    );
    expect(await wordsOf(Array(26).fill('By order'))).toBe(
      '60 pairs wait for it: By order, orders 1, 2, 3 and 23 more.',
    );
    // One more is named, where it would be the only one left out.
    expect(await wordsOf(Array(4).fill('By order'))).toBe('60 pairs wait for it: By order, orders 1, 2, 3 and 4.');
  });
});
