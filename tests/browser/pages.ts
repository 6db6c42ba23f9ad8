import type { Workshop } from '#db/open.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';

const tried = 'person=woman&size=38&stitches=13&rows=18';

/** Every page that can be asked for; `:line` and its like stand for a record of the sample season. */
export const pages = [
  '/',
  '/try',
  `/try?${tried}`,
  `/try/working/grams?${tried}`,
  '/orders',
  '/orders?show=all',
  '/orders/new',
  '/orders/new?like=:line',
  '/orders/grid',
  '/orders/import',
  '/orders/:order',
  '/orders/:order/edit',
  '/orders/:order/lines/new',
  '/orders/lines/:line',
  '/orders/lines/:line/edit',
  '/batch',
  '/batch/start',
  '/batch/started/:batch',
  '/batch/stock',
  '/buying',
  '/buying/shops',
  '/buying/shops/new',
  '/buying/shops/:shop',
  '/buying/prices',
  '/buying/offers/:offer',
  '/buying/arrived',
  '/shelf',
  '/shelf/add',
  '/shelf/yarns/new',
  '/shelf/yarns/:yarn',
  '/shelf/yarns/:yarn/colours',
  '/shelf/colours/:colour',
  '/shelf/lots/:lot',
  '/shelf/lots/:lot/weigh',
  '/shelf/lots/:lot/take-off',
  '/shelf/lots/:lot/wind-off',
  '/shelf/lots/:lot/change',
  '/knitters',
  '/knitters/new',
  '/knitters/:knitter',
  '/knitters/swatches/new',
  '/knitters/swatches/:swatch',
  '/pricing',
  '/pricing/sheet',
  '/pricing/pair/:line',
  '/pricing/hour',
  '/pricing/outlets/new',
  '/pricing/outlets/:outlet',
  '/pricing/materials/new',
  '/pricing/materials/:material',
  '/cards',
  '/cards/print',
  '/cards/pair/:pair',
  '/styles',
  '/styles/import',
  '/styles/:style',
  '/styles/:copy/edit',
  '/sizing',
  '/sizing/measure',
  '/sizing/bands/new',
  '/sizing/bands/:band',
  '/settings',
  '/settings/history',
  '/settings/passphrase',
  '/sign-in',
  '/working/method',
  '/working/sizing/cast-on/:line',
  '/working/yardage/grams/:line',
  '/working/timing/minutes/:line',
  '/working/schedule/finish/:line',
  '/working/pricing/overhead/0',
  '/no-such-page',
] as const;

/** Puts the first record of each kind in the place of its name. */
export async function fillerFor(workshop: Workshop): Promise<(page: string) => string> {
  const rows = await readWorkshop(workshop);
  const tables: Readonly<Record<string, readonly { readonly id: number }[]>> = {
    order: rows.orders,
    line: rows.lines,
    batch: rows.batches,
    shop: rows.suppliers,
    offer: rows.offers,
    yarn: rows.yarns,
    colour: rows.yarnColours,
    lot: rows.lots,
    knitter: rows.knitters,
    swatch: rows.swatches,
    outlet: rows.outlets,
    material: rows.styleMaterials,
    band: rows.bands,
    style: rows.styles,
    copy: rows.styles.filter(({ isShipped }) => !isShipped),
    pair: rows.pairs,
  };
  return (page) =>
    page.replace(/:([a-z]+)/g, (_, kind: string) => {
      const row = tables[kind]?.[0];
      if (!row) throw new Error(`There is no ${kind} for ${page}.`);
      return String(row.id);
    });
}
