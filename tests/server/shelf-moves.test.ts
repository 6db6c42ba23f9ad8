import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatGrams } from '#core/shared/format.ts';
import { createPair, createPairColour, createPairPiece } from '#db/stores/batch.ts';
import { listAllMoves, listBalls, listLots } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
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
  // Heather, lot 4471: balls of 100 g and 43 g, bought on 2 November.
  await workshop.store.write('test', async (tx) => {
    const yarn = await addYarn(tx, { name: 'Fell Bulky' });
    const colour = await addYarnColour(tx, { yarnId: yarn.id, name: 'Heather' });
    await addLot(tx, [100_000, 43_000], { yarnColourId: colour.id, dyeLot: '4471', paidCents: 1430 });
  });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const balls = () => workshop.store.read((db) => listBalls(db));
const moves = () => workshop.store.read((db) => listAllMoves(db));
const lots = () => workshop.store.read((db) => listLots(db));
const fieldOf = (html: string, name: string) =>
  new RegExp(`id="field-${name}-error"[^>]*>([^<]*)<`).exec(html)?.[1] ?? '';

/** A pair that has a colour of this workshop, to say what used it. */
async function addPair() {
  return await workshop.store.write('test', async (tx) => {
    const style = await addStyle(tx);
    const specJson = JSON.stringify({ sizeWords: 'woman EU 38' });
    const pair = await createPair(tx, { styleVersionId: style.currentVersionId!, kind: 'k', specJson, rank: 0 });
    await createPairPiece(tx, { pairId: pair.id, piece: 'foot' });
    await createPairColour(tx, { pairId: pair.id, role: 'foot', strand: 0, yarnColourId: 1, allottedMg: 0 });
    return pair.id;
  });
}

describe('a move on a day that is past', () => {
  it.each([
    ['weigh', { grams: '20', reason: 'used' }],
    ['weigh', { grams: '90', reason: 'weighed' }],
    ['take-off', { grams: '20', reason: 'lost' }],
    ['wind-off', { grams: '20' }],
  ])('before the ball came is refused at the day, whatever moves: %s %o', async (way, fields) => {
    const before = await moves();
    const response = await postForm(app, `/shelf/lots/1/${way}`, { ball: '1', ...fields, day: '2026-11-01' });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'day')).toContain('It came on Mon 2 Nov 2026. Enter that day or a later one.');
    expect(fieldOf(html, 'reason')).toBe('');
    expect(await moves()).toEqual(before);
  });

  it('is asked for with today in the box, and kept with its day', async () => {
    expect(await page('/shelf/lots/1/take-off')).toContain('value="2026-11-25"');
    const fields = { ball: '1', grams: '20', reason: 'lost', day: '2026-11-10' };
    expect((await postForm(app, '/shelf/lots/1/take-off', fields)).status).toBe(303);
    expect((await moves()).at(-1)).toMatchObject({ changeMg: -20_000, reason: 'lost', day: '2026-11-10' });
    expect(await page('/shelf/lots/1')).toContain('Tue 10 Nov');
  });

  it.each([
    ['2026-11-26', 'still to come'],
    ['2026-02-30', 'the day it was'],
    ['2026-11-01', 'It came on Mon 2 Nov 2026.'],
  ])('refuses %s at the day, and keeps the rest', async (day, sentence) => {
    const fields = { ball: '1', grams: '20.5', reason: 'lost', day };
    const response = await postForm(app, '/shelf/lots/1/take-off', fields);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'day')).toContain(sentence);
    expect(html).toContain('value="20.5"');
    expect(await moves()).toHaveLength(2);
  });

  it('weighs against what was there then', async () => {
    await postForm(app, '/shelf/lots/1/take-off', { ball: '1', grams: '30', reason: 'used', day: '2026-11-20' });
    const weigh = { ball: '1', grams: '95', reason: 'lost', day: '2026-11-10' };
    expect((await postForm(app, '/shelf/lots/1/weigh', weigh)).status).toBe(303);
    // 100 g on the 10th and 95 on the scale: 5 lost; 30 used on the 20th: 65 left.
    expect((await balls())[0]!.massMg).toBe(65_000);
  });

  it('winds off on its day', async () => {
    await postForm(app, '/shelf/lots/1/wind-off', { ball: '1', grams: '40', day: '2026-11-12' });
    expect((await moves()).slice(-2).map(({ changeMg, day }) => [changeMg, day])).toEqual([
      [-40_000, '2026-11-12'],
      [40_000, '2026-11-12'],
    ]);
    expect(await page('/shelf/lots/1')).toContain('wound off');
    // Either half undoes both.
    expect((await postForm(app, '/shelf/lots/1/undo', { move: '3' })).status).toBe(303);
    expect((await balls()).map((ball) => ball.massMg)).toEqual([100_000, 43_000, 0]);
  });
});

describe('yarn used by a pair', () => {
  it('offers the pairs of this colour and keeps which one it was', async () => {
    const pairId = await addPair();
    expect(await page('/shelf/lots/1/take-off')).toContain(`pair ${pairId}, woman EU 38`);
    const fields = { ball: '1', grams: '88', reason: 'used', pair: String(pairId), day: '2026-11-20' };
    expect((await postForm(app, '/shelf/lots/1/take-off', fields)).status).toBe(303);
    expect((await moves()).at(-1)).toMatchObject({ reason: 'used', pairId });
    expect(await page('/shelf/lots/1')).toContain(`used by pair ${pairId}`);
  });

  it('is of no account where it was lost, and refuses a pair that has none of this colour', async () => {
    const pairId = await addPair();
    const fields = { ball: '1', grams: '5', reason: 'lost', pair: String(pairId) };
    await postForm(app, '/shelf/lots/1/take-off', fields);
    expect((await moves()).at(-1)).toMatchObject({ reason: 'lost', pairId: null });
    const wrong = await postForm(app, '/shelf/lots/1/take-off', { ...fields, reason: 'used', pair: '77' });
    expect(wrong.status).toBe(422);
    expect(fieldOf(await wrong.text(), 'pair')).toContain('Choose the pair that used it');
  });
});

describe('a ball out with a knitter', () => {
  let knitterId: number;
  beforeEach(async () => {
    knitterId = (await workshop.store.write('test', (tx) => addKnitter(tx, { name: 'Greta' }))).id;
  });
  const versionOf = async (index: number) => String((await balls())[index]!.version);

  it('stands in the history of the lot and of the workshop with its day', async () => {
    const who = String(knitterId);
    expect(await page('/shelf/lots/1/hand')).toContain('name="day" type="date"');
    const out = { ball: '2', who, day: '2026-11-20', 'version-2': await versionOf(1) };
    expect((await postForm(app, '/shelf/lots/1/hand', out)).status).toBe(303);
    const lot = await page('/shelf/lots/1');
    expect(lot.slice(lot.indexOf('Who had it'))).toMatch(/Fri 20 Nov[\s\S]*out with Greta/);
    expect(await page('/settings/history')).toContain('handed to Greta on Fri 20 Nov 2026');
    const home = { ball: '2', who: 'shelf', 'version-2': await versionOf(1) };
    // Not before it went out, nor on a day to come.
    for (const [day, sentence] of [
      ['2026-11-19', 'came where it is on Fri 20 Nov 2026'],
      ['2026-11-26', 'is still to come'],
    ]) {
      const refused = await postForm(app, '/shelf/lots/1/hand', { ...home, day: day! });
      expect(refused.status).toBe(422);
      expect(fieldOf(await refused.text(), 'day')).toContain(sentence);
    }
    expect((await postForm(app, '/shelf/lots/1/hand', { ...home, day: '2026-11-24' })).status).toBe(303);
    expect(await page('/settings/history')).toContain('came home on Tue 24 Nov 2026');
  });

  it('goes out and comes home again, and weighs the same', async () => {
    const out = { ball: '2', who: String(knitterId), 'version-2': await versionOf(1) };
    expect(await page('/shelf/lots/1/hand')).toContain('Greta');
    expect((await postForm(app, '/shelf/lots/1/hand', out)).status).toBe(303);
    expect((await balls())[1]).toMatchObject({ knitterId, massMg: 43_000 });
    expect(await page('/shelf/lots/1')).toContain('with Greta');
    expect(await page('/shelf')).toContain('some with Greta');
    const home = { ball: '2', who: 'shelf', 'version-2': await versionOf(1) };
    expect((await postForm(app, '/shelf/lots/1/hand', home)).status).toBe(303);
    expect((await balls())[1]).toMatchObject({ knitterId: null, massMg: 43_000 });
    const html = await page('/shelf/lots/1');
    expect(html).toContain('out with Greta');
    expect(html).toContain('home on the shelf');
    expect(await moves()).toHaveLength(2);
  });

  it.each([
    [{ who: '' }, 'who', 'Choose who takes it'],
    [{ who: '99' }, 'who', 'Choose who takes it'],
    [{ who: 'shelf' }, 'who', 'there already'],
    [{ ball: '' }, 'ball', 'Choose the ball'],
  ])('refuses %o', async (wrong, path, sentence) => {
    const fields = { ball: '2', who: String(knitterId), 'version-2': await versionOf(1), ...wrong };
    const response = await postForm(app, '/shelf/lots/1/hand', fields);
    expect(response.status).toBe(422);
    expect(fieldOf(await response.text(), path)).toContain(sentence);
    expect((await balls())[1]!.knitterId).toBeNull();
  });

  it('is a conflict when somebody else changed the ball, and missing when the lot is not there', async () => {
    const fields = { ball: '2', who: String(knitterId), 'version-2': await versionOf(1) };
    await postForm(app, '/shelf/lots/1/take-off', { ball: '2', grams: '1', reason: 'lost' });
    expect((await postForm(app, '/shelf/lots/1/hand', fields)).status).toBe(409);
    expect((await balls())[1]!.knitterId).toBeNull();
    expect((await postForm(app, '/shelf/lots/9/hand', fields)).status).toBe(404);
    expect((await app.request('/shelf/lots/9/hand')).status).toBe(404);
  });
});

describe('the shelf on another day', () => {
  it('is what the moves up to that day make it', async () => {
    await postForm(app, '/shelf/lots/1/take-off', { ball: '1', grams: '60', reason: 'used', day: '2026-11-10' });
    await postForm(app, '/shelf/lots/1/take-off', { ball: '2', grams: '', reason: 'lost', day: '2026-11-20' });
    // 143 g came on the 2nd, 60 went on the 10th, 43 on the 20th.
    expect(await page('/shelf?day=2026-11-02')).toContain(`${formatGrams(143)} of yarn in 1 colour`);
    expect(await page('/shelf?day=2026-11-10')).toContain(`${formatGrams(83)} of yarn in 1 colour`);
    expect(await page('/shelf?day=2026-11-24')).toContain(`${formatGrams(40)} of yarn in 1 colour`);
    expect(await page('/shelf')).toContain(`${formatGrams(40)} of yarn in 1 colour`);
    const before = await page('/shelf?day=2026-11-01');
    expect(before).toContain('No yarn was on the shelf');
    expect(before).toContain('at the end of Sun 1 Nov 2026');
    // What was paid goes with what is there: 14.30 for 143 g, so 8.30 for 83 g.
    expect(await page('/shelf?day=2026-11-10')).toContain('€8.30');
  });

  it.each([
    ['2026-11-26', 'still to come'],
    ['yesterday', 'Enter a day that is past'],
  ])('refuses %s and shows the shelf as it is', async (day, sentence) => {
    const response = await app.request(`/shelf?day=${day}`);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'day')).toContain(sentence);
    expect(html).toContain(`value="${day}"`);
    expect(html).toContain(formatGrams(143));
  });
});

describe('place, and the last day at the shop', () => {
  const change = { dyeLot: '4471', gotDay: '2026-11-02', paid: '14.30', donor: '', worth: '' };

  it('keeps the place and offers it the next time', async () => {
    const fields = { ...change, place: 'Blue box', returnable: '', version: '1' };
    expect((await postForm(app, '/shelf/lots/1/change', fields)).status).toBe(303);
    expect((await lots())[0]!.place).toBe('Blue box');
    expect(await page('/shelf')).toContain('Blue box');
    expect(await page('/shelf/add')).toContain('<option value="Blue box">');
    const added = await postForm(app, '/shelf/add', {
      ...{ colour: '1', balls: '1', reason: 'bought', paid: '5', gotDay: '2026-11-20', place: 'Drawer 2' },
    });
    expect(added.status).toBe(303);
    expect((await lots())[1]!.place).toBe('Drawer 2');
  });

  it('warns a week before, on the shelf and on the first page', async () => {
    const at = (returnable: string, version: string, place = '') =>
      postForm(app, '/shelf/lots/1/change', { ...change, place, returnable, version });
    await at('2026-12-03', '1');
    expect(await page('/shelf')).not.toContain('no longer takes it back');
    expect(await page('/')).not.toContain('may go back');
    await at('2026-12-02', '2');
    expect(await page('/shelf')).toContain('May go back until Wed 2 Dec 2026');
    expect(await page('/')).toContain('Yarn may go back until Wed 2 Dec 2026');
    await at('2026-12-02', '3', 'At the shop');
    expect(await page('/shelf')).toContain('Fetch it by Wed 2 Dec 2026');
    expect(await page('/')).toContain('Fetch yarn by Wed 2 Dec 2026');
  });

  it('refuses a day to come as the day yarn came', async () => {
    const response = await postForm(app, '/shelf/add', {
      ...{ colour: '1', balls: '1', reason: 'bought', paid: '5', gotDay: '2026-11-26', dyeLot: 'K9' },
    });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(fieldOf(html, 'gotDay')).toContain('still to come');
    expect(html).toContain('value="K9"');
  });
});

describe('what a gift is worth', () => {
  it('goes with what is left of it', async () => {
    await postForm(app, '/shelf/add', {
      ...{ colour: '1', balls: '2', reason: 'given', donor: 'Ada Bell', worth: '12', gotDay: '2026-11-20' },
    });
    await postForm(app, '/shelf/lots/2/take-off', { ball: '3', grams: '50', reason: 'back' });
    // 12.00 for 200 g: 9.00 for the 150 g that are left.
    expect(await page('/shelf')).toContain('worth €9.00');
    expect(await page('/shelf/lots/2')).toContain('worth €12.00 as it came');
    expect(await page('/shelf/lots/2/take-off')).toContain('back to the giver');
    expect(await page('/shelf/lots/1/take-off')).toContain('back to the shop');
  });
});

describe('in ounces', () => {
  it('reads a weight in ounces and says so in what it refuses', async () => {
    await workshop.store.write('test', (tx) => setSetting(tx, 'unitSystem', 'imperial'));
    const fields = { units: 'imperial', ball: '1', grams: '1', reason: 'lost', day: '2026-11-20' };
    expect((await postForm(app, '/shelf/lots/1/take-off', fields)).status).toBe(303);
    // An ounce is 28.349523125 g: 28 350 mg.
    expect((await balls())[0]!.massMg).toBe(100_000 - 28_350);
    const wrong = await postForm(app, '/shelf/lots/1/weigh', { ...fields, grams: 'much' });
    expect(await wrong.text()).toContain('what the scale shows in ounces');
  });
});

describe('care in words', () => {
  it('goes with the yarn, by its fibre or for want of one', async () => {
    expect(await page('/shelf')).toContain('Hand wash in cool water');
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'Beach', fibre: 'cotton' }));
    expect(await page('/shelf')).toContain('Machine wash at 40');
  });
});
