import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Client, createClient } from '@libsql/client';
import { drizzle } from 'drizzle-orm/libsql';
import { migrate } from 'drizzle-orm/libsql/migrator';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openWorkshop } from '#db/open.ts';
import * as schema from '#db/schema/index.ts';
import { listPurchaseLines } from '#db/stores/buying.ts';
import { listLines, listOrders } from '#db/stores/orders.ts';
import { createPostageBand, listOutlets, listPostageBands } from '#db/stores/pricing.ts';
import { createBall, listAllMoves, listBalls, listLots, listYarns } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';
import { addYarn } from '#tests/support/workshop.ts';

// The generator's own comparison; its ES module build does not load, so the other one is asked for.
const kit = createRequire(import.meta.url)('drizzle-kit/api') as typeof import('drizzle-kit/api');

const folder = fileURLToPath(new URL('../../db/migrations', import.meta.url));
const journal = JSON.parse(readFileSync(`${folder}/meta/_journal.json`, 'utf8')) as {
  entries: { idx: number; when: number; tag: string }[];
};
const readMigration = (tag: string) => readFileSync(`${folder}/${tag}.sql`, 'utf8').split('--> statement-breakpoint');

let place: string;
beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), 'workshop-'));
});
afterEach(() => rmSync(place, { recursive: true, force: true }));

async function readSchema(client: Client): Promise<unknown[]> {
  const { rows } = await client.execute(
    "select type, name, sql from sqlite_master where name not like 'sqlite_%' and name <> '__drizzle_migrations' order by type, name",
  );
  return rows.map((row) => [row.type, row.name, String(row.sql).replace(/[`"]/g, '').replace(/\s+/g, ' ')]);
}

describe('migrations', () => {
  test('every file is in the journal, in order, and the times rise: an older one would be skipped without a word', () => {
    const files = readdirSync(folder).filter((file) => file.endsWith('.sql'));
    expect(files.sort()).toEqual(journal.entries.map((entry) => `${entry.tag}.sql`));
    for (const [index, entry] of journal.entries.entries()) {
      expect(entry.idx).toBe(index);
      if (index > 0) expect(entry.when).toBeGreaterThan(journal.entries[index - 1]!.when);
    }
  });

  test('each piece between breakpoints is one statement: only the first of two would run', () => {
    for (const { tag } of journal.entries) {
      for (const statement of readMigration(tag)) {
        const withoutTexts = statement
          .replace(/'[^']*'/g, "''")
          .replace(/--.*$/gm, '')
          .trim();
        expect(withoutTexts.replace(/;$/, '')).not.toContain(';');
        expect(withoutTexts).not.toBe('');
      }
    }
  });

  test('run one by one, they give the tables of the schema', async () => {
    const migrated = createClient({ url: `file:${join(place, 'migrated.db')}` });
    for (const { tag } of journal.entries) {
      for (const statement of readMigration(tag)) await migrated.execute(statement);
    }
    const empty = await kit.generateSQLiteDrizzleJson({});
    const full = await kit.generateSQLiteDrizzleJson(schema);
    const wanted = createClient({ url: `file:${join(place, 'wanted.db')}` });
    for (const statement of await kit.generateSQLiteMigration(empty, full)) await wanted.execute(statement);
    const tables = await readSchema(migrated);
    expect(tables).toEqual(await readSchema(wanted));
    expect(tables.length).toBeGreaterThan(30);
    migrated.close();
    wanted.close();
  });
});

/** A database file as it was after the first so many migrations. */
async function openOld(before: number): Promise<{ readonly url: string; readonly client: Client }> {
  const old = join(place, 'migrations');
  mkdirSync(join(old, 'meta'), { recursive: true });
  const entries = journal.entries.slice(0, before);
  writeFileSync(join(old, 'meta', '_journal.json'), JSON.stringify({ ...journal, entries }));
  for (const { tag } of entries) copyFileSync(join(folder, `${tag}.sql`), join(old, `${tag}.sql`));
  const url = `file:${join(place, 'workshop.db')}`;
  const client = createClient({ url });
  await migrate(drizzle(client), { migrationsFolder: old });
  return { url, client };
}

test('a workshop of before quotes and selling keeps its orders, outlets and what points to them', async () => {
  const { url, client } = await openOld(3);
  await client.batch([
    "insert into outlets (name, kind, rank, price_rule, price_ratio) values ('Winter fair', 'fair', 1, 'margin', 0.3), ('gone', 'shop', 2, 'markup', 1.0)",
    "delete from outlets where name = 'gone'",
    "insert into orders (number, outlet_id, state, created_day, due_day) values (1, 1, 'agreed', '2026-11-01', '2026-12-01')",
    "insert into styles (name, shipped) values ('Slipper', 0)",
    "insert into yarns (name, tex, ball_mg, category) values ('Moor', 1000.0, 100000, 5)",
    "insert into yarn_colours (yarn_id, name, swatch_hex) values (1, 'Heather', '#7a5f8f')",
    "insert into lots (yarn_colour_id, dye_lot, got_day, paid_cents, bought_mg) values (1, 'A7', '2026-11-01', 800, 100000)",
    'insert into balls (lot_id, mass_mg) values (1, 90000)',
    "insert into order_lines (order_id, style_id, person, size_system, size_label, fit, quantity) values (1, 1, 'woman', 'eu', '38', 'usual', 2)",
  ]);
  client.close();

  const workshop = await openWorkshop(url);
  const [orders, outlets, lines] = await workshop.store.read((db) =>
    db.batch([listOrders(db), listOutlets(db), listLines(db, 1)]),
  );
  expect(orders).toMatchObject([
    { number: 1, state: 'agreed', dueDay: '2026-12-01', holds: false, postageCents: null },
  ]);
  expect(outlets).toMatchObject([{ name: 'Winter fair', priceRatio: 0.3, terms: null }]);
  expect(lines).toMatchObject([{ orderId: 1, quantity: 2 }]);
  expect(await workshop.store.read((db) => listLots(db))).toMatchObject([
    { dyeLot: 'A7', paidCents: 800, place: null },
  ]);
  await workshop.close();
  const again = createClient({ url });
  expect((await again.execute('pragma foreign_key_check')).rows).toEqual([]);
  // A number of a row that was taken away is not given to another.
  await again.execute(
    "insert into outlets (name, kind, rank, price_rule, price_ratio) values ('New', 'shop', 3, 'markup', 1.0)",
  );
  expect((await again.execute("select id from outlets where name = 'New'")).rows[0]?.id).toBe(3);
  again.close();
});

test('a purchase of before packs were kept with it has the pack that its offer had', async () => {
  const { url, client } = await openOld(7);
  await client.batch([
    "insert into yarns (name, tex, ball_mg, category) values ('Moor', 1000.0, 100000, 5)",
    "insert into yarn_colours (yarn_id, name, swatch_hex) values (1, 'Heather', '#7a5f8f')",
    "insert into suppliers (name, shipping_cents, minimum_cents, delivery_days, rank) values ('Quay Yarns', 450, 0, 4, 0)",
    'insert into offers (supplier_id, yarn_colour_id, ball_mg, balls_per_pack, price_cents) values (1, 1, 100000, 1, 890), (1, 1, 50000, 10, 3900)',
    "insert into purchases (supplier_id, state, ordered_day, expected_day, shipping_cents) values (1, 'ordered', '2026-11-20', '2026-11-24', 450)",
    'insert into purchase_lines (purchase_id, offer_id, packs, arrived_packs, price_cents) values (1, 1, 3, 1, 890), (1, 2, 2, 0, 3900), (1, 2, 1, 0, 3900)',
    'delete from purchase_lines where id = 3',
    "insert into lots (yarn_colour_id, got_day, paid_cents, bought_mg) values (1, '2026-11-22', 890, 100000)",
    'insert into balls (lot_id, mass_mg) values (1, 100000)',
    "insert into ball_moves (ball_id, change_mg, reason, day, purchase_line_id) values (1, 100000, 'bought', '2026-11-22', 1)",
  ]);
  client.close();
  const workshop = await openWorkshop(url);
  expect(await workshop.store.read((db) => listPurchaseLines(db))).toMatchObject([
    { id: 1, offerId: 1, ballMg: 100_000, ballsPerPack: 1, packs: 3, arrivedPacks: 1, priceCents: 890 },
    { id: 2, offerId: 2, ballMg: 50_000, ballsPerPack: 10, packs: 2, arrivedPacks: 0, priceCents: 3900 },
  ]);
  await workshop.close();
  const again = createClient({ url });
  expect((await again.execute('pragma foreign_key_check')).rows).toEqual([]);
  expect((await again.execute('select purchase_line_id from ball_moves')).rows[0]?.purchase_line_id).toBe(1);
  // The number of a line that was taken away is not given to another.
  await again.execute(
    'insert into purchase_lines (purchase_id, offer_id, ball_mg, balls_per_pack, packs, price_cents) values (1, 1, 1, 1, 1, 1)',
  );
  expect((await again.execute('select max(id) as id from purchase_lines')).rows[0]?.id).toBe(4);
  again.close();
});

test('limits of the post in whole grams of before stay what they were', async () => {
  const { url, client } = await openOld(8);
  await client.batch([
    "insert into postage_bands (name, up_to_g, cents, days) values ('Inland', 250, 320, 2), ('Inland', 1000, 495, 2)",
    'delete from postage_bands where id = 2',
  ]);
  client.close();
  const workshop = await openWorkshop(url);
  const values = { name: 'Inland', upToG: 226.8, cents: 295, days: 2 };
  await workshop.store.write('test', (tx) => createPostageBand(tx, values));
  expect(await workshop.store.read((db) => listPostageBands(db))).toMatchObject([
    { id: 3, ...values },
    { id: 1, name: 'Inland', upToG: 250, cents: 320, days: 2 },
  ]);
  await workshop.close();
});

test('lines of before a line could be given to a knitter are for whoever has time, and keep what points to them', async () => {
  const { url, client } = await openOld(9);
  await client.batch([
    "insert into outlets (name, kind, rank, price_rule, price_ratio) values ('Winter fair', 'fair', 1, 'margin', 0.3)",
    "insert into orders (number, outlet_id, state, created_day) values (1, 1, 'agreed', '2026-11-01')",
    "insert into styles (name, shipped) values ('Slipper', 0)",
    "insert into yarns (name, tex, ball_mg, category) values ('Moor', 1000.0, 100000, 5)",
    "insert into yarn_colours (yarn_id, name, swatch_hex) values (1, 'Heather', '#7a5f8f')",
    "insert into order_lines (order_id, style_id, person, size_system, size_label, fit, cuff_height_mm, quantity, agreed_cents) values (1, 1, 'woman', 'eu', '38', 'usual', 140.0, 2, 4400), (1, 1, 'man', 'eu', '44', 'roomy', null, 1, null)",
    'delete from order_lines where id = 2',
    "insert into line_colours (line_id, role, strand, yarn_colour_id) values (1, 'main', 0, 1)",
    "insert into knitters (name) values ('Ada')",
  ]);
  client.close();
  const workshop = await openWorkshop(url);
  expect(await workshop.store.read((db) => listLines(db, 1))).toMatchObject([
    { id: 1, sizeLabel: '38', cuffHeightMm: 140, quantity: 2, agreedCents: 4400, knitterId: null, version: 1 },
  ]);
  await workshop.close();
  const again = createClient({ url });
  await again.execute('pragma foreign_keys = on');
  expect((await again.execute('pragma foreign_key_check')).rows).toEqual([]);
  const add = (knitterId: number) =>
    again.execute(
      `insert into order_lines (order_id, style_id, person, size_system, size_label, fit, quantity, knitter_id) values (1, 1, 'man', 'eu', '44', 'usual', 1, ${knitterId})`,
    );
  await expect(add(9)).rejects.toMatchObject({ code: 'SQLITE_CONSTRAINT' });
  await add(1);
  // The number of a line that was taken away is not given to another.
  expect((await again.execute('select max(id) as id from order_lines')).rows[0]?.id).toBe(3);
  await expect(again.execute('delete from order_lines where id = 1')).rejects.toMatchObject({
    code: 'SQLITE_CONSTRAINT',
  });
  again.close();
});

describe('openWorkshop', () => {
  const url = () => `file:${join(place, 'deep', 'er', 'workshop.db')}`;

  test('makes folder and file, and finds everything again when opened the second time', async () => {
    const first = await openWorkshop(url());
    await first.store.write('test', (tx) => addYarn(tx, { name: 'Moor' }));
    const before = await first.store.read(readState);
    await first.close();
    const second = await openWorkshop(url());
    expect(await second.store.read(readState)).toEqual(before);
    expect((await second.store.read((db) => listYarns(db))).map((yarn) => yarn.name)).toEqual(['Moor']);
    await second.close();
  });

  test('two workshops are born with two names', async () => {
    const first = await openWorkshop(url());
    const second = await openWorkshop(`file:${join(place, 'other.db')}`);
    const [one, two] = [await first.store.read(readState), await second.store.read(readState)];
    expect(one.born).not.toBe(two.born);
    expect(one.revision).toBe(0);
    await first.close();
    await second.close();
  });

  test('the file keeps a write-ahead log, and foreign keys hold on every connection', async () => {
    const workshop = await openWorkshop(url());
    const client = createClient({ url: url() });
    expect((await client.execute('pragma journal_mode')).rows[0]?.journal_mode).toBe('wal');
    client.close();
    await expect(
      Promise.all(
        Array.from({ length: 5 }, () =>
          workshop.store.write('test', (tx) =>
            tx.changer.insert(schema.yarnColours).values({ yarnId: 9, name: 'x', swatchHex: '#000000' }),
          ),
        ),
      ),
    ).rejects.toMatchObject({ code: 'conflict' });
    await workshop.close();
  });

  test('a file of a newer program is refused in words and left as it was', async () => {
    await (await openWorkshop(url())).close();
    const client = createClient({ url: url() });
    await client.execute("insert into __drizzle_migrations (hash, created_at) values ('later', 99999999999999)");
    await client.execute('create table tomorrow (id integer)');
    const read = async () => [
      await readSchema(client),
      (await client.execute('select * from __drizzle_migrations')).rows.length,
    ];
    const before = await read();
    await expect(openWorkshop(url())).rejects.toMatchObject({ code: 'newerSchema' });
    expect(await read()).toEqual(before);
    client.close();
  });

  test('a file that another program is writing to opens for reading all the same', async () => {
    await (await openWorkshop(url())).close();
    const client = createClient({ url: url() });
    const transaction = await client.transaction('write');
    await transaction.execute("insert into settings (name, value_json) values ('x', '1')");
    const workshop = await openWorkshop(url(), { waitMs: 20 });
    expect((await workshop.store.read(readState)).revision).toBe(0);
    await transaction.rollback();
    client.close();
    await workshop.close();
  });

  test('a new file that another program has locked is refused in words, and opens afterwards', async () => {
    const file = `file:${join(place, 'workshop.db')}`;
    const client = createClient({ url: file });
    const transaction = await client.transaction('write');
    await transaction.execute('create table other (id integer)');
    await expect(openWorkshop(file, { waitMs: 20 })).rejects.toMatchObject({ code: 'busy' });
    await transaction.rollback();
    client.close();
    await (await openWorkshop(file)).close();
  });

  test('a folder in the place of the file is refused in words', async () => {
    await expect(openWorkshop(`file:${place}`)).rejects.toMatchObject({ code: 'readOnly' });
  });
});

test('a workshop of before days of handing over keeps its balls, who has them, their moves and their numbers', async () => {
  const { url, client } = await openOld(10);
  await client.batch([
    "insert into knitters (name) values ('Greta')",
    "insert into yarns (name, tex, ball_mg, category) values ('Moor', 1000.0, 100000, 5)",
    "insert into yarn_colours (yarn_id, name, swatch_hex) values (1, 'Heather', '#7a5f8f')",
    "insert into lots (yarn_colour_id, dye_lot, got_day, paid_cents, bought_mg) values (1, 'A7', '2026-11-01', 800, 100000)",
    'insert into balls (lot_id, mass_mg, knitter_id) values (1, 90000, 1), (1, 10000, null)',
    'delete from balls where id = 2',
    "insert into ball_moves (ball_id, change_mg, reason, day) values (1, 90000, 'bought', '2026-11-01')",
  ]);
  client.close();

  const workshop = await openWorkshop(url);
  const [balls, moves] = await workshop.store.read((db) => db.batch([listBalls(db), listAllMoves(db)]));
  expect(balls).toMatchObject([{ id: 1, massMg: 90_000, knitterId: 1, handedDay: null }]);
  expect(moves).toMatchObject([{ ballId: 1, changeMg: 90_000 }]);
  // A number that was used once is used no more.
  const ball = { lotId: 1, massMg: 5000, reason: 'bought', day: '2026-11-02' } as const;
  expect((await workshop.store.write('test', (tx) => createBall(tx, ball))).id).toBe(3);
  await workshop.close();
});
