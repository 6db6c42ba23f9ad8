import { Hono } from 'hono';
import type { AppEnv } from '#server/app.ts';
import { renderPage } from '#server/render.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { Page } from '#views/layout.tsx';

/** The first page. */
export function homeRoutes(): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  routes.get('/', function showToday(c) {
    return renderPage(
      c,
      <Page title="Today" current="home">
        <EmptyState>Nothing is planned yet.</EmptyState>
      </Page>,
    );
  });
  return routes;
}
