import type { Child } from 'hono/jsx';
import type { RowMark } from '#core/cards/card.ts';
import { countOf } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField, UnitsField } from '#views/components/field.tsx';
import { formatFineMass, formatMass, unitsOfForm } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import { forWords, type Sheet } from '#views/pages/cards/sheet.tsx';

export type PlaceView = {
  readonly piece: string;
  readonly title: string;
  readonly slipper: 1 | 2;
  readonly slipperWords: string;
  readonly rows: number;
  readonly rowsDone: number;
  readonly steps: readonly {
    readonly key: string;
    readonly words: string;
    readonly fromRow: number | null;
    readonly toRow: number | null;
    readonly isDone: boolean;
  }[];
  readonly marks: readonly RowMark[];
  readonly isDone: boolean;
};

export type BallView = {
  readonly colour: string;
  readonly rowsPossible: number;
  readonly rowsLeft: number;
  readonly neededG: number;
  readonly shortG: number;
  readonly isEnough: boolean;
  readonly nextRow: number | null;
  readonly pairNeedsG: number;
  readonly spareG: number;
  readonly runsOutIn: string | null;
  readonly lots: readonly { readonly dyeLot: string; readonly freeG: number; readonly isPlanned: boolean }[];
  readonly gramsARow: number;
  readonly waysOut: readonly string[];
};

export type PairPageProps = {
  readonly pairId: number;
  readonly version: number;
  readonly sheet: Sheet;
  readonly places: readonly PlaceView[];
  readonly place: PlaceView;
  readonly isFinished: boolean;
  readonly left: string | null;
  readonly stages: readonly { readonly piece: string; readonly stage: string }[];
  readonly colours: readonly { readonly value: string; readonly words: string }[];
  /** What was typed for the row to be set, to be shown again. */
  readonly setTo?: string;
  readonly ball: { readonly values: Readonly<Record<string, string>>; readonly answer: BallView | null };
  readonly problems?: readonly Problem[];
  /** What another did meanwhile, or what was just refused. */
  readonly notice?: string | null;
};

export function placeHref(pairId: number, { piece, slipper }: Pick<PlaceView, 'piece' | 'slipper'>): string {
  return `/cards/pair/${pairId}?piece=${encodeURIComponent(piece)}&slipper=${slipper}`;
}

const Place = ({ place }: { readonly place: Pick<PlaceView, 'piece' | 'slipper'> }) => (
  <>
    <input type="hidden" name="piece" value={place.piece} />
    <input type="hidden" name="slipper" value={String(place.slipper)} />
  </>
);

const PlaceNav = ({ pairId, places, place }: Pick<PairPageProps, 'pairId' | 'places' | 'place'>) => (
  <nav class="place-nav" aria-label="Pieces of this pair">
    <ul class="plain-list">
      {places.map((each) => (
        <li>
          <a href={placeHref(pairId, each)} aria-current={each === place ? 'page' : undefined}>
            <span>{each.title}</span>
            <small>
              {each.slipperWords}
              {each.isDone
                ? ': done'
                : each.rows > 0
                  ? ` ${each.rowsDone}/${each.rows}`
                  : ` ${each.steps.filter((step) => step.isDone).length}/${each.steps.length}`}
            </small>
          </a>
        </li>
      ))}
    </ul>
  </nav>
);

const mostNear = 3;

/** What comes at the next rows, or at the one just worked. */
const NextMark = ({ place }: { readonly place: PlaceView }) => {
  const here = place.marks.filter((mark) => mark.row === place.rowsDone && mark.is === 'mark');
  const next = place.marks.find((mark) => mark.row > place.rowsDone);
  if (here.length > 0) return <p class="row-notice is-now">{`${upperFirst(here[0]!.words)} now.`}</p>;
  if (!next) return null;
  const away = next.row - place.rowsDone;
  return (
    <p class={away <= mostNear ? 'row-notice is-now' : 'row-notice'}>
      {away === 1 ? `Next, ${next.words}.` : `In ${away} rows, ${next.words}.`}
    </p>
  );
};

const Counter = ({ pairId, place }: PairPageProps) => (
  <section class="counter" aria-label="Rows done">
    <p class="rows-done" aria-live="polite">
      <strong>{String(place.rowsDone)}</strong>
      <span>{` of ${countOf(place.rows, 'row', 'rows')}`}</span>
    </p>
    <progress max={place.rows} value={place.rowsDone} aria-label="Rows done" />
    <form
      class="count-form"
      method="post"
      action={`/cards/pair/${pairId}/rows`}
      hx-post={`/cards/pair/${pairId}/rows`}
      hx-target="#knitting"
      hx-swap="outerHTML"
    >
      <Place place={place} />
      <button type="submit" name="by" value="1" class="button button-main count-more">
        One row more
      </button>
      <button type="submit" name="by" value="-1" class="button button-quiet">
        One back
      </button>
    </form>
  </section>
);

/** A number typed in, for who has counted on paper meanwhile. */
const SetForm = ({ pairId, place, setTo = '', problems = [] }: PairPageProps) => (
  <form
    class="inline-form set-form"
    method="post"
    action={`/cards/pair/${pairId}/rows`}
    hx-post={`/cards/pair/${pairId}/rows`}
    hx-target="#knitting"
    hx-swap="outerHTML"
  >
    <Place place={place} />
    <input type="hidden" name="seen" value={String(place.rowsDone)} />
    <TextField name="setTo" label="Set to row" inputmode="numeric" width="short" value={setTo} problems={problems} />
    <Button kind="quiet">Set</Button>
  </form>
);

type StepView = PlaceView['steps'][number];

const StepTick = ({ pairId, place, step }: { pairId: number; place: PlaceView; step: StepView }) => (
  <form
    class="in-print tick-form"
    method="post"
    action={`/cards/pair/${pairId}/steps`}
    hx-post={`/cards/pair/${pairId}/steps`}
    hx-target="#knitting"
    hx-swap="outerHTML"
  >
    <Place place={place} />
    <input type="hidden" name="step" value={step.key} />
    <button type="submit" name="done" value={step.isDone ? 'no' : 'yes'} class="button button-quiet">
      {step.isDone ? 'Not done' : 'Done'}
      <span class="visually-hidden">{`: ${step.words}`}</span>
    </button>
  </form>
);

const Steps = ({ pairId, place }: Pick<PairPageProps, 'pairId' | 'place'>) => {
  const current = place.steps.find((step) => !step.isDone);
  return (
    <ol class="phone-steps">
      {place.steps.map((step) => (
        <li
          class={step.isDone ? 'is-done' : step === current ? 'is-current' : undefined}
          aria-current={step === current ? 'step' : undefined}
        >
          <p>
            {step.isDone ? <span class="done-word">Done: </span> : null}
            {step.words}
          </p>
          {step.toRow === null ? <StepTick pairId={pairId} place={place} step={step} /> : null}
        </li>
      ))}
    </ol>
  );
};

/** What to press when a piece of both slippers, or the pair, is done. */
const Finish = ({ pairId, version, places, place, isFinished, stages }: PairPageProps) => {
  if (isFinished) return <p class="notice">This pair is finished.</p>;
  const own = places.filter((each) => each.piece === place.piece);
  const stage = stages.find((each) => each.piece === place.piece)?.stage;
  const isReady = own.every((each) => each.isDone);
  const isSewing = place.rows === 0;
  const others = own.filter((each) => each !== place && !each.isDone);
  return (
    <>
      {place.isDone && others.length > 0 ? (
        <p>
          <LinkButton
            href={placeHref(pairId, others[0]!)}
          >{`On to the ${others[0]!.slipperWords} ${place.title.toLowerCase()}`}</LinkButton>
        </p>
      ) : null}
      <form method="post" action={`/cards/pair/${pairId}/done`}>
        <input type="hidden" name="version" value={String(version)} />
        <Place place={place} />
        <Actions>
          {stage === 'done' ? (
            <span class="soft">{`${place.title}: both done.`}</span>
          ) : (
            <Button kind={isReady ? 'main' : 'quiet'} name="step" value={`done ${place.piece}`}>
              {isSewing ? 'Both sewn up: the pair is finished' : `${place.title} done, both slippers`}
            </Button>
          )}
          {isSewing ? null : (
            <Button kind="quiet" name="step" value="finish">
              The whole pair is finished
            </Button>
          )}
        </Actions>
      </form>
    </>
  );
};

/** The part that every press renews. */
export const Knitting = (props: PairPageProps) => {
  const { place, notice } = props;
  return (
    <div id="knitting" class="knitting">
      {notice ? <Caution title="Look again">{notice}</Caution> : null}
      <PlaceNav {...props} />
      <h2>
        {place.title}
        <small class="soft">{`, ${place.slipperWords} slipper`}</small>
      </h2>
      {place.rows > 0 ? <Counter {...props} /> : null}
      {place.rows > 0 ? <NextMark place={place} /> : null}
      <Steps {...props} />
      {place.rows > 0 ? <SetForm {...props} /> : null}
      <Finish {...props} />
    </div>
  );
};

/** Whether the shelf can make up what is short, from the lot the pair is knitted from. */
function sameLotWords({ lots, colour, spareG }: BallView): string {
  const lot = lots.toSorted((a, b) => b.freeG - a.freeG)[0];
  if (!lot) return `No lot of ${colour} is written down for this pair: compare the dye lots by eye.`;
  const name = lot.dyeLot === '' ? 'its lot' : `lot ${lot.dyeLot}`;
  if (lot.freeG <= 0) return `The shelf has no more of ${name}.`;
  const enough = lot.freeG >= -spareG ? 'enough to make it up' : 'too little to make it up';
  const planned = lot.isPlanned ? ', though pairs that are not begun count on it' : '';
  return `The shelf has ${formatMass(lot.freeG)} more of ${name}: ${enough}${planned}.`;
}

const Answer = ({ answer, place }: { readonly answer: BallView; readonly place: PlaceView }): Child => {
  const what = `the ${place.slipperWords} ${place.title.toLowerCase()}`;
  const { colour, runsOutIn, spareG } = answer;
  return (
    <div class="ball-answer" role="status">
      <p>
        <strong class={runsOutIn === null ? 'ball-enough' : 'ball-short'}>
          {runsOutIn === null
            ? `Enough: ${formatMass(spareG)} to spare.`
            : `Short by ${formatMass(-spareG)}: it runs out in the ${runsOutIn}.`}
        </strong>{' '}
        {`All that is left of the pair needs ${formatMass(answer.pairNeedsG)} of ${colour}.`}
      </p>
      {runsOutIn === null ? null : <p>{sameLotWords(answer)}</p>}
      {answer.rowsLeft === 0 ? (
        <p>{`No rows of ${colour} are left in ${what}.`}</p>
      ) : (
        <p>{`${countOf(answer.rowsPossible, 'row', 'rows')} of ${colour} still possible, ${countOf(answer.rowsLeft, 'row is', 'rows are')} left in ${what}; one takes ${formatFineMass(answer.gramsARow)}.`}</p>
      )}
      <p>
        {`${upperFirst(what)} needs ${formatMass(answer.neededG)}, ends and seams counted: `}
        {answer.isEnough ? 'that is enough.' : `${formatMass(answer.shortG)} are short.`}
      </p>
      {runsOutIn === null ? null : <Caution title="Ways out">{answer.waysOut.join(' ')}</Caution>}
    </div>
  );
};

const BallForm = ({ pairId, place, ball, colours, problems = [] }: PairPageProps) => (
  <section class="card weigh-ball" id="ball">
    <h2>Weigh the ball</h2>
    {ball.answer ? <Answer answer={ball.answer} place={place} /> : null}
    <form method="get" action={`/cards/pair/${pairId}`}>
      <Place place={place} />
      <UnitsField units={unitsOfForm(ball.values)} />
      <FieldRow>
        <TextField
          name="grams"
          label="The scale shows"
          unit={unitOf('massG', unitsOfForm(ball.values))}
          inputmode="decimal"
          width="short"
          value={ball.values.grams}
          problems={problems}
        />
        <TextField
          name="bag"
          label="Bag or cone"
          hint="if it lies on the scale too"
          unit={unitOf('massG', unitsOfForm(ball.values))}
          inputmode="decimal"
          width="short"
          value={ball.values.bag}
          problems={problems}
        />
        {colours.length > 1 ? (
          <SelectField
            name="colour"
            label="Yarn"
            width="medium"
            options={colours}
            value={ball.values.colour}
            problems={problems}
          />
        ) : null}
      </FieldRow>
      <Actions>
        <Button kind="quiet">How many rows?</Button>
      </Actions>
    </form>
  </section>
);

/** The card of one pair to knit along with: large, one step at a time, and every press is kept. */
export const PairPage = (props: PairPageProps) => {
  const { pairId, sheet, left, problems = [] } = props;
  const { card } = sheet;
  return (
    <Page
      title={`Pair ${pairId}: ${sheet.sizeWords}`}
      where={<a href="/cards">Knitting cards</a>}
      current="cards"
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {left ? (
        <Caution title="Gone">{`This pair has left: ${left}. What is counted here changes nothing.`}</Caution>
      ) : null}
      <Knitting {...props} />
      <BallForm {...props} />
      <div class="chips">
        {card.colours.map(({ words, name, hexes }) => (
          <Chip
            colours={hexes}
            name={
              <>
                {name} <small>{words.toLowerCase()}</small>
              </>
            }
          />
        ))}
      </div>
      <p class="soft">{`${card.title} · ${forWords(sheet)} · ${card.needles.join('; ')}`}</p>
      <details class="abbreviations">
        <summary>Gauge, yarn and abbreviations</summary>
        <p>{`${card.gauge.name}: ${card.gauge.words}`}</p>
        <p>
          {card.weights
            .map(({ pieceWords, colour, grams }) => `${pieceWords}: ${colour} ${formatMass(grams)}`)
            .join('; ')}
        </p>
        <p>{card.abbreviations.join('; ')}</p>
        <p>{card.cautions.join(' ')}</p>
      </details>
      <Actions>
        <LinkButton kind="quiet" href={`/cards/print?pair=${pairId}`}>
          Print this card
        </LinkButton>
      </Actions>
    </Page>
  );
};
