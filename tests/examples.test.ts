import { pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  brokenExamplesIn,
  documentedIn,
  evaluate,
  examplesIn,
  expectedValue,
  isAlike,
} from '#tests/support/docstrings.ts';
import { pathOf, sourceFilesIn } from '#tests/support/source-files.ts';

const files = sourceFilesIn('src/core').map((file) => ({ ...file, functions: documentedIn(file.text) }));
const exportsByPath = new Map<string, Record<string, unknown>>();
const faults = new Map<string, unknown>();

beforeAll(async () => {
  for (const { path } of files) {
    try {
      exportsByPath.set(path, await import(/* @vite-ignore */ pathToFileURL(pathOf(path)).href));
    } catch (fault) {
      faults.set(path, fault);
    }
  }
});

/** The names an example may use: those of the whole core, its own file's first. */
function scopeOf(path: string): Record<string, unknown> {
  if (faults.has(path)) throw faults.get(path);
  return Object.assign({}, ...exportsByPath.values(), exportsByPath.get(path));
}

describe('docstrings of the core', () => {
  for (const { path, functions, text } of files) {
    if (functions.length === 0) continue;
    it(`${path}: every exported function says what it gives`, () => {
      const silent = functions.filter(
        ({ docstring }) => docstring === null || !/\w{3}/.test(docstring.replace(/@[\s\S]*/, '')),
      );
      expect(silent.map(({ name }) => name)).toEqual([]);
    });
    it(`${path}: every example is written so that it can be run`, () => {
      expect(brokenExamplesIn(text)).toEqual([]);
    });
  }

  it('hold at least 60 examples', () => {
    const count = files.flatMap(({ functions }) => functions.flatMap(({ examples }) => examples)).length;
    expect(count).toBeGreaterThanOrEqual(60);
  });
});

describe('examples of the core', () => {
  for (const { path, functions } of files) {
    for (const { examples } of functions) {
      for (const { expression, expected } of examples) {
        it(`${path}: ${expression} // => ${expected}`, () => {
          const actual = evaluate(expression, scopeOf(path));
          const value = expectedValue(expected);
          if (!isAlike(actual, value)) expect(actual).toEqual(value);
        });
      }
    }
  }
});

describe('reading docstrings', () => {
  const planted = [
    '/**',
    ' * Twice a number.',
    ' *',
    ' * @example twice(2) // => 4',
    ' * @example twice(0.15) // => 0.3, not 0.30000000000000004',
    ' */',
    'export function twice(value: number): number {',
    '  return 2 * value;',
    '}',
    '',
    'export function silent(): void {}',
    'export const half = (value: number): number => value / 2;',
  ].join('\n');

  it('finds the functions, their examples, and those that say nothing', () => {
    const found = documentedIn(planted);
    expect(found.map(({ name, docstring }) => [name, docstring !== null])).toEqual([
      ['twice', true],
      ['silent', false],
      ['half', false],
    ]);
    expect(found[0]!.examples).toHaveLength(2);
  });

  it('takes a remark off the expected value', () => {
    expect(expectedValue('4, never less than one repeat')).toBe(4);
    expect(expectedValue('224.5, 0.5 x 240 + 104.5')).toBe(224.5);
    expect(expectedValue("['a, b', 2], in order")).toEqual(['a, b', 2]);
    expect(expectedValue('{ a: 1, b: [2] }')).toEqual({ a: 1, b: [2] });
    expect(() => expectedValue('about four')).toThrow('no value');
  });

  it('sees a wrong example', () => {
    const twice = (value: number) => 2 * value;
    const [first] = examplesIn(' * @example twice(2) // => 5');
    expect(isAlike(evaluate(first!.expression, { twice }), expectedValue(first!.expected))).toBe(false);
    expect(brokenExamplesIn(' * @example twice(2) gives 4')).toHaveLength(1);
  });

  it('tells values apart, and only numbers loosely', () => {
    expect(isAlike(0.1 + 0.2, 0.3)).toBe(true);
    expect(isAlike(0.3001, 0.3)).toBe(false);
    expect(isAlike({ a: 1 }, { a: 1, b: 2 })).toBe(false);
    expect(isAlike({ a: 1, b: 2 }, { a: 1 })).toBe(false);
    expect(isAlike([1], { 0: 1 })).toBe(false);
    expect(isAlike(null, {})).toBe(false);
    expect(isAlike('1', 1)).toBe(false);
  });
});
