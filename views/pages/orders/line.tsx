import type { Child } from 'hono/jsx';
import { countOf, formatCents, formatMinutes, formatPercent } from '#core/shared/format.ts';
import type { Foot } from '#core/sizing/foot.ts';
import type { PieceCounts, Spec } from '#core/styles/spec.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { FlatPieces, type FlatPieceView } from '#views/drawings/flat-pieces.tsx';
import { formatDayShort, formatLength, formatMass, formatYarnLength } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { lineTitle, orderTitle, progressWords } from '#views/pages/orders/order-words.ts';
import type { LineView, OrderView } from '#views/pages/orders/types.ts';

export type FitCheckView = {
  readonly what: string;
  readonly side: 'left' | 'right' | null;
  readonly edgeMm: number;
  readonly stretchedMm: number;
  readonly neededMm: number;
  readonly passes: boolean;
};

export type LineYarn = {
  readonly yarnColourId: number;
  readonly name: string;
  readonly yarnName: string;
  readonly hexes: readonly string[];
  readonly grams: number;
  readonly metres: number;
};

export type LineInHandView = {
  readonly knitterId: number;
  readonly name: string;
  readonly isGaugeGuessed: boolean;
  readonly castOn: number;
  readonly rows: number;
  readonly cuff: number | null;
  readonly grams: number;
  readonly minutes: number;
};

export type LineWorkingView = {
  /** In whose hand all of this is. */
  readonly knitter: { readonly id: number; readonly name: string; readonly isReference: boolean };
  readonly hands: readonly LineInHandView[];
  /** The left foot where they differ. */
  readonly foot: Foot;
  readonly rightFoot: Foot | null;
  readonly footWords: string;
  /** How far feet of an age lie apart; null where the size is none. */
  readonly ageWords: string | null;
  readonly spec: Spec;
  /** The flat pieces, to be drawn; the left ones where the feet differ. */
  readonly flat: readonly FlatPieceView[];
  /** The right ones where the feet differ. */
  readonly flatRight: readonly FlatPieceView[] | null;
  readonly checks: readonly FitCheckView[];
  readonly yarn: readonly LineYarn[];
  readonly minutes: number;
  readonly price: {
    readonly costCents: number | null;
    readonly priceCents: number | null;
    readonly isYarnPriceUnknown: boolean;
    readonly inHandOf: string;
  } | null;
};

export type LinePageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly order: OrderView;
  readonly line: LineView;
  readonly outletId: number;
  readonly readyDay: string | null;
  readonly isLate: boolean;
  /** Why the plan has no day for it. */
  readonly reason: string | null;
  readonly working: LineWorkingView | null;
  /** Why the line is not planned. */
  readonly problem: string | null;
  readonly hexesOf: (role: string) => readonly string[];
};

type Measure = {
  readonly name: Child;
  readonly value: Child;
  readonly note?: Child;
  readonly href?: string;
  /** Of the right foot, where the feet differ. */
  readonly right?: Child;
};

/** The left foot's measures with the right foot's beside them. */
function withRight(left: readonly Measure[], right: readonly Measure[] | null): readonly Measure[] {
  return right === null ? left : left.map((measure, index) => ({ ...measure, right: right[index]?.value ?? '' }));
}

const Measures = ({ caption, measures }: { readonly caption: string; readonly measures: readonly Measure[] }) => (
  <DataTable<Measure>
    caption={caption}
    rows={measures}
    columns={[
      {
        name: 'Measure',
        kind: 'heading',
        cell: ({ name, note }) => (
          <>
            {name}
            {note ? <small class="block">{note}</small> : null}
          </>
        ),
      },
      {
        name: measures.some((measure) => measure.right !== undefined) ? 'Left' : 'Amount',
        kind: 'number',
        cell: ({ value, href }) => (href ? <a href={href}>{value}</a> : value),
      },
      ...(measures.some((measure) => measure.right !== undefined)
        ? [{ name: 'Right', kind: 'number' as const, cell: ({ right }: Measure) => right }]
        : []),
    ]}
  />
);

/** A line in the address of a working, in the hand that is shown. */
function refOf({ line }: LinePageProps, { knitter }: LineWorkingView): string {
  return knitter.isReference ? String(line.id) : `${line.id}?knitter=${knitter.id}`;
}

/** Other hands to see the pair in: everything on the page follows. */
const HandLinks = ({ line, working }: LinePageProps & { readonly working: LineWorkingView }) =>
  working.hands.length < 2 ? null : (
    <nav class="hands no-print" aria-label="In whose hand">
      <span class="soft">In the hand of</span>
      {working.hands.map(({ knitterId, name }) => (
        <a
          href={`/orders/lines/${line.id}?knitter=${knitterId}`}
          aria-current={knitterId === working.knitter.id ? 'page' : undefined}
        >
          {name}
        </a>
      ))}
    </nav>
  );

/** The same pair in every hand, side by side. */
const Hands = ({ line, working }: LinePageProps & { readonly working: LineWorkingView }) => (
  <section>
    <h2>In every hand</h2>
    <DataTable<LineInHandView>
      caption="One pair in every hand"
      isCaptionHidden
      rows={working.hands}
      columns={[
        {
          name: 'Knitter',
          kind: 'heading',
          cell: ({ knitterId, name, isGaugeGuessed }) => (
            <>
              <a href={`/orders/lines/${line.id}?knitter=${knitterId}`}>{name}</a>
              {isGaugeGuessed ? <small class="block">a guess: no swatch in this yarn</small> : null}
            </>
          ),
        },
        { name: 'Cast on', kind: 'number', cell: ({ castOn }) => castOn },
        { name: 'Rows', kind: 'number', cell: ({ rows }) => rows },
        { name: 'Cuff', kind: 'number', cell: ({ cuff }) => cuff ?? '–' },
        { name: 'Yarn', kind: 'number', cell: ({ grams }) => formatMass(grams) },
        { name: 'Time', kind: 'number', cell: ({ minutes }) => formatMinutes(minutes) },
      ]}
    />
    <p class="no-print">
      <a href={`/knitters/swatches/first-foot?line=${line.id}&knitter=${working.knitter.id}`}>
        {`The first foot is knitted: let it be ${working.knitter.name}’s swatch`}
      </a>
    </p>
  </section>
);

function figuresOf(props: LinePageProps, working: LineWorkingView): FigureEntry[] {
  const { line, readyDay, isLate } = props;
  const foot = working.spec.pieces[0]!;
  const figures: FigureEntry[] = [
    {
      value: countOf(foot.castOnStitches, 'stitch', 'stitches'),
      words: `to cast on for a ${foot.name}`,
      href: `/working/sizing/cast-on/${refOf(props, working)}`,
    },
    {
      value: countOf(foot.totalRows, 'row', 'rows'),
      words: working.spec.measures.openingMm > 0 ? 'heel to toe' : 'from the cast-on on',
      href: `/working/sizing/rows/${refOf(props, working)}`,
    },
    {
      value: formatMinutes(working.minutes),
      words: `a pair at ${working.knitter.name}’s speed`,
      href: `/working/timing/minutes/${refOf(props, working)}`,
    },
  ];
  if (readyDay === null) return figures;
  return [
    ...figures,
    {
      value: formatDayShort(readyDay),
      words: isLate ? 'planned to be done: too late' : 'planned to be done',
      tone: isLate ? 'late' : undefined,
      href: `/working/schedule/finish/${line.id}`,
    },
  ];
}

function footMeasures(foot: Foot, footWords: string, lineRef: string): Measure[] {
  const how = (isMeasured: boolean) => (isMeasured ? 'measured' : 'estimated from the length');
  return [
    {
      name: 'Length',
      note: footWords,
      value: formatLength(foot.lengthMm),
      href: `/working/sizing/foot-length/${lineRef}`,
    },
    { name: 'Round the ball', note: how(foot.isBallGirthMeasured), value: formatLength(foot.ballGirthMm) },
    {
      name: 'Round heel and ankle',
      note: how(foot.isHeelAnkleGirthMeasured),
      value: formatLength(foot.heelAnkleGirthMm),
    },
  ];
}

function easeWords(ratio: number, of: string): string {
  if (Math.abs(ratio) < 0.005) return `as ${of}`;
  return `${formatPercent(Math.round(Math.abs(ratio) * 1000) / 1000)} ${ratio < 0 ? 'less' : 'more'} than ${of}`;
}

/** Further than this from the ball of the foot, the first piece does not go round it. */
const mostEaseRatio = 0.3;

function finishedMeasures(measures: Spec['measures'], lineRef: string, hasCuff: boolean): Measure[] {
  const at = (figure: string) => `/working/sizing/${figure}/${lineRef}`;
  const cuff: Measure[] =
    measures.cuffFlatMm === null
      ? hasCuff
        ? [{ name: 'Cuff', value: 'none' }]
        : []
      : [
          {
            name: 'Cuff, round',
            note: measures.cuffRelaxedMm === null ? '' : `${formatLength(measures.cuffRelaxedMm)} at rest`,
            value: formatLength(measures.cuffFlatMm),
            href: at('cuff'),
          },
          { name: 'Cuff, tall', value: formatLength(measures.cuffHeightMm ?? 0) },
        ];
  return [
    measures.openingMm > 0
      ? { name: 'Heel to toe, lying flat', value: formatLength(measures.heelToToeMm), href: at('heel-to-toe') }
      : { name: 'Cast-on to end, flat', value: formatLength(measures.lengthMm) },
    {
      name: 'Width, flat',
      note:
        Math.abs(measures.girthEaseRatio) < mostEaseRatio
          ? easeWords(measures.girthEaseRatio, 'round the ball of the foot')
          : 'at the cast-on',
      value: formatLength(measures.widthMm),
      href: at('width'),
    },
    ...(measures.openingMm > 0
      ? [{ name: 'Opening, all round', value: formatLength(measures.openingMm), href: at('opening') }]
      : []),
    ...cuff,
  ];
}

function countMeasures(
  { pieces, measures }: Pick<Spec, 'pieces' | 'measures'>,
  lineRef: string,
  isOneColour: boolean,
): Measure[] {
  const at = (figure: string) => `/working/sizing/${figure}/${lineRef}`;
  return pieces.flatMap((piece, index): Measure[] => {
    const isMain = index === 0;
    const worked = piece.sections.filter((section) => section.do === 'work');
    const notes = worked.map((section) => `${section.rows} in the ${section.role} colour`).join(', then ');
    const rowsNote = `the cast-on is the first${isMain || isOneColour ? '' : `; after it ${notes}`}`;
    const hasFigures = isMain || measures.cuffFlatMm !== null;
    return [
      {
        name: `Cast on for the ${piece.name}`,
        value: countOf(piece.castOnStitches, 'stitch', 'stitches'),
        ...(hasFigures ? { href: at(isMain ? 'cast-on' : 'cuff') } : {}),
      },
      {
        name: `Rows of the ${piece.name}`,
        note: rowsNote,
        value: countOf(piece.totalRows, 'row', 'rows'),
        ...(hasFigures ? { href: at(isMain ? 'rows' : 'cuff-rows') } : {}),
      },
      ...(isMain && measures.markRows > 0
        ? [
            {
              name: 'Mark for the opening',
              note: 'from here on the top is sewn together',
              value: `row ${measures.markRows}`,
              href: at('mark'),
            },
          ]
        : []),
      ...shapingMeasures(piece),
    ];
  });
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** What becomes of the stitches: each change, or what is drawn up without one. */
function shapingMeasures({ sections, lastStitches }: PieceCounts): Measure[] {
  const isDrawnUp = sections.at(-1)?.do === 'drawUp';
  const changes = sections.filter((section) => section.do === 'change');
  if (changes.length === 0 && isDrawnUp) {
    return [{ name: 'Toe', note: 'draw the yarn through', value: countOf(lastStitches, 'stitch', 'stitches') }];
  }
  return changes.map(({ name, how, rows, stitchesBefore, stitchesAfter }) => ({
    name: capitalised(name),
    note:
      how === 'two together across'
        ? `two together across${isDrawnUp ? ', then draw the yarn through' : ''}`
        : `over ${countOf(rows, 'row', 'rows')}`,
    value: `${stitchesBefore} to ${stitchesAfter} stitches`,
  }));
}

function checkSentence({ what, side, edgeMm, stretchedMm, neededMm, passes }: FitCheckView): string {
  const part = `The ${side === null ? '' : `${side} `}${what}`;
  const start = `${part} is ${formatLength(edgeMm)} round and stretches to about ${formatLength(stretchedMm)}`;
  return passes
    ? `${start}; heel and ankle need ${formatLength(neededMm)}, so the foot gets in.`
    : `${start}, but heel and ankle need ${formatLength(neededMm)}: the foot may not get in.`;
}

const Checks = ({ working }: { readonly working: LineWorkingView }) => {
  if (working.checks.length + working.spec.warnings.length === 0) return null;
  const failed = working.checks.filter((check) => !check.passes);
  return (
    <section>
      <h2>Will it go on?</h2>
      <ul class="plain-list stack">
        {working.checks.map((check) => (
          <li class={check.passes ? 'check-passed' : 'check-failed'}>
            <strong>{check.passes ? 'Yes' : 'Take care'}:</strong> {checkSentence(check)}
          </li>
        ))}
      </ul>
      {working.spec.warnings
        .filter((warning) => failed.length > 0 || warning.code !== 'fit-check')
        .map((warning) => (
          <Caution>{warning.message}</Caution>
        ))}
    </section>
  );
};

const Yarn = ({ working, quantity }: { readonly working: LineWorkingView; readonly quantity: number }) => (
  <DataTable<LineYarn>
    caption="Yarn"
    rows={working.yarn}
    columns={[
      {
        name: 'Colour',
        kind: 'heading',
        cell: ({ hexes, name, yarnName }) => (
          <Chip
            colours={hexes}
            name={
              <>
                {name} <small>{yarnName}</small>
              </>
            }
          />
        ),
      },
      {
        name: 'A pair',
        kind: 'number',
        cell: ({ grams }) => formatMass(grams),
      },
      ...(quantity > 1
        ? [
            {
              name: countOf(quantity, 'pair', 'pairs'),
              kind: 'number' as const,
              cell: ({ grams }: LineYarn) => formatMass(grams * quantity),
            },
          ]
        : []),
      { name: 'Length', kind: 'number', cell: ({ metres }) => formatYarnLength(metres) },
    ]}
  />
);

const notKnown = 'not known yet';

const Money = ({ line, order, working, outletId, currency }: LinePageProps & { readonly working: LineWorkingView }) =>
  working.price === null ? null : (
    <Measures
      caption="Money"
      measures={[
        {
          name: 'What a pair costs',
          note: [
            working.knitter.isReference ? '' : `reckoned in ${working.price.inHandOf}’s hand, whoever knits`,
            working.price.costCents === null
              ? 'enter what the yarn costs, under Yarn to buy'
              : working.price.isYarnPriceUnknown
                ? 'without the yarn whose price is not known'
                : '',
          ]
            .filter(Boolean)
            .join('; '),
          value: working.price.costCents === null ? notKnown : formatCents(working.price.costCents, currency),
          ...(working.price.costCents === null ? { href: '/buying' } : { href: `/working/pricing/cost/${line.id}` }),
        },
        {
          name: `Price, ${order.outletName}`,
          value: working.price.priceCents === null ? notKnown : formatCents(working.price.priceCents, currency),
          ...(working.price.priceCents === null
            ? { href: '/pricing' }
            : { href: `/working/pricing/price/${line.id}-${outletId}` }),
        },
        ...(line.agreedCents === null
          ? []
          : [{ name: 'Agreed for a pair', value: formatCents(line.agreedCents, currency) }]),
      ]}
    />
  );

/** Drawing, counts, fit, measures, yarn and money of one pair. */
const LineWorking = (props: LinePageProps & { readonly working: LineWorkingView }) => {
  const { line, working } = props;
  const { spec } = working;
  const lineRef = refOf(props, working);
  const isOneColour = new Set(line.colours.map((colour) => colour.name)).size === 1;
  return (
    <>
      <div class="columns">
        <section>
          <h2>{spec.right === null ? 'The pieces, flat' : 'The left pieces, flat'}</h2>
          <FlatPieces id="flat" pieces={working.flat} hexesOf={props.hexesOf} />
          {working.flatRight ? (
            <>
              <h2>The right pieces, flat</h2>
              <FlatPieces id="flat-right" pieces={working.flatRight} hexesOf={props.hexesOf} />
            </>
          ) : null}
        </section>
        <section>
          <Measures
            caption="Counts"
            measures={withRight(
              countMeasures(spec, lineRef, isOneColour),
              spec.right && countMeasures(spec.right, lineRef, isOneColour),
            )}
          />
        </section>
      </div>
      {working.ageWords ? <Caution title="A mean foot">{working.ageWords}</Caution> : null}
      <Checks working={working} />
      <div class="columns">
        <section>
          <Measures
            caption="Made for this foot"
            measures={withRight(
              footMeasures(working.foot, working.footWords, lineRef),
              working.rightFoot && footMeasures(working.rightFoot, '', lineRef),
            )}
          />
        </section>
        <section>
          <Measures
            caption="When finished"
            measures={withRight(
              finishedMeasures(spec.measures, lineRef, line.cuff !== ''),
              spec.right && finishedMeasures(spec.right.measures, lineRef, line.cuff !== ''),
            )}
          />
        </section>
      </div>
      <div class="columns">
        <section>
          <Yarn working={working} quantity={line.quantity} />
          <p class="no-print">
            <a href={`/working/yardage/grams/${lineRef}`}>How these weights come about</a>
          </p>
        </section>
        <section>
          <Money {...props} working={working} />
        </section>
      </div>
      <Hands {...props} working={working} />
    </>
  );
};

/** Who is to knit it, and what keeps her from it. */
const KeptFor = ({ line, working, reason }: LinePageProps) => {
  const name = line.knitterName;
  const isGuess = working?.hands.find((hand) => hand.name === name)?.isGaugeGuessed;
  return (
    <>
      {name === null ? null : (
        <p>
          {`For ${name} to knit, in her stitches and at her speed.`}
          {isGuess ? ` Her stitches are a guess: there is no swatch of hers in this yarn yet.` : ''}
        </p>
      )}
      {reason === null ? null : (
        <Caution title="No day yet">
          {reason} <a href="/knitters">Knitters</a>
        </Caution>
      )}
    </>
  );
};

/** One line: the foot it is made from, and everything that follows from it. */
export const LinePage = (props: LinePageProps) => {
  const { order, line, working, problem, purpose } = props;
  const progress = progressWords(line.progress);
  const isCancelled = order.state === 'cancelled';
  const words = [line.styleName, line.cuff, `${line.fit} fit`, progress].filter(Boolean).join(' · ');
  return (
    <Page
      title={lineTitle(line)}
      where={<a href={`/orders/${order.id}`}>{orderTitle(order)}</a>}
      current="orders"
      purpose={purpose}
    >
      <p class="soft">{words}</p>
      <KeptFor {...props} />
      {problem ? <Caution title="This line is not planned">{problem}</Caution> : null}
      {working === null && problem === null ? (
        <Caution title="Not planned">
          {isCancelled
            ? 'The order is cancelled, so nothing is worked out for it.'
            : 'Nothing can be worked out for this line yet.'}
        </Caution>
      ) : null}
      {working ? <HandLinks {...props} working={working} /> : null}
      {working ? <FigureRow figures={figuresOf(props, working)} /> : null}
      {isCancelled ? null : (
        <form method="post" action={`/orders/lines/${line.id}/remove`} class="row-actions">
          <input type="hidden" name="version" value={line.version} />
          <Actions>
            <LinkButton href={`/orders/lines/${line.id}/edit`}>Change the line</LinkButton>
            <LinkButton kind="quiet" href={`/orders/new?like=${line.id}`}>
              Like this but
            </LinkButton>
            <Button kind="remove">Remove the line</Button>
          </Actions>
        </form>
      )}
      {working ? <LineWorking {...props} working={working} /> : null}
    </Page>
  );
};
