import { describe, expect, it } from 'vitest';
import { createAttempts } from '#server/session/attempts.ts';

const second = 1000;
const minute = 60 * second;

describe('createAttempts', () => {
  it('gives five tries, then waits that double: half a minute, a minute, two', () => {
    const attempts = createAttempts();
    const at = (atMs: number) => attempts.ask('192.168.1.20', atMs);
    expect([0, 1, 2, 3, 4].map(at)).toEqual([0, 0, 0, 0, 0]);
    expect(at(4)).toBe(30 * second);
    expect(at(20 * second + 4)).toBe(10 * second);
    expect(at(30 * second + 4)).toBe(0);
    expect(at(30 * second + 5)).toBe(minute - 1);
    expect(at(90 * second + 4)).toBe(0);
    expect(at(90 * second + 4)).toBe(2 * minute);
  });

  it('never makes anybody wait more than a quarter of an hour', () => {
    const attempts = createAttempts();
    let nowMs = 0;
    for (let tries = 0; tries < 40; tries += 1) {
      const waitMs = attempts.ask('a', nowMs);
      expect(waitMs).toBeLessThanOrEqual(15 * minute);
      nowMs += waitMs;
      if (waitMs > 0) expect(attempts.ask('a', nowMs)).toBe(0);
    }
    expect(attempts.ask('a', nowMs)).toBe(15 * minute);
  });

  it('leaves another address its own tries, and stops all together after 25', () => {
    const attempts = createAttempts();
    for (let tries = 0; tries < 5; tries += 1) attempts.ask('a', 0);
    expect(attempts.ask('a', 0)).toBeGreaterThan(0);
    for (let tries = 0; tries < 20; tries += 1) expect(attempts.ask(`b${tries}`, 0)).toBe(0);
    expect(attempts.ask('nobody yet', 0)).toBe(30 * second);
  });

  it('a refused try does not lengthen the wait', () => {
    const attempts = createAttempts();
    for (let tries = 0; tries < 5; tries += 1) attempts.ask('a', 0);
    for (let tries = 0; tries < 100; tries += 1) attempts.ask('a', second);
    expect(attempts.ask('a', 30 * second)).toBe(0);
  });

  it('starts anew after the right passphrase, and after an hour without tries', () => {
    const attempts = createAttempts();
    for (let tries = 0; tries < 5; tries += 1) attempts.ask('a', 0);
    attempts.forgive('a');
    expect([0, 0, 0, 0, 0].map((atMs) => attempts.ask('a', atMs))).toEqual([0, 0, 0, 0, 0]);
    expect(attempts.ask('a', 0)).toBeGreaterThan(0);
    expect([1, 2, 3, 4, 5].map((ms) => attempts.ask('a', 60 * minute + ms))).toEqual([0, 0, 0, 0, 0]);
  });
});
