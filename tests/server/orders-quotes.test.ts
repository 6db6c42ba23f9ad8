import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { changeOutlet, createPostageBand } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { filledForm, now, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { boxOf, postForm, postSurely } from '#tests/support/form.ts';
import { addOffer } from '#tests/support/workshop.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

type Fields = Record<string, string | readonly string[]>;
const post = (path: string, fields: Fields = {}) => postForm(opened.app, path, fields);
const get = (path: string) => opened.app.request(path);
const textAt = async (path: string) => (await get(path)).text();
const stored = () => readWorkshop(opened.workshop);

/** What the form of a new quote sends when a size and a colour were filled in. */
const quoteForm = (more: Fields = {}): Fields => ({
  ...filledForm(opened),
  ...{ outlet: String(opened.ids.order), contact: '', post: 'no', postage: '', postDays: '', deposit: '' },
  ...{ validUntil: '', holds: 'yes', remarks: '' },
  ...more,
});

async function give(more: Fields = {}): Promise<string> {
  const answer = await postSurely(opened.app, '/orders/quotes', quoteForm(more));
  expect(answer.status).toBe(303);
  return answer.headers.get('location')!;
}

const later = (days: number) =>
  createApp({ workshop: opened.workshop, now: () => new Date(now().getTime() + days * 86_400_000), publicUrl: null });

describe('GET and POST /orders/quotes/new', () => {
  it('asks for a pair, for whom and by when, priced as for orders and held', async () => {
    const page = await textAt('/orders/quotes/new');
    expect(page).toMatch(/name="label"/);
    expect(page).toMatch(new RegExp(`value="${opened.ids.order}"[^>]*selected`));
    expect(page).toMatch(/name="holds"[^>]*checked/);
    expect(page).not.toContain('Gifts');
    expect(page).not.toContain('name="state"');
  });

  it('answers with price, deposit, day and a reply to copy', async () => {
    const path = await give({ customer: 'Mara Linden', contact: 'mara@linden.example', remarks: 'Warm ones?' });
    expect(path).toBe('/orders/1/quote');
    const { orders, lines } = await stored();
    expect(orders).toMatchObject([{ state: 'asked', holds: true, validUntilDay: '2026-12-09', remarks: 'Warm ones?' }]);
    const cents = lines[0]!.agreedCents!;
    const page = await textAt(path);
    expect(page).toContain('Quote 1 for Mara Linden');
    expect(page).toContain(`€${(cents / 100).toFixed(2)}`);
    const reply = /<textarea[^>]*name="reply"[^>]*>([^<]*)</.exec(page)?.[1] ?? '';
    expect(reply).toMatch(/^\s*Hello Mara Linden,/);
    expect(reply).toContain('1 pair of slippers, woman EU 38, in Heather, short cuff');
    expect(reply).toContain('can be ready by');
    expect(reply).toContain('good until Wed 9 Dec 2026');
    expect(reply).toContain('cool water');
    expect(page).toContain('href="mailto:mara%40linden.example?body=Hello%20Mara');
    expect(page).toContain('Warm ones?');
  });

  it.each([
    [{ label: '99' }, 'label', 'value="99"'],
    [{ 'colour-foot': '' }, 'colour-foot', 'value="38"'],
    [{ due: 'soon' }, 'due', 'value="soon"'],
    [{ contact: 'mara@linden.example' }, 'customer', 'value="mara@linden.example"'],
    [{ post: 'typed', postDays: '3' }, 'postage', 'value="3"'],
    [{ post: 'typed', postage: '4.95', postDays: 'x' }, 'postDays', 'value="4.95"'],
    [{ post: 'pigeon' }, 'post', 'value="38"'],
    [{ deposit: 'much' }, 'deposit', 'value="much"'],
    [{ validUntil: '2026-11-24' }, 'validUntil', 'value="2026-11-24"'],
    [{ agreed: '-' }, 'agreed', 'value="-"'],
    [{ outlet: '99' }, 'outlet', 'value="38"'],
  ] as [Record<string, string>, string, string][])(
    'refuses %j at %s and keeps what was typed',
    async (more, field, kept) => {
      const { holds, ...form } = quoteForm(more);
      expect(holds).toBe('yes');
      const answer = await post('/orders/quotes', form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(page).toContain(`href="#field-${field}"`);
      expect(page).toContain(kept);
      expect(page).not.toMatch(/name="holds"[^>]*checked/);
      expect((await stored()).orders).toEqual([]);
    },
  );

  it('answers an empty and a broken form with what is missing', async () => {
    expect((await post('/orders/quotes')).status).toBe(422);
    const broken = { Origin: 'http://localhost', 'Content-Type': 'multipart/form-data; boundary=x' };
    const answer = await opened.app.request('/orders/quotes', { method: 'POST', body: 'nonsense', headers: broken });
    expect(answer.status).toBe(422);
  });

  it('is saved and followed by another pair', async () => {
    expect(await give({ next: 'another' })).toBe('/orders/1/quote/lines/new');
    const added = await post('/orders/1/quote/lines', { ...filledForm(opened), label: '41', quantity: '2' });
    expect(added.headers.get('location')).toBe('/orders/1/quote');
    const page = await textAt('/orders/1/quote');
    expect(page).toContain('for 3 pairs');
    expect(page).toMatch(/woman EU 38[\s\S]*woman EU 41/);
    const faulty = await post('/orders/1/quote/lines', { ...filledForm(opened), label: '99', quantity: '7' });
    expect(faulty.status).toBe(422);
    expect(await faulty.text()).toMatch(/name="quantity"[^>]*value="7"/);
  });

  it('takes the lines of another quote along, those that stay ticked', async () => {
    await give({ customer: 'Mara Linden', next: 'another', agreed: '99' });
    await post('/orders/1/quote/lines', { ...filledForm(opened), label: '41' });
    await post('/orders/1/quote/lines', { ...filledForm(opened), label: '42' });
    const page = await textAt('/orders/quotes/new?like=1');
    expect(page).toMatch(/name="label"[^>]*value="38"/);
    // For somebody else, at the price of the day.
    expect(page).toMatch(/name="customer"[^>]*value=""/);
    expect(page).toMatch(/name="agreed"[^>]*value=""/);
    const [second, third] = (await stored()).lines.slice(1).map(({ id }) => id);
    expect(page).toMatch(new RegExp(`name="also" value="${second}" checked`));
    const more = { likeOrder: '1', also: [String(third)], customer: 'Nell' };
    const faulty = await (await post('/orders/quotes', quoteForm({ ...more, label: '' }))).text();
    expect(faulty).not.toMatch(new RegExp(`name="also" value="${second}" checked`));
    expect(faulty).toMatch(new RegExp(`name="also" value="${third}" checked`));
    expect(await give(more)).toBe('/orders/2/quote');
    const labels = (await stored()).lines.filter(({ orderId }) => orderId === 2).map(({ sizeLabel }) => sizeLabel);
    expect(labels).toEqual(['38', '42']);
  });

  it('takes the extras of another quote along, those that stay ticked, and asks the deposit with them', async () => {
    await opened.workshop.store.write('test', (tx) => changeOutlet(tx, opened.ids.order, { depositRatio: 0.5 }));
    await give({ agreed: '40' });
    for (const [name, price] of [
      ['Gift wrap', '4'],
      ['Rush', '10'],
    ] as const) {
      await post('/orders/1/extras', { name, price, minutes: '10', material: '0.60' });
    }
    const page = await textAt('/orders/quotes/new?like=1');
    expect(page).toContain('name="alsoExtra" value="1" checked');
    expect(page).toContain('Gift wrap, €4.00');
    const more = { likeOrder: '1', alsoExtra: ['1'], agreed: '40' };
    const faulty = await (await post('/orders/quotes', quoteForm({ ...more, label: '' }))).text();
    expect(faulty).toContain('name="alsoExtra" value="1" checked');
    expect(faulty).not.toContain('name="alsoExtra" value="2" checked');
    await give(more);
    const { orderExtras, orders } = await stored();
    expect(orderExtras.filter(({ orderId }) => orderId === 2)).toMatchObject([
      { name: 'Gift wrap', cents: 400, minutes: 10, materialCents: 60 },
    ]);
    // Half of 40 and 4.
    expect(orders.find(({ id }) => id === 2)).toMatchObject({ depositCents: 2200 });
  });
});

describe('GET /orders/:id/quote and its pages', () => {
  it.each(['', '/print', '/edit', '/lines/new', '/lines/1'])(
    '%s is not there for a number that no quote has',
    async (page) => {
      const answer = await get(`/orders/99/quote${page}`);
      expect(answer.status).toBe(404);
      expect(await answer.text()).toContain('That order is not here');
    },
  );

  it('takes the place of an order’s page while it is only asked', async () => {
    const quote = await give();
    expect((await get('/orders/1')).headers.get('location')).toBe(quote);
    await post(`${quote}/yes`, { version: '1' });
    expect((await get('/orders/1')).status).toBe(200);
    for (const page of [quote, `${quote}/print`, `${quote}/edit`]) {
      expect((await get(page)).headers.get('location')).toBe('/orders/1');
    }
  });

  it('says of an order that was only written down what it would cost, and fixes it', async () => {
    await post('/orders', { ...filledForm(opened), outlet: String(opened.ids.order), state: 'asked' });
    const page = await textAt('/orders/1/quote');
    expect(page).toContain('No price and no day were given yet');
    expect(page).toContain('can be done');
    expect((await post('/orders/1/quote/renew', { version: '1' })).status).toBe(303);
    const { orders, lines } = await stored();
    expect(orders).toMatchObject([{ validUntilDay: '2026-12-09', version: 2 }]);
    expect(orders[0]!.promisedDay).not.toBeNull();
    expect(lines[0]!.agreedCents).toBeGreaterThan(0);
    expect(await textAt('/orders/1/quote')).not.toContain('No price and no day were given yet');
  });

  it('says what a price typed by hand leaves, and loses only below the money back', async () => {
    const quote = await give({ agreed: '20' });
    expect(await textAt(quote)).toMatch(
      /for 1 pair; below your wage[\s\S]*an hour, below your wage[\s\S]*money back at/,
    );
    // Nine euros of yarn to buy, to say nothing of its postage.
    const yarnColourId = opened.ids.heather;
    await opened.workshop.store.write('test', (tx) => addOffer(tx, { yarnColourId, priceCents: 900 }));
    expect(await textAt(await give({ agreed: '5' }))).toMatch(/a pair of it is a loss[\s\S]*a loss of €/);
    await opened.workshop.store.write('test', (tx) => setSetting(tx, 'wageCentsPerHour', 0));
    expect(await textAt(quote)).toContain('Your time is not counted yet');
  });

  it('says whether the wish can be met, what would help, and the days of the post', async () => {
    const soon = await textAt(await give({ due: '2026-11-27' }));
    expect(soon).toContain('later than they wish');
    expect(soon).toContain('That cannot be met.');
    // 190 minutes in three evenings of 50: 13.4 a day are missing, so 14 on each of seven.
    expect(soon).toContain('more knitting a week until then: Ines 1\u00a0h\u00a038.');
    const posted = await textAt(
      await give({ due: '2027-03-20', post: 'typed', postage: '4.95', postDays: '3', holds: '' }),
    );
    expect(posted).toContain(
      'They wish to have it by Sat 20 Mar 2027: to be posted by Wed 17 Mar 2027. That can be met.',
    );
    expect(posted).toContain('- Postage: €4.95');
    expect(posted).toContain('with you by Sat 20 Mar 2027');
  });

  it('takes extras into the sum, the reply and the paper', async () => {
    const quote = await give({ agreed: '44' });
    await post('/orders/1/extras', { name: 'Gift wrap', price: '2.50', minutes: '5', material: '0.60' });
    const page = await textAt(quote);
    expect(page).toContain('- Gift wrap: €2.50');
    expect(page).toContain('That makes €46.50 in all');
    expect(page).toContain('action="/orders/1/extras/1/remove"');
    expect(await textAt(`${quote}/print`)).toContain('Gift wrap');
  });

  it('prints on paper with its terms', async () => {
    await opened.workshop.store.write('test', (tx) => setSetting(tx, 'taxNote', 'Small trader, no tax shown.'));
    const page = await textAt(`${await give({ customer: 'Mara Linden', agreed: '44' })}/print`);
    for (const words of ['Quote 1 for Mara Linden', '€44.00', 'Good until', 'Small trader', 'slip on hard floors']) {
      expect(page).toContain(words);
    }
  });

  it('warns where nobody sells the yarn, and where the day has slipped', async () => {
    const quote = await give();
    expect(await textAt(quote)).toContain('No shop is known for this yarn');
    const evenings = { 'colour-foot': String(opened.ids.heather), quantity: '4', outlet: String(opened.ids.order) };
    await post('/orders', { ...filledForm(opened), ...evenings, due: '2026-12-01' });
    expect(await textAt(quote)).toContain('The day cannot be kept as things stand');
  });
});

describe('POST /orders/:id/quote', () => {
  const edited = (more: Fields = {}) => {
    const { outlet, contact, due } = quoteForm();
    return { outlet: outlet!, contact: contact!, due: due!, customer: '', post: 'no', holds: 'yes', ...more };
  };

  it('keeps where it is posted to: the destination whose price and days it has', async () => {
    await opened.workshop.store.write('test', async (tx) => {
      await createPostageBand(tx, { name: 'Inland', upToG: 2000, cents: 495, days: 2 });
      await createPostageBand(tx, { name: 'Abroad', upToG: 2000, cents: 950, days: 6 });
    });
    // By name: Abroad comes first.
    const quote = await give({ post: 'to-0' });
    expect((await stored()).orders).toMatchObject([{ postageCents: 950, postDays: 6 }]);
    const form = await textAt(`${quote}/edit`);
    expect(form).toMatch(/<option value="to-0"[^>]* selected[^>]*>by post: Abroad/);
    expect(boxOf(form, 'postage')).toBe('');
    await post(quote, edited({ post: 'to-0', version: '1' }));
    expect((await stored()).orders).toMatchObject([{ postageCents: 950, postDays: 6 }]);
    // A price of its own is no destination's.
    await post(quote, edited({ post: 'typed', postage: '7', postDays: '4', version: '2' }));
    const typed = await textAt(`${quote}/edit`);
    expect(typed).toMatch(/<option value="typed"[^>]* selected/);
    expect([boxOf(typed, 'postage'), boxOf(typed, 'postDays')]).toEqual(['7.00', '4']);
  });

  it('is shown filled in, and changes all but the pairs', async () => {
    const quote = await give({ customer: 'Mara', contact: 'by the bridge', due: '2027-02-01', deposit: '7' });
    const form = await textAt(`${quote}/edit`);
    for (const value of ['Mara', 'by the bridge', '2027-02-01', '7.00', '2026-12-09']) {
      expect(form).toContain(`value="${value}"`);
    }
    const answer = await post(quote, edited({ customer: 'Nell', validUntil: '2026-12-24', version: '1' }));
    expect(answer.headers.get('location')).toBe(quote);
    const { orders, customers } = await stored();
    expect(orders).toMatchObject([{ validUntilDay: '2026-12-24', dueDay: null, version: 2 }]);
    expect(customers.find(({ id }) => id === orders[0]!.customerId)!.name).toBe('Nell');
  });

  it('keeps what was typed when something is wrong', async () => {
    const quote = await give();
    const answer = await post(quote, edited({ customer: 'Nell', due: 'soon', version: '1' }));
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('value="soon"');
    expect(page).toContain('value="Nell"');
    expect(page).toContain('name="version" value="1"');
  });

  it('shows what somebody else saved, keeps one’s own, and saves it when sent again', async () => {
    const quote = await give({ customer: 'Mara' });
    await post(quote, edited({ customer: 'Nell', version: '1' }));
    const mine = edited({ customer: 'Otto', version: '1' });
    const answer = await post(quote, mine);
    expect(answer.status).toBe(409);
    const page = await answer.text();
    expect(page).toContain('now “Nell”, yours “Otto”');
    expect(page).toContain('name="version" value="2"');
    expect((await post(quote, { ...mine, version: '2' })).status).toBe(303);
  });
});

describe('POST /orders/:id/quote/lines/:line', () => {
  it('is shown without the price sheet’s price, and changes the pair with price and day', async () => {
    await give();
    const form = await textAt('/orders/1/quote/lines/1');
    expect(form).toMatch(/name="agreed"[^>]*value=""/);
    const before = (await stored()).lines[0]!.agreedCents!;
    const changed = { ...filledForm(opened), label: '44', person: 'man', version: '1' };
    expect((await post('/orders/1/quote/lines/1', changed)).headers.get('location')).toBe('/orders/1/quote');
    expect((await stored()).lines[0]!.agreedCents!).toBeGreaterThan(before);
  });

  it('is refused with values kept, shows another’s change, and knows a pair that is gone', async () => {
    await give();
    const faulty = await post('/orders/1/quote/lines/1', { ...filledForm(opened), label: '99', version: '1' });
    expect(faulty.status).toBe(422);
    expect(await faulty.text()).toContain('value="99"');
    await post('/orders/1/quote/lines/1', { ...filledForm(opened), label: '40', version: '1' });
    const late = await post('/orders/1/quote/lines/1', { ...filledForm(opened), label: '41', version: '1' });
    expect(late.status).toBe(409);
    expect(await late.text()).toContain('now “40”, yours “41”');
    expect((await get('/orders/1/quote/lines/7')).status).toBe(404);
  });

  it('takes a pair out, but not the last', async () => {
    await give();
    await post('/orders/1/quote/lines', { ...filledForm(opened), label: '41' });
    expect(await textAt('/orders/1/quote/lines/2')).toContain('formaction="/orders/1/quote/lines/2/remove"');
    expect((await post('/orders/1/quote/lines/2/remove', { version: '1' })).status).toBe(303);
    expect((await stored()).lines).toHaveLength(1);
    expect((await post('/orders/1/quote/lines/1/remove', { version: '1' })).status).toBe(409);
  });
});

describe('POST /orders/:id/quote/prices', () => {
  it('asks them, shows them in the reply, and empty boxes take the price sheet’s', async () => {
    const quote = await give();
    const sheet = (await stored()).lines[0]!.agreedCents;
    await post(`${quote}/prices`, { 'price-1': '52.50', deposit: '10', version: '1' });
    expect((await stored()).lines[0]!.agreedCents).toBe(5250);
    const page = await textAt(quote);
    expect(page).toContain('short cuff: €52.50');
    expect(page).toMatch(/name="price-1"[^>]*value="52.50"/);
    expect(page).toContain('the price sheet says');
    await post(`${quote}/prices`, { 'price-1': '', deposit: '', version: '2' });
    expect((await stored()).lines[0]!.agreedCents).toBe(sheet);
  });

  it('keeps what was typed when it is no price, or somebody else was first', async () => {
    const quote = await give();
    const faulty = await post(`${quote}/prices`, { 'price-1': 'dear', deposit: '', version: '1' });
    expect(faulty.status).toBe(422);
    expect(await faulty.text()).toMatch(/name="price-1"[^>]*value="dear"/);
    await post(`${quote}/prices`, { 'price-1': '52', deposit: '', version: '1' });
    const late = await post(`${quote}/prices`, { 'price-1': '53', deposit: '', version: '1' });
    expect(late.status).toBe(409);
    const page = await late.text();
    expect(page).toContain('Somebody else changed this quote');
    expect(page).toMatch(/name="price-1"[^>]*value="53"/);
    expect((await stored()).lines[0]!.agreedCents).toBe(5200);
  });
});

describe('POST /orders/:id/quote/yes, no and renew', () => {
  it('yes makes it an order for the day promised', async () => {
    const quote = await give();
    const { promisedDay } = (await stored()).orders[0]!;
    expect((await post(`${quote}/yes`, { version: '1' })).headers.get('location')).toBe('/orders/1');
    expect((await stored()).orders).toMatchObject([{ state: 'agreed', dueDay: promisedDay }]);
    expect((await post(`${quote}/yes`, { version: '2' })).status).toBe(409);
    expect((await post('/orders/99/quote/yes')).status).toBe(404);
  });

  it('no keeps it as cancelled, and its cancelling can be taken back', async () => {
    const quote = await give();
    expect((await post(`${quote}/no`, { version: '9' })).status).toBe(409);
    expect((await post(`${quote}/no`, { version: '1' })).headers.get('location')).toBe('/orders/1');
    expect((await stored()).orders).toEqual([]);
    await post('/orders/1/take-back', { version: '2' });
    expect((await get('/orders/1')).headers.get('location')).toBe(quote);
  });

  it('a quote that has run out says so, is offered again, and is good from that day', async () => {
    const quote = await give();
    const app = later(15);
    const page = await (await app.request(quote)).text();
    expect(page).toContain('This quote has run out');
    expect(page).not.toContain('good until');
    const list = await (await app.request('/orders/quotes')).text();
    expect(list).toMatch(/No open quotes[\s\S]*Run out/);
    await postForm(app, `${quote}/renew`, { version: '1' });
    expect((await stored()).orders[0]!.validUntilDay).toBe('2026-12-24');
    expect(await (await app.request(quote)).text()).not.toContain('This quote has run out');
  });
});

describe('lists', () => {
  it('show quotes on a page of their own, and never as overdue or still to hand over', async () => {
    await give({ customer: 'Mara Linden', due: '2026-11-20', quantity: '3' });
    const orders = await textAt('/orders');
    expect(orders).toContain('Quotes (1)');
    expect(orders).toContain('No open orders');
    expect(orders).toMatch(/0 pairs[\s\S]*still to hand over/);
    expect(orders).not.toContain('Mara Linden');
    const quotes = await textAt('/orders/quotes');
    expect(quotes).toContain('One open quote');
    expect(quotes).toMatch(/Mara Linden[\s\S]*open, held/);
    const all = await textAt('/orders?show=all');
    expect(all).toMatch(/Mara Linden[\s\S]*asked/);
    expect(all).not.toContain('late-word');
  });

  it('tell on the first page what soon runs out', async () => {
    await give({ customer: 'Mara Linden' });
    expect(await textAt('/')).toMatch(/1 open quote<\/a>, none of which/);
    const soon = await (await later(11).request('/')).text();
    expect(soon).toMatch(/Mara Linden<\/a> runs out after Wed 9 Dec/);
    expect(await (await later(15).request('/')).text()).not.toContain('open quote');
  });

  it('know no quotes where pairs are given', async () => {
    await give();
    await opened.workshop.store.write('test', (tx) => setSetting(tx, 'purpose', 'give'));
    for (const path of ['/orders/quotes', '/orders/quotes/new', '/orders/1/quote']) {
      expect((await get(path)).status).toBe(404);
    }
    expect((await post('/orders/quotes', quoteForm())).status).toBe(404);
    expect((await get('/orders/1')).status).toBe(200);
    const orders = await textAt('/orders');
    expect(orders).not.toMatch(/quote/i);
    expect(orders).toContain('asked');
  });
});
