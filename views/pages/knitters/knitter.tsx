import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatMinutes } from '#core/shared/format.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { CheckField, ChoiceField, FieldRow, fieldId, TextField, UnitsField } from '#views/components/field.tsx';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatGauge, formatLoop, gaugeUnit, unitsOfForm } from '#views/format.ts';
import { Page } from '#views/layout.tsx';
import {
  DaysOffCard,
  type DaysOffView,
  type KnitterRowView,
  type SwatchRowView,
  SwatchTable,
} from '#views/pages/knitters/knitters.tsx';

export type RateField = { readonly name: string; readonly words: string; readonly usual: string };

export type KnitterFormProps = {
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly weekdays: readonly { readonly weekday: number; readonly name: string }[];
  /** In each unit system: one of them is by the length of a seam. */
  readonly rates: Readonly<Record<UnitSystem, readonly RateField[]>>;
};

const KnitterFields = ({ values, problems, weekdays, rates }: KnitterFormProps) => {
  const units = unitsOfForm(values);
  const [first, ...rest] = rates[units];
  const isRatesOpen = rest.some((rate) => values[rate.name] || problems.some((problem) => problem.path === rate.name));
  const rateField = (rate: RateField) => (
    <TextField
      name={rate.name}
      label={rate.words}
      hint={`Usual: ${rate.usual}.`}
      value={values[rate.name]}
      problems={problems}
      inputmode="decimal"
      width="short"
    />
  );
  return (
    <>
      <UnitsField units={units} />
      <Card title="Who and how">
        <div class="stack">
          <TextField name="name" label="Name" value={values.name} problems={problems} required maxlength={80} />
          <ChoiceField
            name="hand"
            label="Knits"
            hint="Counts until there is a swatch: loose gives 0.92 of the usual stitches, tight 1.08."
            options={[
              { value: 'loose', words: 'loosely' },
              { value: 'usual', words: 'as most do' },
              { value: 'tight', words: 'tightly' },
            ]}
            value={values.hand}
            layout="row"
            problems={problems}
          />
          <ChoiceField
            name="words"
            label="Cards in"
            options={[
              { value: 'british', words: 'British words', hint: 'cast off, tension' },
              { value: 'american', words: 'American words', hint: 'bind off, gauge' },
            ]}
            value={values.words}
            layout="row"
            problems={problems}
          />
        </div>
      </Card>
      <Card title="When">
        <div class="stack">
          <fieldset class="field">
            <legend>Time for knitting in a usual week</legend>
            <p class="hint">
              Like 1 h 30, 1:30 or 90 min; a plain number is minutes. By the clock, pauses with them. Empty means none.
            </p>
            <FieldRow>
              {weekdays.map(({ weekday, name }) => (
                <TextField
                  name={`minutes-${weekday}`}
                  label={name}
                  value={values[`minutes-${weekday}`]}
                  problems={problems}
                  width="short"
                />
              ))}
            </FieldRow>
          </fieldset>
          <TextField
            name="pairsAMonth"
            label="Or simply pairs in a month"
            hint="When this is filled in, the times above are not used."
            value={values.pairsAMonth}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit="pairs"
          />
          <TextField
            name="dailyCapMin"
            label="Most knitting in a day"
            hint="Like 4 h or 3:30. Above four hours, hands may suffer."
            value={values.dailyCapMin}
            problems={problems}
            width="short"
          />
          <TextField
            name="lastDay"
            type="date"
            label="Knits until"
            hint="Empty: for good."
            value={values.lastDay}
            problems={problems}
          />
          <CheckField
            name="isActive"
            label="Knits at present"
            hint="Without the tick no new pairs come; what was knitted stays."
            isChecked={values.isActive === 'yes'}
            problems={problems}
          />
        </div>
      </Card>
      <Card title="How fast">
        <div class="stack">
          {first ? rateField(first) : null}
          <details open={isRatesOpen}>
            <summary>More about speed</summary>
            <FieldRow>{rest.map(rateField)}</FieldRow>
          </details>
        </div>
      </Card>
    </>
  );
};

/** The form for somebody new. */
export const NewKnitterPage = (props: KnitterFormProps) => (
  <Page title="Add a knitter" where={<a href="/knitters">Knitters</a>} current="knitters" problems={props.problems}>
    <ErrorSummary problems={props.problems} />
    <form method="post" action="/knitters">
      <KnitterFields {...props} />
      <Actions>
        <Button>Add the knitter</Button>
      </Actions>
    </form>
  </Page>
);

export type KnitterPageProps = KnitterFormProps & {
  readonly knitter: KnitterRowView;
  readonly gauges: readonly {
    readonly yarnWords: string;
    /** Else the workshop's, which counts for whoever has none of that yarn. */
    readonly isOwn: boolean;
    readonly stitches: number;
    readonly rows: number;
    readonly loopCm: number | null;
  }[];
  readonly swatches: readonly SwatchRowView[];
  readonly daysOff: readonly DaysOffView[];
  readonly dayValues: Readonly<Record<string, string>>;
  readonly nextPairs: readonly {
    readonly words: string;
    readonly href: string | null;
    readonly finishDay: Day | null;
  }[];
};

function figuresOf({ pairs, minutesPlanned, nextFinishDay, lastFinishDay }: KnitterRowView): FigureEntry[] {
  return [
    { value: countOf(pairs, 'pair', 'pairs'), words: 'planned' },
    { value: formatMinutes(minutesPlanned), words: 'of knitting' },
    { value: nextFinishDay ? formatDayShort(nextFinishDay) : '–', words: 'the next is done' },
    { value: lastFinishDay ? formatDayShort(lastFinishDay) : '–', words: 'the last is done' },
  ];
}

/** Why nothing is, where it is something that her form can change. */
const NothingPlanned = ({
  knitter: { name, isActive, minutesAWeek, pairsAMonth },
}: Pick<KnitterPageProps, 'knitter'>) => {
  if (!isActive) return <p>Nothing is planned for {name}, who does not knit at present.</p>;
  if (pairsAMonth !== null || minutesAWeek > 0) return <p>Nothing is planned for {name}.</p>;
  return (
    <p>
      Nothing is planned for {name}, since no knitting time is entered.{' '}
      <a href={`#${fieldId('minutes-1')}`}>Enter when {name} knits</a>, or how many pairs in a month.
    </p>
  );
};

const shownPairs = 8;

/** One knitter: what is planned, what is measured, and her form. */
export const KnitterPage = (props: KnitterPageProps) => {
  const { knitter, gauges, swatches, daysOff, dayValues, problems, values, nextPairs } = props;
  return (
    <Page title={knitter.name} where={<a href="/knitters">Knitters</a>} current="knitters" problems={problems}>
      <ErrorSummary problems={problems} />
      <FigureRow figures={figuresOf(knitter)} />
      {knitter.isOverFourHours ? (
        <Caution title="More than four hours a day">
          Long knitting strains the hands. Shorter days with pauses last longer.
        </Caution>
      ) : null}
      <section>
        <h2>Next on the needles</h2>
        {nextPairs.length === 0 ? (
          <NothingPlanned knitter={knitter} />
        ) : (
          <ol>
            {nextPairs.slice(0, shownPairs).map((pair) => (
              <li>
                {pair.href ? <a href={pair.href}>{pair.words}</a> : pair.words}
                {pair.finishDay ? `, done ${formatDayShort(pair.finishDay)}` : ''}
              </li>
            ))}
          </ol>
        )}
        {nextPairs.length > shownPairs ? (
          <p class="soft">
            And {nextPairs.length - shownPairs} more: see the <a href="/batch">batch</a>.
          </p>
        ) : null}
      </section>
      <section>
        <h2>How {knitter.name} knits</h2>
        {gauges.length === 0 ? (
          <p>No swatch counts here yet: the stitches are guessed from the yarn.</p>
        ) : (
          <DataTable
            caption="What is measured"
            isCaptionHidden
            columns={[
              { name: 'Yarn', kind: 'heading', cell: (row) => row.yarnWords },
              { name: 'Swatch', cell: (row) => (row.isOwn ? 'own' : 'the workshop’s') },
              { name: `Stitches ${gaugeUnit()}`, kind: 'number', cell: (row) => formatGauge(row.stitches) },
              { name: `Rows ${gaugeUnit()}`, kind: 'number', cell: (row) => formatGauge(row.rows) },
              {
                name: 'Yarn in one stitch',
                kind: 'number',
                cell: (row) => (row.loopCm === null ? 'not weighed' : formatLoop(row.loopCm)),
              },
            ]}
            rows={gauges}
          />
        )}
        {swatches.length > 0 ? (
          <>
            <h3>Swatches by {knitter.name}</h3>
            <SwatchTable swatches={swatches} isOfOne />
          </>
        ) : null}
        <Actions>
          <LinkButton href={`/knitters/swatches/new?knitter=${knitter.id}`} kind="quiet">
            Add a swatch by {knitter.name}
          </LinkButton>
        </Actions>
      </section>
      <form method="post" action={`/knitters/${knitter.id}`}>
        <input type="hidden" name="version" value={values.version ?? ''} />
        <KnitterFields {...props} />
        <Actions>
          <Button>Save {knitter.name}</Button>
        </Actions>
      </form>
      <DaysOffCard
        daysOff={daysOff}
        action={`/knitters/${knitter.id}/days-off`}
        values={dayValues}
        problems={problems}
      />
    </Page>
  );
};
