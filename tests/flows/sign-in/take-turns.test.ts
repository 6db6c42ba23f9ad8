import { describe, expect, it } from 'vitest';
import { takeTurns } from '#flows/sign-in/take-turns.ts';

describe('takeTurns', () => {
  it('runs two at a time, the rest in the order they came, also after one failed', async () => {
    const run = takeTurns(2);
    const order: number[] = [];
    let running = 0;
    let most = 0;
    const work = (name: number) => async () => {
      running += 1;
      most = Math.max(most, running);
      order.push(name);
      await new Promise((resolve) => setTimeout(resolve, 2));
      running -= 1;
      if (name === 1) throw new Error('one');
      return name;
    };
    const all = await Promise.allSettled([0, 1, 2, 3, 4, 5, 6].map((name) => run(work(name))));
    expect(most).toBe(2);
    expect(order).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(all.map(({ status }) => status === 'fulfilled')).toEqual([true, false, true, true, true, true, true]);
    // And both places are free again.
    await Promise.all([run(work(7)), run(work(8))]);
    expect([most, order.length]).toEqual([2, 9]);
  });
});
