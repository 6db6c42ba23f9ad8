/** An exported function of a source text, with what its docstring says. */
export type Documented = {
  readonly name: string;
  readonly docstring: string | null;
  readonly examples: readonly Example[];
};

/** `expression // => expected, remark` of a docstring. */
export type Example = { readonly expression: string; readonly expected: string };

const exportedFunction =
  /^export (?:async )?(?:function\*? (\w+)|const (\w+)(?::[^=]+)? = (?:async )?\([^)]*\)(?:: [^=]+)? =>)/gm;
const docstringBefore = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/;

/** The examples of a docstring, one a line. */
export function examplesIn(docstring: string): Example[] {
  const found: Example[] = [];
  for (const line of docstring.split('\n')) {
    const match = /@example (.+?) \/\/ => (.+)$/.exec(line.trim());
    if (match) found.push({ expression: match[1]!, expected: match[2]!.trim() });
  }
  return found;
}

/** Lines that begin an example but cannot be run, so that none is passed over in silence. */
export function brokenExamplesIn(source: string): string[] {
  const lines = source.split('\n').map((line) => line.trim());
  return lines.filter((line) => /^\*\s*@example/.test(line) && !/@example .+ \/\/ => .+$/.test(line));
}

/** Every exported function of a source text. */
export function documentedIn(source: string): Documented[] {
  return [...source.matchAll(exportedFunction)].map((match) => {
    const docstring = docstringBefore.exec(source.slice(0, match.index))?.[1] ?? null;
    return { name: (match[1] ?? match[2])!, docstring, examples: docstring === null ? [] : examplesIn(docstring) };
  });
}

/** Evaluates an expression with names in scope. */
export function evaluate(expression: string, scope: Readonly<Record<string, unknown>>): unknown {
  const names = Object.keys(scope);
  return new Function(...names, `'use strict'; return (${expression});`)(...names.map((name) => scope[name]));
}

/** The value at the front of `value, remark`: the longest text before a comma that is one JavaScript value. */
export function expectedValue(text: string): unknown {
  for (let end = text.length; end > 0; end = text.lastIndexOf(',', end - 1)) {
    try {
      const values = evaluate(`[${text.slice(0, end)}]`, {}) as unknown[];
      if (values.length === 1) return values[0];
    } catch {
      // not a value yet: the remark is longer than this
    }
  }
  throw new Error(`no value at the front of: ${text}`);
}

/** Whether two values are the same, numbers to 1e-9 of their size. */
export function isAlike(actual: unknown, expected: unknown): boolean {
  if (typeof actual === 'number' && typeof expected === 'number') {
    return Object.is(actual, expected) || Math.abs(actual - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
  }
  if (typeof actual !== 'object' || typeof expected !== 'object' || actual === null || expected === null) {
    return Object.is(actual, expected);
  }
  if (Array.isArray(actual) !== Array.isArray(expected)) return false;
  const [left, right] = [actual as Record<string, unknown>, expected as Record<string, unknown>];
  const keys = Object.keys(left);
  return (
    keys.length === Object.keys(right).length && keys.every((key) => key in right && isAlike(left[key], right[key]))
  );
}
