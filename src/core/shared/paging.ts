import { requireWhole } from '#core/shared/check.ts';

/** Rows of a long list on one page. Our own choice: some ten screens, and a page that is drawn at once. */
export const rowsOnScreen = 200;
/** Rows of a long list on one page to print: some forty sheets. Our own choice. */
export const rowsToPrint = 1000;

/** Which part of a list is wanted. */
export type PageWish = {
  /** From 1; a page that is not there gives the nearest that is. */
  readonly page: number;
  /** Rows on a page, from 1. */
  readonly size: number;
};

/** The first page on the screen. */
export const firstPage: PageWish = { page: 1, size: rowsOnScreen };

/** One page of a list: which rows stand on it, counted from 1, of how many. */
export type Paging = PageWish & {
  readonly pages: number;
  readonly count: number;
  /** The first row on the page, and the last; an empty list has rows 1 to 0. */
  readonly from: number;
  readonly to: number;
};

/**
 * The page of a list that is wanted, or the nearest there is.
 *
 * @param count rows of the whole list, whole, from 0
 * @param wish whole numbers from 1
 * @throws {RangeError} when an argument is out of its range
 * @example pagingOf(450, { page: 3, size: 200 }) // => { page: 3, size: 200, pages: 3, count: 450, from: 401, to: 450 }
 * @example pagingOf(450, { page: 9, size: 200 }).page // => 3
 * @example pagingOf(200, { page: 1, size: 200 }).pages // => 1
 * @example pagingOf(0, { page: 1, size: 200 }) // => { page: 1, size: 200, pages: 1, count: 0, from: 1, to: 0 }
 */
export function pagingOf(count: number, { page, size }: PageWish): Paging {
  requireWhole('pagingOf: count', count);
  requireWhole('pagingOf: page', page, 1);
  requireWhole('pagingOf: size', size, 1);
  const pages = Math.max(1, Math.ceil(count / size));
  const shown = Math.min(page, pages);
  return { page: shown, size, pages, count, from: (shown - 1) * size + 1, to: Math.min(shown * size, count) };
}

/** The rows of a list that stand on a page of it. */
export function rowsOn<T>(rows: readonly T[], { from, to }: Pick<Paging, 'from' | 'to'>): readonly T[] {
  return rows.slice(from - 1, to);
}
