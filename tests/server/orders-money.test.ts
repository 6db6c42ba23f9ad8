import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCurrentPairs } from '#db/stores/batch.ts';
import { createExtra, findOrder, listLines, listOrderExtras, listPayments } from '#db/stores/orders.ts';
import { changeOutlet, createPostageBand } from '#db/stores/pricing.ts';
import { readState, setSetting } from '#db/stores/workshop.ts';
import { startBatch } from '#flows/batch/start-batch.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { notePayment } from '#flows/orders/payments.ts';
import { readPlan } from '#flows/read-plan.ts';
import { filledForm, now, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { answersOn, postForm } from '#tests/support/form.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

const textAt = async (path: string) => (await opened.app.request(path)).text();
const post = (path: string, fields: Record<string, string> = {}) => postForm(opened.app, path, fields);
const revision = async () => (await opened.workshop.store.read((db) => readState(db))).revision;
const write = <T>(change: Parameters<typeof opened.workshop.store.write<T>>[1]) =>
  opened.workshop.store.write('test', change);
const orderOf = (id = 1) => opened.workshop.store.read((db) => findOrder(db, id));
const paymentsNow = () => opened.workshop.store.read((db) => listPayments(db));
const extrasNow = () => opened.workshop.store.read((db) => listOrderExtras(db));
const agreedNow = async () => {
  const lines = await opened.workshop.store.read((db) => listLines(db, 1));
  return lines.map((line) => line.agreedCents);
};

/** An agreed order of one pair at 44.00 for Ana, number 1. */
async function addOrder(fields: Record<string, string> = {}): Promise<void> {
  const form = { ...filledForm(opened), outlet: String(opened.ids.order), customer: 'Ana', agreed: '44.00' };
  expect((await post('/orders', { ...form, ...fields })).status).toBe(303);
}

const payment = { amount: '13.00', day: '2026-11-25', how: 'transfer', kind: 'deposit' };

/** The value of a hidden or typed field of the form that is sent to an address. */
function valueIn(page: string, action: string, name: string): string | undefined {
  const form = new RegExp(`action="${action}"[\\s\\S]*?</form>`).exec(page)?.[0] ?? '';
  return new RegExp(`name="${name}"[^>]*?value="([^"]*)"`).exec(form)?.[1];
}

describe('the money of an order', () => {
  it('shows what it comes to, with the deposit of the outlet', async () => {
    await write((tx) => changeOutlet(tx, opened.ids.order, { depositRatio: 0.3 }));
    await addOrder();
    const page = await textAt('/orders/1');
    expect(page).toContain('€44.00');
    expect(page).toMatch(/€13\.20<\/span><span class="figure-words">deposit to ask for/);
    expect(valueIn(page, '/orders/1/payments', 'amount')).toBe('13.20');
  });

  it('counts a price that nobody agreed, and says so', async () => {
    await addOrder({ agreed: '' });
    const page = await textAt('/orders/1');
    expect(page).toContain('not agreed yet');
    expect(page).toContain('Agree the prices');
    expect(await agreedNow()).toEqual([null]);
  });

  it('says that nobody owes for stock of a fair, and for gifts', async () => {
    await addOrder({ outlet: String(opened.ids.fair), customer: '' });
    expect(await textAt('/orders/1')).toContain('the money comes when they are sold');
  });

  it('stays away where pairs are given away', async () => {
    await addOrder();
    await write((tx) => setSetting(tx, 'purpose', 'give'));
    const page = await textAt('/orders/1');
    expect(page).not.toContain('<h2>Money');
    expect(page).not.toContain('€');
    expect(page).toContain('By post');
  });
});

describe('POST /orders/:id/payments', () => {
  it('notes a payment, and what is owed is less by it', async () => {
    await addOrder();
    const answer = await post('/orders/1/payments', payment);
    expect(answer.status).toBe(303);
    expect(answer.headers.get('location')).toBe('/orders/1#money');
    expect(await paymentsNow()).toMatchObject([
      { orderId: 1, cents: 1300, day: '2026-11-25', how: 'transfer', kind: 'deposit', reversesId: null },
    ]);
    const page = await textAt('/orders/1');
    expect(page).toMatch(/€31\.00<\/span><span class="figure-words">still to pay of €44\.00/);
    expect(page).toContain('Deposit, Wed 25 Nov, bank transfer');
  });

  it('understands a comma, and paid in full says so', async () => {
    await addOrder();
    await post('/orders/1/payments', { ...payment, amount: '44,00', kind: 'balance' });
    expect(await textAt('/orders/1')).toMatch(/Paid<\/span><span class="figure-words">all of €44\.00/);
  });

  it.each([
    ['amount', '', 'Enter the amount that changed hands, like 13.00'],
    ['amount', '0', 'Enter the amount that changed hands'],
    ['amount', '-5', 'Enter the amount that changed hands'],
    ['amount', 'thirteen', 'Enter the amount that changed hands'],
    ['day', '', 'Enter the day it was paid, like 2026-12-04'],
    ['day', '25.11.', '“25.11.” has no year. Write 2026-11-25 for'],
    ['day', '2023-11-25', 'Sat 25 Nov 2023 is more than two years ago'],
    ['day', '2026-11-26', 'That day is still to come'],
    ['day', '0202-11-25', 'after the year 2000'],
    ['how', 'shells', 'Choose cash, card, transfer or other'],
    ['kind', 'tip', 'Choose a deposit, a balance or money given back'],
  ])('refuses %s “%s”, keeps what was typed and notes nothing', async (field, value, sentence) => {
    await addOrder();
    const before = await revision();
    const answer = await post('/orders/1/payments', { ...payment, amount: '12.34', [field]: value });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(sentence);
    expect(page).toContain(`href="#field-${field}"`);
    expect(page).toContain(`id="field-${field}"`);
    if (field !== 'amount') expect(valueIn(page, '/orders/1/payments', 'amount')).toBe('12.34');
    expect(page).toMatch(/<title>Error: /);
    expect(await revision()).toBe(before);
  });

  it('asks about more than is owed, and takes it once that is said to be right', async () => {
    await addOrder();
    const typed = { ...payment, amount: '50.00', kind: 'balance' };
    const asked = await post('/orders/1/payments', typed);
    expect(asked.status).toBe(422);
    const page = await asked.text();
    expect(page).toContain('€50.00 is €6.00 more than the €44.00 that is owed.');
    expect(valueIn(page, '/orders/1/payments', 'amount')).toBe('50.00');
    expect(await paymentsNow()).toEqual([]);
    const answers = answersOn(page);
    // The answer is about 50.00 alone: another amount is asked about anew, and shows no tick.
    const other = await post('/orders/1/payments', { ...typed, ...answers, amount: '60.00' });
    expect(other.status).toBe(422);
    expect(await other.text()).not.toMatch(/name="sure-amount"[^>]* checked/);
    // What else is wrong takes no answer away.
    const late = await (await post('/orders/1/payments', { ...typed, ...answers, day: '' })).text();
    expect(late).toMatch(/name="sure-amount"[^>]* checked/);
    expect(late).not.toContain('€6.00 more than');
    expect((await post('/orders/1/payments', { ...typed, ...answers })).status).toBe(303);
    expect((await paymentsNow()).map(({ cents }) => cents)).toEqual([5000]);
    expect(await textAt('/orders/1')).toContain('€6.00');
  });

  it('says so plainly when it is far more than is owed, and when nothing is owed any more', async () => {
    await addOrder();
    const far = await post('/orders/1/payments', { ...payment, amount: '99999999', kind: 'balance' });
    expect(far.status).toBe(422);
    expect(await far.text()).toContain('€99,999,999.00 is more than 10 times the €44.00 that is owed.');
    expect((await post('/orders/1/payments', { ...payment, amount: '44', kind: 'balance' })).status).toBe(303);
    const again = await post('/orders/1/payments', { ...payment, amount: '44', kind: 'balance' });
    expect(await again.text()).toContain('Nothing is owed any more.');
    expect(await paymentsNow()).toHaveLength(1);
  });

  it('says that there is no such order', async () => {
    expect((await post('/orders/9/payments', payment)).status).toBe(404);
  });

  it('does not pay twice when the same form is sent twice', async () => {
    await addOrder();
    const seen = valueIn(await textAt('/orders/1'), '/orders/1/payments', 'seen')!;
    expect((await post('/orders/1/payments', { ...payment, seen })).status).toBe(303);
    const again = await post('/orders/1/payments', { ...payment, seen });
    expect(again.status).toBe(409);
    const page = await again.text();
    expect(page).toContain('Meanwhile €13.00 of Wed 25 Nov 2026 was noted.');
    expect(valueIn(page, '/orders/1/payments', 'amount')).toBe('13.00');
    expect(await paymentsNow()).toHaveLength(1);
    // Having seen it, the very form that came back may be sent.
    const fresh = valueIn(page, '/orders/1/payments', 'seen')!;
    expect((await post('/orders/1/payments', { ...payment, seen: fresh })).status).toBe(303);
    expect(await paymentsNow()).toHaveLength(2);
  });

  it('asks again when the order comes to something else since it was shown', async () => {
    await addOrder();
    const seen = valueIn(await textAt('/orders/1'), '/orders/1/payments', 'seen')!;
    await post('/orders/1/extras', { name: 'Gift wrap', price: '2.50', minutes: '', material: '' });
    const answer = await post('/orders/1/payments', { ...payment, seen });
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('Meanwhile the order comes to €46.50 and no longer to €44.00.');
    expect(await paymentsNow()).toEqual([]);
  });

  it('agrees the prices that nobody had agreed', async () => {
    await addOrder({ agreed: '' });
    const cents = (await readPlan(opened.workshop, now())).plan.prices[0]!.prices.find(
      ({ outletId }) => outletId === opened.ids.order,
    )!.row.priceCents;
    await post('/orders/1/payments', payment);
    expect(await agreedNow()).toEqual([cents]);
  });

  it('settles the deposit: an extra added later does not raise it', async () => {
    await write((tx) => changeOutlet(tx, opened.ids.order, { depositRatio: 0.3 }));
    await addOrder();
    await post('/orders/1/payments', { ...payment, amount: '13.20' });
    await post('/orders/1/extras', { name: 'Gift wrap', price: '2.50', minutes: '', material: '' });
    expect(await orderOf()).toMatchObject({ depositCents: 1320 });
    expect(await textAt('/orders/1')).not.toContain('of the deposit');
  });

  it('still misses the rest of a deposit that was paid in part', async () => {
    await write((tx) => changeOutlet(tx, opened.ids.order, { depositRatio: 0.3 }));
    await addOrder();
    await post('/orders/1/payments', { ...payment, amount: '10' });
    expect(await textAt('/orders/1')).toMatch(/€3\.20<\/span><span class="figure-words">missing of the deposit/);
  });

  it('gives back no more than was paid', async () => {
    await addOrder();
    const back = { ...payment, kind: 'returned' };
    const nothing = await post('/orders/1/payments', back);
    expect(nothing.status).toBe(422);
    expect(await nothing.text()).toContain('Nothing was paid for this order');
    await post('/orders/1/payments', payment);
    const tooMuch = await post('/orders/1/payments', { ...back, amount: '13.01' });
    expect(await tooMuch.text()).toContain('Enter at most €13.00');
    expect((await post('/orders/1/payments', { ...back, amount: '3.00' })).status).toBe(303);
    expect(await textAt('/orders/1')).toContain('still to pay of €44.00');
    expect((await paymentsNow()).map(({ kind, cents }) => [kind, cents])).toEqual([
      ['deposit', 1300],
      ['returned', 300],
    ]);
  });

  it('leaves nothing behind when the payment cannot be stored after the prices were agreed', async () => {
    await addOrder({ agreed: '' });
    const before = await revision();
    // The form refuses a payment of nothing; the database does too, after the price was agreed.
    const nothing = { cents: 0, day: '2026-11-25', how: 'cash', kind: 'deposit' } as const;
    const seen = { lastPaymentId: undefined, prices: [{ lineId: 1, cents: 4400 }], depositCents: 0, currency: 'EUR' };
    await expect(notePayment(opened.workshop, 1, nothing, seen)).rejects.toThrow();
    expect(await agreedNow()).toEqual([null]);
    expect(await paymentsNow()).toEqual([]);
    expect(await revision()).toBe(before);
  });
});

describe('cash', () => {
  // Government of Canada, Budget 2012: 1.83 and 2.86 with 5 % tax are 4.92; 4.90 in coins, 4.92 on a card.
  async function addGroceries() {
    await write(async (tx) => {
      await changeOutlet(tx, opened.ids.order, { taxRatio: 0.05, isTaxIncluded: false, rounding: 'invoice' });
      await setSetting(tx, 'cashStepCents', 5);
    });
    await addOrder({ agreed: '1.83' });
    await post('/orders/1/extras', { name: 'Two labels', price: '2.86', minutes: '', material: '' });
  }

  it('asks for coins that exist, and owes nothing once they are paid', async () => {
    await addGroceries();
    const page = await textAt('/orders/1');
    expect(page).toContain('€4.92');
    expect(page).toContain('In cash the whole rest is €4.90.');
    await post('/orders/1/payments', { amount: '4.90', day: '2026-11-25', how: 'cash', kind: 'balance' });
    const paid = await textAt('/orders/1');
    expect(paid).toContain('Rounded to coins');
    expect(paid).toMatch(/Paid<\/span><span class="figure-words">all of €4\.90/);
  });

  it('leaves the 2 cents owed when 4.90 came on a card', async () => {
    await addGroceries();
    await post('/orders/1/payments', { amount: '4.90', day: '2026-11-25', how: 'card', kind: 'balance' });
    expect(await textAt('/orders/1')).toMatch(/€0\.02<\/span><span class="figure-words">still to pay of €4\.92/);
  });
});

describe('POST /orders/:id/payments/:payment/undo', () => {
  it('reverses a payment by a row of its own', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    expect((await post('/orders/1/payments/1/undo')).status).toBe(303);
    expect(await paymentsNow()).toMatchObject([
      { id: 1, cents: 1300, reversesId: null },
      { id: 2, cents: 1300, reversesId: 1 },
    ]);
    const page = await textAt('/orders/1');
    expect(page).toMatch(/€44\.00<\/span><span class="figure-words">still to pay/);
    expect(page).toContain('Undone, and kept here only to be seen');
  });

  it('undoes nothing twice, and nothing of another order', async () => {
    await addOrder();
    await addOrder();
    await post('/orders/1/payments', payment);
    expect((await post('/orders/2/payments/1/undo')).status).toBe(404);
    await post('/orders/1/payments/1/undo');
    expect((await post('/orders/1/payments/1/undo')).status).toBe(409);
    expect((await post('/orders/1/payments/2/undo')).status).toBe(409);
    expect(await paymentsNow()).toHaveLength(2);
  });
});

describe('POST /orders/:id/extras', () => {
  const wrap = { name: 'Gift wrap', price: '2.50', minutes: '5', material: '0.60' };

  it('adds what was typed: its price, minutes and material count', async () => {
    await addOrder();
    const before = await textAt('/orders/1');
    expect((await post('/orders/1/extras', wrap)).status).toBe(303);
    expect(await extrasNow()).toMatchObject([
      { orderId: 1, name: 'Gift wrap', cents: 250, minutes: 5, materialCents: 60 },
    ]);
    const page = await textAt('/orders/1');
    expect(page).toMatch(/€46\.50<\/span><span class="figure-words">still to pay/);
    expect(page).toMatch(/takes 5\smin and €0\.60 of material/);
    expect(page).toContain('earned in an hour, extras included');
    // What is left for the work: 2.50 more in, 0.60 of material out.
    const left = (text: string) => Number(/€([\d.]+)<\/span><span class="figure-words">left for/.exec(text)![1]);
    expect(left(page) - left(before)).toBeCloseTo(1.9, 6);
  });

  it('adds a usual one with one press', async () => {
    await addOrder();
    const usual = await write((tx) => createExtra(tx, { name: 'Card', cents: 150, minutes: 5, materialCents: 40 }));
    expect(await textAt('/orders/1')).toContain(`name="usual" value="${usual.id}"`);
    expect((await post('/orders/1/extras', { usual: String(usual.id) })).status).toBe(303);
    expect(await extrasNow()).toMatchObject([{ name: 'Card', cents: 150, minutes: 5, materialCents: 40 }]);
  });

  it('says so when the usual one is gone', async () => {
    await addOrder();
    const answer = await post('/orders/1/extras', { usual: '77' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('no longer among the usual ones');
  });

  it.each([
    ['name', ''],
    ['price', 'two'],
    ['price', ''],
    ['minutes', '-1'],
    ['minutes', '2.5'],
    ['material', 'x'],
  ])('refuses %s “%s” and keeps the rest', async (field, value) => {
    await addOrder();
    const before = await revision();
    const answer = await post('/orders/1/extras', { ...wrap, [field]: value });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(`id="field-${field}-error"`);
    if (field !== 'name') expect(page).toMatch(/name="name"[^>]*value="Gift wrap"/);
    expect(await revision()).toBe(before);
  });

  it('takes one off again, and only from its own order', async () => {
    await addOrder();
    await addOrder();
    await post('/orders/1/extras', wrap);
    expect((await post('/orders/2/extras/1/remove', { version: '1' })).status).toBe(404);
    expect((await post('/orders/1/extras/1/remove', { version: '7' })).status).toBe(409);
    expect((await post('/orders/1/extras/1/remove', { version: '1' })).status).toBe(303);
    expect(await extrasNow()).toEqual([]);
    expect((await post('/orders/1/extras/1/remove', { version: '1' })).status).toBe(404);
  });

  it('says that there is no such order, and adds nothing to a cancelled one', async () => {
    expect((await post('/orders/9/extras', wrap)).status).toBe(404);
    await addOrder();
    await post('/orders/1/cancel');
    const answer = await post('/orders/1/extras', wrap);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('This order is cancelled.');
  });
});

describe('POST /orders/:id/prices', () => {
  it('agrees a price for each line without one', async () => {
    await addOrder({ agreed: '' });
    const version = valueIn(await textAt('/orders/1'), '/orders/1/prices', 'version-1')!;
    const answer = await post('/orders/1/prices', { 'price-1': '45', 'version-1': version });
    expect(answer.status).toBe(303);
    expect(await agreedNow()).toEqual([4500]);
    expect(await textAt('/orders/1')).not.toContain('not agreed yet');
  });

  it('refuses what is no price, at its own field', async () => {
    await addOrder({ agreed: '' });
    const answer = await post('/orders/1/prices', { 'price-1': 'dear', 'version-1': '1' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('id="field-price-1-error"');
    expect(page).toMatch(/name="price-1"[^>]*value="dear"/);
    expect(await agreedNow()).toEqual([null]);
  });

  it('shows the other’s line when somebody was first', async () => {
    await addOrder({ agreed: '' });
    const answer = await post('/orders/1/prices', { 'price-1': '45', 'version-1': '9' });
    expect(answer.status).toBe(409);
    expect(await agreedNow()).toEqual([null]);
    expect((await post('/orders/9/prices', {})).status).toBe(404);
  });
});

async function addBands() {
  await write(async (tx) => {
    await createPostageBand(tx, { name: 'Inland', upToG: 100, cents: 320, days: 2 });
    await createPostageBand(tx, { name: 'Inland', upToG: 1000, cents: 495, days: 2 });
    await createPostageBand(tx, { name: 'Abroad', upToG: 60, cents: 950, days: 6 });
  });
}

const postage = { band: 'none', postage: '', days: '', arriveBy: '2026-12-20', address: '3 Mill Bank\nOverby' };

describe('POST /orders/:id/postage', () => {
  it('finds the band by the weight of the parcel', async () => {
    await addBands();
    await addOrder();
    const page = await textAt('/orders/1');
    expect(page).toMatch(/Inland: €4\.95, 2 days in the post, up to 1,000\sg/);
    expect(page).toMatch(/Abroad: One pair weighs \d+\sg with its packing and the post takes 60\sg/);
    expect((await post('/orders/1/postage', { ...postage, band: '1', version: '1' })).status).toBe(303);
    expect(await orderOf()).toMatchObject({
      postageCents: 495,
      postDays: 2,
      arriveByDay: '2026-12-20',
      address: '3 Mill Bank\nOverby',
    });
    const saved = await textAt('/orders/1');
    // Two days before the 20th.
    expect(saved).toMatch(/Fri 18 Dec<\/span><span class="figure-words">is the last day to post it/);
    expect(saved).toMatch(/€48\.95<\/span><span class="figure-words">still to pay/);
    expect(saved).toMatch(/value="1" checked/);
  });

  it('splits what is too heavy for one parcel', async () => {
    await write((tx) => createPostageBand(tx, { name: 'Inland', upToG: 300, cents: 320, days: 2 }));
    await addOrder({ quantity: '4' });
    // A pair of 38 weighs 85 to 110 g: with 60 g of packing two fit 300 g and three never do, so two parcels.
    expect(await textAt('/orders/1')).toMatch(/Inland: €6\.40, 2 days in the post, in 2 parcels/);
    await post('/orders/1/postage', { ...postage, band: '1', version: '1' });
    expect(await orderOf()).toMatchObject({ postageCents: 640, postDays: 2 });
  });

  it('takes a price typed by hand, and none at all', async () => {
    await addOrder();
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '6,20', days: '4', version: '1' });
    expect(await orderOf()).toMatchObject({ postageCents: 620, postDays: 4 });
    await post('/orders/1/postage', { ...postage, band: 'none', version: '2' });
    expect(await orderOf()).toMatchObject({ postageCents: null, postDays: null, arriveByDay: '2026-12-20' });
  });

  it.each([
    [{ band: '' }, 'band'],
    [{ band: '3' }, 'band'],
    [{ band: '99' }, 'band'],
    [{ band: 'hand', postage: '' }, 'postage'],
    [{ band: 'hand', postage: '4.95', days: '1.5' }, 'days'],
    [{ arriveBy: 'soon' }, 'arriveBy'],
    [{ arriveBy: '0026-12-20' }, 'arriveBy'],
    [{ arriveBy: '2026-11-24' }, 'arriveBy'],
    [{ arriveBy: '9999-12-20' }, 'arriveBy'],
    [{ address: 'x'.repeat(1001) }, 'address'],
  ])('refuses %o and keeps the rest', async (changes, field) => {
    await addBands();
    await addOrder();
    const before = await revision();
    const answer = await post('/orders/1/postage', { ...postage, ...changes, version: '1' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(`id="field-${field}-error"`);
    if (field !== 'address') expect(page).toContain('3 Mill Bank\nOverby</textarea>');
    expect(await revision()).toBe(before);
  });

  it('shows the other’s order when somebody was first, and says that there is no such order', async () => {
    await addOrder();
    const answer = await post('/orders/1/postage', { ...postage, version: '5' });
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('3 Mill Bank');
    expect(await orderOf()).toMatchObject({ address: null, arriveByDay: null });
    expect((await post('/orders/9/postage', postage)).status).toBe(404);
  });

  it('says that the day to post it has passed, and when it can be there', async () => {
    await addOrder();
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '3', arriveBy: '2026-11-27' });
    const page = await textAt('/orders/1');
    expect(page).toContain('was the day to post it: that has passed');
    expect(page).toContain('it is there on Sat 28 Nov');
  });

  it('warns when it will be knitted too late for the post', async () => {
    await addOrder({ quantity: '9' });
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '2', arriveBy: '2026-12-01' });
    expect(await textAt('/orders/1')).toContain('planned to be done: after the day to post it');
  });
});

/** Knits the order: starts a batch with it and finishes so many of its pairs. */
async function knit(pairs: number): Promise<void> {
  const plan = await readPlan(opened.workshop, now());
  const wish = { name: 'Winter', orderIds: [1], withSpares: false, revision: plan.rows.revision };
  expect((await startBatch(opened.workshop, plan, wish)).ok).toBe(true);
  const begun = await opened.workshop.store.read((db) => listCurrentPairs(db));
  // What the shelf does not have was knitted of other yarn.
  const elsewhere = new Map(plan.rows.yarnColours.map(({ id }) => [id, null]));
  for (const { id, version } of begun.slice(0, pairs)) {
    await stepPair(opened.workshop, id, { do: 'finish' }, '2026-11-25', version, elsewhere);
  }
}
const leftNow = async () =>
  (await opened.workshop.store.read((db) => listCurrentPairs(db))).map((pair) => [pair.lineId, pair.left]);

describe('POST /orders/:id/posted', () => {
  const byHand = { ...postage, band: 'hand', postage: '4.95', days: '2' };
  async function addToPost(fields: Record<string, string> = {}) {
    await addOrder(fields);
    expect((await post('/orders/1/postage', { ...byHand, version: '1' })).status).toBe(303);
  }

  it('hands the finished pairs over and keeps the day', async () => {
    await addToPost();
    await knit(1);
    expect(valueIn(await textAt('/orders/1'), '/orders/1/posted', 'day')).toBe('2026-11-25');
    const answer = await post('/orders/1/posted', { day: '2026-11-24' });
    expect(answer.status).toBe(303);
    expect(await orderOf()).toMatchObject({ postedDay: '2026-11-24' });
    expect(await leftNow()).toEqual([[1, 'handed over']]);
    const page = await textAt('/orders/1');
    expect(page).toContain('is the day it was posted');
    expect(page).toContain('handed over');
    expect(page).toMatch(/€48\.95<\/span><span class="figure-words">owed/);
  });

  it.each([
    ['1', 'The pair is not finished.'],
    ['3', 'None of the 3 pairs is finished.'],
  ])('says so when nothing of %s is finished', async (quantity, sentence) => {
    await addToPost({ quantity });
    const answer = await post('/orders/1/posted', { day: '2026-11-25' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(sentence);
  });

  it('says what is missing, and goes in part when that is wished', async () => {
    await addToPost({ quantity: '2' });
    await knit(1);
    const answer = await post('/orders/1/posted', { day: '2026-11-25' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('1 pair of 2 is not finished.');
    expect(page).toContain('name="inPart"');
    expect(await orderOf()).toMatchObject({ postedDay: null });
    expect(await leftNow()).toEqual([
      [1, null],
      [1, null],
    ]);
    expect((await post('/orders/1/posted', { day: '2026-11-25', inPart: 'yes' })).status).toBe(303);
    expect((await leftNow()).map(([, left]) => left).sort()).toEqual(['handed over', null]);
  });

  it('hands over what finished stock answers, as pairs of its line', async () => {
    await addOrder();
    await knit(1);
    const [pair] = await opened.workshop.store.read((db) => listCurrentPairs(db));
    await stepPair(opened.workshop, pair!.id, { do: 'let go' }, '2026-11-25', undefined);
    expect(await leftNow()).toEqual([[null, null]]);
    expect((await post('/orders/1/posted', { day: '2026-11-25' })).status).toBe(303);
    expect(await leftNow()).toEqual([[1, 'handed over']]);
  });

  it('agrees prices that nobody had agreed', async () => {
    await addToPost({ agreed: '' });
    await knit(1);
    await post('/orders/1/posted', { day: '2026-11-25' });
    expect((await agreedNow())[0]).toBeGreaterThan(0);
  });

  it.each([
    ['', 'Enter the day it was posted'],
    ['2026-11-26', 'That day is still to come'],
    ['yesterday', '“yesterday” is not understood as a day'],
  ])('refuses the day “%s”', async (day, sentence) => {
    await addToPost();
    await knit(1);
    const answer = await post('/orders/1/posted', { day });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(sentence);
    expect(await leftNow()).toEqual([[1, null]]);
  });

  it('leaves nothing behind when the order has moved on', async () => {
    await addToPost();
    await knit(1);
    const before = await revision();
    expect((await post('/orders/1/posted', { day: '2026-11-25', version: '1' })).status).toBe(409);
    expect(await leftNow()).toEqual([[1, null]]);
    expect(await revision()).toBe(before);
    expect((await post('/orders/9/posted', { day: '2026-11-25' })).status).toBe(404);
  });

  it('does not post what is only asked', async () => {
    await addToPost({ state: 'asked' });
    const answer = await post('/orders/1/posted', { day: '2026-11-25' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('only asked');
  });

  it('is taken back with its pairs', async () => {
    await addToPost();
    await knit(1);
    await post('/orders/1/posted', { day: '2026-11-25' });
    expect((await post('/orders/1/not-posted')).status).toBe(303);
    expect(await orderOf()).toMatchObject({ postedDay: null });
    expect(await leftNow()).toEqual([[1, null]]);
  });
});

describe('POST /orders/:id/cancel', () => {
  it('cancels at once where nothing was paid, and keeps the day', async () => {
    await addOrder();
    expect((await post('/orders/1/cancel', { version: '1' })).status).toBe(303);
    expect(await orderOf()).toMatchObject({ state: 'cancelled', cancelledDay: '2026-11-25' });
  });

  it('asks what becomes of what was paid', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    expect(await textAt('/orders/1')).toContain('href="/orders/1?cancel=yes#cancel"');
    expect(await textAt('/orders/1?cancel=yes')).toMatch(/<details class="more" open="" id="cancel">/);
    const answer = await post('/orders/1/cancel', { how: 'card' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('Choose whether what was paid is kept or goes back.');
    expect(page).toMatch(/value="card" checked/);
    expect(await orderOf()).toMatchObject({ state: 'agreed' });
  });

  it('keeps the deposit: it is then what the order comes to', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    expect((await post('/orders/1/cancel', { paid: 'kept' })).status).toBe(303);
    expect(await paymentsNow()).toHaveLength(1);
    expect(await textAt('/orders/1')).toMatch(/€13\.00<\/span><span class="figure-words">kept of what was paid/);
  });

  it('gives the deposit back, as a payment of that kind', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    await post('/orders/1/cancel', { paid: 'returned', how: 'transfer' });
    expect(await paymentsNow()).toMatchObject([
      { kind: 'deposit', cents: 1300 },
      { kind: 'returned', cents: 1300, how: 'transfer', day: '2026-11-25' },
    ]);
    expect(await textAt('/orders/1')).toContain('kept: nothing is owed');
  });

  it('takes no more money when it is cancelled, and gives some back', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    await post('/orders/1/cancel', { paid: 'kept' });
    const more = await post('/orders/1/payments', payment);
    expect(more.status).toBe(422);
    expect(await more.text()).toContain('money can only go back');
    expect((await post('/orders/1/payments', { ...payment, kind: 'returned', amount: '5' })).status).toBe(303);
    expect(await textAt('/orders/1')).toMatch(/€8\.00<\/span><span class="figure-words">kept of what was paid/);
  });

  it('owes the whole again when the cancelling is taken back', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    await post('/orders/1/cancel', { paid: 'kept' });
    await post('/orders/1/take-back');
    expect(await orderOf()).toMatchObject({ state: 'agreed', cancelledDay: null });
    expect(await textAt('/orders/1')).toMatch(/€31\.00<\/span><span class="figure-words">still to pay/);
  });

  it('leaves nothing behind when the order has moved on', async () => {
    await addOrder();
    await post('/orders/1/payments', payment);
    expect((await post('/orders/1/cancel', { paid: 'returned', how: 'cash', version: '9' })).status).toBe(409);
    expect(await paymentsNow()).toHaveLength(1);
    expect(await orderOf()).toMatchObject({ state: 'agreed', cancelledDay: null });
    expect((await post('/orders/9/cancel')).status).toBe(404);
  });
});

describe('an order’s address and day to be there by', () => {
  it('are asked in the form of a new order, and of one that is there', async () => {
    await addOrder({ arriveBy: '2026-12-20', address: '3 Mill Bank\nOverby' });
    expect(await orderOf()).toMatchObject({ arriveByDay: '2026-12-20', address: '3 Mill Bank\nOverby' });
    const form = await textAt('/orders/1/edit');
    expect(form).toMatch(/name="arriveBy"[^>]*value="2026-12-20"/);
    expect(form).toContain('3 Mill Bank\nOverby</textarea>');
    const typed = { outlet: String(opened.ids.order), customer: 'Ana', due: '', reference: '', state: 'agreed' };
    await post('/orders/1', { ...typed, arriveBy: '', address: '', version: '1' });
    expect(await orderOf()).toMatchObject({ arriveByDay: null, address: null });
  });

  it('stay when a form says nothing of them, and are refused with what was typed', async () => {
    await addOrder({ arriveBy: '2026-12-20', address: 'Here' });
    const typed = { outlet: String(opened.ids.order), customer: 'Ana', due: '', reference: '', state: 'agreed' };
    await post('/orders/1', { ...typed, version: '1' });
    expect(await orderOf()).toMatchObject({ arriveByDay: '2026-12-20', address: 'Here' });
    const answer = await post('/orders/1', { ...typed, arriveBy: 'soon', address: 'There', version: '2' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('“soon” is not understood as a day. Write the year first, like 2026-12-04');
    expect(page).toContain('There</textarea>');
  });
});

describe('what is owed and what is to post', () => {
  it('stand on the first page and in the list of orders', async () => {
    await write((tx) => changeOutlet(tx, opened.ids.order, { depositRatio: 0.3 }));
    await addOrder();
    await addOrder({ customer: 'Bo', agreed: '' });
    expect(await textAt('/orders')).toContain('owes a deposit of €13.20');
    const first = await textAt('/');
    expect(first).toContain('€13.20, deposit');
    expect(first).not.toContain('To post');
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '2', arriveBy: '2026-12-03' });
    expect(await textAt('/')).toContain('by Tue 1 Dec, to be there Thu 3 Dec; still to knit');
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '4', arriveBy: '2026-12-03' });
    // 3 h 10 at 50 minutes an evening, Wednesday to Friday and Monday.
    expect(await textAt('/')).toContain(
      'by Sun 29 Nov, to be there Thu 3 Dec; planned to be done Mon 30 Nov, too late',
    );
    await knit(1);
    await post('/orders/1/posted', { day: '2026-11-25' });
    const after = await textAt('/');
    expect(after).not.toContain('To post');
    expect(after.indexOf('€49.00, the pairs are done')).toBeGreaterThan(0);
    expect(after.indexOf('€49.00, the pairs are done')).toBeLessThan(after.indexOf(', deposit'));
    expect(await textAt('/orders?show=all')).toContain('owes €49.00');
  });

  it('say what should have gone', async () => {
    await addOrder();
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '3', arriveBy: '2026-11-27' });
    expect(await textAt('/')).toContain(
      'should have gone by Tue 24 Nov, to be there Fri 27 Nov; planned to be done Mon 30 Nov',
    );
  });

  it('leave money out where pairs are given away', async () => {
    await addOrder();
    await post('/orders/1/postage', { ...postage, band: 'hand', postage: '5', days: '2', arriveBy: '2026-12-01' });
    await write((tx) => setSetting(tx, 'purpose', 'give'));
    const page = await textAt('/');
    expect(page).toContain('To post');
    expect(page).not.toContain('Owed');
    expect(await textAt('/orders')).not.toContain('owes');
  });
});
