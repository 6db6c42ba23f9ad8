import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCustomers, listLines, listOrders } from '#db/stores/orders.ts';
import { changeYarnColour } from '#db/stores/shelf.ts';
import { listFeet } from '#db/stores/sizing.ts';
import { readState } from '#db/stores/workshop.ts';
import { filledForm, type OrdersWorkshop, openOrdersWorkshop } from '#tests/server/orders-workshop.ts';
import { postForm } from '#tests/support/form.ts';

let opened: OrdersWorkshop;
beforeEach(async () => {
  opened = await openOrdersWorkshop();
});
afterEach(() => opened.workshop.discard());

const textAt = async (path: string) => await (await opened.app.request(path)).text();
const paste = (text: string, fields: Record<string, string> = {}) =>
  postForm(opened.app, '/orders/import', { text, ...fields });
const orders = () => opened.workshop.store.read((db) => listOrders(db));
const revision = async () => (await opened.workshop.store.read((db) => readState(db))).revision;

function upload(content: BlobPart, name = 'orders.csv') {
  const body = new FormData();
  body.append('file', new File([content], name));
  body.append('text', '');
  return opened.app.request('/orders/import', { method: 'POST', body, headers: { Origin: 'http://localhost' } });
}

const table = `customer,reference,outlet,due,size,foot colour,quantity
Ana,A-1,By order,2026-12-04,woman EU 38,Heather,1
Ana,A-1,By order,2026-12-04,foot 24.5 cm,Oat,2
Ana,,By order,,foot 24.5 cm,Fir,1
,,Winter fair,2026-12-12,36/37,Fog,3`;

describe('GET /orders/import', () => {
  it('shows the form and what the columns are', async () => {
    const page = await textAt('/orders/import');
    expect(page).toContain('enctype="multipart/form-data"');
    expect(page).toContain('foot colour');
    expect(page).toContain('/orders/import/example.csv');
  });

  it('gives an example in the workshop’s own names that can be imported as it is', async () => {
    await opened.workshop.store.write('test', (tx) =>
      changeYarnColour(tx, opened.ids.heather, { name: '=Heather, "dark"' }),
    );
    const answer = await opened.app.request('/orders/import/example.csv');
    expect(answer.headers.get('content-type')).toContain('text/csv');
    expect(answer.headers.get('content-disposition')).toContain('attachment');
    const example = await answer.text();
    expect(example).toContain('Harbour Bulky');
    // A spreadsheet would run what begins with =.
    expect(example).not.toMatch(/(^|,)"?=/m);
    const imported = await upload(example);
    expect([imported.status, imported.headers.get('location')]).toEqual([303, '/orders?import=1']);
    expect(await orders()).toHaveLength(2);
  });
});

describe('POST /orders/import', () => {
  it('stores orders, customers and feet, each once', async () => {
    const answer = await upload(table);
    expect(answer.status).toBe(303);
    const stored = await orders();
    expect(stored.map(({ number, reference, dueDay }) => [number, reference, dueDay]).sort()).toEqual([
      [1, 'A-1', '2026-12-04'],
      [2, null, null],
      [3, null, '2026-12-12'],
    ]);
    expect(stored.every((order) => order.importId === 1 && order.createdDay === '2026-11-25')).toBe(true);
    const [customers, feet, lines] = await opened.workshop.store.read(async (db) => [
      await listCustomers(db),
      await listFeet(db),
      await listLines(db, 1),
    ]);
    expect(customers.map((customer) => customer.name)).toEqual(['Ana']);
    expect(feet).toHaveLength(1);
    expect(lines).toHaveLength(2);
    expect(await textAt('/orders?import=1')).toContain('<h1>Three orders imported</h1>');
  });

  it('lists every fault by row and column, stores nothing and keeps the text', async () => {
    const before = await revision();
    const faulty = `${table}\nBo,,Winter fare,,EU 380,Haether,none`;
    const answer = await paste(faulty);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('<title>Error: ');
    expect(page).toContain('Nothing was imported yet: 4 things to mend');
    for (const place of ['row 6, outlet', 'row 6, size', 'row 6, foot colour', 'row 6, quantity'])
      expect(page).toContain(place);
    expect(page).toContain('Did you mean Heather?');
    expect(page).toContain('Bo,,Winter fare,,EU 380,Haether,none');
    expect(await revision()).toBe(before);
  });

  it('shows the first two hundred faults and says how many there are', async () => {
    const page = await (await paste(`size,foot colour,outlet\n${'EU 38,Oak,Gifts\n'.repeat(300)}`)).text();
    expect(page).toContain('300 things to mend');
    expect(page.match(/<li><a href="#field-text">row/g)).toHaveLength(200);
    expect(page).toContain('These are the first 200');
  });

  it('does nothing with the same content again, and names the earlier import', async () => {
    await upload(table, 'december.csv');
    const before = await revision();
    const answer = await paste(`\ufeff${table.replaceAll('\n', '\r\n')}\r\n`);
    expect(answer.status).toBe(409);
    const page = await answer.text();
    expect(page).toContain('This table was imported before');
    expect(page).toContain('december.csv');
    expect(page).toContain('/orders?import=1');
    expect(await revision()).toBe(before);
  });

  it('refuses a customer’s reference that is stored already', async () => {
    await upload(table);
    const answer = await paste(`${table}\n`.replace('EU 38', 'EU 39'));
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('Order 1 of Ana has this reference already.');
  });

  it('asks before it adds what seems to be there, and adds it when told to', async () => {
    await postForm(opened.app, '/orders', {
      ...filledForm(opened),
      customer: 'Bo',
      by: 'foot',
      leftLength: '24.5',
      quantity: '2',
    });
    const again = 'customer,person,size,foot colour,outlet,quantity\nbo,woman,foot 24.5 cm,Heather,Gifts,2';
    const answer = await paste(again);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('These seem to be here already');
    expect(page).toContain('href="/orders/1"');
    expect(page).toContain('name="confirmed"');
    expect(page).toContain('bo,woman,foot 24.5 cm');
    expect(await orders()).toHaveLength(1);
    expect((await paste(again, { confirmed: 'yes' })).status).toBe(303);
    expect(await orders()).toHaveLength(2);
  });

  it.each([
    ['quantity', 'bo,woman EU 38,Heather,3'],
    ['colour', 'bo,woman EU 38,Oat,1'],
    ['size', 'bo,woman EU 39,Heather,1'],
    ['customer', 'Cyd,woman EU 38,Heather,1'],
  ])('asks nothing when the %s differs', async (_, row) => {
    await postForm(opened.app, '/orders', { ...filledForm(opened), customer: 'Bo' });
    expect((await paste(`customer,size,foot colour,quantity,outlet\n${row},Gifts`)).status).toBe(303);
  });

  it('reads UTF-16, and guesses at other encodings without storing the guess', async () => {
    const text = 'customer,size,foot colour,outlet\nZoë,EU 38,Oat,Gifts';
    const utf16 = Uint8Array.from([0xff, 0xfe, ...Buffer.from(text, 'utf16le')]);
    const latin = Uint8Array.from(Buffer.from(text, 'latin1'));
    const guessed = await upload(latin);
    expect(guessed.status).toBe(422);
    const page = await guessed.text();
    expect(page).toContain('not written in UTF-8');
    expect(page).toContain('Zoë,EU 38');
    expect(await orders()).toEqual([]);
    expect((await upload(utf16)).status).toBe(303);
    expect(await opened.workshop.store.read((db) => listCustomers(db))).toMatchObject([{ name: 'Zoë' }]);
  });

  it('refuses what is no text, nothing at all, and more than 2 MB', async () => {
    const picture = await upload(Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 0xff]));
    expect([picture.status, (await picture.text()).includes('This file is no text')]).toEqual([422, true]);
    expect((await paste('')).status).toBe(422);
    expect((await postForm(opened.app, '/orders/import', {})).status).toBe(422);
    expect((await upload('x'.repeat(3 * 1024 * 1024))).status).toBe(413);
    expect(await orders()).toEqual([]);
  });

  it('takes in the forty lines of the fixture beside what is missing here', async () => {
    const fixture = readFileSync(new URL('../fixtures/orders-40.csv', import.meta.url), 'utf8');
    const answer = await upload(fixture);
    // This workshop has fewer bands than the sample season: those rows, and only those, are named.
    expect(answer.status).toBe(422);
    const faults = (await answer.text()).match(/>row \d+, [a-z ]+</g);
    expect(new Set(faults?.map((fault) => fault.replace(/.*, |</g, '')))).toEqual(new Set(['size']));
  });
});
