import { handworkOf } from '#core/batch/handwork.ts';
import { shapesOf } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import { postageOf, splitParcels } from '#core/pricing/postage.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { specify } from '#core/styles/specify.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** How a parcel was said to go: what is left open is taken from the prices of the post. */
export type PostWish = {
  /** A part of the world that has prices; null where price and days are typed. */
  readonly destination: string | null;
  readonly cents: number | null;
  readonly days: number | null;
};

export type Posted = { readonly cents: number; readonly days: number };

const priceMissing: Problem = {
  code: 'postageMissing',
  path: 'postage',
  message: 'Enter what the post costs, like 4.95, or 0 where you pay it.',
};
const daysMissing: Problem = {
  code: 'postDaysMissing',
  path: 'postDays',
  message: 'Enter the days in the post, like 3.',
};

/** What it costs to post some pairs, and how long that takes; the pairs weigh what they do in the reference hand. */
export function postOf(
  { input, rows, settings }: WorkshopPlan,
  wish: PostWish | null,
  pairs: readonly { readonly kind: Kind; readonly quantity: number }[],
): Result<Posted | null> {
  if (wish === null) return succeed(null);
  const { destination, cents, days } = wish;
  if (cents !== null && days !== null) return succeed({ cents, days });
  const bands = rows.postageBands.filter((band) => band.name === destination);
  if (bands.length === 0) {
    return refuse(
      ...[cents === null ? priceMissing : null, days === null ? daysMissing : null].filter((p) => p !== null),
    );
  }
  const handwork = handworkOf(
    specify(shapesOf(pairs.map(({ kind }) => kind)), input.hands),
    input.knitters,
    input.referenceKnitterId,
  );
  const pairsG = pairs.flatMap(({ kind, quantity }) => {
    const massG = handwork.yarnOf(kind, null).reduce((sum, { grams }) => sum + grams, 0);
    return Array<number>(quantity).fill(massG);
  });
  const parcels = splitParcels(pairsG, settings.packingG, bands);
  if (!parcels.ok) return refuse(...parcels.problems.map((problem) => ({ ...problem, path: 'postage' })));
  const post = postageOf(parcels.value);
  return succeed({ cents: cents ?? post.cents, days: days ?? post.days });
}
