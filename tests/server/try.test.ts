import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listSwatches } from '#db/stores/gauge.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});

afterEach(() => workshop.discard());

const asked = '/try?person=woman&size=38&yarn=bulky&stitches=13&rows=18';
const typed = { person: 'woman', size: '38', yarn: 'bulky', stitches: '13', rows: '18' };

describe('GET /try', () => {
  it('asks for no more than five things, none of them a wage, a knitter or a shop', async () => {
    const page = await (await app.request('/try')).text();
    const controls = [...page.matchAll(/<(?:input(?! type="hidden")|select|textarea)[^>]* name="(\w+)"/g)].map(
      (match) => match[1],
    );
    expect([...new Set(controls)].sort()).toEqual(['person', 'rows', 'size', 'stitches', 'yarn']);
  });

  it('gives the yarn the same range as its working, never a narrower one', async () => {
    for (const query of [asked, '/try?person=man&size=46&yarn=medium&stitches=&rows=']) {
      const page = await (await app.request(query)).text();
      const range = Number(/>\u00b1([\d.]+)</.exec(page)?.[1]);
      const href = /href="([^"]*grams[^"]*)"/.exec(page)![1]!.replaceAll('&amp;', '&');
      const working = await (await app.request(href)).text();
      const exact = Number(/\u00b1([\d.]+)\u00a0g/.exec(working)?.[1]);
      // Up to the whole gram from the tenth that the working shows.
      expect(range).toBe(Math.ceil(exact));
    }
  });

  it('shows counts, grams and hours of the pair worked by hand for a woman of EU 38', async () => {
    const answer = await app.request(asked);
    const page = await answer.text();
    expect(answer.status).toBe(200);
    // By hand: 240 mm -> girth 224.5 -> 208.8 mm wide -> 27.1 + 1 -> 28 stitches; 43 rows with the cast-on.
    expect(page).toContain('28 stitches');
    expect(page).toContain('43 rows');
    // From memory, what such a pair weighs and takes.
    const grams = Number(/>(\d+)\u00a0g/.exec(page)?.[1]);
    expect(grams).toBeGreaterThanOrEqual(90);
    expect(grams).toBeLessThanOrEqual(130);
    expect(page).toMatch(/3\u00a0h\u00a0\d\d/);
  });

  // By hand, EU 38 in bulky yarn: the pair on paper takes 220.4 min in two colours. In one colour two changes of 1 min and
  // four ends of 1.5 min fall away, two ends and a change at each cuff: 8 min less, 212.4.
  it('is in one colour all over: its card changes none, and it says what a second colour takes', async () => {
    const page = await (await app.request(asked)).text();
    expect(page).not.toContain('Change to');
    expect(page).toContain('Rows 4 to 9 (6 rows, RS first): go on in rib as before');
    expect(page).toContain('In one colour all over: no colour is changed.');
    expect(page).toMatch(/3\u00a0h\u00a032/);
    expect(page).toMatch(/With the cuff in another colour it takes\s+8\u00a0min more/);
  });

  it('calls the gauge a guess when the stitches are not known', async () => {
    const page = await (await app.request('/try?person=man&size=46&yarn=medium&stitches=&rows=')).text();
    expect(page).toContain('The gauge is a guess from the yarn.');
  });

  it('takes a child’s age, and says how far feet of that age lie apart', async () => {
    const answer = await app.request('/try?person=woman&size=age+5&yarn=bulky&stitches=13&rows=18');
    const page = await answer.text();
    expect(answer.status).toBe(200);
    expect(page).toContain('One pair for child of 5 years');
    // The mean, 174.4 mm, and 0.77 x 174.4 + 35 = 169.3 mm around.
    expect(page).toContain('17.4 cm');
    expect(page).toContain('16.9 cm');
    expect(page).toContain('Half of the children of 5 years have feet between');
  });

  it('takes a measured foot and a comma', async () => {
    const page = await (await app.request('/try?person=woman&size=24%2C0+cm&yarn=bulky&stitches=13&rows=18')).text();
    expect(page).toContain('28 stitches');
  });

  it.each([
    ['M', '“M” is not understood.'],
    ['38/39', '“38/39” is two sizes.'],
    ['abc', '“abc” is not understood.'],
  ])('says what would do instead of the size “%s”', async (size, what) => {
    const answer = await app.request(`/try?person=woman&size=${encodeURIComponent(size)}&yarn=bulky`);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(
      `id="field-size-error">${what} Enter one shoe size, like 38 or 38.5, or the length of the foot, like 24.5 cm.`,
    );
    expect(page).toContain(`value="${size}"`);
  });

  it('takes no other yarn, style or knitter in the place of one that is not here', async () => {
    for (const address of ['/try?yarn=silk', '/try?person=woman&size=38&yarn=silk']) {
      const answer = await app.request(address);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain('id="field-yarn-error">The yarn “silk” of this address is not here.');
      expect(page).not.toContain('28 stitches');
    }
    await putSample(workshop, '2026-11-25');
    const page = await (await app.request('/try?person=woman&size=38&yarn=1&style=99&knitter=77')).text();
    expect(page).toContain('id="field-style-error">The style “99” of this address is not here.');
    expect(page).toContain('id="field-knitter-error">The knitter “77” of this address is not here.');
  });

  it('answers 422 with every problem at its field and keeps what was typed', async () => {
    const answer = await app.request('/try?person=woman&size=380&yarn=bulky&stitches=thirteen&rows=');
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain('<title>Error: ');
    expect(page).toContain('value="380"');
    expect(page).toContain('value="thirteen"');
    expect(page).toContain('href="#field-size"');
    expect(page).toContain('href="#field-stitches"');
  });

  it('asks which system a small number is of', async () => {
    const page = await (await app.request('/try?person=woman&size=6&yarn=bulky')).text();
    expect(page).toContain('UK 6');
  });

  it('asks for the stitches when only rows are given', async () => {
    const answer = await app.request('/try?person=woman&size=38&yarn=bulky&stitches=&rows=18');
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Enter the stitches in 10 cm too');
  });
});

describe('GET /try/working', () => {
  it('opens how the stitches come about, with the numbers in the formula', async () => {
    const answer = await app.request(asked.replace('/try?', '/try/working/cast-on?'));
    expect(answer.status).toBe(200);
    const page = await answer.text();
    expect(page).toContain('How 28');
    expect(page).toContain('Back to the pair');
  });

  it('answers 404 for a figure that is none', async () => {
    expect((await app.request(asked.replace('/try?', '/try/working/colour-of-luck?'))).status).toBe(404);
  });
});

describe('POST /try/keep', () => {
  it('begins an empty workshop, keeps the pair as an order and the stitches as a swatch', async () => {
    const answer = await postForm(app, '/try/keep', typed);
    expect(answer.status).toBe(303);
    const rows = await readWorkshop(workshop);
    expect(answer.headers.get('location')).toBe(`/orders/${rows.orders[0]!.id}`);
    expect(rows.lines).toHaveLength(1);
    expect(rows.lines[0]).toMatchObject({ person: 'woman', sizeSystem: 'EU', sizeLabel: '38', quantity: 1 });
    const swatches = await workshop.store.read((db) => listSwatches(db));
    expect(swatches).toHaveLength(1);
    expect(swatches[0]).toMatchObject({ stitches: 13, rows: 18, widthMm: 100, heightMm: 100 });
  });

  it('keeps a measured foot', async () => {
    await postForm(app, '/try/keep', { ...typed, size: '24.5 cm' });
    const rows = await readWorkshop(workshop);
    expect(rows.feet[0]).toMatchObject({ leftLengthMm: 245, rightLengthMm: 245, person: 'woman' });
    expect(rows.lines[0]!.footId).toBe(rows.feet[0]!.id);
  });

  it('adds to a workshop that has begun without beginning it again', async () => {
    await putSample(workshop, '2026-11-25');
    const before = await readWorkshop(workshop);
    const yarn = before.yarns[0]!;
    const answer = await postForm(app, '/try/keep', { ...typed, yarn: String(yarn.id) });
    expect(answer.status).toBe(303);
    const after = await readWorkshop(workshop);
    expect(after.orders).toHaveLength(before.orders.length + 1);
    expect(after.yarns).toHaveLength(before.yarns.length);
  });

  it('refuses what cannot be knitted, keeps what was typed and stores nothing', async () => {
    const answer = await postForm(app, '/try/keep', { ...typed, size: '' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('value="13"');
    expect((await readWorkshop(workshop)).orders).toHaveLength(0);
  });
});
