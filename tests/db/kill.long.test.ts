import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createClient } from '@libsql/client';
import { expect, test } from 'vitest';
import { openWorkshop } from '#db/open.ts';
import { listYarnColours, listYarns } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const kills = 100;

/** Ids whose writes were answered before the writer was killed, some milliseconds after its first answer. */
function writeUntilKilled(url: string, round: number, afterMs: number): Promise<number[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--import', 'tsx', 'tests/db/write-until-killed.ts', url, `${round}`], {
      cwd: root,
    });
    let out = '';
    let errors = '';
    child.stderr.on('data', (text) => {
      errors += text;
    });
    child.stdout.on('data', (text) => {
      if (out === '') setTimeout(() => child.kill('SIGKILL'), afterMs);
      out += text;
    });
    // The last line may be torn; a torn number would be a wrong one.
    child.on('close', () => {
      const answered = out
        .slice(0, out.lastIndexOf('\n') + 1)
        .split('\n')
        .filter(Boolean)
        .map(Number);
      if (answered.length > 0) resolve(answered);
      else reject(new Error(`the writer answered nothing: ${errors}`));
    });
  });
}

test(`after each of ${kills} kills every answered write is there, whole, and the file is sound`, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
  const url = `file:${join(folder, 'workshop.db')}`;
  const answered: number[] = [];
  for (let round = 0; round < kills; round += 1) {
    answered.push(...(await writeUntilKilled(url, round, (round * 7) % 60)));
    const workshop = await openWorkshop(url);
    const [yarns, colours, { revision }] = await workshop.store.read(async (db) => [
      await listYarns(db),
      await listYarnColours(db),
      await readState(db),
    ]);
    await workshop.close();
    const ids = new Set(yarns.map((yarn) => yarn.id));
    expect(answered.filter((id) => !ids.has(id))).toEqual([]);
    // Each write was a yarn, its colour and a revision: none of the three without the others.
    expect([colours.length, revision]).toEqual([yarns.length, yarns.length]);
  }
  const client = createClient({ url });
  expect((await client.execute('pragma integrity_check')).rows[0]?.integrity_check).toBe('ok');
  client.close();
  expect(answered.length).toBeGreaterThan(kills);
  rmSync(folder, { recursive: true, force: true });
}, 600_000);
