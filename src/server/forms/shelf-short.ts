import type { ShortAnswer } from '#flows/shelf/short-pairs.ts';
import { type FormBody, textOf } from '#server/forms/fields.ts';

const mostPairs = 1000;

/** The pairs that a form or an address speaks of: "3 7". */
export function pairIdsIn(text: string): readonly number[] {
  return [...new Set(text.split(/\D+/).filter((id) => /^\d{1,15}$/.test(id)))].slice(0, mostPairs).map(Number);
}

/** What becomes of pairs that would lack yarn; null where the form was not asked, or gives no answer. */
export function parseShort(body: FormBody): ShortAnswer {
  const answer = textOf(body, 'short');
  if (answer !== 'back' && answer !== 'leave') return null;
  return { pairIds: pairIdsIn(textOf(body, 'shortPairs')), isGivenBack: answer === 'back' };
}
