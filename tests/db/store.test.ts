import { createClient } from '@libsql/client';
import { type SQL, sql } from 'drizzle-orm';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { AppError } from '#core/shared/app-error.ts';
import { refuse } from '#core/shared/problem.ts';
import type { Database, Tx } from '#db/store.ts';
import { changeYarn, findYarn, listYarns } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';
import { addYarn, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop({ waitMs: 50 });
});
afterEach(() => workshop.discard());

const readRevision = async () => (await workshop.store.read(readState)).revision;

async function codeOf(promise: Promise<unknown>): Promise<string> {
  const error = await promise.then(
    () => null,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof AppError)) throw new Error('expected an AppError', { cause: error });
  return error.code;
}

describe('store.write', () => {
  test('50 writes begun at once all land, one after another, in order', async () => {
    let open = 0;
    let mostOpen = 0;
    const names = Array.from({ length: 50 }, (_, index) => `Yarn ${String(index).padStart(2, '0')}`);
    await Promise.all(
      names.map((name) =>
        workshop.store.write('test', async (tx) => {
          open += 1;
          mostOpen = Math.max(mostOpen, open);
          await addYarn(tx, { name });
          await new Promise((resolve) => setTimeout(resolve, 1));
          open -= 1;
        }),
      ),
    );
    const stored = await workshop.store.read((db) => listYarns(db));
    expect(mostOpen).toBe(1);
    expect(stored.sort((a, b) => a.id - b.id).map((yarn) => yarn.name)).toEqual(names);
    expect(await readRevision()).toBe(50);
  });

  test('returns what the flow returns and raises the revision by one, however much it wrote', async () => {
    const yarn = await workshop.store.write('test', async (tx) => {
      await addYarn(tx);
      return await addYarn(tx);
    });
    expect(yarn.id).toBe(2);
    expect(await readRevision()).toBe(1);
  });

  test('a write inside a write throws at once, and nothing of the outer one stays', async () => {
    const outer = workshop.store.write('outer', async (tx) => {
      await addYarn(tx);
      await workshop.store.write('inner', (inner) => addYarn(inner));
    });
    await expect(outer).rejects.toThrow('store.write inside a write');
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
    await workshop.store.write('after', (tx) => addYarn(tx));
    expect(await readRevision()).toBe(1);
  });

  test('a read of the old state inside a write throws; the tx reads what was written', async () => {
    await expect(workshop.store.write('test', () => workshop.store.read((db) => listYarns(db)))).rejects.toThrow(
      'store.read inside a write',
    );
    const seen = await workshop.store.write('test', async (tx) => {
      const { id } = await addYarn(tx, { name: 'just written' });
      return (await findYarn(tx, id))?.name;
    });
    expect(seen).toBe('just written');
  });

  test('work that a write began and left behind may write once that write is over', async () => {
    let later: Promise<unknown> = Promise.resolve();
    await workshop.store.write('first', async () => {
      later = new Promise((resolve) => setTimeout(resolve, 20)).then(() =>
        workshop.store.write('second', (tx) => addYarn(tx)),
      );
    });
    await later;
    expect(await readRevision()).toBe(2);
  });

  test('a flow that throws leaves nothing, the revision and the history as they were, and the next write works', async () => {
    const failing = workshop.store.write('test', async (tx) => {
      await addYarn(tx);
      throw new Error('midway');
    });
    await expect(failing).rejects.toThrow('midway');
    const rows = await workshop.store.read((db) =>
      db
        .select({ yarns: sql`(select count(*) from yarns)`, changes: sql`(select count(*) from changes)` })
        .from(sql`state`),
    );
    expect(rows).toEqual([{ yarns: 0, changes: 0 }]);
    expect(await readRevision()).toBe(0);
    await workshop.store.write('test', (tx) => addYarn(tx));
    expect(await readRevision()).toBe(1);
  });

  test('a flow that returns a refusal undoes what it wrote and hands the refusal back', async () => {
    const refusal = refuse({ code: 'no', path: 'name', message: 'No.' });
    const result = await workshop.store.write('test', async (tx) => {
      await addYarn(tx);
      return refusal;
    });
    expect(result).toEqual(refusal);
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
    expect(await readRevision()).toBe(0);
  });

  test('a read beside an open write sees the workshop as it was before', async () => {
    let resume = () => {};
    const held = new Promise<void>((resolve) => {
      resume = resolve;
    });
    const write = workshop.store.write('test', async (tx) => {
      await addYarn(tx);
      await held;
    });
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
    resume();
    await write;
    expect(await workshop.store.read((db) => listYarns(db))).toHaveLength(1);
  });

  test('two changes from the same version: the second is told, with the other one in hand', async () => {
    const yarn = await workshop.store.write('test', (tx) => addYarn(tx, { name: 'Moor' }));
    await workshop.store.write('test', (tx) => changeYarn(tx, yarn.id, { name: 'Heath' }, yarn.version));
    const second = workshop.store.write('test', (tx) => changeYarn(tx, yarn.id, { name: 'Bog' }, yarn.version));
    await expect(second).rejects.toMatchObject({ code: 'conflict', current: { name: 'Heath', version: 2 } });
    expect((await workshop.store.read((db) => findYarn(db, yarn.id)))?.name).toBe('Heath');
    expect(await readRevision()).toBe(2);
  });
});

function runRaw(tx: Tx, query: SQL): Promise<unknown> {
  return (tx.changer as Database).run(query);
}

describe('a file that will not take a write', () => {
  // A second program with the file open for writing.
  async function lockFile() {
    const other = createClient({ url: `file:${workshop.file}` });
    const transaction = await other.transaction('write');
    await transaction.execute("insert into settings (name, value_json) values ('x', '1')");
    return async () => {
      await transaction.rollback();
      other.close();
    };
  }

  test('locked by another program: busy, nothing kept, and it works again afterwards', async () => {
    const unlock = await lockFile();
    expect(await codeOf(workshop.store.write('test', (tx) => addYarn(tx)))).toBe('busy');
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
    await unlock();
    for (let round = 0; round < 3; round += 1) await workshop.store.write('test', (tx) => addYarn(tx));
    expect(await workshop.store.read((db) => listYarns(db))).toHaveLength(3);
    expect(await readRevision()).toBe(3);
  });

  test('the disk full: said so, nothing kept, and it works again afterwards', async () => {
    const writing = workshop.store.write('test', async (tx) => {
      // A limit below the file's size means: no page more than it has.
      await runRaw(tx, sql`pragma max_page_count = 1`);
      for (let count = 0; count < 500; count += 1) await addYarn(tx, { fibre: 'w'.repeat(200) });
    });
    expect(await codeOf(writing)).toBe('diskFull');
    expect(await workshop.store.read((db) => listYarns(db))).toEqual([]);
    await workshop.store.write('test', (tx) => addYarn(tx));
    expect(await readRevision()).toBe(1);
  });

  test('a file that may only be read: said so, and it works again afterwards', async () => {
    const writing = workshop.store.write('test', async (tx) => {
      await runRaw(tx, sql`pragma query_only = 1`);
      await addYarn(tx);
    });
    expect(await codeOf(writing)).toBe('readOnly');
    await workshop.store.write('test', (tx) => addYarn(tx));
    expect(await readRevision()).toBe(1);
  });
});
