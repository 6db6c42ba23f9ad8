import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCustomers, listLineColours, listLines, listOrderExtras, listOrders } from '#db/stores/orders.ts';
import { changeOutlet } from '#db/stores/pricing.ts';
import { listFeet } from '#db/stores/sizing.ts';
import { readState, setSetting } from '#db/stores/workshop.ts';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { answersOn, postForm, postSurely } from '#tests/support/form.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

const get = (path: string) => opened.app.request(path);
const textAt = async (path: string) => await (await get(path)).text();
const post = (path: string, fields: Record<string, string>) => postForm(opened.app, path, fields);
const revision = async () => (await opened.workshop.store.read((db) => readState(db))).revision;
const stored = () =>
  opened.workshop.store.read(async (db) => {
    const orders = await listOrders(db);
    const lines = (await Promise.all(orders.map((order) => listLines(db, order.id)))).flat();
    const colours = (await Promise.all(orders.map((order) => listLineColours(db, order.id)))).flat();
    return { orders, lines, colours, customers: await listCustomers(db), feet: await listFeet(db) };
  });

/** Adds an order through its form and gives the address it leads to. */
async function add(fields: Record<string, string> = {}): Promise<string> {
  const answer = await postSurely(opened.app, '/orders', { ...filledForm(opened), ...fields });
  expect(answer.status).toBe(303);
  return answer.headers.get('location')!;
}

describe('GET /orders', () => {
  it('says how to begin while there is no order', async () => {
    const page = await textAt('/orders');
    expect(page).toContain('No orders yet');
    expect(page).toContain('href="/orders/new"');
  });

  it('lists open orders by due day, those without one last', async () => {
    await add({ customer: 'Last, without a day' });
    await add({ customer: 'Second', due: '2026-12-20' });
    await add({ customer: 'First', due: '2026-11-20' });
    const page = await textAt('/orders');
    const order = ['First', 'Second', 'Last, without a day'].map((name) => page.indexOf(name));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(page).toContain('Fri 20 Nov, past');
    expect(page).toContain('<h1>Three open orders</h1>');
  });

  it('shows the year of a day in another year than the present one', async () => {
    const path = await add({ customer: 'Ana', due: '2027-01-05' });
    await add({ customer: 'Bo', due: '2026-12-20' });
    for (const page of [await textAt('/orders'), await textAt(path)]) expect(page).toContain('Tue 5 Jan 2027');
    expect(await textAt('/orders')).toMatch(/>Sun 20 Dec</);
    expect(await textAt('/batch')).toContain('Tue 5 Jan 2027');
  });

  it('keeps cancelled orders under all', async () => {
    await add({ customer: 'Ana' });
    await post(await add({ customer: 'Zora' }).then((path) => `${path}/cancel`), {});
    expect(await textAt('/orders')).not.toContain('Zora');
    const all = await textAt('/orders?show=all');
    expect(all).toContain('Zora');
    expect(all).toContain('cancelled');
    expect(all).toContain('All (2)');
  });

  it('takes any page number', async () => {
    await add();
    for (const page of ['0', '-3', '99', 'x', '1e9']) expect((await get(`/orders?page=${page}`)).status).toBe(200);
  });

  it('shows no money and no price field when pairs are given away', async () => {
    await opened.workshop.store.write('test', (tx) => setSetting(tx, 'purpose', 'give'));
    expect(await textAt('/orders/new')).not.toContain('Price agreed');
  });
});

describe('GET /orders/new', () => {
  it('is filled in but for size and colour', async () => {
    const page = await textAt('/orders/new');
    expect(page).toMatch(/name="by" value="label" checked/);
    expect(page).toMatch(/name="person" value="woman" checked/);
    expect(page).toContain('name="quantity"');
    expect(page).toContain('Harbour Bulky');
  });

  it('begins with what was used last', async () => {
    await add({
      person: 'man',
      system: 'UK',
      label: '8',
      outlet: String(opened.ids.shop),
      'colour-foot': String(opened.ids.oat),
    });
    const page = await textAt('/orders/new');
    expect(page).toMatch(/name="person" value="man" checked/);
    expect(page).toMatch(/<option value="UK" selected/);
    expect(page).toMatch(/<option value="\d+" selected[^>]*>Corner shop/);
    expect(page.indexOf('> Oat<') === -1 ? page.indexOf('Oat') : page.indexOf('> Oat<')).toBeLessThan(
      page.indexOf('Heather'),
    );
  });

  it('is filled from another line when asked for one like it', async () => {
    await add({
      label: '41',
      customer: 'Ana',
      reference: 'A-1',
      cuff: 'turned down',
      'colour-cuff': String(opened.ids.oat),
    });
    const page = await textAt('/orders/new?like=1');
    expect(page).toMatch(/name="label"[^>]*value="41"/);
    expect(page).toMatch(/value="turned down" checked/);
    expect(page).toMatch(/name="customer"[^>]*value="Ana"/);
    expect(page).not.toContain('A-1');
    expect((await get('/orders/new?like=99')).status).toBe(404);
  });
});

describe('POST /orders', () => {
  it('stores an order from a size and a colour', async () => {
    const path = await add();
    expect(path).toBe('/orders/1');
    const { orders, lines, colours } = await stored();
    expect(orders).toMatchObject([
      {
        number: 1,
        customerId: null,
        outletId: opened.ids.fair,
        state: 'agreed',
        createdDay: '2026-11-25',
        dueDay: null,
      },
    ]);
    expect(lines).toMatchObject([
      {
        person: 'woman',
        sizeSystem: 'EU',
        sizeLabel: '38',
        quantity: 1,
        fit: 'usual',
        cuffHeightMm: null,
        agreedCents: null,
      },
    ]);
    expect(colours.map(({ role, strand, yarnColourId }) => [role, strand, yarnColourId])).toEqual([
      ['cuff', 0, opened.ids.heather],
      ['foot', 0, opened.ids.heather],
    ]);
    expect((await get(path)).status).toBe(200);
  });

  it('stores everything that was filled in', async () => {
    await add({
      cuff: 'height',
      cuffHeight: '7,5',
      fit: 'roomy',
      quantity: '3',
      agreed: '32.50',
      due: '2026-12-12',
      reference: 'A-1',
      customer: ' Ana ',
      state: 'asked',
      'colour-foot': String(opened.ids.cream),
      'colour-cuff': String(opened.ids.oat),
    });
    const { orders, lines, colours, customers } = await stored();
    expect(customers).toMatchObject([{ name: 'Ana' }]);
    expect(orders).toMatchObject([
      { state: 'asked', dueDay: '2026-12-12', reference: 'A-1', customerId: customers[0]!.id },
    ]);
    expect(lines).toMatchObject([{ cuffHeightMm: 75, fit: 'roomy', quantity: 3, agreedCents: 3250 }]);
    // The foot's yarn is held double, the cuff's is not.
    expect(colours).toHaveLength(3);
  });

  it('knows a customer again, whatever the case', async () => {
    await add({ customer: 'Ana' });
    await add({ customer: 'ANA ' });
    expect((await stored()).customers).toHaveLength(1);
  });

  it('stores a measured pair of feet', async () => {
    await add({
      by: 'foot',
      person: 'man',
      leftLength: '26,5',
      rightLength: '27',
      leftBallGirth: '25.5',
      rightBallGirth: '25.9',
      leftHeelAnkleGirth: '34',
      cuff: 'turned down',
    });
    const { feet, lines } = await stored();
    expect(feet).toMatchObject([
      {
        person: 'man',
        leftLengthMm: 265,
        rightLengthMm: 270,
        leftBallGirthMm: 255,
        rightBallGirthMm: 259,
        leftHeelAnkleGirthMm: 340,
        rightHeelAnkleGirthMm: 340,
      },
    ]);
    // Half of the left foot, 265 mm, to the nearest millimetre.
    expect(lines).toMatchObject([{ footId: feet[0]!.id, person: null, cuffHeightMm: 133 }]);
    const page = await textAt('/orders/lines/1');
    expect(page).toContain('man feet 26.5 and 27 cm');
    expect(page).toContain('The right opening is');
    expect(page).toContain('measured');
  });

  it('keeps a child’s age as an age, knitted for the mean foot', async () => {
    await add({ by: 'age', age: '5' });
    const { lines, feet } = await stored();
    expect(lines).toMatchObject([{ person: 'child', sizeSystem: 'age', sizeLabel: '5', footId: null }]);
    expect(feet).toEqual([]);
    const page = await textAt('/orders/lines/1');
    expect(page).toContain('child of 5 years');
    expect(page).toContain('17.4'); // the mean of five-year-olds, 174.4 mm
    expect(page).toContain('Half of the children of 5 years have feet between');
    const form = await textAt('/orders/lines/1/edit');
    expect(form).toMatch(/name="age"[^>]*value="5"/);
  });

  it('takes feet in inches', async () => {
    await add({ by: 'foot', leftLength: '9 1/2', unit: 'in' });
    expect((await stored()).feet).toMatchObject([{ leftLengthMm: 241.3, rightLengthMm: 241.3 }]);
  });

  it('stores a band', async () => {
    await add({ by: 'band', band: String(opened.ids.band) });
    expect((await stored()).lines).toMatchObject([{ bandId: opened.ids.band, person: null, sizeLabel: null }]);
  });

  it.each([
    ['2020-12-04', 'Fri 4 Dec 2020 has passed. Is the day right?'],
    ['2026-11-24', 'Tue 24 Nov 2026 has passed. Is the day right?'],
    ['2062-12-04', 'Mon 4 Dec 2062 is more than two years away. Is the year right?'],
  ])(
    'asks about the day %s, keeps what was typed, and takes it once that is said to be right',
    async (due, question) => {
      const form = { ...filledForm(opened), customer: 'Ana', due };
      const asked = await post('/orders', form);
      expect(asked.status).toBe(422);
      const page = await asked.text();
      expect(page).toContain(question);
      expect(page).toContain(`value="${due}"`);
      expect(page).toContain('value="Ana"');
      expect((await stored()).orders).toEqual([]);
      const address = (await post('/orders', { ...form, ...answersOn(page) })).headers.get('location')!;
      expect((await stored()).orders).toMatchObject([{ dueDay: due }]);
      // The day is there: a change of something else asks no more about it.
      const edited = {
        customer: 'Bo',
        outlet: String(opened.ids.fair),
        due,
        reference: '',
        state: 'agreed',
        version: '1',
      };
      expect((await post(address, edited)).status).toBe(303);
    },
  );

  it.each([
    [{ leftLength: '24.5', rightLength: '10' }, 'rightLength', /differ by 14\.5\scm; more than 1\.0\scm is rare/],
    [{ leftLength: '24', leftBallGirth: '40' }, 'leftBallGirth', /of 40\.0\scm is odd here: 18\.5\scm to 26\.4\scm/],
    [{ leftLength: '19' }, 'leftLength', /shorter than any of the 1,986 women of the survey \(19\.8\scm\)/],
    [{ leftLength: '24', rightBallGirth: '40' }, 'rightBallGirth', /Right foot: A girth around the ball of 40\.0\scm/],
  ])(
    'asks about the feet %o at the field, and takes them once they are said to be right',
    async (feet, field, words) => {
      const form = { ...filledForm(opened), by: 'foot', ...feet };
      const asked = await post('/orders', form);
      expect(asked.status).toBe(422);
      const page = await asked.text();
      expect(new RegExp(`id="field-${field}-error">([^<]*)<`).exec(page)?.[1]).toMatch(words);
      for (const typed of Object.values(feet)) expect(page).toContain(`value="${typed}"`);
      expect(Object.keys(answersOn(page))).toEqual([`sure-${field}`]);
      expect((await stored()).feet).toEqual([]);
      const answered = { ...form, ...answersOn(page) };
      // Another measure makes it another question.
      expect((await post('/orders', { ...answered, leftLength: '18.9' })).status).toBe(422);
      expect((await post('/orders', answered)).status).toBe(303);
    },
  );

  it.each(['0001-01-01', '1999-12-31', '9999-12-31', '2100-01-01'])('refuses the day %s', async (due) => {
    const page = await (await post('/orders', { ...filledForm(opened), due })).text();
    expect(page).toContain('Enter a day after the year 2000 and before 2100');
    expect(answersOn(page)).toEqual({});
  });

  it('asks nothing about today, and about a day two years ahead', async () => {
    await add({ due: '2026-11-25' });
    await add({ due: '2028-11-24' });
    for (const due of ['2026-11-25', '2028-11-24']) {
      expect((await post('/orders', { ...filledForm(opened), due })).status).toBe(303);
    }
  });

  it('understands a day as people write it, and offers one without a year in writing', async () => {
    await add({ due: '4.12.2026' });
    expect((await stored()).orders[0]!.dueDay).toBe('2026-12-04');
    const page = await (await post('/orders', { ...filledForm(opened), due: '4 Dec' })).text();
    expect(page).toContain('“4 Dec” has no year. Write 2026-12-04 for Fri 4 Dec 2026.');
    expect((await stored()).orders).toHaveLength(1);
  });

  it('does not take a day to be there by that is before the day it is due', async () => {
    const form = { ...filledForm(opened), due: '2026-12-12', arriveBy: '2026-12-11', address: '' };
    const page = await (await post('/orders', form)).text();
    expect(page).toContain('id="field-arriveBy-error"');
    expect(page).toContain('It is due on Sat 12 Dec 2026 and cannot be there before.');
    expect((await post('/orders', { ...form, arriveBy: '2026-12-12' })).status).toBe(303);
  });

  it('keeps everything typed and says what to do at each field', async () => {
    const before = await revision();
    const answer = await post('/orders', {
      ...filledForm(opened),
      label: '380',
      'colour-foot': '',
      quantity: '1.5',
      cuff: 'height',
      cuffHeight: '99',
      due: '31.12.',
      customer: '<b>Ana</b>',
      outlet: '99',
    });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('<title>Error: New order');
    for (const field of ['label', 'colour-foot', 'quantity', 'cuffHeight', 'due', 'outlet']) {
      expect(page).toContain(`id="field-${field}-error"`);
      expect(page).toContain(`href="#field-${field}"`);
    }
    for (const typed of [
      'value="380"',
      'value="1.5"',
      'value="99"',
      'type="text" class="width-medium" autocomplete="off" value="31.12."',
      '&lt;b&gt;Ana&lt;/b&gt;',
    ]) {
      expect(page).toContain(typed);
    }
    expect(await revision()).toBe(before);
  });

  it.each([
    [{ by: 'foot', leftLength: '' }, 'leftLength'],
    [{ by: 'foot', leftLength: 'long' }, 'leftLength'],
    [{ by: 'foot', leftLength: '245', unit: 'cm' }, 'leftLength'],
    [{ by: 'foot', leftLength: '24', rightLength: '99' }, 'rightLength'],
    [{ by: 'foot', leftLength: '24', leftBallGirth: '5' }, 'leftBallGirth'],
    [{ by: 'foot', leftLength: '24', rightBallGirth: '5' }, 'rightBallGirth'],
    [{ by: 'foot', leftLength: '24', leftBallGirth: '25', leftHeelAnkleGirth: '20' }, 'leftHeelAnkleGirth'],
    [{ by: 'foot', leftLength: '24', leftBallGirth: '25', rightHeelAnkleGirth: '20' }, 'rightHeelAnkleGirth'],
    [{ by: 'band', band: '' }, 'band'],
    [{ by: 'band', band: '77' }, 'band'],
    [{ by: 'age' }, 'age'],
    [{ by: 'age', age: '14' }, 'age'],
    [{ by: 'shoe' }, 'by'],
    [{ person: 'unknown', system: 'US', label: '9' }, 'label'],
    [{ label: '36/37' }, 'label'],
    [{ person: 'dog' }, 'person'],
    [{ quantity: '0' }, 'quantity'],
    [{ quantity: '1000' }, 'quantity'],
    [{ quantity: '1e2' }, 'quantity'],
    [{ agreed: '-5' }, 'agreed'],
    [{ customer: 'x'.repeat(201) }, 'customer'],
    [{ customer: 'a\u0000b' }, 'customer'],
    [{ outlet: '' }, 'outlet'],
    [{ 'colour-foot': '999' }, 'colour-foot'],
  ])('refuses %j at %s', async (fields, field) => {
    const answer = await post('/orders', { ...filledForm(opened), ...(fields as Record<string, string>) });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(`id="field-${field}-error"`);
    expect((await stored()).orders).toHaveLength(0);
  });

  it('refuses a reference that this customer has used, and no other customer', async () => {
    await add({ customer: 'Ana', reference: 'A-1' });
    await add({ customer: 'Bo', reference: 'A-1' });
    const answer = await post('/orders', { ...filledForm(opened), customer: 'Ana', reference: 'A-1' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Order 1 of this customer has the reference “A-1” already');
    // The customer that would have come with it is not left behind either.
    expect((await stored()).customers).toHaveLength(2);
  });

  it('answers an empty or a broken form with what is missing', async () => {
    expect((await post('/orders', {})).status).toBe(422);
    const headers = { Origin: 'http://localhost', 'Content-Type': 'multipart/form-data' };
    expect((await opened.app.request('/orders', { method: 'POST', body: 'nothing', headers })).status).toBe(422);
  });
});

describe('GET /orders/:id', () => {
  it('shows lines, counts and when it will be done', async () => {
    const path = await add({ customer: 'Ana', due: '2026-12-12', quantity: '2' });
    const page = await textAt(path);
    expect(page).toContain('<h1>Order 1 for Ana</h1>');
    expect(page).toContain('href="/orders/lines/1"');
    expect(page).toContain('woman EU 38');
    expect(page).toMatch(/\d+ sts/);
    expect(page).toContain('planned to be done');
    expect(page).toContain('Same again');
  });

  it('is not there for a number that no order has', async () => {
    for (const path of [
      '/orders/9',
      '/orders/9/edit',
      '/orders/9/lines/new',
      '/orders/lines/9',
      '/orders/lines/9/edit',
    ]) {
      expect((await get(path)).status).toBe(404);
    }
    for (const path of ['/orders/9', '/orders/9/again', '/orders/9/cancel', '/orders/9/take-back', '/orders/9/lines']) {
      expect((await post(path, filledForm(opened))).status).toBe(404);
    }
    expect((await get('/orders/abc')).status).toBe(404);
    expect((await get('/orders/99999999999999999999')).status).toBe(404);
  });
});

describe('POST /orders/:id', () => {
  const details = () => ({
    customer: 'Bo',
    outlet: String(opened.ids.shop),
    due: '2026-12-20',
    reference: 'B-2',
    state: 'asked',
  });

  it('is shown filled in, and changes the order alone', async () => {
    const path = await add({ customer: 'Ana' });
    expect(await textAt(`${path}/edit`)).toMatch(/name="customer"[^>]*value="Ana"/);
    const answer = await post(path, { ...details(), version: '1' });
    expect([answer.status, answer.headers.get('location')]).toEqual([303, path]);
    const { orders, lines } = await stored();
    expect(orders).toMatchObject([
      { outletId: opened.ids.shop, dueDay: '2026-12-20', reference: 'B-2', state: 'asked', version: 2 },
    ]);
    expect(lines).toHaveLength(1);
  });

  it('keeps what was typed when something is wrong', async () => {
    const path = await add();
    const answer = await post(path, { ...details(), version: '1', due: 'soon' });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('value="soon"');
    expect(page).toContain('value="Bo"');
    expect(page).toContain('name="version" value="1"');
  });

  it('keeps an outlet that was closed since', async () => {
    const path = await add();
    await opened.workshop.store.write('test', (tx) => changeOutlet(tx, opened.ids.fair, { isClosed: true }));
    expect(await textAt(`${path}/edit`)).toMatch(/selected[^>]*>Winter fair/);
    expect((await post(path, { ...details(), outlet: String(opened.ids.fair), version: '1' })).status).toBe(303);
  });

  it('shows the change somebody else made, keeps one’s own, and saves it when sent again', async () => {
    const path = await add({ customer: 'Ana' });
    await post(path, { ...details(), version: '1' });
    const mine = { ...details(), customer: 'Cyd', version: '1' };
    const answer = await post(path, mine);
    expect(answer.status).toBe(409);
    const page = await answer.text();
    expect(page).toContain('Somebody else changed this');
    expect(page).toContain('now “Bo”, yours “Cyd”');
    expect(page).toContain('name="version" value="2"');
    expect(page).toMatch(/name="customer"[^>]*value="Cyd"/);
    expect((await stored()).orders[0]!.version).toBe(2);
    expect((await post(path, { ...mine, version: '2' })).status).toBe(303);
  });
});

describe('POST /orders/:id/cancel and take-back', () => {
  it('keeps the order, and gives it the state it had', async () => {
    const path = await add({ state: 'asked' });
    expect((await post(`${path}/cancel`, { version: '1' })).status).toBe(303);
    expect((await stored()).orders).toMatchObject([{ state: 'cancelled' }]);
    const page = await textAt(path);
    expect(page).toContain('Take the cancelling back');
    expect(page).not.toContain('Add another line');
    expect((await post(`${path}/take-back`, { version: '2' })).status).toBe(303);
    expect((await stored()).orders).toMatchObject([{ state: 'asked' }]);
  });

  it('does nothing against an older version', async () => {
    const path = await add();
    await post(path, {
      customer: '',
      outlet: String(opened.ids.fair),
      due: '',
      reference: '',
      state: 'agreed',
      version: '1',
    });
    expect((await post(`${path}/cancel`, { version: '1' })).status).toBe(409);
    expect((await stored()).orders).toMatchObject([{ state: 'agreed' }]);
  });

  it('does not come back beside another order of the same reference', async () => {
    const path = await add({ customer: 'Ana', reference: 'A-1' });
    await post(`${path}/cancel`, {});
    await add({ customer: 'Ana', reference: 'A-1' });
    const answer = await post(`${path}/take-back`, {});
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Order 2 of this customer has the reference');
  });

  it('adds no line to a cancelled order', async () => {
    const path = await add();
    await post(`${path}/cancel`, {});
    expect((await post(`${path}/lines`, filledForm(opened))).status).toBe(409);
  });
});

describe('POST /orders/:id/again', () => {
  it('makes the same order once more, without its reference and without a day that is past', async () => {
    const path = await add({
      customer: 'Ana',
      reference: 'A-1',
      due: '2026-11-20',
      quantity: '2',
      by: 'foot',
      leftLength: '24',
    });
    const answer = await post(`${path}/again`, {});
    expect(answer.headers.get('location')).toBe('/orders/2');
    const { orders, lines, colours, feet } = await stored();
    expect(orders.find((order) => order.number === 2)).toMatchObject({
      reference: null,
      dueDay: null,
      createdDay: '2026-11-25',
      customerId: 1,
    });
    expect(lines.map(({ quantity, footId }) => [quantity, footId])).toEqual([
      [2, 1],
      [2, 1],
    ]);
    expect(colours).toHaveLength(4);
    expect(feet).toHaveLength(1);
  });

  it('has its extras and its way there too, and no day to be there by', async () => {
    const path = await add({ customer: 'Ana', arriveBy: '2026-12-20', address: '3 Mill Bank' });
    await post(`${path}/extras`, { name: 'Gift wrap', price: '4', minutes: '10', material: '0.60' });
    const way = { band: 'hand', postage: '4.95', days: '2', arriveBy: '2026-12-20', address: '3 Mill Bank' };
    await post(`${path}/postage`, { ...way, version: '1' });
    await post(`${path}/again`, {});
    const [, again] = (await stored()).orders.sort((a, b) => a.id - b.id);
    expect(again).toMatchObject({ address: '3 Mill Bank', postageCents: 495, postDays: 2, arriveByDay: null });
    const extras = await opened.workshop.store.read((db) => listOrderExtras(db));
    expect(
      extras.map(({ orderId, name, cents, minutes, materialCents }) => [orderId, name, cents, minutes, materialCents]),
    ).toEqual([
      [1, 'Gift wrap', 400, 10, 60],
      [2, 'Gift wrap', 400, 10, 60],
    ]);
  });
});
