import type { Day } from '#core/shared/calendar.ts';
import type { Result } from '#core/shared/problem.ts';
import type { ExpenseRow, OutletRow } from '#db/stores/pricing.ts';
import type { MaterialEntry } from '#flows/pricing/save-material.ts';
import type { OutletEntry } from '#flows/pricing/save-outlet.ts';
import { type FieldReader, type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { moneyForInput, numberForInput, percentForInput } from '#server/forms/numbers.ts';

const outletKinds = ['fair', 'order', 'shop', 'gift'] as const;
const shopTerms = ['sale or return', 'wholesale'] as const;
const priceRules = ['markup', 'margin', 'fixed'] as const;
/** Stands for every style in the form of a material. */
export const everyStyle = 'every';

function readTerms(form: FieldReader, isShop: boolean): Pick<OutletEntry, 'terms' | 'leastPairs' | 'shopShareRatio'> {
  const none = { terms: null, leastPairs: null, shopShareRatio: 0 };
  if (!isShop) return none;
  const terms = form.choice('terms', shopTerms, { sentence: 'Choose how the shop deals with you' });
  if (terms === 'sale or return') {
    const sentence = 'Enter the share that the shop keeps, like 35, or 0';
    return { ...none, terms, shopShareRatio: form.percent('shopShare', { sentence, least: 0, most: 0.95 }) };
  }
  const sentence = 'Enter the least pairs of an order, like 6, or leave it empty';
  const leastPairs = form.optionalNumber('leastPairs', { sentence, least: 1, most: 10_000, isWhole: true });
  return { ...none, terms, leastPairs };
}

/** An outlet's form. A box that the rule chosen does not use is not read, so that it cannot be wrong. */
export function readOutletForm(body: FormBody, currency: string): Result<OutletEntry> {
  const form = readFields(body, currency);
  const kind = form.choice('kind', outletKinds, { sentence: 'Choose what it is: a fair, orders, a shop or gifts' });
  const priceRule =
    kind === 'gift' ? 'markup' : form.choice('priceRule', priceRules, { sentence: 'Choose how its prices are made' });
  const isEmptyBox = (name: string) => textOf(body, name).trim() === '';
  const percent = (name: string, sentence: string, most: number) =>
    isEmptyBox(name) ? 0 : form.percent(name, { sentence, least: 0, most });
  const ratio = (): number => {
    if (kind === 'gift' || priceRule === 'fixed') return 0;
    return priceRule === 'margin'
      ? percent('margin', 'Enter the share of the price that is to be yours, like 30', 0.95)
      : percent('markup', 'Enter what goes on top of the cost, like 20', 100);
  };
  const entry: OutletEntry = {
    name: form.text('name', { sentence: 'Enter a name, like Winter fair', most: 80 }),
    kind,
    priceRule,
    priceRatio: ratio(),
    fixedPriceCents:
      priceRule === 'fixed' ? form.money('fixedPrice', { sentence: 'Enter the price of a pair, like 45' }) : null,
    feeRatio: percent('fee', 'Enter the share that is taken of what the buyer pays, like 2.5', 0.95),
    feeFixedCents: isEmptyBox('feeFixed')
      ? 0
      : form.money('feeFixed', { sentence: 'Enter what is taken for each sale, like 0.30' }),
    taxRatio: percent('tax', 'Enter the tax in percent, like 19, or 0', 1),
    isTaxIncluded: textOf(body, 'taxWay') !== 'added',
    rounding: textOf(body, 'rounding') === 'invoice' ? ('invoice' as const) : ('line' as const),
    endingCents: form.optionalNumber('ending', {
      sentence: 'Enter how prices are to end, like 50 for .50, or leave it empty',
      least: 0,
      most: 99,
      isWhole: true,
    }),
    depositRatio: percent('deposit', 'Enter the deposit in percent of the price, like 30, or 0', 1),
    secondOffRatio:
      kind === 'gift' ? 0 : percent('secondOff', 'Enter how much less a pair with a flaw costs, like 30, or 0', 1),
    ...readTerms(form, kind === 'shop'),
  };
  const taken = entry.feeRatio + entry.shopShareRatio;
  if (form.problems.length === 0 && taken > 0.95) {
    form.say('shopShare', 'Fees and the shop’s share together leave too little. Lower one of them.');
  }
  return form.result(() => entry);
}

export const newOutletValues: FormValues = {
  kind: 'fair',
  priceRule: 'markup',
  markup: '0',
  fee: '0',
  tax: '0',
  taxWay: 'included',
  rounding: 'line',
  deposit: '0',
  secondOff: '30',
  terms: 'sale or return',
  shopShare: '35',
};

/** An outlet as its form shows it. */
export function outletValues(row: OutletRow, currency: string): FormValues {
  return {
    name: row.name,
    kind: row.kind,
    priceRule: row.priceRule,
    markup: row.priceRule === 'markup' ? percentForInput(row.priceRatio) : '',
    margin: row.priceRule === 'margin' ? percentForInput(row.priceRatio) : '',
    fixedPrice: moneyForInput(row.fixedPriceCents, currency),
    fee: percentForInput(row.feeRatio),
    feeFixed: row.feeFixedCents === 0 ? '' : moneyForInput(row.feeFixedCents, currency),
    tax: percentForInput(row.taxRatio),
    taxWay: row.isTaxIncluded ? 'included' : 'added',
    rounding: row.rounding,
    ending: row.endingCents === null ? '' : String(row.endingCents),
    deposit: percentForInput(row.depositRatio),
    secondOff: percentForInput(row.secondOffRatio),
    terms: row.terms ?? '',
    shopShare: percentForInput(row.shopShareRatio),
    leastPairs: numberForInput(row.leastPairs),
    version: String(row.version),
  };
}

/** A material's form; a style, or every one, is asked for only where there are several. */
export function readMaterialForm(body: FormBody, currency: string, styleIds: readonly number[]): Result<MaterialEntry> {
  const form = readFields(body, currency);
  const isForAll = styleIds.length === 1 || textOf(body, 'styleId') === everyStyle;
  const one = isForAll ? null : form.optionalId('styleId', styleIds, { sentence: 'Choose a style of the list' });
  if (!isForAll && one === null && form.problems.length === 0) form.say('styleId', 'Choose the style it goes into.');
  const entry = {
    styleIds: isForAll ? styleIds : one === null ? [] : [one],
    name: form.text('name', { sentence: 'Enter what it is, like Grip line', most: 80 }),
    eachCents: form.money('each', { sentence: 'Enter what one costs, like 0.90' }),
    perPair: form.number('perPair', {
      sentence: 'Enter how many go into a pair, like 1 or 2',
      least: 0.01,
      most: 1000,
    }),
  };
  return form.result(() => entry);
}

export function materialValues(
  row: { readonly name: string; readonly eachCents: number; readonly version: number },
  perPair: number,
  currency: string,
): FormValues {
  return {
    name: row.name,
    each: moneyForInput(row.eachCents, currency),
    perPair: numberForInput(perPair, 2),
    version: String(row.version),
  };
}

/** A running cost that was paid. */
export function readExpenseForm(
  body: FormBody,
  currency: string,
): Result<Pick<ExpenseRow, 'kind' | 'cents'> & { day: Day }> {
  const form = readFields(body, currency);
  const entry = {
    day: form.day('day', { sentence: 'Choose the day it was paid' }),
    kind: form.text('what', { sentence: 'Enter what it was for, like Table at the fair', most: 120 }),
    cents: form.money('amount', { sentence: 'Enter what was paid, like 45.00' }),
  };
  return form.result(() => entry);
}
