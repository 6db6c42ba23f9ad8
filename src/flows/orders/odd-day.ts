import { addDays, type Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';

/** What is asked about, and what says that it is right. */
export type OddValue = Pick<Problem, 'code' | 'message'> & { readonly yes: string };

/** Years that an order may be of: anything else is a slip of the keys. Our own choice. */
export const orderYears = { from: '2000', before: '2100' } as const;

/** Orders are planned for this season or the next; a day further off is most likely a slip of the year. Our own choice. */
const farOffDays = 2 * 365;

/** What is odd about a day to come: it has passed, or it is far off; null where it is neither. */
export function oddDay(day: Day, today: Day): OddValue | null {
  const words = formatDay(day);
  if (day < today) return { code: 'dayPast', message: `${words} has passed. Is the day right?`, yes: `Yes, ${words}` };
  if (day > addDays(today, farOffDays)) {
    return {
      code: 'dayFarOff',
      message: `${words} is more than two years away. Is the year right?`,
      yes: `Yes, ${words}`,
    };
  }
  return null;
}

/** What is odd about a day that has been: it was long ago; null where it was not. */
export function oddPastDay(day: Day, today: Day): OddValue | null {
  if (day >= addDays(today, -farOffDays)) return null;
  const words = formatDay(day);
  return {
    code: 'dayLongAgo',
    message: `${words} is more than two years ago. Is the year right?`,
    yes: `Yes, ${words}`,
  };
}

/** Why an order cannot be there on a day; null where it can. */
export function arrivalProblem(dueDay: Day | null, arriveByDay: Day | null): string | null {
  if (dueDay === null || arriveByDay === null || arriveByDay >= dueDay) return null;
  return `It is due on ${formatDay(dueDay)} and cannot be there before. Enter that day or a later one, or change the due day.`;
}
