import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Client, createClient } from '@libsql/client';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { restoreCopy, saveCopy } from '#db/copy.ts';
import { openWorkshop } from '#db/open.ts';
import { listYarns } from '#db/stores/shelf.ts';
import { createSession, setPassphraseHash } from '#db/stores/sign-in.ts';
import { readState } from '#db/stores/workshop.ts';
import {
  addKnitter,
  addLot,
  addOffer,
  addOrder,
  addStyle,
  addYarn,
  addYarnColour,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let copy: string;
beforeEach(async () => {
  workshop = await openTestWorkshop({ waitMs: 50 });
  copy = join(workshop.folder, 'copy.db');
});
afterEach(() => workshop.discard());

async function fill(): Promise<void> {
  await workshop.store.write('test', async (tx) => {
    const style = await addStyle(tx);
    const colour = await addYarnColour(tx);
    await addLot(tx, [100_000, 37_000], { yarnColourId: colour.id });
    await addOffer(tx, { yarnColourId: colour.id });
    await addKnitter(tx);
    await addOrder(tx, { lines: [lineOf(style.id, colour.id), lineOf(style.id, colour.id, { cuffHeightMm: 0 })] });
  });
}

async function addKeys(word: string): Promise<void> {
  await workshop.store.write('test', async (tx) => {
    await setPassphraseHash(tx, `${word} hash`);
    await createSession(tx, { tokenHash: `${word} token`, bornMs: 1, lastSeenMs: 1, expiresMs: 2 });
  });
}

/** All rows of all tables; the counters of used ids too. */
async function readAll(file: string): Promise<Record<string, unknown[]>> {
  const client: Client = createClient({ url: `file:${file}` });
  const { rows } = await client.execute("select name from sqlite_master where type = 'table' order by name");
  const all: Record<string, unknown[]> = {};
  for (const { name } of rows) {
    all[String(name)] = (await client.execute(`select * from "${name}" order by 1`)).rows.map((row) => ({ ...row }));
  }
  client.close();
  return all;
}

describe('saveCopy', () => {
  test('the copy equals the workshop, row by row, and opens as one', async () => {
    await fill();
    expect(await saveCopy(workshop, copy)).toEqual({ ok: true, value: { file: copy } });
    const rows = await readAll(copy);
    expect(rows).toEqual(await readAll(workshop.file));
    expect(rows.order_lines).toHaveLength(2);
    const opened = await openWorkshop(`file:${copy}`);
    expect(await opened.store.read(readState)).toEqual(await workshop.store.read(readState));
    await opened.close();
  });

  test('the copy holds neither the passphrase nor who is signed in, nor a trace of them in its bytes', async () => {
    await fill();
    await addKeys('mine');
    await saveCopy(workshop, copy);
    const { passphrase, sessions } = await readAll(copy);
    expect([passphrase, sessions]).toEqual([[], []]);
    expect(readFileSync(copy).includes('mine')).toBe(false);
    expect((await readAll(workshop.file)).passphrase).toHaveLength(1);
  });

  test('a file that is there is not overwritten', async () => {
    writeFileSync(copy, 'letters');
    expect(await saveCopy(workshop, copy)).toMatchObject({ ok: false, problems: [{ code: 'fileExists' }] });
    expect(readFileSync(copy, 'utf8')).toBe('letters');
  });

  test('a folder that is not there: an error in words, and no part of a file', async () => {
    await expect(saveCopy(workshop, join(workshop.folder, 'no', 'copy.db'))).rejects.toMatchObject({
      code: 'readOnly',
    });
    expect(readdirSync(workshop.folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

describe('restoreCopy', () => {
  test('brings back every row of the copy, under a new name, and keeps the workshop it replaced', async () => {
    await fill();
    await saveCopy(workshop, copy);
    const { state: _, ...saved } = await readAll(copy);
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'bought since' }));
    const { state: before } = await readAll(workshop.file);
    const replaced = await readAll(workshop.file);

    const restored = await restoreCopy(workshop, copy);
    if (!restored.ok) throw new Error(restored.problems[0]!.message);

    const { state, ...rows } = await readAll(workshop.file);
    expect(rows).toEqual(saved);
    expect(state).toMatchObject([{ id: 1, revision: 1 }]);
    // Else a plan remembered for revision 2 of the old rows would be shown for revision 2 of the new.
    expect((state as { born: string }[])[0]!.born).not.toBe((before as { born: string }[])[0]!.born);
    expect(restored.value.keptAs).toMatch(/workshop-before-\d{8}-\d{9}\.db$/);
    expect(await readAll(restored.value.keptAs)).toEqual(replaced);
  });

  test('the workshop that was open goes on with the copy, keys checked, without being opened again', async () => {
    await fill();
    await saveCopy(workshop, copy);
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'bought since' }));
    await restoreCopy(workshop, copy);
    const names = (await workshop.store.read((db) => listYarns(db))).map((yarn) => yarn.name);
    expect(names).not.toContain('bought since');
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'bought after' }));
    await expect(workshop.store.write('test', (tx) => addYarnColour(tx, { yarnId: 99 }))).rejects.toMatchObject({
      code: 'conflict',
    });
    expect((await workshop.store.read(readState)).revision).toBe(2);
  });

  test('the passphrase and who is signed in stay as they are, whatever file is opened', async () => {
    const other = await openTestWorkshop();
    try {
      await other.store.write('test', (tx) => setPassphraseHash(tx, 'theirs'));
      await addKeys('mine');
      const keys = async () => {
        const { passphrase, sessions } = await readAll(workshop.file);
        return { passphrase, sessions };
      };
      const before = await keys();
      // All of a workshop, made by hand rather than by "Save a copy".
      await change(other.file, `vacuum into '${copy}'`);
      expect((await readAll(copy)).passphrase).toHaveLength(1);
      expect((await restoreCopy(workshop, copy)).ok).toBe(true);
      expect(await keys()).toEqual(before);
      expect(before.sessions).toHaveLength(1);
    } finally {
      await other.discard();
    }
  });

  test('leaves nothing behind but the kept workshop, and the copy as it was', async () => {
    await saveCopy(workshop, copy);
    const bytes = readFileSync(copy);
    await restoreCopy(workshop, copy);
    expect(readFileSync(copy).equals(bytes)).toBe(true);
    const others = readdirSync(workshop.folder).filter((name) => !/^(workshop\.db(-wal|-shm)?|copy\.db)$/.test(name));
    expect(others).toHaveLength(1);
    expect(others[0]).toMatch(/^workshop-before-/);
  });

  test('writes begun beside it land whole, before or after', async () => {
    await fill();
    await saveCopy(workshop, copy);
    const results = await Promise.all([
      workshop.store.write('test', (tx) => addYarn(tx, { name: 'before' })),
      restoreCopy(workshop, copy),
      ...Array.from({ length: 5 }, (_, index) =>
        workshop.store.write('test', (tx) => addYarn(tx, { name: `beside ${index}` })),
      ),
      ...Array.from({ length: 5 }, () => workshop.store.read((db) => listYarns(db))),
    ]);
    expect(results).toHaveLength(12);
    await workshop.store.write('test', (tx) => addYarn(tx, { name: 'last' }));
    expect((await workshop.store.read((db) => listYarns(db))).map((yarn) => yarn.name)).toContain('last');
  });

  const change = async (file: string, statement: string) => {
    const client = createClient({ url: `file:${file}` });
    await client.executeMultiple(statement);
    client.close();
  };

  const unfit: readonly [string, string, (file: string) => Promise<void> | void][] = [
    ['an empty file', 'notAWorkshop', (file) => writeFileSync(file, '')],
    ['letters', 'notAWorkshop', (file) => writeFileSync(file, 'Dear diary, '.repeat(1000))],
    ['a database of something else', 'notAWorkshop', (file) => change(file, 'create table state (id integer)')],
    [
      'a workshop with a trigger of somebody else’s',
      'notAWorkshop',
      async (file) => {
        await saveCopy(workshop, file);
        await change(file, 'create trigger gone after insert on orders begin delete from balls; end');
      },
    ],
    [
      'a workshop with a table of its own',
      'notAWorkshop',
      async (file) => {
        await saveCopy(workshop, file);
        await change(file, 'create table more (id integer)');
      },
    ],
    [
      'a workshop with two names',
      'notAWorkshop',
      async (file) => {
        await saveCopy(workshop, file);
        await change(file, 'delete from state');
      },
    ],
    [
      'a copy with its middle torn out',
      'damaged',
      async (file) => {
        await saveCopy(workshop, file);
        const bytes = readFileSync(file);
        bytes.fill(0x55, 4096 * 4, 4096 * 60);
        writeFileSync(file, bytes);
      },
    ],
    [
      'a copy whose rows point to nothing',
      'damaged',
      async (file) => {
        await saveCopy(workshop, file);
        await change(file, 'pragma foreign_keys = off; delete from yarns');
      },
    ],
    [
      'a copy of a newer program',
      'newerSchema',
      async (file) => {
        await saveCopy(workshop, file);
        await change(file, "insert into __drizzle_migrations (hash, created_at) values ('later', 99999999999999)");
      },
    ],
  ];
  test.each(unfit)('%s is refused (%s), and the workshop goes on as it was', async (_, code, make) => {
    await fill();
    await make(copy);
    const before = await readAll(workshop.file);
    const restored = await restoreCopy(workshop, copy);
    expect(restored).toMatchObject({ ok: false, problems: [{ code, path: 'file' }] });
    expect(await readAll(workshop.file)).toEqual(before);
    await workshop.store.write('test', (tx) => addYarn(tx));
    expect(readdirSync(workshop.folder).filter((name) => /before|incoming/.test(name))).toEqual([]);
  });

  test('a failure at the last moment leaves the old rows, and the workshop works on', async () => {
    await fill();
    await saveCopy(workshop, copy);
    const before = await readAll(workshop.file);
    const other = createClient({ url: `file:${workshop.file}` });
    const transaction = await other.transaction('write');
    await transaction.execute("insert into settings (name, value_json) values ('x', '1')");
    await expect(restoreCopy(workshop, copy)).rejects.toMatchObject({ code: 'busy' });
    await transaction.rollback();
    other.close();
    expect(await readAll(workshop.file)).toEqual(before);
    await workshop.store.write('test', (tx) => addYarn(tx));
    expect((await restoreCopy(workshop, copy)).ok).toBe(true);
  });

  test('a copy that is not there is an error, and nothing is left behind', async () => {
    await expect(restoreCopy(workshop, join(workshop.folder, 'none.db'))).rejects.toThrow();
    expect(existsSync(workshop.file)).toBe(true);
    expect(readdirSync(workshop.folder).filter((name) => /before|incoming/.test(name))).toEqual([]);
  });
});
