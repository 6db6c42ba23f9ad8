import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatGrams } from '#core/shared/format.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { createBatch, createPair } from '#db/stores/batch.ts';
import { changeOffer, listOffers } from '#db/stores/buying.ts';
import {
  createBall,
  createReservation,
  handBall,
  listAllMoves,
  listBalls,
  listYarnColours,
  moveBall,
} from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { orderBasket } from '#flows/buying/order-basket.ts';
import { createApp } from '#server/app.ts';
import { answersOn, postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import {
  addKnitter,
  addLot,
  addStyle,
  addYarn,
  addYarnColour,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const balls = () => workshop.store.read((db) => listBalls(db));
const moves = () => workshop.store.read((db) => listAllMoves(db));
const fieldOf = (html: string, name: string) =>
  new RegExp(`id="field-${name}-error"[^>]*>([^<]*)<`).exec(html)?.[1] ?? '';

/** Ball 1 100 g and ball 2 43.2 g of Heather in the blue box; ball 3 50 g of Moss, given, nowhere in particular. */
async function addShelf() {
  await workshop.store.write('test', async (tx) => {
    const yarn = await addYarn(tx, { name: 'Fell Bulky' });
    const heather = await addYarnColour(tx, { yarnId: yarn.id, name: 'Heather' });
    const moss = await addYarnColour(tx, { yarnId: yarn.id, name: 'Moss' });
    await addLot(tx, [100_000, 43_200], { yarnColourId: heather.id, dyeLot: '4471', place: 'Blue box' });
    const { lot } = await addLot(tx, [], { yarnColourId: moss.id, dyeLot: null, donor: 'Ada Bell', paidCents: 0 });
    await createBall(tx, { lotId: lot.id, massMg: 50_000, reason: 'given', day: '2026-11-02' });
  });
}

async function versions() {
  return Object.fromEntries((await balls()).map((ball) => [`version-${ball.id}`, String(ball.version)]));
}

describe('the stocktake', () => {
  beforeEach(addShelf);
  const post = async (fields: Record<string, string>, over: Record<string, string> = {}) =>
    postForm(app, '/shelf/stocktake', { units: 'metric', ...(await versions()), ...over, ...fields });

  it('lists every ball by its place, with what is written down, printed too', async () => {
    await workshop.store.write('test', async (tx) => {
      const { id: knitterId } = await addKnitter(tx, { name: 'Greta' });
      await handBall(tx, 1, { knitterId, handedDay: '2026-11-20' });
    });
    const html = await page('/shelf/stocktake');
    const headings = [...html.matchAll(/<h2>([^<]*)<\/h2>/g)].map((match) => match[1]);
    expect(headings).toEqual(['Blue box', 'No place written down', 'With Greta']);
    expect(html).toContain('class="in-print"');
    expect(html).toContain('lot 4471');
    expect(html).toContain('from Ada Bell');
  });

  it('books differences with their reason and leaves alone what was not weighed', async () => {
    const response = await post({ 'grams-1': '97', 'reason-1': 'lost', 'grams-3': '52', 'reason-3': 'weighed' });
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/shelf/stocktake?weighed=2&booked=2');
    expect((await balls()).map((ball) => ball.massMg)).toEqual([97_000, 43_200, 52_000]);
    expect(
      (await moves()).slice(3).map(({ ballId, changeMg, reason, day }) => [ballId, changeMg, reason, day]),
    ).toEqual([
      [1, -3000, 'lost', '2026-11-25'],
      [3, 2000, 'weighed', '2026-11-25'],
    ]);
    expect(await page('/shelf/stocktake?weighed=2&booked=2')).toContain('2 differences booked');
  });

  it('books no difference that the scale cannot show, but that the ball was weighed', async () => {
    // A scale in whole grams shows 43 for 43.2 g.
    await post({ 'grams-2': '43', 'reason-2': 'lost' });
    expect((await balls())[1]!.massMg).toBe(43_200);
    expect((await moves()).at(-1)).toMatchObject({ ballId: 2, changeMg: 0, reason: 'weighed' });
    await workshop.store.write('test', (tx) => setSetting(tx, 'scaleStepG', 0.1));
    await post({ 'grams-2': '43', 'reason-2': 'lost' });
    expect((await balls())[1]!.massMg).toBe(43_000);
  });

  it('refuses with each fault at its box, keeps what was typed, and books nothing at all', async () => {
    const response = await post({ 'grams-1': '90', 'grams-2': 'some', 'grams-3': '60', 'reason-3': 'lost' });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'grams-2')).toContain('Heather, ball 2: Enter what the scale shows');
    expect(html).toContain('value="some"');
    expect(html).toContain('value="90"');
    const lost = await post({ 'grams-1': '90', 'grams-3': '60', 'reason-3': 'lost' });
    expect(lost.status).toBe(422);
    expect(fieldOf(await lost.text(), 'reason-3')).toContain('nothing was lost');
    expect(await moves()).toHaveLength(3);
    const nothing = await post({});
    expect(nothing.status).toBe(422);
    expect(await nothing.text()).toContain('Enter at least one weight');
  });

  it('asks about a ball that is far heavier than it can be, at its box, and keeps the answer', async () => {
    // 100 g typed as 10 000 g.
    const asked = await post({ 'grams-1': '10000' });
    expect(asked.status).toBe(422);
    const html = await asked.text();
    expect(fieldOf(html, 'grams-1')).toContain('Is it a slip of the keys?');
    expect(await moves()).toHaveLength(3);
    // With another fault the answer stays, ticked.
    const faulty = await (await post({ 'grams-1': '10000', 'grams-2': 'some', ...answersOn(html) })).text();
    expect(fieldOf(faulty, 'grams-1')).toBe('');
    expect(faulty).toMatch(/name="sure-grams-1"[^>]*checked/);
    expect((await post({ 'grams-1': '10000', ...answersOn(html) })).status).toBe(303);
    expect((await balls())[0]!.massMg).toBe(10_000_000);
  });

  it('is a conflict where a ball changed meanwhile: nothing is booked, all is kept, and it can be sent again', async () => {
    const shown = await versions();
    await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId: 1, changeMg: -60_000, reason: 'used', day: '2026-11-25' }),
    );
    const response = await post({ 'grams-1': '97', 'grams-3': '49' }, shown);
    expect(response.status).toBe(409);
    const html = await response.text();
    expect(fieldOf(html, 'grams-1')).toContain('Somebody changed this ball');
    expect(html).toContain('value="97"');
    expect(html).toContain('value="49"');
    expect((await balls()).map((ball) => ball.massMg)).toEqual([40_000, 43_200, 50_000]);
    // The form that came back carries the version of now.
    const version = /name="version-1" value="(\d+)"/.exec(html)![1]!;
    expect(version).toBe((await versions())['version-1']);
    expect((await post({ 'grams-1': '39', 'grams-3': '49' })).status).toBe(303);
    expect((await balls()).map((ball) => ball.massMg)).toEqual([39_000, 43_200, 49_000]);
  });

  it('tells of a ball that was used up meanwhile, with what was typed for it', async () => {
    const shown = await versions();
    await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId: 2, changeMg: -43_200, reason: 'used', day: '2026-11-25' }),
    );
    const response = await post({ 'grams-2': '41', 'grams-3': '49' }, shown);
    expect(response.status).toBe(409);
    const html = await response.text();
    expect(html).toContain('for which you typed 41 is used up');
    expect(html).toContain('value="49"');
    expect((await balls())[2]!.massMg).toBe(50_000);
  });

  it('reads ounces with imperial units', async () => {
    await workshop.store.write('test', (tx) => setSetting(tx, 'unitSystem', 'imperial'));
    expect(await page('/shelf/stocktake')).toContain('The scale shows (oz)');
    await post({ units: 'imperial', 'grams-3': '1' });
    expect((await balls())[2]!.massMg).toBe(28_350);
  });
});

describe('an empty shelf', () => {
  it('says how to begin on each page', async () => {
    expect(await page('/shelf/stocktake')).toContain('There is no ball to weigh yet');
    expect(await page('/shelf/donors')).toContain('Nobody gave you yarn yet');
    const leftovers = await page('/shelf/leftovers');
    expect(leftovers).toContain('Every ball on the shelf is whole');
    expect(leftovers).toContain('Weigh the shelf in a stocktake');
    expect(leftovers).not.toContain('Weigh 0 balls');
  });
});

describe('given yarn', () => {
  beforeEach(addShelf);
  const cells = (html: string) =>
    [...html.matchAll(/<td[^>]*data-label="[^"]*">(?:<[^>]*>)*([^<]*)/g)].map((m) => m[1]);

  it('adds up to the gram: received = in pairs + left + waste', async () => {
    await workshop.store.write('test', async (tx) => {
      await moveBall(tx, { ballId: 3, changeMg: -33_400, reason: 'used', day: '2026-11-10' });
      await moveBall(tx, { ballId: 3, changeMg: -3_300, reason: 'lost', day: '2026-11-11' });
    });
    const html = await page('/shelf/donors');
    expect(html).toContain('Ada Bell');
    expect(html).not.toContain('lot 4471');
    // 50 = 33.4 + 13.3 + 3.3; floors make 49, the largest fraction gets the gram: 34 + 13 + 3.
    expect(cells(html).slice(0, 4)).toEqual([50, 34, 13, 3].map(formatGrams));
  });

  it('does not count what went back to the giver', async () => {
    await workshop.store.write('test', (tx) =>
      moveBall(tx, { ballId: 3, changeMg: -20_000, reason: 'back', day: '2026-11-10' }),
    );
    const html = await page('/shelf/donors');
    expect(cells(html).slice(0, 4)).toEqual([30, 0, 30, 0].map(formatGrams));
    expect(html).toContain(`${formatGrams(20)} went back`);
  });
});

describe('use these first', () => {
  it('lists given part balls before bought ones, the smallest first, with what they still do', async () => {
    await putSample(workshop, '2026-11-25');
    const html = (await page('/shelf/leftovers')).replaceAll('\u00a0', ' ');
    const order = ['84 g', '22 g', '48 g', '62 g'].map((grams) => html.indexOf(`>${grams}<`));
    expect(order.every((at) => at > 0)).toBe(true);
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(html).toContain('given by Tilda Crane');
    expect(html).toMatch(/both cuffs, or both toes, or up to \d+ striped rows in each/);
    const left = html.slice(html.indexOf('Likely left when all is knitted'));
    const rows = [...left.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].slice(1).map(([, row]) => {
      const cells = [...row!.matchAll(/<td[^>]*>([\s\S]*?)<\/td>/g)].map(([, cell]) => cell!.replace(/<[^>]*>/g, ''));
      return cells.map((cell) =>
        cell === '–' ? 0 : Number(/^\u2212?[\d.,]+/.exec(cell)![0].replace('\u2212', '-').replace(',', '')),
      );
    });
    expect(rows.length).toBeGreaterThan(3);
    for (const [here, onWay, bought, used, rest] of rows)
      expect(here! + onWay! + bought! - used!).toBeCloseTo(rest!, 9);
  });

  it('counts what is on its way, and of a colour that no shop has what is wanted of it', async () => {
    await putSample(workshop, '2026-11-25');
    const rowOf = async (name: string) => {
      const html = (await page('/shelf/leftovers')).replaceAll('\u00a0', ' ');
      const left = html.slice(html.indexOf('Likely left when all is knitted'));
      const row = [...left.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].find(([, cells]) => cells!.includes(name))![1]!;
      return [...row.matchAll(/<td[^>]*>([\s\S]*?)<\/td>/g)].map(([, cell]) => cell!.replace(/<[^>]*>/g, ''));
    };
    const [, before, toBuy] = await rowOf('Marigold');
    expect([before, toBuy]).toEqual(['–', '50 g']);
    const { offers } = await workshop.store.read(async (db) => ({ offers: await listOffers(db) }));
    const colours = await workshop.store.read((db) => listYarnColours(db));
    const marigold = colours.find(({ name }) => name === 'Marigold')!;
    const offer = offers.find(({ yarnColourId, ballsPerPack }) => yarnColourId === marigold.id && ballsPerPack === 1)!;
    const order = { orderedDay: '2026-11-25', expectedDay: '2026-11-28', shippingCents: 0, offCents: 0 };
    const packs = [{ offerId: offer.id, packs: 3, priceCents: 340 }];
    await orderBasket(workshop, { ...order, supplierId: offer.supplierId, packs });
    // Three balls of 50 g.
    expect((await rowOf('Marigold')).slice(1, 3)).toEqual(['150 g', '–']);
    for (const { id, yarnColourId } of offers)
      if (yarnColourId !== marigold.id)
        await workshop.store.write('test', (tx) => changeOffer(tx, id, { stockPacks: 0 }));
    const unsold = await rowOf('Rosehip');
    expect(unsold[2]).toMatch(/^\d/);
    expect(unsold[4]).not.toMatch(/^\u2212/);
  });

  it('says what became of the yarn that Tilda gave', async () => {
    await putSample(workshop, '2026-11-25');
    const html = await page('/shelf/donors');
    const cellsOf = (name: string) =>
      [...html.slice(html.indexOf(`>${name}`)).matchAll(/<td[^>]*data-label="[^"]*">([^<]*)/g)]
        .slice(0, 4)
        .map(([, cell]) => cell);
    // 400 g came; 14 g in a square, 2 g lost, so 384 g are left. Three balls without a label weigh 84, 61 and 47 g.
    expect(cellsOf('Tilda Crane')).toEqual([400, 14, 384, 2].map(formatGrams));
    expect(cellsOf('Bea Larch')).toEqual([192, 0, 192, 0].map(formatGrams));
  });

  it('leaves out whole balls and what is put aside, and says where a weight is only expected', async () => {
    await addShelf();
    const html = await page('/shelf/leftovers');
    // The 100 g ball is whole; 43.2 g and 50 g are part balls.
    expect(html).toContain('part balls and ends');
    expect(html).toContain(`>${formatGrams(50)}<`);
    expect(html).not.toContain(`>${formatGrams(100)}<`);
    expect(html).toContain('Mon 2 Nov');
    expect(html).not.toContain('expected: weigh it');
  });

  it('tells of a part ball what is free of it, and leaves out one that is all put aside', async () => {
    await addShelf();
    await workshop.store.write('test', async (tx) => {
      const batch = await createBatch(tx, { name: 'Winter', state: 'started', startedMs: 0 });
      await createReservation(tx, { batchId: batch.id, lotId: 1, massMg: 20_000 });
      await createReservation(tx, { batchId: batch.id, lotId: 2, massMg: 50_000 });
    });
    const html = (await page('/shelf/leftovers')).replaceAll('\u00a0', ' ');
    // Of lot 4471 the 43.2 g ball is used first: 20 of it are put aside. All 50 g of the other lot are.
    expect(html).toContain('23.2 g of it free');
    expect(html).not.toContain('>50 g<');
    expect(html).toContain('part balls and ends, 23.2 g free');
  });

  it('tells a weight that is only expected from one on the scale, and how far they were apart', async () => {
    await addShelf();
    await workshop.store.write('test', async (tx) => {
      const style = await addStyle(tx, twoPieceSlipper);
      const pair = await createPair(tx, {
        styleVersionId: style.currentVersionId!,
        kind: 'k',
        specJson: '{}',
        rank: 0,
      });
      await moveBall(tx, { ballId: 3, changeMg: -30_000, reason: 'used', day: '2026-11-10', pairId: pair.id });
    });
    expect(await page('/shelf/leftovers')).toContain('expected: weigh it');
    await postForm(app, '/shelf/lots/2/weigh', { ball: '3', grams: '17', reason: 'weighed', day: '2026-11-24' });
    const html = (await page('/shelf/leftovers')).replaceAll('\u00a0', ' ');
    // 50 - 30 = 20 g expected, 17 on the scale.
    expect(html).not.toContain('expected: weigh it');
    expect(html).toContain('3 g less than expected');
    expect(html).toContain('Tue 24 Nov');
  });
});
