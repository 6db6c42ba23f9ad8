const freeTriesEach = 5;
const freeTriesInAll = 25;
const firstWaitMs = 30_000;
const longestWaitMs = 15 * 60_000;
// Wrong tries are forgotten when there was none for so long.
const forgetMs = 60 * 60_000;

type Tries = { wrong: number; lastMs: number };

export type Attempts = {
  /**
   * Asks for one try. It counts as wrong at once, so that many at the same moment do not all pass; `forgive` takes it
   * back.
   *
   * @returns 0 when it may be made now, else how many ms are left to wait
   */
  readonly ask: (address: string, nowMs: number) => number;
  /** The passphrase was right: whoever is at this address starts anew. */
  readonly forgive: (address: string) => void;
};

function waitLeft(tries: Tries | undefined, free: number, nowMs: number): number {
  if (!tries || tries.wrong < free) return 0;
  const waitMs = Math.min(longestWaitMs, firstWaitMs * 2 ** (tries.wrong - free));
  return Math.max(0, tries.lastMs + waitMs - nowMs);
}

/**
 * Slows down guessing: after 5 wrong tries from one address, or 25 from all together, the next must wait half a minute,
 * then twice as long each time, a quarter of an hour at most. Kept in memory: a restart begins anew.
 */
export function createAttempts(): Attempts {
  const byAddress = new Map<string, Tries>();
  const inAll: Tries = { wrong: 0, lastMs: 0 };

  function forgetOld(nowMs: number): void {
    for (const [address, { lastMs }] of byAddress) if (nowMs - lastMs > forgetMs) byAddress.delete(address);
    if (nowMs - inAll.lastMs > forgetMs) inAll.wrong = 0;
  }

  return {
    ask(address, nowMs) {
      forgetOld(nowMs);
      const mine = byAddress.get(address);
      const leftMs = Math.max(waitLeft(mine, freeTriesEach, nowMs), waitLeft(inAll, freeTriesInAll, nowMs));
      if (leftMs > 0) return leftMs;
      byAddress.set(address, { wrong: (mine?.wrong ?? 0) + 1, lastMs: nowMs });
      inAll.wrong += 1;
      inAll.lastMs = nowMs;
      return 0;
    },
    forgive(address) {
      if (byAddress.delete(address)) inAll.wrong = Math.max(0, inAll.wrong - 1);
    },
  };
}
