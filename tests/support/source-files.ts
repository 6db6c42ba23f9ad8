import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export type SourceFile = { readonly path: string; readonly text: string };

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The absolute path of a file named from the top of the project. */
export function pathOf(path: string): string {
  return join(root, path);
}

/** Source files under a folder of the project, in order of path; none when the folder is not there. */
export function sourceFilesIn(folder: string): SourceFile[] {
  if (!statSync(pathOf(folder), { throwIfNoEntry: false })) return [];
  return readdirSync(pathOf(folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\.(ts|tsx|mjs)$/.test(path))
    .sort()
    .map((path) => ({ path, text: readFileSync(pathOf(path), 'utf8') }));
}
