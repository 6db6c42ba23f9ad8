import type { CuffWish } from '#core/batch/kinds.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import type { Problem, Result } from '#core/shared/problem.ts';
import { refuse, succeed } from '#core/shared/problem.ts';
import { ageFromText, footLengthFromAge } from '#core/sizing/ages.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import { checkFoot, type FootInput } from '#core/sizing/girths.ts';
import { footLengthFromLabel, type SizeSystem } from '#core/sizing/labels.ts';
import { type OddMeasure, oddBetween, oddMeasures } from '#core/sizing/odd-feet.ts';
import type { NewLineColour } from '#db/stores/orders.ts';
import type { LineEntry, SizeEntry } from '#flows/orders/entries.ts';
import { type KnownColour, type KnownNames, type KnownStyle, turnedDownMm } from '#flows/orders/known-names.ts';
import type { OddValue } from '#flows/orders/odd-day.ts';

/** A size and the foot it will be knitted for, the left one where they differ. */
export type ReadSize = {
  readonly size: SizeEntry;
  readonly person: Person;
  readonly lengthMm: number;
  /** What is odd about measured feet, to be asked about at its field. */
  readonly odd?: readonly OddFoot[];
  /** It was a number without its system, which only EU has. */
  readonly isReadAsEu?: boolean;
};

/** Something odd about measured feet; the question is about all their measures. */
export type OddFoot = OddValue & { readonly path: string; readonly about: string };

/** A shoe size; the label is kept as it was typed. */
export function sizeByLabel(
  wish: { readonly person: Person; readonly system: SizeSystem; readonly label: string },
  known: KnownNames,
  path: string,
): Result<ReadSize> {
  const { person, system } = wish;
  const label = wish.label.trim();
  const length = footLengthFromLabel({ person, system, label, usWomenOffset: known.settings.usWomenOffset }, path);
  if (!length.ok) return length;
  if (label.length > 20) {
    const message = 'Enter the size as a number, like 38 or 38.5.';
    return refuse({ code: 'sizeNotANumber', path, message });
  }
  return succeed({ size: { by: 'label', person, system, label }, person, lengthMm: length.value.value });
}

/** One of the workshop's own bands. */
export function sizeByBand(bandId: number, known: KnownNames, path: string): Result<ReadSize> {
  const band = known.bands.find((each) => each.id === bandId);
  if (!band) return refuse({ code: 'bandUnknown', path, message: 'Choose one of your bands, like 38/39 or M.' });
  return succeed({ size: { by: 'band', bandId }, person: band.person, lengthMm: band.lengthMm });
}

/** A child's age: knitted for the mean foot of that age. */
export function sizeByAge(text: string, path: string): Result<ReadSize> {
  const years = ageFromText(text, path);
  if (!years.ok) return years;
  const length = footLengthFromAge(years.value, path);
  if (!length.ok) return length;
  return succeed({ size: { by: 'age', years: years.value }, person: 'child', lengthMm: length.value.value });
}

/** What was measured of one foot; null where nothing was. */
export type MeasuredFoot = {
  readonly lengthMm: number | null;
  readonly ballGirthMm: number | null;
  readonly heelAnkleGirthMm: number | null;
};

/** Where problems with one foot belong. */
export type FootPaths = { readonly length: string; readonly ballGirth: string; readonly heelAnkleGirth: string };

export const nothingMeasured: MeasuredFoot = { lengthMm: null, ballGirthMm: null, heelAnkleGirthMm: null };

/**
 * A measured pair of feet, each knitted for. What was not measured of the right foot is as in the left one. What is asked
 * for by one foot, like a cuff, goes by the left.
 */
export function sizeByFeet(
  person: Person,
  left: MeasuredFoot & { readonly lengthMm: number },
  right: MeasuredFoot,
  paths: { readonly left: FootPaths; readonly right: FootPaths },
  system: UnitSystem,
): Result<ReadSize> {
  const whole = {
    lengthMm: right.lengthMm ?? left.lengthMm,
    ballGirthMm: right.ballGirthMm ?? left.ballGirthMm,
    heelAnkleGirthMm: right.heelAnkleGirthMm ?? left.heelAnkleGirthMm,
  };
  const ofLeft = checkFoot({ person, ...left }, paths.left, system);
  const ofRight = checkFoot({ person, ...whole }, paths.right, system);
  // What the right foot has from the left one is said there already; what only both together make wrong is not.
  const said = (code: string) => ofLeft.some((problem) => problem.code === code);
  const problems = [
    ...ofLeft,
    ...ofRight
      .filter((problem) => isOwn(problem, right, paths.right) || !said(problem.code))
      .map((problem) => ({ ...problem, message: `Right foot: ${problem.message}` })),
  ];
  if (problems.length > 0) return refuse(...problems);
  const size = {
    by: 'foot' as const,
    person,
    leftLengthMm: left.lengthMm,
    rightLengthMm: whole.lengthMm,
    leftBallGirthMm: left.ballGirthMm,
    rightBallGirthMm: whole.ballGirthMm,
    leftHeelAnkleGirthMm: left.heelAnkleGirthMm,
    rightHeelAnkleGirthMm: whole.heelAnkleGirthMm,
  };
  const odd = oddFeet({ person, ...left }, { person, ...whole }, paths, system);
  return succeed({ size, person, lengthMm: left.lengthMm, odd });
}

/** What is odd about a pair of feet, each thing once; the right foot alone where it is not as the left one. */
function oddFeet(
  left: FootInput,
  right: FootInput,
  paths: { readonly left: FootPaths; readonly right: FootPaths },
  system: UnitSystem,
): readonly OddFoot[] {
  const ofLeft = oddMeasures(left, system);
  const between = oddBetween(left, right, system);
  const isSaid = ({ message }: OddMeasure) => ofLeft.some((each) => each.message === message);
  const ofRight = oddMeasures(right, system).filter((each) => !isSaid(each));
  const about = [left, right].map((foot) => [foot.lengthMm, foot.ballGirthMm, foot.heelAnkleGirthMm].join()).join('/');
  const asked = (side: 'left' | 'right', { measure, message }: OddMeasure, words = '') => ({
    ...{ code: 'oddFoot', path: paths[side][measure], message: `${words}${message}` },
    ...{ yes: 'Yes, it is right', about: `${left.person} ${about}` },
  });
  return [
    ...ofLeft.map((each) => asked('left', each)),
    ...between.map((each) => asked('right', each)),
    ...ofRight
      .filter(({ measure }) => !between.some((each) => each.measure === measure))
      .map((each) => asked('right', each, 'Right foot: ')),
  ];
}

function isOwn({ path }: Problem, right: MeasuredFoot, paths: FootPaths): boolean {
  return (
    (path === paths.length && right.lengthMm !== null) ||
    (path === paths.ballGirth && right.ballGirthMm !== null) ||
    (path === paths.heelAnkleGirth && right.heelAnkleGirthMm !== null)
  );
}

/** A colour as it was chosen: alone in every strand of its yarn, or one strand of it and one of another. */
export type ChosenColour = Pick<KnownColour, 'id' | 'strands'> & { readonly heldWith?: Pick<KnownColour, 'id'> | null };

/** Colours of a line by role. A role without a choice has the first one's. */
export function coloursOf(
  style: KnownStyle,
  chosen: ReadonlyMap<string, ChosenColour>,
): { readonly colours: readonly NewLineColour[]; readonly missing: string | null } {
  const first = style.roles[0];
  const main = first && chosen.get(first.name);
  if (!main) return { colours: [], missing: first?.name ?? '' };
  const colours = style.roles.flatMap(({ name: role }) => {
    const colour = chosen.get(role) ?? main;
    const ids = colour.heldWith ? [colour.id, colour.heldWith.id] : Array<number>(colour.strands).fill(colour.id);
    return ids.map((yarnColourId, strand) => ({ role, strand, yarnColourId }));
  });
  return { colours, missing: null };
}

export const cuffRangeMm = { least: 10, most: 300 } as const;

/** The cuff as it is stored: null for the style's own short one, 0 for none, otherwise its height in mm. */
export function cuffHeightMm(cuff: CuffWish | number, style: KnownStyle, foot: ReadSize): number | null {
  if (!style.hasCuff || cuff === 'short') return null;
  if (cuff === 'none') return 0;
  return cuff === 'turned down' ? turnedDownMm(style, foot.person, foot.lengthMm) : cuff;
}

export type LineWish = {
  readonly style: KnownStyle;
  readonly foot: ReadSize;
  readonly fit: Fit;
  readonly cuff: CuffWish | number;
  readonly quantity: number;
  readonly agreedCents: number | null;
  readonly knitterId: number | null;
  readonly colours: readonly NewLineColour[];
};

export function lineEntryOf({ style, foot, cuff, ...rest }: LineWish): LineEntry {
  return { ...rest, styleId: style.id, size: foot.size, cuffHeightMm: cuffHeightMm(cuff, style, foot) };
}
