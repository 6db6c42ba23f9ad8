import type { ColoursByRole, Kind, Line, Shape } from '#core/batch/lines.ts';
import type { Yarn, YarnsByRole } from '#core/gauge/hand.ts';
import type { Foot } from '#core/sizing/foot.ts';
import { rolesKnitted } from '#core/styles/roles.ts';
import { settingsFor } from '#core/styles/settings-of.ts';
import type { Style } from '#core/styles/style.ts';

/** How tall a cuff is asked for in words; a height in mm may be given instead. */
export type CuffWish = 'short' | 'turned down' | 'none';

/**
 * Cuff height for a foot, mm: the style's share of the foot length, rounded to a whole mm; 0 without a cuff.
 *
 * @param settings the style's, with `cuffShort` and `cuffTurnedDown`
 * @param footLengthMm above 0
 * @example cuffHeightFor('short', { cuffShort: 0.2, cuffTurnedDown: 0.5 }, 240) // => 48
 * @example cuffHeightFor('turned down', { cuffShort: 0.2, cuffTurnedDown: 0.5 }, 240) // => 120
 * @example cuffHeightFor('none', { cuffShort: 0.2, cuffTurnedDown: 0.5 }, 240) // => 0
 */
export function cuffHeightFor(
  wish: CuffWish,
  settings: Readonly<Record<string, number>>,
  footLengthMm: number,
): number {
  if (wish === 'none') return 0;
  const share = settings[wish === 'short' ? 'cuffShort' : 'cuffTurnedDown'] ?? 0;
  return Math.round(share * footLengthMm);
}

function strandIds(strands: readonly { readonly id: number }[]): string {
  return strands.map((yarn) => yarn.id).join('+');
}

/** All that is needed to make a kind; the keys follow from it. */
export type KindWish = {
  readonly style: Style;
  readonly foot: Foot;
  /** The right foot when it differs from `foot`, which is then the left one. */
  readonly right?: Foot | null;
  readonly fit: Shape['fit'];
  readonly yarns: YarnsByRole;
  readonly colours: ColoursByRole;
  /** Cuff height in mm or in words. */
  readonly cuff: CuffWish | number;
};

function footKey(foot: Foot): string {
  // An estimated girth is knitted with some room to spare, a measured one is not.
  const heel = `${foot.heelAnkleGirthMm.toFixed(1)}${foot.isHeelAnkleGirthMeasured ? ' measured' : ''}`;
  return `${foot.person}:${foot.lengthMm.toFixed(2)}:${foot.ballGirthMm.toFixed(1)}:${heel}`;
}

/**
 * The kind of a pair: its shape (all that decides the counts) in its colours, with keys that are equal for like pairs.
 *
 * @param wish style, foot, fit, yarns and colours by role, cuff
 */
export function kindFor(wish: KindWish): Kind {
  const { style, foot, fit, yarns, colours } = wish;
  const cuffHeightMm =
    typeof wish.cuff === 'number'
      ? wish.cuff
      : cuffHeightFor(wish.cuff, settingsFor(style.body, foot.person), foot.lengthMm);
  const roles = rolesKnitted(style.body, cuffHeightMm);
  const coloured = roles.filter((role) => colours[role] !== undefined);
  const oneColour = new Set(coloured.map((role) => colours[role]!.join('+'))).size <= 1;
  const right = wish.right && footKey(wish.right) !== footKey(foot) ? wish.right : null;
  const key = [
    style.versionId,
    right ? `${footKey(foot)}&${footKey(right)}` : footKey(foot),
    fit,
    ...roles.map((role) => strandIds(yarns[role] ?? [])),
    cuffHeightMm,
    oneColour ? 'one colour' : 'colours',
  ].join(':');
  const colourKey = roles.map((role) => (colours[role] ?? []).join('+')).join('/');
  return {
    key: `${key}#${colourKey}`,
    shape: { key, style, foot, right, fit, yarns, cuffHeightMm, isOneColour: oneColour },
    colours,
  };
}

/**
 * The distinct kinds of some lines, in the order they first occur.
 *
 * @example kindsOf([]) // => []
 */
export function kindsOf(lines: readonly Pick<Line, 'kind'>[]): Kind[] {
  return distinct(lines.map((line) => line.kind));
}

/**
 * The distinct shapes of some kinds, in the order they first occur.
 *
 * @example shapesOf([]) // => []
 */
export function shapesOf(kinds: readonly Pick<Kind, 'shape'>[]): Shape[] {
  return distinct(kinds.map((kind) => kind.shape));
}

function distinct<T extends { readonly key: string }>(items: readonly T[]): T[] {
  const seen = new Map<string, T>();
  for (const item of items) if (!seen.has(item.key)) seen.set(item.key, item);
  return [...seen.values()];
}

/** One strand of a kind: its role, yarn and colour. */
export type KindStrand = {
  readonly role: string;
  readonly strand: number;
  readonly yarn: Yarn;
  readonly yarnColourId: number;
};

// A kind never changes, and its strands are asked for again and again.
const knownStrands = new WeakMap<Kind, readonly KindStrand[]>();

/**
 * The strands of a kind with their colours.
 *
 * @throws {RangeError} when a strand has no colour
 */
export function strandsOfKind(kind: Kind): readonly KindStrand[] {
  const known = knownStrands.get(kind);
  if (known) return known;
  const strands = kind.shape.style.body.roles.flatMap(({ name: role }) =>
    (kind.shape.yarns[role] ?? []).map((yarn, strand) => {
      const yarnColourId = kind.colours[role]?.[strand];
      if (yarnColourId === undefined)
        throw new RangeError(`strandsOfKind: no colour for ${role}, strand ${strand + 1}`);
      return { role, strand, yarn, yarnColourId };
    }),
  );
  knownStrands.set(kind, strands);
  return strands;
}
