import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Chip } from '#views/components/chip.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatWeighed, priceMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import type { PromisedYarn, ShelfColour, ShelfYarn } from '#views/pages/shelf/shelf-page.tsx';
import { type PairThatWaits, type ShortLot, ShortQuestion, WaitingPairs } from '#views/pages/shelf/short-pairs.tsx';
import { hexesOf, lotWords, shopWords } from '#views/pages/shelf/yarn-words.ts';

export type LotBall = {
  readonly id: number;
  readonly number: number;
  readonly massMg: number;
  readonly shownMg: number;
  /** Who has it; null for the shelf. */
  readonly knitter: string | null;
};

export type LotMove = {
  readonly id: number;
  readonly ball: number;
  /** As it is shown: the changes of a ball add up to what it shows. */
  readonly shownMg: number;
  readonly reason: string;
  readonly day: Day;
  readonly reversesId: number | null;
  readonly isUndone: boolean;
  readonly pairId: number | null;
};

/** A ball that went home with somebody, or came back: `knitter` null. */
export type LotHandOver = { readonly ball: number; readonly knitter: string | null; readonly day: Day };

export type LotPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly yarn: ShelfYarn;
  readonly colour: ShelfColour;
  readonly lot: {
    readonly id: number;
    readonly dyeLot: string | null;
    readonly donor: string | null;
    readonly place: string | null;
    readonly gotDay: Day;
    readonly returnableUntilDay: Day | null;
    readonly paidCents: number;
    readonly boughtMg: number;
    readonly worthCents: number | null;
  };
  readonly balls: readonly LotBall[];
  readonly shownMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly shownPromisedMg: number;
  /** This lot, where begun pairs lack some of it. */
  readonly short: readonly ShortLot[];
  /** Begun pairs that wait for its colour. */
  readonly waiting: readonly PairThatWaits[];
  /** What was typed where a move could not be undone, and why. */
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly moves: readonly LotMove[];
  readonly handOvers: readonly LotHandOver[];
  readonly isAtShop: boolean;
};

const reasonWords: Readonly<Record<string, string>> = {
  bought: 'bought',
  given: 'given to us',
  'wound off': 'wound off',
  used: 'used',
  weighed: 'weighed anew',
  lost: 'lost',
  back: 'back where it came from',
};

const wordsOfMove = ({ reason, pairId }: Pick<LotMove, 'reason' | 'pairId'>) =>
  `${reasonWords[reason] ?? reason}${pairId === null ? '' : ` by pair ${pairId}`}`;

const signed = (mg: number) => `${mg > 0 ? '+' : mg < 0 ? '\u2212' : ''}${formatWeighed(Math.abs(mg))}`;

function figuresOf({
  purpose,
  currency,
  lot,
  balls,
  shownMg,
  promised,
  shownPromisedMg,
  isAtShop,
}: LotPageProps): FigureEntry[] {
  const full = balls.filter((ball) => ball.massMg > 0).length;
  const { grams, words } = priceMass();
  const priceOfMass = formatCents((lot.paidCents * grams * 1000) / lot.boughtMg, currency);
  return [
    { value: formatWeighed(shownMg), words: `left on ${countOf(full, 'ball', 'balls')}` },
    {
      value: formatWeighed(shownPromisedMg),
      words:
        promised.length === 0 ? 'put aside' : `put aside for ${promised.map(({ batch }) => batch.name).join(', ')}`,
      ...(shownPromisedMg > shownMg ? { tone: 'caution' as const } : {}),
    },
    ...(purpose === 'give'
      ? []
      : [
          {
            value: priceOfMass,
            words: `for ${words}: ${formatCents(lot.paidCents, currency)} for ${formatWeighed(lot.boughtMg)}`,
          },
        ]),
    {
      value: formatDayShort(lot.gotDay),
      words: lot.donor
        ? `given by ${lot.donor}`
        : lot.returnableUntilDay
          ? `came; ${shopWords(lot.returnableUntilDay, isAtShop)}`
          : 'came to the shelf',
    },
  ];
}

/** Begun pairs that this lot leaves without enough, with what becomes of them; and those that wait for its colour. */
const PairsWithout = ({ lot, short, waiting, values, problems }: LotPageProps) => (
  <>
    {short.length === 0 ? null : (
      <form method="post" action={values.move ? `/shelf/lots/${lot.id}/undo` : `/shelf/lots/${lot.id}/give-back`}>
        {values.move ? <input type="hidden" name="move" value={values.move} /> : null}
        <ShortQuestion short={short} values={values} problems={problems} />
        <Actions>
          <Button kind="quiet">{values.move ? 'Undo it' : 'Save what becomes of them'}</Button>
        </Actions>
      </form>
    )}
    {waiting.length === 0 ? null : (
      <section>
        <h2>Begun pairs that wait for this colour</h2>
        <WaitingPairs pairs={waiting} />
        <p>
          What no lot has for them is on <a href="/buying">the list of yarn to buy</a>.
        </p>
      </section>
    )}
  </>
);

/** One dye lot: its balls and everything that happened to them. */
export const LotPage = (props: LotPageProps) => {
  const { purpose, currency, yarn, colour, lot, balls, moves, handOvers, problems } = props;
  const full = balls.filter((ball) => ball.massMg > 0);
  const address = `/shelf/lots/${lot.id}`;
  return (
    <Page
      title={`${colour.name}, ${lotWords(lot.dyeLot)}`}
      where={
        <>
          <a href="/shelf">Yarn shelf</a>, {yarn.name}
        </>
      }
      current="shelf"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <p>
        <Chip colours={hexesOf(colour.swatchHex)} name={colour.name} />
        {lot.place === null ? null : <span class="soft"> {lot.place}</span>}
        {purpose !== 'give' && lot.worthCents !== null ? (
          <span class="soft"> worth {formatCents(lot.worthCents, currency)} as it came</span>
        ) : null}
      </p>
      <FigureRow figures={figuresOf(props)} />
      <PairsWithout {...props} />
      <Actions>
        {full.length > 0 ? (
          <>
            <LinkButton href={`${address}/weigh`}>Weigh a ball</LinkButton>
            <LinkButton href={`${address}/take-off`} kind="quiet">
              Take some off
            </LinkButton>
            <LinkButton href={`${address}/wind-off`} kind="quiet">
              Wind off a ball
            </LinkButton>
            <LinkButton href={`${address}/hand`} kind="quiet">
              Hand a ball over
            </LinkButton>
          </>
        ) : null}
        <LinkButton href={`${address}/change`} kind="quiet">
          Change this lot
        </LinkButton>
      </Actions>
      <section>
        <h2>Balls</h2>
        {full.length === 0 ? (
          <p>All of it is used up.</p>
        ) : (
          <DataTable
            caption="Balls of this lot"
            isCaptionHidden
            columns={[
              { name: 'Ball', kind: 'heading', cell: (ball) => `Ball ${ball.number}` },
              { name: 'Weighs', kind: 'number', cell: (ball) => formatWeighed(ball.shownMg) },
              { name: 'Where', cell: (ball) => (ball.knitter ? `with ${ball.knitter}` : 'on the shelf') },
              {
                name: 'Weigh it',
                kind: 'action',
                cell: (ball) => (
                  <a class="no-print" href={`${address}/weigh?ball=${ball.id}`}>
                    Weigh<span class="visually-hidden"> ball {ball.number}</span>
                  </a>
                ),
              },
            ]}
            rows={full}
          />
        )}
      </section>
      <section id="field-move" tabindex={-1}>
        <h2>What happened to it</h2>
        {problems
          .filter(({ path }) => path === 'move')
          .map(({ message }) => (
            <p class="error">{message}</p>
          ))}
        <DataTable
          caption="Moves, newest first"
          isCaptionHidden
          columns={[
            { name: 'Day', kind: 'heading', cell: (move) => formatDayShort(move.day) },
            { name: 'Ball', kind: 'number', cell: (move) => String(move.ball) },
            {
              name: 'Why',
              cell: (move) =>
                move.reversesId === null
                  ? `${wordsOfMove(move)}${move.isUndone ? ' (undone since)' : ''}`
                  : `undone: ${wordsOfMove(move)}`,
            },
            { name: 'Change', kind: 'number', cell: (move) => signed(move.shownMg) },
            {
              name: 'Undo',
              kind: 'action',
              cell: (move) =>
                move.reversesId === null && !move.isUndone ? (
                  <form method="post" action={`${address}/undo`}>
                    <input type="hidden" name="move" value={String(move.id)} />
                    <Button kind="quiet">
                      Undo
                      <span class="visually-hidden">{`: ${wordsOfMove(move)} ${formatDayShort(move.day)}, ball ${move.ball}`}</span>
                    </Button>
                  </form>
                ) : (
                  '–'
                ),
            },
          ]}
          rows={moves}
        />
      </section>
      {handOvers.length === 0 ? null : (
        <section>
          <h2>Who had it</h2>
          <DataTable
            caption="Balls that were handed over, newest first"
            isCaptionHidden
            columns={[
              { name: 'Day', kind: 'heading', cell: (each) => formatDayShort(each.day) },
              { name: 'Ball', kind: 'number', cell: (each) => String(each.ball) },
              { name: 'To', cell: ({ knitter }) => (knitter === null ? 'home on the shelf' : `out with ${knitter}`) },
            ]}
            rows={handOvers}
          />
        </section>
      )}
    </Page>
  );
};
