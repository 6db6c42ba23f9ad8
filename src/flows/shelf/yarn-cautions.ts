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

/** Begun pairs that a lot leaves without enough yarn, and those that wait for yarn: one caution each, the pairs named. */
export function yarnCautions(rows: WorkshopRows): readonly YarnCaution[] {
  const { unitSystem } = readSettings(rows.settings);
  const cautions = shortLots(rows).map(({ lotId, colour, dyeLot, massMg, neededMg, pairs }): YarnCaution => {
    const lot = dyeLot === null ? 'no lot number' : `lot ${dyeLot}`;
    const missing = formatWeighed(neededMg - massMg, unitSystem);
    const named = inAList(pairs.map((pair) => `${namePair(pair)}, needs ${formatWeighed(pair.needsMg, unitSystem)}`));
    return {
      title: `${missing} of ${colour} is missing`,
      sentence: `Less of ${lot} is there than begun pairs still need. Left without enough: ${named}`,
      href: `/shelf/lots/${lotId}`,
      words: pairs.length === 1 ? 'Say what becomes of it' : 'Say what becomes of them',
    };
  });
  const waiting = pairsThatWait(rows);
  if (waiting.length > 0) {
    const pairs = new Set(waiting.map(({ id }) => id)).size;
    cautions.push({
      title: countOf(pairs, 'begun pair waits for yarn', 'begun pairs wait for yarn'),
      sentence: `Still to come: ${inAList(waiting.map((pair) => `${formatWeighed(pair.mg, unitSystem)} of ${pair.colour} for ${namePair(pair)}`))}`,
      href: '/buying',
      words: 'Look at the yarn to buy',
    });
  }
  return cautions;
}
