import { countOf } from '#core/shared/format.ts';
import { formatWeighed } from '#core/shared/measures.ts';
import { readSettings } from '#core/shared/settings.ts';
import { namePair } from '#core/shelf/pair-words.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { pairsThatWait, shortLots } from '#flows/shelf/short-pairs.ts';

/** Something to be careful about, and where to look. */
export type YarnCaution = {
  readonly title: string;
  readonly sentence: string;
  readonly href: string;
  readonly words: string;
};

const mostNamed = 3;

function inAList(entries: readonly string[]): string {
  const more = entries.length - mostNamed;
  return `${entries.slice(0, mostNamed).join('; ')}${more > 0 ? `; and ${more} more` : ''}.`;
}

/**
 * Begun pairs that a lot leaves without enough yarn, a caution for each lot; and those that gave yarn back and wait.
 *
 * @param gaveBackIds pairs that gave yarn back some time; those that have got other yarn since are not named
 */
export function yarnCautions(rows: WorkshopRows, gaveBackIds: ReadonlySet<number>): readonly YarnCaution[] {
  const { unitSystem } = readSettings(rows.settings);
  const cautions = shortLots(rows).map(({ lotId, colour, dyeLot, massMg, neededMg, pairs }): YarnCaution => {
    const lot = dyeLot === null ? 'this lot' : `lot ${dyeLot}`;
    const missing = formatWeighed(neededMg - massMg, unitSystem);
    const named = inAList(pairs.map((pair) => `${namePair(pair)}, needs ${formatWeighed(pair.needsMg, unitSystem)}`));
    return {
      title: `${missing} of ${colour} is missing`,
      sentence: `Less of ${lot} is there than begun pairs still need. Left without enough: ${named}`,
      href: `/shelf/lots/${lotId}`,
      words: pairs.length === 1 ? 'Say what becomes of it' : 'Say what becomes of them',
    };
  });
  const waiting = pairsThatWait(rows).filter(({ id }) => gaveBackIds.has(id));
  if (waiting.length > 0) {
    const pairs = new Set(waiting.map(({ id }) => id)).size;
    cautions.push({
      title: countOf(pairs, 'pair gave its yarn back and waits', 'pairs gave their yarn back and wait'),
      sentence: `To buy: ${inAList(waiting.map((pair) => `${formatWeighed(pair.mg, unitSystem)} of ${pair.colour} for ${namePair(pair)}`))}`,
      href: '/buying',
      words: 'Look at the yarn to buy',
    });
  }
  return cautions;
}
