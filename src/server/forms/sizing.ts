import type { Result } from '#core/shared/problem.ts';
import { persons } from '#core/sizing/foot.ts';
import type { BandEntry } from '#flows/sizing/save-band.ts';
import { type FormBody, readFields } from '#server/forms/fields.ts';

/** A band's form: name, whose feet, and from which foot length to which, in centimetres. */
export function parseBand(body: FormBody): Result<BandEntry> {
  const fields = readFields(body);
  const name = fields.text('name', { sentence: 'Name the band, like 36/37 or M', most: 40 });
  const person = fields.choice('person', persons, { sentence: 'Choose whose feet it is for' });
  const length = { least: 6, most: 36 };
  const from = fields.number('from', { sentence: 'Enter the shortest foot in centimetres, like 22.5', ...length });
  const to = fields.number('to', { sentence: 'Enter the longest foot in centimetres, like 23.8', ...length });
  if (fields.problems.length === 0 && to <= from) {
    fields.say('to', 'The longest foot must be longer than the shortest.');
  }
  return fields.result(() => ({ name, person, fromMm: from * 10, toMm: to * 10 }));
}
