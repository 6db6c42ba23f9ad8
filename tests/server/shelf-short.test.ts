import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changePairPiece, listPairColours, listPairPieces, listPairs } from '#db/stores/batch.ts';
import { changeOrder, createCustomer, listOrders } from '#db/stores/orders.ts';
import { createBall, listAllMoves, listBalls, listReservations } from '#db/stores/shelf.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

/** Lot 4471 of Heather, 350 g in three balls, is put aside for three begun pairs. */
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  await workshop.store.write('test: a name', async (tx) => {
    const { id } = await createCustomer(tx, { name: 'Hilda' });
    const order = (await listOrders(tx)).find(({ dueDay }) => dueDay === '2027-02-01')!;
    await changeOrder(tx, order.id, { customerId: id });
    await createBall(tx, { lotId: 1, massMg: 150_000, reason: 'bought', day: '2026-11-02' });
  });
  app = createApp({ workshop, now: () => now, publicUrl: null });
  const plan = await readPlan(workshop, now);
  const wish = { name: 'Winter', orderIds: [1, 2], withSpares: true, revision: plan.rows.revision };
  expect((await startBatch(workshop, plan, wish)).ok).toBe(true);
});
afterEach(() => workshop.discard());

const page = async (path: string) => plain(await (await app.request(path)).text());
const plain = (html: string) => html.replaceAll('\u00a0', ' ');
const stored = () =>
  workshop.store.read(async (db) => ({
    balls: await listBalls(db),
    colours: await listPairColours(db),
    moves: await listAllMoves(db),
    pairs: await listPairs(db),
    pieces: await listPairPieces(db),
    reservations: await listReservations(db),
  }));
const heldOf = async (lotId: number) =>
  (await stored()).colours.filter((row) => row.lotId === lotId).reduce((sum, row) => sum + row.allottedMg, 0);
const holdersOf = async (lotId: number) => [
  ...new Set((await stored()).colours.filter((row) => row.lotId === lotId).map(({ pairId }) => pairId)),
];
const toBuyMg = async () =>
  (await readPlan(workshop, now)).plan.placed.toBuy.find(({ yarnColourId }) => yarnColourId === 1)?.grams.mean ?? 0;

async function weighAll(grams: readonly string[], more: Record<string, string> = {}) {
  const { balls } = await stored();
  const fields = Object.fromEntries(
    grams.flatMap((text, index) => [
      [`grams-${balls[index]!.id}`, text],
      [`version-${balls[index]!.id}`, String(balls[index]!.version)],
      [`reason-${balls[index]!.id}`, 'weighed'],
    ]),
  );
  return postForm(app, '/shelf/stocktake', { units: 'metric', ...fields, ...more });
}
const idsAskedIn = (html: string) => /name="shortPairs" value="([^"]*)"/.exec(html)![1]!;

describe('a stocktake that leaves begun pairs without enough', () => {
  it('names them before anything is booked: size, for whom, lot and grams', async () => {
    const before = await stored();
    const held = await heldOf(1);
    expect(held).toBeGreaterThan(250_000);
    const response = await weighAll(['100', '0', '30']);
    expect(response.status).toBe(422);
    const html = plain(await response.text());
    expect(html).toContain('Some pairs would lack yarn');
    expect(html).toContain('lot 4471');
    // 130 g are left, so what is put aside less 130 g is missing; each pair's yarn is shown to a tenth of a gram.
    const missing = Number(/([\d.]+) g is missing/.exec(html)![1]);
    expect(Math.abs(missing - (held - 130_000) / 1000)).toBeLessThanOrEqual(0.15);
    // 130 g are enough for one pair. Hilda's is due a month before the two for the fair, which go without.
    const { pairs } = await stored();
    const fairs = pairs.filter(({ lineId }) => lineId === 1).map(({ id }) => id);
    expect(idsAskedIn(html).split(' ').map(Number)).toEqual(fairs);
    for (const id of fairs) {
      expect(html).toMatch(
        new RegExp(`pair ${id}, woman EU 38, for Winter fair \\(order 1\\), due Mon 1 Mar 2027: needs [\\d.]+ g`),
      );
    }
    expect(html).not.toContain('for Hilda');
    expect(html).toContain('value="100"');
    expect(await stored()).toEqual(before);
  });

  it('lets those that are due last give theirs back in the same write, and it is bought', async () => {
    const before = await toBuyMg();
    const asked = plain(await (await weighAll(['100', '0', '30'])).text());
    const ids = idsAskedIn(asked).split(' ').map(Number);
    const done = await weighAll(['100', '0', '30'], { short: 'back', shortPairs: ids.join(' ') });
    expect(done.status).toBe(303);
    const { colours, reservations, balls } = await stored();
    expect(balls.map(({ massMg }) => massMg)).toEqual([100_000, 0, 30_000]);
    for (const id of ids) {
      const own = colours.filter(({ pairId, yarnColourId }) => pairId === id && yarnColourId === 1);
      expect(own.map(({ lotId }) => lotId)).toEqual(own.map(() => null));
    }
    // What stays put aside is what the other pairs have, and no more than there is.
    const promised = reservations.filter(({ lotId }) => lotId === 1).reduce((sum, { massMg }) => sum + massMg, 0);
    expect(promised).toBe(await heldOf(1));
    expect(promised).toBeLessThanOrEqual(130_000);
    expect(await toBuyMg()).toBeGreaterThan(before);
    // Named afterwards: on the page that booked it, on the lot's page, and on the first page.
    const notice = await page(done.headers.get('location')!);
    expect(notice).toContain('given yarn back');
    for (const html of [notice, await page('/shelf/lots/1')]) {
      for (const id of ids) expect(html).toMatch(new RegExp(`pair ${id}, woman EU[^<]*waits for [\\d.]+ g of Heather`));
    }
    const today = await page('/');
    expect(today).toContain('2 pairs gave their yarn back and wait');
    for (const id of ids) expect(today).toMatch(new RegExp(`[\\d.]+ g of Heather for pair ${id}, woman EU`));
  });

  it('is undone by undoing the weight: the yarn is back, and the pairs have it again', async () => {
    const held = await heldOf(1);
    const asked = plain(await (await weighAll(['100', '0', '30'])).text());
    await weighAll(['100', '0', '30'], { short: 'back', shortPairs: idsAskedIn(asked) });
    expect(await heldOf(1)).toBeLessThan(held);
    // The first ball agreed, 100 g went from the second and 120 g from the third.
    const weighed = (await stored()).moves.filter(({ reason }) => reason === 'weighed');
    expect(weighed.map(({ changeMg }) => changeMg)).toEqual([0, -100_000, -120_000]);
    for (const { id } of weighed.slice(1)) {
      expect((await postForm(app, '/shelf/lots/1/undo', { move: String(id) })).status).toBe(303);
    }
    expect(await heldOf(1)).toBe(held);
    expect(await page('/shelf/lots/1')).not.toContain('waits for');
  });

  it('leaves all as it is where that is chosen, and goes on naming them until something is done', async () => {
    const held = await heldOf(1);
    const ids = idsAskedIn(plain(await (await weighAll(['100', '0', '30'])).text()));
    expect((await weighAll(['100', '0', '30'], { short: 'leave', shortPairs: ids })).status).toBe(303);
    expect(await heldOf(1)).toBe(held);
    for (const path of ['/', '/shelf', '/shelf/lots/1']) {
      const html = await page(path);
      expect(html).toContain('is missing');
      expect(html).toContain(`pair ${ids.split(' ')[0]}, woman EU`);
    }
    const back = await postForm(app, '/shelf/lots/1/give-back', { short: 'back', shortPairs: ids });
    expect(back.status).toBe(303);
    expect(await heldOf(1)).toBeLessThan(held);
    expect(await page('/shelf')).not.toContain('is missing');
    expect(await page('/')).not.toContain('is missing');
  });

  it('asks again where other pairs would lack it by now', async () => {
    const ids = idsAskedIn(plain(await (await weighAll(['100', '0', '30'])).text()));
    const response = await weighAll(['0', '0', '0'], { short: 'back', shortPairs: `${ids} 999` });
    expect(response.status).toBe(422);
    expect(idsAskedIn(await response.text())).not.toBe(`${ids} 999`);
  });

  it('takes yarn of another lot that has enough, and nobody waits', async () => {
    await workshop.store.write('test', (tx) => addLot(tx, Array(4).fill(100_000), { yarnColourId: 1, dyeLot: '31' }));
    const ids = idsAskedIn(plain(await (await weighAll(['100', '0', '30'])).text()));
    const done = await weighAll(['100', '0', '30'], { short: 'back', shortPairs: ids });
    const lot31 = (await stored()).balls.at(-1)!.lotId;
    expect(await holdersOf(lot31)).toEqual(expect.arrayContaining(ids.split(' ').map(Number)));
    expect(await page(done.headers.get('location')!)).toContain('got other yarn that was free');
  });

  it('asks nothing where what is missing is in the knitting', async () => {
    // Every piece of every pair is done but the sewing up: 15 % of the work is left, so 15 % of the yarn is enough.
    await workshop.store.write('test: knitted', async (tx) => {
      for (const { id, piece } of await listPairPieces(tx)) {
        if (piece !== 'sewing up') await changePairPiece(tx, id, { stage: 'done' });
      }
    });
    expect((await weighAll(['100', '0', '30'])).status).toBe(303);
  });
});

describe('a single ball', () => {
  it.each(['weighed', 'lost', 'back'])('that is less by %s asks in the same way', async (reason) => {
    const weigh = (more: Record<string, string> = {}) =>
      postForm(app, '/shelf/lots/1/weigh', {
        units: 'metric',
        ball: '1',
        grams: '1',
        reason,
        day: '2026-11-25',
        ...more,
      });
    const response = await weigh();
    expect(response.status).toBe(422);
    const html = plain(await response.text());
    expect(html).toContain('Some pairs would lack yarn');
    expect(html).toContain('value="1"');
    expect((await stored()).balls[0]!.massMg).toBe(100_000);
    expect((await weigh({ short: 'back', shortPairs: idsAskedIn(html) })).status).toBe(303);
    expect(await page('/shelf/lots/1')).toContain('waits for');
  });

  it('that was used asks nothing, as it went into the pairs', async () => {
    const fields = { units: 'metric', ball: '1', grams: '1', reason: 'used', day: '2026-11-25' };
    expect((await postForm(app, '/shelf/lots/1/weigh', fields)).status).toBe(303);
  });

  it('that goes by undoing how it came asks as well', async () => {
    const response = await postForm(app, '/shelf/lots/1/undo', { move: '1' });
    expect(response.status).toBe(422);
    const html = plain(await response.text());
    expect(html).toContain('Some pairs would lack yarn');
    const answer = { move: '1', short: 'back', shortPairs: idsAskedIn(html) };
    expect((await postForm(app, '/shelf/lots/1/undo', answer)).status).toBe(303);
    expect((await stored()).balls[0]!.massMg).toBe(0);
  });
});

describe('yarn that is missing, where all else is there', () => {
  /** Oat for all of it is here, and 250 g of the 350 g of Heather went into something else. */
  beforeEach(async () => {
    await workshop.store.write('test: oat', (tx) => addLot(tx, Array(4).fill(100_000), { yarnColourId: 2 }));
    expect((await postForm(app, '/batch/started/1/yarn', {})).status).toBe(303);
    for (const [ball, grams] of [
      ['1', '100'],
      ['3', '150'],
    ] as const) {
      const fields = { units: 'metric', ball, grams, reason: 'used', day: '2026-11-25' };
      expect((await postForm(app, '/shelf/lots/1/take-off', fields)).status).toBe(303);
    }
  });
  const text = (html: string) => html.replaceAll(/<[^>]*>/g, '').replaceAll(/\s+/g, ' ');
  const sentence = /([\d.]+) g of Heather, lot 4471, is missing for 3 pairs that are begun/;

  it.each([
    ['/', 'Nothing to order'],
    ['/batch/started/1', 'of its yarn is here'],
    ['/buying', 'the shelf has it all'],
    ['/buying/dye-lots', 'The knitters have it in hand already'],
  ])('%s says so in one sentence with the way to the lot, and not "%s"', async (path, contradicting) => {
    const html = await page(path);
    // Of Oat, which the knitters have, the page on dye lots may say so.
    expect(html.split('id="colour-2"')[0]).not.toContain(contradicting);
    const own = html.split('<p>').filter((part) => sentence.test(text(part)));
    expect(own.length).toBe(1);
    expect(own[0]!.split('</p>')[0]).toContain('href="/shelf/lots/1"');
    // What the pairs have of the lot, less the 100 g that are left of it; each pair is shown to a tenth of a gram.
    const missing = Number(sentence.exec(text(html))![1]);
    expect(Math.abs(missing - ((await heldOf(1)) - 100_000) / 1000)).toBeLessThanOrEqual(0.2);
  });

  it('stands on the list of yarn to buy as what is on the shelf, not as what was put aside', async () => {
    const html = text(await page('/buying'));
    expect(html).toContain('of Heather is missing');
    const held = Math.round((await heldOf(1)) / 1000);
    expect(html).toMatch(new RegExp(`100 g ?${held} g put aside`));
  });

  it('takes nothing from the free yarn of other lots, and is said of its own', async () => {
    const figures = text((await page('/shelf')).split('class="figure-row"')[1]!.split('</ul>')[0]!);
    // Of Oat 400 g less what is put aside of it are free; of Heather nothing is.
    const { reservations } = await stored();
    const ofOat = reservations.filter(({ lotId }) => lotId !== 1).reduce((sum, { massMg }) => sum + massMg, 0);
    const ofHeather = reservations.filter(({ lotId }) => lotId === 1).reduce((sum, { massMg }) => sum + massMg, 0);
    const [, free] = /([\d.]+) gfree to plan with/.exec(figures)!;
    expect(Math.abs(Number(free) - (400 - ofOat / 1000))).toBeLessThanOrEqual(0.05);
    const [, lacking] = /([\d.]+) gmore is put aside than there is of Heather, lot 4471/.exec(figures)!;
    expect(Math.abs(Number(lacking) - (ofHeather / 1000 - 100))).toBeLessThanOrEqual(0.05);
  });

  it('goes as soon as the pairs give back what is put aside: then it is to buy', async () => {
    const before = await page('/shelf/lots/1');
    await postForm(app, '/shelf/lots/1/give-back', { short: 'back', shortPairs: idsAskedIn(before) });
    for (const path of ['/', '/batch/started/1', '/buying', '/buying/dye-lots'])
      expect(text(await page(path))).not.toMatch(sentence);
    expect(await toBuyMg()).toBeGreaterThan(0);
  });
});

describe('finishing a pair with less left than it likely used', () => {
  /** All of the Oat is here, and 50 g of Heather are left of 350 g, which is less than a pair takes. */
  beforeEach(async () => {
    await workshop.store.write('test: oat', (tx) => addLot(tx, Array(4).fill(100_000), { yarnColourId: 2 }));
    expect((await postForm(app, '/batch/started/1/yarn', {})).status).toBe(303);
    for (const [ball, grams] of [
      ['1', '100'],
      ['2', '100'],
      ['3', '100'],
    ] as const) {
      const fields = { units: 'metric', ball, grams, reason: 'used', day: '2026-11-25' };
      expect((await postForm(app, '/shelf/lots/1/take-off', fields)).status).toBe(303);
    }
  });
  const likelyG = async () => {
    const { pairs } = await stored();
    const { estimate } = JSON.parse(pairs[0]!.specJson) as {
      estimate: { yarn: { yarnColourId: number; grams: number }[] };
    };
    return estimate.yarn.find(({ yarnColourId }) => yarnColourId === 1)!.grams;
  };
  const doors = [
    ['/batch/pairs/1', { step: 'finish', back: '/batch/started/1' }],
    ['/batch/pairs/1', { step: 'done sewing up', back: '/batch/started/1' }],
    ['/cards/pair/1/done', { step: 'finish', piece: 'foot', slipper: '1' }],
  ] as const;

  it.each(doors)('by %s %o says what is missing, and books nothing unasked', async (path, press) => {
    const before = await stored();
    const version = String(before.pairs[0]!.version);
    const response = await postForm(app, path, { ...press, version });
    expect(response.status).toBe(422);
    const html = plain(await response.text());
    const [, used, has, missing] =
      /likely used ([\d.]+) g of Heather, .*which has ([\d.]+) g: ([\d.]+) g is missing/s.exec(html)!;
    expect(Math.abs(Number(used) - (await likelyG()))).toBeLessThanOrEqual(0.05);
    expect(has).toBe('50');
    expect(Math.abs(Number(missing) - (Number(used) - 50))).toBeLessThanOrEqual(0.11);
    expect(html).toContain('href="/shelf/lots/1"');
    expect(await stored()).toEqual(before);
    // The form of the question says all that the press said.
    const form = html.slice(html.indexOf(`action="${path}"`));
    const fields = Object.fromEntries(
      [...form.matchAll(/type="hidden" name="([^"]+)" value="([^"]*)"/g)].map(([, name, value]) => [name!, value!]),
    );
    expect(fields).toEqual({ ...press, version, sure: 'yes' });
    expect((await postForm(app, path, fields)).status).toBe(303);
    const after = await stored();
    expect(after.pieces.filter(({ pairId }) => pairId === 1).every(({ stage }) => stage === 'done')).toBe(true);
    expect(after.balls.filter(({ lotId }) => lotId === 1).map(({ massMg }) => massMg)).toEqual([0, 0, 0]);
  });

  it('asks nothing of a piece that does not finish the pair, nor where there is enough', async () => {
    const version = async () => String((await stored()).pairs[0]!.version);
    const press = async (step: string) =>
      (await postForm(app, '/batch/pairs/1', { step, version: await version(), back: '/batch/started/1' })).status;
    expect(await press('done foot')).toBe(303);
    await workshop.store.write('test: more', (tx) =>
      createBall(tx, { lotId: 1, massMg: 150_000, reason: 'bought', day: '2026-11-02' }),
    );
    expect(await press('finish')).toBe(303);
  });
});
