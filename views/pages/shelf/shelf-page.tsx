import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatDay, formatNumber } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { formatGauge, formatMass, formatWeighed, formatYarnLength, gaugeUnit, unitSystem } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { type ShortLot, ShortLotWords } from '#views/pages/shelf/short-pairs.tsx';
import {
  ballWords,
  hexesOf,
  lotWords,
  shopWords,
  strandWords,
  unknownFibre,
  yarnWeights,
} from '#views/pages/shelf/yarn-words.ts';

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

export type PromisedYarn = {
  readonly batch: { readonly id: number; readonly name: string };
  readonly shownMg: number;
};

export type ShelfLot = {
  readonly lot: {
    readonly id: number;
    readonly dyeLot: string | null;
    readonly donor: string | null;
    readonly place: string | null;
    readonly returnableUntilDay: Day | null;
  };
  /** It lies at the shop, which keeps it for us. */
  readonly isAtShop: boolean;
  readonly balls: readonly { readonly massMg: number; readonly knitterId: number | null }[];
  readonly massMg: number;
  /** As it is shown: the sum of what its balls show. */
  readonly shownMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly promisedMg: number;
  readonly shownPromisedMg: number;
  readonly paidCents: number;
  /** What a gift would have cost; null where nobody said. */
  readonly worthCents: number | null;
};

/** Yarn whose last day at the shop is near. */
export type LotDueAtShop = {
  readonly lotId: number;
  readonly day: Day;
  readonly massMg: number;
  readonly colour: string;
  readonly dyeLot: string | null;
  readonly isAtShop: boolean;
};

export type ShelfPageProps = {
  /** Shown as it stood at the end of this day; null as it is. */
  readonly onDay: Day | null;
  readonly typedDay: string;
  readonly problems: readonly Problem[];
  readonly due: readonly LotDueAtShop[];
  /** Lots that begun pairs lack. */
  readonly short: readonly ShortLot[];
  readonly knitters: readonly { readonly id: number; readonly name: string }[];
  readonly purpose: Purpose;
  readonly currency: string;
  readonly shownMg: number;
  readonly shownPromisedMg: number;
  readonly paidCents: number;
  readonly colourCount: number;
  readonly yarns: readonly {
    readonly yarn: ShelfYarn;
    /** How to wash it, in sentences. */
    readonly care: string;
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
      {lot.promised.map(({ batch, shownMg }, index) => (
        <>
          {index > 0 ? ', ' : ''}
          {formatWeighed(shownMg)} for <a href={`/batch/started/${batch.id}`}>{batch.name}</a>
        </>
      ))}
    </span>
  );

const Paid = ({ lot, currency }: { readonly lot: ShelfLot; readonly currency: string }) => (
  <>
    {formatCents(lot.paidCents, currency)}
    {lot.worthCents === null || lot.massMg === 0 ? null : (
      <small class="block soft">worth {formatCents(lot.worthCents, currency)}</small>
    )}
  </>
);

/** Where a lot lies and who has some of it, under its number. */
function whereWords({ lot, balls, isAtShop }: ShelfLot, knitters: ShelfPageProps['knitters']): string {
  const out = new Set(balls.flatMap(({ knitterId }) => (knitterId === null ? [] : [knitterId])));
  const names = knitters.filter(({ id }) => out.has(id)).map(({ name }) => name);
  const until = lot.returnableUntilDay;
  return [
    lot.place,
    names.length > 0 ? `some with ${names.join(' and ')}` : null,
    until === null ? null : shopWords(until, isAtShop),
  ]
    .filter(Boolean)
    .join(', ');
}

function columnsFor(yarn: ShelfYarn, props: ShelfPageProps): Column<Row>[] {
  const { currency, purpose, onDay, knitters } = props;
  const showsMoney = purpose !== 'give';
  const columns: (Column<Row> | null)[] = [
    { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourName colour={colour} /> },
    {
      name: 'Dye lot',
      kind: 'heading',
      cell: ({ colour, lot }) =>
        lot ? (
          <>
            <a href={`/shelf/lots/${lot.lot.id}`}>{lotWords(lot.lot.dyeLot)}</a>
            <small class="block soft">{whereWords(lot, knitters)}</small>
          </>
        ) : onDay === null ? (
          <a href={`/shelf/add?colour=${colour.id}`}>none here: put some on</a>
        ) : (
          'none then'
        ),
    },
    { name: 'On the shelf', kind: 'number', cell: ({ lot }) => formatWeighed(lot?.shownMg ?? 0) },
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
    onDay === null
      ? { name: 'Put aside', kind: 'wide', cell: ({ lot }) => (lot ? <Promised lot={lot} /> : '–') }
      : null,
    showsMoney
      ? { name: 'Paid for it', kind: 'number', cell: ({ lot }) => (lot ? <Paid lot={lot} currency={currency} /> : '–') }
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
  const { entry, onDay } = props;
  const { yarn, colours } = entry;
  const rows = colours.flatMap(({ colour, lots }): Row[] => {
    const full = lots.filter((lot) => lot.massMg > 0 || lot.promisedMg > 0);
    return full.length > 0 ? full.map((lot) => ({ colour, lot })) : [{ colour, lot: null }];
  });
  const short = onDay === null ? props.short.filter(({ lotId }) => rows.some(({ lot }) => lot?.lot.id === lotId)) : [];
  return (
    <section id={`yarn-${yarn.id}`}>
      <h2>{yarn.name}</h2>
      <p class="soft">
        {yarnLine(yarn)}
        <small class="block">{entry.care}</small>
      </p>
      {rows.length > 0 ? (
        <DataTable caption={`Colours of ${yarn.name}`} isCaptionHidden columns={columnsFor(yarn, props)} rows={rows} />
      ) : (
        <p>No colours yet.</p>
      )}
      {short.map((lot) => (
        <div class="caution" role="note">
          <ShortLotWords lot={lot} />
          <p>
            <a href={`/shelf/lots/${lot.lotId}#field-short`}>
              Say what becomes of {lot.pairs.length === 1 ? 'it' : 'them'}
            </a>
            , or weigh the balls once more.
          </p>
        </div>
      ))}
      {onDay === null ? (
        <p class="no-print">
          <a href={`/shelf/yarns/${yarn.id}`}>Change {yarn.name}</a> or{' '}
          <a href={`/shelf/yarns/${yarn.id}/colours`}>add colours</a>
        </p>
      ) : null}
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

const DueAtShop = ({ due }: { readonly due: readonly LotDueAtShop[] }) => (
  <>
    {due.map(({ lotId, day, massMg, colour, dyeLot, isAtShop }) => (
      <Caution title={isAtShop ? `Fetch it by ${formatDay(day)}` : `May go back until ${formatDay(day)}`}>
        {formatMass(massMg / 1000)} of {colour}, <a href={`/shelf/lots/${lotId}`}>{lotWords(dyeLot)}</a>
        {isAtShop ? ', is kept for you at the shop until then.' : ': after that the shop no longer takes it back.'}
      </Caution>
    ))}
  </>
);

const DayForm = ({ onDay, typedDay, problems }: Pick<ShelfPageProps, 'onDay' | 'typedDay' | 'problems'>) => (
  <section class="no-print">
    <h2>The shelf on another day</h2>
    <form method="get" action="/shelf">
      <FieldRow>
        <TextField
          name="day"
          label="Day"
          hint="As it stood at the end of that day"
          type="date"
          value={typedDay}
          problems={problems}
        />
        <Button kind="quiet">Show the shelf then</Button>
      </FieldRow>
    </form>
    {onDay === null ? null : (
      <p class="no-print">
        <a href="/shelf">The shelf as it is now</a>
      </p>
    )}
  </section>
);

function figuresOf(props: ShelfPageProps): FigureEntry[] {
  const { shownMg, shownPromisedMg, paidCents, currency, purpose, onDay } = props;
  const paid = purpose === 'give' ? [] : [{ value: formatCents(paidCents, currency), words: 'was paid for it' }];
  if (onDay !== null) {
    return [{ value: formatWeighed(shownMg), words: 'was on the shelf and with knitters' }, ...paid];
  }
  const lots = props.yarns.flatMap(({ colours }) =>
    colours.flatMap(({ colour, lots: own }) =>
      own.map((each) => ({ colour, lot: each.lot, leftMg: each.shownMg - each.shownPromisedMg })),
    ),
  );
  // What one lot lacks, another cannot give.
  const freeMg = lots.reduce((sum, { leftMg }) => sum + Math.max(0, leftMg), 0);
  const overdrawn = lots.filter(({ leftMg }) => leftMg < 0);
  return [
    { value: formatWeighed(shownMg), words: 'on the shelf and with knitters' },
    { value: formatWeighed(shownPromisedMg), words: 'put aside for pairs that are begun' },
    { value: formatWeighed(freeMg), words: 'free to plan with' },
    ...overdrawn.map(({ colour, lot, leftMg }) => ({
      value: formatWeighed(-leftMg),
      words: `more is put aside than there is of ${colour.name}, ${lotWords(lot.dyeLot)}`,
      tone: 'caution' as const,
      href: `/shelf/lots/${lot.id}`,
    })),
    ...paid,
  ];
}

const ShelfActions = () => (
  <Actions>
    <LinkButton href="/shelf/add">Put yarn on the shelf</LinkButton>
    <LinkButton href="/shelf/yarns/new" kind="quiet">
      Add a yarn
    </LinkButton>
    <LinkButton href="/shelf/unlabelled" kind="quiet">
      Unlabelled wool
    </LinkButton>
    <LinkButton href="/shelf/most-pairs" kind="quiet">
      Most pairs from this shelf
    </LinkButton>
    <LinkButton href="/shelf/leftovers" kind="quiet">
      Use first
    </LinkButton>
    <LinkButton href="/shelf/stocktake" kind="quiet">
      Stocktake
    </LinkButton>
    <LinkButton href="/shelf/donors" kind="quiet">
      Given yarn
    </LinkButton>
  </Actions>
);

/** What yarn there is, by yarn and colour. */
export const ShelfPage = (props: ShelfPageProps) => {
  const { yarns, shownMg, colourCount, purpose, onDay, typedDay, problems, due } = props;
  if (yarns.length === 0) {
    return (
      <Page title="Yarn shelf" current="shelf" purpose={purpose}>
        <EmptyState action={{ href: '/shelf/yarns/new', words: 'Add a yarn' }}>
          Nothing is on the shelf yet. Begin with a yarn you knit with: its name and how thick it is.
        </EmptyState>
        <p>
          Is it a bag of wool without labels? <a href="/shelf/unlabelled">Weigh it ball by ball</a>.
        </p>
      </Page>
    );
  }
  const amount = `${formatWeighed(shownMg)} of yarn in ${countOf(colourCount, 'colour', 'colours')}`;
  const title = shownMg > 0 ? amount : onDay === null ? 'No yarn on the shelf' : 'No yarn was on the shelf';
  return (
    <Page
      title={title}
      where={onDay === null ? 'Yarn shelf' : `Yarn shelf at the end of ${formatDay(onDay)}`}
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <FigureRow figures={figuresOf(props)} />
      {onDay === null ? (
        <>
          <DueAtShop due={due} />
          <ShelfActions />
        </>
      ) : (
        <p>
          As the moves written down make it, without what was put aside then.{' '}
          <a class="no-print" href="/shelf">
            Back to the shelf as it is now
          </a>
        </p>
      )}
      {yarns
        .filter((entry) => onDay === null || entry.massMg > 0)
        .map((entry) => (
          <YarnSection {...props} entry={entry} />
        ))}
      {onDay === null ? <UsedUp yarns={yarns} /> : null}
      <DayForm onDay={onDay} typedDay={typedDay} problems={problems} />
    </Page>
  );
};
