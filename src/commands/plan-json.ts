import { strandsOfKind } from '#core/batch/kinds.ts';
import { placementKey } from '#core/buying/lots.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/**
 * The whole plan as JSON, format 1. Lengths are millimetres, masses grams, times minutes, money whole minor units of
 * `currency`, days YYYY-MM-DD. Counts are of one slipper, yarn and minutes of a pair. `pairs` holds every pair to make;
 * its minutes, grams and costs sum to `totals`.
 */
export type PlanJson = {
  readonly format: 1;
  readonly today: string;
  readonly currency: string;
  /** One entry per order line, agreed ones, in planning order of their orders. */
  readonly lines: readonly LineJson[];
  /** Lines that cannot be planned, and why. */
  readonly notPlanned: readonly { readonly line: number; readonly why: string }[];
  /** Every pair to make, in planning order. */
  readonly pairs: readonly PairJson[];
  readonly fromStock: readonly { readonly line: number; readonly stockPair: number }[];
  readonly yarn: readonly YarnJson[];
  readonly lists: { readonly chosen: 'likely' | 'safe'; readonly likely: ListJson; readonly safe: ListJson };
  readonly time: {
    readonly knitters: readonly {
      readonly name: string;
      readonly pairs: number;
      readonly minutes: number;
      readonly finishDay: string | null;
    }[];
    readonly lateOrders: readonly { readonly order: number; readonly daysLate: number | null }[];
  };
  readonly totals: {
    readonly pairs: number;
    readonly minutes: number;
    readonly grams: number;
    readonly cost: CostParts;
    readonly yarnToBuyCents: number;
  };
};

export type LineJson = {
  readonly line: number;
  readonly order: number;
  readonly customer: string | null;
  readonly outlet: string;
  readonly dueDay: string | null;
  readonly size: string;
  readonly quantity: number;
  readonly colours: Readonly<Record<string, readonly string[]>>;
  readonly foot: { readonly lengthMm: number; readonly ballGirthMm: number; readonly heelAnkleGirthMm: number };
  readonly counts: {
    readonly castOn: number;
    readonly rows: number;
    readonly toeStitches: number;
    readonly markRow: number;
    readonly cuffStitches: number | null;
    readonly cuffRows: number | null;
  };
  readonly finished: {
    readonly widthMm: number;
    readonly lengthMm: number;
    readonly heelToToeMm: number;
    readonly openingMm: number;
    readonly girthEaseRatio: number;
  };
  /** Who knits its first pair; counts, grams and minutes are in this hand, cost and prices in the reference hand. */
  readonly knitter: string | null;
  readonly gramsAPair: number;
  readonly minutesAPair: number;
  readonly costAPair: CostParts;
  readonly prices: readonly {
    readonly outlet: string;
    readonly priceCents: number | null;
    readonly getsMoneyBackCents: number | null;
    readonly paysWageCents: number | null;
    readonly hourWorthCents: number | null;
  }[];
  readonly warnings: readonly string[];
};

export type PairJson = {
  readonly pair: string;
  readonly line: number | null;
  readonly knitter: string | null;
  readonly minutes: number;
  readonly startDay: string | null;
  readonly finishDay: string | null;
  /** `lot`: the row of the shelf that gives the most of it; null where it is to buy. */
  readonly yarn: readonly { readonly colour: string; readonly grams: number; readonly lot: number | null }[];
  readonly cost: CostParts;
};

export type YarnJson = {
  readonly colour: string;
  readonly yarn: string;
  readonly likelyG: number;
  readonly safeG: number;
  readonly sdG: number;
  readonly likelyM: number;
  readonly shelfG: number;
  /** Ordered and not here yet. */
  readonly onWayG: number;
  readonly toBuyLikelyG: number;
  readonly toBuySafeG: number;
};

export type ListJson = {
  readonly totalCents: number;
  readonly isProvenCheapest: boolean;
  readonly boundCents: number;
  readonly baskets: readonly {
    readonly shop: string;
    readonly goodsCents: number;
    readonly offCents: number;
    readonly postageCents: number;
    readonly packs: readonly {
      readonly colour: string;
      readonly packs: number;
      readonly grams: number;
      readonly cents: number;
    }[];
  }[];
  readonly notSold: readonly { readonly colour: string; readonly grams: number }[];
};

/** Names of the workshop's rows by id. */
export type Names = {
  readonly colour: (id: number) => string;
  readonly yarnOfColour: (id: number) => string;
  readonly outlet: (id: number) => string;
  readonly knitter: (id: number | null) => string | null;
  readonly supplier: (id: number) => string;
};

export function namesOf({ rows, input }: Pick<WorkshopPlan, 'rows' | 'input'>): Names {
  const yarns = new Map(rows.yarns.map((yarn) => [yarn.id, yarn.name]));
  const colours = new Map(rows.yarnColours.map((colour) => [colour.id, colour]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.name]));
  const knitters = new Map(input.knitters.map((knitter) => [knitter.id, knitter.name]));
  const suppliers = new Map(rows.suppliers.map((supplier) => [supplier.id, supplier.name]));
  return {
    colour: (id) => colours.get(id)?.name ?? `colour ${id}`,
    yarnOfColour: (id) => yarns.get(colours.get(id)?.yarnId ?? 0) ?? '',
    outlet: (id) => outlets.get(id) ?? `outlet ${id}`,
    knitter: (id) => (id === null ? null : (knitters.get(id) ?? null)),
    supplier: (id) => suppliers.get(id) ?? `shop ${id}`,
  };
}

function linesJson(current: WorkshopPlan, names: Names): LineJson[] {
  const { plan, input, rows } = current;
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const priced = new Map(plan.prices.map((price) => [price.kindKey, price]));
  const knitterOfLine = new Map<number, number | null>();
  plan.wanted.pairs.forEach((pair, index) => {
    if (pair.lineId !== null && !knitterOfLine.has(pair.lineId)) {
      knitterOfLine.set(pair.lineId, plan.weeks[index]?.knitterId ?? null);
    }
  });
  return input.lines.map((line) => {
    const knitterId = knitterOfLine.get(line.id) ?? null;
    const spec = plan.handwork.specOf(line.kind, knitterId);
    const [foot, cuff] = [spec.pieces[0]!, spec.pieces[1]];
    const order = orders.get(line.orderId);
    const price = priced.get(line.kind.key)!;
    const colours: Record<string, string[]> = {};
    for (const strand of strandsOfKind(line.kind)) {
      colours[strand.role] = [...(colours[strand.role] ?? []), names.colour(strand.yarnColourId)];
    }
    return {
      line: line.id,
      order: line.orderNumber,
      customer: order?.customerId ? (customers.get(order.customerId) ?? null) : null,
      outlet: names.outlet(line.outletId),
      dueDay: line.dueDay,
      size: current.footOfLine.get(line.id)?.words ?? '',
      quantity: line.quantity,
      colours,
      foot: {
        lengthMm: line.kind.shape.foot.lengthMm,
        ballGirthMm: line.kind.shape.foot.ballGirthMm,
        heelAnkleGirthMm: line.kind.shape.foot.heelAnkleGirthMm,
      },
      counts: {
        castOn: foot.castOnStitches,
        rows: foot.totalRows,
        toeStitches: foot.lastStitches,
        markRow: spec.measures.markRows,
        cuffStitches: cuff?.castOnStitches ?? null,
        cuffRows: cuff?.totalRows ?? null,
      },
      finished: {
        widthMm: spec.measures.widthMm,
        lengthMm: spec.measures.lengthMm,
        heelToToeMm: spec.measures.heelToToeMm,
        openingMm: spec.measures.openingMm,
        girthEaseRatio: spec.measures.girthEaseRatio,
      },
      knitter: names.knitter(knitterId),
      gramsAPair: plan.handwork.yarnOf(line.kind, knitterId).reduce((sum, each) => sum + each.grams, 0),
      minutesAPair: plan.handwork.minutesOf(line.kind, knitterId),
      costAPair: price.cost,
      prices: price.prices.map(({ outletId }) => {
        const row = priceOfPair(current, line.kind, outletId);
        return {
          outlet: names.outlet(outletId),
          priceCents: row.priceCents,
          getsMoneyBackCents: row.getsMoneyBackCents,
          paysWageCents: row.paysWageCents,
          hourWorthCents: row.hourWorthCents,
        };
      }),
      warnings: spec.warnings.map((warning) => warning.message),
    };
  });
}

function pairsJson(current: WorkshopPlan, names: Names): PairJson[] {
  const { plan } = current;
  const { lotOf, mixedOf } = plan.placed;
  const firstLot = (key: string) => lotOf.get(key) ?? mixedOf.get(key)?.[0]?.lotId ?? null;
  return plan.wanted.pairs.map((pair, index) => {
    const week = plan.weeks[index]!;
    return {
      pair: pair.key,
      line: pair.lineId,
      knitter: names.knitter(week.knitterId),
      minutes: week.minutes,
      startDay: week.startDay,
      finishDay: week.finishDay,
      yarn: plan.handwork.yarnOf(pair.kind, week.knitterId).map(({ yarnColourId, grams }) => ({
        colour: names.colour(yarnColourId),
        grams,
        lot: firstLot(placementKey(pair.key, yarnColourId)),
      })),
      cost: plan.costs.pairs[index]!.cost,
    };
  });
}

function listJson(list: PurchaseList, names: Names): ListJson {
  return {
    totalCents: list.totalCents,
    isProvenCheapest: list.isProvenCheapest,
    boundCents: list.boundCents,
    baskets: list.baskets.map((basket) => ({
      shop: names.supplier(basket.supplierId),
      goodsCents: basket.goodsCents,
      offCents: basket.offCents,
      postageCents: basket.shippingCents,
      packs: basket.lines.map((line) => ({
        colour: names.colour(line.yarnColourId),
        packs: line.packs,
        grams: line.grossMg / 1000,
        cents: line.goodsCents,
      })),
    })),
    notSold: list.uncovered.map((need) => ({ colour: names.colour(need.yarnColourId), grams: need.needMg / 1000 })),
  };
}

function yarnJson({ plan, input, settings }: WorkshopPlan, names: Names): YarnJson[] {
  const toBuy = new Map(plan.placed.toBuy.map((each) => [each.yarnColourId, each]));
  const gramsOf = (colourId: number, isWanted: (lot: ShelfLot) => boolean) =>
    input.shelf
      .filter((lot) => lot.yarnColourId === colourId && isWanted(lot))
      .reduce((sum, lot) => sum + lot.freeMg / 1000, 0);
  return plan.needs.map(({ yarnColourId, grams, metres }) => {
    const buy = toBuy.get(yarnColourId);
    return {
      colour: names.colour(yarnColourId),
      yarn: names.yarnOfColour(yarnColourId),
      likelyG: grams.mean,
      safeG: enoughAt(grams, settings.confidence),
      sdG: sdOf(grams),
      likelyM: metres.mean,
      shelfG: gramsOf(yarnColourId, (lot) => lot.fromDay === undefined),
      onWayG: gramsOf(yarnColourId, (lot) => lot.fromDay !== undefined),
      toBuyLikelyG: buy?.grams.mean ?? 0,
      toBuySafeG: (buy?.safe.needMg ?? 0) / 1000,
    };
  });
}

function timeJson({ plan, input, rows }: WorkshopPlan): PlanJson['time'] {
  const numbers = new Map(rows.orders.map((order) => [order.id, order.number]));
  return {
    knitters: input.knitters.map((knitter) => {
      const own = plan.weeks.filter((week) => week.knitterId === knitter.id);
      const finishes = own.map((week) => week.finishDay).filter((day) => day !== null);
      return {
        name: knitter.name,
        pairs: own.length,
        minutes: own.reduce((sum, week) => sum + week.minutes, 0),
        finishDay: finishes.reduce<string | null>((last, day) => (last === null || day > last ? day : last), null),
      };
    }),
    lateOrders: plan.late.lateOrders.map((late) => ({
      order: numbers.get(late.orderId) ?? late.orderId,
      daysLate: late.daysLate,
    })),
  };
}

/** The plan in the documented shape. */
export function planJson(current: WorkshopPlan): PlanJson {
  const { plan } = current;
  const names = namesOf(current);
  const pairs = pairsJson(current, names);
  return {
    format: 1,
    today: current.today,
    currency: current.settings.currency,
    lines: linesJson(current, names),
    notPlanned: current.lineProblems.map(({ lineId, message }) => ({ line: lineId, why: message })),
    pairs,
    fromStock: plan.wanted.fromStock.map(({ lineId, stockPairId }) => ({ line: lineId, stockPair: stockPairId })),
    yarn: yarnJson(current, names),
    lists: {
      chosen: plan.lists.chosenName,
      likely: listJson(plan.lists.likely, names),
      safe: listJson(plan.lists.safe, names),
    },
    time: timeJson(current),
    totals: {
      pairs: pairs.length,
      minutes: pairs.reduce((sum, pair) => sum + pair.minutes, 0),
      grams: pairs.flatMap((pair) => pair.yarn).reduce((sum, each) => sum + each.grams, 0),
      cost: plan.costs.total,
      yarnToBuyCents: plan.lists.chosen.totalCents,
    },
  };
}
