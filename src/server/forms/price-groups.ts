import type { UnitSystem } from '#core/shared/measures.ts';
import { measureForInput } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import type { PriceGroupRow } from '#db/stores/pricing.ts';
import type { SizeBandRow } from '#db/stores/sizing.ts';
import type { GroupEntry } from '#flows/pricing/price-groups.ts';
import { type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { moneyForInput } from '#server/forms/numbers.ts';

/** What a group's form may name. */
export type GroupChoices = {
  readonly outletIds: readonly number[];
  readonly styleIds: readonly number[];
  readonly bands: readonly Pick<SizeBandRow, 'id' | 'fromMm' | 'toMm'>[];
  readonly currency: string;
  readonly units: UnitSystem;
};

/** One price for a run of sizes: from a size to a size, or from a foot length to another. */
export function readGroupForm(body: FormBody, choices: GroupChoices, was?: PriceGroupRow): Result<GroupEntry> {
  const form = readFields(body, choices.currency, choices.units);
  const chosenId = (name: string, ids: readonly number[], sentence: string) => {
    const id = form.optionalId(name, ids, { sentence });
    if (id === null && textOf(body, name).trim() === '') form.say(name, `${sentence}.`);
    return id ?? 0;
  };
  const lengthOf = (band: 'fromBand' | 'toBand', box: 'from' | 'to', stored: number | undefined) => {
    const ids = choices.bands.map(({ id }) => id);
    const id = form.optionalId(band, ids, { sentence: 'Choose a size of the list' });
    const found = choices.bands.find((each) => each.id === id);
    if (found) return box === 'from' ? found.fromMm : found.toMm;
    const sentence = {
      metric: `Enter the ${box === 'from' ? 'shortest' : 'longest'} foot in cm, like ${box === 'from' ? 22 : 26}, or choose a size`,
      imperial: `Enter the ${box === 'from' ? 'shortest' : 'longest'} foot in inches, like ${box === 'from' ? 8.5 : 10}, or choose a size`,
    };
    return form.measure(box, 'lengthMm', { sentence, least: 60, most: 360, was: stored });
  };
  const entry = {
    name: form.text('name', { sentence: 'Enter a name, like women', most: 80 }),
    outletId: chosenId('outletId', choices.outletIds, 'Choose where this price counts'),
    styleId: chosenId('styleId', choices.styleIds, 'Choose a style of the list'),
    fromMm: lengthOf('fromBand', 'from', was?.fromMm),
    toMm: lengthOf('toBand', 'to', was?.toMm),
    priceCents: form.money('price', { sentence: 'Enter the price of a pair, like 45' }),
  };
  if (form.problems.length === 0 && entry.toMm < entry.fromMm) {
    form.say(
      textOf(body, 'toBand') === '' ? 'to' : 'toBand',
      'The longest foot is shorter than the shortest. Change one.',
    );
  }
  return form.result(() => entry);
}

/** A group as its form shows it. */
export function groupValues(row: PriceGroupRow, currency: string, units: UnitSystem): FormValues {
  return {
    name: row.name,
    outletId: String(row.outletId),
    styleId: String(row.styleId),
    from: measureForInput(row.fromMm, 'lengthMm', units),
    to: measureForInput(row.toMm, 'lengthMm', units),
    price: moneyForInput(row.priceCents, currency),
    version: String(row.version),
  };
}
