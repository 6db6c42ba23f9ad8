import { countOf } from '#core/shared/format.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

export type StyleRowView = {
  readonly id: number;
  readonly name: string;
  readonly isShipped: boolean;
  readonly pairsOrdered: number;
  readonly versionNumber: number;
  /** Its colours in words. */
  readonly colours: string;
};

export type StylesPageProps = {
  readonly purpose: Purpose;
  readonly styles: readonly StyleRowView[];
  /** Names of the styles that ship and are missing here. */
  readonly missing: readonly string[];
};

/** Every style of the workshop. */
export const StylesPage = ({ purpose, styles, missing }: StylesPageProps) => (
  <Page
    title={styles.length === 0 ? 'No style yet' : `${countOf(styles.length, 'style', 'styles')} to knit from`}
    where="Styles and sizes"
    current="sizing"
    purpose={purpose}
  >
    {styles.length === 0 ? (
      <EmptyState action={{ href: '/', words: 'Begin on the first page' }}>
        The usual styles come when you begin, with your own workshop or with the sample season.
      </EmptyState>
    ) : (
      <>
        <DataTable
          caption="Styles"
          isCaptionHidden
          columns={[
            {
              name: 'Style',
              kind: 'heading',
              cell: (style: StyleRowView) => <a href={`/styles/${style.id}`}>{style.name}</a>,
            },
            {
              name: 'From',
              cell: (style) =>
                style.isShipped ? 'comes with the program' : `your own, version ${style.versionNumber}`,
            },
            { name: 'Colours', cell: (style) => style.colours },
            {
              name: 'In orders',
              kind: 'number',
              cell: (style) => (style.pairsOrdered === 0 ? 'none' : countOf(style.pairsOrdered, 'pair', 'pairs')),
            },
          ]}
          rows={styles}
        />
        <p class="soft">Copy a style to change it: every length, step and seam is yours to set.</p>
        {missing.length > 0 ? (
          <form method="post" action="/styles/shipped">
            <p>{`Not here yet: ${missing.join(', ')}.`}</p>
            <Actions>
              <Button kind="quiet">Add these styles</Button>
            </Actions>
          </form>
        ) : null}
        <Actions>
          <LinkButton href="/styles/import" kind="quiet">
            Read a style from a file
          </LinkButton>
          <LinkButton href="/sizing" kind="quiet">
            Size chart
          </LinkButton>
        </Actions>
      </>
    )}
  </Page>
);
