import { countOf } from '#core/shared/format.ts';
import { formatMass } from '#views/format.ts';

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

/** A lot by its number, or by the day it came. */
export function lotWords(dyeLot: string | null): string {
  return dyeLot === null ? 'no lot number' : `lot ${dyeLot}`;
}

const mostParts = 4;

/** "3 balls of 100 g, part balls of 43 g and 12 g". @param ballMg what a whole ball has */
export function ballWords(massesMg: readonly number[], ballMg: number): string {
  const whole = massesMg.filter((mg) => mg === ballMg).length;
  const parts = massesMg.filter((mg) => mg !== ballMg);
  const shown = parts.slice(0, mostParts).map((mg) => formatMass(mg / 1000));
  const more = parts.length - shown.length;
  const list = [...shown, ...(more > 0 ? [`${more} more`] : [])];
  const listed = list.length > 1 ? `${list.slice(0, -1).join(', ')} and ${list.at(-1)}` : list[0];
  const wholeWords = whole > 0 ? `${countOf(whole, 'ball', 'balls')} of ${formatMass(ballMg / 1000)}` : '';
  const partWords = listed ? `${parts.length === 1 ? 'part ball' : 'part balls'} of ${listed}` : '';
  return [wholeWords, partWords].filter(Boolean).join(', ');
}
