import { mmInInch } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import { childLengths } from '#core/sizing/ages.ts';
import { type Person, persons } from '#core/sizing/foot.ts';
import { parseSizeNumber, sizeSystems } from '#core/sizing/labels.ts';
import { slipOf, withHint } from '#core/sizing/size-slips.ts';
import type { SizeEntry } from '#flows/orders/entries.ts';
import type { KnownNames } from '#flows/orders/known-names.ts';
import { type LengthUnit, lengthMmFrom, usualUnit } from '#flows/orders/lengths.ts';
import {
  type FootPaths,
  type MeasuredFoot,
  type ReadSize,
  sizeByAge,
  sizeByBand,
  sizeByFeet,
  sizeByLabel,
} from '#flows/orders/line-entry.ts';
import type { FieldReader, FormValues } from '#server/forms/fields.ts';
import { numberForInput } from '#server/forms/numbers.ts';

/** How a size may be known: a shoe size, a measured foot, a band, a child's age. */
export const sizeWays = ['label', 'foot', 'band', 'age'] as const;
export const lengthUnits: readonly LengthUnit[] = ['cm', 'mm', 'in'];
const perUnitMm: Readonly<Record<LengthUnit, number>> = { cm: 10, mm: 1, in: mmInInch };

const sides = ['left', 'right'] as const;
type Side = (typeof sides)[number];

/** The fields of one foot. */
function fieldsOf(side: Side) {
  return { length: `${side}Length`, ballGirth: `${side}BallGirth`, heelAnkleGirth: `${side}HeelAnkleGirth` };
}

/** Fields that say a size; empty in a form for another foot. */
export const emptySize: FormValues = Object.fromEntries(
  ['label', 'band', 'age', ...sides.flatMap((side) => Object.values(fieldsOf(side)))].map((name) => [name, '']),
);

function readLength(reader: FieldReader, name: string, unit: LengthUnit, sentence: string): number | null {
  const text = reader.optionalText(name, 40);
  if (text === null) return null;
  const lengthMm = lengthMmFrom(text, unit);
  if (lengthMm === null) reader.say(name, `${sentence} You typed “${text}”.`);
  return lengthMm;
}

function readFoot(reader: FieldReader, side: Side, unit: LengthUnit, like: string): MeasuredFoot {
  const { length, ballGirth, heelAnkleGirth } = fieldsOf(side);
  const girth = 'Enter the girth as a number, or leave it empty.';
  return {
    lengthMm: readLength(reader, length, unit, `Enter the length of the foot as a number, like ${like}.`),
    ballGirthMm: readLength(reader, ballGirth, unit, girth),
    heelAnkleGirthMm: readLength(reader, heelAnkleGirth, unit, girth),
  };
}

function readFeet(reader: FieldReader, person: Person): Result<ReadSize> | null {
  const before = reader.problems.length;
  const unit = reader.choice('unit', lengthUnits, { sentence: 'Choose cm, mm or inches' });
  const like = unit === 'in' ? '9 1/2' : unit === 'mm' ? '245' : '24.5';
  const left = readFoot(reader, 'left', unit, like);
  const right = readFoot(reader, 'right', unit, like);
  if (reader.problems.length > before) return null;
  const system = unit === 'in' ? 'imperial' : 'metric';
  const paths = { left: fieldsOf('left'), right: fieldsOf('right') };
  if (left.lengthMm !== null) return sizeByFeet(person, { ...left, lengthMm: left.lengthMm }, right, paths, system);
  if (right.lengthMm === null) {
    reader.say('leftLength', `Enter the length of the foot, from the heel to the longest toe, like ${like}.`);
    return null;
  }
  const measured = likeRight(left, { ...right, lengthMm: right.lengthMm }, paths);
  return sizeByFeet(person, measured.left, measured.right, { ...paths, left: measured.leftPaths }, system);
}

/** A left foot whose length was not measured is as the right one; what is wrong then belongs to the right one's boxes. */
function likeRight(
  left: MeasuredFoot,
  right: MeasuredFoot & { readonly lengthMm: number },
  paths: { readonly left: FootPaths; readonly right: FootPaths },
) {
  const isOwnBall = left.ballGirthMm !== null;
  const isOwnHeel = left.heelAnkleGirthMm !== null;
  return {
    left: {
      lengthMm: right.lengthMm,
      ballGirthMm: left.ballGirthMm ?? right.ballGirthMm,
      heelAnkleGirthMm: left.heelAnkleGirthMm ?? right.heelAnkleGirthMm,
    },
    // The same once only, so that nothing is said of it twice.
    right: {
      lengthMm: null,
      ballGirthMm: isOwnBall ? right.ballGirthMm : null,
      heelAnkleGirthMm: isOwnHeel ? right.heelAnkleGirthMm : null,
    },
    leftPaths: {
      length: paths.right.length,
      ballGirth: (isOwnBall ? paths.left : paths.right).ballGirth,
      heelAnkleGirth: (isOwnHeel ? paths.left : paths.right).heelAnkleGirth,
    },
  };
}

/** Where a text belongs that is no shoe size; null where nobody can say. */
function hintFor(label: string, person: Person, known: KnownNames): string | null {
  const slip = slipOf(label, person);
  if (slip === 'age') return `For a child of ${label.trim()} years choose “a child’s age”.`;
  if (slip === 'foot in cm') return `For a foot of ${label.trim()} cm choose “measured feet”.`;
  if (label.trim() === '' || parseSizeNumber(label) !== null) return null;
  const band = known.bands.length > 0 ? 'For a band, like 38/39 or M, choose “a band”; for' : 'For';
  return `${band} the length of the foot choose “measured feet”.`;
}

/** The size of a line, by the way that was chosen; what the other ways' fields hold is passed over. */
export function readSize(reader: FieldReader, known: KnownNames): ReadSize | null {
  const take = (result: Result<ReadSize> | null): ReadSize | null => {
    if (result?.ok) {
      for (const odd of result.value.odd ?? []) reader.ask(odd);
      return result.value;
    }
    for (const { path, message } of result?.problems ?? []) reader.say(path, message);
    return null;
  };
  const by = reader.choice('by', sizeWays, { sentence: 'Choose how you know the size' });
  if (by === 'band') {
    const ids = known.bands.map((band) => band.id);
    const bandId = reader.optionalId('band', ids, { sentence: 'Choose one of your bands' });
    return take(sizeByBand(bandId ?? 0, known, 'band'));
  }
  if (by === 'age') return take(sizeByAge(reader.optionalText('age', 20) ?? '', 'age'));
  const person = reader.choice('person', persons, { sentence: 'Choose whose foot it is' });
  if (by === 'foot') return take(readFeet(reader, person));
  const system = reader.choice('system', sizeSystems, { sentence: 'Choose the size system' });
  const label = reader.optionalText('label', 20) ?? '';
  const read = sizeByLabel({ person, system, label }, known, 'label');
  const hint = read.ok ? null : hintFor(label, person, known);
  return take(read.ok || hint === null ? read : { ok: false, problems: withHint(read.problems, hint) });
}

/** A size's fields as if they had just been typed; the right foot's are empty where they are the left one's. */
export function valuesOfSize(size: SizeEntry, known: KnownNames): FormValues {
  const unit = usualUnit(known.settings.unitSystem);
  const inUnit = (lengthMm: number | null) => (lengthMm === null ? '' : numberForInput(lengthMm / perUnitMm[unit]));
  const ifOther = (left: number | null, right: number | null) => (left === right ? '' : inUnit(right));
  switch (size.by) {
    case 'label':
      return { by: 'label', person: size.person, system: size.system, label: size.label };
    case 'band':
      return { by: 'band', band: String(size.bandId) };
    case 'age':
      return { by: 'age', age: String(size.years) };
    case 'foot':
      return {
        by: 'foot',
        person: size.person,
        unit,
        leftLength: inUnit(size.leftLengthMm),
        leftBallGirth: inUnit(size.leftBallGirthMm),
        leftHeelAnkleGirth: inUnit(size.leftHeelAnkleGirthMm),
        rightLength: ifOther(size.leftLengthMm, size.rightLengthMm),
        rightBallGirth: ifOther(size.leftBallGirthMm, size.rightBallGirthMm),
        rightHeelAnkleGirth: ifOther(size.leftHeelAnkleGirthMm, size.rightHeelAnkleGirthMm),
      };
  }
}

/** Whose foot a size is for and how long, the left one where they differ; null when that cannot be said. */
export function footOfSize(
  size: SizeEntry,
  known: KnownNames,
): { readonly person: Person; readonly lengthMm: number } | null {
  switch (size.by) {
    case 'label': {
      const read = sizeByLabel(size, known, 'label');
      return read.ok ? read.value : null;
    }
    case 'band': {
      const read = sizeByBand(size.bandId, known, 'band');
      return read.ok ? read.value : null;
    }
    case 'age': {
      const entry = childLengths.find((each) => each.years === size.years);
      return entry ? { person: 'child', lengthMm: entry.meanMm } : null;
    }
    case 'foot':
      return { person: size.person, lengthMm: size.leftLengthMm };
  }
}
