import { countOf, formatCents, formatDay } from '#core/shared/format.ts';
import { formatLength } from '#core/shared/measures.ts';
import type { QuoteView } from '#flows/orders/read-quote.ts';

/** A quote in the words that its customer reads. */
export type QuoteWords = {
  readonly lines: readonly {
    readonly lineId: number;
    readonly quantity: number;
    /** "2 pairs of slippers, woman EU 38, in Heather and Fog, short cuff". */
    readonly what: string;
    readonly each: string | null;
    readonly sum: string | null;
  }[];
  /** Postage, extras, tax on top: what is added to the lines. */
  readonly additions: readonly { readonly name: string; readonly sum: string }[];
  readonly total: string | null;
  /** "tax of €7.02 included"; empty where there is none. */
  readonly taxNote: string;
  readonly deposit: string | null;
  /** Sentences: when it is ready, posted, there. */
  readonly days: readonly string[];
  readonly validUntil: string | null;
  /** How to look after them; each sentence once. */
  readonly care: readonly string[];
  /** What is asked before the needles are taken up: the foot it is knitted for. */
  readonly fit: string;
};

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

function whatOf({ order }: QuoteView, index: number): string {
  const line = order.lines[index]!;
  const colours = [...new Set(line.colours.map(({ name }) => name))].join(' and ');
  const count = countOf(line.quantity, 'pair', 'pairs');
  const parts = [
    line.isUsualStyle ? `${count} of slippers` : `${count} of ${line.styleName}`,
    line.size,
    colours === '' ? '' : `in ${colours}`,
    line.cuff,
    line.fit === 'usual' ? '' : `${line.fit} fit`,
  ];
  return parts.filter(Boolean).join(', ');
}

function daysOf({ promisedDay, arrivesDay, wishedDay, isWishMet, order }: QuoteView): string[] {
  if (promisedDay === null) return [];
  const { arriveByDay } = order.row;
  // Where the day wished for is later, that is the day: nothing need be done sooner.
  const isLater = isWishMet && wishedDay !== null;
  if (arrivesDay !== null) {
    if (isLater && arriveByDay !== null)
      return [`I can post them so that they are with you by ${formatDay(arriveByDay)}.`];
    const late = isWishMet ? '' : ' I am sorry that this is later than you wished.';
    return [
      `I can post them on ${formatDay(promisedDay)}; they should be with you by ${formatDay(arrivesDay)}.${late}`,
    ];
  }
  if (isLater) return [`They will be ready by ${formatDay(wishedDay)}, as you wished.`];
  const late = isWishMet ? '' : ' I am sorry that this is later than you wished.';
  return [`They can be ready by ${formatDay(promisedDay)}.${late}`];
}

function fitOf({ order, lines, source }: QuoteView): string {
  const { unitSystem } = source.settings;
  const lengths = [
    ...new Set(
      lines.flatMap(({ footLengthMm }) => (footLengthMm === null ? [] : formatLength(footLengthMm, unitSystem))),
    ),
  ];
  if (lengths.length === 0) return '';
  const feet = lengths.length > 1 ? 'feet' : lines.length > 1 || order.lines[0]!.quantity > 1 ? 'feet' : 'a foot';
  const joined = lengths.length > 1 ? `${lengths.slice(0, -1).join(', ')} and ${lengths.at(-1)}` : lengths[0];
  return `I knit them for ${feet} of ${joined}, heel to longest toe. Please measure, and tell me before I begin if that is not so.`;
}

/** A quote in words and amounts, for the reply and for paper. */
export function wordsOfQuote(view: QuoteView): QuoteWords {
  const { order, lines, money, source, isRunOut } = view;
  const { currency } = source.settings;
  const amount = (cents: number) => formatCents(cents, currency);
  const { postageCents, addedTaxCents, taxCents } = money;
  const extras = source.rows.orderExtras.filter((extra) => extra.orderId === order.id);
  const hasPrices = money.withoutPrice === 0 && order.lines.length > 0;
  const { validUntilDay } = order.row;
  return {
    lines: money.lines.map(({ eachCents, cents }, index) => ({
      lineId: lines[index]!.lineId,
      quantity: order.lines[index]!.quantity,
      what: whatOf(view, index),
      each: eachCents === null ? null : amount(eachCents),
      sum: eachCents === null ? null : amount(cents),
    })),
    additions: [
      ...extras.map(({ name, cents }) => ({ name, sum: amount(cents) })),
      ...(order.row.postageCents !== null ? [{ name: 'Postage', sum: amount(postageCents) }] : []),
      ...(addedTaxCents > 0 ? [{ name: 'Tax', sum: amount(addedTaxCents) }] : []),
    ],
    total: hasPrices ? amount(money.totalCents) : null,
    taxNote: addedTaxCents === 0 && taxCents > 0 ? `tax of ${amount(taxCents)} included` : '',
    deposit: hasPrices && money.depositCents > 0 ? amount(money.depositCents) : null,
    days: daysOf(view),
    validUntil: validUntilDay === null || isRunOut ? null : formatDay(validUntilDay),
    care: [...new Set(lines.flatMap(({ care }) => care?.care ?? []))].slice(0, 3),
    fit: fitOf(view),
  };
}

/** The reply to a customer as plain text: what, price, deposit, day, how long it is good, fit and care. */
export function replyOf(view: QuoteView): string {
  const words = wordsOfQuote(view);
  const { customerName } = view.order;
  const isOneSum = words.lines.length === 1 && words.additions.length === 0;
  const lines = words.lines.map(({ what, quantity, each, sum }) => {
    const price = each === null ? '' : quantity === 1 ? `: ${sum}` : `: ${each} a pair, ${sum} together`;
    return `- ${what}${price}`;
  });
  const tax = words.taxNote === '' ? '' : ` (${words.taxNote})`;
  const paragraphs = [
    customerName === null ? 'Hello,' : `Hello ${customerName},`,
    'Thank you for asking. I would be glad to knit for you:',
    [...lines, ...words.additions.map(({ name, sum }) => `- ${name}: ${sum}`)].join('\n'),
    [
      words.total === null || isOneSum ? '' : `That makes ${words.total} in all${tax}.`,
      words.deposit === null ? '' : `I ask for ${words.deposit} before I begin; the rest is due when they are done.`,
      ...words.days,
      words.validUntil === null ? '' : `Prices and days are good until ${words.validUntil}.`,
    ]
      .filter(Boolean)
      .join('\n'),
    words.fit,
    words.care.length === 0 ? '' : `To look after them: ${words.care.map(capital).join(' ')}`,
    ['Shall I knit them for you?', view.source.settings.workshopName].filter(Boolean).join('\n\n'),
  ];
  return paragraphs.filter(Boolean).join('\n\n').replaceAll('\u00a0', ' ');
}
