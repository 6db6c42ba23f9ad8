import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { yarns } from '#db/schema/shelf.ts';
import { insertAll, remove, update } from '#db/stores/record.ts';
import { changeYarn, listYarns, removeYarn } from '#db/stores/shelf.ts';
import { listChangesOf, listLastChanges } from '#db/stores/workshop.ts';
import { addYarn, addYarnColour, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

describe('insert, update and remove', () => {
  test('each leaves a line of history with the row before and after, the flow and the instant', async () => {
    const startMs = Date.now();
    const yarn = await workshop.store.write('shelf: add a yarn', (tx) => addYarn(tx, { name: 'Moor' }));
    const changed = await workshop.store.write('shelf: rename', (tx) => changeYarn(tx, yarn.id, { name: 'Heath' }, 1));
    await workshop.store.write('shelf: remove', (tx) => removeYarn(tx, yarn.id, 2));
    const history = await workshop.store.read((db) => listChangesOf(db, 'yarns', yarn.id));
    expect(changed).toEqual({ ...yarn, name: 'Heath', version: 2 });
    expect(history.map((each) => [each.flow, each.who])).toEqual([
      ['shelf: add a yarn', null],
      ['shelf: rename', null],
      ['shelf: remove', null],
    ]);
    const read = (text: string | null) => (text === null ? null : JSON.parse(text));
    expect(history.map((each) => [read(each.beforeJson), read(each.afterJson)])).toEqual([
      [null, yarn],
      [yarn, changed],
      [changed, null],
    ]);
    for (const each of history) {
      expect(each.atMs).toBeGreaterThanOrEqual(startMs);
      expect(each.atMs).toBeLessThanOrEqual(Date.now());
    }
  });

  test('a row that is not there: notFound, from a change and from a removal', async () => {
    await expect(workshop.store.write('test', (tx) => changeYarn(tx, 7, { tex: 1 }))).rejects.toMatchObject({
      code: 'notFound',
    });
    await expect(workshop.store.write('test', (tx) => removeYarn(tx, 7))).rejects.toMatchObject({ code: 'notFound' });
  });

  test('a removal against an old version is a conflict with the other change in hand', async () => {
    const yarn = await workshop.store.write('test', (tx) => addYarn(tx));
    await workshop.store.write('test', (tx) => update(tx, yarns, yarn.id, { tex: 990 }));
    await expect(workshop.store.write('test', (tx) => remove(tx, yarns, yarn.id, yarn.version))).rejects.toMatchObject({
      code: 'conflict',
      current: { tex: 990, version: 2 },
    });
    expect(await workshop.store.read((db) => listYarns(db))).toHaveLength(1);
  });

  test('a removal of a row that others need is a conflict, and nothing goes', async () => {
    const colour = await workshop.store.write('test', (tx) => addYarnColour(tx));
    await expect(workshop.store.write('test', (tx) => removeYarn(tx, colour.yarnId))).rejects.toMatchObject({
      code: 'conflict',
    });
    expect(await workshop.store.read((db) => listYarns(db))).toHaveLength(1);
  });

  test('a name that is taken is a conflict, in words that hold no value of the statement', async () => {
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'Moor' }));
    const second = workshop.store.write('test', (tx) => addYarn(tx, { name: 'Moor', fibre: 'secret fibre' }));
    const error = await second.catch((thrown: Error) => thrown);
    expect(error).toMatchObject({ code: 'conflict' });
    expect(`${error} ${String((error as Error).cause)}`).not.toContain('secret fibre');
  });

  test('ids are not used twice, so that the history of a removed row is nobody else’s', async () => {
    const first = await workshop.store.write('test', (tx) => addYarn(tx));
    await workshop.store.write('test', (tx) => removeYarn(tx, first.id));
    const second = await workshop.store.write('test', (tx) => addYarn(tx));
    expect(second.id).toBe(first.id + 1);
  });
});

describe('insertAll', () => {
  test('4 000 rows, more than one statement takes, come back in the order given, each with its history', async () => {
    const rows = Array.from({ length: 4_000 }, (_, index) => ({
      name: `Yarn ${index}`,
      tex: 1000,
      ballMg: 100_000,
      category: 5 as const,
    }));
    const added = await workshop.store.write('test', (tx) => insertAll(tx, yarns, rows));
    expect(added.map((row) => row.name)).toEqual(rows.map((row) => row.name));
    const [last] = await workshop.store.read((db) => listLastChanges(db, 1));
    expect(last).toMatchObject({ id: 4_000, row: 4_000 });
  });

  test('nothing to add adds nothing', async () => {
    expect(await workshop.store.write('test', (tx) => insertAll(tx, yarns, []))).toEqual([]);
  });
});

describe('source', () => {
  test('rows are added, changed and deleted in record.ts, the clearing and the write door alone', () => {
    const root = fileURLToPath(new URL('../../..', import.meta.url));
    const folders = ['db', 'src', 'views'];
    const files = folders.flatMap((folder) =>
      readdirSync(`${root}/${folder}`, { recursive: true, encoding: 'utf8' })
        .filter((file) => /\.tsx?$/.test(file))
        .map((file) => `${folder}/${file}`),
    );
    const isAllowed = (file: string) => ['db/stores/record.ts', 'db/stores/clear.ts', 'db/store.ts'].includes(file);
    // Set.delete, Map.delete and the like take no table: what drizzle adds, changes or deletes starts from these names.
    const writes = /\b(db|tx|raw|changer|connection)\s*\.\s*(insert|update|delete)\s*\(|\bchanger\b/;
    const found = files.filter((file) => !isAllowed(file) && writes.test(readFileSync(`${root}/${file}`, 'utf8')));
    expect(files.length).toBeGreaterThan(20);
    expect(found).toEqual([]);
    expect(writes.test(readFileSync(`${root}/db/stores/record.ts`, 'utf8'))).toBe(true);
  });
});
