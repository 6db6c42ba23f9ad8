import type { Day } from '#core/shared/calendar.ts';
import { oddDay, oddPastDay, orderYears } from '#flows/orders/odd-day.ts';
import type { FieldReader } from '#server/forms/fields.ts';

type DayWish = {
  readonly sentence: string;
  readonly today: Day;
  /** The day as it is stored: nobody is asked about it again. */
  readonly was?: Day | null;
};

/** A day to come, if any. One that has passed, or is far off, is asked about. */
export function readDayAhead(reader: FieldReader, name: string, { sentence, today, was }: DayWish): Day | null {
  const before = reader.problems.length;
  const day = reader.optionalDay(name, { sentence: `${sentence}, or leave it empty`, today });
  if (day === null || reader.problems.length > before) return day;
  const { from, before: end } = orderYears;
  const odd = day === was ? null : oddDay(day, today);
  if (day < from || day >= end) {
    reader.say(name, `Enter a day after the year ${from} and before ${end}, or leave it empty.`);
  } else if (odd) {
    reader.ask({ ...odd, path: name });
  }
  return day;
}

/** A day on which something happened: not one to come; one long ago is asked about. */
export function readPastDay(reader: FieldReader, name: string, { sentence, today }: DayWish): Day {
  const before = reader.problems.length;
  const day = reader.day(name, { sentence, today });
  if (reader.problems.length > before) return day;
  const odd = oddPastDay(day, today);
  if (day > today) reader.say(name, 'That day is still to come. Enter today, or a day before it.');
  else if (day < orderYears.from) reader.say(name, `Enter a day after the year ${orderYears.from}.`);
  else if (odd) reader.ask({ ...odd, path: name });
  return day;
}
