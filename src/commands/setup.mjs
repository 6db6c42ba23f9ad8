// Runs before anything is installed, so it is plain JavaScript and uses no packages.
//   node src/commands/setup.mjs start   installs what the program needs
//   node src/commands/setup.mjs test    the same, and a browser for the tests
import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const leastNode = 20;
const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** @param {string} sentence */
function stopWith(sentence) {
  console.error(sentence);
  process.exit(1);
}

/**
 * @param {string} command
 * @param {string[]} args
 */
function run(command, args) {
  const isWindows = process.platform === 'win32';
  // What is said here is not what the command after it prints: that may go into a file.
  return spawnSync(command, args, { cwd: root, stdio: ['inherit', 2, 2], shell: isWindows }).status === 0;
}

function requireNode() {
  if (Number(process.versions.node.split('.')[0]) >= leastNode) return;
  stopWith(
    `Toe to Till needs Node ${leastNode} or later, and this is ${process.versions.node}. Install a newer one from nodejs.org and try again.`,
  );
}

// npm writes its own copy of the lock file at the end of an installation: older than the lock means out of date.
function isInstalled() {
  const installed = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(installed)) return false;
  return statSync(installed).mtimeMs >= statSync(join(root, 'package-lock.json')).mtimeMs;
}

function installPackages() {
  if (isInstalled()) return;
  console.error('Installing what the program needs (npm ci), once; it takes up to a minute.');
  if (!run('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'])) {
    stopWith('The installation did not succeed; its own words are above. Check the connection and try again.');
  }
}

function canInstallBrowser() {
  const isRoot = typeof process.getuid === 'function' && process.getuid() === 0;
  return isRoot && existsSync('/usr/bin/apt-get');
}

async function installBrowser() {
  const { findChromium } = await import('../../tests/support/chromium.mjs');
  // Printed pages are measured in the letters of this machine: without these they are wider than on most.
  const wanted = [
    ...(findChromium() || process.env.CHROMIUM_PATH ? [] : ['chromium']),
    ...(existsSync('/usr/share/fonts/truetype/liberation') ? [] : ['fonts-liberation']),
  ];
  if (canInstallBrowser() && wanted.length > 0) {
    console.log(`Installing ${wanted.join(' and ')} for the browser tests (apt-get), once.`);
    run('apt-get', ['-qq', 'update']);
    run('apt-get', ['-qq', '-y', '--no-install-recommends', 'install', ...wanted]);
  }
  if (findChromium()) return;
  const lack = 'NO BROWSER HERE: install Chromium, or set CHROMIUM_PATH to one.';
  if (process.env.CI === 'true') stopWith(`${lack} The browser tests may not be left out here.`);
  console.error(`\n*** ${lack} THE BROWSER TESTS ARE SKIPPED. ***\n`);
}

requireNode();
installPackages();
if (process.argv[2] === 'test') await installBrowser();
