import type { Import } from '#tests/support/imports.ts';

type Test = (from: string, imported: Import) => boolean;

/** Files under `of`, and what they may import; the first rule that fits a path counts. */
type ImportRule = { readonly of: RegExp; readonly may: readonly Test[] };

const under =
  (...prefixes: readonly string[]): Test =>
  (from) =>
    prefixes.some((prefix) => from.startsWith(prefix));
const only =
  (...packages: readonly string[]): Test =>
  (from) =>
    packages.some((name) => from === name || from.startsWith(`${name}/`));
const node: Test = (from) => from.startsWith('node:');
const coreTypes: Test = (from, { isType }) => isType && from.startsWith('#core/');
/** What the core says in words or shows in numbers, and lists that a form offers; nothing that calculates. */
const coreWords: Test = (from) => from.startsWith('#core/shared/') || /^#core\/.+-words\.ts$/.test(from);

/** The browser for the tests is found by the tests' own helper. */
const browserSetUp = '../../tests/support/chromium.mjs';

const rules: readonly ImportRule[] = [
  { of: /^src\/core\/shared\/calendar\.ts$/, may: [under('#core/'), only('date-fns')] },
  { of: /^src\/core\//, may: [under('#core/')] },
  { of: /^src\/solver\/[a-z]+-worker\.mjs$/, may: [under('#core/', '#solver/'), only('highs', 'tsx'), node] },
  { of: /^src\/solver\//, may: [under('#core/', '#solver/'), node] },
  { of: /^src\/flows\//, may: [under('#core/', '#db/', '#flows/', '#solver/'), only('node:crypto', 'csv-parse')] },
  { of: /^src\/commands\/setup\.mjs$/, may: [node, (from) => from === browserSetUp] },
  { of: /^src\/commands\//, may: [under('#core/', '#db/', '#flows/', '#commands/'), node] },
  {
    of: /^src\/server\//,
    may: [
      under('#core/', '#db/', '#flows/', '#views/', '#server/'),
      only('hono', '@hono/node-server', 'zod', 'csv-parse', 'htmx.org'),
      node,
    ],
  },
  { of: /^src\/main\.ts$/, may: [under('#core/', '#db/', '#flows/', '#server/'), only('@hono/node-server'), node] },
  {
    of: /^db\//,
    may: [
      under('#db/', '#core/shared/', '#core/styles/'),
      coreTypes,
      only('drizzle-orm', 'drizzle-kit', '@libsql/client'),
      node,
    ],
  },
  { of: /^views\/assets\//, may: [] },
  { of: /^views\//, may: [under('#views/'), coreTypes, coreWords, only('hono/jsx', 'hono/html')] },
];

/** What is wrong with an import of a file, in a sentence; null when it is allowed. */
export function faultOf(path: string, imported: Import): string | null {
  const { from } = imported;
  if (from.startsWith('.') && from !== browserSetUp) return `${path}: import ${from} by its alias`;
  if (from.startsWith('#') && !/\.(ts|tsx|mjs|json)$/.test(from)) return `${path}: name the extension of ${from}`;
  const rule = rules.find(({ of }) => of.test(path));
  if (!rule) return `${path}: no rule says what this file may import`;
  return rule.may.some((test) => test(from, imported)) ? null : `${path} must not import ${from}`;
}
