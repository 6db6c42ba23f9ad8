import { isDay } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';

/** A field of one of our own forms, as a page shows it. */
export type ShownField = {
  readonly name: string;
  /** As it stands beside the box. */
  readonly label: string;
  readonly value: string;
  /** What a value of it says to a reader: the words of a choice, a day in words, the unit after a number. */
  readonly wordsOf: (value: string) => string;
};

const entities: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
  '&nbsp;': ' ',
};

const plain = (text: string) => text.replace(/&(?:amp|lt|gt|quot|#39|nbsp);/g, (entity) => entities[entity] ?? entity);

/** What a reader sees of a part of a page: no marks, no hints. */
function textIn(html: string): string {
  const seen = html.replace(/<small class="hint">[\s\S]*?<\/small>/g, ' ').replace(/<[^>]*>/g, ' ');
  return plain(seen).replace(/\s+/g, ' ').trim();
}

type Attributes = ReadonlyMap<string, string>;

function attributesIn(text: string): Attributes {
  const found = text.matchAll(/([a-zA-Z-]+)(?:="([^"]*)")?/g);
  return new Map([...found].map(([, name, value]) => [name!, plain(value ?? '')]));
}

/** The form of a page that is sent to an address, by itself or by one of its buttons. */
function formIn(html: string, action: string): string | null {
  for (const [form] of html.matchAll(/<form\b[\s\S]*?<\/form>/g)) {
    const addresses = [...form.matchAll(/\b(?:action|formaction)="([^"]*)"/g)].map(([, address]) => plain(address!));
    if (addresses.includes(action)) return form;
  }
  return null;
}

function labelsIn(form: string): ReadonlyMap<string, string> {
  const labels = form.matchAll(/<label\b[^>]*\bfor="([^"]*)"[^>]*>([\s\S]*?)<\/label>/g);
  return new Map([...labels].map(([, id, words]) => [id!, textIn(words!)]));
}

/** A day, or a text with the unit that stands after its box. */
function textWords(rest: string): (value: string) => string {
  const unit = /^\s*<span class="unit">([^<]*)<\/span>/.exec(rest)?.[1];
  return (value) => (isDay(value) ? formatDay(value) : value !== '' && unit ? `${value} ${plain(unit)}` : value);
}

const choiceWords = (words: ReadonlyMap<string, string>) => (value: string) =>
  value === '' ? '' : (words.get(value) ?? value);

function selectAt(rest: string): Pick<ShownField, 'value' | 'wordsOf'> {
  const options = [...rest.slice(0, rest.indexOf('</select>')).matchAll(/<option\b([^>]*)>([\s\S]*?)<\/option>/g)];
  const read = options.map(([, attributes, words]) => ({ own: attributesIn(attributes!), words: textIn(words!) }));
  const chosen = read.find(({ own }) => own.has('selected')) ?? read[0];
  return {
    value: chosen?.own.get('value') ?? '',
    wordsOf: choiceWords(new Map(read.map(({ own, words }) => [own.get('value') ?? '', words]))),
  };
}

/** What stands after a box within its label. */
const wordsAfter = (rest: string) => rest.slice(0, Math.max(0, rest.indexOf('</label>')));

/** Round boxes of one name: together they are one field, named by their legend. */
function radiosIn(form: string, name: string, at: number): ShownField {
  const boxes = [...form.matchAll(/<input\b([^>]*)>/g)]
    .map((box) => ({ own: attributesIn(box[1]!), words: textIn(wordsAfter(form.slice(box.index + box[0].length))) }))
    .filter(({ own }) => own.get('type') === 'radio' && own.get('name') === name);
  const legend = [...form.slice(0, at).matchAll(/<legend[^>]*>([\s\S]*?)<\/legend>/g)].at(-1)?.[1] ?? '';
  return {
    name,
    label: textIn(legend),
    value: boxes.find(({ own }) => own.has('checked'))?.own.get('value') ?? '',
    wordsOf: choiceWords(new Map(boxes.map(({ own, words }) => [own.get('value') ?? '', words]))),
  };
}

/**
 * The fields of a form on one of our own pages that a person fills in, in the order of the page, each once; null where
 * the page has no such form. Labels stand on the page alone, so that is where they are read.
 *
 * @param html a page of this program
 * @param action the address that the form, or a button of it, is sent to
 */
export function readForm(html: string, action: string): readonly ShownField[] | null {
  const form = formIn(html, action);
  if (form === null) return null;
  const labels = labelsIn(form);
  const fields = new Map<string, ShownField>();
  for (const match of form.matchAll(/<(input|select|textarea)\b([^>]*)>/g)) {
    const [tag, kind, attributes] = match;
    const own = attributesIn(attributes!);
    const name = own.get('name');
    const type = own.get('type') ?? 'text';
    if (!name || fields.has(name) || ['hidden', 'file', 'password'].includes(type)) continue;
    const rest = form.slice(match.index + tag.length);
    const label = labels.get(own.get('id') ?? '') ?? own.get('aria-label') ?? name;
    if (type === 'radio') fields.set(name, radiosIn(form, name, match.index));
    else if (type === 'checkbox') {
      const words = textIn(wordsAfter(rest));
      const value = own.has('checked') ? (own.get('value') ?? 'on') : '';
      fields.set(name, { name, label: words || label, value, wordsOf: (text) => (text === '' ? 'no' : 'yes') });
    } else if (kind === 'select') fields.set(name, { name, label, ...selectAt(rest) });
    else if (kind === 'textarea') {
      const value = plain(rest.slice(0, rest.indexOf('</textarea>')));
      fields.set(name, { name, label, value, wordsOf: (text) => text });
    } else fields.set(name, { name, label, value: own.get('value') ?? '', wordsOf: textWords(rest) });
  }
  return [...fields.values()];
}
