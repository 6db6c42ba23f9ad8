import { type Figure, type Mark, namesInWords, type RuleText, type Unit } from '#core/shared/figure.ts';
import { currencySign, formatCentsForInput, smallestPart } from '#core/shared/format.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/** One step of a working, in words and shown numbers: what a page needs to print it. */
export type WorkingStep = {
  /** Unique within its tree, to be linked to. */
  readonly id: string;
  readonly name: string;
  readonly valueText: string;
  /** One standard deviation to either side, with its unit; null where none is known. */
  readonly sdText: string | null;
  /** The rule in words: `ball girth × (girth factor + fit)`; null for what was not computed, and for sums. */
  readonly words: string | null;
  /** The same with the numbers in it; null for what was not computed. */
  readonly formulaText: string | null;
  readonly mark: Mark;
  readonly source: string;
  /** The step further up that holds this one's own working, when it was shown before; `steps` is then empty. */
  readonly shownAt: string | null;
  readonly steps: readonly WorkingStep[];
};

type UnitText = { readonly digits: number; readonly one: string; readonly many: string };

const plain = (digits: number, word: string): UnitText => ({ digits, one: word, many: word });
const gap = '\u00a0';

/** Digits each unit begins with, enough in most workings to add up by hand; where they are not, one more is shown. */
const unitTexts: Readonly<Record<Exclude<Unit, 'cents' | 'cents per h' | 'cents per g'>, UnitText>> = {
  mm: plain(1, `${gap}mm`),
  cm: plain(3, `${gap}cm`),
  m: plain(2, `${gap}m`),
  g: plain(1, `${gap}g`),
  tex: plain(1, `${gap}tex`),
  min: plain(1, `${gap}min`),
  h: plain(2, `${gap}h`),
  stitches: { digits: 0, one: ' stitch', many: ' stitches' },
  rows: { digits: 0, one: ' row', many: ' rows' },
  loops: { digits: 0, one: ' stitch', many: ' stitches' },
  'per 10 cm': plain(2, ` in 10${gap}cm`),
  'per min': plain(2, ' a minute'),
  ratio: plain(4, ''),
  percent: plain(1, '%'),
  count: plain(2, ''),
  size: plain(1, ''),
  days: { digits: 1, one: ' day', many: ' days' },
  'per cm2': plain(2, ` in a square cm`),
};

const moneyTails = { cents: '', 'cents per h': ' an hour', 'cents per g': ' a gram' } as const;

/** No figure is shown with more digits than this after the point. */
const mostDigits = 8;
const formats = new Map<number, Intl.NumberFormat>();

function minorDigits(currency: string): number {
  return (formatCentsForInput(0, currency).split('.')[1] ?? '').length;
}

/** What a value is multiplied by to be shown: money in major units, shares of a hundred. */
function scaleOf(unit: Unit, currency: string): number {
  if (unit === 'percent') return 100;
  return unit in moneyTails ? 10 ** -minorDigits(currency) : 1;
}

function leastDigits(unit: Unit, currency: string): number {
  // Money before it is rounded keeps two digits more, so that one sees which way it will go.
  return unit in moneyTails ? minorDigits(currency) + 2 : unitTexts[unit as keyof typeof unitTexts].digits;
}

/** A few digits that say the value exactly, where a few do; else `digits`, so that it reads as rounded. */
function neededDigits(shown: number, least: number, digits: number): number {
  for (let few = least; few <= Math.max(digits, least + 1); few += 1) {
    if (Math.abs(roundTo(shown, few) - shown) <= 1e-9 * Math.max(1, Math.abs(shown))) return few;
  }
  return digits;
}

function roundTo(value: number, digits: number): number {
  return roundHalfUp(value * 10 ** digits) / 10 ** digits;
}

/** Digits that are never left out: those of money. */
function fixedDigits(unit: Unit, currency: string): number {
  return unit in moneyTails ? minorDigits(currency) : 0;
}

function numberText(value: number, digits: number): string {
  let format = formats.get(digits);
  if (!format) {
    format = new Intl.NumberFormat('en-GB', { minimumFractionDigits: digits, maximumFractionDigits: digits });
    formats.set(digits, format);
  }
  return format.format(roundTo(value, digits));
}

function textOf(value: number, unit: Unit, digits: number, currency: string): string {
  const shown = value * scaleOf(unit, currency);
  const minus = shown < 0 ? '\u2212' : '';
  const number = numberText(Math.abs(shown), neededDigits(shown, fixedDigits(unit, currency), digits));
  if (unit in moneyTails) {
    return `${minus}${currencySign(currency)}${number}${moneyTails[unit as keyof typeof moneyTails]}`;
  }
  const { one, many } = unitTexts[unit as keyof typeof unitTexts];
  return `${minus}${number}${shown === 1 ? one : many}`;
}

/** The value as it is read from the page, in the figure's own unit. */
function shownValue({ value, rule }: Figure, digits: number, currency: string): number {
  const scale = scaleOf(rule.unit, currency);
  return roundTo(value * scale, neededDigits(value * scale, fixedDigits(rule.unit, currency), digits)) / scale;
}

function formulaOf(rule: RuleText): ((...values: number[]) => number) | null {
  return 'formula' in rule ? (rule as RuleText & { formula: (...values: number[]) => number }).formula : null;
}

/** A figure's own rule from other inputs; a figure with inputs and no formula is their sum. */
function recompute(figure: Figure, values: readonly number[]): number {
  const formula = formulaOf(figure.rule);
  return formula ? formula(...values) : values.reduce((sum, value) => sum + value, 0);
}

const isSum = (figure: Figure) => figure.inputs.length > 0 && formulaOf(figure.rule) === null;

type Digits = Map<Figure, number>;

function addsUp(figure: Figure, digits: Digits, currency: string, inputDigits?: number): boolean {
  const own = digits.get(figure)!;
  const again = recompute(
    figure,
    figure.inputs.map((input) => shownValue(input, inputDigits ?? digits.get(input)!, currency)),
  );
  // Counted things come out right or wrong; measured ones may be off by one in their last digit.
  const slack = own === 0 ? 1e-6 : 10 ** -own / scaleOf(figure.rule.unit, currency);
  return Math.abs(again - shownValue(figure, own, currency)) <= slack * (1 + 1e-6);
}

function figuresIn(root: Figure, found: Set<Figure> = new Set()): Set<Figure> {
  if (found.has(root)) return found;
  found.add(root);
  for (const input of root.inputs) figuresIn(input, found);
  return found;
}

/** Digits for each figure of a tree, so that every step adds up from the numbers shown: one more where it would not. */
function chooseDigits(root: Figure, currency: string): Digits {
  const figures = [...figuresIn(root)];
  const digits: Digits = new Map(figures.map((figure) => [figure, leastDigits(figure.rule.unit, currency)]));
  let isSettled = false;
  while (!isSettled) {
    isSettled = true;
    for (const figure of figures) {
      if (figure.inputs.length === 0 || addsUp(figure, digits, currency)) continue;
      // A tie that rests on an endless decimal (a third) is no tie in any number of digits.
      if (!addsUp(figure, digits, currency, mostDigits)) continue;
      for (const input of figure.inputs) {
        const shown = digits.get(input)!;
        const isExact = Math.abs(shownValue(input, shown, currency) - input.value) <= 1e-9 * Math.abs(input.value);
        if (isExact || shown >= mostDigits) continue;
        digits.set(input, shown + 1);
        isSettled = false;
      }
    }
  }
  return digits;
}

const typeset = (words: string) => words.replaceAll(' x ', ' \u00d7 ').replaceAll(' - ', ' \u2212 ');

// Rules do not know the currency; they say cent for its smallest part.
const inMoney = (words: string, currency: string) =>
  words.replace(/\b(nearest|next) cent\b/, (_, which: string) => `${which} ${smallestPart(currency)}`);

function fillIn(figure: Figure, currency: string, textFor: (input: Figure) => string): string {
  const { inputs, rule } = figure;
  if (isSum(figure)) return inputs.map(textFor).join(' + ');
  const names = namesInWords(rule.words);
  // Mostly the n-th name is the n-th input; where two inputs have one name, each place takes the next input.
  const byPlace = names.length !== inputs.length;
  let place = 0;
  return typeset(
    inMoney(rule.words, currency).replace(/\{([^}]+)\}/g, (braced, name: string) => {
      const input = inputs[byPlace ? place : names.indexOf(name)];
      place += 1;
      return input ? textFor(input) : braced;
    }),
  );
}

/**
 * A figure's rule with the shown value and unit of each input in place of its name. Inputs get as many digits as it
 * takes to reach the shown result from them by hand.
 *
 * @param figure any figure; one that was not computed gives an empty text
 * @param currency ISO 4217 code, for money
 * @example wordsWithNumbers(work(rule({ name: 'area', unit: 'count', mark: 'ours', source: '', words: '{width} x {height}' }, (a, b) => a * b), given('width', 3, 'mm', 'yours'), given('height', 4.5, 'mm', 'yours')), 'EUR') // => '3\u00a0mm \u00d7 4.5\u00a0mm'
 * @example wordsWithNumbers(given('foot length', 240, 'mm', 'yours'), 'EUR') // => ''
 */
export function wordsWithNumbers(figure: Figure, currency: string): string {
  // Only this one step has to add up, not those before it.
  const step = { ...figure, inputs: figure.inputs.map((input) => ({ ...input, inputs: [] })) };
  const digits = chooseDigits(step, currency);
  return fillIn(step, currency, (input) => textOf(input.value, input.rule.unit, digits.get(input)!, currency));
}

/**
 * A figure as a tree of steps down to what was entered, measured, published or chosen. A step that occurs again is
 * shown in full the first time and named afterwards.
 *
 * @param figure the figure to explain
 * @param currency ISO 4217 code, for money
 * @returns the figure's own step; every formula text leads from the shown inputs to the shown value, to one in its last digit
 * @example workingOf(given('foot length', 240, 'mm', 'yours', 'measured'), 'EUR') // => { id: 's1', name: 'foot length', valueText: '240\u00a0mm', sdText: null, words: null, formulaText: null, mark: 'yours', source: 'measured', shownAt: null, steps: [] }
 */
export function workingOf(figure: Figure, currency: string): WorkingStep {
  const digits = chooseDigits(figure, currency);
  const shownAt = new Map<Figure, string>();
  let count = 0;
  const text = (each: Figure) => textOf(each.value, each.rule.unit, digits.get(each)!, currency);
  function stepOf(each: Figure): WorkingStep {
    count += 1;
    const { rule, sd, inputs } = each;
    const isComputed = inputs.length > 0;
    const before = isComputed ? shownAt.get(each) : undefined;
    const id = `s${count}`;
    if (isComputed && before === undefined) shownAt.set(each, id);
    const isTie = isComputed && !addsUp(each, digits, currency);
    return {
      id,
      name: rule.name,
      valueText: text(each),
      sdText: sd > 0 ? `\u00b1${textOf(sd, rule.unit, leastDigits(rule.unit, currency), currency)}` : null,
      words: isComputed && !isSum(each) ? typeset(inMoney(rule.words, currency).replace(/[{}]/g, '')) : null,
      formulaText: isComputed ? `${fillIn(each, currency, text)}${isTie ? ' (a tie, which goes up)' : ''}` : null,
      mark: rule.mark,
      source: typeset(rule.source),
      shownAt: before ?? null,
      steps: before === undefined ? inputs.map(stepOf) : [],
    };
  }
  return stepOf(figure);
}
