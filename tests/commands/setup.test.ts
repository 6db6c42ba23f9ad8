import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { pathOf } from '#tests/support/source-files.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'not-installed-'));
  for (const file of ['package.json', 'package-lock.json', 'src/commands/setup.mjs']) {
    cpSync(pathOf(file), join(folder, file));
  }
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Commands that npm finds before all others while it runs a script. */
function addCommand(name: string, lines: readonly string[]) {
  const bin = join(folder, 'node_modules', '.bin');
  mkdirSync(bin, { recursive: true });
  writeFileSync(join(bin, name), ['#!/bin/sh', ...lines, ''].join('\n'));
  chmodSync(join(bin, name), 0o755);
}

describe('a command before anything is installed', () => {
  it.each(['plan', 'passphrase', 'migrate', 'dev'])('npm run %s brings in what is missing first', (script) => {
    // Stands in for an installation, which asks a registry: what it brings is one command that says its name.
    addCommand('npm', [
      'echo "asked for $1"',
      'echo "#!/bin/sh\necho $2 ran" > node_modules/.bin/tsx && chmod +x node_modules/.bin/tsx',
      'touch node_modules/.package-lock.json',
    ]);
    const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
    const out = execFileSync(npm, ['run', '--silent', script], { cwd: folder, encoding: 'utf8', stdio: 'pipe' });
    expect(existsSync(join(folder, 'node_modules', '.package-lock.json'))).toBe(true);
    // Nothing of the installation is in what the command itself prints.
    expect(out.trim()).toMatch(/ ran$/);
    expect(out).not.toContain('asked for');
    expect(out).not.toContain('Installing');
  });
});
