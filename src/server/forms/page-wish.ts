import type { Context } from 'hono';
import { type PageWish, rowsOnScreen, rowsToPrint } from '#core/shared/paging.ts';
import type { AppEnv } from '#server/app.ts';

/**
 * The part of a long list that an address asks for: `?page=3`, or `?print=yes` for the long pages that are printed.
 *
 * @param name of the page's number, where an address has several lists
 */
export function pageWish(c: Context<AppEnv>, size = rowsOnScreen, name = 'page'): PageWish {
  const page = Number(/^[1-9]\d{0,6}$/.exec(c.req.query(name) ?? '')?.[0] ?? 1);
  return { page, size: c.req.query('print') === 'yes' ? rowsToPrint : size };
}

/**
 * Addresses of the pages of the list that is shown: they keep what else the address says.
 *
 * @param path where the list stands
 * @param kept what filters it, by name; empty ones are left out
 * @param name of the page's number
 */
export function pageHrefs(
  path: string,
  kept: Readonly<Record<string, string | number | null | undefined>> = {},
  name = 'page',
) {
  return ({ page, size }: PageWish): string => {
    const query = new URLSearchParams();
    for (const [word, value] of Object.entries(kept)) if (value) query.set(word, String(value));
    if (size === rowsToPrint) query.set('print', 'yes');
    if (page > 1) query.set(name, String(page));
    return query.size === 0 ? path : `${path}?${query}`;
  };
}
