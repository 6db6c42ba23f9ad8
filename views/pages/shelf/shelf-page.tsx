import { countOf, formatCents, formatNumber } from '#core/shared/format.ts';
import { Actions, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { formatGauge, formatMass, formatYarnLength, gaugeUnit, unitSystem } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { ballWords, hexesOf, lotWords, strandWords, unknownFibre, yarnWeights } from '#views/pages/shelf/yarn-words.ts';

export type ShelfYarn = {
  readonly id: number;
  readonly name: string;
  readonly fibre: string | null;
  readonly tex: number;
  readonly ballMg: number;
  readonly category: number;
  readonly usualStrands: number;
  readonly needleMm: number | null;
  readonly usualStitchesPer10Cm: number | null;
};

export type ShelfColour = { readonly id: number; readonly name: string; readonly swatchHex: string };

export type PromisedYarn = { readonly batch: { readonly id: number; readonly name: string }; readonly massMg: number };

export type ShelfLot = {
  readonly lot: { readonly id: number; readonly dyeLot: string | null; readonly donor: string | null };
  readonly balls: readonly { readonly massMg: number }[];
  readonly massMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly promisedMg: number;
  readonly paidCents: number;
};

export type ShelfPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly massMg: number;
  readonly promisedMg: number;
  readonly paidCents: number;
  readonly colourCount: number;
  readonly yarns: readonly {
    readonly yarn: ShelfYarn;
    readonly massMg: number;
    readonly colours: readonly { readonly colour: ShelfColour; readonly lots: readonly ShelfLot[] }[];
  }[];
};

type Row = { readonly colour: ShelfColour; readonly lot: ShelfLot | null };

const ColourName = ({ colour }: { readonly colour: ShelfColour }) => (
  <Chip colours={hexesOf(colour.swatchHex)} name={<a href={`/shelf/colours/${colour.id}`}>{colour.name}</a>} />
);

const Promised = ({ lot }: { readonly lot: ShelfLot }) =>
  lot.promised.length === 0 ? (
    <span class="soft">nothing</span>
  ) : (
    <span>
      {lot.promised.map(({ batch, massMg }, index) => (
        <>
          {index > 0 ? ', ' : ''}
          {formatMass(massMg / 1000)} for <a href={`/batch/started/${batch.id}`}>{batch.name}</a>
        </>
      ))}
    </span>
  );

function columnsFor(yarn: ShelfYarn, currency: string, showsMoney: boolean): Column<Row>[] {
  const columns: (Column<Row> | null)[] = [
    { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourName colour={colour} /> },
    {
      name: 'Dye lot',
      kind: 'heading',
      cell: ({ colour, lot }) =>
        lot ? (
          <a href={`/shelf/lots/${lot.lot.id}`}>{lotWords(lot.lot.dyeLot)}</a>
        ) : (
          <a href={`/shelf/add?colour=${colour.id}`}>none here: put some on</a>
        ),
    },
    { name: 'On the shelf', kind: 'number', cell: ({ lot }) => formatMass((lot?.massMg ?? 0) / 1000) },
    {
      name: 'Balls',
      kind: 'wide',
      cell: ({ lot }) =>
        lot
          ? ballWords(
              lot.balls.map((ball) => ball.massMg),
              yarn.ballMg,
            )
          : '–',
    },
    { name: 'Put aside', kind: 'wide', cell: ({ lot }) => (lot ? <Promised lot={lot} /> : '–') },
    showsMoney
      ? { name: 'Paid for it', kind: 'number', cell: ({ lot }) => (lot ? formatCents(lot.paidCents, currency) : '–') }
      : { name: 'From', kind: 'text', cell: ({ lot }) => lot?.lot.donor ?? '–' },
  ];
  return columns.filter((column) => column !== null);
}

/** All that is known of a yarn in one line. */
export function yarnLine(yarn: ShelfYarn): string {
  const ballG = yarn.ballMg / 1000;
  return [
    yarn.fibre ?? unknownFibre,
    yarnWeights[yarn.category],
    ...(unitSystem() === 'metric'
      ? [`${formatYarnLength(100_000 / yarn.tex)} in ${formatMass(100)}`, `balls of ${formatMass(ballG)}`]
      : [`balls of ${formatMass(ballG)}, ${formatYarnLength((ballG * 1000) / yarn.tex)}`]),
    strandWords[yarn.usualStrands],
    yarn.needleMm === null ? null : `needle ${formatNumber(yarn.needleMm, 2)}\u00a0mm`,
    yarn.usualStitchesPer10Cm === null
      ? null
      : `${formatGauge(yarn.usualStitchesPer10Cm)} stitches ${gaugeUnit()} on the band`,
  ]
    .filter(Boolean)
    .join(', ');
}

const YarnSection = (props: ShelfPageProps & { readonly entry: ShelfPageProps['yarns'][number] }) => {
  const { entry, currency, purpose } = props;
  const { yarn, colours } = entry;
  const rows = colours.flatMap(({ colour, lots }): Row[] => {
    const full = lots.filter((lot) => lot.massMg > 0 || lot.promisedMg > 0);
    return full.length > 0 ? full.map((lot) => ({ colour, lot })) : [{ colour, lot: null }];
  });
  const short = rows.filter(({ lot }) => lot && lot.promisedMg > lot.massMg);
  return (
    <section id={`yarn-${yarn.id}`}>
      <h2>{yarn.name}</h2>
      <p class="soft">{yarnLine(yarn)}</p>
      {rows.length > 0 ? (
        <DataTable
          caption={`Colours of ${yarn.name}`}
          isCaptionHidden
          columns={columnsFor(yarn, currency, purpose !== 'give')}
          rows={rows}
        />
      ) : (
        <p>No colours yet.</p>
      )}
      {short.map(({ colour, lot }) => (
        <Caution>
          {`${formatMass((lot!.promisedMg - lot!.massMg) / 1000)} more of ${colour.name}, ${lotWords(lot!.lot.dyeLot)}, is put aside than there is. Weigh its balls, or buy what is missing.`}
        </Caution>
      ))}
      <p class="no-print">
        <a href={`/shelf/yarns/${yarn.id}`}>Change {yarn.name}</a> or{' '}
        <a href={`/shelf/yarns/${yarn.id}/colours`}>add colours</a>
      </p>
    </section>
  );
};

const UsedUp = ({ yarns }: Pick<ShelfPageProps, 'yarns'>) => {
  const gone = yarns.flatMap(({ colours }) =>
    colours.flatMap(({ colour, lots }) =>
      lots.filter((lot) => lot.massMg === 0 && lot.promisedMg === 0).map(({ lot }) => ({ colour, lot })),
    ),
  );
  return gone.length === 0 ? null : (
    <details class="no-print">
      <summary>{countOf(gone.length, 'lot is', 'lots are')} used up</summary>
      <ul class="plain-list">
        {gone.map(({ colour, lot }) => (
          <li>
            <Chip
              colours={hexesOf(colour.swatchHex)}
              name={
                <>
                  {colour.name}, <a href={`/shelf/lots/${lot.id}`}>{lotWords(lot.dyeLot)}</a>
                </>
              }
            />
          </li>
        ))}
      </ul>
    </details>
  );
};

/** What yarn there is, by yarn and colour. */
export const ShelfPage = (props: ShelfPageProps) => {
  const { yarns, massMg, promisedMg, paidCents, colourCount, currency, purpose } = props;
  if (yarns.length === 0) {
    return (
      <Page title="Yarn shelf" current="shelf" purpose={purpose}>
        <EmptyState action={{ href: '/shelf/yarns/new', words: 'Add a yarn' }}>
          Nothing is on the shelf yet. Begin with a yarn you knit with: its name and how thick it is.
        </EmptyState>
      </Page>
    );
  }
  const freeMg = massMg - promisedMg;
  const title =
    massMg === 0
      ? 'No yarn on the shelf'
      : `${formatMass(massMg / 1000)} of yarn in ${countOf(colourCount, 'colour', 'colours')}`;
  return (
    <Page title={title} where="Yarn shelf" current="shelf" purpose={purpose}>
      <FigureRow
        figures={[
          { value: formatMass(massMg / 1000), words: 'on the shelf and with knitters' },
          { value: formatMass(promisedMg / 1000), words: 'put aside for pairs that are begun' },
          freeMg < 0
            ? { value: formatMass(-freeMg / 1000), words: 'more is put aside than there is', tone: 'caution' as const }
            : { value: formatMass(freeMg / 1000), words: 'free to plan with' },
          ...(purpose === 'give' ? [] : [{ value: formatCents(paidCents, currency), words: 'was paid for it' }]),
        ]}
      />
      <Actions>
        <LinkButton href="/shelf/add">Put yarn on the shelf</LinkButton>
        <LinkButton href="/shelf/yarns/new" kind="quiet">
          Add a yarn
        </LinkButton>
      </Actions>
      {yarns.map((entry) => (
        <YarnSection {...props} entry={entry} />
      ))}
      <UsedUp yarns={yarns} />
    </Page>
  );
};
