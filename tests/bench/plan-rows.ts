import { plan } from '#core/plan.ts';
import { atMost, type BenchRow, medianMs } from '#tests/bench/measure.ts';
import { largeInput } from '#tests/support/plan-input.ts';

/** The whole plan in core: 10 000 lines, and how its cost grows at ten times as many. */
export async function planRows(): Promise<BenchRow[]> {
  // The small one first: what the large one leaves in memory would be tidied up in the middle of it.
  const small = largeInput(10_000);
  const smallMs = await medianMs(() => plan(small), 9, 4);
  const large = largeInput(100_000);
  const largeMs = await medianMs(() => plan(large), 3);
  return [
    atMost('whole plan, 10 000 order lines', smallMs, 150, 'ms'),
    atMost('whole plan, 100 000 lines against 10 000', largeMs / smallMs, 12, 'times'),
  ];
}
