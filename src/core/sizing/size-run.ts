import type { Person } from '#core/sizing/foot.ts';
import { footLengthFromLabel } from '#core/sizing/labels.ts';

/** The EU sizes a chart shows for a person, first and last. Our own choice of what is usually asked for. */
export const euRuns: Readonly<Record<Person, { readonly first: number; readonly last: number }>> = {
  woman: { first: 35, last: 43 },
  man: { first: 39, last: 48 },
  unknown: { first: 35, last: 48 },
  child: { first: 18, last: 35 },
};

/**
 * Foot lengths of a run of whole EU sizes, mm.
 *
 * @param person whose sizes
 * @returns size and length, in order
 * @example euRun('woman')[3].lengthMm // => 240, EU 38
 */
export function euRun(person: Person): { readonly eu: string; readonly lengthMm: number }[] {
  const { first, last } = euRuns[person];
  return Array.from({ length: last - first + 1 }, (_, index) => String(first + index)).flatMap((eu) => {
    const length = footLengthFromLabel({ person, system: 'EU', label: eu });
    return length.ok ? [{ eu, lengthMm: length.value.value }] : [];
  });
}
