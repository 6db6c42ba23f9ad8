import type { Section, StitchRule } from '#core/styles/style.ts';
import type { FormValues } from '#server/forms/fields.ts';
import { countIn, namesIn, sectionValues } from '#server/forms/style-values.ts';

/** What a button of the form asks for besides saving: `add pieces.0.sections work`, `remove lengths.1`, `up joins.2`. */
export type StyleCommand = { readonly verb: 'add' | 'remove' | 'up' | 'down'; readonly path: string };

const lists = /^(roles|settings|lengths|pieces|marks|joins|checks|lengths\.\d{1,2}\.sum|pieces\.\d{1,2}\.sections)$/;
const entry = /^(.+)\.(\d{1,2})$/;

/** The command of a button; null for looking and saving. */
export function commandIn(text: string): StyleCommand | null {
  const [verb = '', path = ''] = text.split(' ');
  if (verb === 'add') return lists.test(path) ? { verb, path } : null;
  if (verb !== 'remove' && verb !== 'up' && verb !== 'down') return null;
  const [, list = ''] = entry.exec(path) ?? [];
  return lists.test(list) ? { verb, path } : null;
}

/** A name that the list does not have. */
function freshName(values: FormValues, list: string, word: string): string {
  const names = namesIn(values, list);
  for (let count = names.length + 1; ; count += 1) {
    const name = `${word} ${count}`;
    if (!names.includes(name)) return name;
  }
}

const kinds: Readonly<Record<Section['do'], string>> = {
  castOn: 'start',
  pickUp: 'start',
  work: 'rows',
  change: 'shaping',
  drawUp: 'draw up',
  bindOff: 'bind off',
};

/** The kind of step that a form asks to add. */
export function isSectionKind(text: string): text is Section['do'] {
  return Object.hasOwn(kinds, text);
}

function newStitches(values: FormValues): StitchRule {
  return { across: values['lengths.0.name'] ?? '', fabric: 'stocking', edges: 2, repeat: 1, plus: 0, least: 8 };
}

function newSection(values: FormValues, list: string, kind: Section['do']): FormValues {
  const names = namesIn(values, list);
  const word = kinds[kind];
  const name = names.includes(word) ? freshName(values, list, word) : word;
  const shared = { name, colour: values['roles.0.name'] ?? '' };
  const section = (): Section => {
    switch (kind) {
      case 'castOn':
        return { ...shared, do: kind, next: 'wrong side', stitches: newStitches(values) };
      case 'pickUp':
        return { ...shared, do: kind, next: 'wrong side', stitches: { ...newStitches(values), alongEdge: [] } };
      case 'work':
        return { ...shared, do: kind, fabric: 'stocking', rows: { count: 2 } };
      case 'change':
        return { ...shared, do: kind, how: 'two together across', repeatWhileAbove: 16, plainRowsBetween: 1 };
      case 'drawUp':
        return { ...shared, do: kind };
      case 'bindOff':
        return { ...shared, do: kind, loose: true };
    }
  };
  const made = sectionValues(section());
  return kind === 'pickUp' ? { ...made, 'to.by': 'edge', 'to.across': '' } : made;
}

function newPiece(values: FormValues): FormValues {
  const piece = { name: freshName(values, 'pieces', 'piece'), isOptional: '', gaugeOf: values['roles.0.name'] ?? '' };
  const steps = (['castOn', 'work', 'bindOff'] as const).map((kind) => newSection(values, '', kind));
  return Object.assign(piece, ...steps.map((step, index) => prefixed(`sections.${index}`, step)));
}

function prefixed(path: string, values: FormValues): FormValues {
  return Object.fromEntries(Object.entries(values).map(([name, value]) => [`${path}.${name}`, value]));
}

function newEntry(values: FormValues, list: string, kind: Section['do']): FormValues {
  const fresh = (word: string) => freshName(values, list, word);
  const colour = values['roles.0.name'] ?? '';
  if (list === 'roles') return { name: fresh('colour'), words: '' };
  if (list === 'settings') return { name: fresh('setting'), value: '', child: '' };
  if (list === 'lengths') return { name: fresh('length'), 'sum.0.of': 'footLength', 'sum.0.times': '1' };
  if (list === 'pieces') return newPiece(values);
  if (list === 'marks') return { name: fresh('mark'), edges: '', how: 'share', value: '0.5', until: '' };
  if (list === 'joins')
    return { name: fresh('seam'), how: 'edges', one: '', other: '', colour, takes: '', tail: '', place: '' };
  if (list === 'checks')
    return {
      name: fresh('check'),
      how: 'stretch',
      one: '',
      other: '',
      stretch: '1.35',
      over: 'heelAnkleGirth',
      from: '0.9',
      to: '1.1',
      otherwise: '',
    };
  if (list.endsWith('.sum')) return { of: 'mm', times: '0' };
  return newSection(values, list, kind);
}

/** Entries of a list, each with its own fields, and the fields outside the list. */
function takeApart(values: FormValues, list: string): { readonly entries: FormValues[]; readonly rest: FormValues } {
  const entries: Record<string, string>[] = Array.from({ length: countIn(values, list) }, () => ({}));
  const rest: Record<string, string> = {};
  for (const [name, value] of Object.entries(values)) {
    const inside = name.startsWith(`${list}.`) ? name.slice(list.length + 1) : '';
    const dot = inside.indexOf('.');
    const target = dot > 0 ? entries[Number(inside.slice(0, dot))] : undefined;
    if (target) target[inside.slice(dot + 1)] = value;
    else rest[name] = value;
  }
  return { entries, rest };
}

const mostEntries = 40;
const finishing = ['drawUp', 'bindOff'];

/**
 * Adds, removes or moves an entry of a list; all that was typed stays with its entry.
 *
 * @param kind the step to add, where one is
 */
export function changeValues(values: FormValues, { verb, path }: StyleCommand, kind: Section['do']): FormValues {
  const [, ofEntry = '', indexText = ''] = verb === 'add' ? [] : (entry.exec(path) ?? []);
  const list = verb === 'add' ? path : ofEntry;
  const { entries, rest } = takeApart(values, list);
  if (verb === 'add') {
    if (entries.length >= mostEntries) return values;
    const isFinished = finishing.includes(entries.at(-1)?.do ?? '');
    // A step is added before the one that ends the piece.
    const at = list.endsWith('.sections') && isFinished ? entries.length - 1 : entries.length;
    entries.splice(at, 0, newEntry(values, list, kind));
  } else {
    const from = Number(indexText);
    const [moved] = entries.splice(from, 1);
    if (moved && verb !== 'remove') entries.splice(Math.max(0, verb === 'up' ? from - 1 : from + 1), 0, moved);
  }
  return Object.assign({ ...rest }, ...entries.map((each, index) => prefixed(`${list}.${index}`, each)));
}
