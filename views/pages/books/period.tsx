import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Button } from '#views/components/actions.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';

export type PeriodProps = {
  readonly action: string;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly fromDay: Day;
  readonly toDay: Day;
  readonly usual: readonly { readonly words: string; readonly fromDay: Day; readonly toDay: Day }[];
  /** What else the address says, and keeps. */
  readonly kept?: Readonly<Record<string, string>>;
};

const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** "November 2026". */
export function monthWords(month: string): string {
  return `${monthNames[Number(month.slice(5, 7)) - 1]} ${month.slice(0, 4)}`;
}

/** "2026", "November 2026", or the first and the last day. */
export function periodWords({ fromDay, toDay }: { readonly fromDay: Day; readonly toDay: Day }): string {
  const year = fromDay.slice(0, 4);
  if (fromDay === `${year}-01-01` && toDay === `${year}-12-31`) return year;
  const last = new Date(Date.UTC(Number(year), Number(fromDay.slice(5, 7)), 0)).getUTCDate();
  const isMonth = fromDay.endsWith('-01') && toDay === `${fromDay.slice(0, 7)}-${last}`;
  return isMonth ? monthWords(fromDay) : `${formatDay(fromDay)} to ${formatDay(toDay)}`;
}

/** The address of a page for a period. */
export function periodHref(
  action: string,
  { fromDay, toDay }: { readonly fromDay: Day; readonly toDay: Day },
  kept: Readonly<Record<string, string>> = {},
): string {
  return `${action}?${new URLSearchParams({ from: fromDay, to: toDay, ...kept })}`;
}

/** Which period a page is of: the usual ones a press away, any other by its days. */
export const PeriodForm = ({ action, values, problems, fromDay, toDay, usual, kept = {} }: PeriodProps) => (
  <form method="get" action={action} class="period-form">
    <nav class="filter" aria-label="Periods">
      {usual.map((period) => (
        <a
          href={periodHref(action, period, kept)}
          aria-current={period.fromDay === fromDay && period.toDay === toDay ? 'page' : undefined}
        >
          {period.words}
        </a>
      ))}
    </nav>
    <FieldRow>
      <TextField name="from" type="date" label="From" value={values.from || fromDay} problems={problems} />
      <TextField name="to" type="date" label="To" value={values.to || toDay} problems={problems} />
      {Object.entries(kept).map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <Button kind="quiet">Show</Button>
    </FieldRow>
  </form>
);
