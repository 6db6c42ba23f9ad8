import { inARow } from '#core/cards/dialect.ts';
import type { YarnCategory } from '#core/gauge/hand.ts';
import { type Day, isDay } from '#core/shared/calendar.ts';
import { formatDay, formatPercent } from '#core/shared/format.ts';
import {
  formatMass,
  formatWeighed,
  formatYarnLength,
  measureForInput,
  type UnitSystem,
} from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { sharesTooMany } from '#core/shelf/fibre.ts';
import { isLikelySlip } from '#core/shelf/stocktake.ts';
import { categoriesOfTex, isFarFromWeight, weightNames } from '#core/shelf/unlabelled.ts';
import { texFromMetres } from '#core/yardage/rules.ts';
import type { Reason } from '#flows/shelf/move-yarn.ts';
import type { ShelfEntry } from '#flows/shelf/put-on-shelf.ts';
import type { LotEntry } from '#flows/shelf/save-lot.ts';
import type { ColourEntry, YarnEntry } from '#flows/shelf/save-yarn.ts';
import { type FieldReader, type FormBody, readFields, textOf } from '#server/forms/fields.ts';
import { measureFrom } from '#server/forms/measures.ts';
import { numberForInput } from '#server/forms/numbers.ts';

/** How many colours a form takes at once. */
export const colourRows = [1, 2, 3, 4];

const categories = ['0', '1', '2', '3', '4', '5', '6', '7'] as const;
const strandCounts = ['1', '2', '3'] as const;
const mostBallG = 100_000;
const mostBalls = 500;

const ballSentence = {
  metric: 'Enter how many grams a whole ball has, like 100',
  imperial: 'Enter how many ounces a whole ball has, like 3.5',
};

const mgOf = (grams: number) => roundHalfUp(grams * 1000);

type StoredYarn = { readonly tex: number; readonly ballMg: number };

/** Metres in 100 g, and yards of a ball, as their boxes show them: tex is grams in 1000 m. */
export function lengthsForInput({ tex, ballMg }: StoredYarn): { readonly metres: string; readonly yards: string } {
  const metres = 100_000 / tex;
  return {
    metres: numberForInput(metres, 2),
    yards: measureForInput((metres * ballMg) / 100_000, 'yarnM', 'imperial'),
  };
}

const mostMetres = 20_000;
const leastMetres = 5;

/** Whether the length of a yarn stands in its box as it was shown: it then stays what it is to the last digit. */
function isLengthAsShown(fields: FieldReader, body: FormBody, ballG: number, was: StoredYarn): boolean {
  const shown = lengthsForInput(was);
  if (fields.units === 'metric') return textOf(body, 'metres').trim() === shown.metres;
  return textOf(body, 'yards').trim() === shown.yards && mgOf(ballG) === was.ballMg;
}

/** Metres in 100 g: asked for as they are, or with imperial units as the yards of a ball, which is what its band says. */
function readMetres(fields: FieldReader, ballG: number): number {
  if (fields.units === 'metric') {
    return fields.number('metres', {
      sentence: 'Enter how many metres are in 100 g, like 100; the ball band says so',
      least: leastMetres,
      most: mostMetres,
    });
  }
  const sentence = 'Enter how many yards are in a ball, like 109; the ball band says so';
  const before = fields.problems.length;
  const inBall = fields.measure('yards', 'yarnM', {
    sentence: { metric: sentence, imperial: sentence },
    least: 0.1,
    most: 20_000_000,
  });
  const metres = (inBall * 100) / ballG;
  if (fields.problems.length === before && (metres < leastMetres || metres > mostMetres)) {
    const inPound = formatYarnLength(metres * 4.5359237, 'imperial');
    fields.say('yards', `${sentence}. With this ball that makes ${inPound} in a pound, which no yarn has.`);
  }
  return metres;
}

function refuseTooManyShares(fields: FieldReader, fibre: string | null): void {
  const ratio = sharesTooMany(fibre ?? '');
  if (ratio === null) return;
  fields.say('fibre', `These shares make ${formatPercent(ratio)}. Enter shares that make 100% together.`);
}

/** The length on the band and the thickness chosen say different things: one of them may be a slip. */
function askAboutThickness(fields: FieldReader, category: YarnCategory, tex: number): void {
  const isFaulty = fields.problems.some(({ path }) => ['category', 'metres', 'yards', 'ballG'].includes(path));
  if (isFaulty || !isFarFromWeight(category, tex)) return;
  const length = `${formatYarnLength(100_000 / tex, fields.units)} in ${formatMass(100, fields.units)}`;
  const usual = inARow(
    categoriesOfTex(tex).map((each) => weightNames[each]!),
    'or',
  );
  fields.ask({
    ...{ code: 'farFromWeight', path: 'category', about: `${category} ${tex}` },
    message: `${length} is usually ${usual}. Choose it anew, or look at the length once more.`,
    yes: `Yes, it is ${weightNames[category]}`,
  });
}

/** @param was the yarn as it is stored; left out for a new one */
export function parseYarn(body: FormBody, unitSystem: UnitSystem, was?: StoredYarn): Result<YarnEntry> {
  const fields = readFields(body, undefined, unitSystem);
  const name = fields.text('name', { sentence: 'Enter the name of the yarn, as you will look for it' });
  const fibre = fields.optionalText('fibre');
  refuseTooManyShares(fields, fibre);
  const wasG = was && was.ballMg / 1000;
  const ballG = fields.measure('ballG', 'massG', { sentence: ballSentence, least: 1, most: mostBallG, was: wasG });
  const tex = was && isLengthAsShown(fields, body, ballG, was) ? was.tex : texFromMetres(readMetres(fields, ballG));
  const category = fields.choice('category', categories, { sentence: 'Choose how thick the yarn is' });
  askAboutThickness(fields, Number(category) as YarnCategory, tex);
  const strands = fields.choice('strands', strandCounts, { sentence: 'Choose how many strands are held together' });
  const needleMm = fields.optionalNumber('needleMm', {
    sentence: 'Enter the needle in millimetres, like 7, or leave it empty',
    least: 1,
    most: 50,
  });
  const usualStitchesPer10Cm = fields.optionalMeasure('stitches', 'per10Cm', {
    sentence: {
      metric: 'Enter the stitches in 10 cm on the ball band, like 13, or leave it empty',
      imperial: 'Enter the stitches in 4 in on the ball band, like 13, or leave it empty',
    },
    least: 2,
    most: 100,
  });
  return fields.result(() => ({
    name,
    fibre,
    tex,
    ballMg: mgOf(ballG),
    category: Number(category) as YarnCategory,
    usualStrands: Number(strands),
    needleMm,
    usualStitchesPer10Cm,
  }));
}

/** The path of a colour's name field. */
export const colourPath = (row: number) => `colour${row}-name`;

function readColour(fields: FieldReader, body: FormBody, row: number): ColourEntry & { readonly path: string } {
  const path = colourPath(row);
  const name = fields.text(path, { sentence: 'Enter the name of the colour, like Heather' });
  const count = Number(textOf(body, `colour${row}-count`) || '1');
  const hexes = [1, 2, 3, 4].slice(0, count >= 1 && count <= 4 ? count : 1).map((place) => {
    const field = `colour${row}-hex${place}`;
    const hex = textOf(body, field).trim().toLowerCase();
    if (!/^#[0-9a-f]{6}$/.test(hex))
      fields.say(field, 'Choose a colour, or enter it as # and six signs, like #7a5f8f.');
    return hex;
  });
  return { name, swatchHex: hexes.join(' '), path };
}

/** The colours of a form whose name was filled in. @param isNeeded at least one must be */
export function parseColours(
  body: FormBody,
  isNeeded: boolean,
): Result<readonly (ColourEntry & { readonly path: string })[]> {
  const fields = readFields(body);
  const rows = colourRows.filter((row) => textOf(body, colourPath(row)).trim() !== '');
  if (isNeeded && rows.length === 0) {
    fields.say(colourPath(1), 'Enter the name of a colour, like Heather.');
  }
  const entries = rows.map((row) => readColour(fields, body, row));
  entries.forEach(({ name, path }, index) => {
    if (entries.slice(0, index).some((earlier) => earlier.name.toLowerCase() === name.toLowerCase())) {
      fields.say(path, `${name} is on this form twice. Give each colour a name of its own.`);
    }
  });
  return fields.result(() => entries);
}

export function parseColour(body: FormBody): Result<ColourEntry & { readonly path: string }> {
  const fields = readFields(body);
  const entry = readColour(fields, body, 1);
  return fields.result(() => entry);
}

const returnableSentence = 'Enter the last day the shop takes it back or keeps it for you, or leave it empty';

const mostYearsAtShop = 5;

/** The last day at the shop: not before the yarn came, and no shop takes it back for longer than some years. */
function readReturnable(fields: FieldReader, gotDay: Day): Day | null {
  const before = fields.problems.length;
  const day = fields.optionalDay('returnable', { sentence: returnableSentence });
  if (day === null || fields.problems.length > before || !isDay(gotDay)) return day;
  const last = `${Number(gotDay.slice(0, 4)) + mostYearsAtShop}${gotDay.slice(4)}`;
  if (day < gotDay) {
    fields.say('returnable', `It came on ${formatDay(gotDay)}: enter that day or a later one, or leave it empty.`);
  } else if (day > last) {
    const years = `${mostYearsAtShop} years after it came`;
    fields.say('returnable', `${formatDay(day)} is more than ${years}. Look at the year, or leave it empty.`);
  }
  return day;
}

/** Yarn from before this day is most likely a slip of the keys. Our own choice. */
const firstDay: Day = '1950-01-01';

/** A day that is not still to come: nothing has happened on tomorrow's shelf. */
export function readDay(fields: FieldReader, name: string, sentence: string, today: Day): Day {
  const before = fields.problems.length;
  const day = fields.day(name, { sentence: `${sentence}, like ${today}` });
  if (fields.problems.length === before && day > today) {
    fields.say(name, `${sentence}, like ${today}; ${formatDay(day)} is still to come.`);
  }
  if (fields.problems.length === before && day < firstDay) {
    fields.say(name, `${sentence}, like ${today}; ${formatDay(day)} is too long ago. Look at the year.`);
  }
  return day;
}

/** The day of a move: today where the form does not say. */
function readMoveDay(fields: FieldReader, body: FormBody, today: Day): Day {
  return textOf(body, 'day').trim() === '' ? today : readDay(fields, 'day', 'Enter the day it was', today);
}

function readPartBalls(fields: FieldReader, body: FormBody): number[] {
  const words = textOf(body, 'parts')
    .trim()
    .split(/[\s;+]+/)
    .filter(Boolean);
  const grams = words.map((word) => measureFrom(word, 'massG', fields.units));
  if (grams.some((each) => each === null || each < 0.1 || each > mostBallG)) {
    const like =
      fields.units === 'metric'
        ? 'grams with blanks between, like 43 27.5'
        : 'ounces with blanks between, like 1.5 0.95';
    fields.say('parts', `Enter the weight of each part ball in ${like}.`);
    return [];
  }
  const odd = words.find((word) => /^\d+,\d{2,}$/.test(word));
  if (odd !== undefined) {
    const [first, second] = odd.split(',');
    const one = formatWeighed(mgOf(measureFrom(odd, 'massG', fields.units)!), fields.units);
    fields.ask({
      ...{ code: 'commaInParts', path: 'parts' },
      message: `“${odd}” can be one ball or two. For two, write “${first} ${second}”.`,
      yes: `Yes, it is one ball of ${one}`,
    });
  }
  return grams.map((each) => mgOf(each!));
}

/** Balls come in other sizes, but hardly in more than so many times the usual one. Our own choice. */
const mostTimesUsual = 5;

function askAboutNewBalls(
  fields: FieldReader,
  typed: { readonly ballG: number | null; readonly parts: readonly number[]; readonly wholeMg: number | undefined },
): void {
  const { ballG, parts, wholeMg = Number.POSITIVE_INFINITY } = typed;
  const ask = (path: string, mg: number, yes: string) => {
    if (mg <= mostTimesUsual * wholeMg || fields.problems.some((problem) => problem.path === path)) return;
    const [heavy, usual] = [mg, wholeMg].map((each) => formatWeighed(each, fields.units));
    const message = `${heavy} is much more than a ball of this yarn, which has ${usual}. Is it a slip of the keys?`;
    fields.ask({ code: 'slip', path, message, yes: `${yes} ${heavy}` });
  };
  if (ballG !== null) ask('ballG', mgOf(ballG), 'Yes, each has');
  if (parts.length > 0) ask('parts', Math.max(...parts), 'Yes, one weighs');
}

/** A gift has no price and goes back to no shop, and what was bought has no giver: nothing typed is dropped unsaid. */
function refuseWhatIsNotKept(fields: FieldReader, body: FormBody, reason: 'bought' | 'given'): void {
  const unkept: readonly (readonly [name: string, message: string])[] =
    reason === 'given'
      ? [
          ['paid', 'A gift costs nothing. Leave this empty and enter it under “Would have cost”, or choose “bought”.'],
          ['returnable', 'A gift does not go back to a shop. Leave this empty, or choose “bought”.'],
        ]
      : [
          ['donor', 'Only a gift has a giver. Leave this empty, or choose “given to us”.'],
          ['worth', 'What was bought has its price above. Leave this empty, or choose “given to us”.'],
        ];
  for (const [name, message] of unkept) {
    const text = textOf(body, name).trim();
    if (text !== '' && !/^0([.,]0+)?$/.test(text)) fields.say(name, message);
  }
}

export function parsePutOnShelf(
  body: FormBody,
  context: {
    readonly ballMgOfColour: ReadonlyMap<number, number>;
    readonly currency: string;
    readonly today: Day;
    readonly unitSystem: UnitSystem;
  },
): Result<ShelfEntry> {
  const fields = readFields(body, context.currency, context.unitSystem);
  const chosen = 'Choose the colour that came';
  const yarnColourId = fields.optionalId('colour', [...context.ballMgOfColour.keys()], { sentence: chosen });
  if (yarnColourId === null && !fields.problems.some(({ path }) => path === 'colour'))
    fields.say('colour', `${chosen}.`);
  const dyeLot = fields.optionalText('dyeLot');
  const count = fields.optionalNumber('balls', {
    sentence: 'Enter how many whole balls came, like 4; leave it empty if there are only part balls',
    least: 0,
    most: mostBalls,
    isWhole: true,
  });
  const ballG = fields.optionalMeasure('ballG', 'massG', { sentence: ballSentence, least: 0.1, most: mostBallG });
  const parts = readPartBalls(fields, body);
  const reason = fields.choice('reason', ['bought', 'given'] as const, { sentence: 'Choose bought or given' });
  const paid = fields.optionalMoney('paid', {
    sentence: 'Enter what you paid for all of it, like 35.60, or leave it empty',
  });
  const donor = fields.optionalText('donor');
  const worthCents = fields.optionalMoney('worth', {
    sentence: 'Enter what it would have cost, like 35.60, or leave it empty',
  });
  refuseWhatIsNotKept(fields, body, reason);
  const place = fields.optionalText('place');
  const gotDay = readDay(fields, 'gotDay', 'Enter the day it came', context.today);
  const returnableUntilDay = readReturnable(fields, gotDay);
  const wholeMg = ballG === null ? (context.ballMgOfColour.get(yarnColourId ?? -1) ?? 0) : mgOf(ballG);
  askAboutNewBalls(fields, { ballG, parts, wholeMg: context.ballMgOfColour.get(yarnColourId ?? -1) });
  const ballsMg = [...Array<number>(count ?? 0).fill(wholeMg), ...parts];
  if (fields.problems.length === 0 && ballsMg.length === 0) {
    fields.say('balls', 'Enter how many balls came, like 4, or the weights of part balls.');
  }
  if (reason === 'bought' && paid === null && fields.problems.length === 0) {
    fields.say('paid', 'Enter what you paid for all of it, like 35.60; 0 if it cost nothing.');
  }
  return fields.result(() => ({
    yarnColourId: yarnColourId!,
    dyeLot,
    donor: reason === 'given' ? donor : null,
    place,
    reason,
    gotDay,
    returnableUntilDay: reason === 'bought' ? returnableUntilDay : null,
    paidCents: reason === 'given' ? 0 : (paid ?? 0),
    worthCents: reason === 'given' ? worthCents : null,
    ballsMg,
  }));
}

/** A ball that is far heavier than it can be is most likely a slip of the keys. */
export function askAboutWeight(fields: FieldReader, path: string, shownMg: number, bookMg: number, wholeMg: number) {
  if (!isLikelySlip(bookMg, wholeMg, shownMg)) return;
  const [shown, book, whole] = [shownMg, bookMg, wholeMg].map((mg) => formatWeighed(mg, fields.units));
  fields.ask({
    ...{ code: 'slip', path },
    message: `${shown} is much more than the ${book} that is written down, and a whole ball has ${whole}. Is it a slip of the keys?`,
    yes: `Yes, this ball weighs ${shown}`,
  });
}

function readBall(fields: FieldReader, { balls }: Pick<LotFormContext, 'balls'>): number {
  const sentence = 'Choose the ball';
  const ballIds = balls.map(({ id }) => id);
  const id = fields.optionalId('ball', ballIds, { sentence });
  if (id === null && !fields.problems.some(({ path }) => path === 'ball')) fields.say('ball', `${sentence}.`);
  return id ?? 0;
}

/** What a form about a ball of a lot may name. */
export type LotFormContext = {
  readonly balls: readonly { readonly id: number; readonly massMg: number }[];
  /** What a whole ball of the yarn has. */
  readonly wholeMg: number;
  /** Pairs that may have used it. */
  readonly pairIds: readonly number[];
  readonly knitterIds: readonly number[];
  readonly today: Day;
  readonly unitSystem: UnitSystem;
};

// The field is of no account where nothing was used, whatever stands in it.
function readPair(fields: FieldReader, reason: Reason, { pairIds }: LotFormContext): number | null {
  if (reason !== 'used') return null;
  return fields.optionalId('pair', pairIds, { sentence: 'Choose the pair that used it, or none' });
}

export function parseWeigh(
  body: FormBody,
  context: LotFormContext,
): Result<{ ballId: number; massMg: number; reason: Reason; pairId: number | null; day: Day }> {
  const fields = readFields(body, undefined, context.unitSystem);
  const ballId = readBall(fields, context);
  const grams = fields.measure('grams', 'massG', {
    sentence: {
      metric: 'Enter what the scale shows in grams, like 43; 0 when nothing is left',
      imperial: 'Enter what the scale shows in ounces, like 1.5; 0 when nothing is left',
    },
    least: 0,
    most: mostBallG,
  });
  const book = context.balls.find(({ id }) => id === ballId);
  if (book && fields.problems.length === 0) askAboutWeight(fields, 'grams', mgOf(grams), book.massMg, context.wholeMg);
  const reason = fields.choice('reason', ['used', 'weighed', 'lost', 'back'] as const, {
    sentence: 'Choose where the rest went',
  });
  const pairId = readPair(fields, reason, context);
  const day = readMoveDay(fields, body, context.today);
  return fields.result(() => ({ ballId, massMg: mgOf(grams), reason, pairId, day }));
}

export function parseTakeOff(
  body: FormBody,
  context: LotFormContext,
): Result<{
  ballId: number;
  massMg: number | null;
  reason: Exclude<Reason, 'weighed'>;
  pairId: number | null;
  day: Day;
}> {
  const fields = readFields(body, undefined, context.unitSystem);
  const ballId = readBall(fields, context);
  const grams = fields.optionalMeasure('grams', 'massG', {
    sentence: {
      metric: 'Enter how many grams go, like 20, or leave it empty for the whole ball',
      imperial: 'Enter how many ounces go, like 0.7, or leave it empty for the whole ball',
    },
    least: 0.1,
    most: mostBallG,
  });
  const reason = fields.choice('reason', ['used', 'lost', 'back'] as const, { sentence: 'Choose where it goes' });
  const pairId = readPair(fields, reason, context);
  const day = readMoveDay(fields, body, context.today);
  return fields.result(() => ({ ballId, massMg: grams === null ? null : mgOf(grams), reason, pairId, day }));
}

export function parseWindOff(
  body: FormBody,
  context: LotFormContext,
): Result<{ ballId: number; massMg: number; day: Day }> {
  const fields = readFields(body, undefined, context.unitSystem);
  const ballId = readBall(fields, context);
  const grams = fields.measure('grams', 'massG', {
    sentence: {
      metric: 'Enter how many grams to wind off, like 40',
      imperial: 'Enter how many ounces to wind off, like 1.4',
    },
    least: 0.1,
    most: mostBallG,
  });
  const day = readMoveDay(fields, body, context.today);
  return fields.result(() => ({ ballId, massMg: mgOf(grams), day }));
}

/** What stands for the shelf where a knitter could be chosen. */
export const onShelf = 'shelf';

export function parseHandOver(
  body: FormBody,
  context: LotFormContext,
): Result<{ ballId: number; knitterId: number | null; day: Day; version: number | undefined }> {
  const fields = readFields(body);
  const ballId = readBall(fields, context);
  const sentence = 'Choose who takes it, or the shelf';
  const isHome = textOf(body, 'who') === onShelf;
  const knitterId = isHome ? null : fields.optionalId('who', context.knitterIds, { sentence });
  if (!isHome && textOf(body, 'who').trim() === '') fields.say('who', `${sentence}.`);
  const version = readFields({ version: textOf(body, `version-${ballId}`) }).version();
  const day = readMoveDay(fields, body, context.today);
  return fields.result(() => ({ ballId, knitterId, day, version }));
}

export function parseLot(body: FormBody, currency: string, today: Day): Result<LotEntry> {
  const fields = readFields(body, currency);
  const gotDay = readDay(fields, 'gotDay', 'Enter the day it came', today);
  const entry = {
    dyeLot: fields.optionalText('dyeLot'),
    donor: fields.optionalText('donor'),
    place: fields.optionalText('place'),
    gotDay,
    returnableUntilDay: readReturnable(fields, gotDay),
    paidCents: fields.money('paid', { sentence: 'Enter what was paid for all of it, like 35.60; 0 for a gift' }),
    worthCents: fields.optionalMoney('worth', {
      sentence: 'Enter what it would have cost, like 35.60, or leave it empty',
    }),
  };
  return fields.result(() => entry);
}
