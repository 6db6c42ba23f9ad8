import { addDays, type Day } from '#core/shared/calendar.ts';
import { formatCents } from '#core/shared/format.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Arrival } from '#flows/buying/bring-home.ts';
import type { ElsewhereEntry } from '#flows/buying/buy-elsewhere.ts';
import type { BasketOrder, OrderedPacks, PurchaseChange } from '#flows/buying/order-basket.ts';
import type { Receipt } from '#flows/buying/receive-purchase.ts';
import { type FieldReader, type FormBody, readFields, textOf } from '#server/forms/fields.ts';
import { readDay } from '#server/forms/shelf.ts';

const packsWish = (sentence: string) => ({ sentence, least: 0, most: 1000, isWhole: true });
const priceWish = { sentence: 'Enter what a pack costs, like 8.90' };

function readBill(fields: FieldReader) {
  return {
    shippingCents:
      fields.optionalMoney('shipping', { sentence: 'Enter the postage that is paid, like 4.50; 0 if there is none' }) ??
      0,
    offCents:
      fields.optionalMoney('off', {
        sentence: 'Enter what was taken off the whole order, like 2.50, or leave it empty',
      }) ?? 0,
  };
}

function refuseTooMuchOff(fields: FieldReader, offCents: number, goodsCents: number, currency: string): void {
  if (offCents <= goodsCents || fields.problems.length > 0) return;
  fields.say('off', `More cannot be taken off than the goods cost, ${formatCents(goodsCents, currency)}.`);
}

const goodsOf = (packs: readonly { readonly packs: number; readonly priceCents: number }[]) =>
  packs.reduce((sum, each) => sum + each.packs * each.priceCents, 0);

/** A basket that was ordered. @param offerIds the prices of the shop, one row of the form each */
export function parseBasketOrder(
  body: FormBody,
  context: {
    readonly currency: string;
    readonly today: Day;
    readonly supplierId: number;
    readonly deliveryDays: number;
    readonly offerIds: readonly number[];
  },
): Result<BasketOrder> {
  const { currency, supplierId, offerIds } = context;
  const fields = readFields(body, currency);
  const packs: OrderedPacks[] = [];
  for (const offerId of offerIds) {
    const count = fields.optionalNumber(
      `packs-${offerId}`,
      packsWish('Enter how many packs you ordered, like 2; 0 for none'),
    );
    if (!count) continue;
    packs.push({ offerId, packs: count, priceCents: fields.money(`price-${offerId}`, priceWish) });
  }
  if (packs.length === 0 && fields.problems.length === 0) {
    fields.say(`packs-${offerIds[0] ?? ''}`, 'Enter how many packs you ordered, like 2.');
  }
  const bill = readBill(fields);
  refuseTooMuchOff(fields, bill.offCents, goodsOf(packs), currency);
  const orderedDay = readDay(fields, 'orderedDay', 'Enter the day you ordered it', context.today);
  const expectedDay = fields.optionalDay('expectedDay', {
    sentence: 'Enter the day it should be here, like 2026-11-29',
  });
  if (expectedDay !== null && fields.problems.length === 0 && expectedDay < orderedDay) {
    fields.say('expectedDay', 'It cannot be here before it was ordered: enter a later day.');
  }
  return fields.result(() => ({
    supplierId,
    orderedDay,
    expectedDay: expectedDay ?? addDays(orderedDay, context.deliveryDays),
    ...bill,
    packs,
  }));
}

/** Packs of one row of a form, in one dye lot or two: of those that came, `more` are of the second. */
function readCame(
  fields: FieldReader,
  id: number,
): readonly { readonly packs: number; readonly dyeLot: string | null }[] {
  const wish = packsWish('Enter how many packs came, like 2; 0 when none did');
  const came = fields.optionalNumber(`packs-${id}`, wish) ?? 0;
  const second = fields.optionalNumber(`more-${id}`, wish) ?? 0;
  const dyeLot = fields.optionalText(`lot-${id}`);
  const otherLot = fields.optionalText(`lot2-${id}`);
  if (second > came && !fields.problems.some(({ path }) => path === `packs-${id}`))
    fields.say(`more-${id}`, `Only ${came} came in all. Enter how many of those are of the other lot.`);
  const first = Math.max(0, came - second);
  if (second > 0 && first > 0 && dyeLot === otherLot) {
    fields.say(`lot2-${id}`, 'Enter the other dye lot, or count all packs in one place.');
  }
  return [
    { packs: first, dyeLot },
    { packs: second, dyeLot: otherLot },
  ].filter(({ packs }) => packs > 0);
}

function refuseNothing(fields: FieldReader, packs: readonly unknown[], firstId: number | undefined): void {
  if (packs.length > 0 || fields.problems.length > 0) return;
  fields.say(`packs-${firstId ?? ''}`, 'Enter how many packs came, like 2.');
}

/** A basket that is here. @param offerIds the prices of the shop, one row of the form each */
export function parseArrival(
  body: FormBody,
  context: {
    readonly currency: string;
    readonly today: Day;
    readonly supplierId: number;
    readonly offerIds: readonly number[];
  },
): Result<Arrival> {
  const { currency, today, supplierId, offerIds } = context;
  const fields = readFields(body, currency);
  const packs = offerIds.flatMap((offerId) => {
    const came = readCame(fields, offerId);
    if (came.length === 0) return [];
    const priceCents = fields.money(`price-${offerId}`, priceWish);
    return came.map((each) => ({ ...each, offerId, priceCents }));
  });
  refuseNothing(fields, packs, offerIds[0]);
  const bill = readBill(fields);
  refuseTooMuchOff(fields, bill.offCents, goodsOf(packs), currency);
  const day = readDay(fields, 'day', 'Enter the day it came', today);
  return fields.result(() => ({ supplierId, day, ...bill, packs }));
}

/** What came of a purchase. @param lineIds its lines that lack packs, one row of the form each */
export function parseReceipt(body: FormBody, lineIds: readonly number[], today: Day): Result<Receipt> {
  const fields = readFields(body);
  const packs = lineIds.flatMap((lineId) => readCame(fields, lineId).map((came) => ({ ...came, lineId })));
  refuseNothing(fields, packs, lineIds[0]);
  const day = readDay(fields, 'day', 'Enter the day it came', today);
  return fields.result(() => ({ day, packs }));
}

/** Another day, and with `lines` other prices and postage. */
export function parsePurchaseChange(
  body: FormBody,
  currency: string,
  lines: readonly { readonly id: number; readonly packs: number }[] | null,
): Result<PurchaseChange> {
  const fields = readFields(body, currency);
  const expectedDay = fields.day('expectedDay', { sentence: 'Enter the day it should be here, like 2026-11-29' });
  if (lines === null) return fields.result(() => ({ expectedDay }));
  const prices = lines.map(({ id }) => ({ lineId: id, priceCents: fields.money(`price-${id}`, priceWish) }));
  const bill = readBill(fields);
  const goods = prices.map(({ priceCents }, i) => ({ packs: lines[i]!.packs, priceCents }));
  refuseTooMuchOff(fields, bill.offCents, goodsOf(goods), currency);
  return fields.result(() => ({ expectedDay, bill: { ...bill, prices } }));
}

/** Yarn that was bought elsewhere. */
export function parseElsewhere(
  body: FormBody,
  context: {
    readonly currency: string;
    readonly unitSystem: UnitSystem;
    readonly today: Day;
    readonly supplierIds: readonly number[];
    readonly colours: readonly { readonly id: number; readonly ballMg: number }[];
  },
): Result<ElsewhereEntry> {
  const { currency, unitSystem, supplierIds, colours } = context;
  const fields = readFields(body, currency, unitSystem);
  const colourIds = colours.map(({ id }) => id);
  const yarnColourId = fields.optionalId('colour', colourIds, { sentence: 'Choose the colour' });
  if (textOf(body, 'colour').trim() === '') fields.say('colour', 'Choose the colour.');
  const supplierId = fields.optionalId('shop', supplierIds, { sentence: 'Choose the shop, or somewhere else' });
  const packs = fields.number('packs', {
    sentence: 'Enter how many packs or balls you bought, like 2',
    least: 1,
    most: 1000,
    isWhole: true,
  });
  const ballG = fields.optionalMeasure('ballG', 'massG', {
    sentence: {
      metric: 'Enter how many grams a ball has, like 100, or leave it empty for the usual size',
      imperial: 'Enter how many ounces a ball has, like 3.5, or leave it empty for the usual size',
    },
    least: 0.5,
    most: 100_000,
  });
  const ballsPerPack =
    fields.optionalNumber('ballsPerPack', {
      sentence: 'Enter how many balls are in a pack, like 1 or 10',
      least: 1,
      most: 1000,
      isWhole: true,
    }) ?? 1;
  const priceCents = fields.money('price', { sentence: 'Enter what one of them cost, like 8.90; 0 if it was free' });
  const shippingCents =
    fields.optionalMoney('shipping', { sentence: 'Enter the postage that was paid, like 4.50, or leave it empty' }) ??
    0;
  const dyeLot = fields.optionalText('dyeLot');
  const day = readDay(fields, 'day', 'Enter the day you got it', context.today);
  return fields.result(() => {
    const usualMg = colours.find(({ id }) => id === yarnColourId)!.ballMg;
    const ballMg = ballG === null ? usualMg : roundHalfUp(ballG * 1000);
    const bought = { ballMg, ballsPerPack, packs, priceCents, shippingCents };
    return { supplierId, yarnColourId: yarnColourId!, ...bought, dyeLot, day };
  });
}
