/** A row of the bench: what was measured against what it should reach, and whether it does. */
export type BenchRow = {
  readonly name: string;
  readonly measured: number;
  readonly reach: number;
  readonly unit: string;
  readonly holds: boolean;
};

export function atMost(name: string, measured: number, reach: number, unit: string): BenchRow {
  return { name, measured: round(measured), reach, unit, holds: measured <= reach };
}

export function atLeast(name: string, measured: number, reach: number, unit: string): BenchRow {
  return { name, measured: round(measured), reach, unit, holds: measured >= reach };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}

export async function msOf(action: () => unknown | Promise<unknown>): Promise<number> {
  const start = performance.now();
  await action();
  return performance.now() - start;
}

/** Median of some runs after warm ones that do not count. */
export async function medianMs(action: () => unknown | Promise<unknown>, runs = 5, warm = 1): Promise<number> {
  for (let run = 0; run < warm; run += 1) await action();
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) times.push(await msOf(action));
  return median(times);
}
