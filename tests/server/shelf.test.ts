import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatGrams } from '#core/shared/format.ts';
import { createPair } from '#db/stores/batch.ts';
import { listBalls, listLots, listYarnColours, listYarns, moveBall } from '#db/stores/shelf.ts';
import { createApp } from '#server/app.ts';
import { answersOn, postForm } from '#tests/support/form.ts';
import {
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

const textOf = async (response: Response | Promise<Response>) => (await response).text();
const page = (path: string) => textOf(app.request(path));
const balls = () => workshop.store.read((db) => listBalls(db));
const fieldOf = (html: string, name: string) =>
  new RegExp(`id="field-${name}-error"[^>]*>([^<]*)<`).exec(html)?.[1] ?? '';
const lots = () => workshop.store.read((db) => listLots(db));

const yarnFields = {
  name: 'Fell Bulky',
  fibre: '',
  metres: '80',
  ballG: '100',
  category: '5',
  strands: '1',
  needleMm: '7',
  stitches: '',
  'colour1-name': 'Heather',
  'colour1-count': '2',
  'colour1-hex1': '#7a5f8f',
  'colour1-hex2': '#c9b8d6',
};

describe('the shelf page', () => {
  it('says how to begin while nothing is there', async () => {
    const html = await page('/shelf');
    expect(html).toContain('Nothing is on the shelf yet');
    expect(html).toContain('href="/shelf/yarns/new"');
  });

  it('sums grams by colour and warns of unknown fibre', async () => {
    await workshop.store.write('test', async (tx) => {
      const yarn = await addYarn(tx, { name: 'Fell Bulky', fibre: null });
      const colour = await addYarnColour(tx, { yarnId: yarn.id, name: 'Moss' });
      await addLot(tx, [100_000, 43_500], { yarnColourId: colour.id, dyeLot: '4471' });
    });
    const html = await page('/shelf');
    // 100 g + 43.5 g = 143.5 g
    expect(html).toContain('143.5\u00a0g of yarn in 1 colour');
    expect(html).toContain('hand wash, not for babies');
    expect(html).toContain('bulky (chunky)');
    expect(html).toContain('lot 4471');
  });
});

describe('adding a yarn', () => {
  it('keeps thickness as tex and the chip as its colours', async () => {
    const response = await postForm(app, '/shelf/yarns/new', yarnFields);
    expect(response.status).toBe(303);
    const [yarn] = await workshop.store.read((db) => listYarns(db));
    // 80 m in 100 g: 1000 m weigh 1250 g
    expect(yarn).toMatchObject({
      name: 'Fell Bulky',
      fibre: null,
      tex: 1250,
      ballMg: 100_000,
      category: 5,
      needleMm: 7,
    });
    const [colour] = await workshop.store.read((db) => listYarnColours(db));
    expect(colour).toMatchObject({ yarnId: yarn!.id, name: 'Heather', swatchHex: '#7a5f8f #c9b8d6' });
  });

  it('refuses with every problem at its field and keeps what was typed', async () => {
    const response = await postForm(app, '/shelf/yarns/new', {
      ...yarnFields,
      metres: 'many',
      ballG: '',
      name: 'Fell <b>',
    });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain('<title>Error: ');
    expect(html).toContain('how many metres are in 100 g');
    expect(html).toContain('how many grams a whole ball has');
    expect(html).toContain('value="many"');
    expect(html).toContain('Fell &lt;b&gt;');
    expect(html).toContain('value="Heather"');
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
  });

  it('says a range with its thousands apart', async () => {
    const html = await textOf(postForm(app, '/shelf/yarns/new', { ...yarnFields, ballG: '100001' }));
    expect(html).toMatch(/to 100,000\s+g\./);
  });

  it.each([
    // Signs without a width, and one that turns what follows round.
    ['\u200b\u200b', 'Enter the name of the yarn'],
    ['Fell \u202eykluB', 'There are signs in this text that cannot be shown'],
  ])('refuses a name that nobody can read: %j', async (name, sentence) => {
    const html = await textOf(postForm(app, '/shelf/yarns/new', { ...yarnFields, name }));
    expect(fieldOf(html, 'name')).toContain(sentence);
  });

  it('takes a name that is written from right to left, joined as its script wants', async () => {
    const name = '\u0635\u0648\u0641 \u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645';
    expect((await postForm(app, '/shelf/yarns/new', { ...yarnFields, name })).status).toBe(303);
    expect((await workshop.store.read((db) => listYarns(db)))[0]!.name).toBe(name);
  });

  it('refuses a name that is taken, and leaves no yarn behind', async () => {
    await postForm(app, '/shelf/yarns/new', yarnFields);
    const response = await postForm(app, '/shelf/yarns/new', { ...yarnFields, name: 'fell bulky' });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain('There is a yarn called fell bulky already');
    expect(await workshop.store.read((db) => listYarnColours(db))).toHaveLength(1);
  });
});

describe('changing a yarn', () => {
  it('shows the other change when the version moved on, and overwrites nothing', async () => {
    await postForm(app, '/shelf/yarns/new', yarnFields);
    const first = await postForm(app, '/shelf/yarns/1', { ...yarnFields, ballG: '50', version: '1' });
    expect(first.status).toBe(303);
    const second = await postForm(app, '/shelf/yarns/1', { ...yarnFields, ballG: '25', version: '1' });
    expect(second.status).toBe(409);
    expect((await workshop.store.read((db) => listYarns(db)))[0]!.ballMg).toBe(50_000);
  });

  it('shows metres as they were typed', async () => {
    await postForm(app, '/shelf/yarns/new', { ...yarnFields, metres: '87,5' });
    expect(await page('/shelf/yarns/1')).toContain('value="87.5"');
  });

  it('answers 404 for a yarn that is not there', async () => {
    expect((await app.request('/shelf/yarns/9')).status).toBe(404);
    expect((await postForm(app, '/shelf/yarns/9', yarnFields)).status).toBe(404);
  });

  it('removes a yarn without colours, and keeps one with colours', async () => {
    await postForm(app, '/shelf/yarns/new', yarnFields);
    expect((await postForm(app, '/shelf/yarns/1/remove', { version: '1' })).status).toBe(409);
    await postForm(app, '/shelf/colours/1/remove', { version: '1' });
    expect((await postForm(app, '/shelf/yarns/1/remove', { version: '1' })).status).toBe(303);
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
  });
});

describe('colours of a yarn', () => {
  it('adds several at once and passes over empty rows', async () => {
    await postForm(app, '/shelf/yarns/new', yarnFields);
    const response = await postForm(app, '/shelf/yarns/1/colours', {
      'colour1-name': 'Moss',
      'colour1-count': '1',
      'colour1-hex1': '#556B2F',
      'colour2-name': '',
      'colour3-name': 'Oat',
      'colour3-count': '1',
      'colour3-hex1': '#d8c9a8',
    });
    expect(response.status).toBe(303);
    const names = (await workshop.store.read((db) => listYarnColours(db))).map(({ name, swatchHex }) => [
      name,
      swatchHex,
    ]);
    expect(names).toEqual([
      ['Heather', '#7a5f8f #c9b8d6'],
      ['Moss', '#556b2f'],
      ['Oat', '#d8c9a8'],
    ]);
  });

  it('refuses a colour that is no colour, and one that is there', async () => {
    await postForm(app, '/shelf/yarns/new', yarnFields);
    const wrong = await postForm(app, '/shelf/yarns/1/colours', { 'colour1-name': 'Moss', 'colour1-hex1': 'green' });
    expect(wrong.status).toBe(422);
    expect(await wrong.text()).toContain('like #7a5f8f');
    const twice = await postForm(app, '/shelf/yarns/1/colours', {
      'colour2-name': 'heather',
      'colour2-hex1': '#000000',
    });
    expect(twice.status).toBe(422);
    expect(await twice.text()).toContain('heather is there already');
  });
});

describe('putting yarn on the shelf', () => {
  const fields = {
    colour: '1',
    dyeLot: '4471',
    balls: '2',
    ballG: '',
    parts: '43 27,5',
    reason: 'bought',
    paid: '35,60',
    gotDay: '2026-11-20',
  };
  beforeEach(() => postForm(app, '/shelf/yarns/new', yarnFields));

  it('books whole balls of the ball size and weighed part balls', async () => {
    const response = await postForm(app, '/shelf/add', fields);
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toBe('/shelf/lots/1');
    expect((await balls()).map((ball) => ball.massMg)).toEqual([100_000, 100_000, 43_000, 27_500]);
    // 100 + 100 + 43 + 27.5 g
    expect((await lots())[0]).toMatchObject({
      boughtMg: 270_500,
      paidCents: 3560,
      dyeLot: '4471',
      gotDay: '2026-11-20',
    });
  });

  it('is refused where all of it is more than a lot can be, with what was typed', async () => {
    // 11 balls of 100 kg.
    const typed = { ...fields, balls: '11', ballG: '100000' };
    const asked = await textOf(postForm(app, '/shelf/add', typed));
    const response = await postForm(app, '/shelf/add', { ...typed, ...answersOn(asked) });
    expect(response.status).toBe(422);
    const text = await response.text();
    expect(fieldOf(text, 'balls')).toContain('A lot holds at most 1,000 kg; this is 1,100 kg.');
    expect(text).toContain('value="100000"');
    expect(await lots()).toEqual([]);
  });

  it('a gift costs nothing and keeps its donor and worth', async () => {
    await postForm(app, '/shelf/add', { ...fields, reason: 'given', paid: '', donor: 'Parish hall', worth: '12' });
    expect((await lots())[0]).toMatchObject({ paidCents: 0, donor: 'Parish hall', worthCents: 1200 });
  });

  it.each([
    [{ colour: '' }, 'Choose the colour that came'],
    [{ colour: '77' }, 'Choose the colour that came'],
    [{ balls: '', parts: '' }, 'how many balls came'],
    [{ balls: '2.5' }, 'how many whole balls came'],
    [{ parts: '43 x' }, 'the weight of each part ball'],
    [{ paid: '' }, 'what you paid'],
    [{ gotDay: '2026-02-30' }, 'the day it came'],
    [{ gotDay: '0926-11-20' }, 'is too long ago'],
    [{ returnable: '2024-12-01' }, 'It came on Fri 20 Nov 2026: enter that day or a later one'],
    [{ returnable: '2226-12-01' }, 'is more than 5 years after it came'],
    [{ reason: 'given' }, 'A gift costs nothing'],
    [{ reason: 'given', paid: '', returnable: '2026-12-20' }, 'A gift does not go back to a shop'],
    [{ donor: 'Ada' }, 'Only a gift has a giver'],
    [{ worth: '12' }, 'What was bought has its price above'],
  ])('refuses %o and keeps the rest', async (wrong, sentence) => {
    const response = await postForm(app, '/shelf/add', { ...fields, ...wrong });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain(sentence);
    expect(html).toContain('value="4471"');
    expect(await balls()).toEqual([]);
  });
});

describe('a ball of another size than the yarn has', () => {
  const fields = { colour: '1', balls: '2', ballG: '', parts: '', reason: 'bought', paid: '9', gotDay: '2026-11-20' };
  beforeEach(() => postForm(app, '/shelf/yarns/new', yarnFields));

  it.each([
    // Ten times the 100 g that the yarn says, by a slip.
    [{ ballG: '1000' }, 'ballG', 'Yes, each has 1,000\u00a0g'],
    [{ parts: '43 2750' }, 'parts', 'Yes, one weighs 2,750\u00a0g'],
  ])('is asked about when it is far heavier: %o', async (odd, path, yes) => {
    const asked = await postForm(app, '/shelf/add', { ...fields, ...odd });
    expect(asked.status).toBe(422);
    const html = await textOf(asked);
    expect(fieldOf(html, path)).toContain('Is it a slip of the keys?');
    expect(html).toContain(yes);
    expect(await balls()).toEqual([]);
    expect((await postForm(app, '/shelf/add', { ...fields, ...odd, ...answersOn(html) })).status).toBe(303);
  });

  it('is asked about where a comma may stand between two part balls', async () => {
    const asked = await postForm(app, '/shelf/add', { ...fields, parts: '43,27 12,5' });
    expect(asked.status).toBe(422);
    const html = await textOf(asked);
    expect(fieldOf(html, 'parts')).toContain('For two, write “43 27”');
    const sure = { ...fields, parts: '43,27 12,5', ...answersOn(html) };
    expect((await postForm(app, '/shelf/add', sure)).status).toBe(303);
    expect((await balls()).map(({ massMg }) => massMg)).toEqual([100_000, 100_000, 43_270, 12_500]);
  });

  it('is taken as it is when it is a size that yarn comes in', async () => {
    expect((await postForm(app, '/shelf/add', { ...fields, ballG: '500', parts: '250' })).status).toBe(303);
  });
});

describe('a yarn whose band cannot be right', () => {
  const post = (odd: Record<string, string>) => postForm(app, '/shelf/yarns/new', { ...yarnFields, ...odd });

  it('with more fibre than there is of it is refused at the field', async () => {
    const html = await textOf(post({ fibre: '90% wool, 90% nylon' }));
    expect(fieldOf(html, 'fibre')).toContain('These shares make 180%');
    expect(html).toContain('value="90% wool, 90% nylon"');
    expect((await post({ fibre: '75% wool, 25% nylon' })).status).toBe(303);
  });

  it('with a length that no such thickness has is asked about, and may be right', async () => {
    // 1000 m in 100 g are lace by every table; super bulky has up to 100 m.
    const odd = { metres: '1000', category: '6' };
    const asked = await post(odd);
    expect(asked.status).toBe(422);
    const html = await textOf(asked);
    expect(fieldOf(html, 'category').replaceAll('\u00a0', ' ')).toContain('1,000 m in 100 g is usually lace');
    expect(html).toContain('Yes, it is super bulky');
    expect((await post({ ...odd, ...answersOn(html) })).status).toBe(303);
    // 80 m called medium is one weight away from what tables say: makers differ by that much.
    expect((await post({ name: 'Other', metres: '110', category: '4' })).status).toBe(303);
  });
});

describe('a lot', () => {
  beforeEach(async () => {
    await workshop.store.write('test', (tx) => addLot(tx, [100_000, 43_000], { dyeLot: '4471', paidCents: 1430 }));
  });

  it('shows balls, history and what 100 g cost', async () => {
    const html = await page('/shelf/lots/1');
    // 14.30 for 143 g is 10.00 for 100 g
    expect(html).toContain('€10.00');
    expect(html).toContain(`+${formatGrams(43)}`);
    expect((await app.request('/shelf/lots/5')).status).toBe(404);
  });

  it('books the difference when a ball is weighed, with its reason', async () => {
    const response = await postForm(app, '/shelf/lots/1/weigh', { ball: '1', grams: '61,5', reason: 'used' });
    expect(response.status).toBe(303);
    expect((await balls())[0]!.massMg).toBe(61_500);
    const html = await page('/shelf/lots/1');
    // 100 - 61.5 = 38.5
    expect(html).toContain('\u221238.5\u00a0g');
  });

  it('shows tenths, so that its balls, its moves and what is left add up', async () => {
    await workshop.store.write('test', (tx) => addLot(tx, [62_000, 43_500, 27_460], { dyeLot: '12', paidCents: 0 }));
    await postForm(app, '/shelf/lots/2/weigh', { ball: '3', grams: '5.5', reason: 'used' });
    const html = (await page('/shelf/lots/2')).replaceAll('\u00a0', ' ');
    // 62 - 56.5 = 5.5; 5.5 + 43.5 + 27.5 = 76.5, each ball rounded to a tenth before.
    for (const words of ['\u221256.5 g', '>5.5 g<', '>43.5 g<', '+27.5 g', '>76.5 g<']) expect(html).toContain(words);
    const shelf = (await page('/shelf')).replaceAll('\u00a0', ' ');
    // 143 g of the other lot.
    expect(shelf).toContain('219.5 g of yarn in 2 colours');
    expect(shelf).toContain('part balls of 43.5 g, 27.5 g and 5.5 g');
  });

  it('says what stands in the way where a move cannot be undone, by where the yarn went', async () => {
    const pairId = await workshop.store.write('test', async (tx) => {
      const style = await addStyle(tx);
      const pair = { styleVersionId: style.currentVersionId!, kind: 'k', specJson: '{}', rank: 0 };
      const { id } = await createPair(tx, pair);
      await moveBall(tx, { ballId: 1, changeMg: -86_000, reason: 'used', day: '2026-11-10', pairId: id });
      await moveBall(tx, { ballId: 1, changeMg: -4_500, reason: 'lost', day: '2026-11-11' });
      return id;
    });
    expect(pairId).toBe(1);
    const response = await postForm(app, '/shelf/lots/1/undo', { move: '1' });
    expect(response.status).toBe(422);
    const html = (await response.text()).replaceAll('\u00a0', ' ');
    expect(html).toContain('86 g of it are already in pairs and 4.5 g of it are lost');
    expect(html).toContain('<title>Error: ');
    expect(html).toContain('href="#field-move"');
    expect(html).not.toContain('Someone else was here first');
    expect((await balls())[0]!.massMg).toBe(9500);
  });

  it('takes more than before only as a wrong number', async () => {
    const refused = await postForm(app, '/shelf/lots/1/weigh', { ball: '2', grams: '50', reason: 'used' });
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain('value="50"');
    expect((await postForm(app, '/shelf/lots/1/weigh', { ball: '2', grams: '50', reason: 'weighed' })).status).toBe(
      303,
    );
    expect((await balls())[1]!.massMg).toBe(50_000);
  });

  it.each([
    // A hundred times, and ten times what is on a ball of 100 g.
    ['10000', '10,000\u00a0g'],
    ['1000', '1,000\u00a0g'],
  ])('asks about %s on the scale for a ball of 100 g, which may be right', async (grams, shown) => {
    const typed = { ball: '1', grams, reason: 'weighed' };
    const asked = await postForm(app, '/shelf/lots/1/weigh', typed);
    expect(asked.status).toBe(422);
    const html = await textOf(asked);
    expect(fieldOf(html, 'grams')).toContain('Is it a slip of the keys?');
    expect(html).toContain(`value="${grams}"`);
    expect((await balls())[0]!.massMg).toBe(100_000);
    // An answer holds for the very number that was asked about.
    const other = await postForm(app, '/shelf/lots/1/weigh', { ...typed, grams: `${grams}0`, ...answersOn(html) });
    expect(other.status).toBe(422);
    expect(html).toContain(`Yes, this ball weighs ${shown}`);
    expect((await postForm(app, '/shelf/lots/1/weigh', { ...typed, ...answersOn(html) })).status).toBe(303);
  });

  it('no longer says that it may go back once that day is past', async () => {
    await workshop.store.write('test', (tx) =>
      addLot(tx, [50_000], { gotDay: '2024-01-02', returnableUntilDay: '2024-02-01' }),
    );
    for (const path of ['/shelf', '/shelf/lots/2']) {
      const html = await page(path);
      expect(html).toContain('could go back until Thu 1 Feb 2024');
      expect(html).not.toContain('may go back until');
    }
  });

  it('never goes below nothing', async () => {
    const response = await postForm(app, '/shelf/lots/1/take-off', { ball: '2', grams: '43.1', reason: 'lost' });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain('cannot be taken');
    expect((await balls())[1]!.massMg).toBe(43_000);
  });

  it('takes a whole ball off, and undo brings it back once', async () => {
    await postForm(app, '/shelf/lots/1/take-off', { ball: '2', grams: '', reason: 'back' });
    expect((await balls())[1]!.massMg).toBe(0);
    expect((await postForm(app, '/shelf/lots/1/undo', { move: '3' })).status).toBe(303);
    expect((await balls())[1]!.massMg).toBe(43_000);
    expect((await postForm(app, '/shelf/lots/1/undo', { move: '3' })).status).toBe(409);
    expect((await balls())[1]!.massMg).toBe(43_000);
  });

  it('winds off a ball of its own and loses no milligram', async () => {
    await postForm(app, '/shelf/lots/1/wind-off', { ball: '1', grams: '40' });
    expect((await balls()).map((ball) => ball.massMg)).toEqual([60_000, 43_000, 40_000]);
  });

  it('does not touch a ball of another lot', async () => {
    await workshop.store.write('test', (tx) => addLot(tx, [50_000]));
    expect((await postForm(app, '/shelf/lots/1/weigh', { ball: '3', grams: '1', reason: 'used' })).status).toBe(422);
    expect((await balls())[2]!.massMg).toBe(50_000);
  });

  it('saves what is known of it, against its version', async () => {
    const fields = { dyeLot: '4472', gotDay: '2026-11-01', paid: '20', version: '1' };
    expect((await postForm(app, '/shelf/lots/1/change', fields)).status).toBe(303);
    expect((await lots())[0]).toMatchObject({ dyeLot: '4472', paidCents: 2000 });
    expect((await postForm(app, '/shelf/lots/1/change', { ...fields, paid: '9' })).status).toBe(409);
    const wrong = await postForm(app, '/shelf/lots/1/change', { ...fields, version: '2', paid: 'much' });
    expect(wrong.status).toBe(422);
    expect(await wrong.text()).toContain('value="much"');
    const tomorrow = await postForm(app, '/shelf/lots/1/change', { ...fields, version: '2', gotDay: '2026-11-26' });
    expect(tomorrow.status).toBe(422);
    expect(await tomorrow.text()).toContain('Thu 26 Nov 2026 is still to come');
  });
});
