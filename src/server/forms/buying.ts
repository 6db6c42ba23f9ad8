import type { BasketBreak, PackBreak } from '#core/buying/offers.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Settings } from '#core/shared/settings.ts';
import type { PackEntry } from '#flows/buying/save-prices.ts';
import type { ShopEntry } from '#flows/buying/save-shop.ts';
import { type FieldReader, type FormBody, readFields, textOf } from '#server/forms/fields.ts';

export function parseShop(body: FormBody, currency: string): Result<ShopEntry> {
  const fields = readFields(body, currency);
  const entry = {
    name: fields.text('name', { sentence: 'Enter the name of the shop' }),
    shippingCents:
      fields.optionalMoney('shipping', { sentence: 'Enter the postage of one order, like 4.50; 0 if you fetch it' }) ??
      0,
    freeFromCents: fields.optionalMoney('freeFrom', {
      sentence: 'Enter from which amount postage is free, like 50, or leave it empty',
    }),
    minimumCents:
      fields.optionalMoney('minimum', {
        sentence: 'Enter the least order the shop takes, like 20, or leave it empty',
      }) ?? 0,
    deliveryDays: fields.number('deliveryDays', {
      sentence: 'Enter how many days it takes to come, like 4; 0 if you fetch it',
      least: 0,
      most: 365,
      isWhole: true,
    }),
    breaks: readBasketBreaks(fields, body),
  };
  return fields.result(() => entry);
}

/** How many breaks a form has room for. */
export const breakRows = [0, 1, 2] as const;

/** What is taken off a whole basket, row by row; each further row wants more goods and takes more off. */
function readBasketBreaks(fields: FieldReader, body: FormBody): BasketBreak[] {
  const breaks: BasketBreak[] = [];
  for (const row of breakRows) {
    const [from, off] = [`breakFrom-${row}`, `breakOff-${row}`];
    if (textOf(body, from).trim() === '' && textOf(body, off).trim() === '') continue;
    const already = fields.problems.length;
    const fromCents = fields.money(from, {
      sentence: 'Enter from which amount something is taken off, like 50',
      least: 1,
    });
    const offRatio = fields.percent(off, {
      sentence: 'Enter the percentage taken off, like 10',
      least: 0.001,
      most: 0.9,
    });
    if (fields.problems.length > already) continue;
    const last = breaks.at(-1);
    if (last && fromCents <= last.fromCents) fields.say(from, 'Enter a larger amount than in the row before.');
    else if (last && offRatio <= last.offRatio) fields.say(off, 'Enter a larger percentage than in the row before.');
    else breaks.push({ fromCents, offRatio });
  }
  return breaks;
}

/** Lower prices from so many packs on, row by row. @param priceCents what one pack costs without */
function readPackBreaks(fields: FieldReader, body: FormBody, priceCents: number): PackBreak[] {
  const breaks: PackBreak[] = [];
  for (const row of breakRows) {
    const [from, price] = [`breakPacks-${row}`, `breakPrice-${row}`];
    if (textOf(body, from).trim() === '' && textOf(body, price).trim() === '') continue;
    const already = fields.problems.length;
    const fromPacks = fields.number(from, {
      sentence: 'Enter from how many packs on it is cheaper, like 5',
      least: 2,
      most: 100_000,
      isWhole: true,
    });
    const lowerCents = fields.money(price, { sentence: 'Enter what each pack then costs, like 7.90' });
    if (fields.problems.length > already) continue;
    const last = breaks.at(-1);
    if (last && fromPacks <= last.fromPacks) fields.say(from, 'Enter more packs than in the row before.');
    else if (lowerCents >= (last?.priceCents ?? priceCents)) {
      fields.say(
        price,
        last ? 'Enter a lower price than in the row before.' : 'Enter a lower price than that of one pack.',
      );
    } else breaks.push({ fromPacks, priceCents: lowerCents });
  }
  return breaks;
}

function readPack(fields: FieldReader, body: FormBody): Omit<PackEntry, 'ballMg'> & { readonly ballG: number | null } {
  const pack = {
    ballG: fields.optionalMeasure('ballG', 'massG', {
      sentence: {
        metric: 'Enter how many grams a ball has, like 100, or leave it empty for the usual size',
        imperial: 'Enter how many ounces a ball has, like 3.5, or leave it empty for the usual size',
      },
      least: 0.5,
      most: 100_000,
    }),
    ballsPerPack:
      fields.optionalNumber('ballsPerPack', {
        sentence: 'Enter how many balls are in a pack, like 1 or 10',
        least: 1,
        most: 1000,
        isWhole: true,
      }) ?? 1,
    priceCents: fields.money('price', { sentence: 'Enter what a pack costs, like 8.90' }),
    stockPacks: fields.optionalNumber('stock', {
      sentence: 'Enter how many packs the shop has, like 6, or leave it empty',
      least: 0,
      most: 1_000_000,
      isWhole: true,
    }),
  };
  return { ...pack, breaks: readPackBreaks(fields, body, pack.priceCents) };
}

const mgOf = (grams: number) => roundHalfUp(grams * 1000);

type YarnToSell = { readonly id: number; readonly ballMg: number };
type ColourToSell = { readonly id: number; readonly yarnId: number };

/** What the form's one choice means: `yarn-3` all colours of a yarn, `colour-7` one colour. */
function coloursOfChoice(choice: string, colours: readonly ColourToSell[]): readonly ColourToSell[] {
  const match = /^(yarn|colour)-(\d{1,15})$/.exec(choice.trim());
  const id = Number(match?.[2]);
  return match?.[1] === 'yarn'
    ? colours.filter(({ yarnId }) => yarnId === id)
    : colours.filter((each) => each.id === id);
}

/** A price for one colour, or for all colours of a yarn at once. */
export function parsePrices(
  body: FormBody,
  context: {
    readonly currency: string;
    readonly unitSystem: UnitSystem;
    readonly supplierIds: readonly number[];
    readonly yarns: readonly YarnToSell[];
    readonly colours: readonly ColourToSell[];
  },
): Result<{ supplierId: number; entries: readonly (PackEntry & { readonly yarnColourId: number })[] }> {
  const fields = readFields(body, context.currency, context.unitSystem);
  const supplierId = fields.optionalId('shop', context.supplierIds, { sentence: 'Choose the shop' });
  if (supplierId === null && !fields.problems.some(({ path }) => path === 'shop'))
    fields.say('shop', 'Choose the shop.');
  const chosen = coloursOfChoice(textOf(body, 'what'), context.colours);
  if (chosen.length === 0) fields.say('what', 'Choose a yarn or one of its colours.');
  const { ballG, ...pack } = readPack(fields, body);
  const ballMgOf = new Map(context.yarns.map((yarn) => [yarn.id, yarn.ballMg]));
  return fields.result(() => ({
    supplierId: supplierId!,
    entries: chosen.map(({ id, yarnId }) => ({
      ...pack,
      yarnColourId: id,
      ballMg: ballG === null ? ballMgOf.get(yarnId)! : mgOf(ballG),
    })),
  }));
}

/** One pack of one colour, changed. @param usualBallMg taken when the ball size is left empty */
export function parsePack(
  body: FormBody,
  { currency, unitSystem }: Pick<Settings, 'currency' | 'unitSystem'>,
  usualBallMg: number,
): Result<PackEntry> {
  const fields = readFields(body, currency, unitSystem);
  const { ballG, ...pack } = readPack(fields, body);
  return fields.result(() => ({ ...pack, ballMg: ballG === null ? usualBallMg : mgOf(ballG) }));
}
