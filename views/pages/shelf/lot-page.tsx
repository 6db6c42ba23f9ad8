import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatDay } from '#core/shared/format.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Chip } from '#views/components/chip.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatMass, priceMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import type { PromisedYarn, ShelfColour, ShelfYarn } from '#views/pages/shelf/shelf-page.tsx';
import { hexesOf, lotWords } from '#views/pages/shelf/yarn-words.ts';

export type LotBall = {
  readonly id: number;
  readonly number: number;
  readonly massMg: number;
  /** Who has it; null for the shelf. */
  readonly knitter: string | null;
};

export type LotMove = {
  readonly id: number;
  readonly ball: number;
  readonly changeMg: number;
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
  readonly massMg: number;
  readonly promised: readonly PromisedYarn[];
  readonly promisedMg: number;
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

const signed = (mg: number) => `${mg > 0 ? '+' : mg < 0 ? '\u2212' : ''}${formatMass(Math.abs(mg) / 1000)}`;

function figuresOf({
  purpose,
  currency,
  lot,
  balls,
  massMg,
  promised,
  promisedMg,
  isAtShop,
}: LotPageProps): FigureEntry[] {
  const full = balls.filter((ball) => ball.massMg > 0).length;
  const { grams, words } = priceMass();
  const priceOfMass = formatCents((lot.paidCents * grams * 1000) / lot.boughtMg, currency);
  return [
    { value: formatMass(massMg / 1000), words: `left on ${countOf(full, 'ball', 'balls')}` },
    {
      value: formatMass(promisedMg / 1000),
      words:
        promised.length === 0 ? 'put aside' : `put aside for ${promised.map(({ batch }) => batch.name).join(', ')}`,
      ...(promisedMg > massMg ? { tone: 'caution' as const } : {}),
    },
    ...(purpose === 'give'
      ? []
      : [
          {
            value: priceOfMass,
            words: `for ${words}: ${formatCents(lot.paidCents, currency)} for ${formatMass(lot.boughtMg / 1000)}`,
          },
        ]),
    {
      value: formatDayShort(lot.gotDay),
      words: lot.donor
        ? `given by ${lot.donor}`
        : lot.returnableUntilDay
          ? `came; ${isAtShop ? 'kept at the shop' : 'may go back'} until ${formatDay(lot.returnableUntilDay)}`
          : 'came to the shelf',
    },
  ];
}

/** One dye lot: its balls and everything that happened to them. */
export const LotPage = (props: LotPageProps) => {
  const { purpose, currency, yarn, colour, lot, balls, moves, handOvers } = props;
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
    >
      <p>
        <Chip colours={hexesOf(colour.swatchHex)} name={colour.name} />
        {lot.place === null ? null : <span class="soft"> {lot.place}</span>}
        {purpose !== 'give' && lot.worthCents !== null ? (
          <span class="soft"> worth {formatCents(lot.worthCents, currency)} as it came</span>
        ) : null}
      </p>
      <FigureRow figures={figuresOf(props)} />
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
              { name: 'Weighs', kind: 'number', cell: (ball) => formatMass(ball.massMg / 1000) },
              { name: 'Where', cell: (ball) => (ball.knitter ? `with ${ball.knitter}` : 'on the shelf') },
              {
                name: 'Weigh it',
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
      <section>
        <h2>What happened to it</h2>
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
            { name: 'Change', kind: 'number', cell: (move) => signed(move.changeMg) },
            {
              name: 'Undo',
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
