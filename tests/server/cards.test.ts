import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPairPieces, listPairRows } from '#db/stores/batch.ts';
import { changeKnitter } from '#db/stores/knitters.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const revision = async () => String((await readWorkshop(workshop)).revision);

/** Two pairs for the fair on the needles: pairs 1 and 2. */
async function startFair() {
  const season = await addSeason(workshop);
  await postForm(app, '/batch/start', {
    name: 'Winter',
    order: String(season.forFair.id),
    revision: await revision(),
  });
  return season;
}
const press = (fields: Record<string, string>, headers: Record<string, string> = {}) =>
  postForm(app, '/cards/pair/1/rows', { piece: 'foot', slipper: '1', ...fields }, headers);
const rowsDone = async () => (await workshop.store.read((db) => listPairRows(db, 1)))[0]?.rowsDone ?? 0;

describe('the page of knitting cards', () => {
  it('says how they come about while there is nothing to knit', async () => {
    expect(await page('/cards')).toContain('cards come with the');
  });

  it('lists like pairs as one run by knitter, what is not started marked so and not chosen', async () => {
    await startFair();
    const html = await page('/cards');
    expect(html).toContain('Three pairs to put on cards');
    expect(html).toContain('Ilka');
    // The fair's two like pairs are one run that can be knitted along with; Hilda's is still a plan.
    expect(html).toMatch(/woman EU 38<\/strong>, 2 pairs/);
    expect(html).toContain('href="/cards/pair/1"');
    expect(html).toMatch(/woman EU 41<\/strong>, 1 pair<em class="soft"> not started yet/);
    expect(html.match(/type="checkbox"[^>]*checked/g)).toHaveLength(1);
  });
});

describe('the cards to print', () => {
  it('are a sheet a pair with its number, on the paper chosen', async () => {
    await startFair();
    const html = await page('/cards/print?run=started-1&paper=letter');
    expect(html.match(/<article class="sheet/g)).toHaveLength(2);
    expect(html).toContain('Pair 1');
    expect(html).toContain('Pair 2');
    expect(html).toContain('paper-letter');
    expect(html).not.toContain('woman EU 41');
    expect(html).not.toMatch(/style="/);
  });

  it('use the words of the knitter, unless others are chosen', async () => {
    const { knitter } = await startFair();
    await workshop.store.write('test', (tx) => changeKnitter(tx, knitter.id, { words: 'american' }));
    expect(await page('/cards/print?run=started-1')).toContain('stockinette stitch');
    const british = await page('/cards/print?run=started-1&words=british');
    expect(british).toContain('stocking stitch');
    expect(british).not.toContain('stockinette');
  });

  it('show what is not started with the yarn it will be given, marked', async () => {
    await addSeason(workshop);
    const html = await page('/cards/print?run=line-2-1');
    expect(html).toContain('not started yet');
    expect(html).toContain('Change to Oat');
  });

  it('are small ones by twos, and one pair alone when asked for', async () => {
    await startFair();
    const four = await page('/cards/print?run=started-1&layout=four&print=large');
    expect(four.match(/<article class="small-card/g)).toHaveLength(2);
    expect(four).toContain('print-large');
    expect((await page('/cards/print?pair=2')).match(/<article class="sheet/g)).toHaveLength(1);
  });

  it('say so when nothing chosen is here any more, whatever the address says', async () => {
    await addSeason(workshop);
    const answer = await app.request('/cards/print?run=gone&pair=zz&paper=wall&words=klingon');
    expect(answer.status).toBe(200);
    expect(await answer.text()).toContain('None of the pairs chosen is here any more');
  });
});

describe('the card of a pair in hand', () => {
  it('shows the current step and where the next mark is', async () => {
    await startFair();
    await press({ setTo: '18', seen: '0' });
    const html = await page('/cards/pair/1');
    expect(html).toMatch(/<strong>18<\/strong>/);
    expect(html).toMatch(/aria-current="step"><p>Rows 2 to 20/);
    expect(html).toContain('In 2 rows, row 20: mark both edges.');
    await press({ setTo: '20', seen: '18' });
    const marked = await page('/cards/pair/1');
    expect(marked).toContain('Row 20: mark both edges now.');
    expect(marked).toMatch(/aria-current="step"><p>Rows 21 to 38/);
  });

  it('counts a press without a script and comes back to the same piece', async () => {
    await startFair();
    const answer = await press({ by: '1' });
    expect(answer.status).toBe(303);
    expect(answer.headers.get('location')).toBe('/cards/pair/1?piece=foot&slipper=1');
    expect(await rowsDone()).toBe(1);
    await press({ by: '-1' });
    expect(await rowsDone()).toBe(0);
  });

  it('answers htmx with the part that changed alone', async () => {
    await startFair();
    const answer = await press({ by: '1' }, { 'hx-request': 'true' });
    const html = await answer.text();
    expect(answer.status).toBe(200);
    expect(html).toMatch(/^<div id="knitting"/);
    expect(html).toMatch(/<strong>1<\/strong>/);
    expect(html).not.toContain('<html');
  });

  it.each(['', '-3', '1e2', '400', '7.5', 'abc'])(
    'refuses to set the row to "%s" and keeps what was typed',
    async (typed) => {
      await startFair();
      const answer = await press({ setTo: typed, seen: '0' });
      const html = await answer.text();
      expect(answer.status).toBe(422);
      expect(html).toContain('Enter the last row you have done, like 12');
      expect(html).toContain(`value="${typed}"`);
      expect(html).toContain('<title>Error: ');
      expect(await rowsDone()).toBe(0);
    },
  );

  it('does not lose rows that another counted meanwhile', async () => {
    await startFair();
    await press({ setTo: '20', seen: '0' });
    const answer = await press({ setTo: '5', seen: '4' });
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('Meanwhile row 20 was counted');
    expect(await rowsDone()).toBe(20);
  });

  it('keeps ticks of steps without rows, and refuses a step that is not on the card', async () => {
    await startFair();
    const tick = (step: string, done: string) =>
      postForm(app, '/cards/pair/1/steps', { piece: 'sewing up', slipper: '2', step, done });
    expect((await tick('heel', 'yes')).status).toBe(303);
    const html = await page('/cards/pair/1?piece=sewing+up&slipper=2');
    expect(html.match(/<li class="is-done"/g)).toHaveLength(1);
    expect((await tick('flying', 'yes')).status).toBe(409);
    await tick('heel', 'no');
    expect(await page('/cards/pair/1?piece=sewing+up&slipper=2')).not.toContain('<li class="is-done"');
  });

  it('hands "both done" to the batch, once', async () => {
    await startFair();
    const version = /name="version" value="(\d+)"/.exec(await page('/cards/pair/1'))![1]!;
    const done = { piece: 'foot', slipper: '1', step: 'done foot', version };
    expect((await postForm(app, '/cards/pair/1/done', done)).headers.get('location')).toBe('/cards/pair/1');
    const pieces = await workshop.store.read((db) => listPairPieces(db));
    expect(pieces.find((row) => row.pairId === 1 && row.piece === 'foot')?.stage).toBe('done');
    const again = await postForm(app, '/cards/pair/1/done', { ...done, step: 'finish' });
    expect(again.status).toBe(409);
    // What is done has all its rows; the card goes on with the cuff.
    expect(await page('/cards/pair/1')).toContain('Cuff<small');
  });

  it('is not there for a pair that is not', async () => {
    await addSeason(workshop);
    expect((await app.request('/cards/pair/77')).status).toBe(404);
    expect((await postForm(app, '/cards/pair/77/rows', { piece: 'foot', slipper: '1', by: '1' })).status).toBe(404);
  });
});

describe('weigh the ball', () => {
  const weigh = (query: string) => app.request(`/cards/pair/1?piece=foot&slipper=1&${query}`);

  // Ilka has no swatch; the ball band says 12 stitches, rows x 4/3 = 16. Woman EU 38: 208.79 mm x 0.12 + 1 = 26 stitches;
  // 240 mm = 38.4 rows, 39 in all, mark at 20. Loop sqrt(21.6 / (1.2 x 1.6)) = 3.3541 cm; a row 26 loops = 0.8721 m, with
  // the joins of 100 g balls x 1.003 = 0.8747 g. After row 20: 18 rows 15.74 g, toe 13 x 1.2 loops 0.52 g, end and top seam
  // 0.2 + 2 x 0.11875 m = 0.44 g: 16.71 g. 12 g less 2 g of bag are 11.4 rows, and 6.7 g are short.
  it('says how many rows are still possible, how much is short, and ways out', async () => {
    await startFair();
    await press({ setTo: '20', seen: '0' });
    const answer = await weigh('grams=12&bag=2');
    const html = await answer.text();
    expect(answer.status).toBe(200);
    expect(html).toContain('11 rows of Heather still possible');
    expect(html).toMatch(/one takes 0\.87\sg/);
    expect(html).toMatch(/19 rows are left in the first foot/);
    expect(html).toMatch(/The first foot needs 17\sg, ends and seams counted: 6\.7\sg are short/);
    // The verdict is about all that is left of the pair: what it needs less the 10 g there are.
    const [, needs] = /All that is left of the pair needs (\d+)\sg of Heather/.exec(html)!;
    const [, short] = /Short by (\d+)\sg: it runs out in the first foot\./.exec(html)!;
    expect(Math.abs(Number(needs) - 10 - Number(short))).toBeLessThanOrEqual(1);
    // The season has 200 g of lot 4471; what is not put aside for the pairs begun is free.
    const { pairColours } = await readWorkshop(workshop);
    const held = pairColours.filter(({ lotId }) => lotId !== null);
    const free = 200 - held.reduce((sum, row) => sum + row.allottedMg, 0) / 1000;
    const [, more] = /The shelf has (\d+|no)\s(?:g )?more of lot 4471/.exec(html.replaceAll('\u00a0', ' '))!;
    expect(more === 'no' ? 0 : Number(more)).toBeCloseTo(Math.max(0, free), 0);
    expect(html).toContain('Make the cuffs shorter.');
    expect(html).toContain('value="12"');
  });

  it('says it is enough when it is', async () => {
    await startFair();
    const html = await (await weigh('grams=500')).text();
    expect(html).toContain('seams counted: that is enough');
    const [, spare] = /Enough: (\d+)\sg to spare/.exec(html)!;
    const [, needs] = /All that is left of the pair needs (\d+)\sg of Heather/.exec(html)!;
    expect(Math.abs(500 - Number(needs) - Number(spare))).toBeLessThanOrEqual(1);
    expect(html).not.toContain('The shelf has');
    expect(html).not.toContain('Ways out');
  });

  it.each([
    ['grams=', 'Enter the grams the scale shows, like 34'],
    ['grams=heavy', 'Enter the grams the scale shows, like 34'],
    ['grams=5&bag=9', 'The bag or cone cannot weigh more than the scale shows.'],
    ['grams=5&colour=77', 'Choose one of the yarns of this pair'],
  ])('refuses %s and keeps what was typed', async (query, message) => {
    await startFair();
    const answer = await weigh(query);
    expect(answer.status).toBe(422);
    const html = await answer.text();
    expect(html).toContain(message);
    const typed = new URLSearchParams(query).get('grams');
    expect(html).toContain(`value="${typed}"`);
  });
});
