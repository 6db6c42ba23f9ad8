import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { AppError } from '#core/shared/app-error.ts';
import { defaultDatabaseUrl, openWorkshop, type Workshop } from '#db/open.ts';
import { passphraseHint, plainPassphrase, readPassphrase } from '#flows/sign-in/read-passphrase.ts';
import { hasPassphrase, setPassphrase } from '#flows/sign-in/set-passphrase.ts';

const usage = `npm run passphrase -- [--remove]

  Sets the workshop's passphrase, or changes it, without asking for the one before. Everybody is then signed out.
  It is asked for here, or read from the first line of what is piped in; never given on the command line, where
  others could see it.

  --remove   takes it away; the workshop then starts for this machine alone`;

/** Asks for lines without showing what is typed; a pipe is read the same way. */
function askLines(): { readonly ask: (question: string) => Promise<string | null>; readonly close: () => void } {
  const isTyped = process.stdin.isTTY === true;
  const hidden = new Writable({ write: (_chunk, _encoding, done) => done() });
  const reader = createInterface({ input: process.stdin, output: hidden, terminal: isTyped });
  reader.on('SIGINT', () => process.exit(130));
  const lines = reader[Symbol.asyncIterator]();
  return {
    ask: async (question) => {
      if (isTyped) process.stderr.write(question);
      const { value, done } = await lines.next();
      if (isTyped) process.stderr.write('\n');
      return done ? null : value;
    },
    close: () => reader.close(),
  };
}

/** The new passphrase, or why there is none, in a sentence. */
async function askPassphrase(): Promise<{ readonly passphrase: string } | { readonly refusal: string }> {
  const { ask, close } = askLines();
  try {
    if (process.stdin.isTTY) console.error(passphraseHint);
    const read = readPassphrase((await ask('New passphrase (not shown): ')) ?? '', 'passphrase');
    if (!read.ok) return { refusal: read.problems[0]!.message };
    if (process.stdin.isTTY && plainPassphrase((await ask('The same once more: ')) ?? '') !== read.value) {
      return { refusal: 'The two are not the same.' };
    }
    return { passphrase: read.value };
  } finally {
    close();
  }
}

async function run(workshop: Workshop, isRemoving: boolean): Promise<number> {
  const had = await hasPassphrase(workshop);
  if (isRemoving) {
    await setPassphrase(workshop, null);
    console.log(had ? 'The passphrase is taken away.' : 'There was no passphrase.');
    return 0;
  }
  const asked = await askPassphrase();
  if ('refusal' in asked) {
    console.error(`${asked.refusal} Nothing was changed.`);
    return 1;
  }
  await setPassphrase(workshop, asked.passphrase);
  console.log(
    had
      ? 'The passphrase is changed; everybody signs in anew.'
      : 'The passphrase is set. For the phones on your home network start with: HOST=0.0.0.0 npm start',
  );
  return 0;
}

async function main(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    console.log(usage);
    return 0;
  }
  if (args.some((word) => word !== '--remove')) {
    // Not repeated here: it may be the passphrase.
    console.error(usage);
    return 1;
  }
  const workshop = await openWorkshop(process.env.DATABASE_URL?.trim() || defaultDatabaseUrl);
  try {
    return await run(workshop, args.includes('--remove'));
  } finally {
    await workshop.close();
  }
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof AppError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
