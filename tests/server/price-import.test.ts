import { afterEach, beforeEach, expect, it } from 'vitest';
import { listOffers } from '#db/stores/buying.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const address = '/buying/prices/import';
const offers = () => workshop.store.read((db) => listOffers(db));
const table = 'yarn;colour;price;stock\nFell Bulky;Heather;8,50;\nFell Bulky;Oat;9,10;\n';
const more = `${table}Fell Bulky;Oat;88,00;5\n`
  .replace('stock\n', 'stock;balls a pack\n')
  .replace('88,00;5', '88,00;5;10');

it('counts first, and stores nothing', async () => {
  const before = await offers();
  const response = await postForm(app, address, { text: more, seen: '' });
  expect(response.status).toBe(200);
  const html = await response.text();
  expect(html).toContain('Nothing is stored yet');
  expect(html).toContain('value="1-1-1"');
  expect(html).toContain('€8.90');
  expect(html).toContain('€8.50');
  expect(await offers()).toEqual(before);
});

it('stores what was seen, and says so', async () => {
  const response = await postForm(app, address, { text: more, seen: '1-1-1' });
  expect(response.status).toBe(303);
  expect(await (await app.request(response.headers.get('location')!)).text()).toContain(
    'Stored: 1 new price and 1 changed',
  );
  expect(
    (await offers()).map(({ priceCents, ballsPerPack, stockPacks }) => [priceCents, ballsPerPack, stockPacks]),
  ).toEqual([
    [850, 1, null],
    [910, 1, null],
    [8800, 10, 5],
  ]);
});

it('counts again when something changed since it was seen', async () => {
  await postForm(app, address, { text: table, seen: '0-1-1' });
  const again = await postForm(app, address, { text: table, seen: '0-1-1' });
  expect(again.status).toBe(200);
  expect(await again.text()).toContain('value="0-0-2"');
});

it('stores nothing with any fault, and keeps the text to mend', async () => {
  const before = await offers();
  const response = await postForm(app, address, { text: `${table}Fell Bulky;Blue;9;\n`, seen: '0-1-1' });
  expect(response.status).toBe(422);
  const html = await response.text();
  expect(html).toContain('row 4, colour');
  expect(html).toContain('Fell Bulky;Blue;9;');
  expect(await offers()).toEqual(before);
});

it('gives the prices that are here as a table that reads back as the same', async () => {
  const csv = await (await app.request(`${address}/example.csv`)).text();
  const html = await (await postForm(app, address, { text: csv, seen: '' })).text();
  expect(html).toContain('value="0-0-2"');
});
