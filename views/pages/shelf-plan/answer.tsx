import { countOf } from '#core/shared/format.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatMass } from '#views/format.ts';
import { lotWords } from '#views/pages/shelf/yarn-words.ts';

type Colour = { readonly name: string; readonly yarnName: string; readonly hexes: readonly string[] };

type LotUse = {
  readonly lotId: number;
  readonly colour: Colour;
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly freeG: number;
  readonly usedG: number;
  readonly leftG: number;
};

type ShortSize = {
  readonly words: string;
  readonly least: number;
  readonly made: number;
  readonly why: 'no lot' | 'alone' | 'together';
  readonly mostAlone: number;
};

export type ShelfAnswer = {
  readonly pairs: number;
  readonly mostPairs: number;
  readonly isBest: boolean;
  readonly made: readonly {
    readonly size: string;
    readonly count: number;
    readonly parts: readonly {
      readonly words: string;
      readonly colour: Colour;
      readonly lotId: number;
      readonly dyeLot: string | null;
    }[];
  }[];
  readonly lots: readonly LotUse[];
  readonly short: readonly ShortSize[];
  readonly balls: readonly {
    readonly colour: Colour;
    readonly ballG: number;
    readonly atLeast: number;
    readonly atMost: number;
  }[];
  /** Whether every ball was looked at. */
  readonly hasBalls: boolean;
  readonly ends: readonly {
    readonly lot: LotUse;
    readonly uses: readonly { readonly words: string; readonly pairs: number }[];
  }[];
  /** What the plan keeps for these pairs beyond what was asked. */
  readonly planKeeps: {
    readonly leastG: number;
    readonly mostG: number;
    readonly shortPairs: number;
    readonly missingG: number;
  } | null;
  /** How far the search for more got. */
  readonly state: 'looking' | 'done' | 'outOfTime' | 'stopped' | 'failed';
  readonly seen: { readonly question: string };
};

export type AnswerProps = {
  readonly answer: ShelfAnswer;
  /** The pairs as the form that makes them a batch carries them. */
  readonly made: string;
  /** The question as the address of the page has it. */
  readonly query: string;
  /** What agreed orders will take of the shelf. */
  readonly leftAloneG: number;
  /** The same question as if those orders took nothing. */
  readonly withOrdersHref: string;
};

const NamedLot = ({ colour, dyeLot, lotId }: Pick<LotUse, 'colour' | 'dyeLot' | 'lotId'>) => (
  <Chip
    colours={colour.hexes}
    name={
      <>
        {colour.name}, <a href={`/shelf/lots/${lotId}`}>{lotWords(dyeLot)}</a>
      </>
    }
  />
);

function shortSentence({ words, least, made, why, mostAlone }: ShortSize): string {
  const wanted = `${words}: you want at least ${countOf(least, 'pair', 'pairs')}`;
  if (why === 'no lot') return `${wanted}, and no lot has enough free yarn for one.`;
  if (why === 'alone') return `${wanted}, and the yarn makes ${mostAlone} at most, even if no other size were knitted.`;
  return `${wanted}, and ${made} can be made beside what the other sizes want. Alone it could be ${mostAlone}: ask for fewer of another size.`;
}

function howSure({ pairs, mostPairs, isBest }: ShelfAnswer): string {
  return isBest || mostPairs === pairs ? 'cannot be more' : `at most ${mostPairs}, if a better way is there`;
}

function pairsMore({ atLeast, atMost }: ShelfAnswer['balls'][number]): string {
  const found = atLeast === 0 ? 'no pair' : countOf(atLeast, 'pair', 'pairs');
  return atMost > atLeast ? `${found}, at most ${atMost}` : found;
}

/** What becomes of likely amounts in a plan that counts with safe ones: said before the pairs are made a batch. */
const PlanKeeps = ({ answer: { planKeeps, pairs } }: { readonly answer: ShelfAnswer }) => {
  if (planKeeps === null) return null;
  const { leastG, mostG, shortPairs, missingG } = planKeeps;
  const [least, most] = [formatMass(leastG), formatMass(mostG)];
  return (
    <Caution title="The plan keeps more">
      {`You asked for the most likely amounts. The plan counts with safe ones, ${least === most ? least : `${least} to ${most}`} more for each pair. `}
      {shortPairs === 0
        ? 'The shelf has that too.'
        : `So for ${shortPairs} of the ${countOf(pairs, 'pair', 'pairs')} no lot has enough, and about ${formatMass(missingG)} would stand under Yarn to buy.`}{' '}
      <a class="no-print" href="/settings#field-buyAt">
        Which the plan counts with
      </a>
    </Caution>
  );
};

const Made = ({ made }: Pick<ShelfAnswer, 'made'>) => (
  <DataTable
    caption="Which pairs, and from which lot"
    columns={[
      { name: 'Size', kind: 'heading', cell: (row) => row.size },
      {
        name: 'Colours and lots',
        kind: 'wide',
        cell: ({ parts }) => {
          const isOne = new Set(parts.map(({ lotId }) => lotId)).size === 1;
          const shown = isOne ? parts.slice(0, 1) : parts;
          return (
            <span>
              {shown.map((part, index) => (
                <>
                  {index > 0 ? <br /> : null}
                  {isOne ? '' : `${part.words}: `}
                  <NamedLot {...part} />
                </>
              ))}
            </span>
          );
        },
      },
      { name: 'Pairs', kind: 'number', cell: (row) => String(row.count) },
    ]}
    rows={made}
  />
);

const Lots = ({ lots }: Pick<ShelfAnswer, 'lots'>) => (
  <DataTable
    caption="Yarn used, and what is left"
    columns={[
      { name: 'Colour and lot', kind: 'heading', cell: (lot) => <NamedLot {...lot} /> },
      { name: 'From', kind: 'text', cell: ({ donor }) => donor ?? '–' },
      { name: 'Free', kind: 'number', cell: ({ freeG }) => formatMass(freeG) },
      { name: 'Used', kind: 'number', cell: ({ usedG }) => formatMass(usedG) },
      { name: 'Left', kind: 'number', cell: ({ leftG }) => formatMass(leftG) },
    ]}
    rows={lots}
  />
);

const Balls = ({ balls, hasBalls }: Pick<ShelfAnswer, 'balls' | 'hasBalls'>) => {
  const [first] = balls;
  const helping = balls.filter(({ atMost }) => atMost > 0);
  return balls.length === 0 || !hasBalls ? null : (
    <section>
      <h2>One more ball</h2>
      <p>
        {first!.atLeast > 0
          ? `One more ball of ${first!.colour.name} would give ${countOf(first!.atLeast, 'pair', 'pairs')}.`
          : 'No single ball more would give another pair.'}
        {first!.atLeast > 0 && helping.length < balls.length
          ? ' A ball of a colour that is not named here would give none.'
          : ''}
      </p>
      {helping.length === 0 ? null : (
        <DataTable
          caption="What one more ball of each colour would add"
          columns={[
            {
              name: 'Colour',
              kind: 'heading',
              cell: ({ colour }) => <Chip colours={colour.hexes} name={`${colour.name}, ${colour.yarnName}`} />,
            },
            { name: 'A ball', kind: 'number', cell: ({ ballG }) => formatMass(ballG) },
            { name: 'Would add', kind: 'number', cell: pairsMore },
          ]}
          rows={helping}
        />
      )}
    </section>
  );
};

const Ends = ({ ends }: Pick<ShelfAnswer, 'ends'>) =>
  ends.length === 0 ? null : (
    <section>
      <h2>Ends that could be toes or cuffs</h2>
      <p>What is left of these lots is too little for a foot, and enough for a part of one in another colour.</p>
      <ul class="plain-list">
        {ends.map(({ lot, uses }) => (
          <li>
            <NamedLot {...lot} />: {formatMass(lot.leftG)},{' '}
            {uses.map(({ words, pairs }) => `${words} for ${countOf(pairs, 'pair', 'pairs')}`).join(', or ')}
          </li>
        ))}
      </ul>
    </section>
  );

const endWords = {
  outOfTime: 'The search for more ran out of time',
  stopped: 'The search for more was stopped',
  failed: 'The search for more broke off',
} as const;

function leftOpen({ pairs, mostPairs, isBest, hasBalls }: ShelfAnswer): string {
  const more = isBest ? 'and no more are possible' : `and at most ${mostPairs - pairs} more could be possible`;
  return `there is yarn for these pairs, ${more}.${hasBalls ? '' : ' What one more ball would add was not found out.'}`;
}

/** How far the search for more pairs got; nothing when it came to its end. Without a script a link looks again. */
const SearchLine = ({ answer, query }: Pick<AnswerProps, 'answer' | 'query'>) => {
  const { state, isBest } = answer;
  if (state === 'done') return null;
  if (state === 'looking')
    return (
      <section class="no-print">
        <p>
          {isBest ? 'Looking what one more ball would add.' : 'Looking for more pairs.'}{' '}
          <a href={`/shelf/most-pairs?${query}`}>Look again</a>
        </p>
        <form method="post" action={`/shelf/most-pairs/search/stop?${query}`}>
          <Actions>
            <Button kind="quiet">Stop looking</Button>
          </Actions>
        </form>
      </section>
    );
  return (
    <section class="no-print">
      <p>{`${endWords[state]}: ${leftOpen(answer)}`}</p>
      <form method="post" action={`/shelf/most-pairs/search?${query}`}>
        <Actions>
          <Button kind="quiet">Look once more</Button>
        </Actions>
      </form>
    </section>
  );
};

/** The form that makes pairs a batch; what it carries of the answer stands with the answer. */
export const batchFormId = 'make-batch';

/**
 * The answer: how many pairs and which, from which lots, what is left, and what another ball would do. While more are
 * being looked for it asks for itself every second.
 */
export const AnswerParts = ({ answer, made, query, leftAloneG, withOrdersHref }: AnswerProps) => {
  const sum = (of: (lot: LotUse) => number) => answer.lots.reduce((total, lot) => total + of(lot), 0);
  const asking =
    answer.state === 'looking'
      ? {
          'hx-get': `/shelf/most-pairs/search?${query}`,
          'hx-trigger': 'every 1s',
          'hx-target': 'this',
          'hx-swap': 'outerHTML',
        }
      : {};
  return (
    <div id="shelf-answer" class="stack" {...asking}>
      <FigureRow
        figures={[
          {
            value: String(answer.pairs),
            words: `${answer.pairs === 1 ? 'pair' : 'pairs'}: ${howSure(answer)}`,
            ...(answer.isBest ? { tone: 'done' as const } : {}),
          },
          { value: formatMass(sum((lot) => lot.usedG)), words: 'of yarn used' },
          { value: formatMass(sum((lot) => lot.leftG)), words: 'of what is free would be left' },
        ]}
      />
      <SearchLine answer={answer} query={query} />
      <PlanKeeps answer={answer} />
      {answer.short.length > 0 ? (
        <Caution title={answer.isBest ? 'Not every size can be had' : 'Not every size was found'}>
          <ul class="plain-list">
            {answer.short.map((size) => (
              <li>{shortSentence(size)}</li>
            ))}
          </ul>
        </Caution>
      ) : null}
      {leftAloneG > 0 ? (
        <p>
          {`${formatMass(leftAloneG)} more will go into agreed orders, and stays theirs. `}
          <a class="no-print" href={withOrdersHref}>
            See what all of it could make
          </a>
        </p>
      ) : null}
      {answer.made.length > 0 ? <Made made={answer.made} /> : null}
      {answer.lots.length > 0 ? <Lots lots={answer.lots} /> : null}
      <Balls balls={answer.balls} hasBalls={answer.hasBalls} />
      <Ends ends={answer.ends} />
      <input type="hidden" form={batchFormId} name="question" value={answer.seen.question} />
      <input type="hidden" form={batchFormId} name="made" value={made} />
    </div>
  );
};

const endId = 'shelf-search-end';

/** Where it is said aloud that the search ended: empty, and there before it does. */
export const SearchEnd = () => <p id={endId} class="visually-hidden" role="status" />;

/** What the page asks for while it looks: the answer as it is by now, and at the end a sentence to be said aloud. */
export const AnswerFragment = (props: AnswerProps) => {
  const { answer } = props;
  const { state, pairs } = answer;
  return (
    <>
      <AnswerParts {...props} />
      {state === 'looking' ? null : (
        <p id={endId} hx-swap-oob="innerHTML">
          {state === 'done'
            ? `${countOf(pairs, 'pair', 'pairs')}: ${howSure(answer)}.`
            : `${endWords[state]}: ${leftOpen(answer)}`}
        </p>
      )}
    </>
  );
};
