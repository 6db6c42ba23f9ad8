import { addDays, type Day } from '#core/shared/calendar.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import { csvLikes } from '#flows/orders/csv-likes.ts';
import type { KnownNames } from '#flows/orders/known-names.ts';
import { orderCsvColumns } from '#flows/orders/read-order-csv.ts';

type Row = Partial<Record<(typeof orderCsvColumns)[number], string>>;

/** A table to begin from, in the workshop's own outlets, styles and colours: what it holds can be imported as it is. */
export function exampleOrders(known: KnownNames, today: Day): readonly (readonly string[])[] {
  const likes = csvLikes[known.settings.unitSystem];
  const outlet = known.outlets[0]?.name ?? 'By order';
  const style = known.styles[0]?.name ?? 'Two-piece slipper';
  const main = known.colours[0];
  const other = known.colours.find((colour) => colour.yarnId === main?.yarnId && colour.id !== main?.id) ?? main;
  const yarn = main?.yarnName ?? '';
  const band = known.bands[0];
  const bandSize = band ? (band.person === 'unknown' ? band.name : `${band.person} ${band.name}`) : 'man EU 43';
  const due = addDays(today, 28);
  const shared = { outlet, style, yarn, fit: 'usual', 'foot colour': main?.name ?? 'Oat' };
  const rows: Row[] = [
    {
      ...shared,
      customer: 'Ada Example',
      reference: 'A-1',
      due,
      size: 'woman EU 38',
      'cuff colour': other?.name ?? '',
      cuff: 'short',
      quantity: '1',
    },
    {
      ...shared,
      customer: 'Ada Example',
      reference: 'A-1',
      due,
      size: likes.feet,
      'ball girth': likes.girths,
      person: 'man',
      cuff: 'turned down',
      quantity: '2',
    },
    { ...shared, size: bandSize, cuff: 'none', quantity: '3' },
  ];
  return [orderCsvColumns, ...rows.map((row) => orderCsvColumns.map((column) => row[column] ?? ''))];
}

/** What stands in each column, for the page. */
export function orderCsvWords(system: UnitSystem): Readonly<Record<(typeof orderCsvColumns)[number], string>> {
  const likes = csvLikes[system];
  return {
    customer: 'For whom. Empty for stock.',
    reference: 'A number or word the customer gave it. The same one is not taken twice.',
    outlet: 'Where it goes: the name of one of your outlets.',
    due: 'The day it is due, like 2026-12-04 or 4.12.2026. May be empty.',
    style: 'The name of one of your styles. Empty for the one used last.',
    person: 'woman, man or child, unless the size says so.',
    size: `woman EU 38, UK 5.5, 38/39, M, ${likes.foot}, ${likes.feet}, or a child’s age, like age 5.`,
    'ball girth': `Of a measured foot, around its ball: ${likes.girth}, or left and right, ${likes.girths}.`,
    'heel girth': `Of a measured foot, around the heel and the front of the ankle: ${likes.heel}, or left and right.`,
    yarn: 'The name of the yarn, where two yarns have a colour of the same name.',
    'foot colour': 'The name of a colour, or of two held together, like Marigold + Cream.',
    'cuff colour': 'The name of a colour, for the cuff or the leg. Empty for the same as the foot.',
    cuff: `short, turned down, none, or a height like ${likes.cuff}. Empty for short.`,
    fit: 'snug, usual or roomy. Empty for usual.',
    quantity: 'How many pairs. Without this column it is one.',
    price: 'What was agreed for one pair. Empty for the price of the price sheet.',
  };
}
