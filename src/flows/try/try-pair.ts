import { kindFor } from '#core/batch/kinds.ts';
import type { Shape } from '#core/batch/lines.ts';
import { rowsFromStitches } from '#core/gauge/gauge.ts';
import { type Gauge, type Hand, type Yarn, yarnsKey } from '#core/gauge/hand.ts';
import { sdOf } from '#core/shared/estimate.ts';
import { measureFromInput, type UnitSystem, unitOf } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { ageSpreadWords } from '#core/sizing/ages.ts';
import { type Foot, type Person, persons } from '#core/sizing/foot.ts';
import { checkFoot, footFrom } from '#core/sizing/girths.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';
import { readSizeText, type TypedSize } from '#core/sizing/size-text.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { type SpecWorking, specifyWithWorking } from '#core/styles/specify.ts';
import type { Style } from '#core/styles/style.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { minutesFigure, usualRates } from '#core/timing/minutes.ts';
import { yarnNeeds } from '#core/yardage/needs.ts';
import { stylesFrom, yarnFrom } from '#flows/plan-input.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { guessedYarns } from '#flows/try/guessed-yarns.ts';

/** What *try one pair* asks for, as it was typed. */
export type TryValues = {
  readonly person: string;
  readonly size: string;
  readonly yarn: string;
  readonly stitches: string;
  readonly rows: string;
  /** Number of a style; empty for the workshop's first. */
  readonly style: string;
  /** Number of a knitter; empty for the one who stands for all. */
  readonly knitter: string;
  /** What a foot and the stitches are in, `metric` or `imperial`; anything else is as the workshop measures. */
  readonly units: string;
};

export const emptyTry: TryValues = {
  person: 'woman',
  size: '',
  yarn: '',
  stitches: '',
  rows: '',
  style: '',
  knitter: '',
  units: '',
};

/** A yarn to choose: in an empty workshop a usual one, later the workshop's own. */
export type YarnChoice = {
  readonly value: string;
  readonly words: string;
  /** In yards and ounces, where the words have a measure. */
  readonly imperialWords?: string;
  readonly strands: readonly Yarn[];
  readonly hexes: readonly string[];
  /** A first colour of it in the workshop; null for a usual yarn. */
  readonly yarnColourId: number | null;
};

/** The answer: counts, yarn and time of one pair, and what it was reckoned from. */
export type TriedPair = {
  readonly person: Person;
  readonly size: TypedSize;
  readonly yarn: YarnChoice;
  readonly colours: TryColours;
  readonly gauge: Gauge | null;
  readonly shape: Shape;
  readonly hand: Hand;
  readonly rates: Rates;
  readonly working: SpecWorking;
  readonly minutes: number;
  readonly grams: readonly { readonly role: string; readonly grams: number; readonly sd: number }[];
  /** One standard deviation of all its yarn, grams: what errs in one part errs in the others of its yarn and fabric. */
  readonly gramsSd: number;
  readonly usWomenOffset: number;
  /** How far feet of an age lie apart; null where the size is none. */
  readonly ageWords: string | null;
};

/**
 * Whether all of a pair is knitted in one colour, as a pair is tried, or each part that may have its own in its own, as a
 * style is looked at: that decides the ends and the changes of colour.
 */
export type TryColours = 'one colour' | 'own colours';

/** The yarns to choose from. */
export function yarnChoices(current: WorkshopPlan | null): YarnChoice[] {
  if (!current || current.rows.yarns.length === 0) return guessedYarns;
  return current.rows.yarns.map((row) => {
    const colour = current.rows.yarnColours.find((each) => each.yarnId === row.id);
    const strands = Array.from({ length: row.usualStrands }, () => yarnFrom(row));
    return {
      value: String(row.id),
      words: row.usualStrands > 1 ? `${row.name}, ${row.usualStrands} strands held together` : row.name,
      strands,
      hexes: colour ? colour.swatchHex.split(' ') : [],
      yarnColourId: colour?.id ?? null,
    };
  });
}

type Count = {
  readonly path: 'stitches' | 'rows';
  readonly like: number;
  readonly least: number;
  readonly most: number;
};

const stitchCount: Count = { path: 'stitches', like: 13, least: 4, most: 60 };
const rowCount: Count = { path: 'rows', like: 18, least: 4, most: 90 };

/** How many are in 10 cm; null when nothing was typed. */
function readCount(text: string, { path, like, least, most }: Count, system: UnitSystem): Result<number | null> {
  if (text.trim() === '') return succeed(null);
  const typed = parseSizeNumber(text);
  // The same numbers bound a count in 4 in, which is 1.6 % more.
  if (typed === null || typed < least || typed > most) {
    const message = `Enter the ${path} ${unitOf('per10Cm', system)}, like ${like}, from ${least} to ${most}, or leave it empty if you don't know. You typed “${text.trim()}”.`;
    return refuse({ code: 'countOutOfRange', path, message });
  }
  return succeed(measureFromInput(typed, 'per10Cm', system));
}

/** The units that a pair was tried in. */
export function unitsOfTry(values: Pick<TryValues, 'units'>, current: WorkshopPlan | null): UnitSystem {
  if (values.units === 'metric' || values.units === 'imperial') return values.units;
  return current?.settings.unitSystem ?? 'metric';
}

function gaugeFrom(stitches: number, rows: number | null, strands: readonly Yarn[]): Gauge {
  return {
    yarnsKey: yarnsKey(strands),
    fabric: 'stocking',
    stitchesPer10Cm: stitches,
    rowsPer10Cm: rows ?? rowsFromStitches(stitches),
    source: 'typed',
    isWashed: true,
    loopCm: null,
    loopRelativeSd: null,
    needleMm: null,
  };
}

/** Choices of an address that are not here, or not any more: nothing else is taken in their place. */
export function unknownChoices(values: TryValues, current: WorkshopPlan | null): readonly Problem[] {
  const yarns = yarnChoices(current).map(({ value }) => value);
  const styles = (current?.rows.styles ?? []).map(({ id }) => String(id));
  const knitters = (current?.input.knitters ?? []).map(({ id }) => String(id));
  const choices: readonly (readonly [path: 'yarn' | 'style' | 'knitter', known: readonly string[]])[] = [
    ['yarn', yarns],
    ['style', styles],
    ['knitter', knitters],
  ];
  return choices.flatMap(([path, known]) => {
    if (!values[path] || known.includes(values[path])) return [];
    const message = `The ${path} “${values[path].slice(0, 40)}” of this address is not here. Choose one from the list.`;
    return [{ code: 'unknownChoice', path, message }];
  });
}

function styleOf(current: WorkshopPlan | null, id: string): Style {
  const stored = current ? stylesFrom(current.rows).current : new Map<number, Style>();
  return (
    stored.get(Number(id)) ??
    [...stored.values()][0] ?? { versionId: 0, name: twoPieceSlipper.style, body: twoPieceSlipper }
  );
}

/**
 * One pair from a size, a yarn and, when known, the stitches in 10 cm: no wage, knitter or shop is asked for. In a
 * workshop the hand and rates of a knitter count, the reference knitter's unless another is named; what is typed comes before her swatches.
 *
 * @param current the workshop's plan; null for an empty one
 * @param style another than the one named in the values
 * @param colours one all over unless said otherwise
 */
export function tryPair(
  values: TryValues,
  current: WorkshopPlan | null,
  style: Style = styleOf(current, values.style),
  colours: TryColours = 'one colour',
): Result<TriedPair> {
  const problems: Problem[] = [];
  const person = persons.find((each) => each === values.person);
  if (!person) problems.push({ code: 'person', path: 'person', message: 'Choose whose foot it is.' });
  const units = unitsOfTry(values, current);
  const usWomenOffset = current?.settings.usWomenOffset ?? 2;
  const size = readSizeText(values.size, person ?? 'unknown', usWomenOffset, 'size', units);
  if (!size.ok) problems.push(...size.problems);
  const choices = yarnChoices(current);
  const yarn = values.yarn === '' ? choices[0] : choices.find((choice) => choice.value === values.yarn);
  problems.push(...unknownChoices(values, current));
  const stitches = readCount(values.stitches, stitchCount, units);
  if (!stitches.ok) problems.push(...stitches.problems);
  const rows = readCount(values.rows, rowCount, units);
  if (!rows.ok) problems.push(...rows.problems);
  if (stitches.ok && rows.ok && stitches.value === null && rows.value !== null) {
    problems.push({
      code: 'stitchesFirst',
      path: 'stitches',
      message: `Enter the stitches ${unitOf('per10Cm', units)} too, like 13.`,
    });
  }
  if (size.ok) {
    problems.push(
      ...checkFoot(
        { person: size.value.person, lengthMm: size.value.length.value },
        { length: 'size', ballGirth: 'size', heelAnkleGirth: 'size' },
        units,
      ),
    );
  }
  if (problems.length > 0 || !size.ok || !stitches.ok || !rows.ok || !yarn || !person) {
    return refuse(...problems);
  }

  const { strands } = yarn;
  const knitters = current?.input.knitters ?? [];
  const reference =
    knitters.find((each) => String(each.id) === values.knitter) ??
    knitters.find((each) => each.id === current?.input.referenceKnitterId);
  const known = current?.input.hands.find((each) => each.key === reference?.handKey);
  const gauge = stitches.value === null ? null : gaugeFrom(stitches.value, rows.value, strands);
  const hand: Hand = {
    key: 'try',
    tightness: known?.tightness ?? 'usual',
    gauges: [...(gauge ? [gauge] : []), ...(known?.gauges ?? [])],
  };
  const whose = size.value.person;
  const shape = shapeIn(colours, style, footFrom({ person: whose, lengthMm: size.value.length.value }), strands);
  const working = specifyWithWorking(shape, hand);
  const rates = reference?.rates ?? usualRates;
  return succeed({
    person: whose,
    size: size.value,
    yarn,
    colours,
    gauge,
    shape,
    hand,
    rates,
    working,
    minutes: minutesFigure(working.spec.operations, rates).total.value,
    grams: gramsByRole(working, strands),
    gramsSd: gramsSdOf(shape, working),
    usWomenOffset,
    ageWords: size.value.choice.by === 'age' ? ageSpreadWords(size.value.choice.years, units) : null,
  });
}

/** Only whether parts share a colour is of the shape; which colours they are is not. */
function shapeIn(colours: TryColours, style: Style, foot: Foot, strands: readonly Yarn[]): Shape {
  const roles = style.body.roles.map((role) => role.name);
  return kindFor({
    style,
    foot,
    fit: 'usual',
    yarns: Object.fromEntries(roles.map((role) => [role, strands])),
    colours: Object.fromEntries(
      roles.map((role, index) => [role, strands.map(() => (colours === 'one colour' ? 0 : index))]),
    ),
    cuff: 'short',
  }).shape;
}

/** Minutes more that a pair tried in one colour takes with each part in its own; 0 where no part may have its own. */
export function minutesMoreInColours({ shape, hand, rates, minutes, yarn }: TriedPair): number {
  const coloured = shapeIn('own colours', shape.style, shape.foot, yarn.strands);
  const { spec } = specifyWithWorking(coloured, hand);
  return minutesFigure(spec.operations, rates).total.value - minutes;
}

function gramsByRole(working: SpecWorking, strands: readonly Yarn[]): TriedPair['grams'] {
  const byRole = new Map<string, { grams: number; variance: number }>();
  for (const { role, strand, metres } of working.spec.metres) {
    const perM = (strands[strand]?.tex ?? 0) / 1000;
    const sum = byRole.get(role) ?? { grams: 0, variance: 0 };
    const variance = (metres.sharedSd ** 2 + metres.ownVariance) * perM ** 2;
    byRole.set(role, { grams: sum.grams + metres.mean * perM, variance: sum.variance + variance });
  }
  return [...byRole].map(([role, { grams, variance }]) => ({ role, grams, sd: Math.sqrt(variance) }));
}

/** As the plan counts the yarn of one pair, all of it as if of one colour. */
function gramsSdOf(shape: Shape, { spec }: SpecWorking): number {
  const colours = Object.fromEntries(
    Object.entries(shape.yarns).map(([role, strands]) => [role, strands.map(() => 1)]),
  );
  const [all] = yarnNeeds([{ kind: { key: shape.key, shape, colours }, spec, count: 1 }]);
  return all === undefined ? 0 : sdOf(all.grams);
}
