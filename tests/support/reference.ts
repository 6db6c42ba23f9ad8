import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { pathOf } from '#tests/support/source-files.ts';

/** The rows of a table in tests/reference, as texts by column. */
export function readReference(name: string): readonly Readonly<Record<string, string>>[] {
  const text = readFileSync(pathOf(`tests/reference/${name}`), 'utf8');
  return parse(text, { columns: true, bom: true }) as Record<string, string>[];
}
