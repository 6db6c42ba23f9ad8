import { Hono } from 'hono';
import type { AppEnv } from '#server/app.ts';
import { assets } from '#server/assets.ts';

/** The style sheet, the script and the icon. */
export function assetsRoutes(): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  routes.get('/:name', function sendAsset(c) {
    const asset = assets.get(c.req.param('name'));
    if (!asset) return c.notFound();
    const etag = `"${asset.hash}"`;
    const isLasting = c.req.query('v') === asset.hash;
    const headers = { 'Cache-Control': isLasting ? 'public, max-age=31536000, immutable' : 'no-cache', ETag: etag };
    if (c.req.header('if-none-match') === etag) return c.body(null, 304, headers);
    return c.body(asset.body, 200, { ...headers, 'Content-Type': asset.type });
  });
  return routes;
}
