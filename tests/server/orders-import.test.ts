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

/** What the tick of a question sends. */
const confirmedOn = (page: string) => /name="confirmed" value="([^"]*)"/.exec(page)![1]!;

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

  it('reads plain numbers as EU where nothing else has them, and says so', async () => {
    const answer = await paste('size,foot colour,outlet\nwoman 38,Oat,Gifts\n43,Oat,Gifts\nEU 40,Oat,Gifts');
    expect([answer.status, answer.headers.get('location')]).toEqual([303, '/orders?import=1&asEu=2']);
    expect(await textAt('/orders?import=1&asEu=2')).toMatch(/2 plain numbers were read as EU\s+sizes/);
    expect(await textAt('/orders?import=1')).not.toContain('read as EU');
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
    const confirmed = confirmedOn(page);
    // The tick holds for this text alone.
    expect((await paste(again.replace('bo,', 'Bo,'), { confirmed })).status).toBe(422);
    expect((await paste(again, { confirmed })).status).toBe(303);
    expect(await orders()).toHaveLength(2);
  });

  it('asks about odd days and feet by row and column, and takes them when they are said to be right', async () => {
    const odd = `size,foot colour,outlet,due
EU 38,Oat,Gifts,2020-12-04
EU 38,Oat,Gifts,2026-12-04
feet 24.5 and 10 cm,Oat,Gifts,4.12.2062`;
    const answer = await paste(odd);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('row 2, due</a>: Fri 4 Dec 2020 has passed.');
    expect(page).not.toContain('row 3, ');
    expect(page).toContain('row 4, due</a>: Mon 4 Dec 2062 is more than two years away.');
    expect(page).toMatch(/row 4, size<\/a>: The lengths of left and right differ by 14\.5\scm/);
    expect(page).toContain('feet 24.5 and 10 cm,Oat');
    expect(await orders()).toEqual([]);
    expect((await paste(odd, { confirmed: confirmedOn(page) })).status).toBe(303);
    expect((await orders()).map(({ dueDay }) => dueDay).sort()).toEqual(['2020-12-04', '2026-12-04', '2062-12-04']);
  });

  it.each([
    ['4/12/2026', 'can be read in two ways. Write 2026-12-04 for Fri 4 Dec 2026, or 2026-04-12 for Sun 12 Apr 2026.'],
    ['4 Dec', 'has no year. Write 2026-12-04 for Fri 4 Dec 2026.'],
    ['46360', 'is a day as spreadsheets count them. Write 2026-12-04 for Fri 4 Dec 2026.'],
    ['0001-01-01', 'is no day to knit for. Write one after the year 2000'],
    ['before Christmas', 'is not understood as a day.'],
  ])('offers a reading of the day “%s” and does not guess', async (due, sentence) => {
    const answer = await paste(`size,foot colour,outlet,due\nEU 38,Oat,Gifts,${due}`);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('row 2, due</a>: ');
    expect(page).toContain(sentence);
    expect(await orders()).toEqual([]);
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
    expect(page).toContain('row 2: “Zoë”. Are they right?');
    expect(page).toContain('Zoë,EU 38');
    expect(await orders()).toEqual([]);
    expect((await upload(utf16)).status).toBe(303);
    expect(await opened.workshop.store.read((db) => listCustomers(db))).toMatchObject([{ name: 'Zoë' }]);
  });

  it('stores no broken letters, and names their row', async () => {
    const broken =
      'customer,size,foot colour,outlet\nAna,EU 38,Oat,Gifts\nMÃ¼ller,EU 38,Oat,Gifts\nZo\ufffd,EU 38,Oat,Gifts';
    const page = await (await paste(broken)).text();
    expect(page).toContain('row 3, customer</a>: “MÃ¼ller” seems to have been “Müller”.');
    expect(page).toContain('row 4, customer</a>: A letter of “Zo\ufffd” was lost.');
    expect(page).not.toContain('row 2, customer');
    expect(await orders()).toEqual([]);
    const whole = broken.replace('MÃ¼ller', 'Müller').replace('\ufffd', 'ë').replace('Ana', 'Ærø Œuvre €9 “Łódź”');
    expect((await paste(whole)).status).toBe(303);
  });

  it('guesses only at the rows that are not UTF-8', async () => {
    const [head, row] = ['customer,size,foot colour,outlet\nZoë,EU 38,Oat,Gifts\n', 'Jürg,EU 38,Oat,Gifts'];
    const mixed = Uint8Array.from([...Buffer.from(head, 'utf8'), ...Buffer.from(row, 'latin1')]);
    const page = await (await upload(mixed)).text();
    expect(page).toContain('these letters are a guess: row 3: “Jürg”. Are');
    expect(page).toContain('Zoë,EU 38');
  });

  it('says how large a file may be at its field, and keeps what was typed beside it', async () => {
    const body = new FormData();
    body.set('text', 'size,foot colour\nEU 38,Oat');
    body.set('file', new File(['x'.repeat(3 * 1024 * 1024)], 'much.csv'));
    const answer = await opened.app.request('/orders/import', {
      ...{ method: 'POST', body, headers: { Origin: 'http://localhost' } },
    });
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(page).toContain('“much.csv” has 3 MB; up to 2 MB can be read at once.');
    expect(page).toMatch(/size,foot colour\r?\nEU 38,Oat<\/textarea>/);
    const more = await upload('x'.repeat(17 * 1024 * 1024));
    expect(more.status).toBe(413);
    expect(await more.text()).toMatch(/<a [^>]*href="\/orders\/import"[^>]*>Back to the form<\/a>/);
  });

  it('refuses what is no text, nothing at all, and more than 2 MB', async () => {
    const picture = await upload(Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 0xff]));
    expect([picture.status, (await picture.text()).includes('This file is no text')]).toEqual([422, true]);
    expect((await paste('')).status).toBe(422);
    expect((await postForm(opened.app, '/orders/import', {})).status).toBe(422);
    expect((await upload('x'.repeat(3 * 1024 * 1024))).status).toBe(422);
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
