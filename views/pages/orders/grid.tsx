import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, fieldId, SelectField } from '#views/components/field.tsx';
import { Page } from '#views/layout.tsx';
import { byYarn, CuffField, FitField, OrderFields, OtherColourField, StyleField } from '#views/pages/orders/fields.tsx';
import { SizeRunFields } from '#views/pages/orders/size-run-fields.tsx';
import type { FormNames, FormValues } from '#views/pages/orders/types.ts';

export type GridPageProps = {
  readonly names: FormNames;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  /** The rows: what the form sends back for each, and its words. */
  readonly rows: readonly { readonly value: string; readonly words: string }[];
  /** The columns. */
  readonly colours: FormNames['colours'];
};

/** The field of a cell: it names its size, so that what was typed stays with it when other sizes are shown. */
function cellField(row: string, colourId: number): string {
  return `pairs-${row}-${colourId}`;
}

/** Chooses what stands down and across. */
const Frame = ({ names, values, problems }: Omit<GridPageProps, 'rows' | 'colours'>) => (
  <Card>
    <FieldRow>
      <SizeRunFields names={names} values={values} problems={problems} />
      <SelectField
        name="yarn"
        label="Yarn"
        width="medium"
        options={byYarn(names.colours).map((yarn) => ({ value: String(yarn.colours[0]!.yarnId), words: yarn.name }))}
        value={values.yarn}
        problems={problems}
      />
      <Button kind="quiet" name="show" value="yes">
        Show these
      </Button>
      <input type="hidden" name="shownPerson" value={values.person} />
      <input type="hidden" name="shownSystem" value={values.system} />
      <input type="hidden" name="shownSizes" value={values.sizes} />
    </FieldRow>
  </Card>
);

const Cell = ({
  name,
  label,
  value,
  problems,
}: {
  readonly name: string;
  readonly label: string;
  readonly value: string | undefined;
  readonly problems: readonly Problem[];
}) => {
  const message = problems.find((problem) => problem.path === name)?.message;
  const id = fieldId(name);
  return (
    <>
      <input
        id={id}
        name={name}
        type="text"
        inputmode="numeric"
        class="cell-input"
        autocomplete="off"
        maxlength={6}
        aria-label={label}
        value={value ?? ''}
        {...(message ? { 'aria-invalid': 'true' as const, 'aria-describedby': `${id}-error` } : {})}
      />
      {message ? (
        <span class="error cell-error" id={`${id}-error`}>
          {message}
        </span>
      ) : null}
    </>
  );
};

const Cells = ({ rows, colours, values, problems }: Omit<GridPageProps, 'names'>) => (
  <div class="size-grid-frame">
    <table class="size-grid">
      <caption>Pairs by size and colour</caption>
      <thead>
        <tr>
          <th scope="col">Size</th>
          {colours.map((colour) => (
            <th scope="col">
              <Chip colours={colour.hexes} name={colour.name} />
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr>
            <th scope="row">
              {row.words}
              <input type="hidden" name="row" value={row.value} />
            </th>
            {colours.map((colour) => {
              const name = cellField(row.value, colour.id);
              return (
                <td>
                  <span class="cell-name">
                    <Chip colours={colour.hexes} name={colour.name} />
                  </span>
                  <Cell name={name} label={`${row.words}, ${colour.name}`} value={values[name]} problems={problems} />
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);

/** Sizes down, colours across: a stock of many pairs as one order. */
export const GridPage = (props: GridPageProps) => {
  const { names, values, problems, rows, colours } = props;
  return (
    <Page title="A grid of pairs for stock" where="Orders" current="orders" purpose={names.purpose} problems={problems}>
      <ErrorSummary problems={problems} />
      {names.colours.length === 0 ? (
        <EmptyState action={{ href: '/shelf', words: 'Put a yarn on the shelf' }}>
          The grid has a column for each colour of a yarn, and there is no yarn yet.
        </EmptyState>
      ) : (
        <form method="post" action="/orders/grid" class="order-form">
          <Frame names={names} values={values} problems={problems} />
          <Cells rows={rows} colours={colours} values={values} problems={problems} />
          <div class="columns">
            <Card title="The same for all of them">
              <StyleField names={names} values={values} problems={problems} />
              {names.roles.slice(1).map((_, index) => (
                <OtherColourField names={names} values={values} problems={problems} index={index + 1} />
              ))}
              <CuffField names={names} values={values} problems={problems} />
              <FitField values={values} problems={problems} />
            </Card>
            <Card title="For whom and when">
              <OrderFields names={names} values={values} problems={problems} />
            </Card>
          </div>
          <Actions>
            <Button>Save all pairs</Button>
            <LinkButton href="/orders" kind="quiet">
              Leave it
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};
