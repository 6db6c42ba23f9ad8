import type { YarnCategory } from '#core/gauge/hand.ts';
import { requireAbove0, requireRange } from '#core/shared/check.ts';

/** Names of the yarn weights, by number. */
export const weightNames: readonly string[] = [
  'lace',
  'super fine',
  'fine',
  'light',
  'medium',
  'bulky',
  'super bulky',
  'jumbo',
];

type Band = { readonly category: YarnCategory; readonly least: number; readonly most: number };

/**
 * Wraps in an inch by yarn weight; bands overlap, so one number may fit several.
 * Source: Craft Yarn Council chart of wraps per inch, as reproduced by yarn shops and weaving tuition (read there, not at
 * the council); lace is open above, jumbo below.
 */
const wrapsBands: readonly Band[] = [
  { category: 0, least: 30, most: Number.POSITIVE_INFINITY },
  { category: 1, least: 14, most: 30 },
  { category: 2, least: 12, most: 18 },
  { category: 3, least: 11, most: 15 },
  { category: 4, least: 9, most: 12 },
  { category: 5, least: 6, most: 9 },
  { category: 6, least: 5, most: 6 },
  { category: 7, least: 0, most: 4 },
];

/**
 * Metres in 100 g by yarn weight. Source: tables of yarn shops, which agree with one another; the council publishes none,
 * and other tables differ by up to a third, so this only speaks where no wraps were counted.
 */
const metresBands: readonly Band[] = [
  { category: 0, least: 600, most: Number.POSITIVE_INFINITY },
  { category: 1, least: 350, most: 600 },
  { category: 2, least: 250, most: 350 },
  { category: 3, least: 200, most: 250 },
  { category: 4, least: 120, most: 200 },
  { category: 5, least: 100, most: 130 },
  { category: 6, least: 0, most: 100 },
  { category: 7, least: 0, most: 100 },
];

// A number between two bands fits both of its neighbours.
function fitting(bands: readonly Band[], value: number): readonly YarnCategory[] {
  const hair = 1e-9;
  const inside = bands.filter(({ least, most }) => value >= least - hair && value <= most + hair);
  if (inside.length > 0) return inside.map(({ category }) => category);
  const above = bands.filter(({ least }) => least > value).sort((a, b) => a.least - b.least)[0];
  const below = bands.filter(({ most }) => most < value).sort((a, b) => b.most - a.most)[0];
  return [above, below].flatMap((band) => (band ? [band.category] : [])).sort((a, b) => a - b);
}

/**
 * Every yarn weight that so many wraps in an inch may be.
 *
 * @param wraps wraps in an inch, above 0
 * @returns category numbers, thinnest first; never empty
 * @throws {RangeError} when `wraps` is not above 0
 * Source: Craft Yarn Council chart, as reproduced
 * @example categoriesOfWraps(10) // => [4]
 * @example categoriesOfWraps(9) // => [4, 5], the bands meet
 * @example categoriesOfWraps(12) // => [2, 3, 4], the bands overlap
 * @example categoriesOfWraps(4.5) // => [6, 7], between two bands
 */
export function categoriesOfWraps(wraps: number): readonly YarnCategory[] {
  return fitting(wrapsBands, requireAbove0('categoriesOfWraps: wraps', wraps));
}

/**
 * Every yarn weight that a thickness may be, by metres in 100 g.
 *
 * @param tex grams in 1000 m, above 0
 * @returns category numbers, thinnest first; never empty
 * @throws {RangeError} when `tex` is not above 0
 * Source: tables of yarn shops
 * @example categoriesOfTex(800) // => [4, 5], 125 m in 100 g
 * @example categoriesOfTex(500) // => [3, 4], 200 m in 100 g
 * @example categoriesOfTex(1250) // => [6, 7], 80 m in 100 g
 */
export function categoriesOfTex(tex: number): readonly YarnCategory[] {
  return fitting(metresBands, 100_000 / requireAbove0('categoriesOfTex: tex', tex));
}

/**
 * Whether a yarn weight is far from what the length of the yarn says: more than one weight away from all that fit, since
 * tables differ by up to a third.
 *
 * @param tex grams in 1000 m, above 0
 * @throws {RangeError} when `tex` is not above 0
 * Source: tables of yarn shops; the margin is our own choice
 * @example isFarFromWeight(6, 100) // => true, 1000 m in 100 g are no super bulky yarn
 * @example isFarFromWeight(5, 1250) // => false, 80 m in 100 g may be called bulky
 */
export function isFarFromWeight(category: YarnCategory, tex: number): boolean {
  return categoriesOfTex(tex).every((each) => Math.abs(each - category) > 1);
}

export type UnlabelledBall = {
  readonly massG: number;
  /** What ten metres of it weigh, grams. */
  readonly tenMetresG: number;
  /** Null when they were not counted. */
  readonly wrapsPerInch: number | null;
};

export type WorkedBall = {
  readonly metres: number;
  /** One standard deviation, from the step of the scale alone. */
  readonly metresSd: number;
  readonly tex: number;
  /** Every yarn weight that fits, thinnest first. */
  readonly categories: readonly YarnCategory[];
  /** The one that it counts as from now on. */
  readonly category: YarnCategory;
  /** Wraps and weight say different things: one of them was miscounted, or the yarn is unusually dense or airy. */
  readonly isAtOdds: boolean;
};

// What a scale rounds away is spread evenly over a step: its standard deviation is step / sqrt(12).
const stepSd = 1 / Math.sqrt(12);

/**
 * A ball without a band, from its weight, ten metres of it and the wraps in an inch: metres = weight / (ten metres' weight
 * / 10), tex = ten metres' weight x 100. The yarn weight is what the wraps say; where they fit several, those that the
 * weight of ten metres fits too come first, and of what is left the thinner.
 *
 * @param ball grams above 0; wraps above 0 or null
 * @param scaleStepG smallest step of the scale, grams, at least 0
 * @throws {RangeError} when an argument is outside its range
 * Source: tex is grams in 1000 m (ISO 1144); the choice among several is our own
 * @example workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: 9 }, 0).metres // => 105
 * @example workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: 9 }, 0).tex // => 800
 * @example workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: 9 }, 0).categories // => [4, 5]
 * @example workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: null }, 0).category // => 4
 * @example workOutBall({ massG: 84, tenMetresG: 8, wrapsPerInch: 20 }, 0).isAtOdds // => true
 */
export function workOutBall({ massG, tenMetresG, wrapsPerInch }: UnlabelledBall, scaleStepG: number): WorkedBall {
  requireAbove0('workOutBall: massG', massG);
  requireAbove0('workOutBall: tenMetresG', tenMetresG);
  requireRange('workOutBall: scaleStepG', scaleStepG, 0);
  const metres = (massG / tenMetresG) * 10;
  const tex = tenMetresG * 100;
  const byTex = categoriesOfTex(tex);
  const categories = wrapsPerInch === null ? byTex : categoriesOfWraps(wrapsPerInch);
  const both = categories.filter((category) => byTex.includes(category));
  return {
    metres,
    metresSd: metres * scaleStepG * stepSd * Math.hypot(1 / massG, 1 / tenMetresG),
    tex,
    categories,
    category: both[0] ?? categories[0]!,
    isAtOdds: both.length === 0,
  };
}

/** How unlabelled balls become yarns: one for each thickness, one for each yarn weight, or all of them one. */
export type JoinBy = 'thickness' | 'weight' | 'all';

export type JoinedYarn = {
  /** Places in the list of balls. */
  readonly balls: readonly number[];
  readonly tex: number;
  readonly category: YarnCategory;
  readonly categories: readonly YarnCategory[];
};

/**
 * Balls gathered into yarns. A joined yarn is as thick as its balls laid end to end: all grams over all metres; it counts
 * as the yarn weight that most of its grams have, the thinner where two have as much.
 *
 * @param balls with their grams
 * @returns in the order of their first balls; every ball is in one of them
 * @example joinBalls([{ massG: 50, metres: 50, tex: 1000, category: 5, categories: [5] }, { massG: 50, metres: 100, tex: 500, category: 4, categories: [4] }], 'all').map((yarn) => Math.round(yarn.tex)) // => [667]
 * @example joinBalls([], 'all') // => []
 */
export function joinBalls(
  balls: readonly (Pick<WorkedBall, 'metres' | 'tex' | 'category' | 'categories'> & { readonly massG: number })[],
  by: JoinBy,
): readonly JoinedYarn[] {
  const groups = new Map<string, number[]>();
  for (const [index, { tex, category }] of balls.entries()) {
    const key = by === 'all' ? '' : by === 'weight' ? String(category) : `${category} ${tex.toFixed(1)}`;
    groups.set(key, [...(groups.get(key) ?? []), index]);
  }
  return [...groups.values()].map((indexes) => {
    const own = indexes.map((index) => balls[index]!);
    const grams = own.reduce((sum, ball) => sum + ball.massG, 0);
    const metres = own.reduce((sum, ball) => sum + ball.metres, 0);
    const gramsOf = (category: YarnCategory) =>
      own.reduce((sum, ball) => (ball.category === category ? sum + ball.massG : sum), 0);
    const known = [...new Set(own.map((ball) => ball.category))].sort((a, b) => gramsOf(b) - gramsOf(a) || a - b);
    return {
      balls: indexes,
      tex: own.length === 1 ? own[0]!.tex : (grams * 1000) / metres,
      category: known[0]!,
      categories: [...new Set(own.flatMap((ball) => ball.categories))].sort((a, b) => a - b),
    };
  });
}

/**
 * How many strands of a yarn to hold together for a slipper: as many as come nearest to 1000 tex, the thickness that one
 * strand of bulky yarn has, 1 to 3.
 *
 * @param tex grams in 1000 m, above 0
 * Source: two strands of medium for one of bulky is common practice; the rule for the rest is our own
 * @example strandsForSlipper(1000) // => 1
 * @example strandsForSlipper(500) // => 2
 * @example strandsForSlipper(120) // => 3, never more
 */
export function strandsForSlipper(tex: number): 1 | 2 | 3 {
  const strands = Math.round(1000 / requireAbove0('strandsForSlipper: tex', tex));
  return strands <= 1 ? 1 : strands >= 3 ? 3 : 2;
}
