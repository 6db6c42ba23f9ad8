import type { Fit, Foot } from '#core/sizing/foot.ts';
import type { Factor, StyleBody } from '#core/styles/style.ts';

export type StyleSettings = Readonly<Record<string, number>>;

/** How fit shifts the girth: three points of ease smaller or larger. Our own choice. */
export const fitShift: Readonly<Record<Fit, number>> = { snug: -0.03, usual: 0, roomy: 0.03 };

/** Thick yarn from here up has the style's own girth factor, fine yarn from there down the sock custom's. Our own choice. */
export const thickTex = 800;
export const fineTex = 400;

/**
 * A style's settings for a foot: the child's values over the adult's where the style gives any.
 *
 * @example settingsFor({ settings: { growthMm: 0 }, settingsForChild: { growthMm: 6 } }, 'child').growthMm // => 6
 * @example settingsFor({ settings: { growthMm: 0 }, settingsForChild: { growthMm: 6 } }, 'woman').growthMm // => 0
 */
export function settingsFor(
  body: Pick<StyleBody, 'settings' | 'settingsForChild'>,
  person: Foot['person'],
): StyleSettings {
  return person === 'child' ? { ...body.settings, ...body.settingsForChild } : body.settings;
}

/**
 * A number of the style: itself, or the setting of that name.
 *
 * @throws {RangeError} when the style has no such setting
 * @example factorValue('growthMm', { growthMm: 6 }) // => 6
 * @example factorValue(1.5, {}) // => 1.5
 */
export function factorValue(factor: Factor, settings: StyleSettings): number {
  if (typeof factor === 'number') return factor;
  const value = settings[factor];
  if (value === undefined) throw new RangeError(`factorValue: the style has no setting called ${factor}`);
  return value;
}

/**
 * Girth factor by yarn thickness: the style's own from 800 tex up, its fine one at 400 tex and below, between them a line.
 *
 * @param thick factor for thick yarn, like 0.93
 * @param fine factor for fine yarn, like 0.90
 * @param tex all strands together, above 0
 * Source: -10 % in sock yarn is published custom; less in thick yarn and the line between are our own choice
 * @example girthFactorByTex(0.93, 0.9, 1000) // => 0.93
 * @example girthFactorByTex(0.93, 0.9, 600) // => 0.915
 * @example girthFactorByTex(0.93, 0.9, 250) // => 0.9
 */
export function girthFactorByTex(thick: number, fine: number, tex: number): number {
  if (tex >= thickTex) return thick;
  if (tex <= fineTex) return fine;
  return fine + ((thick - fine) * (tex - fineTex)) / (thickTex - fineTex);
}

/**
 * Stitches a seam takes at each edge: half a stitch from bulky up, a whole one in finer yarn.
 *
 * @param tex all strands together
 * Source: common practice of sewing up, no source; the border at 800 tex is our own choice
 * @example seamTakes(1000) // => 0.5
 * @example seamTakes(500) // => 1
 */
export function seamTakes(tex: number): number {
  return tex >= thickTex ? 0.5 : 1;
}
