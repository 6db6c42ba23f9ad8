import type { PaymentKind, PaymentWay } from '#core/pricing/order-money.ts';
import { postageOf } from '#core/pricing/postage.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatCents } from '#core/shared/format.ts';
import { measureForInput, type UnitSystem } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import type { PostageBandRow } from '#db/stores/pricing.ts';
import type { PaidChoice } from '#flows/orders/cancel-order.ts';
import type { ExtraEntry } from '#flows/orders/extras.ts';
import type { Destination } from '#flows/orders/parcel.ts';
import type { PaymentEntry } from '#flows/orders/payments.ts';
import type { BandEntry, PostageEntry, PostedEntry } from '#flows/orders/postage.ts';
import { readPastDay } from '#server/forms/days.ts';
import { type FieldReader, type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { moneyForInput, numberForInput } from '#server/forms/numbers.ts';
import { type OwnOrder, readArrival } from '#server/forms/orders.ts';

const ways: readonly PaymentWay[] = ['cash', 'card', 'transfer', 'other'];
const kinds: readonly PaymentKind[] = ['deposit', 'balance', 'returned'];

/** What was shown when a payment was typed: the last payment, and what the order came to. */
export type Seen = { readonly lastPaymentId: number; readonly totalCents: number };

export function readSeenMoney(body: FormBody): Seen | null {
  const match = /^(\d{1,15})\/(-?\d{1,15})$/.exec(textOf(body, 'seen'));
  return match ? { lastPaymentId: Number(match[1]), totalCents: Number(match[2]) } : null;
}

/** What an order should still bring, by the way it is paid. */
export type Owed = { readonly cents: number; readonly inCashCents: number };

/** More than so many times what is owed is most likely a slip of the keys. Our own choice. */
const farTooMuch = 10;

function askAboutAmount(reader: FieldReader, { cents, how, kind }: PaymentEntry, owed: Owed, currency: string): void {
  const dueCents = Math.max(0, how === 'cash' ? owed.inCashCents : owed.cents);
  if (kind === 'returned' || cents <= dueCents) return;
  const [typed, due, more] = [cents, dueCents, cents - dueCents].map((each) => formatCents(each, currency));
  const message =
    dueCents === 0
      ? `Nothing is owed any more. If ${typed} came all the same, it is to go back; for a tip, add it as an extra first.`
      : cents > farTooMuch * dueCents
        ? `${typed} is more than ${farTooMuch} times the ${due} that is owed. Is it a slip of the keys?`
        : `${typed} is ${more} more than the ${due} that is owed. If it is right, ${more} is to go back; for a tip, add it as an extra first.`;
  reader.ask({
    ...{ code: 'paidTooMuch', path: 'amount', message },
    yes: `Yes, they paid ${typed}`,
    about: `${cents}/${dueCents}`,
  });
}

/** Money that changed hands. @param owed null where nobody can say: a pair has no price, or somebody paid meanwhile */
export function readPaymentForm(body: FormBody, currency: string, today: Day, owed: Owed | null): Result<PaymentEntry> {
  const reader = readFields(body, currency);
  const cents = reader.money('amount', { sentence: 'Enter the amount that changed hands, like 13.00', least: 1 });
  const day = readPastDay(reader, 'day', { sentence: 'Enter the day it was paid, like 2026-12-04', today });
  const how = reader.choice('how', ways, { sentence: 'Choose cash, card, transfer or other' });
  const kind = reader.choice('kind', kinds, { sentence: 'Choose a deposit, a balance or money given back' });
  if (owed && !reader.problems.some(({ path }) => path === 'amount')) {
    askAboutAmount(reader, { cents, day, how, kind }, owed, currency);
  }
  return reader.result(() => ({ cents, day, how, kind }));
}

/** Something added to an order, or to the usual extras. Minutes and material may be left empty. */
export function readExtraForm(body: FormBody, currency: string): Result<ExtraEntry> {
  const reader = readFields(body, currency);
  const name = reader.text('name', { sentence: 'Enter what it is, like Gift wrap', most: 80 });
  const cents = reader.money('price', { sentence: 'Enter what it costs the customer, like 2.50, or 0' });
  const minutes = reader.optionalNumber('minutes', {
    sentence: 'Enter the minutes it takes, like 10, or leave it empty',
    least: 0,
    most: 10_000,
    isWhole: true,
  });
  const materialCents = reader.optionalMoney('material', {
    sentence: 'Enter what it is made of costs you, like 0.60, or leave it empty',
  });
  return reader.result(() => ({ name, cents, minutes: minutes ?? 0, materialCents: materialCents ?? 0 }));
}

export function extraValues(
  row: { readonly name: string; readonly cents: number; readonly minutes: number; readonly materialCents: number } & {
    readonly version: number;
  },
  currency: string,
): FormValues {
  return {
    name: row.name,
    price: moneyForInput(row.cents, currency),
    minutes: numberForInput(row.minutes),
    material: moneyForInput(row.materialCents, currency),
    version: String(row.version),
  };
}

/** The usual extra that a button stands for; null when none was pressed. */
export function usualIdIn(body: FormBody): number | null {
  const text = textOf(body, 'usual');
  return /^[1-9]\d{0,14}$/.test(text) ? Number(text) : null;
}

/** The least amount of days and the most that a parcel may be in the post. */
const postDaysRange = { least: 0, most: 365, isWhole: true } as const;

/**
 * How an order goes: not by post, to a destination at what its parcel costs there, or at a price typed by hand.
 *
 * @param destinations with what the order's parcel costs to each
 */
export function readPostageForm(
  body: FormBody,
  currency: string,
  destinations: readonly Destination[],
  own: OwnOrder,
  today: Day,
): Result<PostageEntry> {
  const reader = readFields(body, currency);
  const chosen = textOf(body, 'band');
  const destination = destinations.find((each) => String(each.bandId) === chosen);
  const arriveByDay = readArrival(reader, own.dueDay, own, today);
  const address = reader.optionalText('address', 1000);
  const post = { postageCents: null as number | null, postDays: null as number | null };
  if (destination?.parcels) {
    const { cents, days } = postageOf(destination.parcels);
    Object.assign(post, { postageCents: cents, postDays: days });
  } else if (destination) {
    reader.say('band', destination.problem ?? 'Choose another way, or enter the postage by hand.');
  } else if (chosen === 'hand') {
    post.postageCents = reader.money('postage', { sentence: 'Enter the postage, like 4.95, or 0' });
    post.postDays = reader.optionalNumber('days', { sentence: 'Enter the days in the post, like 3', ...postDaysRange });
  } else if (chosen !== 'none') {
    reader.say('band', 'Choose where it goes, another price, or that it is not posted.');
  }
  return reader.result(() => ({ ...post, arriveByDay, address }));
}

/** That an order was posted. */
export function readPostedForm(body: FormBody, today: Day): Result<PostedEntry> {
  const reader = readFields(body);
  const day = readPastDay(reader, 'day', { sentence: 'Enter the day it was posted, like 2026-12-17', today });
  return reader.result(() => ({ day, isInPart: reader.check('inPart') }));
}

/** The prices of a pair of lines that have none agreed yet. */
export function readPricesForm(
  body: FormBody,
  currency: string,
  lineIds: readonly number[],
): Result<readonly { readonly lineId: number; readonly cents: number; readonly version: number | undefined }[]> {
  const reader = readFields(body, currency);
  const prices = lineIds.map((lineId) => ({
    lineId,
    cents: reader.money(`price-${lineId}`, { sentence: 'Enter the price of one pair, like 44.00' }),
    version: versionOf(textOf(body, `version-${lineId}`)),
  }));
  return reader.result(() => prices);
}

function versionOf(text: string): number | undefined {
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined;
}

/** What becomes of the money paid for an order that is cancelled; null when nobody said. */
export function readPaidChoice(body: FormBody): PaidChoice | null {
  const paid = textOf(body, 'paid');
  if (paid === 'kept') return { paid };
  if (paid !== 'returned') return null;
  return { paid, how: ways.find((way) => way === textOf(body, 'how')) ?? 'other' };
}

/** What the post asks up to a weight. @param was the weight as stored, kept when its box is left as it was shown */
export function readBandForm(
  body: FormBody,
  currency: string,
  unitSystem: UnitSystem,
  was?: number,
): Result<BandEntry> {
  const reader = readFields(body, currency, unitSystem);
  const name = reader.text('name', { sentence: 'Enter where it goes, like Inland', most: 80 });
  const upToG = reader.measure('upTo', 'massG', {
    sentence: {
      metric: 'Enter the grams up to which the price holds, like 1000',
      imperial: 'Enter the ounces up to which the price holds, like 16',
    },
    least: 1,
    most: 100_000,
    was,
  });
  const cents = reader.money('price', { sentence: 'Enter what the post asks, like 4.95' });
  const days = reader.number('days', { sentence: 'Enter the days in the post, like 3', ...postDaysRange });
  return reader.result(() => ({ name, upToG, cents, days }));
}

/** A price of the post as its form shows it. */
export function bandValues(row: PostageBandRow, currency: string, units: UnitSystem): FormValues {
  return {
    name: row.name,
    upTo: measureForInput(row.upToG, 'massG', units),
    price: moneyForInput(row.cents, currency),
    days: String(row.days),
    units,
    version: String(row.version),
  };
}
