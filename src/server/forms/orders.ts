import type { CuffWish } from '#core/batch/kinds.ts';
import { type Day, isDay } from '#core/shared/calendar.ts';
import { measureForInput } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Fit } from '#core/sizing/foot.ts';
import type { LineEntry, OrderDetails, PostDetails } from '#flows/orders/entries.ts';
import { type KnownNames, type KnownStyle, turnedDownMm } from '#flows/orders/known-names.ts';
import type { LastUsed } from '#flows/orders/last-used.ts';
import { lengthMmFrom, usualUnit } from '#flows/orders/lengths.ts';
import { type ChosenColour, coloursOf, cuffRangeMm, lineEntryOf } from '#flows/orders/line-entry.ts';
import { arrivalProblem } from '#flows/orders/odd-day.ts';
import { usualOutletOf } from '#flows/orders/usual-outlet.ts';
import { readDayAhead } from '#server/forms/days.ts';
import { type FieldReader, type FormBody, type FormValues, readFields } from '#server/forms/fields.ts';
import { moneyForInput } from '#server/forms/numbers.ts';
import { footOfSize, readSize, valuesOfSize } from '#server/forms/orders-size.ts';

export const cuffChoices = ['short', 'turned down', 'none', 'height'] as const;
export const fits: readonly Fit[] = ['snug', 'usual', 'roomy'];
const states = ['asked', 'agreed'] as const;

/** The field of a role's colour. */
export function colourField(role: string): string {
  return `colour-${role}`;
}

/** The field of the colour held together with a role's. */
export function heldWithField(role: string): string {
  return `with-${role}`;
}

/** The roles that forms ask a colour for: those of every style, each once, the main one of the style used last leading. */
export function rolesOf(known: KnownNames): readonly { readonly name: string; readonly words: string }[] {
  const roles = known.styles.flatMap((style) => style.roles);
  return roles.filter((role, index) => roles.findIndex((each) => each.name === role.name) === index);
}

/** The style of a line or of a whole grid; the one used last where none is sent. */
export function readStyleChoice(reader: FieldReader, known: KnownNames): KnownStyle | null {
  const ids = known.styles.map((style) => style.id);
  const id = reader.optionalId('style', ids, { sentence: 'Choose one of your styles' });
  const style = id === null ? known.styles[0] : known.styles.find((each) => each.id === id);
  if (!style && known.styles.length === 0)
    reader.say('style', 'There is no style yet. Add one under Styles and sizes.');
  return style ?? null;
}

/**
 * Colours as they were in a line that the form was filled in from: three strands of several colours, for which the form
 * has no fields, stay while the first of them does.
 */
function keepStrands(colours: LineEntry['colours'], style: KnownStyle, like: LineEntry | null): LineEntry['colours'] {
  if (like?.styleId !== style.id) return colours;
  return style.roles.flatMap(({ name: role }) => {
    const now = colours.filter((colour) => colour.role === role);
    const before = like.colours.filter((colour) => colour.role === role);
    const isSame = isBeyondForm(before) && now[0]?.yarnColourId === before[0]?.yarnColourId;
    return isSame ? before : now;
  });
}

/** More than a strand of each of two colours. */
function isBeyondForm(colours: LineEntry['colours']): boolean {
  return colours.length > 2 && new Set(colours.map((colour) => colour.yarnColourId)).size > 1;
}

function readColours(
  reader: FieldReader,
  style: KnownStyle,
  known: KnownNames,
  like: LineEntry | null,
): LineEntry['colours'] {
  const ids = known.colours.map((colour) => colour.id);
  const chosen = new Map<string, ChosenColour>();
  for (const role of style.roles) {
    const sentence = `Choose a colour for the ${role.words.toLowerCase()}`;
    const id = reader.optionalId(colourField(role.name), ids, { sentence });
    const colour = known.colours.find((each) => each.id === id);
    const withId = reader.optionalId(heldWithField(role.name), ids, {
      sentence: 'Choose what is held together with it, or nothing else',
    });
    const heldWith = known.colours.find((each) => each.id === withId) ?? null;
    if (colour) chosen.set(role.name, { ...colour, heldWith });
    else if (heldWith !== null && id === null) {
      reader.say(heldWithField(role.name), `Choose a colour for the ${role.words.toLowerCase()} first, then this one.`);
    }
  }
  const { colours, missing } = coloursOf(style, chosen);
  if (missing !== null && !reader.problems.some((problem) => problem.path === colourField(missing))) {
    const words = style.roles.find((role) => role.name === missing)?.words.toLowerCase() ?? 'slipper';
    reader.say(colourField(missing), `Choose a colour for the ${words}.`);
  }
  return keepStrands(colours, style, like);
}

/** The cuff of a line or of a whole grid. */
export function readCuff(reader: FieldReader): CuffWish | number {
  const cuff = reader.choice('cuff', cuffChoices, { sentence: 'Choose a cuff' });
  if (cuff !== 'height') return cuff;
  const unit = reader.units === 'imperial' ? 'in' : 'cm';
  const like = unit === 'in' ? '2 1/2 in' : '6 cm';
  const text = reader.optionalText('cuffHeight', 20);
  const heightMm = text === null ? null : lengthMmFrom(text, unit);
  if (heightMm === null || heightMm < cuffRangeMm.least || heightMm > cuffRangeMm.most) {
    const range = unit === 'in' ? '0.4 to 11.8 in' : '1 to 30 cm';
    reader.say('cuffHeight', `Enter the height of the cuff from ${range}, like ${like}.`);
    return 'short';
  }
  return heightMm;
}

export function readFit(reader: FieldReader): Fit {
  return reader.choice('fit', fits, { sentence: 'Choose snug, usual or roomy' });
}

/** The fields of one line; what is read is made once nothing is wrong. */
export function readLineFields(
  reader: FieldReader,
  known: KnownNames,
  like: LineEntry | null,
): (() => LineEntry) | null {
  const style = readStyleChoice(reader, known);
  const foot = readSize(reader, known);
  const colours = style ? readColours(reader, style, known, like) : [];
  const quantity = reader.number('quantity', {
    sentence: 'Enter how many pairs, like 1',
    least: 1,
    most: 999,
    isWhole: true,
  });
  const cuff = style?.hasCuff === false ? 'none' : readCuff(reader);
  const fit = readFit(reader);
  const agreedCents = reader.optionalMoney('agreed', { sentence: 'Enter the price of one pair, like 32.50' });
  const knitterIds = known.knitters.map(({ id }) => id);
  const knitterId = reader.optionalId('lineKnitter', knitterIds, {
    sentence: 'Choose one of your knitters, or whoever has time',
  });
  if (!style || !foot) return null;
  return () => lineEntryOf({ style, foot, fit, cuff, quantity, agreedCents, knitterId, colours });
}

/** One of the outlets that may be chosen, or the one there already. */
export function readOutletChoice(
  reader: FieldReader,
  outlets: KnownNames['outlets'],
  ownOutletId: number | null,
): number | null {
  const ids = [...outlets.map((outlet) => outlet.id), ...(ownOutletId === null ? [] : [ownOutletId])];
  const outletId = reader.optionalId('outlet', ids, { sentence: 'Choose one of your outlets' });
  if (outletId === null && !reader.problems.some((problem) => problem.path === 'outlet')) {
    const message =
      ids.length === 0
        ? 'There is no outlet yet. Add one under Costs and prices: a fair, a shop, orders or gifts.'
        : 'Choose where it goes.';
    reader.say('outlet', message);
  }
  return outletId;
}

/** What an order already has: its outlet may have been closed since, and its days have passed. */
export type OwnOrder = {
  readonly outletId: number;
  readonly dueDay: Day | null;
  readonly row: { readonly arriveByDay: Day | null };
};

/** Where it goes, when and for whom; what is read is made once nothing is wrong. */
export function readOrderFields(
  reader: FieldReader,
  known: KnownNames,
  own: OwnOrder | null,
  today: Day,
): () => OrderDetails {
  const customerName = reader.optionalText('customer');
  const outletId = readOutletChoice(reader, known.outlets, own?.outletId ?? null);
  const sentence = 'Enter the day it is due, like 2026-12-04';
  const dueDay = readDayAhead(reader, 'due', { sentence, today, was: own?.dueDay ?? null });
  const reference = reader.optionalText('reference');
  const state = reader.choice('state', states, { sentence: 'Choose asked or agreed' });
  return () => ({ customerName, outletId: outletId!, dueDay, reference, state });
}

/** The day it is to be there, if any: not before it is due. */
export function readArrival(reader: FieldReader, dueDay: Day | null, own: OwnOrder | null, today: Day): Day | null {
  const before = reader.problems.length;
  const sentence = 'Enter the day it is to be there, like 2026-12-20';
  const arriveByDay = readDayAhead(reader, 'arriveBy', { sentence, today, was: own?.row.arriveByDay ?? null });
  const isRead = reader.problems.length === before && (dueDay === null || isDay(dueDay));
  const problem = isRead ? arrivalProblem(dueDay, arriveByDay) : null;
  if (problem !== null) reader.say('arriveBy', problem);
  return arriveByDay;
}

/** Where it is posted to and by when; nothing where the form has no such fields, so that what is stored stays. */
function readPostFields(
  reader: FieldReader,
  body: FormBody,
  dueDay: Day | null,
  own: OwnOrder | null,
  today: Day,
): PostDetails {
  if (body.arriveBy === undefined && body.address === undefined) return {};
  const arriveByDay = readArrival(reader, dueDay, own, today);
  return { arriveByDay, address: reader.optionalText('address', 1000) };
}

/**
 * Reads the form of a new order: its details and its first line.
 *
 * @param like the line that the form was filled in from
 */
export function parseNewOrder(
  body: FormBody,
  known: KnownNames,
  like: LineEntry | null,
  today: Day,
): Result<OrderDetails & { lines: readonly LineEntry[] }> {
  const reader = readFields(body, known.settings.currency, known.settings.unitSystem);
  const line = readLineFields(reader, known, like);
  const details = readOrderFields(reader, known, null, today);
  const post = readPostFields(reader, body, details().dueDay, null, today);
  return finish(reader, () => ({ ...details(), ...post, lines: [line!()] }), line !== null);
}

export function parseOrderDetails(body: FormBody, known: KnownNames, own: OwnOrder, today: Day): Result<OrderDetails> {
  const reader = readFields(body, known.settings.currency, known.settings.unitSystem);
  const details = readOrderFields(reader, known, own, today);
  const post = readPostFields(reader, body, details().dueDay, own, today);
  return finish(reader, () => ({ ...details(), ...post }), true);
}

/** @param like the line as it is stored, or the one that the form was filled in from */
export function parseLine(body: FormBody, known: KnownNames, like: LineEntry | null): Result<LineEntry> {
  const reader = readFields(body, known.settings.currency, known.settings.unitSystem);
  const line = readLineFields(reader, known, like);
  return finish(reader, () => line!(), line !== null);
}

/** What was read, unless there are problems: in the order of the form, one for each field. */
export function finish<T>(reader: FieldReader, value: () => T, isWhole: boolean): Result<T> {
  const problems = reader.problems.filter(
    (problem, index) => reader.problems.findIndex((each) => each.path === problem.path) === index,
  );
  if (problems.length > 0) return refuse(...problems, ...reader.answered);
  if (!isWhole) throw new Error('parseLine: a part is missing and nothing was said about it');
  return succeed(value());
}

/** The version in a form's hidden field. */
export function versionIn(body: FormBody): number | undefined {
  return readFields(body).version();
}

/** What an empty form begins with, so that a size and a colour are all there is to say. */
export function valuesForNewLine(known: KnownNames, last: LastUsed): FormValues {
  const by = last.by === 'band' && known.bands.length === 0 ? 'label' : last.by;
  return {
    style: String(known.styles[0]?.id ?? ''),
    by,
    person: last.person,
    system: last.system,
    label: '',
    unit: usualUnit(known.settings.unitSystem),
    quantity: '1',
    cuff: 'short',
    fit: 'usual',
    ...(known.colours.length === 1
      ? { [colourField(rolesOf(known)[0]?.name ?? '')]: String(known.colours[0]!.id) }
      : {}),
  };
}

export function valuesForNewOrder(known: KnownNames): FormValues {
  return {
    outlet: String(usualOutletOf(known, 'order')?.id ?? ''),
    state: 'agreed',
    due: '',
    customer: '',
    reference: '',
  };
}

/** A line's fields as if they had just been typed. */
export function valuesOfLine(entry: LineEntry, known: KnownNames, last: LastUsed): FormValues {
  const style = known.styles.find((each) => each.id === entry.styleId);
  const values: Record<string, string> = {
    ...valuesForNewLine(known, last),
    style: String(entry.styleId),
    ...valuesOfSize(entry.size, known),
    quantity: String(entry.quantity),
    fit: entry.fit,
    agreed: moneyForInput(entry.agreedCents, known.settings.currency),
    lineKnitter: entry.knitterId === null ? '' : String(entry.knitterId),
  };
  const idsOf = (role: string) =>
    entry.colours.filter((colour) => colour.role === role).map((colour) => colour.yarnColourId);
  for (const [index, role] of (style?.roles ?? []).entries()) {
    const own = entry.colours.find((colour) => colour.role === role.name)?.yarnColourId;
    const ids = idsOf(role.name);
    const isAsMain = index > 0 && ids.join() === idsOf(style?.roles[0]?.name ?? '').join();
    if (isAsMain || own === undefined) {
      values[colourField(role.name)] = '';
      continue;
    }
    values[colourField(role.name)] = String(own);
    if (ids.length === 2 && ids[1] !== own) values[heldWithField(role.name)] = String(ids[1]);
  }
  Object.assign(values, cuffValues(entry, style ?? null, known));
  return values;
}

function cuffValues(entry: LineEntry, style: KnownStyle | null, known: KnownNames): FormValues {
  const { cuffHeightMm } = entry;
  if (cuffHeightMm === null) return { cuff: 'short' };
  if (cuffHeightMm === 0) return { cuff: 'none' };
  const foot = footOfSize(entry.size, known);
  if (style && foot && turnedDownMm(style, foot.person, foot.lengthMm) === cuffHeightMm) return { cuff: 'turned down' };
  const { unitSystem: units } = known.settings;
  return { units, cuff: 'height', cuffHeight: measureForInput(cuffHeightMm, 'lengthMm', units) };
}

export function valuesOfOrder(order: {
  readonly customerName: string | null;
  readonly outletId: number;
  readonly dueDay: string | null;
  readonly reference: string | null;
  readonly state: string;
  readonly row: { readonly arriveByDay: string | null; readonly address: string | null };
}): FormValues {
  return {
    customer: order.customerName ?? '',
    outlet: String(order.outletId),
    due: order.dueDay ?? '',
    reference: order.reference ?? '',
    state: order.state === 'asked' ? 'asked' : 'agreed',
    arriveBy: order.row.arriveByDay ?? '',
    address: order.row.address ?? '',
  };
}

/** What is kept of colours held together, in a sentence for the form; null where every strand has the same. */
export function strandNoteOf(entry: LineEntry | null, known: KnownNames): string | null {
  const mixed = [...new Set(entry?.colours.map((colour) => colour.role))].flatMap((role) => {
    const ids = (entry?.colours ?? []).filter((colour) => colour.role === role).map((colour) => colour.yarnColourId);
    const names = ids.map((id) => known.colours.find((colour) => colour.id === id)?.name ?? 'a colour that is gone');
    return new Set(ids).size > 1 && ids.length > 2 ? [`${names[0]} held with ${names.slice(1).join(' and ')}`] : [];
  });
  if (mixed.length === 0) return null;
  return `This is ${[...new Set(mixed)].join(' and ')}; that stays so while the first colour stays.`;
}
