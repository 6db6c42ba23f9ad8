import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { contrastToeSlipper } from '#core/styles/shipped/contrast-toe.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Piece, StyleBody } from '#core/styles/style.ts';
import { createOffer, createPurchase, createPurchaseLine, createSupplier } from '#db/stores/buying.ts';
import { listLineColours, listLines, listOrders } from '#db/stores/orders.ts';
import { createStyle } from '#db/stores/styles.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';
import { addKnitter, addLot } from '#tests/support/workshop.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

/** Two lots of heather, one of oat: enough for a few pairs. */
const fillShelf = () =>
  opened.workshop.store.write('test: a shelf', async (tx) => {
    const { heather, oat } = opened.ids;
    await addLot(tx, [100_000, 62_000], { yarnColourId: heather, dyeLot: '114' });
    await addLot(tx, [100_000], { yarnColourId: heather, dyeLot: '127' });
    await addLot(tx, [84_000], { yarnColourId: oat, dyeLot: null, donor: 'Tilda Crane' });
  });

const asked = () => ({
  person: 'woman',
  system: 'EU',
  sizes: '38-40',
  asked: ['foot', 'cuff'],
  'use-foot': [String(opened.ids.heather), String(opened.ids.oat)],
  'use-cuff': [String(opened.ids.heather), String(opened.ids.oat)],
  together: 'two',
  cuff: 'short',
  amounts: 'safe',
  leave: 'orders',
});
type Fields = Record<string, string | string[]>;
const query = (fields: Fields) =>
  new URLSearchParams(Object.entries(fields).flatMap(([name, value]) => [value].flat().map((each) => [name, each])));
const answerTo = (fields: Fields) => opened.app.request(`/shelf/most-pairs?${query(fields)}`);
const orders = () => opened.workshop.store.read((db) => listOrders(db));
const hidden = (page: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(page)![1]!;
/** What the form that makes a batch sends of the answer it stands beside. */
const seenIn = (page: string) => ({
  revision: hidden(page, 'revision'),
  question: hidden(page, 'question'),
  made: hidden(page, 'made'),
});
const pairsIn = (page: string) => Number(/<h1[^>]*>(\d+) pairs? from this shelf/.exec(page)![1]);
const plain = (page: string) => page.replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/[\s\u00a0]+/g, ' ');

describe('yarn on its way', () => {
  it('is on no shelf yet', async () => {
    await opened.workshop.store.write('test: a parcel on its way', async (tx) => {
      const { heather: yarnColourId } = opened.ids;
      await addLot(tx, [100_000], { yarnColourId, dyeLot: '127' });
      const shop = { name: 'Dale Wools', shippingCents: 0, deliveryDays: 2, minimumCents: 0, rank: 1 };
      const { id: supplierId } = await createSupplier(tx, shop);
      const offer = { supplierId, yarnColourId, ballMg: 100_000, ballsPerPack: 10, priceCents: 5000 };
      const { id: offerId } = await createOffer(tx, offer);
      const purchase = { supplierId, orderedDay: '2026-11-24', expectedDay: '2026-11-27', state: 'ordered' } as const;
      const { id: purchaseId } = await createPurchase(tx, { ...purchase, shippingCents: 0 });
      const pack = { ballMg: 100_000, ballsPerPack: 10, packs: 1, priceCents: 5000 };
      await createPurchaseLine(tx, { purchaseId, offerId, ...pack });
    });
    for (const leave of ['orders', 'begun']) {
      const answer = await answerTo({ ...asked(), leave });
      expect(answer.status).toBe(200);
      // 100 g are not enough for a second pair of EU 38; the parcel of a kilogram would be enough for nine.
      expect(pairsIn(await answer.text())).toBeLessThanOrEqual(1);
    }
  });
});

describe('GET /shelf/most-pairs', () => {
  it('says what is missing where there is nothing on the shelf', async () => {
    const answer = await opened.app.request('/shelf/most-pairs');
    expect(answer.status).toBe(200);
    expect(await answer.text()).toContain('There is no free yarn on the shelf');
  });

  it('shows the form with every colour there is yarn of, all ticked', async () => {
    await fillShelf();
    const page = await (await opened.app.request('/shelf/most-pairs')).text();
    expect(page).toContain('aria-label="At least, woman EU 38"');
    expect(page).toMatch(/name="use-foot" value="\d+" checked[^>]*aria-label="Foot: Heather/);
    expect(page).toContain('aria-label="Cuff: Oat, Harbour Bulky"');
    expect(page).not.toContain('aria-label="Foot: Fir');
    expect(page).not.toContain('Put them in the batch');
    expect(await (await opened.app.request('/shelf')).text()).toContain('href="/shelf/most-pairs"');
  });

  it('answers with pairs, lots, the giver and one more ball', async () => {
    await fillShelf();
    const answer = await answerTo(asked());
    expect(answer.status).toBe(200);
    const page = await answer.text();
    const words = plain(page);
    expect(pairsIn(page)).toBeGreaterThan(1);
    expect(words).toContain('cannot be more');
    expect(words).toContain('Tilda Crane');
    expect(words).toContain('lot 114');
    expect(words).toMatch(/One more ball of \w+ would give \d pairs?|No single ball more/);
    // Likely amounts are less than safe ones: never fewer pairs.
    const likely = await (await answerTo({ ...asked(), amounts: 'likely' })).text();
    expect(pairsIn(likely)).toBeGreaterThanOrEqual(pairsIn(page));
  });

  it('keeps to the most of each size, and says which least cannot be met', async () => {
    await fillShelf();
    const few = { ...asked(), 'most-38': '1', 'most-39': '0', 'most-40': '1' };
    expect(pairsIn(await (await answerTo(few)).text())).toBe(2);
    const many = plain(await (await answerTo({ ...asked(), 'least-40': '50' })).text());
    expect(many).toMatch(/woman EU 40: you want at least 50 pairs, and the yarn makes \d at most/);
  });

  /** A style whose foot has a part in a colour of its own, whatever colour the rest is. */
  const addStyleOf = (name: string, body: StyleBody) =>
    opened.workshop.store.write('test: a style', (tx) => createStyle(tx, { name, isShipped: true, body }));
  const [foot, cuff] = twoPieceSlipper.pieces as readonly [Piece, Piece];
  /** By turns two rows in the colour of the foot and two in the other. */
  const striped: StyleBody = {
    ...twoPieceSlipper,
    style: 'Striped slipper',
    roles: [...twoPieceSlipper.roles, { name: 'stripe', words: 'Stripe' }],
    pieces: [
      {
        ...foot,
        sections: foot.sections.map((section) =>
          section.do === 'work' ? { ...section, stripes: { colour: 'stripe', rows: 2 } } : section,
        ),
      },
      cuff,
    ],
  };

  it.each([
    ['toe', 'Toe', contrastToeSlipper, 100_000, 30_000],
    ['stripe', 'Stripe', striped, 95_000, 55_000],
  ])('lets an end be a %s of another colour', async (role, words, body, footMg, endMg) => {
    const style = String((await addStyleOf('Two colours', body)).id);
    const { heather, oat } = opened.ids;
    await opened.workshop.store.write('test: two ends', async (tx) => {
      await addLot(tx, [footMg], { yarnColourId: heather, dyeLot: '114' });
      await addLot(tx, [endMg], { yarnColourId: oat, dyeLot: null });
    });
    const question = { ...asked(), style, asked: ['foot', 'cuff', role], together: 'two', sizes: '38', cuff: 'short' };
    const main = [String(heather)];
    const ends = (colours: number[]) => ({
      ...question,
      ...{ 'use-foot': main, 'use-cuff': main, [`use-${role}`]: colours.map(String) },
    });
    // Neither end is a pair by itself.
    expect(pairsIn(await (await answerTo({ ...asked(), style, together: 'one', sizes: '38' })).text())).toBe(0);
    // The end may be that part alone when it is ticked for it, and nothing when it is not.
    const page = await (await answerTo(ends([oat]))).text();
    expect(pairsIn(page)).toBe(1);
    expect(plain(page)).toMatch(new RegExp(`Foot: Heather, lot 114.* ${words}: Oat`));
    expect(pairsIn(await (await answerTo(ends([heather]))).text())).toBe(0);
    // Both ends are used up to what they have, and none beyond.
    const used = [...plain(page).matchAll(/([\d.]+) g ([\d.]+) g ([\d.]+) g/g)].map((row) => row.slice(1).map(Number));
    expect(new Set(used.map(([free]) => free))).toEqual(new Set([footMg / 1000, endMg / 1000]));
    for (const [free, taken, left] of used)
      expect([taken! > 0, Math.abs(free! - taken! - left!) <= 1]).toEqual([true, true]);

    const made = await postForm(opened.app, '/shelf/most-pairs', {
      ...ends([oat]),
      outlet: '4',
      due: '',
      ...seenIn(page),
    });
    expect(made.status).toBe(303);
    const colours = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(colours.map((each) => [each.role, each.yarnColourId])).toContainEqual([role, oat]);
  });

  it('tells ounces where these are chosen, and counts the same pairs', async () => {
    await fillShelf();
    const metric = plain(await (await answerTo(asked())).text());
    await opened.workshop.store.write('test: ounces', (tx) => setSetting(tx, 'unitSystem', 'imperial'));
    const page = await (await answerTo(asked())).text();
    const imperial = plain(page);
    const figure = /(\d+) pairs: cannot be more/;
    expect(figure.exec(imperial)![1]).toBe(figure.exec(metric)![1]);
    // 162 g and 100 g at 28.3495 g an ounce: 5.71 oz and 3.53 oz.
    expect(metric).toContain('162 g');
    expect(imperial).toMatch(/lot 114 – 5\.7\d? oz/);
    expect(imperial).toMatch(/3\.53? oz/);
    expect(imperial.replace(/[^ ]*lot[^ ]*/g, '')).not.toMatch(/\d g\b/);
  });

  it.each([
    ['least-38', { 'least-38': 'two' }, 'Enter how many pairs of woman EU 38'],
    ['most-38', { 'least-38': '5', 'most-38': '3' }, 'At most 3 pairs of woman EU 38 are less than the 5'],
    ['sizes', { sizes: '42-36' }, 'Write the sizes from small to large'],
    ['use-cuff', { 'use-cuff': [] }, 'Tick at least one colour for the cuff'],
    ['together', { together: 'x' }, 'Choose which colours may go together'],
  ])('names what is wrong at %s and keeps what was typed', async (path, wrong, sentence) => {
    await fillShelf();
    const answer = await answerTo({ ...asked(), 'most-40': '7', ...wrong });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(sentence);
    expect(page).toContain(`id="field-${path}`);
    expect(page).not.toContain('Put them in the batch');
    if (path !== 'sizes') expect(page).toContain('value="7"');
  });

  it('leaves what agreed orders will take', async () => {
    await fillShelf();
    const before = await (await answerTo(asked())).text();
    await postForm(opened.app, '/shelf/most-pairs', { ...asked(), outlet: '4', due: '', ...seenIn(before) });
    const rest = await (await answerTo(asked())).text();
    expect(pairsIn(rest)).toBe(0);
    expect(pairsIn(await (await answerTo({ ...asked(), leave: 'begun' })).text())).toBe(pairsIn(before));
  });
});

describe('most likely amounts where the plan counts with safe ones', () => {
  const wish = () => ({ ...asked(), amounts: 'likely' });

  it('are said before the pairs are made a batch, and are what the plan then makes of them', async () => {
    await fillShelf();
    const page = await (await answerTo(wish())).text();
    const said = plain(page);
    expect(said).toContain('You asked for the most likely amounts. The plan counts with safe ones,');
    const short = Number(/So for (\d+) of the \d+ pairs? no lot has enough/.exec(said)?.[1] ?? 0);
    expect(short).toBeGreaterThan(0);
    await postForm(opened.app, '/shelf/most-pairs', { ...wish(), outlet: '4', due: '', ...seenIn(page) });
    const batch = plain(await (await opened.app.request('/batch?made=1')).text());
    expect(batch).toContain(`The plan finds all the yarn for ${pairsIn(page) - short} of them on the shelf`);
  });

  it('say nothing where safe ones were asked for, or the plan counts with likely ones', async () => {
    await fillShelf();
    expect(await (await answerTo(asked())).text()).not.toContain('The plan keeps more');
    await opened.workshop.store.write('test', (tx) => setSetting(tx, 'buyAt', 'likely'));
    expect(await (await answerTo(wish())).text()).not.toContain('The plan keeps more');
  });
});

describe('POST /shelf/most-pairs', () => {
  it('makes one order of the answer, however often it is pressed, and shows it in the batch', async () => {
    await fillShelf();
    const page = await (await answerTo(asked())).text();
    // Gifts lead.
    expect(page).toMatch(/<select[^>]*name="outlet"[^>]*><option value="(\d+)"[^>]*>Gifts/);
    const fields = { ...asked(), outlet: '4', due: '2026-12-20', ...seenIn(page) };
    const made = await postForm(opened.app, '/shelf/most-pairs', fields);
    expect([made.status, made.headers.get('location')]).toEqual([303, '/batch?made=1']);
    const again = await postForm(opened.app, '/shelf/most-pairs', fields);
    expect([again.status, again.headers.get('location')]).toEqual([303, '/batch?made=1']);
    expect(await orders()).toMatchObject([{ outletId: 4, dueDay: '2026-12-20', state: 'agreed', customerId: null }]);
    const lines = await opened.workshop.store.read((db) => listLines(db, 1));
    expect(lines.reduce((sum, line) => sum + line.quantity, 0)).toBe(pairsIn(page));
    const colours = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(new Set(colours.map(({ role }) => role))).toEqual(new Set(['foot', 'cuff']));
    const batch = plain(await (await opened.app.request('/batch?made=1')).text());
    expect(batch).toContain(`Order 1 is in the batch with ${pairsIn(page)} pairs to knit.`);
    expect(batch).toContain('all the yarn for them on the shelf');
  });

  it('names the hand in as few letters as a box on the form shows', async () => {
    await fillShelf();
    await opened.workshop.store.write('test', (tx) => addKnitter(tx, { name: 'Bram' }));
    const html = await (await opened.app.request('/shelf/most-pairs')).text();
    const blank = /name="knitter"[\s\S]*?<option value=""[^>]*>([^<]*)</.exec(html)![1]!;
    // The box is 14rem wide: some twenty letters.
    expect(blank.length).toBeLessThanOrEqual(18);
    expect(blank).toMatch(/price/);
  });

  it('gives the pairs to whose hand they were reckoned in', async () => {
    await fillShelf();
    const { id } = await opened.workshop.store.write('test', (tx) => addKnitter(tx, { name: 'Bram', hand: 'loose' }));
    for (const knitter of [String(id), '']) {
      const wish = { ...asked(), knitter, leave: 'begun' };
      const page = await (await answerTo(wish)).text();
      await postForm(opened.app, '/shelf/most-pairs', { ...wish, outlet: '4', due: '', ...seenIn(page) });
    }
    const lines = await Promise.all([1, 2].map((order) => opened.workshop.store.read((db) => listLines(db, order))));
    expect(lines.map((own) => [...new Set(own.map(({ knitterId }) => knitterId))])).toEqual([[id], [null]]);
  });

  it('does nothing when something changed since, and shows the answer of now', async () => {
    await fillShelf();
    const page = await (await answerTo(asked())).text();
    await fillShelf();
    const fields = { ...asked(), outlet: '4', due: '', ...seenIn(page) };
    const answer = await postForm(opened.app, '/shelf/most-pairs', fields);
    expect(answer.status).toBe(422);
    const now = await answer.text();
    expect(now).toContain('Something in the workshop changed since you looked');
    expect(pairsIn(now)).toBeGreaterThan(pairsIn(page));
    expect(await orders()).toEqual([]);
  });

  it.each([
    [{ outlet: '99' }, 'Choose one of your outlets'],
    [{ due: 'soon' }, 'Enter the day they are due'],
    [{ 'most-38': 'x' }, 'Enter how many pairs of woman EU 38'],
    [{ 'most-38': '0', 'most-39': '0', 'most-40': '0' }, 'There is no pair to make of this'],
  ])('refuses %o', async (wrong, sentence) => {
    await fillShelf();
    const page = await (await answerTo(asked())).text();
    const fields = { ...asked(), outlet: '4', due: '', ...seenIn(page), ...wrong };
    const answer = await postForm(opened.app, '/shelf/most-pairs', fields);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(sentence);
    expect(await orders()).toEqual([]);
  });
});
