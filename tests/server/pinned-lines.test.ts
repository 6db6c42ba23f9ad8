import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPairPieces, listPairs } from '#db/stores/batch.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { changeKnitter, findKnitter } from '#db/stores/knitters.ts';
import { listLines } from '#db/stores/orders.ts';
import { readState } from '#db/stores/workshop.ts';
import { readFrozen } from '#flows/batch/started-pairs.ts';
import { readPlan } from '#flows/read-plan.ts';
import { filledForm, now, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';
import { addKnitter, addLot } from '#tests/support/workshop.ts';

let opened: OrdersWorkshop;
let bram: number;

// Bram knits loosely. At 10 stitches and 14 rows in 10 cm a woman's EU 38 is, by hand, 0.93 x 224.5 mm = 20.88 + 1 -> 22
// stitches, and 33.6 - 2 = 31.6 -> 31, 33 rows in all.
beforeEach(async () => {
  opened = await openOrdersWorkshop();
  bram = await opened.workshop.store.write('test: a loose knitter', async (tx) => {
    const { id } = await addKnitter(tx, { name: 'Bram', hand: 'loose' });
    const square = { widthMm: 200, heightMm: 200, stitches: 20, rows: 28, isWashed: true };
    await createSwatch(tx, { ...square, knitterId: id, yarnId: opened.ids.bulky, strands: 1, fabric: 'stocking' });
    return id;
  });
});
afterEach(() => opened.workshop.discard());

const post = (path: string, fields: Record<string, string | string[]>) => postForm(opened.app, path, fields);
const textAt = async (path: string) => await (await opened.app.request(path)).text();
const plain = async (path: string) =>
  (await textAt(path)).replace(/<svg.*?<\/svg>|<[^>]+>/gs, ' ').replace(/[\s ]+/g, ' ');
const forBram = () => ({ ...filledForm(opened), lineKnitter: String(bram) });
const lines = (orderId = 1) => opened.workshop.store.read((db) => listLines(db, orderId));
const plan = () => readPlan(opened.workshop, now());
const saveBram = async (isActive: boolean) => {
  const row = (await opened.workshop.store.read((db) => findKnitter(db, bram)))!;
  const hours = Object.fromEntries([...Array(7).keys()].map((day) => [`minutes-${day + 1}`, '60']));
  const fields = { name: 'Bram', hand: 'loose', words: 'british', dailyCapMin: '240', version: String(row.version) };
  return await post(`/knitters/${bram}`, { ...fields, ...hours, ...(isActive ? { isActive: 'yes' } : {}) });
};

describe('a line for a knitter', () => {
  it('is chosen in the form, and kept where the form is opened again', async () => {
    expect(await textAt('/orders/new')).toContain('whoever has time</option>');
    expect((await post('/orders', forBram())).status).toBe(303);
    expect(await lines()).toMatchObject([{ knitterId: bram }]);
    expect(await textAt('/orders/lines/1/edit')).toContain(`<option value="${bram}" selected="">Bram</option>`);
    await post('/orders/lines/1', { ...filledForm(opened), lineKnitter: '', version: '1' });
    expect(await lines()).toMatchObject([{ knitterId: null }]);
  });

  it('is refused for somebody who is not here, and keeps what was typed', async () => {
    const answer = await post('/orders', { ...forBram(), lineKnitter: '99', customer: 'Ana' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('Choose one of your knitters, or whoever has time');
    expect(page).toContain('value="Ana"');
  });

  it('is not asked where one alone knits', async () => {
    await opened.workshop.store.write('test', (tx) => changeKnitter(tx, bram, { isActive: false }));
    expect(await textAt('/orders/new')).not.toContain('Who knits it');
  });

  it('is in her stitches on the order, the line and in the batch', async () => {
    await post('/orders', forBram());
    await post('/orders', filledForm(opened));
    const order = await plain('/orders/1');
    expect(order).toContain('for Bram to knit');
    expect(order).toContain('22 sts');
    const line = await plain('/orders/lines/1');
    expect(line).toContain('For Bram to knit, in her stitches and at her speed.');
    expect(line).toContain('22 stitches');
    expect(line).not.toContain('Her stitches are a guess');
    // The like pair of the other order stays a row of its own.
    const batch = await plain('/batch');
    expect(batch.match(/for Bram to knit/g)).toHaveLength(1);
    const { plan: made } = await plan();
    expect(made.weeks.find(({ pairKey }) => pairKey === 'line-1-1')).toMatchObject({ knitterId: bram });
  });

  it('says that stitches are a guess where there is no swatch in the yarn', async () => {
    await post('/orders', { ...filledForm(opened), lineKnitter: '1' });
    expect(await plain('/orders/lines/1')).toContain('Her stitches are a guess: there is no swatch of hers');
  });

  it('is started in her hands, with her counts frozen and her yarn put aside', async () => {
    await opened.workshop.store.write('test', (tx) =>
      addLot(tx, [100_000, 100_000], { yarnColourId: opened.ids.heather, dyeLot: '114' }),
    );
    await post('/orders', { ...forBram(), quantity: '2' });
    const { revision } = await opened.workshop.store.read(readState);
    await post('/batch/start', { name: 'Two', order: ['1'], revision: String(revision) });
    const [pairs, pieces] = await opened.workshop.store.read((db) => db.batch([listPairs(db), listPairPieces(db)]));
    expect(pairs).toHaveLength(2);
    for (const pair of pairs) expect(readFrozen(pair.specJson).spec.pieces[0]!.castOnStitches).toBe(22);
    expect(new Set(pieces.map(({ knitterId }) => knitterId))).toEqual(new Set([bram]));
  });

  it('says what is missing where she has no time', async () => {
    await post('/orders', forBram());
    await opened.workshop.store.write('test', (tx) => changeKnitter(tx, bram, { lastDay: '2026-11-01' }));
    const words = 'Bram has no knitting time left for this pair: enter more hours or let someone else knit it.';
    expect(await plain('/orders/lines/1')).toContain(words);
    expect(await plain('/batch')).toContain(words);
  });
});

describe('a knitter who is to knit a line', () => {
  it('stays until it is given to somebody else', async () => {
    await post('/orders', forBram());
    await post('/orders', { ...forBram(), label: '39' });
    const refused = await saveBram(false);
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain(
      'Bram is to knit pairs of orders 1, 2. Open their lines and choose who knits them first.',
    );
    await post('/orders/2/cancel', {});
    expect(await (await saveBram(false)).text()).toContain('pairs of order 1.');
    await post('/orders/lines/1', { ...filledForm(opened), lineKnitter: '1', version: '1' });
    expect((await saveBram(false)).status).toBe(303);
    expect((await opened.workshop.store.read((db) => findKnitter(db, bram)))!.isActive).toBe(false);
  });

  it('may go once all its pairs are begun', async () => {
    await post('/orders', forBram());
    const { revision } = await opened.workshop.store.read(readState);
    await post('/batch/start', { name: 'One', order: ['1'], revision: String(revision) });
    expect((await saveBram(false)).status).toBe(303);
  });

  it('is kept by the same order again, unless she knits no more', async () => {
    await post('/orders', forBram());
    await post('/orders/1/again', {});
    expect(await lines(2)).toMatchObject([{ knitterId: bram }]);
    await opened.workshop.store.write('test', (tx) => changeKnitter(tx, bram, { isActive: false }));
    await post('/orders/1/again', {});
    expect(await lines(3)).toMatchObject([{ knitterId: null }]);
    // What was hers before is named, not given to another unasked.
    expect(await plain('/batch')).toContain('The knitter this pair is kept for is not there: choose another.');
  });
});

it('a quote for a knitter promises her day', async () => {
  const busy = {
    ...filledForm(opened),
    outlet: String(opened.ids.order),
    quantity: '40',
    due: '2026-12-01',
    lineKnitter: String(bram),
  };
  await post('/orders', busy);
  const details = { contact: '', post: 'no', postage: '', postDays: '', deposit: '', validUntil: '', remarks: '' };
  const quote = { ...filledForm(opened), ...details, outlet: String(opened.ids.order) };
  for (const lineKnitter of ['', String(bram)]) await post('/orders/quotes', { ...quote, lineKnitter });
  const { rows } = await plan();
  const [free, hers] = rows.orders.filter(({ state }) => state === 'asked').sort((a, b) => a.number - b.number);
  expect(free!.promisedDay! < hers!.promisedDay!).toBe(true);
});
