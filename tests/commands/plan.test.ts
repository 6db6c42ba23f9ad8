import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PlanJson, planJson } from '#commands/plan-json.ts';
import { planText } from '#commands/plan-text.ts';
import { readWorkshop, type WorkshopRows } from '#db/stores/read-workshop.ts';
import { knownNamesOf } from '#flows/orders/known-names.ts';
import { readOrderCsv } from '#flows/orders/read-order-csv.ts';
import { planOrders } from '#flows/plan-orders.ts';
import { planRows } from '#flows/read-plan.ts';
import { putSample } from '#tests/support/sample.ts';
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
    await putSample(workshop, today);
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

  it('each knitter of a line has her own counts, and her pairs, minutes and grams sum to the line and to the totals', () => {
    const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);
    const parts = json.lines.flatMap(({ line, byKnitter }) => byKnitter.map((part) => ({ line, ...part })));
    for (const { line, quantity, byKnitter } of json.lines) {
      const stocked = json.fromStock.filter((each) => each.line === line).length;
      expect(sum(byKnitter.map(({ pairs }) => pairs)) + stocked).toBe(quantity);
    }
    for (const { line, knitter, pairs, counts, minutes, grams, minutesAPair, gramsAPair, finishDay } of parts) {
      const own = json.pairs.filter((pair) => pair.line === line && pair.knitter === knitter);
      expect(own).toHaveLength(pairs);
      for (const pair of own) expect(pair.counts).toEqual(counts);
      expect(minutes).toBeCloseTo(sum(own.map((pair) => pair.minutes)), 6);
      expect(minutes).toBeCloseTo(pairs * minutesAPair, 6);
      expect(grams).toBeCloseTo(pairs * gramsAPair, 6);
      expect(finishDay).toBe(
        own
          .map((pair) => pair.finishDay!)
          .sort()
          .at(-1),
      );
    }
    const spares = json.pairs.filter(({ line }) => line === null);
    expect(sum([...parts, ...spares].map(({ minutes }) => minutes))).toBeCloseTo(json.totals.minutes, 6);
    const spareG = sum(spares.flatMap(({ yarn }) => yarn.map(({ grams }) => grams)));
    expect(sum(parts.map(({ grams }) => grams)) + spareG).toBeCloseTo(json.totals.grams, 6);
    // Hands differ, so a line that several knit has several counts.
    const shared = json.lines.filter(({ byKnitter }) => byKnitter.length > 1);
    expect(shared.some(({ byKnitter: [one, other] }) => one!.counts.castOn !== other!.counts.castOn)).toBe(true);
  });

  // The sample pays 9.00 an hour: 15 cents a minute.
  it('work costs the minutes of the hand it is said to be in', () => {
    expect(json.referenceKnitter).toBe('Ada');
    for (const { costAPair, inReferenceHand } of json.lines) {
      expect(inReferenceHand.knitter).toBe(json.referenceKnitter);
      expect(Math.abs(costAPair.labourCents - inReferenceHand.minutesAPair * 15)).toBeLessThanOrEqual(1);
    }
    for (const { cost, minutes } of json.pairs) {
      expect(Math.abs(cost.labourCents - minutes * 15)).toBeLessThanOrEqual(1);
    }
  });

  it('yarn comes from a dye lot by its own words, from a purchase with its day, or is to buy', () => {
    const dyeLots = new Map(rows.lots.map(({ id, dyeLot }) => [id, dyeLot]));
    const purchases = new Map(rows.purchases.map((purchase) => [purchase.id, purchase]));
    const seen = new Set<string>();
    for (const { grams, from } of json.pairs.flatMap(({ yarn }) => yarn)) {
      expect(from.reduce((sum, source) => sum + source.grams, 0)).toBeCloseTo(grams, 6);
      for (const source of from) {
        seen.add(from.length > 1 ? 'several lots' : source.is);
        if (source.is === 'shelf') expect(source.dyeLot).toBe(dyeLots.get(source.lot));
        if (source.is === 'on its way') {
          expect(source.expectedDay).toBe(purchases.get(source.purchase)!.expectedDay);
        }
      }
    }
    expect(seen).toContain('shelf');
    expect(seen).toContain('to buy');
  });

  it('the yarn of a colour is that of its pairs, and what is bought covers what is to buy', () => {
    for (const { colour, likelyG, safeG, shelfG, onWayG, toBuyLikelyG, toBuySafeG } of json.yarn) {
      const ofPairs = json.pairs.flatMap((pair) => pair.yarn).filter((each) => each.colour === colour);
      expect(ofPairs.reduce((sum, each) => sum + each.grams, 0)).toBeCloseTo(likelyG, 6);
      const toBuy = ofPairs.flatMap(({ from }) => from).filter((source) => source.is === 'to buy');
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
    const { knitter, counts } = line.inReferenceHand;
    expect(knitter).toBe('Ada');
    expect(counts).toEqual({ castOn: 28, rows: 43, toeStitches: 14, markRow: 22, cuffStitches: 34, cuffRows: 9 });
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
    // Every part in its own row, with who knits it.
    const rowsOfKnitters = text.match(/^.{20,} {2}(Ada|Bram|Ines) +\d+ +\d+ +\d+ +\d+ +(?:\d+ x \d+|-)/gm) ?? [];
    expect(rowsOfKnitters).toHaveLength(json.lines.flatMap(({ byKnitter }) => byKnitter).length);
    expect(text).toContain('COSTS AND PRICES IN ADA’S HAND');
    expect(text).toContain('2 x Marigold'); // held double
    expect(text).toMatch(/Gifts +a gift/);
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('the sample season', () => {
  // Two pairs of order 8 are due on Friday 4 December; their yarn comes on Wednesday the 2nd. Ada knits 75, 75, 50, 150
  // and 100 minutes from then on to Sunday: both, of 217 minutes each, are done on the 6th, two days late.
  it('has an order no later than one knitter alone would have it', async () => {
    const workshop = await openTestWorkshop();
    await putSample(workshop, '2026-11-29');
    const { lines, pairs, time } = planJson(planRows(await readWorkshop(workshop), '2026-11-29'));
    await workshop.discard();
    expect(time.lateOrders).toEqual([{ order: 8, daysLate: 2 }]);
    const [line] = lines.filter(({ order }) => order === 8);
    expect(line).toMatchObject({ quantity: 2, dueDay: '2026-12-04' });
    for (const pair of pairs.filter((each) => each.line === line!.line)) {
      expect(pair.finishDay! <= '2026-12-06').toBe(true);
    }
  });

  // Two rows of the shelf are lot 44 of Slate; three more balls of it come from Lanternside on the day after.
  it('names lots, and parcels with their day', async () => {
    const workshop = await openTestWorkshop();
    await putSample(workshop, today);
    const { pairs } = planJson(planRows(await readWorkshop(workshop), today));
    await workshop.discard();
    const sources = pairs.flatMap(({ yarn }) => yarn.map(({ colour, from }) => ({ colour, from })));
    expect(sources.filter(({ from }) => from.length > 1)).toEqual([
      {
        colour: 'Slate',
        from: [expect.objectContaining({ is: 'shelf', dyeLot: '44' }), expect.objectContaining({ dyeLot: '44' })],
      },
    ]);
    const parcels = sources.flatMap(({ from }) => from).filter((source) => source.is === 'on its way');
    expect([...new Set(parcels.map(({ shop, expectedDay }) => `${shop} ${expectedDay}`))].sort()).toEqual([
      'Lanternside Yarns 2026-11-26',
      'Quillmoor Wool Post 2026-12-02',
    ]);
  });
});

describe('npm run plan', () => {
  /** Runs the command on a table, in a folder without a workshop. */
  async function planOf(table: string, ...more: string[]) {
    const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
    const file = join(folder, 'orders.csv');
    writeFileSync(file, table);
    const cwd = fileURLToPath(new URL('../..', import.meta.url));
    const env = { ...process.env, DATABASE_URL: `file:${join(folder, 'none.db')}` };
    const args = ['--import', 'tsx', 'src/commands/plan.ts', file, '--today', today, ...more];
    const ran = await new Promise<{ code: unknown; out: string; err: string }>((resolve) => {
      execFile(process.execPath, args, { cwd, env }, (error, out, err) =>
        resolve({ code: error?.code ?? 0, out, err }),
      );
    });
    rmSync(folder, { recursive: true, force: true });
    return ran;
  }

  it('tells every fault with its line and fails, planning nothing', async () => {
    const [header, ...lines] = fortyLines.split('\n');
    const bad = [
      lines[0]!.replace('Heather', 'Hether'),
      lines[1]!.replace('woman EU 36', 'woman EU 99'),
      lines[2]!.replace(/1$/, '0'),
    ];
    const { code, out, err } = await planOf([header, ...bad].join('\n'));
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err).toContain('3 faults; nothing was planned.');
    expect(err).toContain('Heather'); // the nearest name
    for (const line of [2, 3, 4]) expect(err).toMatch(new RegExp(`\\b${line}\\b`));
    expect(err).not.toContain('    at ');
  });

  it('says beside the plan which plain numbers it read as EU', async () => {
    const { code, out, err } = await planOf(
      'person,size,foot colour\n,woman 38,Heather\nman,43,Oat\n,EU 40,Oat',
      '--json',
    );
    expect([code, err]).toEqual([0, 'Plain sizes were read as EU: rows 2, 3.\n']);
    expect((JSON.parse(out) as PlanJson).lines.map((line) => line.size)).toEqual(['woman EU 38', 'man EU 43', 'EU 40']);
  });
});
