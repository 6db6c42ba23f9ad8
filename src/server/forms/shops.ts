import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { CountEntry, PlacingEntry } from '#flows/pricing/placements.ts';
import { type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { moneyForInput } from '#server/forms/numbers.ts';

function versionIn(body: FormBody, name: string): number | undefined {
  const text = textOf(body, name).trim();
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

/** Which finished pairs go to the shop, each at its price. A price that is not ticked is not read. */
export function readPlacingForm(body: FormBody, currency: string, pairIds: readonly number[]): Result<PlacingEntry> {
  const form = readFields(body, currency);
  const day = form.day('day', { sentence: 'Choose the day they are placed' });
  const chosen = pairIds.filter((id) => form.check(`place-${id}`));
  if (chosen.length === 0) form.say(`place-${pairIds[0] ?? ''}`, 'Tick at least one pair to place.');
  const pairs = chosen.map((pairId) => ({
    pairId,
    priceCents: form.money(`price-${pairId}`, { sentence: 'Enter the price in the shop, like 45' }),
    version: versionIn(body, `version-${pairId}`),
  }));
  return form.result(() => ({ day, pairs }));
}

const outcomes = ['still', 'sold', 'back'] as const;

/** What became of each pair in the shop; those still there are left alone. */
export function readCountForm(
  body: FormBody,
  placements: readonly { readonly placementId: number; readonly placedDay: Day }[],
): Result<CountEntry> {
  const form = readFields(body);
  const day = form.day('countDay', { sentence: 'Choose the day you counted' });
  const pairs = placements.flatMap(({ placementId, placedDay }) => {
    const name = `what-${placementId}`;
    // A pair that was placed after the page was drawn is still there.
    if (textOf(body, name) === '') return [];
    const what = form.choice(name, outcomes, { sentence: 'Choose what became of it' });
    if (what === 'still') return [];
    if (form.problems.length === 0 && day < placedDay) form.say('countDay', 'Choose a day after it was placed.');
    return [{ placementId, what, version: versionIn(body, `version-${placementId}`) }];
  });
  if (pairs.length === 0 && form.problems.length === 0) {
    form.say(`what-${placements[0]?.placementId ?? ''}`, 'Say of at least one pair that it was sold or came back.');
  }
  return form.result(() => ({ day, pairs }));
}

/** What a shop paid. */
export function readShopPaymentForm(body: FormBody, currency: string): Result<{ day: Day; cents: number }> {
  const form = readFields(body, currency);
  const entry = {
    day: form.day('paidDay', { sentence: 'Choose the day it was paid' }),
    cents: form.money('paid', { sentence: 'Enter what the shop paid, like 58.50', least: 1 }),
  };
  return form.result(() => entry);
}

/** Boxes of the prices, as they are suggested. */
export function placingValues(
  pairs: readonly { readonly pairId: number; readonly priceCents: number | null }[],
  currency: string,
): FormValues {
  return Object.fromEntries(
    pairs.map(({ pairId, priceCents }) => [`price-${pairId}`, moneyForInput(priceCents, currency)]),
  );
}
