import { type Problem, type Result, refuse } from '#core/shared/problem.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthFromText } from '#core/sizing/foot-text.ts';
import { type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import { type KnownNames, sameName } from '#flows/orders/known-names.ts';
import { type ReadSize, sizeByBand, sizeByFeet, sizeByLabel } from '#flows/orders/line-entry.ts';
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
const like = 'Write it like “woman EU 38”, “38/39”, “M” or “foot 24.5 cm”.';

/**
 * A size as one cell of a table: a person's word may lead it ("woman EU 38"), then a shoe size with its system, the
 * name of a band, or the length of the foot.
 *
 * @param person whose foot by another column; null when there is none
 */
export function readCsvSize(text: string, person: Person | null, known: KnownNames, path: string): Result<ReadSize> {
  const problem = (code: string, message: string): Problem => ({ code, path, message });
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
  if (rest === '') return refuse(problem('sizeMissing', `Fill in the size. ${like}`));

  const system = systemPattern.exec(rest);
  if (system) {
    const name = sizeSystems.find((each) => each.toLowerCase() === system[1]!.toLowerCase()) as SizeSystem;
    return sizeByLabel({ person: whose ?? 'unknown', system: name, label: rest.slice(system[0].length) }, known, path);
  }
  const foot = /^foot\s+(.+)$/i.exec(rest);
  if (foot || /\d\s*(?:mm|cm|in|inch|inches|"|″)$/i.test(rest)) {
    const length = footLengthFromText(foot ? foot[1]! : rest, path);
    if (!length.ok) return length;
    const lengthMm = length.value.value;
    return sizeByFeet(
      {
        person: whose ?? 'unknown',
        leftLengthMm: lengthMm,
        rightLengthMm: lengthMm,
        ballGirthMm: null,
        heelAnkleGirthMm: null,
      },
      { left: path, right: path, ballGirth: path, heelAnkleGirth: path },
    );
  }
  return readBand(rest, whose, known, path, problem);
}

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
  if (/^\d{1,3}([.,]\d)?$/.test(name)) {
    return refuse(problem('systemMissing', `Say which system “${name}” is, like “EU ${name}”, or “foot ${name} cm”.`));
  }
  const ofPerson = known.bands.filter((band) => person === null || band.person === person);
  const suggestion = suggestName(name, [...new Set((ofPerson.length > 0 ? ofPerson : known.bands).map((b) => b.name))]);
  return refuse(problem('sizeUnknown', `“${name}” is not a size that is known here. ${like} ${suggestion}`));
}
