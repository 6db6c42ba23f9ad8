import { countOf, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { fieldId, TextAreaField, TextField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

export type PriceImportProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly text: string;
  readonly problems: readonly Problem[];
  readonly faultCount: number;
  /** What saving would do; null before that is known. */
  readonly count: {
    readonly added: number;
    readonly changed: number;
    readonly unchanged: number;
    /** The counts as they were seen. */
    readonly seen: string;
    /** The first of those that change. */
    readonly rows: readonly {
      readonly row: number;
      readonly shop: string;
      readonly colour: string;
      readonly wasCents: number;
      readonly isCents: number;
      readonly wasStock: number | null;
      readonly isStock: number | null;
    }[];
  } | null;
  /** "new-changed" of an import that was just saved; null otherwise. */
  readonly saved: string | null;
};

const columns = [
  { name: 'shop', words: 'Its name as you have it. May be left out where there is one shop.' },
  { name: 'yarn', words: 'Its name. Needed.' },
  { name: 'colour', words: 'Its name, or “all” for every colour of the yarn. Needed.' },
  { name: 'grams a ball', words: 'Like 100 or 37.5. Empty: as the yarn says.' },
  { name: 'balls a pack', words: 'Empty: sold singly.' },
  { name: 'price', words: 'What a pack costs, like 8.90 or 8,90. Needed.' },
  { name: 'stock', words: 'Packs the shop has. Empty: as many as wanted; without this column it stays as it is.' },
] as const;

const Faults = ({ problems, faultCount }: Pick<PriceImportProps, 'problems' | 'faultCount'>) =>
  problems.length === 0 ? null : (
    <div class="error-summary" role="alert" tabindex={-1} autofocus>
      <h2>No price was stored: {countOf(faultCount, 'thing', 'things')} to mend</h2>
      <ol class="faults">
        {problems.map(({ path, message }) => (
          <li>
            <a href={`#${fieldId('text')}`}>{path === 'file' ? 'The table' : path}</a>: {message}
          </li>
        ))}
      </ol>
      {faultCount > problems.length ? (
        <p>These are the first {problems.length}; the others are shown when these are mended.</p>
      ) : null}
    </div>
  );

const stockWords = (stock: number | null) => (stock === null ? 'not said' : countOf(stock, 'pack', 'packs'));

const Count = ({ count, currency }: Pick<PriceImportProps, 'count' | 'currency'>) =>
  count === null ? null : (
    <section aria-live="polite">
      <h2>Nothing is stored yet. This would be</h2>
      <FigureRow
        figures={[
          { value: String(count.added), words: count.added === 1 ? 'new price' : 'new prices' },
          { value: String(count.changed), words: 'others than before' },
          { value: String(count.unchanged), words: 'as they are' },
        ]}
      />
      {count.rows.length > 0 ? (
        <DataTable
          caption={count.rows.length < count.changed ? `The first ${count.rows.length} that change` : 'What changes'}
          columns={[
            { name: 'Colour', kind: 'heading', cell: ({ colour }) => colour },
            { name: 'Shop', cell: ({ shop }) => shop },
            { name: 'Row', kind: 'number', cell: ({ row }) => row },
            { name: 'Price was', kind: 'number', cell: ({ wasCents }) => formatCents(wasCents, currency) },
            { name: 'Would be', kind: 'number', cell: ({ isCents }) => formatCents(isCents, currency) },
            {
              name: 'In stock',
              kind: 'number',
              cell: ({ wasStock, isStock }) =>
                wasStock === isStock ? stockWords(isStock) : `${stockWords(isStock)}, was ${stockWords(wasStock)}`,
            },
          ]}
          rows={count.rows}
        />
      ) : null}
    </section>
  );

function savedWords(saved: string): string | null {
  const match = /^(\d{1,5})-(\d{1,5})$/.exec(saved);
  if (!match) return null;
  const [added, changed] = [Number(match[1]), Number(match[2])];
  if (added + changed === 0) return 'Every price was there already; nothing had to change.';
  return `Stored: ${countOf(added, 'new price', 'new prices')} and ${changed} changed.`;
}

/** Shop prices out of a table: counted first, then stored, all of it or nothing. */
export const PriceImportPage = (props: PriceImportProps) => {
  const { purpose, text, problems, count, saved } = props;
  const notice = saved === null ? null : savedWords(saved);
  return (
    <Page
      title="Import a table of prices"
      where={<a href="/buying/shops">Shops and prices</a>}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      {notice && count === null ? (
        <p class="notice" role="status">
          {notice}
        </p>
      ) : null}
      <Faults {...props} />
      <form method="post" action="/buying/prices/import" enctype="multipart/form-data" class="order-form">
        <Count {...props} />
        {count === null ? null : (
          <>
            <input type="hidden" name="seen" value={count.seen} />
            <Actions>
              <Button>Store these prices</Button>
            </Actions>
          </>
        )}
        <TextField
          name="file"
          label={count === null ? 'A file' : 'Another file'}
          hint="CSV with commas, semicolons or tabs, up to 2 MB and 10,000 rows."
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
        />
        <div class="table-text">
          <TextAreaField
            name="text"
            label={count === null ? 'Or the table itself' : 'The table'}
            hint="Paste it here with its headings. A file that is chosen above counts before this text."
            rows={text === '' ? 8 : 16}
            value={text}
          />
        </div>
        <Actions>
          <Button kind={count === null ? 'main' : 'quiet'} name="seen" value="">
            {count === null ? 'Count what is new' : 'Count again'}
          </Button>
          <LinkButton kind="quiet" href="/buying/prices/import/example.csv">
            Download the prices that are here
          </LinkButton>
        </Actions>
      </form>
      <section>
        <DataTable
          caption="Columns"
          rows={columns}
          columns={[
            { name: 'Heading', kind: 'heading', cell: ({ name }) => name },
            { name: 'What stands in it', kind: 'wide', cell: ({ words }) => words },
          ]}
        />
        <p>
          The first row names the columns, in any order. If anything is wrong, every fault is listed and nothing is
          stored.
        </p>
        <p>
          A table holds the price of one pack. Lower prices for more packs, and what a shop takes off a whole basket,
          are in no column: they stay as they are, and are entered on the pages of the price and of the shop.
        </p>
      </section>
    </Page>
  );
};
