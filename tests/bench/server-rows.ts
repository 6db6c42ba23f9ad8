import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import autocannon from 'autocannon';
import { openWorkshop, type Workshop } from '#db/open.ts';
import { createOrder, createOrders, type NewLine } from '#db/stores/orders.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { readPlan } from '#flows/read-plan.ts';
import { atLeast, atMost, type BenchRow, median, msOf } from '#tests/bench/measure.ts';
import { residentMb, start, stop } from '#tests/bench/served.ts';

const sizes = ['36', '37', '38', '39', '40', '41', '42', '43', '44', '45'];
const connections = 20;
const seconds = 5;

/** The sample season with 200 order lines on top of its own, over 10 sizes and its colours. */
async function seed(url: string): Promise<void> {
  const workshop = await openWorkshop(url);
  await loadSample(workshop, { today: '2026-11-25' });
  const rows = await readWorkshop(workshop);
  const oneStrand = new Set(rows.yarns.filter((yarn) => yarn.usualStrands === 1).map((yarn) => yarn.id));
  const colours = rows.yarnColours.filter((colour) => oneStrand.has(colour.yarnId));
  await workshop.store.write('bench: seed', (tx) =>
    createOrders(
      tx,
      Array.from({ length: 100 }, (_, order) => ({
        outletId: rows.outlets[order % rows.outlets.length]!.id,
        state: 'agreed' as const,
        createdDay: '2026-11-25',
        dueDay: `2027-0${1 + (order % 9)}-15`,
        lines: [0, 1].map((index): NewLine => {
          const pick = order * 2 + index;
          const foot = colours[pick % colours.length]!.id;
          const cuff = colours[(pick * 3 + 1) % colours.length]!.id;
          return {
            styleId: rows.styles[0]!.id,
            person: pick % 3 === 0 ? 'man' : 'woman',
            sizeSystem: 'EU',
            sizeLabel: sizes[(pick * 7) % sizes.length]!,
            fit: 'usual',
            quantity: 1,
            colours: [
              { role: 'foot', strand: 0, yarnColourId: foot },
              { role: 'cuff', strand: 0, yarnColourId: cuff },
            ],
          };
        }),
      })),
    ),
  );
  await workshop.close();
}

async function load(url: string): Promise<{ perSecond: number; p99: number }> {
  await autocannon({ url, connections, duration: 1 });
  const runs = [];
  for (let run = 0; run < 3; run += 1) runs.push(await autocannon({ url, connections, duration: seconds }));
  for (const run of runs) {
    if (run.non2xx > 0 || run.errors > 0) throw new Error(`${url}: ${run.non2xx} bad answers, ${run.errors} errors`);
  }
  return {
    perSecond: median(runs.map((run) => run.requests.average)),
    p99: median(runs.map((run) => run.latency.p99)),
  };
}

async function replanMs(workshop: Workshop): Promise<number> {
  const now = new Date('2026-11-25T12:00:00Z');
  const rows = await readWorkshop(workshop);
  const line = rows.lines.find((each) => each.person !== null)!;
  const colours = rows.lineColours.filter((colour) => colour.lineId === line.id);
  const times: number[] = [];
  await readPlan(workshop, now);
  for (let run = 0; run < 6; run += 1) {
    await workshop.store.write('bench: one order more', (tx) =>
      createOrder(tx, {
        outletId: rows.outlets[0]!.id,
        state: 'agreed',
        createdDay: '2026-11-25',
        lines: [
          {
            styleId: line.styleId,
            person: line.person,
            sizeSystem: line.sizeSystem,
            sizeLabel: line.sizeLabel,
            fit: 'usual',
            quantity: 1,
            colours: colours.map(({ role, strand, yarnColourId }) => ({ role, strand, yarnColourId })),
          },
        ],
      }),
    );
    times.push(await msOf(() => readPlan(workshop, now)));
  }
  return median(times.slice(1));
}

/** Pages under load against a bare page, replanning, start-up and memory. Load goes to this machine's loopback only. */
export async function serverRows(): Promise<BenchRow[]> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-'));
  const url = `file:${join(folder, 'bench.db')}`;
  try {
    await seed(url);
    const starts: number[] = [];
    for (let run = 0; run < 5; run += 1) {
      const served = await start('src/main.ts', { DATABASE_URL: url });
      starts.push(served.firstAnswerMs);
      await stop(served);
    }
    const ours = await start('src/main.ts', { DATABASE_URL: url });
    const page = await (await fetch(`${ours.address}/batch`)).text();
    const cells = [...page.matchAll(/<t[dh][ >]/g)].length;
    const own = await load(`${ours.address}/batch`);
    const memoryMb = residentMb(ours);
    await stop(ours);
    const bare = await start('tests/bench/bare-server.ts', { DATABASE_URL: url, CELLS: String(cells) });
    const yardstick = await load(`${bare.address}/`);
    await stop(bare);
    const workshop = await openWorkshop(url);
    const replan = await replanMs(workshop);
    await workshop.close();
    return [
      atLeast(
        `batch page of 200 lines, ${cells} cells, against a bare page`,
        (100 * own.perSecond) / yardstick.perSecond,
        60,
        '% of its requests a second',
      ),
      atMost('batch page, 99th percentile against the bare page', own.p99 / yardstick.p99, 2, 'times'),
      atMost('replan after a write, 200 lines', replan, 60, 'ms'),
      atMost('start to first answer, installed', median(starts), 2000, 'ms'),
      atMost('memory after the load test', memoryMb, 200, 'MB'),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
