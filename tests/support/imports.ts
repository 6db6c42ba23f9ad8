/** One import of a source file. `isType` is true when nothing of it is left at run time. */
export type Import = { readonly from: string; readonly names: readonly string[]; readonly isType: boolean };

const statement = /^\s*(import|export)\s+(type\s+)?(?:([\w*{}\s,$]+?)\s+from\s+)?'([^']+)'/gm;
const call = /\b(?:import|require|require\.resolve)\(\s*(?:\/\*[^*]*\*\/\s*)?['"`]([^'"`]+)['"`]/g;

function readClause(clause: string): { names: string[]; isType: boolean } {
  const braces = /\{([^}]*)\}/.exec(clause);
  const inBraces = (braces?.[1] ?? '')
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const outside = clause
    .replace(/\{[^}]*\}/, '')
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const names = [...outside, ...inBraces].map((part) => part.replace(/^type\s+/, '').replace(/\s+as\s+\w+$/, ''));
  const isType = outside.length === 0 && inBraces.length > 0 && inBraces.every((part) => part.startsWith('type '));
  return { names, isType };
}

/** Every import, re-export and dynamic import of a source text. */
export function importsIn(source: string): Import[] {
  const code = source.replace(/^\s*\/\*[\s\S]*?\*\//gm, '').replace(/^\s*\/\/.*$/gm, '');
  const found: Import[] = [];
  for (const [, , type, clause, from] of code.matchAll(statement)) {
    const { names, isType } = readClause(clause ?? '');
    found.push({ from: from!, names, isType: type !== undefined || isType });
  }
  for (const [, from] of code.matchAll(call)) found.push({ from: from!, names: ['*'], isType: false });
  return found;
}
