import type { Day } from '#core/shared/calendar.ts';
import { formatCents, formatDay, formatPercent } from '#core/shared/format.ts';
import { formatLengthRange } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { CheckField, ChoiceField, FieldRow, fieldId, SelectField, TextField } from '#views/components/field.tsx';
import { unitSystem } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairColours } from '#views/pages/batch/pair-parts.tsx';
import type { RoleColours } from '#views/pages/batch/types.ts';

type Run = 'woman' | 'man' | 'child' | 'unknown' | 'bands';

export type SheetRowView = {
  readonly name: string;
  readonly labels: readonly { readonly system: string; readonly label: string }[];
  readonly fromMm: number;
  readonly toMm: number;
  readonly prices: readonly {
    readonly priceCents: number | null;
    readonly secondCents: number | null;
    readonly suggestedCents: number | null;
    readonly shopCents: number | null;
    readonly oursCents: number | null;
  }[];
};

export type SheetView = {
  readonly outlet: {
    readonly name: string;
    readonly kind: 'fair' | 'order' | 'shop' | 'gift';
    readonly terms: 'wholesale' | 'sale or return' | null;
    readonly leastPairs: number | null;
    readonly shopShareRatio: number;
    readonly taxRatio: number;
    readonly isTaxIncluded: boolean;
  };
  readonly columns: readonly {
    readonly style: string;
    readonly yarn: string;
    readonly colours: readonly RoleColours[];
    readonly isYarnPriceUnknown: boolean;
  }[];
  readonly groups: readonly { readonly run: Run; readonly rows: readonly SheetRowView[] }[];
};

export type SheetPrintProps = {
  /** Null while the choice is faulty. */
  readonly sheet: SheetView | null;
  readonly systems: readonly string[];
  readonly print: {
    readonly hasSeconds: boolean;
    readonly type: 'large' | 'usual';
    readonly paper: 'a4' | 'letter';
    readonly workshopName: string;
  };
  readonly today: Day;
  readonly currency: string;
  readonly taxNote: string;
  readonly csvHref: string;
};

export type SheetPageProps = SheetPrintProps & {
  readonly outlets: readonly { readonly id: number; readonly name: string }[];
  readonly styles: readonly { readonly id: number; readonly name: string }[];
  readonly yarns: readonly { readonly value: string; readonly words: string }[];
  readonly hasBands: boolean;
  readonly offeredSystems: readonly string[];
  readonly values: Readonly<Record<string, string>>;
  readonly purpose: Purpose;
  readonly problems?: readonly Problem[];
};

const runWords: Readonly<Record<Run, string>> = {
  woman: 'Women',
  man: 'Men',
  child: 'Children',
  unknown: 'Anybody grown up',
  bands: 'Our sizes',
};

type ChecksProps = Pick<SheetPageProps, 'values' | 'problems'> & {
  readonly legend: string;
  readonly options: readonly { readonly name: string; readonly words: string }[];
};

/** Several of a list; what is wrong with them is said once, at the first. */
const Checks = ({ legend, options, values, problems = [] }: ChecksProps) => {
  const first = options[0]?.name ?? '';
  const messages = problems.filter(({ path }) => path === first).map(({ message }) => message);
  const id = fieldId(first);
  return (
    <fieldset
      class={messages.length > 0 ? 'field has-error choices choices-row' : 'field choices choices-row'}
      aria-describedby={messages.length > 0 ? `${id}-error` : undefined}
    >
      <legend>{legend}</legend>
      {messages.length > 0 ? (
        <p class="error" id={`${id}-error`}>
          {messages.join(' ')}
        </p>
      ) : null}
      <div class="choice-list">
        {options.map(({ name, words }) => (
          <label class="choice">
            <input type="checkbox" id={fieldId(name)} name={name} value="yes" checked={values[name] === 'yes'} />
            <span>{words}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
};

const SheetForm = (props: SheetPageProps) => {
  const { outlets, styles, yarns, hasBands, offeredSystems, values, problems = [] } = props;
  const runs: readonly Run[] = ['woman', 'man', 'child', 'unknown', ...(hasBands ? (['bands'] as const) : [])];
  const shared = { values, problems };
  return (
    <form method="get" action="/pricing/sheet">
      <FieldRow>
        <SelectField
          name="outlet"
          label="Prices at"
          options={outlets.map(({ id, name }) => ({ value: String(id), words: name }))}
          value={values.outlet}
          problems={problems}
          width="medium"
        />
        <TextField
          name="name"
          label="Name of the workshop"
          hint="Printed at the top; leave it empty for none."
          value={values.name}
          maxlength={60}
          problems={problems}
        />
      </FieldRow>
      <Checks
        legend="Sizes for"
        options={runs.map((run) => ({
          name: `run-${run}`,
          words: run === 'bands' ? 'Your own bands' : runWords[run],
        }))}
        {...shared}
      />
      <Checks
        legend="Styles"
        options={styles.map(({ id, name }) => ({ name: `style-${id}`, words: name }))}
        {...shared}
      />
      <Checks legend="Yarn" options={yarns.map(({ value, words }) => ({ name: `yarn-${value}`, words }))} {...shared} />
      <Checks
        legend="Size labels"
        options={offeredSystems.map((system) => ({ name: `system-${system}`, words: system }))}
        {...shared}
      />
      <FieldRow>
        <CheckField
          name="together"
          label="Sizes of one price in one line"
          isChecked={values.together === 'yes'}
          problems={problems}
        />
        <CheckField
          name="second"
          label="With the price of a second"
          isChecked={values.second === 'yes'}
          problems={problems}
        />
      </FieldRow>
      <FieldRow>
        <ChoiceField
          name="type"
          label="Type"
          layout="row"
          value={values.type}
          problems={problems}
          options={[
            { value: 'large', words: 'Large, for a table' },
            { value: 'usual', words: 'Usual' },
          ]}
        />
        <ChoiceField
          name="paper"
          label="Paper"
          layout="row"
          value={values.paper}
          problems={problems}
          options={[
            { value: 'a4', words: 'A4' },
            { value: 'letter', words: 'US letter' },
          ]}
        />
      </FieldRow>
      <Actions>
        <Button>Show this sheet</Button>
      </Actions>
    </form>
  );
};

function titleOf({ outlet: { name, kind, terms } }: SheetView): string {
  if (kind !== 'shop' || terms === null) return `Prices, ${name}`;
  return terms === 'wholesale' ? `Wholesale prices for ${name}` : `Prices on sale or return, ${name}`;
}

/** Whose sizes a sheet with one run has. */
function groupWords({ groups }: SheetView): string {
  const run = groups[0]?.run;
  return run === undefined || run === 'bands' ? 'our sizes' : runWords[run].toLowerCase();
}

/** The terms of a shop, and tax: what stands below the prices. */
function termWords({ outlet }: SheetView, { hasSeconds }: SheetPrintProps['print'], taxNote: string): string[] {
  const { kind, terms, leastPairs, shopShareRatio, taxRatio, isTaxIncluded } = outlet;
  const isShop = kind === 'shop';
  return [
    ...(isShop && terms === 'wholesale'
      ? [
          leastPairs === null ? '' : `An order is of ${leastPairs} pairs or more, sizes and colours mixed.`,
          'The suggested shop price is twice the wholesale price.',
        ]
      : []),
    ...(isShop && terms === 'sale or return'
      ? [
          `The shop keeps ${formatPercent(shopShareRatio)} of its price and pays for what it sold; what is left comes back.`,
        ]
      : []),
    hasSeconds ? 'A second has a small flaw and is marked as one.' : '',
    taxRatio > 0 ? `${formatPercent(taxRatio)} tax ${isTaxIncluded ? 'is in these prices' : 'comes on top'}.` : '',
    taxNote,
  ].filter(Boolean);
}

function columnName(column: SheetView['columns'][number], { columns }: SheetView): string {
  const styles = new Set(columns.map(({ style }) => style));
  const yarns = new Set(columns.map(({ yarn }) => yarn));
  if (yarns.size === 1) return column.style;
  return styles.size === 1 ? column.yarn : `${column.style}, ${column.yarn}`;
}

type PriceProps = {
  readonly price: SheetRowView['prices'][number];
  readonly isYarnPriceUnknown: boolean;
  readonly hasSeconds: boolean;
  readonly currency: string;
};

const Price = ({ price, isYarnPriceUnknown, hasSeconds, currency }: PriceProps) => {
  const { priceCents, secondCents, suggestedCents, shopCents, oursCents } = price;
  const money = (cents: number) => formatCents(cents, currency);
  if (priceCents === null) return <>{isYarnPriceUnknown ? 'not known yet' : '–'}</>;
  return (
    <span class="price">
      <strong>{money(priceCents)}</strong>
      {suggestedCents === null ? null : <small>{`suggested ${money(suggestedCents)}`}</small>}
      {shopCents === null || oursCents === null ? null : (
        <small>{`shop ${money(shopCents)}, maker ${money(oursCents)}`}</small>
      )}
      {hasSeconds && secondCents !== null ? <small>{`second ${money(secondCents)}`}</small> : null}
    </span>
  );
};

function footWords({ fromMm, toMm }: SheetRowView): string {
  return formatLengthRange(fromMm, toMm, unitSystem());
}

const labelOf = (row: SheetRowView, system: string) => row.labels.find((label) => label.system === system)?.label;

type RowProps = SheetPrintProps & { readonly sheet: SheetView; readonly row: SheetRowView };

/** What a size is called first: a band's name, its label in the first system, or the length of the foot. */
function leadOf(row: SheetRowView, [first]: readonly string[]): string {
  const label = first === undefined ? undefined : labelOf(row, first);
  if (row.name !== '') return `${row.name.charAt(0).toUpperCase()}${row.name.slice(1)}`;
  return label === undefined ? footWords(row) : `${first} ${label}`;
}

/** The rest of it, in the columns where there is room and below the name where there is none. */
const PriceRow = ({ sheet, row, systems, print, currency }: RowProps) => {
  const others = systems.slice(1);
  const [first] = systems;
  const band = row.name !== '' && first !== undefined ? labelOf(row, first) : undefined;
  const also = [
    ...others.flatMap((system) => (labelOf(row, system) === undefined ? [] : `${system} ${labelOf(row, system)}`)),
    `foot ${footWords(row)}`,
  ];
  return (
    <tr>
      <th scope="row">
        {leadOf(row, systems)}
        {band === undefined ? null : <small class="band-label">{` ${first} ${band}`}</small>}
        <small class="on-narrow">{also.join(', ')}</small>
      </th>
      {others.map((system) => (
        <td class="on-wide">{labelOf(row, system) ?? '–'}</td>
      ))}
      <td class="on-wide">{footWords(row)}</td>
      {sheet.columns.map((column, index) => (
        <td class="number" data-label={columnName(column, sheet)}>
          <Price
            price={row.prices[index]!}
            isYarnPriceUnknown={column.isYarnPriceUnknown}
            hasSeconds={print.hasSeconds}
            currency={currency}
          />
        </td>
      ))}
    </tr>
  );
};

const PriceTable = (props: SheetPrintProps & { readonly sheet: SheetView }) => {
  const { sheet, systems } = props;
  const others = systems.slice(1);
  const columns = 2 + others.length + sheet.columns.length;
  return (
    <div class="price-frame">
      <table class={sheet.columns.length > 2 ? 'price-table has-many' : 'price-table'}>
        <caption class="visually-hidden">Price of a pair by size and style</caption>
        <thead>
          <tr>
            <th scope="col">Size</th>
            {others.map((system) => (
              <th scope="col" class="on-wide">
                {system}
              </th>
            ))}
            <th scope="col" class="on-wide">
              Foot
            </th>
            {sheet.columns.map((column) => (
              <th scope="col" class="number">
                {columnName(column, sheet)}
              </th>
            ))}
          </tr>
        </thead>
        {sheet.groups.map((group) => (
          <tbody>
            {sheet.groups.length > 1 ? (
              <tr class="run-name">
                <th scope="rowgroup" colspan={columns}>
                  {runWords[group.run]}
                </th>
              </tr>
            ) : null}
            {group.rows.map((row) => (
              <PriceRow {...props} row={row} />
            ))}
          </tbody>
        ))}
      </table>
    </div>
  );
};

/** Columns of labels and prices that a sheet of paper has room for upright, and across at the usual size of type. */
const mostUpright = { large: 5, usual: 6 } as const;
const mostAcross = 8;

const PriceSheet = (props: SheetPrintProps & { readonly sheet: SheetView }) => {
  const { sheet, print, systems, today, taxNote } = props;
  const columns = sheet.columns.length + systems.length;
  const classes = [
    `price-sheet paper-${print.paper} type-${print.type}`,
    columns > mostUpright[print.type] ? 'is-across' : '',
    columns > mostAcross ? 'is-full' : '',
  ];
  return (
    <article class={classes.filter(Boolean).join(' ')}>
      <header>
        {print.workshopName ? <p class="sheet-workshop">{print.workshopName}</p> : null}
        <h2>{sheet.groups.length === 1 ? `${titleOf(sheet)}: ${groupWords(sheet)}` : titleOf(sheet)}</h2>
        <p class="soft">{`A pair, from ${formatDay(today)}`}</p>
      </header>
      <PriceTable {...props} />
      <footer>
        {termWords(sheet, print, taxNote).map((words) => (
          <p>{words}</p>
        ))}
      </footer>
    </article>
  );
};

const Reckoned = ({ sheet }: { readonly sheet: SheetView }) => (
  <section class="no-print">
    <h2>How these prices come about</h2>
    <p>
      For usual fit and the style’s own short cuff, in the colours ordered most. A price agreed for a group of sizes
      comes before what the outlet’s rule makes of the cost.
    </p>
    <ul class="plain-list">
      {sheet.columns.map(({ style, yarn, colours }) => (
        <li>
          {`${style}, ${yarn}: `}
          <PairColours colours={colours} />
        </li>
      ))}
    </ul>
    <p class="soft">Tax rules are local: check yours, or ask someone licensed to advise.</p>
  </section>
);

/** Prices of styles over runs of sizes: for the table at a fair, or for a shop. */
export const SheetPrintPage = (props: SheetPageProps) => {
  const { sheet, purpose, outlets, styles, problems = [], csvHref } = props;
  const where = <a href="/pricing">Costs and prices</a>;
  if (purpose === 'give') {
    return (
      <Page title="Price sheet" where={where} current="pricing" purpose={purpose}>
        <EmptyState action={{ href: '/pricing/tags', words: 'Tags and care cards' }}>
          You knit to give, so there are no prices to print. Tags and care cards carry none either.
        </EmptyState>
      </Page>
    );
  }
  if (outlets.length === 0 || styles.length === 0) {
    const action =
      outlets.length === 0
        ? { href: '/pricing/outlets/new', words: 'Add an outlet' }
        : { href: '/styles', words: 'Styles' };
    return (
      <Page title="Price sheet" where={where} current="pricing" purpose={purpose}>
        <EmptyState action={action}>A price sheet needs an outlet that sells, and a style.</EmptyState>
      </Page>
    );
  }
  return (
    <Page
      title={sheet ? titleOf(sheet) : 'Price sheet'}
      where={where}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <details class="no-print sheet-choices" open={problems.length > 0}>
        <summary>Choose outlet, sizes, styles and paper</summary>
        <SheetForm {...props} />
      </details>
      {sheet ? (
        <>
          {sheet.columns.some(({ isYarnPriceUnknown }) => isYarnPriceUnknown) ? (
            <div class="no-print">
              <Caution title="Some yarn has no price">
                Prices reckoned from the cost are then too low. <a href="/buying">Enter what the yarn costs</a>
              </Caution>
            </div>
          ) : null}
          <p class="no-print">
            Print this page from your browser (Ctrl and P, or Command and P): the sheet alone comes out.
          </p>
          <PriceSheet {...props} sheet={sheet} />
          <Actions>
            <LinkButton href={csvHref} kind="quiet">
              These prices as CSV
            </LinkButton>
            <LinkButton href="/pricing/tags" kind="quiet">
              Tags and care cards
            </LinkButton>
          </Actions>
          <Reckoned sheet={sheet} />
        </>
      ) : null}
    </Page>
  );
};
