import type { Factor, Join, LengthRule, Mark, Section, StitchRule, StyleBody } from '#core/styles/style.ts';
import type { FormBody, FormValues } from '#server/forms/fields.ts';
import { textOf } from '#server/forms/fields.ts';
import { numberForInput } from '#server/forms/numbers.ts';

/**
 * A style as the fields of its form: one text a field, named by its place, like `pieces.0.sections.2.to.repeat`. The
 * lists of a style are numbered from 0.
 */

const topFields = ['style', 'make', 'roles', 'settings', 'lengths', 'pieces', 'marks', 'joins', 'checks'];
const sampleFields = ['person', 'size', 'yarn', 'stitches', 'rows', 'units'];
const shape = /^([a-z]+)((\.\d{1,2}|\.[a-z]+)*)$/i;
const mostLetters = 2000;

/** What was typed in the form of a style, and nothing else that came with it. */
export function styleValuesIn(body: FormBody): FormValues {
  const values: Record<string, string> = {};
  for (const name of Object.keys(body)) {
    const [, top = ''] = shape.exec(name) ?? [];
    if (topFields.includes(top) || sampleFields.includes(name) || name === 'version') {
      values[name] = textOf(body, name).slice(0, mostLetters);
    }
  }
  return values;
}

/** How many entries a list of the form has. */
export function countIn(values: FormValues, list: string): number {
  let most = -1;
  for (const name of Object.keys(values)) {
    if (!name.startsWith(`${list}.`)) continue;
    const index = Number(name.slice(list.length + 1).split('.')[0]);
    if (Number.isInteger(index)) most = Math.max(most, index);
  }
  return most + 1;
}

/** The names of the entries of a list, as typed. */
export function namesIn(values: FormValues, list: string): string[] {
  return Array.from({ length: countIn(values, list) }, (_, index) => (values[`${list}.${index}.name`] ?? '').trim());
}

/** Several names in one field. */
export function namesFrom(text: string): string[] {
  return text
    .split(',')
    .map((name) => name.trim())
    .filter(Boolean);
}

const factorText = (factor: Factor) => (typeof factor === 'number' ? numberForInput(factor, 6) : factor);
const yes = (is: boolean) => (is ? 'yes' : '');

function stitchValues(rule: StitchRule): FormValues {
  return {
    by: rule.across === undefined ? 'edge' : 'across',
    across: rule.across ?? '',
    edge: (rule.alongEdge ?? []).join(', '),
    fabric: rule.fabric,
    edges: String(rule.edges),
    repeat: String(rule.repeat),
    plus: String(rule.plus),
    least: String(rule.least),
    until: rule.raiseUntil ?? '',
  };
}

function under(path: string, values: FormValues): FormValues {
  return Object.fromEntries(Object.entries(values).map(([name, value]) => [`${path}.${name}`, value]));
}

/** What the fields of another way begin with, so that changing the way asks for little. */
const newStitches = stitchValues({ across: '', fabric: 'stocking', edges: 2, repeat: 1, plus: 0, least: 4 });
const newRows = { by: 'count', count: '2', along: '', less: '', end: 'wrong side', least: '2' };
const newChange = {
  ...{ limit: '16', between: '1', fabric: 'stocking', by: '2', every: '2' },
  ...under('to', newStitches),
};

/** The fields of one step. */
export function sectionValues(section: Section): FormValues {
  const shared = { do: section.do, name: section.name, colour: section.colour };
  switch (section.do) {
    case 'castOn':
    case 'pickUp':
      return { ...shared, next: section.next, ...under('to', stitchValues(section.stitches)) };
    case 'work': {
      const { rows } = section;
      const ofRows =
        'along' in rows
          ? {
              by: 'along',
              along: rows.along,
              less: rows.lessRows.join(', '),
              end: rows.endAfter,
              least: String(rows.least),
            }
          : { by: 'count', count: factorText(rows.count) };
      return {
        ...shared,
        fabric: section.fabric,
        plain: yes(section.firstRow === 'plain'),
        stripeColour: section.stripes?.colour ?? '',
        stripeRows: section.stripes ? String(section.stripes.rows) : '',
        ...under('rows', { ...newRows, ...ofRows }),
      };
    }
    case 'change':
      if (section.how === 'two together across') {
        const { how, repeatWhileAbove, plainRowsBetween } = section;
        const own = { limit: factorText(repeatWhileAbove), between: String(plainRowsBetween) };
        return { ...shared, how, ...newChange, ...own };
      }
      return {
        ...shared,
        ...newChange,
        how: section.how,
        fabric: section.fabric,
        ...(section.how === 'evenly' ? {} : { by: String(section.by), every: String(section.everyRows) }),
        ...under('to', stitchValues(section.to)),
      };
    case 'drawUp':
      return shared;
    case 'bindOff':
      return { ...shared, loose: yes(section.loose) };
  }
}

function lengthValues(name: string, { sum }: LengthRule): FormValues {
  const parts = sum.map((part) =>
    'mm' in part ? { of: 'mm', times: factorText(part.mm) } : { of: part.of, times: factorText(part.times) },
  );
  return { name, ...listValues('sum', parts) };
}

function markValues({ name, edges, to, raiseUntil }: Mark): FormValues {
  const shared = { name, edges: edges.join(', '), until: raiseUntil ?? '' };
  if (typeof to !== 'object') return { ...shared, how: 'share', value: factorText(to) };
  return 'after' in to
    ? { ...shared, how: 'after', value: to.after }
    : { ...shared, how: 'oneLess', value: factorText(to.oneLess) };
}

function joinValues(join: Join): FormValues {
  return {
    name: join.name,
    how: join.fold === undefined ? 'edges' : 'fold',
    one: join.fold ?? (join.edges?.[0] ?? []).join(', '),
    other: (join.edges?.[1] ?? []).join(', '),
    colour: join.colour,
    takes: join.takes === null ? '' : numberForInput(join.takes),
    tail: join.withTail ?? '',
    place: join.place ?? '',
  };
}

const newCheck = { stretch: '1.35', over: 'heelAnkleGirth', other: '', from: '0.9', to: '1.1' };

function checkValues(check: StyleBody['checks'][number]): FormValues {
  const { name, otherwise } = check;
  if ('ratio' in check) {
    const [one, other] = check.ratio.map((side) => side.join(', '));
    const [from, to] = check.between;
    return {
      ...newCheck,
      name,
      otherwise,
      how: 'ratio',
      one: one ?? '',
      other: other ?? '',
      from: numberForInput(from),
      to: numberForInput(to),
    };
  }
  const { edge, stretch, over } = check;
  return { ...newCheck, name, otherwise, how: 'stretch', one: edge.join(', '), stretch: numberForInput(stretch), over };
}

function listValues(list: string, entries: readonly FormValues[]): FormValues {
  return Object.assign({}, ...entries.map((entry, index) => under(`${list}.${index}`, entry)));
}

/** A style's body as if its fields had just been typed. */
export function styleValuesOf(body: StyleBody): FormValues {
  return {
    style: body.style,
    make: String(body.make),
    ...listValues('roles', body.roles),
    ...listValues(
      'settings',
      Object.entries(body.settings).map(([name, value]) => ({
        name,
        value: numberForInput(value, 6),
        child: Object.hasOwn(body.settingsForChild, name) ? numberForInput(body.settingsForChild[name], 6) : '',
      })),
    ),
    ...listValues(
      'lengths',
      Object.entries(body.lengths).map(([name, length]) => lengthValues(name, length)),
    ),
    ...listValues(
      'pieces',
      body.pieces.map(({ name, isOptional, gaugeOf, sections }) => ({
        ...{ name, isOptional: yes(isOptional), gaugeOf },
        ...listValues('sections', sections.map(sectionValues)),
      })),
    ),
    ...listValues('marks', body.marks.map(markValues)),
    ...listValues('joins', body.joins.map(joinValues)),
    ...listValues('checks', body.checks.map(checkValues)),
  };
}
