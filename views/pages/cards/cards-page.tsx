import { countOf } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ChoiceField, FieldRow } from '#views/components/field.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { countInWords, upperFirst } from '#views/pages/batch/count-words.ts';
import { orderWords, PairColours, sidesInWords } from '#views/pages/batch/pair-parts.tsx';
import type { OrderName, PairCounts, RoleColours } from '#views/pages/batch/types.ts';

export type RunView = PairCounts & {
  readonly key: string;
  readonly isStarted: boolean;
  readonly sizeWords: string;
  readonly style: string;
  readonly colours: readonly RoleColours[];
  readonly count: number;
  readonly pairIds: readonly number[];
  readonly orders: readonly OrderName[];
  readonly firstDueDay: string | null;
};

export type CardsPageProps = {
  /** Pairs of all runs; those of one page are shown. */
  readonly pairCount: number;
  readonly paging: Paging;
  readonly pageHref: PageHref;
  readonly knitters: readonly {
    readonly name: string;
    readonly words: 'british' | 'american';
    readonly runs: readonly RunView[];
  }[];
};

const mostLinks = 12;

function countsInWords({ castOn, rows, right }: PairCounts): string {
  return `${sidesInWords(castOn, right?.castOn, 'stitches')}, ${sidesInWords(rows, right?.rows, 'rows')}`;
}

const RunChoice = ({ run }: { readonly run: RunView }) => {
  const id = `run-${run.key.replace(/[^A-Za-z0-9]+/g, '-')}`;
  const orders = run.orders.length === 0 ? 'stock' : run.orders.slice(0, 3).map(orderWords).join('; ');
  const more = run.orders.length > 3 ? ` and ${run.orders.length - 3} more` : '';
  return (
    <li class="run">
      <label class="choice" for={id}>
        <input type="checkbox" id={id} name="run" value={run.key} checked={run.isStarted} />
        <span class="pair-name">
          <span>
            <strong>{run.sizeWords}</strong>
            {`, ${countOf(run.count, 'pair', 'pairs')}`}
            {run.isStarted ? '' : <em class="soft"> not started yet</em>}
          </span>
          <PairColours colours={run.colours} />
          <small class="soft">
            {`${run.style}: ${countsInWords(run)}; for ${orders}${more}`}
            {run.firstDueDay ? `, by ${formatDayShort(run.firstDueDay)}` : ''}
          </small>
        </span>
      </label>
      {run.pairIds.length > 0 ? (
        <p class="run-links">
          <span class="soft">Knit along: </span>
          {run.pairIds.slice(0, mostLinks).map((pairId) => (
            <>
              <a href={`/cards/pair/${pairId}`}>{`pair ${pairId}`}</a>{' '}
            </>
          ))}
          {run.pairIds.length > mostLinks ? `and ${run.pairIds.length - mostLinks} more` : ''}
        </p>
      ) : null}
    </li>
  );
};

/** *Knitting cards*: which pairs, for whom, on which paper. */
export const CardsPage = ({ knitters, pairCount: pairs, paging, pageHref }: CardsPageProps) => {
  const title = pairs === 0 ? 'Knitting cards' : `${upperFirst(countInWords(pairs, 'pair', 'pairs'))} to put on cards`;
  return (
    <Page title={title} where="Knitting cards" current="cards">
      {pairs === 0 ? (
        <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
          A card says what to weigh out and what to knit, row by row. There is nothing to knit yet: cards come with the
          first agreed order.
        </EmptyState>
      ) : (
        <form method="get" action="/cards/print">
          <Pager paging={paging} noun="Cards" href={pageHref} />
          {paging.pages > 1 ? <p class="hint">What is ticked on this page is printed.</p> : null}
          {knitters.map(({ name, words, runs }) => (
            <fieldset class="field knitter-runs">
              <legend>
                {name} <span class="hint">{words === 'british' ? 'British words' : 'American words'}</span>
              </legend>
              <ul class="plain-list">
                {runs.map((run) => (
                  <RunChoice run={run} />
                ))}
              </ul>
            </fieldset>
          ))}
          <Pager paging={paging} noun="Cards" href={pageHref} isBelow />
          <FieldRow>
            <ChoiceField
              name="paper"
              label="Paper"
              layout="row"
              value="a4"
              options={[
                { value: 'a4', words: 'A4' },
                { value: 'letter', words: 'US letter' },
              ]}
            />
            <ChoiceField
              name="layout"
              label="Cards on a page"
              layout="row"
              value="one"
              options={[
                { value: 'one', words: 'One, with drawings' },
                { value: 'four', words: 'Four small ones' },
              ]}
            />
          </FieldRow>
          <FieldRow>
            <ChoiceField
              name="print"
              label="Type"
              layout="row"
              value="normal"
              options={[
                { value: 'normal', words: 'Usual' },
                { value: 'large', words: 'Large print' },
              ]}
            />
            <ChoiceField
              name="words"
              label="Words"
              layout="row"
              value="knitter"
              options={[
                { value: 'knitter', words: "Each knitter's own" },
                { value: 'british', words: 'British' },
                { value: 'american', words: 'American' },
              ]}
            />
          </FieldRow>
          <Actions>
            <Button>Show the cards to print</Button>
          </Actions>
        </form>
      )}
    </Page>
  );
};
