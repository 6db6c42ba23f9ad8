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
  const unfinished = `${toFile}.part`;
  try {
    await rm(unfinished, { force: true });
    await insideOf(workshop).connection.client.execute({ sql: 'vacuum into ?', args: [unfinished] });
    sync(unfinished);
    await rename(unfinished, toFile);
    return succeed({ file: toFile });
  } catch (error) {
    await rm(unfinished, { force: true });
    throw explainFailure(error);
  }
}

/**
 * Puts a saved copy in the place of the open workshop. The copy is checked and brought up to date beside it first;
 * the old file is kept under a name of its own; until the very end the old workshop is whole and in use, and on any
 * failure it goes on. The workshop stays the same object: whoever holds it reads the new file from then on.
 *
 * @param fromFile a file that `saveCopy` wrote, here or elsewhere; it is left as it is
 * @returns where the old workshop is kept; or why the file will not do
 * @throws {AppError} `busy` when another program has the workshop open; `diskFull`, `readOnly`
 */
export async function restoreCopy(workshop: Workshop, fromFile: string): Promise<Result<{ readonly keptAs: string }>> {
  const path = filePathOf(workshop.url);
  if (path === null) return refuse(onServer);
  const stamp = new Date()
    .toISOString()
    .replace(/[-:.Z]/g, '')
    .replace('T', '-');
  const base = path.replace(/\.db$/, '');
  const incoming = `${base}-incoming-${stamp}.db`;
  const keptAs = `${base}-before-${stamp}.db`;
  try {
    await copyFile(fromFile, incoming, constants.COPYFILE_EXCL);
    const problem = await makeReady(workshop, incoming);
    if (problem) return refuse(problem);
    sync(incoming);
    await changeFile(workshop, { path, incoming, keptAs });
    return succeed({ keptAs });
  } catch (error) {
    throw explainFailure(error);
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) await rm(`${incoming}${end}`, { force: true });
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
async function makeReady(workshop: Workshop, file: string): Promise<Problem | null> {
  const url = pathToFileURL(file).href;
  let client: Client | undefined;
  try {
    client = createClient({ url, concurrency: 1 });
    const problem = await findProblem(client);
    if (problem) return problem;
    client.close();
    ({ client } = await connect(url, insideOf(workshop).waitMs));
    const [mine, theirs] = await Promise.all([readSchema(insideOf(workshop).connection.client), readSchema(client)]);
    if (mine !== theirs) return notOurs;
    if (!(await isWhole(client))) return damaged;
    // Plans are remembered by (born, revision): a copy's revisions have been used for other rows since.
    await client.execute({ sql: 'update state set born = ?', args: [newBorn()] });
    await client.execute('pragma journal_mode = delete');
    return null;
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

type Files = { readonly path: string; readonly incoming: string; readonly keptAs: string };

async function changeFile(workshop: Workshop, { path, incoming, keptAs }: Files): Promise<void> {
  const inside = insideOf(workshop);
  await inside.changeOver(async () => {
    inside.connection.client.close();
    try {
      // The last to close the file takes its log away; a log that stays belongs to another program.
      if (existsSync(`${path}-wal`)) {
        throw new AppError(
          'busy',
          'Another program has the workshop file open. Close it, then try again; nothing was changed.',
        );
      }
      await copyFile(path, keptAs, constants.COPYFILE_EXCL);
      sync(keptAs);
      await rename(incoming, path);
      inside.connection = await connect(workshop.url, inside.waitMs);
    } catch (error) {
      await goBack(workshop, { path, incoming, keptAs });
      throw error;
    }
  });
}

/** Opens the old workshop again, out of its kept copy if its file had been replaced. */
async function goBack(workshop: Workshop, { path, incoming, keptAs }: Files): Promise<void> {
  const inside = insideOf(workshop);
  const wasReplaced = !existsSync(incoming);
  if (wasReplaced) {
    for (const end of ['-wal', '-shm']) await rm(`${path}${end}`, { force: true });
    await rename(keptAs, path);
  } else {
    await rm(keptAs, { force: true });
  }
  inside.connection = await connect(workshop.url, inside.waitMs);
}
