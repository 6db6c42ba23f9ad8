import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { isOnWayLot } from '#core/buying/purchases.ts';
import { readSettings } from '#core/shared/settings.ts';
import { listCurrentPairColours, listCurrentPairs } from '#db/stores/batch.ts';
import { changeOrder, listOrders } from '#db/stores/orders.ts';
import { listBalls, listLots, listReservations } from '#db/stores/shelf.ts';
import { giveOutYarn } from '#flows/batch/give-out-yarn.ts';
import { pairsToStart, startBatch } from '#flows/batch/start-batch.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { heldByQuotes } from '#flows/orders/quote-place.ts';
import { readPlan } from '#flows/read-plan.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await loadSample(workshop, { today: '2026-11-25' });
});
afterEach(() => workshop.discard());

const plan = () => readPlan(workshop, now);
const orderIdsToStart = async () => [
  ...new Set((await plan()).plan.wanted.pairs.flatMap(({ started, orderId }) => (started ? [] : (orderId ?? [])))),
];

async function start(orderIds: readonly number[]) {
  const current = await plan();
  const shown = pairsToStart(current, new Set(orderIds), false);
  const wish = { name: 'Some', orderIds, withSpares: false, revision: current.rows.revision };
  expect((await startBatch(workshop, current, wish)).ok).toBe(true);
  return shown;
}

/** By weighing: what is free of each lot, whole or part balls of at least the least weight, less what is put aside. */
async function freeMgOfLots() {
  const [lots, balls, reservations] = await workshop.store.read((db) =>
    db.batch([listLots(db), listBalls(db), listReservations(db)]),
  );
  const leastMg = readSettings((await plan()).rows.settings).leastPartBallG * 1000;
  return lots.map(({ id, yarnColourId, dyeLot }) => {
    const here = balls.filter(({ lotId, massMg }) => lotId === id && massMg >= leastMg);
    const aside = reservations.filter(({ lotId }) => lotId === id);
    const sum = (rows: readonly { readonly massMg: number }[]) => rows.reduce((mg, { massMg }) => mg + massMg, 0);
    return { id, yarnColourId, dyeLot, freeMg: sum(here) - sum(aside) };
  });
}

/** Colours of pairs that were begun here; the finished pairs of the sample have no batch. */
async function begunColours() {
  const [pairs, colours] = await workshop.store.read((db) =>
    db.batch([listCurrentPairs(db), listCurrentPairColours(db)]),
  );
  const begun = new Set(pairs.flatMap(({ id, batchId }) => (batchId === null ? [] : [id])));
  return colours.filter(({ pairId }) => begun.has(pairId));
}

/** What waits: milligrams by pair and colour. */
async function waitingMg() {
  const wanted = new Map<string, { yarnColourId: number; mg: number }>();
  for (const { pairId, yarnColourId, lotId, allottedMg } of await begunColours()) {
    if (lotId !== null) continue;
    const key = `${pairId}/${yarnColourId}`;
    wanted.set(key, { yarnColourId, mg: (wanted.get(key)?.mg ?? 0) + allottedMg });
  }
  return [...wanted.values()];
}

const noQuoteHolds = () =>
  workshop.store.write('test: no quote holds yarn', async (tx) => {
    for (const { id, holds } of await listOrders(tx)) if (holds) await changeOrder(tx, id, { holds: false });
  });

describe('starting some of the orders', () => {
  it('gives what is there: no pair waits for yarn that a lot has free', async () => {
    await noQuoteHolds();
    // The last three of the plan, then the rest one by one from behind.
    const ids = (await orderIdsToStart()).reverse();
    for (const some of [ids.slice(0, 3), ...ids.slice(3).map((id) => [id])]) {
      await start(some);
      const free = await freeMgOfLots();
      for (const { yarnColourId, mg } of await waitingMg()) {
        for (const lot of free) if (lot.yarnColourId === yarnColourId) expect(lot.freeMg).toBeLessThan(mg);
      }
      expect(free.every(({ freeMg }) => freeMg >= 0)).toBe(true);
      expect(await giveOutYarn(workshop, now)).toBe(0);
    }
  });

  it('does what was shown before', async () => {
    const shown = await start((await orderIdsToStart()).slice(-4));
    const stored = await begunColours();
    const lotsOf = (rows: readonly { lotId: number | null; yarnColourId: number; allottedMg: number }[]) =>
      rows.map(({ lotId, yarnColourId, allottedMg }) => `${yarnColourId} ${lotId} ${allottedMg}`).sort();
    expect(lotsOf(stored)).toEqual(lotsOf(shown.flatMap(({ colours }) => colours)));
  });

  it('never mixes two dye lots in a colour of a pair', async () => {
    await start((await orderIdsToStart()).reverse().slice(0, 6));
    const colours = await begunColours();
    const dyeLotOf = new Map((await freeMgOfLots()).map(({ id, dyeLot }) => [id, dyeLot ?? `none ${id}`]));
    const lots = new Map<string, Set<string>>();
    for (const { pairId, yarnColourId, lotId } of colours) {
      if (lotId === null) continue;
      const key = `${pairId}/${yarnColourId}`;
      lots.set(key, (lots.get(key) ?? new Set()).add(dyeLotOf.get(lotId)!));
    }
    expect(lots.size).toBeGreaterThan(3);
    for (const own of lots.values()) expect(own.size).toBe(1);
  });

  it('keeps the lots of the plan where it has them all', async () => {
    const current = await plan();
    const { lotOf } = current.plan.placed;
    let kept = 0;
    for (const orderId of await orderIdsToStart()) {
      const shown = pairsToStart(current, new Set([orderId]), false).flatMap(({ pair, colours }) =>
        colours.map(({ yarnColourId, lotId }) => ({
          lotId,
          planned: lotOf.get(`${pair.key}/${yarnColourId}`) ?? null,
        })),
      );
      if (shown.some(({ planned }) => planned === null || isOnWayLot(planned))) continue;
      kept += 1;
      expect(shown.map(({ lotId }) => lotId)).toEqual(shown.map(({ planned }) => planned));
    }
    expect(kept).toBeGreaterThan(0);
  });

  it('leaves what a quote holds', async () => {
    const ids = (await orderIdsToStart()).reverse();
    const held = heldByQuotes(await plan());
    expect([...held.values()].some((mg) => mg > 0)).toBe(true);
    await start(ids.slice(0, 6));
    for (const { id, freeMg } of await freeMgOfLots()) expect(freeMg).toBeGreaterThanOrEqual(held.get(id) ?? 0);
  });
});
