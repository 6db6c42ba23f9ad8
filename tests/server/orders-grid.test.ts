import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listLineColours, listLines, listOrders } from '#db/stores/orders.ts';
import { type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

const textAt = async (path: string) => await (await opened.app.request(path)).text();
const post = (fields: Record<string, string | string[]>) => postForm(opened.app, '/orders/grid', fields);
const orders = () => opened.workshop.store.read((db) => listOrders(db));
const linesOf = (id: number) => opened.workshop.store.read((db) => listLines(db, id));

const base = () => ({
  person: 'woman',
  system: 'EU',
  sizes: '36-38',
  shownPerson: 'woman',
  shownSystem: 'EU',
  shownSizes: '36-38',
  yarn: String(opened.ids.bulky),
  row: ['36', '37', '38'],
  'colour-cuff': '',
  cuff: 'short',
  fit: 'usual',
  outlet: String(opened.ids.fair),
  customer: '',
  due: '2026-12-12',
  reference: '',
  state: 'agreed',
});
const cell = (size: string, colourId: number) => `pairs-${size}-${colourId}`;

describe('GET /orders/grid', () => {
  it('begins with a run of sizes, the colours of one yarn, and the fair', async () => {
    const page = await textAt('/orders/grid');
    expect(page).toContain('woman EU 36');
    expect(page).toContain('woman EU 42');
    expect(page).not.toContain('woman EU 43');
    expect(page).toContain('aria-label="woman EU 36, Heather"');
    expect(page).not.toContain('aria-label="woman EU 36, Moss"');
    expect(page).toMatch(/selected[^>]*>Winter fair/);
  });

  it.each([
    ['person=man&system=UK&sizes=8-9', ['man UK 8', 'man UK 9'], 'man UK 10'],
    ['person=woman&system=EU&sizes=36,%2037,5,%2040', ['woman EU 36', 'woman EU 37,5', 'woman EU 40'], 'woman EU 38'],
    [
      'person=woman&system=Mondopoint&sizes=240-250',
      ['woman Mondopoint 240', 'woman Mondopoint 245'],
      'Mondopoint 255',
    ],
    ['person=unknown&system=own', ['36/37'], 'woman M'],
    ['person=woman&system=own&sizes=m', ['woman M'], '36/37'],
  ])('shows %s', async (query, shown, hidden) => {
    const page = await textAt(`/orders/grid?${query}`);
    for (const words of shown) expect(page).toContain(`>${words}<`);
    expect(page).not.toContain(`>${hidden}<`);
  });

  it.each(['sizes=42-36', 'sizes=380', 'sizes=36-36999', 'sizes=x', 'person=woman&system=own&sizes=XXL'])(
    'says what is wrong with %s and shows a usual grid',
    async (query) => {
      const answer = await opened.app.request(`/orders/grid?person=woman&system=EU&${query}`);
      expect(answer.status).toBe(422);
      expect(await answer.text()).toContain('id="field-sizes-error"');
    },
  );
});

describe('POST /orders/grid', () => {
  it('saves a line for each filled cell as one order, and shows the sums', async () => {
    const { heather, oat } = opened.ids;
    const filled = {
      [cell('36', heather)]: '3',
      [cell('37', heather)]: ' 2 ',
      [cell('36', oat)]: '4',
      [cell('38', oat)]: '0',
    };
    const answer = await post({ ...base(), ...filled, 'colour-cuff': String(oat), cuff: 'none' });
    expect([answer.status, answer.headers.get('location')]).toEqual([303, '/orders/1']);
    expect(await orders()).toMatchObject([{ outletId: opened.ids.fair, dueDay: '2026-12-12', customerId: null }]);
    expect(
      (await linesOf(1)).map(({ sizeLabel, quantity, cuffHeightMm }) => [sizeLabel, quantity, cuffHeightMm]),
    ).toEqual([
      ['36', 3, 0],
      ['36', 4, 0],
      ['37', 2, 0],
    ]);
    const colours = await opened.workshop.store.read((db) => listLineColours(db, 1));
    expect(colours.filter((colour) => colour.role === 'cuff').map((colour) => colour.yarnColourId)).toEqual([
      oat,
      oat,
      oat,
    ]);
    const page = await textAt('/orders/1');
    expect(page).toContain('Pairs by size and colour');
    // Row 36: 3 + 4; columns: 5 Heather, 4 Oat; together 9.
    const table = page.slice(page.indexOf('Pairs by size and colour')).replace(/<svg.*?<\/svg>|<[^>]+>/g, ' ');
    expect(table).toMatch(/woman EU 36\s+Heather\s+3\s+Oat\s+4\s+Together\s+7/);
    expect(table).toMatch(/Together\s+Heather\s+5\s+Oat\s+4\s+All\s+9/);
  });

  it('saves bands, in a yarn held double', async () => {
    const { cream, band } = opened.ids;
    const yarn = String(Number(base().yarn) + 1);
    const fields = { ...base(), system: 'own', person: 'unknown', sizes: '', yarn, row: [`band:${band}`] };
    const answer = await post({ ...fields, [cell(`band:${band}`, cream)]: '2' });
    expect(answer.status).toBe(303);
    expect(await linesOf(1)).toMatchObject([{ bandId: band, quantity: 2 }]);
    expect(await opened.workshop.store.read((db) => listLineColours(db, 1))).toHaveLength(4);
  });

  it('names size and colour of a bad cell and keeps all that was typed', async () => {
    const { heather, oat } = opened.ids;
    const answer = await post({
      ...base(),
      [cell('36', heather)]: '3',
      [cell('37', oat)]: 'two',
      [cell('38', oat)]: '1000',
    });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain(
      'Enter how many pairs of woman EU 37 in Oat, a whole number up to 999, or nothing. You typed “two”.',
    );
    expect(page).toContain('pairs of woman EU 38 in Oat');
    for (const typed of ['value="3"', 'value="two"', 'value="1000"', 'value="2026-12-12"'])
      expect(page).toContain(typed);
    expect(await orders()).toEqual([]);
  });

  it('wants at least one cell', async () => {
    const answer = await post(base());
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Fill in at least one cell');
  });

  it('shows other sizes without losing what was typed', async () => {
    const { heather } = opened.ids;
    const answer = await post({ ...base(), [cell('37', heather)]: '5', sizes: '37-40', show: 'yes' });
    expect(answer.status).toBe(200);
    const page = await answer.text();
    expect(page).toContain('woman EU 40');
    expect(page).toMatch(/aria-label="woman EU 37, Heather" value="5"/);
    expect(await orders()).toEqual([]);
  });

  it('takes the usual sizes when another system is chosen and the sizes were left standing', async () => {
    const page = await (await post({ ...base(), system: 'UK', show: 'yes' })).text();
    expect(page).toContain('woman UK 3');
    expect(page).not.toContain('error-summary');
  });

  it('saves the rows that were filled, though the sizes above say something else', async () => {
    const { heather } = opened.ids;
    expect((await post({ ...base(), sizes: '40-41', [cell('38', heather)]: '2' })).status).toBe(303);
    expect(await linesOf(1)).toMatchObject([{ sizeLabel: '38', quantity: 2 }]);
  });

  it('answers an empty form with what is missing', async () => {
    expect((await post({})).status).toBe(422);
    expect((await post({ row: ['band:99', 'x', '-1'] })).status).toBe(422);
  });
});
