import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PlanJson, planJson } from '#commands/plan-json.ts';
import { planText } from '#commands/plan-text.ts';
import { readWorkshop, type WorkshopRows } from '#db/stores/read-workshop.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { knownNamesOf } from '#flows/orders/known-names.ts';
import { readOrderCsv } from '#flows/orders/read-order-csv.ts';
import { planOrders } from '#flows/plan-orders.ts';
import { planRows } from '#flows/read-plan.ts';
import { pathOf } from '#tests/support/source-files.ts';
import { openTestWorkshop } from '#tests/support/workshop.ts';

const today = '2026-11-25';
const fortyLines = readFileSync(pathOf('tests/fixtures/orders-40.csv'), 'utf8');

describe('forty lines of orders', () => {
  let rows: WorkshopRows;
  let json: PlanJson;
  const planned = () => {
    const orders = readOrderCsv(fortyLines, { ...knownNamesOf(rows), references: [] }, today);
    if (!orders.ok) throw new Error(orders.problems.map((problem) => problem.message).join(' '));
    return planJson(planOrders(rows, orders.value, today));
  };
  beforeAll(async () => {
    const workshop = await openTestWorkshop();
    await loadSample(workshop, { today });
    rows = await readWorkshop(workshop);
    await workshop.discard();
    json = planned();
  });

  it('are all planned: forty lines, many sizes, colours and outlets', () => {
    expect(json.lines).toHaveLength(40);
    expect(json.notPlanned).toEqual([]);
    expect(new Set(json.lines.map((line) => line.size)).size).toBeGreaterThanOrEqual(6);
    expect(new Set(json.lines.map((line) => line.outlet)).size).toBeGreaterThanOrEqual(3);
    expect(new Set(json.lines.flatMap((line) => Object.values(line.colours).flat())).size).toBeGreaterThanOrEqual(5);
    const ordered = fortyLines
      .trim()
      .split('\n')
      .slice(1)
      .map((line) => Number(line.split(',').at(-1)));
    expect(json.lines.map((line) => line.quantity)).toEqual(ordered);
  });

  it('each pair ordered is knitted or taken from stock, once, and has its days', () => {
    for (const { line, quantity } of json.lines) {
      const made = json.pairs.filter((pair) => pair.line === line).length;
      const stocked = json.fromStock.filter((each) => each.line === line).length;
      expect(made + stocked).toBe(quantity);
    }
    for (const pair of json.pairs) {
      expect(pair.knitter).not.toBeNull();
      expect(pair.startDay! <= pair.finishDay!).toBe(true);
    }
    expect(new Set(json.pairs.map((pair) => pair.pair)).size).toBe(json.pairs.length);
  });

  it('minutes, grams and costs of the pairs sum to the totals, and so do the knitters', () => {
    const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);
    expect(json.totals.pairs).toBe(json.pairs.length);
    expect(json.totals.minutes).toBeCloseTo(sum(json.pairs.map((pair) => pair.minutes)), 6);
    expect(json.totals.grams).toBeCloseTo(sum(json.pairs.flatMap((pair) => pair.yarn.map((each) => each.grams))), 6);
    for (const part of ['yarnCents', 'materialsCents', 'labourCents', 'overheadCents', 'totalCents'] as const)
      expect(json.totals.cost[part]).toBe(sum(json.pairs.map((pair) => pair.cost[part])));
    expect(sum(json.time.knitters.map((knitter) => knitter.pairs))).toBe(json.pairs.length);
    expect(sum(json.time.knitters.map((knitter) => knitter.minutes))).toBeCloseTo(json.totals.minutes, 6);
    for (const { name, finishDay } of json.time.knitters) {
      const own = json.pairs.filter((pair) => pair.knitter === name).map((pair) => pair.finishDay!);
      expect(finishDay).toBe(own.sort().at(-1) ?? null);
    }
  });

  it('the yarn of a colour is that of its pairs, and what is bought covers what is to buy', () => {
    for (const { colour, likelyG, safeG, shelfG, onWayG, toBuyLikelyG, toBuySafeG } of json.yarn) {
      const ofPairs = json.pairs.flatMap((pair) => pair.yarn).filter((each) => each.colour === colour);
      expect(ofPairs.reduce((sum, each) => sum + each.grams, 0)).toBeCloseTo(likelyG, 6);
      const toBuy = ofPairs.filter((each) => each.lot === null);
      expect(toBuy.reduce((sum, each) => sum + each.grams, 0)).toBeCloseTo(toBuyLikelyG, 6);
      expect(likelyG - toBuyLikelyG).toBeLessThanOrEqual(shelfG + onWayG + 1e-6);
      expect(safeG).toBeGreaterThan(likelyG);
      const boughtG = (list: PlanJson['lists']['safe']) =>
        list.baskets
          .flatMap((basket) => basket.packs)
          .reduce((sum, pack) => sum + (pack.colour === colour ? pack.grams : 0), 0);
      expect(boughtG(json.lists.safe)).toBeGreaterThanOrEqual(toBuySafeG - 1e-6);
      expect(boughtG(json.lists.likely)).toBeGreaterThanOrEqual(toBuyLikelyG - 1e-6);
    }
    for (const list of [json.lists.likely, json.lists.safe]) {
      expect(list.notSold).toEqual([]);
      let total = 0;
      for (const basket of list.baskets) {
        expect(basket.goodsCents).toBe(basket.packs.reduce((sum, pack) => sum + pack.cents, 0));
        total += basket.goodsCents - basket.offCents + basket.postageCents;
      }
      expect(list.totalCents).toBe(total);
    }
    expect(json.totals.yarnToBuyCents).toBe(json.lists[json.lists.chosen].totalCents);
  });

  it('late orders are those with a pair done after the day it is due', () => {
    const due = new Map(json.lines.map((line) => [line.line, line]));
    const late = new Set<number>();
    for (const pair of json.pairs) {
      const line = due.get(pair.line!)!;
      if (line.dueDay !== null && pair.finishDay! > line.dueDay) late.add(line.order);
    }
    expect(new Set(json.time.lateOrders.map((order) => order.order))).toEqual(late);
  });

  it('EU 38 has a knitter’s counts: 28 stitches, 43 rows, mark after 22', () => {
    const line = json.lines.find((each) => each.size === 'woman EU 38')!;
    expect(line.foot).toMatchObject({ lengthMm: 240, ballGirthMm: expect.closeTo(224.5028, 3) });
    expect(line.counts).toEqual({ castOn: 28, rows: 43, toeStitches: 14, markRow: 22, cuffStitches: 34, cuffRows: 9 });
    expect(line.costAPair.totalCents).toBe(
      line.costAPair.yarnCents +
        line.costAPair.materialsCents +
        line.costAPair.labourCents +
        line.costAPair.overheadCents,
    );
  });

  it('is the same on every run, is plain JSON, and its text names every line', () => {
    expect(planned()).toEqual(json);
    expect(JSON.parse(JSON.stringify(json))).toEqual(json); // no NaN, no undefined
    const text = planText(json, 'metric');
    for (const { size } of json.lines) expect(text).toContain(size);
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('the sample season', () => {
  // Two pairs of order 8 are due on Friday 4 December; their yarn comes on Wednesday the 2nd. Ada knits 75, 75, 50, 150
  // and 100 minutes from then on to Sunday: both, of 217 minutes each, are done on the 6th, two days late.
  it('has an order no later than one knitter alone would have it', async () => {
    const workshop = await openTestWorkshop();
    await loadSample(workshop, { today: '2026-11-29' });
    const { lines, pairs, time } = planJson(planRows(await readWorkshop(workshop), '2026-11-29'));
    await workshop.discard();
    expect(time.lateOrders).toEqual([{ order: 8, daysLate: 2 }]);
    const [line] = lines.filter(({ order }) => order === 8);
    expect(line).toMatchObject({ quantity: 2, dueDay: '2026-12-04' });
    for (const pair of pairs.filter((each) => each.line === line!.line)) {
      expect(pair.finishDay! <= '2026-12-06').toBe(true);
    }
  });
});

describe('npm run plan', () => {
  it('tells every fault with its line and fails, planning nothing', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
    const file = join(folder, 'orders.csv');
    const [header, ...lines] = fortyLines.split('\n');
    const bad = [
      lines[0]!.replace('Heather', 'Hether'),
      lines[1]!.replace('woman EU 36', 'woman EU 99'),
      lines[2]!.replace(/1$/, '0'),
    ];
    writeFileSync(file, [header, ...bad].join('\n'));
    const cwd = fileURLToPath(new URL('../..', import.meta.url));
    const env = { ...process.env, DATABASE_URL: `file:${join(folder, 'none.db')}` };
    const args = ['--import', 'tsx', 'src/commands/plan.ts', file, '--today', today];
    const { code, out, err } = await new Promise<{ code: unknown; out: string; err: string }>((resolve) => {
      execFile(process.execPath, args, { cwd, env }, (error, out, err) =>
        resolve({ code: error?.code ?? 0, out, err }),
      );
    });
    rmSync(folder, { recursive: true, force: true });
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err).toContain('3 faults; nothing was planned.');
    expect(err).toContain('Heather'); // the nearest name
    for (const line of [2, 3, 4]) expect(err).toMatch(new RegExp(`\\b${line}\\b`));
    expect(err).not.toContain('    at ');
  });
});
