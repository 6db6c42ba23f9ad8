import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCount, formatDay, formatMinutes } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { type Column, DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { OrderLink, PairColours, PairCount, PairName, PairYarn, stateWords } from '#views/pages/batch/pair-parts.tsx';
import type { PairView } from '#views/pages/batch/types.ts';
import { MissingYarn, type ShortLot } from '#views/pages/shelf/short-pairs.tsx';

export type StartedPageProps = {
  readonly purpose: Purpose;
  readonly today: Day;
  readonly batch: { readonly id: number; readonly name: string; readonly state: string };
  readonly startedDay: Day | null;
  readonly knitters: readonly { readonly name: string; readonly pairs: readonly PairView[] }[];
  readonly paging: Paging;
  readonly pageHref: PageHref;
  readonly pairCount: number;
  readonly finishedCount: number;
  readonly waitingCount: number;
  /** Lots that lack yarn for pairs of this batch. */
  readonly short: readonly ShortLot[];
  readonly changedCount: number;
  /** The first of them. */
  readonly changed: readonly {
    readonly pair: PairView;
    readonly words: readonly string[];
    readonly what: 'cancelled' | 'fewer' | 'changed';
  }[];
  /** What was just done; null otherwise. */
  readonly done: string | null;
};

export type Step = {
  readonly step: string;
  readonly words: string;
  readonly isMain?: boolean;
  readonly kind?: 'quiet' | 'remove';
};

type PairStepsProps = { readonly pair: PairView; readonly back: string; readonly steps: readonly Step[] };

/** The presses a pair offers as it stands: the next piece first. */
export function stepsFor(pair: PairView): readonly Step[] {
  if (pair.left !== null) return pair.left === 'ripped out' ? [] : [{ step: 'come back', words: 'It came back' }];
  if (pair.isFinished) {
    return [
      { step: 'leave handed over', words: 'Handed over', isMain: true },
      { step: 'go on', words: 'Not finished after all' },
    ];
  }
  const next = pair.pieces.find(({ stage }) => stage !== 'done');
  const isLast = pair.pieces.filter(({ stage }) => stage !== 'done').length === 1;
  const knitted = pair.pieces.some(({ stage }) => stage !== 'waiting');
  const words = next?.piece === 'sewing up' ? 'Sewn up' : next ? `${next.piece} done` : '';
  return [
    ...(next && !isLast
      ? [{ step: `done ${next.piece}`, words: words.charAt(0).toUpperCase() + words.slice(1), isMain: true }]
      : []),
    { step: 'finish', words: 'Finished' },
    ...(!knitted && next ? [{ step: `begun ${next.piece}`, words: 'Begun' }] : []),
    { step: 'rip out', words: knitted ? 'Ripped out' : 'Do not knit it', kind: 'remove' as const },
  ];
}

const StepButton = ({ pair, step }: { readonly pair: PairView; readonly step: Step }) => (
  <Button kind={step.kind ?? 'quiet'} name="step" value={step.step}>
    {step.words}
    <span class="visually-hidden">{`: pair ${pair.id}, ${pair.sizeWords}`}</span>
  </Button>
);

const mostAtOnce = 2;

/** The presses of a pair, each a button of one small form; the rarer ones behind a disclosure. */
export const PairSteps = ({ pair, back, steps }: PairStepsProps) =>
  steps.length === 0 ? null : (
    <form method="post" action={`/batch/pairs/${pair.id}`} class="pair-steps">
      <input type="hidden" name="version" value={String(pair.version)} />
      <input type="hidden" name="back" value={back} />
      <Actions>
        {steps.slice(0, mostAtOnce).map((step) => (
          <StepButton pair={pair} step={step} />
        ))}
        {steps.length > mostAtOnce ? (
          <details>
            <summary>
              More<span class="visually-hidden">{`: pair ${pair.id}, ${pair.sizeWords}`}</span>
            </summary>
            <Actions>
              {steps.slice(mostAtOnce).map((step) => (
                <StepButton pair={pair} step={step} />
              ))}
            </Actions>
          </details>
        ) : null}
      </Actions>
    </form>
  );

const Ready = ({ pair }: { readonly pair: PairView }) =>
  pair.finishDay === null ? (
    '–'
  ) : pair.dueDay !== null && pair.finishDay > pair.dueDay ? (
    <strong class="is-late">{formatDayShort(pair.finishDay)} late</strong>
  ) : (
    formatDayShort(pair.finishDay)
  );

const pairColumns = (back: string): readonly Column<PairView>[] => [
  {
    name: 'Pair',
    kind: 'heading',
    cell: (pair) => (
      <>
        <PairName pair={pair} />{' '}
        <a class="no-print" href={`/cards/pair/${pair.id}`}>
          Card<span class="visually-hidden">{` of pair ${pair.id}`}</span>
        </a>
        <small class="pair-for">for {pair.order ? <OrderLink order={pair.order} /> : 'stock'}</small>
      </>
    ),
  },
  { name: 'Cast on', kind: 'number', cell: (pair) => <PairCount pair={pair} of="castOn" /> },
  { name: 'Rows', kind: 'number', cell: (pair) => <PairCount pair={pair} of="rows" /> },
  { name: 'Cuff', kind: 'number', cell: (pair) => <PairCount pair={pair} of="cuffStitches" /> },
  { name: 'Time', kind: 'number', cell: (pair) => formatMinutes(pair.minutes) },
  { name: 'Weigh out', kind: 'wide', cell: (pair) => <PairYarn pair={pair} /> },
  { name: 'Ready', kind: 'number', cell: (pair) => <Ready pair={pair} /> },
  {
    name: 'How far',
    kind: 'wide',
    cell: (pair) => (
      <div class="pair-state">
        <strong>{stateWords(pair)}</strong>
        <PairSteps pair={pair} back={back} steps={stepsFor(pair)} />
      </div>
    ),
  },
];

const changeChoices: Readonly<Record<'cancelled' | 'fewer' | 'changed', string>> = {
  cancelled: 'It becomes stock when it is finished.',
  fewer: 'Let it go to stock, or leave it with the order.',
  changed: 'Let it go to stock and knit the order anew, or leave it as it was begun.',
};

type ChangedProps = Pick<StartedPageProps, 'changed' | 'changedCount'> & { readonly back: string };

const Changed = ({ changed, changedCount, back }: ChangedProps) =>
  changed.length === 0 ? null : (
    <section id="changed">
      <h2>Orders that changed since</h2>
      {changedCount > changed.length ? (
        <p>{`${changed.length} of ${formatCount(changedCount)} pairs are shown; the others come up as these are settled.`}</p>
      ) : null}
      <ul class="plain-list change-list">
        {changed.map(({ pair, words, what }) => (
          <li>
            <p>
              <strong>{pair.sizeWords}</strong> <PairColours colours={pair.colours} />
              {pair.order ? (
                <>
                  {' '}
                  for <OrderLink order={pair.order} />
                </>
              ) : null}
              , {stateWords(pair)}.
            </p>
            <p>
              {words.join(' ')} {changeChoices[what]}
            </p>
            <PairSteps
              pair={pair}
              back={back}
              steps={[
                { step: 'let go', words: 'Let it go to stock' },
                ...(pair.isFinished || pair.pieces.some(({ stage }) => stage !== 'waiting')
                  ? []
                  : [{ step: 'rip out', words: 'Do not knit it', kind: 'remove' as const }]),
              ]}
            />
          </li>
        ))}
      </ul>
    </section>
  );

function figuresOf({
  pairCount,
  finishedCount,
  waitingCount,
  short,
  changedCount,
  startedDay,
}: StartedPageProps): FigureEntry[] {
  return [
    {
      value: `${formatCount(finishedCount)} of ${formatCount(pairCount)}`,
      words: 'pairs finished',
      ...(finishedCount === pairCount ? { tone: 'done' as const } : {}),
    },
    ...(waitingCount === 0 && short.length === 0
      ? [{ value: 'all', words: 'of its yarn is here', tone: 'done' as const }]
      : []),
    ...(waitingCount > 0
      ? [{ value: countOf(waitingCount, 'pair', 'pairs'), words: 'still wait for yarn', tone: 'caution' as const }]
      : []),
    ...(changedCount > 0
      ? [
          {
            value: countOf(changedCount, 'pair', 'pairs'),
            words: changedCount === 1 ? 'differs from its order now' : 'differ from their order now',
            tone: 'caution' as const,
            href: '#changed',
          },
        ]
      : []),
    ...(startedDay ? [{ value: formatDay(startedDay), words: 'started' }] : []),
  ];
}

/** A batch on the needles: each knitter's pairs, how far they are, and what to note of them. */
export const StartedPage = (props: StartedPageProps) => {
  const { purpose, batch, knitters, paging, pageHref, waitingCount, changed, changedCount, done } = props;
  const address = `/batch/started/${batch.id}`;
  const back = pageHref(paging);
  return (
    <Page title={batch.name} where={<a href="/batch">Batch</a>} current="batch" purpose={purpose}>
      {done ? (
        <p role="status" class="no-print">
          {done}
        </p>
      ) : null}
      <FigureRow figures={figuresOf(props)} />
      <MissingYarn short={props.short} />
      <Actions>
        {waitingCount > 0 ? (
          <form method="post" action={`${address}/yarn`}>
            <Button>Give out yarn from the shelf</Button>
          </form>
        ) : null}
        <LinkButton href="/batch/stock" kind="quiet">
          Finished pairs
        </LinkButton>
        <LinkButton href={`/pricing/tags?pairs=batch-${batch.id}`} kind="quiet">
          Tags and care cards
        </LinkButton>
      </Actions>
      <Changed {...{ changed, changedCount, back }} />
      <Pager paging={paging} noun="Pairs" href={pageHref} />
      {knitters.map(({ name, pairs }) => (
        <section>
          <h2>{name}</h2>
          <DataTable
            caption={`Pairs of ${name}`}
            isCaptionHidden
            columns={pairColumns(back)}
            rows={pairs}
            rowId={(pair) => `pair-${pair.id}`}
          />
        </section>
      ))}
      <Pager paging={paging} noun="Pairs" href={pageHref} isBelow />
    </Page>
  );
};
