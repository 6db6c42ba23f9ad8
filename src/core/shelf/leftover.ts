import { requireRange } from '#core/shared/check.ts';

/**
 * What is likely left of a colour when all that is planned is knitted: on the shelf, on its way and still to buy, less what
 * the pairs likely use.
 *
 * @param onShelfG grams there now, at least 0
 * @param comingG grams that are on their way or still to buy, at least 0
 * @param neededG likely grams of every pair that is not finished, at least 0
 * @returns grams; below 0 is short by so much
 * @example expectedLeftG(262, 100, 310) // => 52
 * @example expectedLeftG(50, 0, 60) // => -10
 */
export function expectedLeftG(onShelfG: number, comingG: number, neededG: number): number {
  requireRange('expectedLeftG: onShelfG', onShelfG, 0);
  requireRange('expectedLeftG: comingG', comingG, 0);
  requireRange('expectedLeftG: neededG', neededG, 0);
  return onShelfG + comingG - neededG;
}
