import type { Kind } from '#core/batch/lines.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

/** What a pair is called in a table: its size, after its style where that is not the workshop's usual one. */
export function pairWords(sizeWords: string, kind: Kind | null, { styles }: Pick<WorkshopRows, 'styles'>): string {
  const name = kind?.shape.style.name;
  return name === undefined || name === styles[0]?.name ? sizeWords : `${name}, ${sizeWords}`;
}
