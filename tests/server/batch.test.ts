import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatGrams, formatMinutes } from '#core/shared/format.ts';
import { groupBy } from '#core/shared/group-by.ts';
import {
  createPairColour,
  listBatches,
  listBatchLines,
  listPairColours,
  listPairEvents,
  listPairPieces,
  listPairs,
} from '#db/stores/batch.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { changeKnitter, createKnitter } from '#db/stores/knitters.ts';
import { changeLine, changeOrder } from '#db/stores/orders.ts';
import { listBalls, listReservations } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addLot, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const read = workshopRead();
function workshopRead() {
  return {
    pairs: () => workshop.store.read((db) => listPairs(db)),
    pieces: () => workshop.store.read((db) => listPairPieces(db)),
    colours: () => workshop.store.read((db) => listPairColours(db)),
    batches: () => workshop.store.read((db) => listBatches(db)),
    batchLines: () => workshop.store.read((db) => listBatchLines(db)),
    reservations: () => workshop.store.read((db) => listReservations(db)),
    events: () => workshop.store.read((db) => listPairEvents(db)),
    balls: () => workshop.store.read((db) => listBalls(db)),
    revision: async () => (await workshop.store.read((db) => readState(db))).revision,
    plan: () => readPlan(workshop, now()),
  };
}
const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);

async function start(fields: Record<string, string | readonly string[]> = {}) {
  const revision = String(await read.revision());
  return postForm(app, '/batch/start', { name: 'Winter', order: ['1', '2'], revision, ...fields });
}
const step = (pair: number, words: string, version: string) =>
  postForm(app, `/batch/pairs/${pair}`, { step: words, version, back: '/batch/started/1' });
/** A press; where it is asked what the pair was knitted from, the answer is yarn from elsewhere. */
async function press(pair: number, words: string) {
  const version = String((await read.pairs()).find(({ id }) => id === pair)!.version);
  const answer = await step(pair, words, version);
  const asked = answer.headers.get('location') ?? '';
  if (!asked.includes('/yarn?')) return answer;
  const names = [...(await page(asked)).matchAll(/name="(yarn-\d+)"/g)].map(([, name]) => [name!, 'elsewhere']);
  const fields = { ...Object.fromEntries(names), step: words, version, back: '/batch/started/1' };
  return postForm(app, `/batch/pairs/${pair}/yarn`, fields);
}

describe('what starting will give', () => {
  it('is shown by lot before the press, with what still waits, and is what is given', async () => {
    await addSeason(workshop);
    // Only the fair: its two pairs in Heather, where the lot of 200 g is planned to serve Hilda's pair too.
    const looked = await (await postForm(app, '/batch/start/look', { name: 'Fair', order: ['1'] })).text();
    const plain = looked.replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/[\s\u00a0]+/g, ' ');
    const shown = [.../Heather Fell Bulky (lot 4471|still to come) (\d+) g (\d+)/g[Symbol.matchAll](plain)];
    const revision = String(await read.revision());
    await postForm(app, '/batch/start', { name: 'Fair', order: ['1'], revision });
    const stored = groupBy(await read.colours(), ({ lotId }) => (lotId === null ? 'still to come' : 'lot 4471'));
    expect(shown.map(([, from, grams, pairs]) => [from, Number(grams), Number(pairs)])).toEqual(
      [...stored].map(([from, own]) => [
        from,
        Math.round(sum(own.map(({ allottedMg }) => allottedMg)) / 1000),
        new Set(own.map(({ pairId }) => pairId)).size,
      ]),
    );
    expect(shown.length).toBeGreaterThan(0);
  });

  it('joins two parcels of one dye lot, on the start page and at each pair', async () => {
    await addSeason(workshop);
    // 200 g and 150 g of lot 4471: two pairs of some 107 g leave 93 g and 43 g, and the third takes both.
    await workshop.store.write('test', (tx) => addLot(tx, [150_000], { yarnColourId: 1, dyeLot: '4471' }));
    const plainOf = (html: string) => html.replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/[\s\u00a0]+/g, ' ');
    const looked = plainOf(await page('/batch/start'));
    const lines = [...looked.matchAll(/Heather Fell Bulky (lot 4471|still to come) (\d+) g (\d+)/g)];
    await start();
    const heather = (await read.colours()).filter(({ yarnColourId }) => yarnColourId === 1);
    expect(new Set(heather.map(({ lotId }) => lotId)).size).toBe(2);
    const grams = Math.round(sum(heather.map(({ allottedMg }) => allottedMg)) / 1000);
    expect(lines.map(([, from, mass, pairs]) => [from, mass, pairs])).toEqual([['lot 4471', String(grams), '3']]);
    // Three pairs, each weighs out its Heather once: before the start in the list, then on the page of the batch.
    for (const text of [looked, plainOf(await page('/batch/started/1'))])
      expect(text.match(/\d+ g Heather lot 4471/g)).toHaveLength(3);
  });

  it('keeps two dye lots of a pair to give apart', async () => {
    await addSeason(workshop);
    await start();
    await workshop.store.write('test: a mixed strand', async (tx) => {
      const { lot } = await addLot(tx, [50_000], { yarnColourId: 1, dyeLot: '31' });
      const row = (await listPairColours(tx)).find(({ lotId }) => lotId === 1)!;
      const { pairId, role, strand, yarnColourId } = row;
      await createPairColour(tx, { pairId, role, strand, yarnColourId, lotId: lot.id, allottedMg: 20_000 });
    });
    const text = (await page('/batch/started/1')).replace(/<[^>]+>/g, ' ').replace(/[\s\u00a0]+/g, ' ');
    expect(text).toContain('20 g Heather lot 31');
    expect(text).toMatch(/\d+ g Heather lot 4471/);
  });

  it('is shown again where other orders were ticked than were shown', async () => {
    await addSeason(workshop);
    const html = await page('/batch/start');
    const shown = /name="shown" value="([^"]+)"/.exec(html)![1]!;
    const answer = await start({ order: ['1'], shown });
    // No fault: the answer is what was chosen, to be started by one more press.
    expect(answer.status).toBe(200);
    const again = await answer.text();
    expect(again).toMatch(/<h1[^>]*>[^<]*Start these 2\spairs\?/);
    expect(again).not.toContain('Please look at this again');
    expect(again).toMatch(/Start 2\spairs</);
    expect(await read.batches()).toEqual([]);
    const seen = /name="shown" value="([^"]+)"/.exec(again)![1]!;
    expect((await start({ order: ['1'], shown: seen })).status).toBe(303);
  });
});

describe('the orders to start', () => {
  const boxes = (html: string) =>
    [...html.matchAll(/<input type="checkbox" name="(?:order|spares)"[^>]*>/g)].map(([box]) => box);
  const ticked = (html: string) => boxes(html).filter((box) => box.includes('checked')).length;

  it('are ticked all or none by an address, which keeps the name that was typed', async () => {
    await addSeason(workshop);
    const none = await page('/batch/start?tick=none&name=Fair&order=1&order=2&spares=yes');
    expect(boxes(none).length).toBeGreaterThan(1);
    expect(ticked(none)).toBe(0);
    expect(none).toContain('value="Fair"');
    expect(await page('/batch/start?tick=none')).toContain('value="Batch 1"');
    expect(none).not.toMatch(/Start \d+\spairs?</);
    const all = await page('/batch/start?tick=all&name=Fair');
    expect(ticked(all)).toBe(boxes(all).length);
    expect(all).toMatch(/Start 3\spairs</);
  });

  it('start as they are shown, with spares or without any to start', async () => {
    await addSeason(workshop);
    const html = await page('/batch/start');
    const read = (name: string) => new RegExp(`name="${name}"[^>]* value="([^"]+)"`).exec(html)![1]!;
    const order = [...html.matchAll(/name="order" value="(\d+)"/g)].map(([, id]) => id!);
    const spares = html.includes('name="spares"') ? { spares: 'yes' } : {};
    const fields = { name: read('name'), order, shown: read('shown'), revision: read('revision'), ...spares };
    expect((await postForm(app, '/batch/start', fields)).status).toBe(303);
  });

  it('renew what would be started as they are ticked, button and all', async () => {
    await addSeason(workshop);
    const fields = { name: 'Fair', order: ['1'] };
    const part = await (await postForm(app, '/batch/start/look', fields, { 'HX-Request': 'true' })).text();
    expect(part.trim()).toMatch(/^<section id="start-these">/);
    expect(part).toMatch(/Start these 2\spairs\?/);
    expect(part).toMatch(/Start 2\spairs</);
    const read = (name: string) => new RegExp(`name="${name}" value="([^"]+)"`).exec(part)![1]!;
    const shown = { revision: read('revision'), shown: read('shown') };
    expect((await postForm(app, '/batch/start', { ...fields, ...shown })).status).toBe(303);
  });
});

describe('the batch page', () => {
  it('says how to begin while there are no orders', async () => {
    const html = await page('/batch');
    expect(html).toContain('Agree an order');
    expect(html).toContain('href="/orders/new"');
  });

  it('names the batch in words and groups like pairs in due order', async () => {
    await addSeason(workshop);
    const html = await page('/batch');
    expect(html).toContain('Three pairs for Winter fair and one order');
    // The order due on 1 February stands before the fair on 1 March.
    expect(html.indexOf('woman EU 41')).toBeLessThan(html.indexOf('woman EU 38'));
    expect(html).toContain('/working/sizing/cast-on/2');
    expect(html).toContain('Ilka');
  });

  it('is sent once while nothing changes, and anew after a write', async () => {
    await addSeason(workshop);
    const first = await app.request('/batch');
    const tag = first.headers.get('etag')!;
    const again = await app.request('/batch', { headers: { 'if-none-match': tag } });
    expect([again.status, await again.text()]).toEqual([304, '']);
    expect(await page('/batch')).toBe(await first.text());
    await workshop.store.write('test', (tx) => changeKnitter(tx, 1, { name: 'Ottilie' }));
    const changed = await app.request('/batch', { headers: { 'if-none-match': tag } });
    expect(changed.status).toBe(200);
    expect(await changed.text()).toContain('Ottilie');
  });

  it('tells what comes late and what would help', async () => {
    await addSeason(workshop);
    await workshop.store.write('test', (tx) => changeOrder(tx, 2, { dueDay: '2026-11-26' }));
    const html = await page('/batch');
    expect(html).toContain('1 order late');
    expect(html).toContain('What comes late, and what would help');
  });

  it('names a finished pair that answers an order, and knits it no more', async () => {
    const { heather } = await addSeason(workshop);
    await postForm(app, '/batch/stock', {
      style: '1',
      person: 'woman',
      system: 'EU',
      label: '38',
      quantity: '1',
      cuff: 'short',
      fit: 'usual',
      quality: 'good',
      'colour-foot': String(heather.id),
    });
    const html = await page('/batch');
    expect(html).toContain('Two pairs for Winter fair and one order');
    expect(html).toContain('Taken from finished pairs');
    expect(html).toContain('/batch/stock?pair=1#pair-1');
  });
});

describe('the batch in another hand', () => {
  beforeEach(async () => {
    await addSeason(workshop);
    // Nobody gives her hours, so the plan never has her knit.
    await workshop.store.write('test', (tx) => createKnitter(tx, { name: 'Runa', hand: 'loose' }));
  });

  /** Counts, grams and minutes of the row of order 2 in a hand, out of the plan. */
  async function numbersIn(knitterId: number) {
    const { plan } = await read.plan();
    const { kind } = plan.wanted.pairs.find(({ orderId }) => orderId === 2)!;
    const [foot] = plan.handwork.specOf(kind, knitterId).pieces;
    const grams = sum(plan.handwork.yarnOf(kind, knitterId).map((yarn) => yarn.grams));
    return { castOn: foot!.castOnStitches, grams, minutes: plan.handwork.minutesOf(kind, knitterId) };
  }
  const rowsOf = (html: string) => html.slice(html.indexOf('id="what-to-make"'), html.indexOf('Who knits what'));

  it('shows counts, grams and minutes of each row in the hand chosen, and says that the plan stays', async () => {
    const [ilka, runa] = [await numbersIn(1), await numbersIn(2)];
    // A loose hand has fewer stitches in 10 cm.
    expect(runa.castOn).toBeLessThan(ilka.castOn);
    const own = rowsOf(await page('/batch'));
    expect(own).toContain(`<a href="/working/sizing/cast-on/2">${ilka.castOn}</a>`);
    const html = await page('/batch?knitter=2');
    const rows = rowsOf(html);
    expect(rows).toContain(`<a href="/working/sizing/cast-on/2?knitter=2">${runa.castOn}</a>`);
    expect(rows).toContain(`<a href="/working/yardage/grams/2?knitter=2">${formatGrams(runa.grams)}</a>`);
    expect(rows).toContain(
      `<a href="/working/timing/minutes/2?knitter=2">${formatMinutes(Math.round(runa.minutes))}</a>`,
    );
    expect(rows).toContain('<option value="2" selected="">Runa</option>');
    expect(rows).toMatch(/In Runa’s hand 3 pairs take .* The plan and its days stay as they are: Ilka will knit/);
    // Who knits what, and when, is the plan's.
    const afterRows = (text: string) => text.slice(text.indexOf('Who knits what'));
    expect(afterRows(html)).toBe(afterRows(await page('/batch')));
  });

  it('answers a quick form with the rows alone, which no copy of the page may stand in for', async () => {
    const response = await app.request('/batch?knitter=2', { headers: { 'hx-request': 'true' } });
    expect(response.headers.get('vary')).toBe('HX-Request');
    const html = await response.text();
    expect(html).toMatch(/^<section id="what-to-make"/);
    expect(html).toContain('In Runa’s hand');
    expect((await app.request('/batch')).headers.get('vary')).toBe('HX-Request');
  });

  it.each(['', '99', 'x', '-1'])('shows each pair in its own hand for the knitter %j', async (knitter) => {
    const html = await page(`/batch?knitter=${knitter}`);
    expect(html).toBe(await page('/batch'));
    expect(html).toContain('Counts are for the knitter who has the pair');
  });

  it('leaves pairs that are begun as they are', async () => {
    const ilka = await numbersIn(1);
    await start({ order: '2' });
    const rows = rowsOf(await page('/batch?knitter=2'));
    expect(rows).toContain(`<a href="/working/sizing/cast-on/2">${ilka.castOn}</a>`);
    expect(rows).toMatch(/In Runa’s hand 2 pairs take .* Pairs that are begun keep their own counts/);
    await start({ order: '1' });
    expect(await page('/batch')).not.toContain('Counts in the hand of');
  });

  it('asks nothing where there is one hand alone', async () => {
    await workshop.store.write('test', (tx) => changeKnitter(tx, 2, { isActive: false }));
    expect(await page('/batch')).not.toContain('Counts in the hand of');
  });
});

describe('starting a batch', () => {
  beforeEach(() => addSeason(workshop));

  it('shows what it fixes before it fixes anything', async () => {
    const html = await page('/batch/start');
    expect(html).toMatch(/Start these 3\spairs\?/);
    expect(html).toContain('lot 4471');
    expect(html).toContain('still to come');
    expect(await read.pairs()).toEqual([]);
  });

  it('freezes pairs with counts, colours, knitter, lots and yarn put aside, in one write', async () => {
    const { plan } = await read.plan();
    const castOn = plan.handwork.specOf(plan.wanted.pairs[0]!.kind, 1).pieces[0]!.castOnStitches;
    const before = await read.revision();
    const response = await start();
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/batch/started/1');
    expect(await read.revision()).toBe(before + 1);
    const pairs = await read.pairs();
    expect(pairs).toHaveLength(3);
    expect(readFrozen(pairs[0]!.specJson).spec.pieces[0]!.castOnStitches).toBe(castOn);
    // foot, cuff and sewing up for each of three pairs
    expect(await read.pieces()).toHaveLength(9);
    expect((await read.pieces()).every((piece) => piece.knitterId === 1 && piece.stage === 'waiting')).toBe(true);
    expect((await read.batchLines()).map(({ lineId, quantity }) => [lineId, quantity]).sort()).toEqual([
      [1, 2],
      [2, 1],
    ]);
    expect((await read.batches())[0]).toMatchObject({ name: 'Winter', state: 'started' });
  });

  it('never puts more of a lot aside than there is, and exactly what the pairs were allotted', async () => {
    await start();
    const [reservation] = await read.reservations();
    const allotted = sum((await read.colours()).filter(({ lotId }) => lotId === 1).map(({ allottedMg }) => allottedMg));
    expect(allotted).toBeGreaterThan(0);
    expect(reservation!.massMg).toBe(allotted);
    // The lot is two balls of 100 g.
    expect(reservation!.massMg).toBeLessThanOrEqual(200_000);
  });

  it('keeps its counts when a swatch says otherwise later', async () => {
    await start();
    const before = (await read.pairs()).map(({ specJson }) => specJson);
    await workshop.store.write('test', (tx) =>
      createSwatch(tx, {
        knitterId: 1,
        yarnId: 1,
        secondYarnId: null,
        strands: 1,
        needleMm: 7,
        fabric: 'stocking',
        stitches: 20,
        rows: 26,
        widthMm: 100,
        heightMm: 100,
        isWashed: true,
      }),
    );
    const { plan } = await read.plan();
    const pair = plan.wanted.pairs[0]!;
    const now = plan.handwork.specOf(pair.kind, 1).pieces[0]!.castOnStitches;
    expect((await read.pairs()).map(({ specJson }) => specJson)).toEqual(before);
    const frozen = readFrozen((await read.pairs())[0]!.specJson).spec.pieces[0]!.castOnStitches;
    expect(frozen).not.toBe(now);
    expect(await page('/batch/started/1')).toContain(`>${frozen}<`);
  });

  it('plans the same pairs on, at the same knitter, without asking for their yarn again', async () => {
    await start();
    const { plan } = await read.plan();
    expect(plan.wanted.pairs).toHaveLength(3);
    expect(plan.wanted.pairs.every((pair) => pair.started !== null)).toBe(true);
    const held = (await read.colours()).filter(({ lotId }) => lotId !== null).length;
    expect(held).toBeGreaterThan(0);
    expect(await page('/batch')).toContain('all of them begun');
  });

  it('starts the chosen orders alone', async () => {
    expect((await start({ order: '2' })).status).toBe(303);
    expect((await read.pairs()).map(({ lineId }) => lineId)).toEqual([2]);
    expect(await page('/batch/start')).toMatch(/Start these 2\spairs\?/);
  });

  it('refuses without an order or a name, and keeps what was typed', async () => {
    const response = await start({ order: [], name: '' });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain('Choose at least one order to start.');
    expect(html).toContain('Enter a name for the batch');
    expect(await read.pairs()).toEqual([]);
  });

  it('freezes nothing unseen: the workshop changed since it was shown', async () => {
    const revision = String(await read.revision());
    await workshop.store.write('test', (tx) => changeKnitter(tx, 1, { dailyCapMin: 200 }));
    const response = await postForm(app, '/batch/start', { name: 'Winter', order: ['1', '2'], revision });
    expect(response.status).toBe(409);
    expect(await read.batches()).toEqual([]);
  });
});

describe('a pair on the needles', () => {
  beforeEach(async () => {
    await addSeason(workshop);
    await start();
  });

  it('goes from foot to finished by one press each, and its yarn is booked once', async () => {
    const before = sum((await read.balls()).map(({ massMg }) => massMg));
    const [first] = await read.pairs();
    const frozen = readFrozen(first!.specJson);
    const ownLot = (await read.colours()).filter(({ pairId, lotId }) => pairId === first!.id && lotId !== null);
    const colours = new Set(ownLot.map(({ yarnColourId }) => yarnColourId));
    const usedMg = sum(
      frozen.estimate.yarn
        .filter((yarn) => colours.has(yarn.yarnColourId))
        .map(({ grams }) => Math.round(grams * 1000)),
    );
    const promised = (await read.reservations())[0]!.massMg;
    await press(first!.id, 'done foot');
    await press(first!.id, 'done cuff');
    expect(sum((await read.balls()).map(({ massMg }) => massMg))).toBe(before);
    await press(first!.id, 'done sewing up');
    expect(sum((await read.balls()).map(({ massMg }) => massMg))).toBe(before - usedMg);
    expect((await read.reservations())[0]!.massMg).toBe(promised - sum(ownLot.map(({ allottedMg }) => allottedMg)));
    await press(first!.id, 'finish');
    expect(sum((await read.balls()).map(({ massMg }) => massMg))).toBe(before - usedMg);
    expect((await read.plan()).plan.wanted.pairs).toHaveLength(2);
  });

  it('does nothing twice when the same page is pressed twice', async () => {
    expect((await press(1, 'finish')).status).toBe(303);
    expect((await step(1, 'leave handed over', '1')).status).toBe(409);
    expect((await read.pairs())[0]!.left).toBeNull();
  });

  it('goes on after a wrong press, and the yarn is back and put aside', async () => {
    const balls = await read.balls();
    const promised = (await read.reservations())[0]!.massMg;
    await press(1, 'finish');
    await press(1, 'go on');
    expect((await read.balls()).map(({ massMg }) => massMg)).toEqual(balls.map(({ massMg }) => massMg));
    expect((await read.reservations())[0]!.massMg).toBe(promised);
    expect((await read.plan()).plan.wanted.pairs).toHaveLength(3);
  });

  it('ripped out is wanted again, and its yarn is free', async () => {
    await press(1, 'rip out');
    const { plan } = await read.plan();
    expect(plan.wanted.pairs.filter((pair) => pair.started === null)).toHaveLength(1);
    const own = (await read.colours()).filter(({ pairId, lotId }) => pairId !== 1 && lotId !== null);
    expect(sum((await read.reservations()).map(({ massMg }) => massMg))).toBe(
      sum(own.map(({ allottedMg }) => allottedMg)),
    );
  });

  it('handed over answers its line for good, and comes back when it must', async () => {
    expect((await press(1, 'leave handed over')).status).toBe(409);
    await press(1, 'finish');
    await press(1, 'leave handed over');
    expect((await read.plan()).plan.wanted.pairs).toHaveLength(2);
    await press(1, 'come back');
    expect((await read.pairs())[0]!.left).toBeNull();
  });

  it('ends the batch with the last pair', async () => {
    for (const { id } of await read.pairs()) await press(id, 'finish');
    expect((await read.batches())[0]!.state).toBe('finished');
    await press(3, 'go on');
    expect((await read.batches())[0]!.state).toBe('started');
    expect(await page('/batch/stock')).toContain('Made for an order');
  });

  it('is not found, or not a press of ours', async () => {
    expect((await step(99, 'finish', '1')).status).toBe(404);
    expect((await step(1, 'fly', '1')).status).toBe(409);
    expect((await step(1, 'done sleeve', '1')).status).toBe(404);
    expect((await app.request('/batch/started/9')).status).toBe(404);
  });
});

describe('an order that changes after its pairs were begun', () => {
  beforeEach(async () => {
    await addSeason(workshop);
    await start();
  });
  const change = (id: number, values: object) => workshop.store.write('test', (tx) => changeLine(tx, id, values));

  it('cancelled: its pair is named, and becomes stock when it is finished', async () => {
    await workshop.store.write('test', (tx) => changeOrder(tx, 2, { state: 'cancelled' }));
    expect(await page('/batch/started/1')).toContain('Its order was cancelled.');
    await press(1, 'finish');
    const { input } = await read.plan();
    expect(input.stock.map(({ id }) => id)).toEqual([1]);
  });

  it('more pairs: the new ones are gathered, those begun stay', async () => {
    await change(1, { quantity: 4 });
    const { plan } = await read.plan();
    expect(plan.wanted.pairs.filter((pair) => pair.started === null)).toHaveLength(2);
    expect(plan.wanted.pairs).toHaveLength(5);
  });

  it('fewer pairs: one too many is named, and may go to stock', async () => {
    await change(1, { quantity: 1 });
    const html = await page('/batch/started/1');
    expect(html).toContain('The order wants fewer pairs now.');
    await press(3, 'let go');
    expect(await page('/batch/started/1')).not.toContain('The order wants fewer pairs now.');
  });

  it('another size: shown, and left or let go by hand alone', async () => {
    await change(2, { sizeLabel: '39' });
    expect(await page('/batch/started/1')).toContain('Size: begun as woman EU 41, now woman EU 39.');
    expect((await read.plan()).plan.wanted.pairs).toHaveLength(3);
    await press(1, 'let go');
    const { plan } = await read.plan();
    // The pair begun for it is a spare now, and the order is knitted anew.
    expect(plan.wanted.pairs.filter((pair) => pair.started === null)).toHaveLength(1);
    expect(plan.wanted.pairs).toHaveLength(4);
  });
});

describe('finished pairs that were there before', () => {
  const fields = {
    style: '1',
    person: 'woman',
    system: 'EU',
    label: '38',
    quantity: '2',
    cuff: 'short',
    fit: 'usual',
    quality: 'good',
    'colour-foot': '1',
    'colour-cuff': '',
  };
  beforeEach(() => addSeason(workshop));

  it('are added with the counts of their size and no yarn taken', async () => {
    expect((await postForm(app, '/batch/stock', fields)).status).toBe(303);
    const pairs = await read.pairs();
    expect(pairs.map(({ batchId, left }) => [batchId, left])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(sum((await read.balls()).map(({ massMg }) => massMg))).toBe(200_000);
    expect(await page('/batch/stock')).toContain('2 finished pairs here');
  });

  it('with a flaw answer no order', async () => {
    await postForm(app, '/batch/stock', { ...fields, quality: 'second' });
    expect((await read.plan()).plan.wanted.fromStock).toEqual([]);
    expect(await page('/batch/stock')).toContain('With a flaw');
  });

  it('leave sold, given or lost', async () => {
    await postForm(app, '/batch/stock', fields);
    await press(1, 'leave sold');
    await press(2, 'leave given');
    expect((await read.pairs()).map(({ left }) => left)).toEqual(['sold', 'given']);
    expect((await read.events()).map(({ event }) => event)).toEqual(['was there', 'was there', 'sold', 'given']);
  });

  it.each([
    [{ label: '' }, 'Enter the size'],
    [{ label: '99' }, '99'],
    [{ quantity: '0' }, 'how many pairs'],
    [{ 'colour-foot': '' }, 'Choose a colour'],
    [{ style: '7' }, 'Choose a style'],
  ])('are refused with %o, and what was typed is kept', async (wrong, sentence) => {
    const response = await postForm(app, '/batch/stock', { ...fields, quantity: '3', ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('<title>Error: ');
    expect(await read.pairs()).toEqual([]);
  });
});
