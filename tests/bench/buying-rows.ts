import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import { narrowProblem } from '#core/buying/problem.ts';
import { openWorkshop } from '#db/open.ts';
import { createSolver } from '#solver/solver.ts';
import { atLeast, atMost, type BenchRow, median, msOf } from '#tests/bench/measure.ts';
import { residentMb, start, stop } from '#tests/bench/served.ts';
import { addCoupledSeason } from '#tests/support/coupled-season.ts';
import { leastPurchaseCents } from '#tests/support/milp-purchase.ts';
import { randomPurchase } from '#tests/support/purchase-cases.ts';

/** Coupled by limits or breaks, a third of each and of both: proven within the time the page gives, or with its gap. */
async function coupledRows(): Promise<BenchRow[]> {
  const limits = { free: 0.7, minimum: 0.5, stock: 0.1 };
  const breaks = { packs: 0.3, basket: 0.8 };
  const kinds = [{ limits }, { breaks }, { limits, breaks }];
  const options = { oneSupplierPerColour: true };
  const solver = createSolver();
  const times: number[] = [];
  const gaps: number[] = [];
  let proven = 0;
  // The worker is there before the clock runs, as it is on the second page.
  const first = randomPurchase(1, { colours: 2, packs: 2, suppliers: 2 });
  await solver.searchList({ ...first, options }, buyYarn(first.needs, first.suppliers, first.offers, options)).ended;
  for (let index = 0; index < 100; index += 1) {
    const made = randomPurchase(30_000 + index, { colours: 30, packs: 4, suppliers: 3, ...kinds[index % 3] });
    let list: PurchaseList | null = null;
    times.push(
      await msOf(async () => {
        list = buyYarn(made.needs, made.suppliers, made.offers, options);
        if (list.isProvenCheapest) return;
        const problem = narrowProblem({ ...made, options }, list.uncovered);
        list = (await solver.searchList(problem, list).ended).list;
      }),
    );
    const { isProvenCheapest, totalCents, boundCents } = list!;
    if (isProvenCheapest) proven += 1;
    else gaps.push((100 * (totalCents - boundCents)) / totalCents);
  }
  await solver.close();
  return [
    atLeast('coupled by limits or breaks: proven cheapest', proven, 80, 'of 100'),
    atMost('coupled: slowest list with its bound', Math.max(...times) / 1000, 2.5, 's'),
    atMost('coupled: widest gap of those not proven', Math.max(0, ...gaps), 5, '% of the list'),
  ];
}

/** 200 requests to two pages while a cheaper list is being looked for, and the memory of it all. */
async function pagesWhileLooking(): Promise<BenchRow[]> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-'));
  const url = `file:${join(folder, 'bench.db')}`;
  try {
    const workshop = await openWorkshop(url);
    await addCoupledSeason(workshop, { colours: 30, suppliers: 5, seed: 4 });
    await workshop.close();
    const served = await start('src/main.ts', { DATABASE_URL: url });
    const ask = async (path: string) => await (await fetch(`${served.address}${path}`)).text();
    const lookLonger = async (list: string) => {
      const body = new URLSearchParams({ list });
      await fetch(`${served.address}/buying/search`, { method: 'POST', headers: { Origin: served.address }, body });
    };
    for (let warm = 0; warm < 5; warm += 1) await ask('/batch');
    const times: number[] = [];
    let whileLooking = 0;
    let memoryMb = 0;
    const timed = async (path: string) => {
      let page = '';
      times.push(
        await msOf(async () => {
          page = await ask(path);
        }),
      );
      memoryMb = Math.max(memoryMb, residentMb(served));
      await new Promise((resolve) => setTimeout(resolve, 15));
      return page;
    };
    for (let round = 0; whileLooking < 200 && round < 200; round += 1) {
      await timed('/batch');
      // Two requests count when the search goes on after them. One that ended without a proof is begun again, for longer.
      if ((await timed('/buying')).includes('Looking for a cheaper list')) whileLooking += 2;
      else for (const list of ['likely', 'safe']) await lookLonger(list);
    }
    await stop(served);
    return [
      atLeast('pages asked for while the solver works', whileLooking, 200, 'pages'),
      atMost('slowest of these pages', Math.max(...times), 200, 'ms'),
      atMost('memory while the solver works', memoryMb, 320, 'MB'),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Cheapest list against an independent solver: 30 colours, 4 packs, 3 shops, postage only, 100 random seasons. */
export async function buyingRows(): Promise<BenchRow[]> {
  const options = { oneSupplierPerColour: false };
  const seasons = Array.from({ length: 100 }, (_, index) =>
    randomPurchase(20_000 + index, { colours: 30, packs: 4, suppliers: 3 }),
  );
  const ratios: number[] = [];
  let equal = 0;
  for (const { needs, suppliers, offers } of seasons) {
    let ourCents = 0;
    let solverCents = 0;
    const ours = await msOf(() => {
      ourCents = buyYarn(needs, suppliers, offers, options).totalCents;
    });
    const solver = await msOf(() => {
      solverCents = leastPurchaseCents(needs, suppliers, offers, options);
    });
    if (ourCents === solverCents) equal += 1;
    ratios.push(solver / ours);
  }
  return [
    ...(await coupledRows()),
    ...(await pagesWhileLooking()),
    atLeast('cheapest list equal to an independent solver', equal, 100, 'of 100'),
    atLeast('cheapest list, how much faster than that solver', median(ratios), 10, 'times'),
  ];
}
