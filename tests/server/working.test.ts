import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  formatCents,
  formatDay,
  formatFigure,
  formatGrams,
  formatMinutes,
  formatMmAsCm,
  formatPercent,
} from '#core/shared/format.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let current: WorkshopPlan;
let app: ReturnType<typeof createApp>;

beforeAll(async () => {
  workshop = await openTestWorkshop();
  await putSample(workshop, '2026-11-25');
  current = await readPlan(workshop, now());
  app = createApp({ workshop, now, publicUrl: null });
});
afterAll(() => workshop.discard());

async function open(path: string, status = 200): Promise<string> {
  const response = await app.request(`/working/${path}`);
  const text = (await response.text()).replaceAll('&#39;', "'").replaceAll('&amp;', '&');
  expect(response.status, `${path}: ${text.slice(0, 300)}`).toBe(status);
  return text;
}

/** A line for a customer with a label, and one of a child in two strands. */
function lineOf(customer: string): number {
  const id = current.rows.customers.find((each) => each.name === customer)!.id;
  const order = current.rows.orders.find((each) => each.customerId === id)!;
  return current.rows.lines.find((each) => each.orderId === order.id)!.id;
}

const heading = (text: string) => /<h1>(.*?)<\/h1>/.exec(text)![1]!;

describe('GET /working/:area/:figure/:id', () => {
  it('shows the very stitches of the plan, with the numbers in the rule and the label it began with', async () => {
    const lineId = lineOf('Mrs Alder');
    const kind = current.kindOfLine.get(lineId)!;
    const spec = current.plan.handwork.specOf(kind, null);
    const text = await open(`sizing/cast-on/${lineId}`);
    expect(heading(text)).toBe(`How ${spec.pieces[0]!.castOnStitches} stitches come about`);
    expect(text).toContain('Mrs Alder, woman EU 38, in Ada’s hand');
    // (38 - 2) x 20 / 3 = 240, 0.57317 x 240 + 86.942 = 224.5 +- 9.4, the survey's own spread
    expect(text).toContain('(38 − 2) × 20 / 3');
    expect(text).toContain('0.57317 × 240\u00a0mm + 86.942');
    expect(text).toContain('±9.4\u00a0mm');
    expect(text).toContain('ISO/TS 19407:2015');
    expect(text).toMatch(/<details open="">/);
  });

  it('opens a line in another hand, and says whose it is', async () => {
    const lineId = lineOf('Mrs Alder');
    const bram = current.input.knitters.find((each) => each.name === 'Bram')!;
    const kind = current.kindOfLine.get(lineId)!;
    const own = current.plan.handwork.specOf(kind, bram.id).pieces[0]!.castOnStitches;
    const text = await open(`sizing/cast-on/${lineId}?knitter=${bram.id}`);
    expect(heading(text)).toBe(`How ${own} stitches come about`);
    expect(own).not.toBe(current.plan.handwork.specOf(kind, null).pieces[0]!.castOnStitches);
    expect(text).toContain('in Bram’s hand');
  });

  it('titles every figure of a line with the value that its page shows', async () => {
    const lineId = lineOf('Mrs Alder');
    const kind = current.kindOfLine.get(lineId)!;
    const { plan, settings } = current;
    const spec = plan.handwork.specOf(kind, null);
    const price = plan.prices.find((each) => each.kindKey === kind.key)!;
    const { outletId, row } = price.prices[0]!;
    const money = (cents: number) => formatCents(cents, settings.currency);
    const gramsOf = plan.handwork.yarnOf(kind, null).reduce((sum, each) => sum + each.grams, 0);
    const titles: readonly (readonly [string, string])[] = [
      [`sizing/width/${lineId}`, formatMmAsCm(spec.measures.widthMm)],
      [`sizing/length/${lineId}`, formatMmAsCm(spec.measures.lengthMm)],
      [`sizing/heel-to-toe/${lineId}`, formatMmAsCm(spec.measures.heelToToeMm)],
      [`sizing/opening/${lineId}`, formatMmAsCm(spec.measures.openingMm)],
      [`sizing/ease/${lineId}`, formatPercent(spec.measures.girthEaseRatio)],
      [`sizing/rows/${lineId}`, `${spec.pieces[0]!.totalRows} rows`],
      [`sizing/mark/${lineId}`, `${spec.measures.markRows} rows`],
      [`sizing/toe/${lineId}`, `${spec.pieces[0]!.lastStitches} stitches`],
      [`sizing/cuff/${lineId}`, `${spec.pieces[1]!.castOnStitches} stitches`],
      [`sizing/cuff-rows/${lineId}`, `${spec.pieces[1]!.totalRows} rows`],
      [`yardage/grams/${lineId}`, formatGrams(gramsOf)],
      [`timing/minutes/${lineId}`, formatMinutes(plan.handwork.minutesOf(kind, null))],
      [`pricing/cost/${lineId}`, money(price.cost.totalCents)],
      [`pricing/price/${lineId}-${outletId}`, money(row.priceCents!)],
      [`pricing/hour/${lineId}-${outletId}`, `${money(row.hourWorthCents!)} an hour`],
      [`pricing/money-back/${lineId}-${outletId}`, money(row.getsMoneyBackCents!)],
      [`pricing/wage/${lineId}-${outletId}`, money(row.paysWageCents!)],
    ];
    for (const [path, value] of titles)
      expect(heading(await open(path)), path).toMatch(
        new RegExp(`^How ${value.replace(/[.()+]/g, '\\$&')} comes? about$`),
      );
  });

  it('explains what a colour needs from the pairs of the plan, and the list from its packs', async () => {
    const need = current.plan.needs[0]!;
    const text = await open(`yardage/need/${need.yarnColourId}`);
    expect(text).toContain('spreads for safety');
    expect(text).toContain('Pairs that need');
    const bought = current.plan.lists.chosen.baskets[0]!.lines[0]!;
    const list = await open(`buying/list/${bought.yarnColourId}`);
    expect(list).toContain('Packs that were weighed against each other');
    const total = await open('buying/total/0');
    expect(heading(total)).toBe(`How ${formatCents(current.plan.lists.chosen.totalCents, 'EUR')} comes about`);
    const gram = await open(`pricing/gram/${bought.yarnColourId}`);
    const price = current.plan.gramPrices.get(bought.yarnColourId)!.centsPerG;
    expect(heading(gram)).toBe(`How ${formatFigure(price, 'cents per g', 'EUR')} comes about`);
    // 30.00 a month over 75 hours is 0.40
    expect(heading(await open('pricing/overhead/0'))).toBe('How €0.40 an hour comes about');
  });

  it('shows a knitter’s row of pairs behind a day', async () => {
    const lineId = lineOf('Mrs Alder');
    const index = current.plan.wanted.pairs.findIndex((pair) => pair.lineId === lineId);
    const week = current.plan.weeks[index]!;
    const text = await open(`schedule/finish/${lineId}`);
    expect(heading(text)).toBe(`How ${formatDay(week.finishDay!)} comes about`);
    expect(text).toContain('(this one)');
    expect(text).toContain('one after another');
  });

  it('says what stock answers a line', async () => {
    const text = await open(`batch/stock/${lineOf('Mrs Alder')}`);
    expect(heading(text)).toBe('How 0 pairs come about');
    // What came home from the market is in other colours.
    expect(text).toContain('Finished pairs');
    expect(text).toContain('different');
    expect(text).not.toContain('this one');
  });

  it.each([
    ['sizing/cast-on/999999', 'That line is not here'],
    ['sizing/cast-on/x', 'There is no figure of that name'],
    ['sizing/colour/1', 'There is no figure of that name'],
    ['sizing/toString/1', 'There is no figure of that name'],
    ['sizing/grams/1', 'There is no figure of that name'],
    ['nowhere/cast-on/1', 'There is no figure of that name'],
    ['sizing/cast-on/1?knitter=99', 'That knitter is not here'],
    ['sizing/cast-on/1?knitter=x', 'That knitter is not here'],
    ['yardage/need/99999', 'That colour is not in the plan now'],
    ['pricing/price/1-999', 'That outlet is not here'],
    ['pricing/price/1', 'That outlet is not here'],
    ['pricing/price/1-1-1', 'There is no figure of that name'],
  ])('%s is not found, in a sentence and with a way back', async (path, sentence) => {
    const text = await open(path, 404);
    expect(text).toContain(sentence);
    expect(text).toContain('Go to Today');
  });

  it('says so when a pair has no cuff', async () => {
    const plain = current.rows.lines.find((each) => each.cuffHeightMm === 0)!;
    expect(await open(`sizing/cuff/${plain.id}`, 404)).toContain('This pair has no cuff');
  });
});

describe('GET /working/method', () => {
  it('shows the pair worked by hand and what to be careful about', async () => {
    const text = await open('method');
    for (const words of ['One pair worked by hand', 'Smooth soles slip', 'baby’s pair', 'not advice', '103.1'])
      expect(text).toContain(words);
  });
});
