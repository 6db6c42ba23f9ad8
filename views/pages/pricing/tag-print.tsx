import { unknownFibre } from '#core/gauge/fibre-words.ts';
import { countOf } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { Mark } from '#views/components/mark.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairColours } from '#views/pages/batch/pair-parts.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';

export type TagParts = {
  readonly tag: {
    readonly title: string;
    readonly sizes: readonly {
      readonly foot: 'both' | 'left' | 'right';
      readonly called: string;
      readonly also: string;
      readonly length: string;
    }[];
    readonly second: string | null;
    readonly price: string | null;
    readonly priceNote: string;
  };
  readonly care: {
    readonly madeOf: readonly { readonly fibre: string; readonly yarn: string }[];
    readonly care: readonly string[];
    readonly cautions: readonly string[];
  };
  readonly colours: readonly RoleColours[];
};

export type TagPrintProps = {
  readonly sheets: readonly TagParts[];
  readonly shows: 'tag' | 'care' | 'both';
  readonly paper: 'a4' | 'letter';
  readonly workshopName: string;
  readonly priceProblems: readonly string[];
  readonly unreadable: number;
  readonly purpose: Purpose;
  /** Back to the form, with the choice kept. */
  readonly back: string;
};

/** What a page holds: as many on A4 as on US letter, in pieces of 62 mm. */
const perPage = { tag: 15, care: 12, both: 6 } as const;
const pieceNames = {
  tag: ['tag', 'tags'],
  care: ['care card', 'care cards'],
  both: ['tag with its care card', 'tags with their care cards'],
} as const;

function inPages<T>(items: readonly T[], size: number): readonly (readonly T[])[] {
  return Array.from({ length: Math.ceil(items.length / size) }, (_, index) =>
    items.slice(index * size, (index + 1) * size),
  );
}

/** `isAlone`: no other half stands beside it, so it says what would be said there. */
type PieceProps = { readonly sheet: TagParts; readonly workshopName: string; readonly isAlone: boolean };

/** In one line, for a tag without a care card: "Wool and cotton", or what unknown fibre asks for. */
function fibreWords({ madeOf }: TagParts['care']): string {
  const fibres = [...new Set(madeOf.map(({ fibre }) => fibre))];
  return fibres.includes('Fibre unknown') ? unknownFibre : fibres.join('; ');
}

const TagHalf = ({ sheet: { tag, care, colours }, workshopName, isAlone }: PieceProps) => (
  <section class="tag-half tag-front">
    <header>
      {workshopName ? <p class="tag-workshop">{workshopName}</p> : null}
      <h2>{tag.title}</h2>
    </header>
    <div class="tag-sizes">
      {tag.sizes.map(({ called, also, length }) => (
        <p>
          <strong>{called}</strong>
          {also ? <span>{also}</span> : null}
          <span>{length}</span>
        </p>
      ))}
    </div>
    <PairColours colours={colours} />
    <footer>
      <div>
        {isAlone ? <p>{fibreWords(care)}</p> : null}
        {tag.second ? <p class="tag-second">{tag.second}</p> : null}
      </div>
      {tag.price ? (
        <p class="tag-price">
          <strong>{tag.price}</strong>
          {tag.priceNote ? <small>{tag.priceNote}</small> : null}
        </p>
      ) : null}
    </footer>
  </section>
);

/** More lines than fit at the usual size of type. */
const isFull = ({ madeOf, cautions }: TagParts['care']) => madeOf.length + cautions.length > 4;

const CareHalf = ({ sheet: { care, tag }, workshopName, isAlone }: PieceProps) => (
  <section class={isFull(care) ? 'tag-half care-half is-full' : 'tag-half care-half'}>
    <h2>Made of</h2>
    <ul class="plain-list">
      {care.madeOf.map(({ fibre, yarn }) => (
        <li>
          <strong>{fibre}</strong> {yarn}
        </li>
      ))}
    </ul>
    <h2>Washing</h2>
    <p>{care.care.join(' ')}</p>
    <h2>Take care</h2>
    <p>{care.cautions.join(' ')}</p>
    {isAlone ? <p class="care-foot">{[tag.title, workshopName].filter(Boolean).join(', ')}</p> : null}
  </section>
);

const howToCut = {
  tag: 'Fifteen tags a page, to cut along the lines.',
  care: 'Twelve care cards a page, to cut along the lines.',
  both: 'Six a page, across: cut along the lines and fold each in the middle, the care card behind the tag.',
};

/** Tags and care cards as they come out of the printer. */
export const TagPrintPage = (props: TagPrintProps) => {
  const { sheets, shows, paper, workshopName, priceProblems, unreadable, purpose, back } = props;
  const [one, many] = pieceNames[shows];
  return (
    <Page
      title={countOf(sheets.length, one, many)}
      where={<a href={back}>Tags and care cards</a>}
      current="pricing"
      purpose={purpose}
    >
      {sheets.length === 0 ? (
        <EmptyState action={{ href: back, words: 'Choose other pairs' }}>
          None of these pairs is here any more: they may have been sold or given meanwhile.
        </EmptyState>
      ) : (
        <div class="no-print">
          <p>
            {howToCut[shows]} Print this page from your browser (Ctrl and P, or Command and P); the paper is set:{' '}
            {paper === 'a4' ? 'A4' : 'US letter'}.
          </p>
          {shows === 'tag' ? null : (
            <p class="soft">
              <Mark mark="trade" /> Washing is common practice, no source: where a ball band says otherwise, the band is
              right. Rules on naming fibres and on safety are local: check yours.
            </p>
          )}
          {priceProblems.map((message) => (
            <Caution title="Some carry no price">{message}</Caution>
          ))}
          {unreadable > 0 ? (
            <Caution title="Left out">
              {`${countOf(unreadable, 'pair', 'pairs')} whose style or yarn can no longer be read.`}
            </Caution>
          ) : null}
          <Actions>
            <LinkButton href={back} kind="quiet">
              Choose again
            </LinkButton>
          </Actions>
        </div>
      )}
      <div class={`tags paper-${paper} tags-${shows}`}>
        {inPages(sheets, perPage[shows]).map((page) => (
          <div class="tag-page">
            {page.map((sheet) => (
              <article class="tag-piece">
                {shows === 'tag' ? null : (
                  <CareHalf sheet={sheet} workshopName={workshopName} isAlone={shows === 'care'} />
                )}
                {shows === 'care' ? null : (
                  <TagHalf sheet={sheet} workshopName={workshopName} isAlone={shows === 'tag'} />
                )}
              </article>
            ))}
          </div>
        ))}
      </div>
    </Page>
  );
};
