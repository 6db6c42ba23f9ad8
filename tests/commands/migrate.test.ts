import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createClient } from '@libsql/client';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'workshop-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const run = (url: string) =>
  new Promise<{ code: number; out: string }>((resolve) => {
    const env = { ...process.env, DATABASE_URL: url };
    execFile(process.execPath, ['--import', 'tsx', 'src/commands/migrate.ts'], { cwd: root, env }, (error, out, err) =>
      resolve({ code: error ? 1 : 0, out: `${out}${err}` }),
    );
  });

describe('migrate', () => {
  test('makes the file, says so, and has nothing to do the second time', async () => {
    const url = `file:${join(folder, 'workshop.db')}`;
    expect(await run(url)).toMatchObject({ code: 0, out: expect.stringContaining('is up to date') });
    expect(await run(url)).toMatchObject({ code: 0 });
  });

  test('a file of a newer program ends with a sentence and a failure', async () => {
    const url = `file:${join(folder, 'workshop.db')}`;
    await run(url);
    const client = createClient({ url });
    await client.execute("insert into __drizzle_migrations (hash, created_at) values ('later', 99999999999999)");
    client.close();
    const { code, out } = await run(url);
    expect(code).toBe(1);
    expect(out).toContain('newer version of the program');
    expect(out).not.toContain('    at ');
  });
});
