import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField } from '#views/components/field.tsx';
import { undyedHex } from '#views/components/yarn-colour.ts';
import { Page, type Purpose } from '#views/layout.tsx';

type ColourFieldsProps = {
  readonly rows: readonly number[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

const kinds = ['one colour', 'two (marl, tweed)', 'three', 'four'];
const places = ['Colour', 'Second', 'Third', 'Fourth'];

// The pickers always hold a colour, so a choice says how many of them count.
const ColourRow = ({ row, values, problems }: Omit<ColourFieldsProps, 'rows'> & { readonly row: number }) => {
  const field = (name: string) => ({ name: `colour${row}-${name}`, value: values[`colour${row}-${name}`], problems });
  const count = Number(values[`colour${row}-count`] ?? '1');
  const picker = (place: number) => (
    <TextField
      {...field(`hex${place}`)}
      value={values[`colour${row}-hex${place}`] ?? undyedHex}
      label={places[place - 1]}
      type="color"
    />
  );
  return (
    <div class="colour-row">
      <FieldRow>
        <TextField {...field('name')} label="Name of the colour" maxlength={200} />
        {picker(1)}
        <SelectField
          {...field('count')}
          value={values[`colour${row}-count`] ?? '1'}
          label="Made of"
          options={kinds.map((words, index) => ({ value: String(index + 1), words }))}
        />
      </FieldRow>
      <details open={count > 1}>
        <summary>More colours in it</summary>
        <FieldRow>{[2, 3, 4].map(picker)}</FieldRow>
      </details>
    </div>
  );
};

/** Name and chip of one or more colours. */
export const ColourFields = ({ rows, values, problems }: ColourFieldsProps) => (
  <>
    {rows.map((row) => (
      <ColourRow row={row} values={values} problems={problems} />
    ))}
  </>
);

export type ColoursPageProps = ColourFieldsProps & {
  readonly purpose: Purpose;
  readonly yarn: { readonly id: number; readonly name: string };
};

/** More colours of a yarn that is there. */
export const AddColoursPage = ({ purpose, yarn, rows, values, problems }: ColoursPageProps) => (
  <Page
    title={`Colours of ${yarn.name}`}
    where={<a href="/shelf">Yarn shelf</a>}
    current="shelf"
    purpose={purpose}
    problems={problems}
  >
    <form method="post" action={`/shelf/yarns/${yarn.id}/colours`}>
      <ErrorSummary problems={problems} />
      <ColourFields rows={rows} values={values} problems={problems} />
      <Actions>
        <Button>Add the colours</Button>
        <LinkButton href="/shelf" kind="quiet">
          Back to the shelf
        </LinkButton>
      </Actions>
    </form>
  </Page>
);

export type ColourPageProps = Omit<ColoursPageProps, 'rows'> & {
  readonly colour: { readonly id: number; readonly name: string; readonly canGo: boolean };
};

/** One colour: its name and chip. */
export const ColourPage = ({ purpose, yarn, colour, values, problems }: ColourPageProps) => (
  <Page
    title={`${colour.name}, ${yarn.name}`}
    where={<a href="/shelf">Yarn shelf</a>}
    current="shelf"
    purpose={purpose}
    problems={problems}
  >
    <form method="post" action={`/shelf/colours/${colour.id}`}>
      <ErrorSummary problems={problems} />
      <input type="hidden" name="version" value={values.version ?? ''} />
      <ColourFields rows={[1]} values={values} problems={problems} />
      <Actions>
        <Button>Save the colour</Button>
        <LinkButton href={`/shelf/add?colour=${colour.id}`} kind="quiet">
          Put some on the shelf
        </LinkButton>
        {colour.canGo ? (
          <Button kind="remove" formaction={`/shelf/colours/${colour.id}/remove`} formnovalidate>
            Remove this colour
          </Button>
        ) : null}
      </Actions>
    </form>
  </Page>
);
