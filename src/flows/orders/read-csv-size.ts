import type { UnitSystem } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { isAgeText } from '#core/sizing/ages.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthFromText } from '#core/sizing/foot-text.ts';
import { type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import { isPlainEu, plainSizeMeanings } from '#core/sizing/plain-size.ts';
import { slipOf, withHint } from '#core/sizing/size-slips.ts';
import { csvLikes } from '#flows/orders/csv-likes.ts';
import { type KnownNames, sameName } from '#flows/orders/known-names.ts';
import {
  type MeasuredFoot,
  nothingMeasured,
  type ReadSize,
  sizeByAge,
  sizeByBand,
  sizeByFeet,
  sizeByLabel,
} from '#flows/orders/line-entry.ts';
import { suggestName } from '#flows/orders/nearest-name.ts';

const personWords: readonly [RegExp, Person][] = [
  [/^(?:woman|women|woman's|women's|womens|lady|ladies)$/, 'woman'],
  [/^(?:man|men|man's|men's|mens|gentleman|gentlemen)$/, 'man'],
  [/^(?:child|children|child's|children's|childrens|kid|kids)$/, 'child'],
  [/^(?:unknown|not known|anybody|adult)$/, 'unknown'],
];

/** Whose foot a word means; null when it is none of the words for people. */
export function personOf(word: string): Person | null {
  const plain = sameName(word).replace('’', "'");
  return personWords.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

const systemPattern = new RegExp(`^(${sizeSystems.join('|')})\\s*(?=[\\d½jiytc])`, 'i');
const likeWords = ({ foot, feet }: (typeof csvLikes)[UnitSystem]) =>
  `Write it like “woman EU 38”, “38/39”, “M”, “${foot}”, “${feet}” or “age 5”.`;

/** Girths of a measured pair of feet, mm, as two more cells of a table give them. */
export type CsvGirths = {
  readonly left: Pick<MeasuredFoot, 'ballGirthMm' | 'heelAnkleGirthMm'>;
  readonly right: Pick<MeasuredFoot, 'ballGirthMm' | 'heelAnkleGirthMm'>;
};

const noGirths: CsvGirths = { left: nothingMeasured, right: nothingMeasured };

/**
 * The one or two lengths of a cell, left before right; a unit written once is for both.
 *
 * @returns null when there are more than two
 */
export function leftAndRight(text: string): readonly [left: string, right: string | null] | null {
  const parts = text.split(/\s+(?:and|&|\/)\s+|\s*;\s*/i).map((part) => part.replace(/^(?:left|right)\s+/i, '').trim());
  const unit = /\s*(?:mm|cm|inches|inch|in|"|″)$/i.exec(parts.at(-1) ?? '')?.[0] ?? '';
  const [left = '', right] = parts.map((part) => (/\d$|½$/.test(part) ? `${part}${unit}` : part));
  if (parts.length > 2) return null;
  return [left, right ?? null];
}

/**
 * A size as one cell of a table: a person's word may lead it ("woman EU 38"), then a shoe size with its system, the
 * name of a band, the length of the foot or of both feet, or a child's age.
 *
 * @param person whose foot by another column; null when there is none
 * @param girths of other columns; they belong to measured feet alone
 */
export function readCsvSize(
  text: string,
  person: Person | null,
  known: KnownNames,
  path: string,
  girths: CsvGirths = noGirths,
): Result<ReadSize> {
  const problem = (code: string, message: string): Problem => ({ code, path, message });
  const { unitSystem } = known.settings;
  const likes = csvLikes[unitSystem];
  const typed = text.trim().replace(/\s+/g, ' ');
  const [word = '', ...after] = typed.split(' ');
  const led = after.length > 0 ? personOf(word) : null;
  if (led !== null && person !== null && led !== person && person !== 'unknown') {
    return refuse(
      problem('personTwice', `The size says ${led} and the person column says ${person}. Leave one empty.`),
    );
  }
  const whose = led ?? person;
  const rest = led === null ? typed : after.join(' ');
  if (rest === '') return refuse(problem('sizeMissing', `Fill in the size. ${likeWords(likes)}`));

  const system = systemPattern.exec(rest);
  const hasUnit = /\d\s*(?:mm|cm|in|inch|inches|"|″)$/i.test(rest);
  const isMeasured = system === null && (/^(?:foot|feet)\b/i.test(rest) || hasUnit);
  const hasGirth = [...Object.values(girths.left), ...Object.values(girths.right)].some((girth) => girth !== null);
  if (hasGirth && !isMeasured) {
    return refuse(
      problem(
        'girthOfWhat',
        `Girths go with a measured foot: write its length, like “${likes.foot}”, or leave them out.`,
      ),
    );
  }
  if (isAgeText(rest)) {
    const isGrownUp = whose === 'woman' || whose === 'man';
    if (isGrownUp)
      return refuse(problem('ageOfWhom', 'An age stands for a child’s foot. Write child, or another size.'));
    return sizeByAge(rest, path);
  }
  if (isMeasured) return readFeet(rest.replace(/^(?:foot|feet)\s*/i, ''), whose ?? 'unknown', girths, unitSystem, path);
  if (system) {
    const name = sizeSystems.find((each) => each.toLowerCase() === system[1]!.toLowerCase()) as SizeSystem;
    const label = rest.slice(system[0].length);
    const read = sizeByLabel({ person: whose ?? 'unknown', system: name, label }, known, path);
    if (read.ok || slipOf(label, whose ?? 'unknown') !== 'foot in cm') return read;
    return refuse(...withHint(read.problems, `For a foot of ${label} cm write “foot ${label} cm”.`));
  }
  return readBand(rest, whose, known, path, problem);
}

function readFeet(text: string, person: Person, girths: CsvGirths, system: UnitSystem, path: string): Result<ReadSize> {
  const both = leftAndRight(text);
  if (both === null) {
    const message = `Write one length or two, left before right, like “${csvLikes[system].feet}”.`;
    return refuse({ code: 'tooManyFeet', path, message });
  }
  const left = footLengthFromText(both[0], path, system);
  const right = both[1] === null ? left : footLengthFromText(both[1], path, system);
  if (!left.ok) return left;
  if (!right.ok) return right;
  const paths = { length: path, ballGirth: path, heelAnkleGirth: path };
  return sizeByFeet(
    person,
    { ...girths.left, lengthMm: left.value.value },
    { ...girths.right, lengthMm: right.value.value },
    { left: paths, right: paths },
    system,
  );
}

const orWords = (words: readonly string[]) => words.join(', ').replace(/, ([^,]*)$/, ' or $1');

function readBand(
  name: string,
  person: Person | null,
  known: KnownNames,
  path: string,
  problem: (code: string, message: string) => Problem,
): Result<ReadSize> {
  const named = known.bands.filter((band) => sameName(band.name) === sameName(name));
  const fitting = named.filter((band) => person === null || band.person === person);
  // A band for nobody in particular is for any adult.
  const bands = fitting.length > 0 ? fitting : named.filter((band) => band.person === 'unknown' && person !== 'child');
  if (bands.length === 1) return sizeByBand(bands[0]!.id, known, path);
  if (bands.length > 1) {
    const whose = bands.map((band) => `“${band.person} ${band.name}”`).join(' or ');
    return refuse(problem('bandOfWhom', `There are several bands “${name}”. Write ${whose}.`));
  }
  const whose = person ?? 'unknown';
  if (isPlainEu(name, whose)) {
    const read = sizeByLabel({ person: whose, system: 'EU', label: name }, known, path);
    return read.ok ? succeed({ ...read.value, isReadAsEu: true }) : read;
  }
  const meanings = plainSizeMeanings(name, person).map((meaning) => `“${meaning}”`);
  if (meanings.length > 0) {
    return refuse(problem('systemMissing', `Say what “${name}” is: write ${orWords(meanings)}.`));
  }
  const ofPerson = known.bands.filter((band) => person === null || band.person === person);
  const suggestion = suggestName(name, [...new Set((ofPerson.length > 0 ? ofPerson : known.bands).map((b) => b.name))]);
  return refuse(
    problem(
      'sizeUnknown',
      `“${name}” is not a size that is known here. ${likeWords(csvLikes[known.settings.unitSystem])} ${suggestion}`,
    ),
  );
}
