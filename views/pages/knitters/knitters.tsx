import type { Child } from 'hono/jsx';
import { needleWords } from '#core/gauge/needle-words.ts';
import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatMinutes, formatNumber } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatGauge, formatMass, gaugeUnit } from '#views/format.ts';
import { Page } from '#views/layout.tsx';

export type KnitterRowView = {
  readonly id: number;
  readonly name: string;
  readonly isActive: boolean;
  readonly hand: 'loose' | 'usual' | 'tight';
  readonly ownSwatches: number;
  readonly minutesAWeek: number;
  readonly pairsAMonth: number | null;
  readonly pairs: number;
  readonly minutesPlanned: number;
  readonly nextFinishDay: Day | null;
  readonly lastFinishDay: Day | null;
  readonly isOverFourHours: boolean;
  readonly isGuessed: boolean;
};

export type SwatchRowView = {
  readonly id: number;
  readonly knitterName: string | null;
  readonly yarnWords: string;
  readonly needleMm: number | null;
  readonly stitchesPer10Cm: number;
  readonly rowsPer10Cm: number;
  readonly fabric: string;
  readonly isWashed: boolean;
  readonly massG: number | null;
  readonly leftOutReason: string | null;
};

export type DaysOffView = {
  readonly id: number;
  readonly version: number;
  readonly knitterName: string | null;
  readonly fromDay: Day;
  readonly toDay: Day;
};

export type KnittersPageProps = {
  readonly knitters: readonly KnitterRowView[];
  readonly swatches: readonly SwatchRowView[];
  readonly daysOff: readonly DaysOffView[];
  readonly pairsWithoutKnitter: number;
  readonly knitterOptions: readonly SelectOption[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
};

function handWords({ hand, ownSwatches }: KnitterRowView): string {
  const words = { loose: 'loose', usual: 'usual', tight: 'tight' }[hand];
  return ownSwatches > 0 ? `${words}, ${countOf(ownSwatches, 'swatch', 'swatches')}` : `${words}, no own swatch`;
}

function timeWords({ minutesAWeek, pairsAMonth }: KnitterRowView): string {
  if (pairsAMonth !== null) return `${formatNumber(pairsAMonth, 1)} pairs a month`;
  return minutesAWeek === 0 ? 'no time' : formatMinutes(minutesAWeek);
}

const KnitterTable = ({ rows, caption }: { readonly rows: readonly KnitterRowView[]; readonly caption: string }) => (
  <DataTable
    caption={caption}
    isCaptionHidden
    columns={[
      { name: 'Knitter', kind: 'heading', cell: (row) => <a href={`/knitters/${row.id}`}>{row.name}</a> },
      { name: 'Hand', cell: handWords },
      { name: 'Hours a week', kind: 'number', cell: timeWords },
      { name: 'Pairs planned', kind: 'number', cell: (row) => row.pairs },
      { name: 'Work planned', kind: 'number', cell: (row) => formatMinutes(row.minutesPlanned) },
      { name: 'Next done', cell: (row) => (row.nextFinishDay ? formatDayShort(row.nextFinishDay) : '–') },
      { name: 'Last done', cell: (row) => (row.lastFinishDay ? formatDayShort(row.lastFinishDay) : '–') },
    ]}
    rows={rows}
  />
);

/** Days off of everybody or of one, with the form for more. */
export const DaysOffCard = (props: {
  readonly daysOff: readonly DaysOffView[];
  readonly action: string;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly knitterOptions?: readonly SelectOption[];
}) => {
  const { daysOff, action, values, problems, knitterOptions } = props;
  return (
    <Card title="Days off">
      {daysOff.length === 0 ? <p class="soft">None to come.</p> : null}
      <ul class="plain-list spaced">
        {daysOff.map((off) => (
          <li>
            <form method="post" action={`/knitters/days-off/${off.id}/remove`} class="inline-form">
              <input type="hidden" name="version" value={String(off.version)} />
              <input type="hidden" name="from" value={action} />
              <span>
                {off.knitterName ?? 'Everybody'}: {formatDayShort(off.fromDay)}
                {off.toDay === off.fromDay ? '' : ` to ${formatDayShort(off.toDay)}`}
              </span>{' '}
              <Button kind="remove">
                Take away<span class="visually-hidden"> {formatDayShort(off.fromDay)}</span>
              </Button>
            </form>
          </li>
        ))}
      </ul>
      <form method="post" action={action}>
        <FieldRow>
          {knitterOptions ? (
            <SelectField
              name="offKnitterId"
              label="Who"
              options={knitterOptions}
              blank="everybody"
              value={values.offKnitterId}
              problems={problems}
            />
          ) : null}
          <TextField name="fromDay" type="date" label="First day" value={values.fromDay} problems={problems} />
          <TextField name="toDay" type="date" label="Last day" value={values.toDay} problems={problems} />
        </FieldRow>
        <Actions>
          <Button kind="quiet">Add days off</Button>
        </Actions>
      </form>
    </Card>
  );
};

/** Squares, those left out below the others. */
export const SwatchTable = ({
  swatches,
  isOfOne = false,
}: {
  swatches: readonly SwatchRowView[];
  isOfOne?: boolean;
}) => (
  <DataTable
    caption="Swatches"
    isCaptionHidden
    columns={[
      {
        name: 'Yarn',
        kind: 'heading',
        cell: (row) => <a href={`/knitters/swatches/${row.id}`}>{row.yarnWords}</a>,
      },
      ...(isOfOne ? [] : [{ name: 'Whose', cell: (row: SwatchRowView): Child => row.knitterName ?? 'the workshop' }]),
      { name: `Stitches ${gaugeUnit()}`, kind: 'number', cell: (row) => formatGauge(row.stitchesPer10Cm) },
      { name: `Rows ${gaugeUnit()}`, kind: 'number', cell: (row) => formatGauge(row.rowsPer10Cm) },
      {
        name: 'Needle',
        cell: (row) => (row.needleMm === null ? '–' : needleWords(row.needleMm)),
      },
      { name: 'Weight', kind: 'number', cell: (row) => (row.massG === null ? 'not weighed' : formatMass(row.massG)) },
      {
        name: 'Knitted in',
        cell: (row) =>
          row.leftOutReason
            ? `left out: ${row.leftOutReason}`
            : `${row.fabric === 'stocking' ? 'stocking stitch' : row.fabric}, ${row.isWashed ? 'washed' : 'not washed'}`,
      },
    ]}
    rows={[...swatches].sort((a, b) => Number(a.leftOutReason !== null) - Number(b.leftOutReason !== null))}
  />
);

/** Everybody who knits, their squares and days off. */
export const KnittersPage = (props: KnittersPageProps) => {
  const { knitters, swatches, daysOff, pairsWithoutKnitter, problems, values, knitterOptions } = props;
  const active = knitters.filter((knitter) => knitter.isActive);
  const resting = knitters.filter((knitter) => !knitter.isActive);
  const byHours = active.filter((knitter) => knitter.pairsAMonth === null);
  const minutes = byHours.reduce((sum, knitter) => sum + knitter.minutesAWeek, 0);
  const pairsAMonth = active.reduce((sum, knitter) => sum + (knitter.pairsAMonth ?? 0), 0);
  const monthWords = `${formatNumber(pairsAMonth, 1)} ${pairsAMonth === 1 ? 'pair' : 'pairs'}`;
  const pairs = active.reduce((sum, knitter) => sum + knitter.pairs, 0);
  return (
    <Page
      title={active.length === 0 ? 'Nobody knits yet' : `${countOf(active.length, 'knitter', 'knitters')}`}
      where="Knitters"
      current="knitters"
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {active.length > 0 ? (
        <FigureRow
          figures={[
            byHours.length === 0
              ? { value: monthWords, words: 'in a usual month' }
              : {
                  value: formatMinutes(minutes),
                  words: `by the clock in a usual week${pairsAMonth > 0 ? `, and ${monthWords} a month` : ''}`,
                },
            { value: countOf(pairs, 'pair', 'pairs'), words: 'planned' },
            pairsWithoutKnitter > 0
              ? {
                  value: countOf(pairsWithoutKnitter, 'pair', 'pairs'),
                  words: 'without anybody to knit them',
                  tone: 'late',
                }
              : { value: 'None', words: 'without anybody to knit it', tone: 'done' },
          ]}
        />
      ) : null}
      <Actions>
        <LinkButton href="/knitters/new">Add a knitter</LinkButton>
        <LinkButton href="/knitters/swatches/new" kind="quiet">
          Add a swatch
        </LinkButton>
      </Actions>
      {active
        .filter((knitter) => knitter.isOverFourHours)
        .map((knitter) => (
          <Caution title={`${knitter.name} is planned for more than four hours a day`}>
            Long knitting strains the hands. Shorter days with pauses last longer.
          </Caution>
        ))}
      {active
        .filter((knitter) => knitter.isGuessed)
        .map((knitter) => (
          <Caution title="These hours are a guess">
            An hour on weekdays and two at weekends, so that there are dates at all.{' '}
            <a href={`/knitters/${knitter.id}`}>Say when you knit</a>
          </Caution>
        ))}
      {active.length === 0 ? (
        <EmptyState>Dates and hours need somebody who knits. One name is enough to begin with.</EmptyState>
      ) : (
        <KnitterTable rows={active} caption="Who knits" />
      )}
      <section id="swatches">
        <h2>Swatches</h2>
        <p class="soft">
          A swatch is a knitted square. Without one, stitches are guessed from the yarn and from loose, usual or tight;
          the first foot knitted is a swatch too. A knitter’s own swatch counts for her, the workshop’s for everybody
          who has none of that yarn.
        </p>
        {swatches.length === 0 ? (
          <EmptyState action={{ href: '/knitters/swatches/new', words: 'Add a swatch' }}>
            No swatch yet: all stitch counts rest on a guess.
          </EmptyState>
        ) : (
          <SwatchTable swatches={swatches} />
        )}
      </section>
      <DaysOffCard
        daysOff={daysOff}
        action="/knitters/days-off"
        values={values}
        problems={problems}
        knitterOptions={knitterOptions}
      />
      {resting.length > 0 ? (
        <section>
          <h2>No longer knitting</h2>
          <ul>
            {resting.map((knitter) => (
              <li>
                <a href={`/knitters/${knitter.id}`}>{knitter.name}</a>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
    </Page>
  );
};
