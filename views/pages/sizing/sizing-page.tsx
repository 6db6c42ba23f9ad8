import { countOf } from '#core/shared/format.ts';
import type { Spec } from '#core/styles/spec.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { FieldRow, SelectField } from '#views/components/field.tsx';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { FlatPieces, type FlatPieceView } from '#views/drawings/flat-pieces.tsx';
import { formatLength, formatMass, measureForInput, unitOf } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';

export type SizingRow = {
  readonly size: string;
  readonly labels: readonly { readonly system: string; readonly label: string }[];
  readonly lengthMm: number;
  readonly spec: Spec;
  readonly grams: number;
};

export type SizingPageProps = {
  readonly purpose: Purpose;
  readonly style: { readonly id: number; readonly name: string } | null;
  readonly styles: readonly { readonly value: string; readonly words: string }[];
  readonly settings: readonly { readonly words: string; readonly value: string }[];
  readonly asked: { readonly style: string; readonly person: string; readonly yarn: string; readonly knitter: string };
  readonly yarns: readonly { readonly value: string; readonly words: string }[];
  readonly knitters: readonly { readonly value: string; readonly words: string }[];
  readonly sizes: readonly SizingRow[];
  /** Sizes that come out as one and the same slipper. */
  readonly shared: readonly (readonly string[])[];
  /** The flat pieces of the size in the middle. */
  readonly flat: readonly FlatPieceView[];
  readonly bandRows: readonly SizingRow[];
  readonly bands: readonly {
    readonly id: number;
    readonly name: string;
    readonly person: string;
    readonly fromMm: number;
    readonly toMm: number;
  }[];
  readonly hexes: readonly string[];
};

const people = [
  { value: 'woman', words: 'Women' },
  { value: 'man', words: 'Men' },
  { value: 'child', words: 'Children' },
  { value: 'unknown', words: 'Anybody grown up' },
];

const labelOf = (row: SizingRow, system: string) => row.labels.find((each) => each.system === system)?.label ?? '–';

type ChartProps = {
  readonly caption: string;
  readonly rows: readonly SizingRow[];
  readonly asked: SizingPageProps['asked'];
  readonly hasLabels: boolean;
};

/** A size opens as one pair, with its card, drawing and working. */
function pairAddress({ person, yarn, style, knitter }: SizingPageProps['asked'], row: SizingRow): string {
  const size = `${measureForInput(row.lengthMm, 'lengthMm')} ${unitOf('lengthMm')}`;
  return `/try?${new URLSearchParams({ person, size, yarn, style, knitter })}`;
}

/** "EU 37 and 38", "EU 36, 37 and 38". */
function sizesInWords(sizes: readonly string[]): string {
  const [first = '', ...others] = sizes;
  const system = first.split(' ')[0] ?? '';
  const rest = others.map((size) => (size.startsWith(`${system} `) ? size.slice(system.length + 1) : size));
  return `${[first, ...rest.slice(0, -1)].join(', ')} and ${rest.at(-1)}`;
}

/** What a phone shows of a size while its row is closed. */
function shortCounts({ spec }: SizingRow): string {
  const { castOnStitches, totalRows } = spec.pieces[0]!;
  return `${castOnStitches} stitches, ${totalRows} rows`;
}

const ChartTable = ({ caption, rows, asked, hasLabels }: ChartProps) => {
  const number = (name: string, cell: Column<SizingRow>['cell']): Column<SizingRow> => ({
    name,
    kind: 'number',
    isFolded: () => true,
    cell,
  });
  const columns: Column<SizingRow>[] = [
    { name: 'Size', kind: 'heading', cell: (row) => <a href={pairAddress(asked, row)}>{row.size}</a> },
    ...(hasLabels ? ['UK', 'US'].map((system) => number(system, (row) => labelOf(row, system))) : []),
    number('Foot', (row) => formatLength(row.lengthMm)),
    number('Cast on', (row) => row.spec.pieces[0]!.castOnStitches),
    number('Rows', (row) => row.spec.pieces[0]!.totalRows),
    number('Left at the end', (row) => row.spec.pieces[0]!.lastStitches),
    ...(rows.some((row) => row.spec.measures.markRows > 0)
      ? [number('Mark at row', (row) => row.spec.measures.markRows)]
      : []),
    ...rows[0]!.spec.pieces
      .slice(1)
      .map(({ name }, index) =>
        number(
          `${name.charAt(0).toUpperCase()}${name.slice(1)}`,
          (row) => row.spec.pieces[index + 1]?.castOnStitches ?? '–',
        ),
      ),
    number('Width', (row) => formatLength(row.spec.measures.widthMm)),
    number('Yarn a pair', (row) => formatMass(row.grams)),
  ];
  return (
    <DataTable
      caption={caption}
      columns={columns}
      rows={rows}
      fold={{ rowName: (row) => row.size, words: shortCounts }}
    />
  );
};

/** *Styles and sizes*: the style, its counts over a run of sizes in a yarn and hand, and the workshop's own bands. */
export const SizingPage = (props: SizingPageProps) => {
  const { purpose, style, asked, sizes, bandRows, bands, hexes } = props;
  const sample = sizes[Math.floor(sizes.length / 2)];
  return (
    <Page
      title={style ? `${style.name}: counts for every foot` : 'No style yet'}
      where="Styles and sizes"
      current="sizing"
      purpose={purpose}
    >
      {style === null || sizes.length === 0 ? (
        <EmptyState action={{ href: '/', words: 'Begin on the first page' }}>
          The slipper that ships comes with your own beginning or the sample season.
        </EmptyState>
      ) : (
        <>
          <form method="get" action="/sizing" class="no-print">
            <FieldRow>
              {props.styles.length > 1 ? (
                <SelectField name="style" label="Style" options={props.styles} value={asked.style} width="medium" />
              ) : null}
              <SelectField name="person" label="Sizes for" options={people} value={asked.person} width="medium" />
              <SelectField name="yarn" label="Yarn" options={props.yarns} value={asked.yarn} width="medium" />
              <SelectField
                name="knitter"
                label="Knitted by"
                options={props.knitters}
                value={asked.knitter}
                width="medium"
              />
            </FieldRow>
            <Actions>
              <Button>Show these sizes</Button>
            </Actions>
          </form>
          {sizes[0]!.spec.isGaugeGuessed ? (
            <Caution title="A guess for now">
              Nobody has knitted a swatch in this yarn: counts are reckoned from the yarn alone. Enter one under
              Knitters.
            </Caution>
          ) : null}
          <section>
            <h2>Size chart</h2>
            <ChartTable
              caption={
                sizes[0]!.spec.measures.cuffFlatMm !== null
                  ? 'Counts by shoe size, short cuff, usual fit'
                  : 'Counts by shoe size, usual fit'
              }
              rows={sizes}
              asked={asked}
              hasLabels
            />
            {props.shared.length > 0 ? (
              <ul class="plain-list">
                {props.shared.map((sizes) => (
                  <li>{`${sizesInWords(sizes)} are one slipper.`}</li>
                ))}
              </ul>
            ) : null}
            <p class="soft">
              The length of the foot decides. Labels differ between shoemakers by up to two sizes: measure where you
              can. <a href="/sizing/measure">A sheet to measure both feet, to print or to send</a>
            </p>
          </section>
          {bandRows.length > 0 ? (
            <FoldOnPhone summary={`Your own bands: ${countOf(bandRows.length, 'size', 'sizes')}`}>
              <section>
                <ChartTable
                  caption="Counts by your own bands, knitted for the foot in the middle"
                  rows={bandRows}
                  asked={asked}
                  hasLabels={false}
                />
              </section>
            </FoldOnPhone>
          ) : null}
          {sample ? (
            <FoldOnPhone summary={`The flat pieces, ${sample.size}`}>
              <section>
                <h2>{`The flat pieces, ${sample.size}`}</h2>
                <div class="columns">
                  <FlatPieces id="size" pieces={props.flat} hexesOf={() => hexes} />
                </div>
              </section>
            </FoldOnPhone>
          ) : null}
          <Actions>
            <LinkButton href={`/sizing/chart.csv?${new URLSearchParams(asked)}`} kind="quiet">
              The chart as CSV
            </LinkButton>
            <LinkButton href={`/styles/${style.id}`} kind="quiet">
              How the style is made
            </LinkButton>
            <LinkButton href="/styles" kind="quiet">
              All styles
            </LinkButton>
          </Actions>
          <FoldOnPhone summary="What the style fixes">
            <section>
              <h2>What the style fixes</h2>
              <DataTable
                caption="Settings of the style"
                isCaptionHidden
                columns={[
                  { name: 'Setting', kind: 'heading', cell: (row: SizingPageProps['settings'][number]) => row.words },
                  { name: 'Value', kind: 'number', cell: (row) => row.value },
                ]}
                rows={props.settings}
              />
            </section>
          </FoldOnPhone>
        </>
      )}
      {style ? (
        <FoldOnPhone summary={`${countOf(bands.length, 'band', 'bands')} of your own: change or add one`}>
          <section>
            <h2>Your own bands</h2>
            <DataTable
              caption="Bands"
              isCaptionHidden
              columns={[
                { name: 'Band', kind: 'heading', cell: (band: SizingPageProps['bands'][number]) => band.name },
                {
                  name: 'For',
                  cell: (band) => people.find((each) => each.value === band.person)?.words ?? band.person,
                },
                { name: 'Foot from', kind: 'number', cell: (band) => formatLength(band.fromMm) },
                { name: 'to', kind: 'number', cell: (band) => formatLength(band.toMm) },
                {
                  name: 'Change',
                  kind: 'action',
                  cell: (band) => <a href={`/sizing/bands/${band.id}`}>{`Change ${band.name}`}</a>,
                },
              ]}
              rows={bands}
            />
            <Actions>
              <LinkButton href="/sizing/bands/new" kind="quiet">
                Add a band
              </LinkButton>
            </Actions>
          </section>
        </FoldOnPhone>
      ) : null}
    </Page>
  );
};
