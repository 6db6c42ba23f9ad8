import { requireRange } from '#core/shared/check.ts';
import { popFrom, pushOnto } from '#core/shared/heap.ts';

/** One job for one maker who starts at 0: how long it takes and when it is due, in the same unit. */
export type Job = { readonly minutes: number; readonly due: number };

/**
 * The order in which the worst lateness is least: earliest due first, equals in list order.
 *
 * @returns positions of the jobs
 * Source: Jackson's rule (1955), exact for one maker with everything at hand
 * @example earliestDueDateOrder([{ minutes: 2, due: 9 }, { minutes: 2, due: 4 }]) // => [1, 0]
 */
export function earliestDueDateOrder(jobs: readonly Job[]): number[] {
  return jobs.map((_, index) => index).sort((a, b) => jobs[a]!.due - jobs[b]!.due || a - b);
}

/**
 * Worst lateness (finish less due, negative when early) and count of late jobs of an order of work.
 *
 * @returns `maxLateness` 0 for no jobs
 * @example lateness([{ minutes: 2, due: 9 }, { minutes: 3, due: 4 }], [0, 1]) // => { maxLateness: 1, late: 1 }
 */
export function lateness(jobs: readonly Job[], order: readonly number[]): { maxLateness: number; late: number } {
  let finish = 0;
  let maxLateness = order.length === 0 ? 0 : Number.NEGATIVE_INFINITY;
  let late = 0;
  for (const index of order) {
    const job = jobs[index]!;
    finish += requireRange('lateness: minutes', job.minutes, 0);
    maxLateness = Math.max(maxLateness, finish - job.due);
    if (finish > job.due + 1e-9) late += 1;
  }
  return { maxLateness, late };
}

/**
 * The fewest late jobs: jobs are added by due day; whenever one ends too late, the longest so far is put off.
 * The count is the least possible; which jobs are late is one choice of several.
 *
 * @returns positions of the jobs on time, in working order, and of those put off, in the order they were dropped
 * Source: Moore's algorithm (Management Science 15, 1968, 102-109), exact for one maker with everything at hand
 * @example fewestLate([{ minutes: 3, due: 3 }, { minutes: 2, due: 4 }]) // => { onTime: [1], late: [0] }
 */
export function fewestLate(jobs: readonly Job[]): { onTime: number[]; late: number[] } {
  // Kept jobs by length, so that thousands stay quick: a heap with the longest on top.
  const heap: number[] = [];
  const isLonger = (a: number, b: number) => jobs[a]!.minutes > jobs[b]!.minutes;
  const late = new Set<number>();
  let total = 0;
  const order = earliestDueDateOrder(jobs);
  for (const index of order) {
    total += requireRange('fewestLate: minutes', jobs[index]!.minutes, 0);
    pushOnto(heap, index, isLonger);
    if (total > jobs[index]!.due + 1e-9) {
      const longest = popFrom(heap, isLonger);
      total -= jobs[longest]!.minutes;
      late.add(longest);
    }
  }
  return { onTime: order.filter((index) => !late.has(index)), late: [...late] };
}
