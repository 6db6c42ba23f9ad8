import { cuffHeightFor } from '#core/batch/kinds.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { settingsFor } from '#core/styles/settings-of.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** What a finished pair is called where it is sold: all that tells it from others at a table. */
export type PairLabel = {
  /** Like "woman EU 38", with style, fit and cuff where they are not the usual ones. */
  readonly size: string;
  readonly colours: readonly RoleColours[];
  /** The same in a line of words: "woman EU 38, Heather and Oat". */
  readonly words: string;
  /** The same for pairs that look alike. */
  readonly key: string;
};

const mostLetters = 200;

function cuffWords({ kind, frozen }: StoredPair): string {
  if (!kind) return '';
  const { style, foot, cuffHeightMm } = kind.shape;
  const usual = cuffHeightFor('short', settingsFor(style.body, foot.person), frozen.foot.lengthMm);
  if (cuffHeightMm === 0) return usual > 0 ? 'no cuff' : '';
  return cuffHeightMm > usual + 1 ? 'tall cuff' : '';
}

/** Names finished pairs. */
export function pairLabeller({ rows, settings }: WorkshopPlan): (pair: StoredPair) => PairLabel {
  const colours = coloursOf(rows);
  return (pair) => {
    const { frozen, kind, row } = pair;
    const fit = frozen.fit === 'usual' ? '' : frozen.fit;
    const size = [pairWords(sizeWordsIn(frozen.sizeWords, settings.unitSystem), kind, rows), fit, cuffWords(pair)]
      .filter(Boolean)
      .join(', ');
    const ofRoles = kind ? roleColours(kind, colours) : [];
    const names = [...new Set(ofRoles.flatMap((role) => role.colours.map(({ name }) => name)))];
    const flaw = row.quality === 'second' ? ', with a flaw' : '';
    const ids = ofRoles.map((role) => role.colours.map(({ id }) => id).join('+')).join('/');
    return {
      size,
      colours: ofRoles,
      words: `${size}, ${names.join(' and ')}${flaw}`.slice(0, mostLetters),
      key: `${size}|${ids}|${row.quality}`,
    };
  };
}
