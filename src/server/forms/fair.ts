import { randomUUID } from 'node:crypto';
import type { PaidHow } from '#core/fair/day-account.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { FairDayRow, FairRow } from '#db/stores/fair.ts';
import type { MissingWish } from '#flows/fair/book-missing.ts';
import type { FairDayView, KindAtTable } from '#flows/fair/read-day.ts';
import type { DayEntry, FairEntry } from '#flows/fair/save-fair.ts';
import type { PriceOfSold } from '#flows/fair/settle-sale.ts';
import type { KindToTake, TakeWish } from '#flows/fair/take-pairs.ts';
import type { TypedDay, TypedSales } from '#flows/fair/type-in-day.ts';
import { type FieldReader, type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { moneyForInput, numberForInput } from '#server/forms/numbers.ts';

const minutesInHour = 60;
const ways = ['cash', 'card', 'other'] as const satisfies readonly PaidHow[];
const mostPairs = 999;

/** A new token for a form that counts once, however often it is sent. */
export function newToken(): string {
  return randomUUID().replaceAll('-', '');
}

/** The token of a form; a form without a good one gets its own, and counts by itself. */
export function tokenOf(body: FormBody): string {
  return /^[0-9a-f]{32}$/.exec(textOf(body, 'token'))?.[0] ?? newToken();
}

function fairEntry(form: FieldReader, outletIds: readonly number[]): FairEntry {
  const outletId = form.optionalId('outlet', outletIds, { sentence: 'Choose the outlet whose prices you ask' });
  if (outletId === null && !form.problems.some(({ path }) => path === 'outlet')) {
    form.say('outlet', 'Choose the outlet whose prices you ask.');
  }
  return {
    name: form.text('name', { sentence: 'Enter what it is called, like Autumn market', most: 80 }),
    outletId: outletId ?? 0,
    feeCents:
      form.optionalMoney('fee', {
        sentence: 'Enter what the table costs for all its days, like 45, or leave it empty',
      }) ?? 0,
  };
}

function dayEntry(form: FieldReader): DayEntry {
  const hours = form.optionalNumber('hours', {
    sentence: 'Enter the hours you are open, like 6.5, or leave it empty',
    least: 0.1,
    most: 24,
  });
  return {
    day: form.day('day', { sentence: 'Choose the day' }),
    openMinutes: hours === null ? null : Math.max(1, roundHalfUp(hours * minutesInHour)),
    floatCents:
      form.optionalMoney('float', { sentence: 'Enter the change in the box in the morning, like 50, or 0' }) ?? 0,
  };
}

/** A new fair with its first day. */
export function readNewFair(
  body: FormBody,
  currency: string,
  outletIds: readonly number[],
): Result<FairEntry & DayEntry> {
  const form = readFields(body, currency);
  const entry = { ...fairEntry(form, outletIds), ...dayEntry(form) };
  return form.result(() => entry);
}

export function readFairForm(body: FormBody, currency: string, outletIds: readonly number[]): Result<FairEntry> {
  const form = readFields(body, currency);
  const entry = fairEntry(form, outletIds);
  return form.result(() => entry);
}

export function readDayForm(body: FormBody, currency: string): Result<DayEntry> {
  const form = readFields(body, currency);
  const entry = dayEntry(form);
  return form.result(() => entry);
}

export function fairValues(fair: FairRow, currency: string): FormValues {
  return {
    name: fair.name,
    outlet: String(fair.outletId),
    fee: moneyForInput(fair.feeCents, currency),
    version: String(fair.version),
  };
}

export function dayValues(day: FairDayRow, currency: string): FormValues {
  return {
    day: day.day,
    hours: day.openMinutes === null ? '' : numberForInput(day.openMinutes / minutesInHour, 2),
    float: moneyForInput(day.floatCents, currency),
    version: String(day.version),
  };
}

/** How many of each kind are taken along; an empty box is none. */
export function readTake(body: FormBody, kinds: readonly KindToTake[]): Result<TakeWish> {
  const form = readFields(body);
  const wish = new Map(
    kinds.map(({ key, pairIds }) => {
      const most = pairIds.length;
      const sentence = most === 1 ? 'Enter 1 to take it along, or 0' : `Enter how many you take along, 0 to ${most}`;
      return [key, form.optionalNumber(`take-${key}`, { sentence, least: 0, most, isWhole: true }) ?? 0];
    }),
  );
  return form.result(() => wish);
}

/** How many lines there are for what is not in the table of kinds. */
export const tallyLines = { bargained: 3, others: 2, asked: 3 } as const;

const indexes = (count: number) => Array.from({ length: count }, (_, index) => index);
const isEmptyBox = (body: FormBody, name: string) => textOf(body, name).trim() === '';

function countIn(form: FieldReader, name: string): number {
  const sentence = 'Enter how many were sold, like 2, or leave it empty';
  return form.optionalNumber(name, { sentence, least: 0, most: mostPairs, isWhole: true }) ?? 0;
}

function salesAtOnePrice(form: FieldReader, { key, listCents }: KindAtTable, isGiving: boolean): TypedSales[] {
  const [cash, card] = [countIn(form, `cash-${key}`), countIn(form, `card-${key}`)];
  const typed = form.optionalMoney(`price-${key}`, { sentence: 'Enter the price of one pair, like 45' });
  // Where slippers are given away no price is asked, and none is put in its place.
  const priceCents = typed ?? (isGiving ? 0 : listCents);
  const isFaulty = form.problems.some(({ path }) => path === `price-${key}`);
  if (cash + card > 0 && priceCents === null && !isFaulty) {
    form.say(`price-${key}`, 'Enter the price they were sold at, like 45.');
  }
  return [
    { how: 'cash' as const, count: cash, priceCents: priceCents ?? 0 },
    { how: 'card' as const, count: card, priceCents: priceCents ?? 0 },
  ].filter(({ count }) => count > 0);
}

function bargainedSales(
  form: FieldReader,
  body: FormBody,
  kinds: readonly KindAtTable[],
): readonly (TypedSales & { readonly key: string })[] {
  return indexes(tallyLines.bargained).flatMap((index) => {
    const name = (part: string) => `bargained-${part}-${index}`;
    const isBlank = ['kind', 'count', 'price'].every((part) => isEmptyBox(body, name(part)));
    if (isBlank) return [];
    const key = textOf(body, name('kind'));
    if (!kinds.some((kind) => kind.key === key)) form.say(name('kind'), 'Choose which pair was sold at another price.');
    const count = form.number(name('count'), {
      sentence: 'Enter how many were sold at this price, like 1',
      least: 1,
      most: mostPairs,
      isWhole: true,
    });
    const priceCents = form.money(name('price'), { sentence: 'Enter the price one was sold at, like 40' });
    const how = form.choice(name('how'), ways, { sentence: 'Choose cash or card' });
    return [{ key, how, count, priceCents }];
  });
}

function otherSales(form: FieldReader, body: FormBody): TypedDay['others'] {
  return indexes(tallyLines.others).flatMap((index) => {
    const name = (part: string) => `other-${part}-${index}`;
    if (isEmptyBox(body, name('what')) && isEmptyBox(body, name('price'))) return [];
    const what = form.text(name('what'), { sentence: 'Enter what was sold, like a grey pair, about 40', most: 120 });
    const priceCents = form.money(name('price'), { sentence: 'Enter what it was sold for, like 40' });
    const how = form.choice(name('how'), ways, { sentence: 'Choose cash or card' });
    return [{ what, how, priceCents }];
  });
}

/** The lines of what was asked for in vain: those there, and some more. */
export function askedLineCount(view: Pick<FairDayView, 'asked'>, body?: FormBody): number {
  const typed = indexes(40).filter((index) => body !== undefined && `asked-count-${index}` in body).length;
  return Math.min(40, Math.max(typed, view.asked.length + tallyLines.asked));
}

function askedWishes(form: FieldReader, body: FormBody, count: number): TypedDay['asked'] {
  return indexes(count).flatMap((index) => {
    const name = (part: string) => `asked-${part}-${index}`;
    if (['size', 'colour', 'count'].every((part) => isEmptyBox(body, name(part)))) return [];
    const size = form.optionalText(name('size'), 60);
    const colour = form.optionalText(name('colour'), 60);
    const often = form.optionalNumber(name('count'), {
      sentence: 'Enter how often it was asked for, like 1',
      least: 1,
      most: 9999,
      isWhole: true,
    });
    if (size === null && colour === null && form.problems.length === 0) {
      form.say(name('size'), 'Enter the size or the colour that was asked for.');
    }
    return [{ size, colour, count: often ?? 1 }];
  });
}

/** A day's tally as it was typed in. */
export function readTally(body: FormBody, view: FairDayView, currency: string, isGiving = false): Result<TypedDay> {
  const form = readFields(body, currency);
  const known = new Set(view.kinds.map(({ key }) => key));
  const isLost = ([name]: readonly [string, unknown]) => {
    const key = /^(?:cash|card|home)-(\d+)$/.exec(name)?.[1];
    return key !== undefined && !known.has(key) && !isEmptyBox(body, name);
  };
  if (Object.entries(body).some(isLost)) {
    form.say(
      '',
      'What came along was changed meanwhile, and one kind of pair is gone from the list. Look at it again.',
    );
  }
  const bargained = bargainedSales(form, body, view.kinds);
  const kinds = view.kinds.map((kind) => {
    const { key, counts } = kind;
    const sold = `${isEmptyBox(body, `cash-${key}`) && !isEmptyBox(body, `card-${key}`) ? 'card' : 'cash'}-${key}`;
    const sales = salesAtOnePrice(form, kind, isGiving);
    const atAnother = bargained.filter((sale) => sale.key === key);
    const home = form.optionalNumber(`home-${key}`, {
      sentence: `Enter how many came home, 0 to ${counts.taken}, or leave it empty`,
      least: 0,
      most: counts.taken,
      isWhole: true,
    });
    return { kind, sales: [...sales, ...atAnother], home, paths: { sold, home: `home-${key}` } };
  });
  const entry: TypedDay = {
    token: tokenOf(body),
    version: form.version(),
    kinds,
    others: otherSales(form, body),
    asked: askedWishes(form, body, askedLineCount(view, body)),
    cashCents: form.optionalMoney('cash', {
      sentence: 'Enter what is in the cash box, like 312.50, or leave it empty',
    }),
  };
  return form.result(() => entry);
}

/** The tally's boxes for a day as it stands: counts and wishes are shown, sales are typed anew. */
export function tallyValues(view: FairDayView, currency: string): FormValues {
  return {
    ...Object.fromEntries(
      view.kinds.flatMap(({ key, counts, listCents }) => [
        [`home-${key}`, counts.home === null ? '' : String(counts.home)],
        [`price-${key}`, moneyForInput(listCents, currency)],
      ]),
    ),
    ...Object.fromEntries(
      view.asked.flatMap(({ size, colour, count }, index) => [
        [`asked-size-${index}`, size ?? ''],
        [`asked-colour-${index}`, colour ?? ''],
        [`asked-count-${index}`, String(count)],
      ]),
    ),
    cash: moneyForInput(view.day.cashCents, currency),
    version: String(view.day.version),
  };
}

const fates = ['cash', 'card', 'other', 'lost'] as const;

/** What became of missing pairs; kinds left open stay open. */
export function readMissing(body: FormBody, view: FairDayView, currency: string): Result<readonly MissingWish[]> {
  const form = readFields(body, currency);
  const wishes = view.kinds
    .filter(({ missing }) => missing > 0)
    .flatMap((kind): MissingWish[] => {
      if (isEmptyBox(body, `became-${kind.key}`)) return [];
      const became = form.choice(`became-${kind.key}`, fates, { sentence: 'Choose what became of them' });
      if (became === 'lost') return [{ kind, became, priceCents: 0 }];
      const priceCents = form.money(`missed-price-${kind.key}`, { sentence: 'Enter the price of one pair, like 45' });
      return [{ kind, became, priceCents }];
    });
  if (wishes.length === 0 && form.problems.length === 0) {
    const first = view.kinds.find(({ missing }) => missing > 0);
    form.say(`became-${first?.key ?? ''}`, 'Choose what became of the missing pairs.');
  }
  return form.result(() => wishes);
}

/** Which pair a sale was of. */
export function readPairChoice(body: FormBody, pairIds: readonly number[], name: string): Result<number> {
  const form = readFields(body);
  const id = form.optionalId(name, pairIds, { sentence: 'Choose the pair' });
  if (id === null && form.problems.length === 0) form.say(name, 'Choose the pair that was sold.');
  return form.result(() => id ?? 0);
}

/** Why no pair belongs to a sale. */
export function readWhy(body: FormBody, name: string): Result<string> {
  const form = readFields(body);
  const why = form.text(name, { sentence: 'Say why no pair belongs to it, like knitted by a friend', most: 200 });
  return form.result(() => why);
}

/** What a pair brought that was marked as sold. */
export function readPriceOfSold(
  body: FormBody,
  currency: string,
  outletIds: readonly number[],
  names: { readonly price: string; readonly how: string; readonly outlet: string; readonly day: string },
): Result<PriceOfSold> {
  const form = readFields(body, currency);
  const priceCents = form.money(names.price, { sentence: 'Enter what it was sold for, like 45' });
  const how = form.choice(names.how, ways, { sentence: 'Choose how it was paid' });
  const outletId = form.optionalId(names.outlet, outletIds, { sentence: 'Choose where it was sold' });
  const day: Day = form.day(names.day, { sentence: 'Choose the day it was sold' });
  if (outletId === null && form.problems.length === 0) form.say(names.outlet, 'Choose where it was sold.');
  return form.result(() => ({ priceCents, how, outletId: outletId ?? 0, day }));
}
