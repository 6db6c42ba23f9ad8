import { countOf } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { Page } from '#views/layout.tsx';
import { CardSheetView, type Sheet, SmallCard } from '#views/pages/cards/sheet.tsx';

export type PaperChoice = {
  readonly paper: 'a4' | 'letter';
  readonly layout: 'one' | 'four';
  readonly print: 'normal' | 'large';
};

export type PrintPageProps = PaperChoice & {
  readonly sheets: readonly Sheet[];
  /** Back to the list, with the choice kept. */
  readonly back: string;
};

function inTwos<T>(items: readonly T[]): readonly (readonly T[])[] {
  return Array.from({ length: Math.ceil(items.length / 2) }, (_, index) => items.slice(2 * index, 2 * index + 2));
}

/** The cards as they come out of the printer; on a screen with a word on how to print them. */
export const PrintPage = ({ sheets, paper, layout, print, back }: PrintPageProps) => (
  <Page
    title={countOf(sheets.length, 'knitting card', 'knitting cards')}
    where={<a href={back}>Knitting cards</a>}
    current="cards"
  >
    {sheets.length === 0 ? (
      <EmptyState action={{ href: back, words: 'Choose cards' }}>
        None of the pairs chosen is here any more: the plan may have changed. Choose again.
      </EmptyState>
    ) : (
      <>
        <p class="no-print">
          Print this page from your browser (Ctrl and P, or Command and P). The paper is set:{' '}
          {paper === 'a4' ? 'A4' : 'US letter'}
          {layout === 'four' ? ', four cards a page' : ', a pair a page'}.
        </p>
        <div class={`sheets paper-${paper} print-${print} layout-${layout}`}>
          {layout === 'one'
            ? sheets.map((sheet, index) => <CardSheetView sheet={sheet} index={index} />)
            : inTwos(sheets).map((row) => (
                <div class="card-row">
                  {row.map((sheet) => (
                    <SmallCard sheet={sheet} />
                  ))}
                </div>
              ))}
        </div>
      </>
    )}
  </Page>
);
