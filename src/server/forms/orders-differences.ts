import type { KnownNames } from '#flows/orders/known-names.ts';
import type { FormValues } from '#server/forms/fields.ts';
import { rolesOf } from '#server/forms/orders.ts';

export type Difference = { readonly name: string; readonly theirs: string; readonly yours: string };

const wordsOfWay: Readonly<Record<string, string>> = {
  label: 'a shoe size',
  foot: 'a measured foot',
  band: 'a band',
  age: 'a child’s age',
};

/** The fields of both forms with their words, in the order of the forms. */
function fieldsOf(known: KnownNames): readonly (readonly [name: string, words: string])[] {
  return [
    ['by', 'How the size is known'],
    ['person', 'Whose foot'],
    ['system', 'System'],
    ['label', 'Size'],
    ['leftLength', 'Left foot'],
    ['leftBallGirth', 'Left foot, round the ball'],
    ['leftHeelAnkleGirth', 'Left foot, round heel and ankle'],
    ['rightLength', 'Right foot'],
    ['rightBallGirth', 'Right foot, round the ball'],
    ['rightHeelAnkleGirth', 'Right foot, round heel and ankle'],
    ['band', 'Size'],
    ['age', 'Age'],
    ...rolesOf(known).map((role) => [`colour-${role.name}`, `${role.words} colour`] as const),
    ...rolesOf(known).map((role) => [`with-${role.name}`, `${role.words} held together with`] as const),
    ['quantity', 'How many pairs'],
    ['style', 'Style'],
    ['cuff', 'Cuff'],
    ['cuffHeight', 'Height of the cuff'],
    ['fit', 'Fit'],
    ['agreed', 'Price agreed'],
    ['lineKnitter', 'Who knits it'],
    ['outlet', 'Where it goes'],
    ['customer', 'For whom'],
    ['due', 'Due day'],
    ['reference', 'Their reference'],
    ['state', 'Agreed or asked'],
    ['arriveBy', 'To be there by'],
    ['address', 'Address'],
  ];
}

function emptyWords(field: string): string {
  if (field.startsWith('colour-')) return 'the same as the foot';
  if (field === 'lineKnitter') return 'whoever has time';
  return field.startsWith('right') ? 'the same as the left' : 'nothing';
}

function shownValue(field: string, value: string, known: KnownNames): string {
  const named = (items: readonly { readonly id: number; readonly name: string }[]) =>
    items.find((item) => String(item.id) === value)?.name ?? value;
  if (value === '') return emptyWords(field);
  if (/^(?:colour|with)-/.test(field)) return named(known.colours);
  if (field === 'by') return wordsOfWay[value] ?? value;
  if (field === 'band') return named(known.bands);
  if (field === 'style') return named(known.styles);
  if (field === 'lineKnitter') return named(known.knitters);
  if (field === 'outlet') return named(known.outlets);
  return value;
}

/** What is stored now and differs from what was typed, field by field. */
export function differencesOf(stored: FormValues, typed: FormValues, known: KnownNames): readonly Difference[] {
  return fieldsOf(known).flatMap(([field, name]) => {
    const [theirs, yours] = [stored[field], (typed[field] ?? '').trim()];
    if (theirs === undefined || theirs === yours) return [];
    return [{ name, theirs: shownValue(field, theirs, known), yours: shownValue(field, yours, known) }];
  });
}
