import type { WantedPair } from '#core/batch/net-to-make.ts';
import { type LotPart, placementKey } from '#core/buying/lots.ts';
import type { Placed } from '#core/buying/wants.ts';

/** A lot and the share of a pair's yarn of a colour that comes from it. */
export type LotShare = { readonly lotId: number; readonly share: number };

const none: readonly LotShare[] = [];

/**
 * The lots that a pair has its yarn of a colour from, held or still on the shelf, by weight.
 *
 * @returns shares that add up to 1: one lot, or several where the pair mixes them; none where the yarn is to buy or its
 * knitter's own
 */
export function lotsOfPair(
  pair: WantedPair,
  yarnColourId: number,
  { lotOf, mixedOf }: Pick<Placed, 'lotOf' | 'mixedOf'>,
): readonly LotShare[] {
  const key = placementKey(pair.key, yarnColourId);
  const lotId = lotOf.get(key);
  if (lotId !== undefined) return [{ lotId, share: 1 }];
  return sharesOf(mixedOf.get(key) ?? pair.started?.heldLots?.get(yarnColourId));
}

function sharesOf(parts: readonly LotPart[] | undefined): readonly LotShare[] {
  if (!parts) return none;
  const mg = parts.reduce((sum, part) => sum + part.mg, 0);
  return parts.map((part) => ({ lotId: part.lotId, share: mg === 0 ? 1 / parts.length : part.mg / mg }));
}
