import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { checkStyle } from '#core/styles/check-style.ts';
import type {
  BodyMeasure,
  Change,
  Check,
  Factor,
  Join,
  LengthRule,
  Mark,
  Piece,
  RowRule,
  Section,
  Side,
  StitchRule,
  StyleBody,
} from '#core/styles/style.ts';
import { styleFormat } from '#core/styles/style.ts';
import { type FieldReader, type FormValues, readFields } from '#server/forms/fields.ts';
import { numberFrom } from '#server/forms/numbers.ts';
import { styleLimits as limits } from '#server/forms/style-limits.ts';
import { countIn, namesFrom, namesIn } from '#server/forms/style-values.ts';

export const sides: readonly Side[] = ['right side', 'wrong side'];
export const bodyMeasures: readonly BodyMeasure[] = ['footLength', 'ballGirth', 'heelAnkleGirth', 'cuffHeight'];
export const changeWays: readonly Change['how'][] = ['two together across', 'centre', 'edges', 'evenly'];

type Reading = { readonly fields: FieldReader; readonly values: FormValues };
type Range = { readonly least: number; readonly most: number };

function each<T>({ values }: Reading, list: string, read: (path: string) => T): T[] {
  return Array.from({ length: countIn(values, list) }, (_, index) => read(`${list}.${index}`));
}

const textAt = ({ values }: Reading, path: string) => (values[path] ?? '').trim();

function nameAt({ fields }: Reading, path: string): string {
  return fields.text(`${path}.name`, { sentence: 'Give it a name', most: 60 });
}

function whole({ fields }: Reading, path: string, sentence: string, range: Range): number {
  return fields.number(path, { sentence, ...range, isWhole: true });
}

/** A number, or the name of a setting. */
function factorAt(reading: Reading, path: string, like: string, { least, most }: Range = limits.factor): Factor {
  const text = textAt(reading, path);
  const number = numberFrom(text);
  if (number === null) {
    if (text === '') reading.fields.say(path, `Enter a number, like ${like}, or the name of a setting.`);
    else if (!namesIn(reading.values, 'settings').includes(text)) {
      reading.fields.say(path, `“${text}” is neither a number nor one of the settings.`);
    }
    return text;
  }
  if (number < least || number > most) reading.fields.say(path, `Enter a number from ${least} to ${most}.`);
  return number;
}

function stitchesAt(reading: Reading, path: string): StitchRule {
  const { fields } = reading;
  const until = textAt(reading, `${path}.until`);
  const by = fields.choice(`${path}.by`, ['across', 'edge'] as const, { sentence: 'Choose a length or edges' });
  const target =
    by === 'across'
      ? { across: fields.text(`${path}.across`, { sentence: 'Choose a length' }) }
      : { alongEdge: edgesAt(reading, `${path}.edge`) };
  return {
    ...target,
    fabric: fields.text(`${path}.fabric`, { sentence: 'Choose a fabric' }),
    edges: whole(reading, `${path}.edges`, 'Enter 0, 1 or 2 edges', { least: 0, most: 2 }),
    repeat: whole(reading, `${path}.repeat`, 'Enter a whole number of stitches, like 4', limits.repeat),
    plus: whole(reading, `${path}.plus`, 'Enter a whole number of stitches, like 2', limits.plus),
    least: whole(reading, `${path}.least`, 'Enter a whole number of stitches, like 8', limits.leastStitches),
    ...(until === '' ? {} : { raiseUntil: until }),
  };
}

function edgesAt({ fields, values }: Reading, path: string): string[] {
  const edges = namesFrom(values[path] ?? '');
  if (edges.length === 0) fields.say(path, 'Name at least one edge, like foot.left.');
  return edges;
}

function rowsAt(reading: Reading, path: string): RowRule {
  const { fields, values } = reading;
  const by = fields.choice(`${path}.by`, ['count', 'along'] as const, { sentence: 'Choose a number or a length' });
  if (by === 'count') return { count: factorAt(reading, `${path}.count`, '6', limits.rows) };
  return {
    along: fields.text(`${path}.along`, { sentence: 'Choose a length' }),
    lessRows: namesFrom(values[`${path}.less`] ?? ''),
    endAfter: fields.choice(`${path}.end`, sides, { sentence: 'Choose a side' }),
    least: whole(reading, `${path}.least`, 'Enter a whole number of rows, like 2', limits.rows),
  };
}

function changeAt(reading: Reading, path: string, shared: { readonly name: string; readonly colour: string }): Change {
  const { fields } = reading;
  const how = fields.choice(`${path}.how`, changeWays, { sentence: 'Choose how the stitches change' });
  if (how === 'two together across') {
    return {
      ...shared,
      do: 'change',
      how,
      repeatWhileAbove: factorAt(reading, `${path}.limit`, '16', limits.rows),
      plainRowsBetween: whole(reading, `${path}.between`, 'Enter 0 to 4 plain rows', { least: 0, most: 4 }),
    };
  }
  const fabric = fields.text(`${path}.fabric`, { sentence: 'Choose a fabric' });
  const to = stitchesAt(reading, `${path}.to`);
  if (how === 'evenly') return { ...shared, do: 'change', how, fabric, to };
  return {
    ...shared,
    do: 'change',
    how,
    fabric,
    by: whole(reading, `${path}.by`, 'Enter how many stitches go each time, like 2', limits.by),
    everyRows: whole(reading, `${path}.every`, 'Enter how many rows from one to the next, like 2', limits.everyRows),
    to,
  };
}

const sectionKinds: readonly Section['do'][] = ['castOn', 'pickUp', 'work', 'change', 'drawUp', 'bindOff'];

function sectionAt(reading: Reading, path: string): Section {
  const { fields } = reading;
  const kind = fields.choice(`${path}.do`, sectionKinds, { sentence: 'Choose what is done' });
  const shared = {
    name: nameAt(reading, path),
    colour: fields.text(`${path}.colour`, { sentence: 'Choose a colour' }),
  };
  switch (kind) {
    case 'castOn':
    case 'pickUp': {
      const next = fields.choice(`${path}.next`, sides, { sentence: 'Choose a side' });
      const stitches = stitchesAt(reading, `${path}.to`);
      if (kind === 'castOn') return { ...shared, do: kind, next, stitches };
      const { alongEdge } = stitches;
      if (!alongEdge) fields.say(`${path}.to.by`, 'Stitches are picked up along edges: choose edges.');
      return { ...shared, do: kind, next, stitches: { ...stitches, alongEdge: alongEdge ?? [] } };
    }
    case 'work': {
      const fabric = fields.text(`${path}.fabric`, { sentence: 'Choose a fabric' });
      const isPlain = fields.check(`${path}.plain`);
      const rows = rowsAt(reading, `${path}.rows`);
      const colour = fields.optionalText(`${path}.stripeColour`);
      const wish = { sentence: 'Enter how many rows a stripe has, like 2', least: 1, most: 99, isWhole: true };
      const stripes = colour === null ? {} : { stripes: { colour, rows: fields.number(`${path}.stripeRows`, wish) } };
      return { ...shared, do: kind, fabric, ...(isPlain ? { firstRow: 'plain' } : {}), rows, ...stripes };
    }
    case 'change':
      return changeAt(reading, path, shared);
    case 'drawUp':
      return { ...shared, do: kind };
    case 'bindOff':
      return { ...shared, do: kind, loose: fields.check(`${path}.loose`) };
  }
}

function pieceAt(reading: Reading, path: string): Piece {
  const { fields } = reading;
  return {
    name: nameAt(reading, path),
    isOptional: fields.check(`${path}.isOptional`),
    gaugeOf: fields.text(`${path}.gaugeOf`, { sentence: 'Choose whose yarn gives the gauge' }),
    sections: each(reading, `${path}.sections`, (section) => sectionAt(reading, section)),
  };
}

function lengthAt(reading: Reading, path: string): [string, LengthRule] {
  const of = ['mm', ...bodyMeasures] as const;
  const sum = each(reading, `${path}.sum`, (part) => {
    const measure = reading.fields.choice(`${part}.of`, of, { sentence: 'Choose what is added' });
    if (measure !== 'mm') return { of: measure, times: factorAt(reading, `${part}.times`, '0.93') };
    return { mm: factorAt(reading, `${part}.times`, '6', limits.mm) };
  });
  return [nameAt(reading, path), { sum }];
}

function markAt(reading: Reading, path: string): Mark {
  const { fields } = reading;
  const until = textAt(reading, `${path}.until`);
  const how = fields.choice(`${path}.how`, ['share', 'oneLess', 'after'] as const, {
    sentence: 'Choose where the mark stands',
  });
  const value = `${path}.value`;
  const share = () => factorAt(reading, value, '0.5', limits.share);
  const to =
    how === 'after'
      ? { after: fields.text(value, { sentence: 'Enter the name of a step' }) }
      : how === 'oneLess'
        ? { oneLess: share() }
        : share();
  return {
    name: nameAt(reading, path),
    edges: edgesAt(reading, `${path}.edges`),
    to,
    ...(until === '' ? {} : { raiseUntil: until }),
  };
}

function joinAt(reading: Reading, path: string): Join {
  const { fields } = reading;
  const how = fields.choice(`${path}.how`, ['fold', 'edges'] as const, { sentence: 'Choose how it is sewn' });
  const [tail, place] = [textAt(reading, `${path}.tail`), textAt(reading, `${path}.place`)];
  const one = edgesAt(reading, `${path}.one`);
  if (how === 'fold' && one.length > 1) fields.say(`${path}.one`, 'One edge is folded: name one.');
  const edges = how === 'fold' ? { fold: one[0] ?? '' } : { edges: [one, edgesAt(reading, `${path}.other`)] as const };
  return {
    name: nameAt(reading, path),
    ...edges,
    colour: fields.text(`${path}.colour`, { sentence: 'Choose a colour' }),
    takes: fields.optionalNumber(`${path}.takes`, {
      sentence: 'Enter the stitches that the seam takes at each edge, like 0.5, or nothing',
      ...limits.takes,
    }),
    ...(tail === '' ? {} : { withTail: tail }),
    ...(place === '' ? {} : { place }),
  };
}

function checkAt(reading: Reading, path: string): Check {
  const { fields } = reading;
  const how = fields.choice(`${path}.how`, ['stretch', 'ratio'] as const, { sentence: 'Choose what is checked' });
  const shared = {
    name: nameAt(reading, path),
    otherwise: fields.text(`${path}.otherwise`, { sentence: 'Say what to do when it does not hold' }),
  };
  const one = edgesAt(reading, `${path}.one`);
  if (how === 'stretch') {
    const stretch = fields.number(`${path}.stretch`, {
      sentence: 'Enter how many times its length it stretches, like 1.35',
      ...limits.stretch,
    });
    const over = fields.choice(`${path}.over`, bodyMeasures, { sentence: 'Choose what it must pass' });
    return { ...shared, edge: one, stretch, over };
  }
  const ratio = [one, edgesAt(reading, `${path}.other`)] as const;
  const from = fields.number(`${path}.from`, { sentence: 'Enter a ratio, like 0.88', ...limits.ratio });
  const to = fields.number(`${path}.to`, { sentence: 'Enter a ratio, like 1.15', ...limits.ratio });
  return { ...shared, ratio, between: [from, to] };
}

function settingsAt(reading: Reading): Pick<StyleBody, 'settings' | 'settingsForChild'> {
  const settings: [string, number][] = [];
  const settingsForChild: [string, number][] = [];
  each(reading, 'settings', (path) => {
    const name = nameAt(reading, path);
    const range = { sentence: 'Enter a number, like 0.93', ...limits.setting };
    settings.push([name, reading.fields.number(`${path}.value`, range)]);
    const forChild = reading.fields.optionalNumber(`${path}.child`, range);
    if (forChild !== null) settingsForChild.push([name, forChild]);
  });
  return { settings: Object.fromEntries(settings), settingsForChild: Object.fromEntries(settingsForChild) };
}

/** Settings and lengths are kept by name, so that the second of two of one name would be lost. */
function sayDoubles({ fields, values }: Reading, list: string, what: string): void {
  const names = namesIn(values, list);
  names.forEach((name, index) => {
    if (name !== '' && names.indexOf(name) < index)
      fields.say(`${list}.${index}.name`, `There is a ${what} ${name} already.`);
  });
}

/** Where a fault of the style is shown in the form: `pieces.foot.toe` is `pieces.0.sections.2`. */
export function fieldsOfFaults(values: FormValues): (path: string) => string {
  const fields = new Map<string, string>();
  const note = (path: string, field: string) => {
    if (!fields.has(path)) fields.set(path, field);
  };
  for (const list of ['settings', 'lengths', 'marks', 'joins', 'checks', 'pieces']) {
    note(list, list);
    namesIn(values, list).forEach((name, index) => {
      note(`${list}.${name}`, `${list}.${index}`);
      if (list !== 'pieces') return;
      namesIn(values, `pieces.${index}.sections`).forEach((section, at) => {
        note(`pieces.${name}.${section}`, `pieces.${index}.sections.${at}`);
      });
    });
  }
  return (path) => fields.get(path) ?? (path === 'roles' ? 'roles' : 'style');
}

/** Reads the form of a style: what is written in each field first, then whether it can be knitted. */
export function parseStyle(values: FormValues): Result<StyleBody> {
  const reading: Reading = { fields: readFields(values), values };
  const { fields } = reading;
  const lengths = each(reading, 'lengths', (path) => lengthAt(reading, path));
  const body: StyleBody = {
    style: fields.text('style', { sentence: 'Give the style a name', most: 80 }),
    format: styleFormat,
    make: whole(reading, 'make', 'A pair is two slippers: make two of each piece', { least: 2, most: 2 }),
    roles: each(reading, 'roles', (path) => ({
      name: nameAt(reading, path),
      words: fields.text(`${path}.words`, { sentence: 'Enter the word that the order form shows', most: 60 }),
    })),
    ...settingsAt(reading),
    lengths: Object.fromEntries(lengths),
    pieces: each(reading, 'pieces', (path) => pieceAt(reading, path)),
    marks: each(reading, 'marks', (path) => markAt(reading, path)),
    joins: each(reading, 'joins', (path) => joinAt(reading, path)),
    checks: each(reading, 'checks', (path) => checkAt(reading, path)),
  };
  sayDoubles(reading, 'settings', 'setting');
  sayDoubles(reading, 'lengths', 'length');
  if (fields.problems.length > 0) return refuse(...onePerField(fields.problems));
  const fieldOf = fieldsOfFaults(values);
  const faults = checkStyle(body).map((fault) => ({ ...fault, path: fieldOf(fault.path) }));
  return faults.length > 0 ? refuse(...faults) : succeed(body);
}

function onePerField(problems: readonly Problem[]): readonly Problem[] {
  return problems.filter((problem, index) => problems.findIndex((other) => other.path === problem.path) === index);
}
