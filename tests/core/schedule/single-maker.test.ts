import { describe, expect, it } from 'vitest';
import { earliestDueDateOrder, fewestLate, type Job, lateness } from '#core/schedule/single-maker.ts';
import { makeRandom } from '#tests/support/purchase-cases.ts';

const jobsOf = (minutes: readonly number[], dues: readonly number[]): Job[] =>
  minutes.map((each, i) => Object.freeze({ minutes: each, due: dues[i]! }));

// name, minutes, due, late and worst lateness by earliest due date fewest late.
const cases: readonly (readonly [string, readonly number[], readonly number[], number, number, number])[] = [
  ['Pinedo, Scheduling, Ex. 3.3.3', [7, 8, 4, 6, 6], [9, 17, 18, 19, 21], 3, 10, 2],
  ['Heizer and Render type example', [6, 2, 8, 3, 9], [8, 6, 18, 15, 23], 2, 5, 1],
  ['Nahmias, sequencing example (from memory)', [11, 29, 31, 1, 2], [61, 45, 31, 33, 32], 4, 18, 1],
  [
    'Nahmias, example of the late-count algorithm (from memory)',
    [10, 3, 4, 8, 10, 6],
    [15, 6, 9, 23, 20, 30],
    4,
    12,
    2,
  ],
  ['Kleinberg and Tardos, lecture slides (from memory)', [3, 2, 1, 4, 3, 2], [6, 8, 9, 9, 14, 15], 1, 1, 1],
  [
    'ten jobs of a public exercise; optimum by enumeration',
    [19, 23, 5, 31, 17, 8, 32, 41, 26, 18],
    [48, 75, 170, 215, 205, 240, 85, 67, 100, 95],
    4,
    59,
    2,
  ],
];

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((first) => permutations(items.filter((each) => each !== first)).map((rest) => [first, ...rest]));
}

describe('earliestDueDateOrder', () => {
  it.each(cases)('%s', (_, minutes, dues, late, maxLateness) => {
    const jobs = jobsOf(minutes, dues);
    expect(lateness(jobs, earliestDueDateOrder(jobs))).toEqual({ late, maxLateness });
  });

  it('the public variant of the slides, due 10 and 11 at the end, is 4 late at worst', () => {
    const jobs = jobsOf([3, 2, 1, 4, 3, 2], [6, 8, 9, 9, 10, 11]);
    expect(lateness(jobs, earliestDueDateOrder(jobs)).maxLateness).toBe(4);
  });

  it('keeps list order among equals, and gives nothing for nothing', () => {
    expect(earliestDueDateOrder(jobsOf([1, 2, 3], [5, 5, 4]))).toEqual([2, 0, 1]);
    expect(earliestDueDateOrder([])).toEqual([]);
    expect(lateness([], [])).toEqual({ maxLateness: 0, late: 0 });
  });
});

describe('fewestLate', () => {
  it.each(cases)('%s', (_, minutes, dues, _late, _worst, fewest) => {
    const jobs = jobsOf(minutes, dues);
    const found = fewestLate(jobs);
    expect(found.late).toHaveLength(fewest);
    expect(found.onTime.length + found.late.length).toBe(jobs.length);
    expect(lateness(jobs, [...found.onTime, ...found.late]).late).toBe(fewest); // those kept really are in time
  });

  it('both rules equal trying every order of six jobs', () => {
    const random = makeRandom(51);
    for (let round = 0; round < 40; round += 1) {
      const jobs = Array.from({ length: 6 }, () => ({
        minutes: 1 + Math.floor(random() * 9),
        due: Math.floor(random() * 30),
      }));
      const all = permutations([0, 1, 2, 3, 4, 5]).map((order) => lateness(jobs, order));
      expect(lateness(jobs, earliestDueDateOrder(jobs)).maxLateness).toBe(
        Math.min(...all.map((each) => each.maxLateness)),
      );
      expect(fewestLate(jobs).late).toHaveLength(Math.min(...all.map((each) => each.late)));
    }
  });
});
