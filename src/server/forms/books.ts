import type { Day } from '#core/shared/calendar.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { Period } from '#flows/books/read-books.ts';
import { readFields } from '#server/forms/fields.ts';

/** Periods that are asked for most, by their words. */
export function usualPeriods(today: Day): readonly (Period & { readonly words: string })[] {
  const [year, month] = [Number(today.slice(0, 4)), Number(today.slice(5, 7))];
  const ofMonth = (name: string, y: number, m: number) => {
    const start = `${y}-${String(m).padStart(2, '0')}`;
    const last = new Date(Date.UTC(y, m, 0)).getUTCDate();
    return { words: name, fromDay: `${start}-01`, toDay: `${start}-${last}` };
  };
  const ofYear = (name: string, y: number) => ({ words: name, fromDay: `${y}-01-01`, toDay: `${y}-12-31` });
  return [
    ofMonth('this month', year, month),
    month === 1 ? ofMonth('last month', year - 1, 12) : ofMonth('last month', year, month - 1),
    ofYear('this year', year),
    ofYear('last year', year - 1),
  ];
}

const mostYears = 20;

/** The period in an address, from and to; this year when there is none, and a problem when it is none. */
export function readPeriod(
  query: Readonly<Record<string, string>>,
  today: Day,
): Period & { readonly problems: readonly Problem[] } {
  const thisYear = usualPeriods(today)[2]!;
  const form = readFields(query);
  const from = form.optionalDay('from', { sentence: 'Choose the first day of the period' });
  const to = form.optionalDay('to', { sentence: 'Choose the last day of the period' });
  const [fromDay, toDay] = [from ?? thisYear.fromDay, to ?? thisYear.toDay];
  if (form.problems.length === 0 && toDay < fromDay)
    form.say('to', 'The last day comes before the first: choose a later one.');
  if (form.problems.length === 0 && Number(toDay.slice(0, 4)) - Number(fromDay.slice(0, 4)) > mostYears) {
    form.say('to', `Choose a period of at most ${mostYears} years.`);
  }
  const isGood = form.problems.length === 0;
  return isGood
    ? { fromDay, toDay, problems: [] }
    : { fromDay: thisYear.fromDay, toDay: thisYear.toDay, problems: form.problems };
}
