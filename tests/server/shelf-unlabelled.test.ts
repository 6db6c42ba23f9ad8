import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listAllMoves, listBalls, listLots, listYarnColours, listYarns } from '#db/stores/shelf.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const yarns = () => workshop.store.read((db) => listYarns(db));
const colours = () => workshop.store.read((db) => listYarnColours(db));
const lots = () => workshop.store.read((db) => listLots(db));
const balls = () => workshop.store.read((db) => listBalls(db));
const post = (fields: Record<string, string>) => postForm(app, '/shelf/unlabelled', fields);
const page = async (path: string) => (await app.request(path)).text();
const fieldOf = (html: string, name: string) =>
  new RegExp(`id="field-${name}-error"[^>]*>([^<]*)<`).exec(html)?.[1] ?? '';

const chips = Object.fromEntries([1, 2, 3, 4, 5].map((row) => [`hex${row}`, '#b8ac95']));
const shared = {
  ...chips,
  rows: '5',
  units: 'metric',
  day: '2026-11-20',
  donor: 'Parish hall',
  place: 'Bag',
  join: 'thickness',
};
const row = (number: number, mass: string, ten: string, wraps: string, colour: string, donor = '') => ({
  [`mass${number}`]: mass,
  [`ten${number}`]: ten,
  [`wraps${number}`]: wraps,
  [`colour${number}`]: colour,
  [`donor${number}`]: donor,
});
/** Two moss balls of 8 g in ten metres, and a cream one of 5.1 g by somebody else. */
const three = {
  ...shared,
  ...row(1, '84', '8', '9', 'moss'),
  ...row(2, '31.5', '8', '9', 'Moss'),
  ...row(3, '52', '5.1', '', 'cream', 'Ada Bell'),
  hex1: '#556b2f',
};

describe('the form of unlabelled wool', () => {
  it('is shown with five rows and says what it will count as', async () => {
    const html = await page('/shelf/unlabelled');
    expect(html).toContain('name="mass5"');
    expect(html).not.toContain('name="mass6"');
    expect(html).toContain('hand wash, not for babies');
    expect(html).toContain('value="2026-11-25"');
  });

  it('gets more rows without losing what was typed, faults or not', async () => {
    const response = await post({ ...three, mass4: 'many', do: 'more' });
    expect(response.status).toBe(200);
    const html = await response.text();
    expect(html).toContain('name="mass10"');
    expect(html).toContain('value="31.5"');
    expect(html).toContain('value="many"');
    expect(html).not.toContain('<title>Error');
    expect(await yarns()).toEqual([]);
  });

  it('takes a hundred rows and loses none of them', async () => {
    const response = await post({
      ...shared,
      rows: '98',
      ...row(98, '10', '5', '', 'red'),
      hex98: '#aa0000',
      do: 'more',
    });
    const html = await response.text();
    expect(html).toContain('name="mass100"');
    expect(html).not.toContain('name="mass101"');
    expect(html).toContain('value="red"');
  });

  it('works it out and saves nothing yet', async () => {
    const response = await post({ ...three, do: 'work' });
    expect(response.status).toBe(200);
    const html = (await response.text()).replaceAll('\u00a0', ' ');
    // 84 / 0.8 = 105 m; 9 wraps are medium or bulky. 100 / 0.51 = 196 m in 100 g: medium.
    expect(html).toContain('105 m');
    expect(html).toContain('medium or bulky');
    expect(html).toContain('Unlabelled, medium or bulky, 125 m in 100 g');
    expect(html).toContain('Unlabelled, medium, 196 m in 100 g');
    expect(await yarns()).toEqual([]);
  });
});

describe('a ball that may be of several yarn weights', () => {
  it('says which of them it counts as, and counts as the one that is chosen', async () => {
    const html = await (await post({ ...three, do: 'work' })).text();
    expect(html).toMatch(/name="weight1"[^>]*>.*?value="" selected[^>]*>medium, not sure<.*?value="4".*?value="5"/);
    const chosen = await (await post({ ...three, weight1: '5', weight2: '5', do: 'work' })).text();
    expect(chosen).toMatch(/name="weight1"[^>]*>.*?value="5" selected/);
    expect(chosen.replaceAll('\u00a0', ' ')).toContain('Unlabelled, bulky, 125 m in 100 g');
    // One weight alone is no choice.
    expect(html).not.toContain('name="weight3"');
    expect((await post({ ...three, weight1: '5', weight2: '5', do: 'save' })).status).toBe(303);
    expect(await yarns()).toMatchObject([
      { name: 'Unlabelled, bulky, 125 m in 100 g', category: 5 },
      { name: 'Unlabelled, medium, 196 m in 100 g', category: 4 },
    ]);
  });

  it('passes over a choice that fits no longer', async () => {
    await post({ ...three, weight1: '0', weight2: '0', do: 'save' });
    expect((await yarns())[0]).toMatchObject({ name: 'Unlabelled, medium or bulky, 125 m in 100 g', category: 4 });
  });
});

describe('the range of a length', () => {
  it('is shown below ten metres too, where tenths are told', async () => {
    const html = await (
      await post({ ...shared, ...row(1, '2.1', '8', '', 'moss'), hex1: '#556b2f', do: 'work' })
    ).text();
    // 2.1 / 0.8 = 2.625 m; a step of 1 g is 0.289 g each way: 2.625 x 0.289 x hypot(1/2.1, 1/8) = 0.373 m.
    expect(html.replaceAll('\u00a0', ' ')).toContain('2.6 m ±0.4 m');
  });
});

describe('putting unlabelled wool on the shelf', () => {
  it('saves a yarn for each thickness, its colours, lots by giver, balls and gifts, in one write', async () => {
    const response = await post({ ...three, do: 'save' });
    expect(response.status).toBe(303);
    expect(response.headers.get('location')).toMatch(/^\/shelf#yarn-\d+$/);
    expect(await yarns()).toMatchObject([
      // 5.1 g in ten metres are 510 tex: two strands come near 1000.
      { name: 'Unlabelled, medium or bulky, 125 m in 100 g', fibre: null, tex: 800, category: 4, usualStrands: 1 },
      { name: 'Unlabelled, medium, 196 m in 100 g', fibre: null, category: 4, usualStrands: 2 },
    ]);
    expect((await yarns())[1]!.tex).toBeCloseTo(510, 9);
    expect((await colours()).map(({ name, swatchHex }) => [name, swatchHex])).toEqual([
      ['moss', '#556b2f'],
      ['cream', '#b8ac95'],
    ]);
    expect(
      (await lots()).map(({ donor, place, gotDay, paidCents, boughtMg }) => [
        donor,
        place,
        gotDay,
        paidCents,
        boughtMg,
      ]),
    ).toEqual([
      ['Parish hall', 'Bag', '2026-11-20', 0, 115_500],
      ['Ada Bell', 'Bag', '2026-11-20', 0, 52_000],
    ]);
    expect((await balls()).map((ball) => ball.massMg)).toEqual([84_000, 31_500, 52_000]);
    const moves = await workshop.store.read((db) => listAllMoves(db));
    expect(moves.map(({ reason, day }) => [reason, day])).toEqual(Array(3).fill(['given', '2026-11-20']));
    expect(await page('/shelf')).toContain('hand wash, not for babies');
    const changes = await page('/settings/history');
    expect(changes).not.toContain('undefined');
  });

  it('is warned of where a child would wear it, and washed by hand', async () => {
    await post({ ...three, do: 'save' });
    const id = (await yarns())[0]!.id;
    const html = await page(`/try?person=child&size=24&yarn=${id}`);
    expect(html).toContain('Fibre unknown: hand wash, not for babies.');
    expect(html).toContain('The fibre is unknown: wash by hand');
    expect(await page(`/try?person=woman&size=38&yarn=${id}`)).not.toContain('not for babies');
  });

  it('finds the same yarn and colour again the next time', async () => {
    await post({ ...three, do: 'save' });
    await post({ ...shared, ...row(2, '20', '8', '9', 'MOSS'), do: 'save' });
    expect(await yarns()).toHaveLength(2);
    expect(await colours()).toHaveLength(2);
    expect(await balls()).toHaveLength(4);
  });

  it('gives a yarn of the same name and another thickness a number', async () => {
    // 8 g and 8.01 g in ten metres are both 125 m in 100 g to the metre.
    await post({ ...shared, ...row(1, '84', '8', '9', 'moss'), ...row(2, '84', '8.01', '9', 'moss'), do: 'save' });
    expect((await yarns()).map(({ name }) => name)).toEqual([
      'Unlabelled, medium or bulky, 125 m in 100 g',
      'Unlabelled, medium or bulky, 125 m in 100 g (2)',
    ]);
  });

  it('makes one yarn of all of them when asked', async () => {
    await post({ ...three, join: 'all', do: 'save' });
    const [all, ...others] = await yarns();
    expect(others).toEqual([]);
    // 167.5 g; 105 + 39.375 + 101.961 m = 246.336 m: 679.97 tex.
    expect(all!.tex).toBeCloseTo(679.97, 1);
  });

  it('reads ounces and ten yards with imperial units', async () => {
    await workshop.store.write('test', (tx) => setSetting(tx, 'unitSystem', 'imperial'));
    expect(await page('/shelf/unlabelled')).toContain('Ten yards');
    await post({ ...shared, units: 'imperial', ...row(1, '3', '0.25', '', 'moss'), do: 'save' });
    // 3 oz = 85.0486 g; 0.25 oz in 9.144 m = 7.08738 / 9.144 x 1000 = 775.09 tex.
    expect((await balls())[0]!.massMg).toBe(85_049);
    expect((await yarns())[0]!.tex).toBeCloseTo(775.09, 1);
  });
});

describe('faulty rows', () => {
  it('says each fault at its box, keeps everything, and works out the good ones', async () => {
    const faulty = { ...three, mass2: 'some', ten2: '0', wraps2: 'x', colour2: '', hex3: 'red' };
    const response = await post({ ...faulty, do: 'save' });
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(html).toContain('<title>Error: ');
    expect(fieldOf(html, 'mass2')).toContain('Ball 2: enter what the ball weighs');
    // A row with a weight, thickness or colour is a row; here it has wraps and faults in all the rest.
    expect(fieldOf(html, 'ten2')).toContain('what ten metres of it weigh');
    expect(fieldOf(html, 'wraps2')).toContain('how many wraps');
    expect(fieldOf(html, 'colour2')).toContain('what you call its colour');
    expect(fieldOf(html, 'hex3')).toContain('like #7a5f8f');
    for (const kept of ['some', 'x', 'Ada Bell', 'moss', 'Parish hall', 'Bag'])
      expect(html).toContain(`value="${kept}"`);
    expect(html.replaceAll('\u00a0', ' ')).toContain('105 m');
    expect(await yarns()).toEqual([]);
    expect(await balls()).toEqual([]);
  });

  it.each([
    [{ ...shared, do: 'save' }, 'mass1', 'at least one ball'],
    [{ ...three, day: '2026-12-24', do: 'save' }, 'day', 'still to come'],
    [{ ...three, join: 'magic', do: 'save' }, 'join', 'what becomes one yarn'],
  ])('refuses the form as a whole: %#', async (fields, path, sentence) => {
    const response = await post(fields);
    expect(response.status).toBe(422);
    expect(fieldOf(await response.text(), path)).toContain(sentence);
    expect(await yarns()).toEqual([]);
  });
});
