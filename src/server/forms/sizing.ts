import type { UnitSystem } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { persons } from '#core/sizing/foot.ts';
import type { BandEntry } from '#flows/sizing/save-band.ts';
import { type FormBody, readFields } from '#server/forms/fields.ts';

/** A band's form: name, whose feet, and from which foot length to which, in centimetres or inches. @param was as stored now */
export function parseBand(
  body: FormBody,
  unitSystem: UnitSystem,
  was?: { readonly fromMm: number; readonly toMm: number },
): Result<BandEntry> {
  const fields = readFields(body, undefined, unitSystem);
  const name = fields.text('name', { sentence: 'Name the band, like 36/37 or M', most: 40 });
  const person = fields.choice('person', persons, { sentence: 'Choose whose feet it is for' });
  const range = { least: 60, most: 360 };
  const fromMm = fields.measure('from', 'lengthMm', {
    sentence: {
      metric: 'Enter the shortest foot in centimetres, like 22.5',
      imperial: 'Enter the shortest foot in inches, like 8 3/4',
    },
    was: was?.fromMm,
    ...range,
  });
  const toMm = fields.measure('to', 'lengthMm', {
    sentence: {
      metric: 'Enter the longest foot in centimetres, like 23.8',
      imperial: 'Enter the longest foot in inches, like 9 1/4',
    },
    was: was?.toMm,
    ...range,
  });
  if (fields.problems.length === 0 && toMm <= fromMm) {
    fields.say('to', 'The longest foot must be longer than the shortest.');
  }
  return fields.result(() => ({ name, person, fromMm, toMm }));
}
