import { countOf, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { CheckField, fieldId, TextAreaField, TextField } from '#views/components/field.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

/** An order of the table that looks like one that is there already. */
export type LookAlikeView = {
  readonly rows: readonly number[];
  readonly imported: string;
  readonly storedHref: string;
  readonly stored: string;
  readonly lines: readonly string[];
};

export type ImportPageProps = {
  readonly purpose: Purpose;
  readonly columns: readonly { readonly name: string; readonly words: string; readonly isNeeded: boolean }[];
  readonly text: string;
  readonly fileName: string;
  readonly problems: readonly Problem[];
  /** How many faults there are in all; those in `problems` are the first of them. */
  readonly faultCount: number;
  readonly earlier?: { readonly fileName: string; readonly day: string; readonly href: string } | undefined;
  readonly lookAlikes: readonly LookAlikeView[];
  /** Days and feet that are odd, and may be right. */
  readonly odd: readonly Problem[];
  /** Names the text, so that an answer holds for it alone. */
  readonly contentHash: string;
};

const Faults = ({ problems, faultCount }: Pick<ImportPageProps, 'problems' | 'faultCount'>) =>
  problems.length === 0 ? null : (
    <div class="error-summary" role="alert" tabindex={-1} autofocus>
      <h2>Nothing was imported yet: {countOf(faultCount, 'thing', 'things')} to mend</h2>
      <ol class="faults">
        {problems.map(({ path, message }) => (
          <li>
            <a href={`#${fieldId('text')}`}>{path === 'file' || path === 'text' ? 'The table' : path}</a>: {message}
          </li>
        ))}
      </ol>
      {faultCount > problems.length ? (
        <p>These are the first {problems.length}; the others are shown when these are mended.</p>
      ) : null}
    </div>
  );

const mostOdd = 50;

const OddThings = ({ odd }: Pick<ImportPageProps, 'odd'>) =>
  odd.length === 0 ? null : (
    <>
      <Caution title={`${countOf(odd.length, 'thing', 'things')} to look at`}>Nothing was imported yet.</Caution>
      <ul class="faults">
        {odd.slice(0, mostOdd).map(({ path, message }) => (
          <li>
            <a href={`#${fieldId('text')}`}>{path}</a>: {message}
          </li>
        ))}
      </ul>
      {odd.length > mostOdd ? <p>These are the first {mostOdd}.</p> : null}
    </>
  );

const LookAlikes = ({ lookAlikes }: Pick<ImportPageProps, 'lookAlikes'>) =>
  lookAlikes.length === 0 ? null : (
    <>
      <Caution title="These seem to be here already">
        {lookAlikes.length === 1 ? 'One order' : `${lookAlikes.length} orders`} of the table would be the same as an
        order that is here. Nothing was imported yet.
      </Caution>
      <ul class="plain-list stack">
        {lookAlikes.map(({ rows, imported, storedHref, stored, lines }) => (
          <li class="look-alike">
            <p>
              <strong>
                In the table, {rows.length === 1 ? 'row' : 'rows'} {rows.slice(0, 6).join(', ')}
                {rows.length > 6 ? ' …' : ''}:
              </strong>{' '}
              {imported}
            </p>
            <p>
              <strong>Here already:</strong> <a href={storedHref}>{stored}</a>
            </p>
            <p class="soft">Both: {lines.join('; ')}</p>
          </li>
        ))}
      </ul>
    </>
  );

/** What the table is asked about, all of it answered by one tick. */
const Question = ({ lookAlikes, odd, contentHash }: Pick<ImportPageProps, 'lookAlikes' | 'odd' | 'contentHash'>) =>
  lookAlikes.length + odd.length === 0 ? null : (
    <div class="question">
      <OddThings odd={odd} />
      <LookAlikes lookAlikes={lookAlikes} />
      <CheckField
        name="confirmed"
        value={contentHash}
        label={
          odd.length === 0
            ? 'They are others: import all the same'
            : 'It is right as it stands in the table: import all of it'
        }
      />
    </div>
  );

/** Orders out of a table, all of it or nothing. */
export const ImportPage = (props: ImportPageProps) => {
  const { purpose, columns, text, fileName, problems, earlier, lookAlikes, odd, contentHash } = props;
  return (
    <Page title="Import a table of orders" where="Orders" current="orders" purpose={purpose} problems={problems}>
      <Faults problems={problems} faultCount={props.faultCount} />
      {earlier ? (
        <Caution title="This table was imported before">
          It came in as “{earlier.fileName}” on {formatDay(earlier.day)}, so nothing was done.{' '}
          <a href={earlier.href}>See the orders of that import</a>
        </Caution>
      ) : null}
      <form method="post" action="/orders/import" enctype="multipart/form-data" class="order-form">
        <Question lookAlikes={lookAlikes} odd={odd} contentHash={contentHash} />
        <TextField
          name="file"
          label="A file"
          hint="CSV with commas, semicolons or tabs, up to 2 MB and 10,000 rows."
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
        />
        <div class="table-text">
          <TextAreaField
            name="text"
            label="Or the table itself"
            hint="Paste it here with its headings. A file that is chosen above counts before this text."
            rows={text === '' ? 8 : 16}
            value={text}
          />
        </div>
        <input type="hidden" name="fileName" value={fileName} />
        <Actions>
          <Button>Import</Button>
          <LinkButton kind="quiet" href="/orders/import/example.csv">
            Download an example
          </LinkButton>
        </Actions>
      </form>
      <section>
        <DataTable
          caption="Columns"
          rows={columns}
          columns={[
            { name: 'Heading', kind: 'heading', cell: (column) => column.name },
            {
              name: 'What stands in it',
              kind: 'wide',
              cell: (column) => (
                <>
                  {column.words}
                  {column.isNeeded ? ' Needed.' : ''}
                </>
              ),
            },
          ]}
        />
        <p>
          The first row names the columns, in any order. Rows of the same customer, reference, outlet and day make one
          order. If anything is wrong, every fault is listed and nothing is stored.
        </p>
      </section>
    </Page>
  );
};
