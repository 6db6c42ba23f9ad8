import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatDay } from '#core/shared/format.ts';
import { formatDayShort, formatWeighed, isPast } from '#views/format.ts';

/** Yarn weights by number, lace 0 to jumbo 7, under the names of both sides of the ocean. */
export const yarnWeights: readonly string[] = [
  'lace (cobweb)',
  'super fine (sock, 4-ply)',
  'fine (sport, 5-ply)',
  'light (double knitting)',
  'medium (aran, worsted)',
  'bulky (chunky)',
  'super bulky (super chunky)',
  'jumbo',
];

export const strandWords: readonly string[] = ['', 'one strand', 'two strands together', 'three strands together'];

export const unknownFibre = 'fibre unknown: hand wash, not for babies';

/** The colours of a chip: one to four, as stored. */
export function hexesOf(swatchHex: string): string[] {
  return swatchHex.split(' ');
}

/** What tells lots without a number apart: who gave it or sold it, where that is known, and the day it came. */
export type LotName = { readonly dyeLot: string | null; readonly from: string | null; readonly gotDay: Day };

/** A lot by its number; without one, where all is said, by where it came from and when. */
export function lotWords(lot: LotName | string | null): string {
  if (lot === null) return 'no lot number';
  if (typeof lot === 'string') return `lot ${lot}`;
  if (lot.dyeLot !== null) return `lot ${lot.dyeLot}`;
  return `no lot number, ${lot.from === null ? 'came' : `from ${lot.from},`} ${formatDayShort(lot.gotDay)}`;
}

/** Until when the shop takes it back, or keeps it for us, or did. */
export function shopWords(day: Day, isAtShop: boolean): string {
  const now = isAtShop ? 'kept at the shop' : 'may go back';
  const then = isAtShop ? 'was kept at the shop' : 'could go back';
  return `${isPast(day) ? then : now} until ${formatDay(day)}`;
}

const mostParts = 4;

function inARow(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/**
 * "3 balls of 100 g, part balls of 43 g and 12 g". What weighs more than a whole ball, or comes twice at one weight, is a
 * ball of another size: half a ball is not left over twice to the milligram.
 *
 * @param ballMg what a whole ball has
 */
export function ballWords(massesMg: readonly number[], ballMg: number): string {
  const counts = new Map<number, number>();
  for (const mg of massesMg) counts.set(mg, (counts.get(mg) ?? 0) + 1);
  const isWhole = ([mg, count]: readonly [number, number]) => mg >= ballMg || count > 1;
  const sorted = [...counts].sort((a, b) => b[0] - a[0]);
  const whole = sorted
    .filter(isWhole)
    .map(([mg, count]) => `${countOf(count, 'ball', 'balls')} of ${formatWeighed(mg)}`);
  const parts = sorted.filter((each) => !isWhole(each)).map(([mg]) => formatWeighed(mg));
  const more = parts.length - mostParts;
  const listed = inARow([...parts.slice(0, mostParts), ...(more > 0 ? [`${more} more`] : [])]);
  const partWords = parts.length === 0 ? '' : `${parts.length === 1 ? 'part ball' : 'part balls'} of ${listed}`;
  return [...whole, partWords].filter(Boolean).join(', ');
}
