import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { PostageBandRow } from '#db/stores/pricing.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import type { KnownNames, KnownOutlet } from '#flows/orders/known-names.ts';
import { oddDay, orderYears } from '#flows/orders/odd-day.ts';
import type { ParcelView } from '#flows/orders/parcel.ts';
import type { PostWish } from '#flows/orders/quote-post.ts';
import type { OrderView } from '#flows/orders/read-orders.ts';
import type { QuoteDetails, QuoteEntry } from '#flows/orders/save-quote.ts';
import { usualOutletOf } from '#flows/orders/usual-outlet.ts';
import { readDayAhead } from '#server/forms/days.ts';
import { type FieldReader, type FormBody, type FormValues, readFields } from '#server/forms/fields.ts';
import { moneyForInput } from '#server/forms/numbers.ts';
import { finish, type OwnOrder, readLineFields, readOutletChoice } from '#server/forms/orders.ts';

/** What the form of a quote may choose from, beside the names of every order. */
export type QuoteFormSource = {
  readonly known: KnownNames;
  readonly postageBands: readonly PostageBandRow[];
  /** The quote as it is stored; null for a new one. */
  readonly own: OwnOrder | null;
  readonly today: Day;
};

/** Outlets that a quote is given for: a gift has no price. */
export function quoteOutlets({ outlets }: KnownNames): readonly KnownOutlet[] {
  return outlets.filter((outlet) => outlet.kind !== 'gift');
}

/** Parts of the world that the post has prices for. */
export function destinationsOf(bands: readonly Pick<PostageBandRow, 'name'>[]): readonly string[] {
  return [...new Set(bands.map((band) => band.name))];
}

/** How a destination is named in the form: by its place, since a name may be anything. */
const destinationValue = (index: number) => `to-${index}`;

function readPost(reader: FieldReader, bands: readonly PostageBandRow[]): PostWish | null {
  const destinations = destinationsOf(bands);
  const choices = ['no', 'typed', ...destinations.map((_, index) => destinationValue(index))];
  const way = reader.choice('post', choices, { sentence: 'Choose how it goes' });
  const cents = reader.optionalMoney('postage', { sentence: 'Enter what the post costs, like 4.95' });
  const days = reader.optionalNumber('postDays', {
    sentence: 'Enter the days in the post as a whole number, like 3',
    least: 0,
    most: 365,
    isWhole: true,
  });
  if (way === 'no') return null;
  const index = choices.indexOf(way) - 2;
  return { destination: destinations[index] ?? null, cents, days };
}

function readDetails(reader: FieldReader, source: QuoteFormSource): () => QuoteDetails {
  const { known, postageBands, own, today } = source;
  const outletId = readOutletChoice(reader, quoteOutlets(known), own?.outletId ?? null);
  const customerName = reader.optionalText('customer');
  const contact = reader.optionalText('contact', 1000);
  if (customerName === null && contact !== null) {
    reader.say('customer', 'Enter a name to go with the address, or leave both empty.');
  }
  const wish = {
    sentence: 'Enter the day they wish for, like 2026-12-04',
    today,
    was: own?.row.arriveByDay ?? own?.dueDay ?? null,
  };
  const wishedDay = readDayAhead(reader, 'due', wish);
  const post = readPost(reader, postageBands);
  const depositCents = reader.optionalMoney('deposit', { sentence: 'Enter the deposit, like 15, or leave it empty' });
  const validUntilDay = reader.optionalDay('validUntil', {
    sentence: 'Enter the last day it is good, like 2026-12-04, or leave it empty',
    today,
  });
  if (validUntilDay !== null && !reader.problems.some(({ path }) => path === 'validUntil')) {
    const days = `${known.settings.quoteDays} days`;
    const passed = `That day has passed. Enter one from today on, or leave it empty for ${days} from today.`;
    const odd = oddDay(validUntilDay, today);
    if (validUntilDay < today) reader.say('validUntil', passed);
    else if (validUntilDay >= orderYears.before)
      reader.say('validUntil', `Enter a day before the year ${orderYears.before}.`);
    else if (odd) reader.ask({ ...odd, path: 'validUntil' });
  }
  const holds = reader.check('holds');
  const remarks = reader.optionalText('remarks', 2000);
  return () => ({
    ...{ customerName, contact, outletId: outletId!, wishedDay, post, depositCents, validUntilDay, holds, remarks },
  });
}

/** Reads the form of a new quote: its first line and its details. */
export function parseNewQuote(
  body: FormBody,
  source: QuoteFormSource,
  like: LineEntry | null,
  more: readonly LineEntry[],
): Result<QuoteEntry> {
  const { currency, unitSystem } = source.known.settings;
  const reader = readFields(body, currency, unitSystem);
  const line = readLineFields(reader, source.known, like);
  const details = readDetails(reader, source);
  return finish(reader, () => ({ ...details(), lines: [line!(), ...more] }), line !== null);
}

export function parseQuoteDetails(body: FormBody, source: QuoteFormSource): Result<QuoteDetails> {
  const { currency, unitSystem } = source.known.settings;
  const reader = readFields(body, currency, unitSystem);
  return finish(reader, readDetails(reader, source), true);
}

/** The field of the price of a line's pairs. */
export function priceField(lineId: number): string {
  return `price-${lineId}`;
}

/** Prices by line and the deposit; null where a box is left empty. */
export function parseQuotePrices(
  body: FormBody,
  currency: string,
  lineIds: readonly number[],
): Result<{ readonly prices: ReadonlyMap<number, number | null>; readonly depositCents: number | null }> {
  const reader = readFields(body, currency);
  const prices = new Map(
    lineIds.map((lineId) => [
      lineId,
      reader.optionalMoney(priceField(lineId), { sentence: 'Enter the price of one pair, like 32.50' }),
    ]),
  );
  const depositCents = reader.optionalMoney('deposit', { sentence: 'Enter the deposit, like 15, or leave it empty' });
  return finish(reader, () => ({ prices, depositCents }), true);
}

/** What the form of a new quote begins with. */
export function valuesForNewQuote(known: KnownNames): FormValues {
  const outlets = quoteOutlets(known);
  const usual = outlets.find((outlet) => outlet.kind === 'order') ?? usualOutletOf({ ...known, outlets }, 'order');
  return {
    outlet: String(usual?.id ?? ''),
    ...{ customer: '', contact: '', due: '', post: 'no', postage: '', postDays: '' },
    ...{ deposit: '', validUntil: '', holds: 'yes', remarks: '' },
  };
}

/**
 * A stored quote as its form would send it; the deposit only where it is not the outlet's share, and the last day only
 * while it has not passed.
 */
export function valuesOfQuote(
  order: OrderView,
  contact: string | null,
  ownDepositCents: number | null,
  { settings, today }: { readonly settings: { readonly currency: string }; readonly today: Day },
  way: { readonly parcel: ParcelView; readonly destinations: readonly string[] },
): FormValues {
  const { currency } = settings;
  const { dueDay, arriveByDay, postageCents, postDays, validUntilDay, holds, remarks } = order.row;
  const isPosted = postageCents !== null || postDays !== null;
  // What is stored is a price and its days: where a destination asks just that, it is the one.
  const same = way.parcel.destinations.find(
    (each) => each.parcels && each.cents === postageCents && each.days === postDays,
  );
  const typed = same
    ? { post: destinationValue(way.destinations.indexOf(same.name)), postage: '', postDays: '' }
    : {
        post: isPosted ? 'typed' : 'no',
        postage: moneyForInput(postageCents, currency),
        postDays: postDays === null ? '' : String(postDays),
      };
  return {
    outlet: String(order.outletId),
    customer: order.customerName ?? '',
    contact: contact ?? '',
    due: arriveByDay ?? dueDay ?? '',
    ...typed,
    deposit: moneyForInput(ownDepositCents, currency),
    validUntil: validUntilDay !== null && validUntilDay >= today ? validUntilDay : '',
    holds: holds ? 'yes' : '',
    remarks: remarks ?? '',
  };
}
