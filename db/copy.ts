import { closeSync, constants, existsSync, fsyncSync, openSync } from 'node:fs';
import { copyFile, rename, rm } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import { type Client, createClient, LibsqlError } from '@libsql/client';
import { AppError } from '#core/shared/app-error.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { explainFailure } from '#db/failures.ts';
import { connect, filePathOf, insideOf, newBorn, requireKnownSchema, type Workshop } from '#db/open.ts';

const onServer: Problem = {
  code: 'notAFile',
  path: 'file',
  message: 'This workshop lives on a database server. Ask whoever looks after the server for a copy.',
};

/**
 * Writes the workshop as it stands into a new file, whole or not at all, while work goes on.
 *
 * @param toFile a path where nothing is yet
 * @throws {AppError} `diskFull`, `readOnly`, `busy`
 */
export async function saveCopy(workshop: Workshop, toFile: string): Promise<Result<{ readonly file: string }>> {
  if (filePathOf(workshop.url) === null) return refuse(onServer);
  if (existsSync(toFile)) {
    return refuse({ code: 'fileExists', path: 'file', message: 'There is a file of that name. Choose another name.' });
  }
  try {
    await writeCopy(insideOf(workshop).client, toFile);
    return succeed({ file: toFile });
  } catch (error) {
    throw explainFailure(error);
  }
}

/**
 * Puts what is in a saved copy in the place of what is in the open workshop. The copy is checked and brought up to date
 * in a file of its own first; the old workshop is kept as a copy; then all rows change over in one transaction, so that
 * a failure at any moment leaves the old workshop whole and in use. Files never change names: the driver closes a file
 * some time after it was told to, and would then take away the log of whatever has its name.
 *
 * @param fromFile a file that `saveCopy` wrote, here or elsewhere; it is left as it is
 * @returns where the old workshop is kept, `<name>-before-<time>.db` beside it; or why the file will not do
 * @throws {AppError} `busy`, `diskFull`, `readOnly`
 */
export async function restoreCopy(workshop: Workshop, fromFile: string): Promise<Result<{ readonly keptAs: string }>> {
  const path = filePathOf(workshop.url);
  if (path === null) return refuse(onServer);
  const { client, runAlone } = insideOf(workshop);
  const stamp = new Date()
    .toISOString()
    .replace(/[-:.Z]/g, '')
    .replace('T', '-');
  const base = path.replace(/\.db$/, '');
  const incoming = `${base}-incoming-${stamp}.db`;
  const keptAs = `${base}-before-${stamp}.db`;
  try {
    await copyFile(fromFile, incoming, constants.COPYFILE_EXCL);
    const problem = await makeReady(client, incoming);
    if (problem) return refuse(problem);
    await runAlone(async () => {
      await writeCopy(client, keptAs);
      await changeRows(client, incoming);
    });
    return succeed({ keptAs });
  } catch (error) {
    throw explainFailure(error);
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) await rm(`${incoming}${end}`, { force: true });
  }
}

async function writeCopy(client: Client, toFile: string): Promise<void> {
  const unfinished = `${toFile}.part`;
  try {
    await rm(unfinished, { force: true });
    await client.execute({ sql: 'vacuum into ?', args: [unfinished] });
    await leaveKeysOut(unfinished);
    sync(unfinished);
    await rename(unfinished, toFile);
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
}

const quoteText = (text: string) => `'${text.replaceAll("'", "''")}'`;
const quoteName = (name: string) => `"${name.replaceAll('"', '""')}"`;

/** Who may come in belongs to a workshop's own file: it neither goes out with a copy nor comes in with one. */
const keyTables: readonly string[] = ['passphrase', 'sessions'];

// Attached to a connection of its own and detached again: that closes the file at once, which ending a connection does not.
async function leaveKeysOut(file: string): Promise<void> {
  const client = createClient({ url: ':memory:' });
  try {
    await client.executeMultiple(
      [
        `attach ${quoteText(file)} as leaving`,
        // What is deleted is overwritten as well.
        'pragma leaving.secure_delete = on',
        ...keyTables.map((table) => `delete from leaving.${quoteName(table)}`),
        'detach leaving',
      ].join(';\n'),
    );
  } finally {
    client.close();
  }
}

function sync(file: string): void {
  const handle = openSync(file, 'r+');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

const notOurs: Problem = {
  code: 'notAWorkshop',
  path: 'file',
  message: 'This file is not a copy of a workshop. Choose a file that "Save a copy" made.',
};
const damaged: Problem = {
  code: 'damaged',
  path: 'file',
  message: 'This copy is damaged and cannot be used. Choose another copy; your workshop is as it was.',
};

/** Checks a copy that lies beside the workshop and brings it up to date. @returns what is wrong with it, or null */
async function makeReady(mine: Client, file: string): Promise<Problem | null> {
  const url = pathToFileURL(file).href;
  let client: Client | undefined;
  try {
    client = createClient({ url, concurrency: 1 });
    const problem = await findProblem(client);
    if (problem) return problem;
    client.close();
    ({ client } = await connect(url));
    if ((await readSchema(mine)) !== (await readSchema(client))) return notOurs;
    return (await isWhole(client)) ? null : damaged;
  } catch (error) {
    if (error instanceof AppError && error.code === 'newerSchema') {
      return { code: 'newerSchema', path: 'file', message: error.message };
    }
    if (error instanceof LibsqlError && error.code === 'SQLITE_NOTADB') return notOurs;
    if (error instanceof LibsqlError && error.code === 'SQLITE_CORRUPT') return damaged;
    throw error;
  } finally {
    client?.close();
  }
}

async function findProblem(client: Client): Promise<Problem | null> {
  const { rows } = await client.execute('select type, name from sqlite_master');
  const tables = rows.filter((row) => row.type === 'table').map((row) => row.name);
  if (!tables.includes('state') || !tables.includes('__drizzle_migrations')) return notOurs;
  // Ours has none; in a file from elsewhere they would run with every change.
  if (rows.some((row) => row.type === 'trigger' || row.type === 'view')) return notOurs;
  await requireKnownSchema(client);
  const [state] = (await client.execute('select count(*) as number from state')).rows;
  if (state?.number !== 1) return notOurs;
  return (await isWhole(client)) ? null : damaged;
}

async function isWhole(client: Client): Promise<boolean> {
  const integrity = await client.execute('pragma integrity_check');
  const foreignKeys = await client.execute('pragma foreign_key_check');
  return integrity.rows[0]?.integrity_check === 'ok' && foreignKeys.rows.length === 0;
}

async function readSchema(client: Client): Promise<string> {
  const { rows } = await client.execute('select type, name, tbl_name, sql from sqlite_master order by type, name');
  return JSON.stringify(rows.map((row) => [row.type, row.name, row.tbl_name, row.sql]));
}

async function changeRows(client: Client, incoming: string): Promise<void> {
  const { rows } = await client.execute(
    "select name from sqlite_master where type = 'table' and name not in ('__drizzle_migrations', 'sqlite_sequence')",
  );
  const names = rows.map((row) => String(row.name)).filter((name) => !keyTables.includes(name));
  const tables = names.map(quoteName);
  try {
    await client.executeMultiple(
      [
        // Tables are emptied and filled one after another; the copy's keys were checked when it was made ready.
        'pragma foreign_keys = off',
        `attach ${quoteText(incoming)} as incoming`,
        'begin immediate',
        ...tables.map((table) => `delete from main.${table}`),
        ...tables.map((table) => `insert into main.${table} select * from incoming.${table}`),
        // The ids used so far come last: every insert before writes them too.
        'delete from main.sqlite_sequence',
        'insert into main.sqlite_sequence select * from incoming.sqlite_sequence',
        // Plans are remembered by (born, revision): the copy's revisions have stood for other rows since.
        `update main.state set born = ${quoteText(newBorn())}`,
        'commit',
      ].join(';\n'),
    );
  } finally {
    // Takes the connection away that has the copy attached and its keys unchecked.
    await client.reconnect();
  }
}
