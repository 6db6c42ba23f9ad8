import { type Context, Hono } from 'hono';
import { readBookRows } from '#flows/books/book-rows.ts';
import { booksTable } from '#flows/books/books-table.ts';
import { readBooks } from '#flows/books/read-books.ts';
import { readGifts } from '#flows/books/read-gifts.ts';
import { readToSettle } from '#flows/fair/settle-sale.ts';
import { readPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { readPeriod, usualPeriods } from '#server/forms/books.ts';
import { writeCsv } from '#server/forms/csv.ts';
import { renderPage } from '#server/render.tsx';
import { BooksAsidePage, BooksPage } from '#views/pages/books/books.tsx';
import { GiftsPage } from '#views/pages/books/gifts.tsx';

const mostLetters = 200;

async function readAll({ workshop, now }: AppDeps, c: Context<AppEnv>) {
  const plan = await readPlan(workshop, now());
  const { problems, ...period } = readPeriod(c.req.query(), plan.today);
  return { plan, period, problems, rows: await readBookRows(workshop, plan) };
}

/** Money in and out of a period. */
export function booksRoutes(deps: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showBooks(c) {
    const { plan, period, problems, rows } = await readAll(deps, c);
    const { purpose, currency, taxNote } = plan.settings;
    const kept: Record<string, string> = c.req.query('money') === 'yes' ? { money: 'yes' } : {};
    if (purpose === 'give' && kept.money !== 'yes') return renderPage(c, <BooksAsidePage purpose={purpose} />);
    const { bookings, ...books } = readBooks(plan, rows, period);
    const { unknown, unpriced } = await readToSettle(deps.workshop, rows.fair, plan);
    const shown = {
      action: '/pricing/books',
      values: c.req.query(),
      problems,
      usual: usualPeriods(plan.today),
      kept,
      ...period,
    };
    const page = (
      <BooksPage
        {...books}
        period={shown}
        bookingCount={bookings.length}
        toSettle={unknown.length + unpriced.length}
        purpose={purpose}
        currency={currency}
        taxNote={taxNote}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  });

  routes.get('/bookings.csv', async function sendBookings(c) {
    const { plan, period, rows } = await readAll(deps, c);
    const table = booksTable(readBooks(plan, rows, period), plan.settings.currency);
    return c.body(writeCsv(table), 200, {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': `attachment; filename="books-${period.fromDay}-to-${period.toDay}.csv"`,
    });
  });

  return routes;
}

/** What was given in a period, and of whose yarn. */
export function giftsRoutes(deps: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showGifts(c) {
    const { plan, period, problems, rows } = await readAll(deps, c);
    const donor = c.req.query('donor')?.slice(0, mostLetters) || null;
    const withMoney = c.req.query('money') === 'yes';
    const { purpose, currency, wageCentsPerHour } = plan.settings;
    const shown = {
      action: '/pricing/gifts',
      values: c.req.query(),
      problems,
      usual: usualPeriods(plan.today),
      kept: { ...(donor === null ? {} : { donor }), ...(withMoney ? { money: 'yes' } : {}) },
      ...period,
    };
    const page = (
      <GiftsPage
        {...readGifts(plan, rows, period, donor)}
        period={shown}
        withMoney={withMoney}
        hasWage={wageCentsPerHour > 0}
        purpose={purpose}
        currency={currency}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  });

  return routes;
}
