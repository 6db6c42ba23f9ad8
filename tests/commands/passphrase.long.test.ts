import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openWorkshop } from '#db/open.ts';
import { hasPassphrase, matchesPassphrase } from '#flows/sign-in/set-passphrase.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
let folder: string;
let url: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'workshop-'));
  url = `file:${join(folder, 'workshop.db')}`;
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function run(file: string, args: readonly string[], typed: string, more: Record<string, string> = {}) {
  return new Promise<{ code: number | null; out: string }>((resolve) => {
    const env = { ...process.env, PUBLIC_URL: '', HOST: '', ...more, DATABASE_URL: url };
    const child = spawn(process.execPath, ['--import', 'tsx', file, ...args], { cwd: root, env });
    let out = '';
    child.stdout.on('data', (data) => {
      out += data;
    });
    child.stderr.on('data', (data) => {
      out += data;
    });
    child.on('close', (code) => resolve({ code, out }));
    child.stdin.end(typed);
  });
}
const command = (typed: string, ...args: string[]) => run('src/commands/passphrase.ts', args, typed);

async function inWorkshop<T>(ask: (workshop: Awaited<ReturnType<typeof openWorkshop>>) => Promise<T>): Promise<T> {
  const workshop = await openWorkshop(url);
  try {
    return await ask(workshop);
  } finally {
    await workshop.close();
  }
}

describe('npm run passphrase', () => {
  test('sets one, changes it without asking for the one before, and takes it away', async () => {
    expect(await command('otter candle brisk meadow\n')).toMatchObject({
      code: 0,
      out: expect.stringContaining('is set'),
    });
    expect(await inWorkshop((workshop) => matchesPassphrase(workshop, 'otter candle brisk meadow'))).toBe(true);
    expect(await command('walnut ferry lantern crisp')).toMatchObject({
      code: 0,
      out: expect.stringContaining('changed'),
    });
    expect(await inWorkshop((workshop) => matchesPassphrase(workshop, 'otter candle brisk meadow'))).toBe(false);
    expect(await command('', '--remove')).toMatchObject({ code: 0, out: expect.stringContaining('taken away') });
    expect(await inWorkshop(hasPassphrase)).toBe(false);
  }, 60_000);

  test('refuses a short one, none, and one on the command line, which it does not repeat', async () => {
    expect(await command('short\n')).toMatchObject({ code: 1, out: expect.stringContaining('at least 12') });
    expect(await command('')).toMatchObject({ code: 1, out: expect.stringContaining('Nothing was changed') });
    const given = await command('', 'walnutferrylantern');
    expect(given.code).toBe(1);
    expect(given.out).not.toContain('walnut');
    expect(await inWorkshop(hasPassphrase)).toBe(false);
  }, 60_000);
});

describe('starting without a passphrase', () => {
  test.each([
    [{ HOST: '0.0.0.0' }, 'HOST is 0.0.0.0'],
    [{ HOST: '192.168.1.20' }, 'HOST is 192.168.1.20'],
    [{ PUBLIC_URL: 'https://knitting.example' }, 'PUBLIC_URL is https://knitting.example'],
  ])(
    'is refused with %j, and the way is told',
    async (env, reason) => {
      const { code, out } = await run('src/main.ts', [], '', env as Record<string, string>);
      expect(code).toBe(1);
      expect(out).toContain(reason);
      expect(out).toContain('npm run passphrase');
      expect(out).not.toContain('    at ');
    },
    60_000,
  );
});
