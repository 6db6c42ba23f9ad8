import { type CuffWish, cuffHeightFor, kindFor } from '#core/batch/kinds.ts';
import type { ColoursByRole, Kind } from '#core/batch/lines.ts';
import { type Yarn, type YarnsByRole, yarnsKey } from '#core/gauge/hand.ts';
import { rolesMainFirst } from '#core/styles/roles.ts';
import { settingsFor } from '#core/styles/settings-of.ts';
import type { Style } from '#core/styles/style.ts';

/** Yarns held together as the workshop holds them, and the colours they are known in, the cheapest first. */
export type YarnToTry = {
  readonly name: string;
  readonly strands: readonly Yarn[];
  /** At least one. */
  readonly colourIds: readonly number[];
};

/** Another pair that may cost less: one thing changed. */
export type WayDown = {
  readonly way: 'short cuff' | 'no cuff' | 'one colour' | 'yarn' | 'style';
  /** Of the yarn or the style. */
  readonly name: string | null;
  readonly kind: Kind;
};

/** Strands this far apart in thickness knit to another gauge. Our own choice: a quarter, as neighbours on a band. */
const likeThicknessRatio = 0.25;

function texOf(strands: readonly Yarn[]): number {
  return strands.reduce((sum, { tex }) => sum + tex, 0);
}

/**
 * Whether strands knit to about the same gauge: of one weight category, or of like thickness together.
 *
 * @example isLikeGauge([{ tex: 1000, category: 5 }], [{ tex: 1200, category: 5 }]) // => true
 * @example isLikeGauge([{ tex: 1000, category: 5 }], [{ tex: 500, category: 4 }, { tex: 500, category: 4 }]) // => true
 * @example isLikeGauge([{ tex: 1000, category: 5 }], [{ tex: 500, category: 4 }]) // => false
 */
export function isLikeGauge(a: readonly Yarn[], b: readonly Yarn[]): boolean {
  const isOneCategory = a.length === b.length && a.every(({ category }, index) => category === b[index]!.category);
  return isOneCategory || Math.abs(texOf(b) / texOf(a) - 1) <= likeThicknessRatio;
}

type Change = {
  readonly style?: Style;
  readonly yarns?: YarnsByRole;
  readonly colours?: ColoursByRole;
  readonly cuff?: CuffWish | number;
};

function changed({ shape, colours }: Kind, change: Change): Kind {
  const { style, foot, right, fit, yarns, cuffHeightMm } = shape;
  return kindFor({ style, foot, right, fit, yarns, colours, cuff: cuffHeightMm, ...change });
}

function lowerCuffs(kind: Kind): WayDown[] {
  const { style, foot, cuffHeightMm } = kind.shape;
  if (cuffHeightMm === 0 || !style.body.pieces.some((piece) => piece.isOptional)) return [];
  const shortMm = cuffHeightFor('short', settingsFor(style.body, foot.person), foot.lengthMm);
  const short: WayDown = { way: 'short cuff', name: null, kind: changed(kind, { cuff: shortMm }) };
  const none: WayDown = { way: 'no cuff', name: null, kind: changed(kind, { cuff: 0 }) };
  return shortMm > 0 && shortMm < cuffHeightMm ? [short, none] : [none];
}

function everyRole<T>(style: Style, value: T): Record<string, T> {
  return Object.fromEntries(style.body.roles.map(({ name }) => [name, value]));
}

function oneColour(kind: Kind): WayDown[] {
  const { style, yarns, isOneColour } = kind.shape;
  const main = rolesMainFirst(style.body)[0]?.name;
  if (isOneColour || main === undefined || !yarns[main] || !kind.colours[main]) return [];
  const change = { yarns: everyRole(style, yarns[main]), colours: everyRole(style, kind.colours[main]) };
  return [{ way: 'one colour', name: null, kind: changed(kind, change) }];
}

/** The kind in another yarn: its main part in the first colour, the rest in the second where it had another colour. */
function inYarn(kind: Kind, { name, strands, colourIds }: YarnToTry): WayDown {
  const { style, isOneColour } = kind.shape;
  const main = rolesMainFirst(style.body)[0]?.name;
  const idFor = (role: string) => (isOneColour || role === main ? colourIds[0]! : (colourIds[1] ?? colourIds[0]!));
  const colours = Object.fromEntries(style.body.roles.map((role) => [role.name, strands.map(() => idFor(role.name))]));
  return { way: 'yarn', name, kind: changed(kind, { yarns: everyRole(style, strands), colours }) };
}

/** The kind in another style: roles of the same name keep their yarn, others have that of the main part. */
function inStyle(kind: Kind, style: Style): WayDown[] {
  const { yarns } = kind.shape;
  const main = rolesMainFirst(kind.shape.style.body)[0]?.name;
  if (main === undefined || !yarns[main] || !kind.colours[main]) return [];
  const roles = style.body.roles.map(({ name }) => name);
  const from = (role: string) => (yarns[role] && kind.colours[role] ? role : main);
  const change = {
    style,
    yarns: Object.fromEntries(roles.map((role) => [role, yarns[from(role)]!])),
    colours: Object.fromEntries(roles.map((role) => [role, kind.colours[from(role)]!])),
    cuff: kind.shape.cuffHeightMm === 0 ? 0 : ('short' as const),
  };
  return [{ way: 'style', name: style.name, kind: changed(kind, change) }];
}

/**
 * Other pairs for the same foot that may cost less, one thing changed in each: a lower cuff, one colour, another yarn of
 * like gauge, another style. Whether they can be knitted and what they save is for the plan's own rules to say.
 *
 * @param kind the pair as it is asked for
 * @param yarns what the workshop knows, each with its colours, cheapest first; unlike gauges and its own yarn are passed over
 * @param styles what the workshop has; its own style is passed over
 * @returns in the order cuff, colour, yarn, style; none twice
 */
export function waysDown(kind: Kind, yarns: readonly YarnToTry[], styles: readonly Style[]): WayDown[] {
  const { style, yarns: own } = kind.shape;
  const main = rolesMainFirst(style.body)[0]?.name;
  const mainYarns = (main === undefined ? undefined : own[main]) ?? [];
  const likeYarns = yarns.filter(
    ({ strands, colourIds }) =>
      colourIds.length > 0 &&
      mainYarns.length > 0 &&
      yarnsKey(strands) !== yarnsKey(mainYarns) &&
      isLikeGauge(mainYarns, strands),
  );
  const ways = [
    ...lowerCuffs(kind),
    ...oneColour(kind),
    ...likeYarns.map((yarn) => inYarn(kind, yarn)),
    ...styles.filter((each) => each.versionId !== style.versionId).flatMap((each) => inStyle(kind, each)),
  ];
  const seen = new Set([kind.key]);
  return ways.filter((way) => !seen.has(way.kind.key) && seen.add(way.kind.key));
}
