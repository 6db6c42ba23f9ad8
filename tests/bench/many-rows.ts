import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openWorkshop } from '#db/open.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { contentHashOf, importOrders } from '#flows/orders/import-orders.ts';
import { planRows } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';
import { atMost, type BenchRow, median, medianMs, msOf } from '#tests/bench/measure.ts';
import { residentMb, start, stop } from '#tests/bench/served.ts';
import { manyOrders } from '#tests/support/many-orders.ts';

const lineCount = 10_000;
const pages = [
  '/',
  '/orders',
  '/orders?show=all&page=40',
  '/batch',
  '/batch?page=7',
  '/batch?knitter=1',
  '/batch/late?page=3',
  '/batch/knitters/1?page=2',
  '/batch/start',
  '/cards',
  '/buying',
  '/buying/dye-lots',
  '/pricing',
  '/pricing/tags',
  '/pricing/sheet',
  '/settings',
  '/settings/history',
];

/** Pages with 10 000 order lines, against planning the same lines in the same run. */
export async function manyRows(): Promise<BenchRow[]> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-'));
  const url = `file:${join(folder, 'bench.db')}`;
  try {
    const workshop = await openWorkshop(url);
    const today = todayIn(new Date(), 'UTC');
    await loadSample(workshop, { today });
    const { text } = manyOrders(await readWorkshop(workshop), lineCount, today);
    const importMs = await msOf(() =>
      importOrders(workshop, { text, fileName: 'many', confirmedHash: contentHashOf(text) }, new Date()),
    );
    const rows = await readWorkshop(workshop);
    await workshop.close();
    const planMs = await medianMs(() => planRows(rows, today), 3);
    const served = await start('src/main.ts', { DATABASE_URL: url });
    const slowest = { path: '', ms: 0 };
    for (const path of pages) {
      const times: number[] = [];
      for (let run = 0; run < 4; run += 1) times.push(await msOf(() => textOf(`${served.address}${path}`)));
      const ms = median(times.slice(1));
      if (ms > slowest.ms) Object.assign(slowest, { path, ms });
    }
    const memoryMb = residentMb(served);
    await stop(served);
    return [
      atMost(
        `slowest page (${slowest.path}) with 10 000 orders, against planning them`,
        slowest.ms / planMs,
        1,
        'times',
      ),
      atMost(
        'start to first page with 10 000 orders, against planning them',
        served.firstAnswerMs / planMs,
        10,
        'times',
      ),
      atMost('import of 10 000 orders, against planning them', importMs / planMs, 12, 'times'),
      atMost('memory with 10 000 orders, every page seen', memoryMb, 320, 'MB'),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function textOf(address: string): Promise<string> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return await answer.text();
}
