import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import { type PlacedPair, pairsShort, type ShopAccount, shareSale, shopAccount } from '#core/pricing/shop-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import type { Workshop } from '#db/open.ts';
import {
  listColoursPlacedAt,
  listPairsPlacedAt,
  listPaymentsOfShop,
  listShopPayments,
  type PlacementRow,
  type ShopPaymentRow,
} from '#db/stores/placements.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { placedPairs, readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { type PricedSize, readPrices } from '#flows/pricing/read-prices.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** A pair as a shop's page names it. */
export type ShopPair = {
  readonly pairId: number;
  readonly version: number;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly quality: 'good' | 'second';
};

/** A pair that stands in the shop, or stood there. */
export type PlacementView = ShopPair & {
  readonly placementId: number;
  readonly placementVersion: number;
  readonly placedDay: Day;
  readonly soldDay: Day | null;
  readonly backDay: Day | null;
  readonly priceCents: number;
  readonly shopCents: number;
  readonly oursCents: number;
};

/** A finished pair that may go to the shop, with the shop's price for it. */
export type PairToPlace = ShopPair & {
  readonly priceCents: number | null;
  /** The shop's order that it was made for; null when it is free. */
  readonly orderNumber: number | null;
};

export type ShopView = {
  readonly plan: WorkshopPlan;
  readonly shop: OutletRow;
  readonly account: ShopAccount;
  readonly standing: readonly PlacementView[];
  /** Counted back or sold, the latest first. */
  readonly counted: readonly PlacementView[];
  readonly payments: readonly ShopPaymentRow[];
  readonly toPlace: readonly PairToPlace[];
};

function stateOf({ soldDay, backDay }: PlacementRow): PlacedPair['state'] {
  if (soldDay !== null) return 'sold';
  return backDay === null ? 'standing' : 'back';
}

function accountOf(placements: readonly PlacementRow[], payments: readonly ShopPaymentRow[]): ShopAccount {
  return shopAccount(
    placements.map((placement) => ({ ...placement, state: stateOf(placement) })),
    payments.map(({ cents }) => cents),
  );
}

function shopIn({ rows }: WorkshopPlan, outletId: number): OutletRow {
  const shop = rows.outlets.find((outlet) => outlet.id === outletId && outlet.kind === 'shop');
  if (!shop) throw new AppError('notFound', 'That shop is not here.');
  return shop;
}

function pairNamer(plan: WorkshopPlan): (pair: StoredPair) => ShopPair {
  const { rows, settings } = plan;
  const colours = coloursOf(rows);
  return ({ row, frozen, kind }) => ({
    pairId: row.id,
    version: row.version,
    sizeWords: pairWords(sizeWordsIn(frozen.sizeWords, settings.unitSystem), kind, rows),
    colours: kind ? roleColours(kind, colours) : [],
    quality: row.quality,
  });
}

/** Finished pairs that are free, or were made for this shop's orders. */
function pairsToPlace(plan: WorkshopPlan, shop: OutletRow): PairToPlace[] {
  const { rows } = plan;
  const placed = placedPairs(rows.placements);
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const orderOfLine = new Map(rows.lines.map((line) => [line.id, orders.get(line.orderId)]));
  const name = pairNamer(plan);
  return readPairs(rows)
    .filter(({ row, isFinished }) => row.left === null && isFinished && !placed.has(row.id))
    .flatMap((pair) => {
      const order = pair.row.lineId === null ? undefined : orderOfLine.get(pair.row.lineId);
      if (order && order.outletId !== shop.id) return [];
      const price = pair.kind ? priceOfPair(plan, pair.kind, shop.id, { quality: pair.row.quality }) : null;
      return [{ ...name(pair), orderNumber: order?.number ?? null, priceCents: price?.priceCents ?? null }];
    });
}

/** A shop with what stands there, what it sold and what it owes. @throws {AppError} `notFound` */
export async function readShop(workshop: Workshop, now: Date, outletId: number): Promise<ShopView> {
  const plan = await readPlan(workshop, now);
  const shop = shopIn(plan, outletId);
  const [payments, pairs, pairColours] = await workshop.store.read(async (db) =>
    db.batch([listPaymentsOfShop(db, outletId), listPairsPlacedAt(db, outletId), listColoursPlacedAt(db, outletId)]),
  );
  const placements = plan.rows.placements.filter((placement) => placement.outletId === outletId);
  const name = pairNamer(plan);
  const named = new Map(
    readPairs({ ...plan.rows, pairs, pairColours, pairPieces: [] }).map((pair) => [pair.row.id, name(pair)]),
  );
  const views = placements.flatMap((placement): PlacementView[] => {
    const pair = named.get(placement.pairId);
    if (!pair) return [];
    const { id, version, placedDay, soldDay, backDay, priceCents, shareRatio } = placement;
    const days = { placedDay, soldDay, backDay };
    return [
      {
        ...pair,
        placementId: id,
        placementVersion: version,
        ...days,
        priceCents,
        ...shareSale(priceCents, shareRatio),
      },
    ];
  });
  const isStanding = (view: PlacementView) => view.soldDay === null && view.backDay === null;
  const endOf = (view: PlacementView) => view.soldDay ?? view.backDay ?? '';
  return {
    plan,
    shop,
    account: accountOf(placements, payments),
    standing: views.filter(isStanding),
    counted: views.filter((view) => !isStanding(view)).sort((a, b) => (endOf(a) < endOf(b) ? 1 : -1)),
    payments,
    toPlace: shop.terms === 'sale or return' ? pairsToPlace(plan, shop) : [],
  };
}

/** A wholesale order of a shop, and how many pairs it lacks to the least. */
export type WholesaleOrder = {
  readonly orderId: number;
  readonly number: number;
  readonly pairs: number;
  readonly short: number;
};

/** A size at the wholesale price, with what the shop may ask for it. */
export type WholesaleSize = {
  readonly size: string;
  readonly lineId: number;
  readonly row: PriceSheetRow;
  readonly groupName: string | null;
  /** Twice the wholesale price, the trade's rule of thumb. */
  readonly suggestedCents: number | null;
};

export type WholesaleView = { readonly orders: readonly WholesaleOrder[]; readonly sizes: readonly WholesaleSize[] };

/** How far an order stays below the least that its shop agreed to; null where it does not. */
export function shortOfLeast({ rows }: WorkshopPlan, outletId: number, pairs: number): WholesaleShort | null {
  const shop = rows.outlets.find((outlet) => outlet.id === outletId);
  if (shop?.terms !== 'wholesale' || shop.leastPairs === null) return null;
  const short = pairsShort(pairs, shop.leastPairs);
  return short > 0 ? { shopId: shop.id, shopName: shop.name, leastPairs: shop.leastPairs, short } : null;
}

export type WholesaleShort = {
  readonly shopId: number;
  readonly shopName: string;
  readonly leastPairs: number;
  readonly short: number;
};

function wholesaleSize({ size, pairs }: PricedSize, outletId: number): WholesaleSize[] {
  const dearest = pairs.reduce((most, pair) => (pair.cost.totalCents > most.cost.totalCents ? pair : most));
  const price = dearest.prices.find(({ outlet }) => outlet.id === outletId);
  if (!price) return [];
  const { row, groupName, suggestedCents } = price;
  return [{ size, lineId: dearest.lineId, row, groupName, suggestedCents }];
}

/** Orders and prices of a shop that buys. */
export async function readWholesale(workshop: Workshop, now: Date, shop: OutletRow): Promise<WholesaleView> {
  const { plan, sizes } = await readPrices(workshop, now);
  const { orders, lines } = plan.rows;
  return {
    orders: orders
      .filter((order) => order.outletId === shop.id)
      .map(({ id, number }) => {
        const pairs = lines.filter((line) => line.orderId === id).reduce((sum, line) => sum + line.quantity, 0);
        return { orderId: id, number, pairs, short: pairsShort(pairs, shop.leastPairs) };
      }),
    // Whose feet were measured is nobody else's business.
    sizes: sizes
      .filter((size) => size.pairs.every((pair) => !pair.isMeasured))
      .flatMap((size) => wholesaleSize(size, shop.id)),
  };
}

/** A shop in the list of shops. */
export type ShopRow = { readonly shop: OutletRow; readonly account: ShopAccount };

export type ShopsView = { readonly plan: WorkshopPlan; readonly shops: readonly ShopRow[] };

/** Every shop, open ones and those that still have something of ours. */
export async function readShops(workshop: Workshop, now: Date): Promise<ShopsView> {
  const plan = await readPlan(workshop, now);
  const payments = await workshop.store.read(async (db) => listShopPayments(db));
  const shops = plan.rows.outlets
    .filter((outlet) => outlet.kind === 'shop')
    .map((shop) => ({
      shop,
      account: accountOf(
        plan.rows.placements.filter(({ outletId }) => outletId === shop.id),
        payments.filter(({ outletId }) => outletId === shop.id),
      ),
    }))
    .filter(({ shop, account }) => !shop.isClosed || account.standing > 0 || account.owedCents !== 0);
  return { plan, shops };
}
