import { Hono } from 'hono';
import type { Workshop } from '#db/open.ts';
import type { Solver } from '#flows/buying/improve-list.ts';
import { isReachedByOthers } from '#server/config.ts';
import { answerError, answerNotFound } from '#server/errors.ts';
import { limitBody } from '#server/middleware/body-limit.ts';
import { checkContentType } from '#server/middleware/content-type.ts';
import { checkHost } from '#server/middleware/host.ts';
import { checkOrigin } from '#server/middleware/origin.ts';
import { giveRequestId } from '#server/middleware/request-id.ts';
import { setSecureHeaders } from '#server/middleware/secure-headers.ts';
import { noteWorkshopState } from '#server/middleware/workshop-state.ts';
import { assetsRoutes } from '#server/routes/assets.ts';
import { batchRoutes } from '#server/routes/batch.tsx';
import { booksRoutes, giftsRoutes } from '#server/routes/books.tsx';
import { buyingRoutes } from '#server/routes/buying.tsx';
import { cardsRoutes } from '#server/routes/cards.tsx';
import { dyeLotsRoutes } from '#server/routes/dye-lots.tsx';
import { elsewhereRoutes } from '#server/routes/elsewhere.tsx';
import { enoughRoutes } from '#server/routes/enough.tsx';
import { fairRoutes } from '#server/routes/fair.tsx';
import { homeRoutes } from '#server/routes/home.tsx';
import { knittersRoutes } from '#server/routes/knitters.tsx';
import { likeYarnsRoutes } from '#server/routes/like-yarns.tsx';
import { measuringRoutes } from '#server/routes/measuring.tsx';
import { mostPairsRoutes } from '#server/routes/most-pairs.tsx';
import { ordersRoutes } from '#server/routes/orders.tsx';
import { orderQuotesRoutes } from '#server/routes/orders-quotes.tsx';
import { priceImportRoutes } from '#server/routes/price-import.tsx';
import { priceSheetRoutes } from '#server/routes/price-sheet.tsx';
import { pricingRoutes } from '#server/routes/pricing.tsx';
import { pricingExtrasRoutes } from '#server/routes/pricing-extras.tsx';
import { pricingGroupsRoutes } from '#server/routes/pricing-groups.tsx';
import { pricingPostageRoutes } from '#server/routes/pricing-postage.tsx';
import { pricingSeenRoutes } from '#server/routes/pricing-seen.tsx';
import { pricingShopsRoutes } from '#server/routes/pricing-shops.tsx';
import { pricingWhatIfRoutes } from '#server/routes/pricing-what-if.tsx';
import { purchasesRoutes } from '#server/routes/purchases.tsx';
import { settingsRoutes } from '#server/routes/settings.tsx';
import { shelfRoutes } from '#server/routes/shelf.tsx';
import { shelfStockRoutes } from '#server/routes/shelf-stock.tsx';
import { shelfUnlabelledRoutes } from '#server/routes/shelf-unlabelled.tsx';
import { signInRoutes } from '#server/routes/sign-in.tsx';
import { sizingRoutes } from '#server/routes/sizing.tsx';
import { stylesRoutes } from '#server/routes/styles.tsx';
import { tagsRoutes } from '#server/routes/tags.tsx';
import { tryRoutes } from '#server/routes/try.tsx';
import { workingRoutes } from '#server/routes/working.tsx';
import { requireSession } from '#server/session/require-session.ts';
import type { WorkshopState } from '#views/layout.tsx';

/** What the routes work with; tests hand in a workshop in a temporary file and a clock that stands still. */
export type AppDeps = {
  readonly workshop: Workshop;
  readonly now: () => Date;
  /** Where the workshop is reached from outside, like `https://knitting.example`; null for this machine alone. */
  readonly publicUrl: string | null;
  /** Looks for cheaper lists; the program's own worker when left out. */
  readonly solver?: Solver;
  /** The address listened on; this machine alone when left out. */
  readonly host?: string;
};

export type AppEnv = {
  Bindings: {
    readonly incoming?: { readonly socket?: { readonly localPort?: number; readonly remoteAddress?: string } };
  };
  Variables: {
    requestId: string;
    isSignedIn?: boolean;
    /** Asked when a page is drawn; absent where no page of the workshop is. */
    workshopState?: () => Promise<WorkshopState>;
  };
};

export type AreaRoutes = (deps: AppDeps) => Hono<AppEnv>;

/** Each area at its address: one line an area. */
const areas: readonly (readonly [path: string, routes: AreaRoutes])[] = [
  ['/assets', assetsRoutes],
  ['/', signInRoutes],
  ['/try', tryRoutes],
  ['/sizing/measure', measuringRoutes],
  ['/sizing', sizingRoutes],
  ['/styles', stylesRoutes],
  ['/batch', batchRoutes],
  ['/buying/purchases', purchasesRoutes],
  ['/buying/elsewhere', elsewhereRoutes],
  ['/buying/enough', enoughRoutes],
  ['/buying/instead', likeYarnsRoutes],
  ['/buying/dye-lots', dyeLotsRoutes],
  ['/buying/prices/import', priceImportRoutes],
  ['/buying', buyingRoutes],
  ['/cards', cardsRoutes],
  ['/shelf/most-pairs', mostPairsRoutes],
  ['/shelf/unlabelled', shelfUnlabelledRoutes],
  ['/shelf', shelfStockRoutes],
  ['/shelf', shelfRoutes],
  ['/knitters', knittersRoutes],
  ['/pricing/tags', tagsRoutes],
  ['/pricing/sheet', priceSheetRoutes],
  ['/pricing/shops', pricingShopsRoutes],
  ['/pricing/groups', pricingGroupsRoutes],
  ['/pricing/seen', pricingSeenRoutes],
  ['/pricing/what-if', pricingWhatIfRoutes],
  ['/fair', fairRoutes],
  ['/pricing/books', booksRoutes],
  ['/pricing/gifts', giftsRoutes],
  ['/pricing/extras', pricingExtrasRoutes],
  ['/pricing/postage', pricingPostageRoutes],
  ['/pricing', pricingRoutes],
  ['/settings', settingsRoutes],
  ['/orders', orderQuotesRoutes],
  ['/orders', ordersRoutes],
  ['/working', workingRoutes],
  ['/', homeRoutes],
];

/** The whole web program as a function from request to answer; it opens nothing and listens nowhere. */
export function createApp(deps: AppDeps): Hono<AppEnv> {
  const app = new Hono<AppEnv>({ strict: false });
  app.use(giveRequestId);
  app.use(setSecureHeaders);
  app.use(checkHost(deps.publicUrl, deps.host));
  app.use(checkOrigin(deps.publicUrl));
  app.use(checkContentType);
  if (isReachedByOthers({ host: '127.0.0.1', ...deps })) app.use(requireSession(deps));
  app.use(limitBody);
  app.use(noteWorkshopState(deps.workshop, deps.now));
  for (const [path, routes] of areas) app.route(path, routes(deps));
  app.notFound(answerNotFound);
  app.onError((error, c) =>
    answerError(error, c, async (path) => {
      const headers = new Headers(c.req.raw.headers);
      for (const name of ['content-type', 'content-length', 'hx-request']) headers.delete(name);
      const page = await app.request(new URL(path, c.req.url).href, { headers }, c.env);
      return page.status === 200 ? await page.text() : null;
    }),
  );
  return app;
}
