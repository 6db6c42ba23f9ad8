import { serve } from '@hono/node-server';
import { Hono } from 'hono';
import { html } from 'hono/html';
import { openWorkshop } from '#db/open.ts';
import { readState } from '#db/stores/workshop.ts';
import type { AppEnv } from '#server/app.ts';
import { limitBody } from '#server/middleware/body-limit.ts';
import { checkContentType } from '#server/middleware/content-type.ts';
import { checkHost } from '#server/middleware/host.ts';
import { checkOrigin } from '#server/middleware/origin.ts';
import { giveRequestId } from '#server/middleware/request-id.ts';
import { setSecureHeaders } from '#server/middleware/secure-headers.ts';
import { BareTable } from '#tests/bench/bare-table.tsx';

// The yardstick: the same framework and safeguards, one query, and a table with as many cells.
const cells = Number(process.env.CELLS);
const workshop = await openWorkshop(process.env.DATABASE_URL!);
const app = new Hono<AppEnv>({ strict: false });
app.use(giveRequestId);
app.use(setSecureHeaders);
app.use(checkHost(null));
app.use(checkOrigin(null));
app.use(checkContentType);
app.use(limitBody);
app.get('/', async (c) => {
  const state = await workshop.store.read(readState);
  return c.html(html`<!doctype html>${BareTable({ cells, revision: state.revision })}`);
});
serve({ fetch: app.fetch, hostname: '127.0.0.1', port: Number(process.env.PORT) }, () => console.log('ready'));
