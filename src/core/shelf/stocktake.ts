import { requireAbove0, requireRange } from '#core/shared/check.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';

/**
 * What to book when a ball was put on the scale: nothing where the scale would have shown the same for what is written
 * down, since it cannot tell them apart; else the whole difference.
 *
 * @param bookMg what is written down, milligrams, at least 0
 * @param shownMg what the scale shows, milligrams, at least 0
 * @param stepMg the smallest step of the scale, milligrams, above 0
 * @returns milligrams, below 0 where there is less than was written down
 * @throws {RangeError} when an argument is outside its range
 * @example differenceToBook(43200, 43000, 1000) // => 0, a scale of whole grams shows 43 for both
 * @example differenceToBook(43200, 42000, 1000) // => -1200
 * @example differenceToBook(43200, 43000, 100) // => -200
 */
export function differenceToBook(bookMg: number, shownMg: number, stepMg: number): number {
  requireRange('differenceToBook: bookMg', bookMg, 0);
  requireRange('differenceToBook: shownMg', shownMg, 0);
  requireAbove0('differenceToBook: stepMg', stepMg);
  // An empty scale is no step of anything: nothing left is nothing left.
  if (shownMg === 0) return 0 - bookMg;
  return roundHalfUp(bookMg / stepMg) === roundHalfUp(shownMg / stepMg) ? 0 : shownMg - bookMg;
}
