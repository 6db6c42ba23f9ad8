import { linesJson, pairsJson } from '#commands/plan-json-parts.ts';
import type { PurchaseList } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/**
 * The whole plan as JSON, format 2. Lengths are millimetres, masses grams, times minutes, money whole minor units of
 * `currency`, days YYYY-MM-DD. Counts are of one slipper; yarn, minutes and money of a pair, or of as many pairs as it
 * says. `pairs` holds every pair to make: its minutes, grams and costs sum to `totals`. A pair of an order is knitted in
 * its knitter's hand, and so are its counts, yarn, minutes and cost; what a pair of a line costs and is sold for is
 * reckoned in one hand for all, that of `referenceKnitter`, whoever knits it.
 */
export type PlanJson = {
  readonly format: 2;
  readonly today: string;
  readonly currency: string;
  /** In whose hand the cost and the prices of every line are. */
  readonly referenceKnitter: string | null;
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

/**
 * Counts of one slipper in one hand. A cast-on or picked-up row is a row: it counts in `rows`, `markRow` and `cuffRows`;
 * the cast-off does not. The left slipper's where the feet differ.
 */
export type CountsJson = {
  readonly castOn: number;
  readonly rows: number;
  readonly toeStitches: number;
  readonly markRow: number;
  readonly cuffStitches: number | null;
  readonly cuffRows: number | null;
};

/** A style in one hand: what is counted, and what comes out. */
export type HandJson = {
  readonly knitter: string | null;
  readonly counts: CountsJson;
  /** The right slipper's where the feet differ. */
  readonly rightCounts: CountsJson | null;
  readonly finished: {
    readonly widthMm: number;
    readonly lengthMm: number;
    readonly heelToToeMm: number;
    readonly openingMm: number;
    readonly girthEaseRatio: number;
  };
  readonly gramsAPair: number;
  /** Of a whole pair, though some of it may be knitted. */
  readonly minutesAPair: number;
  readonly warnings: readonly string[];
};

/** The pairs of a line that one knitter makes, in her hand. */
export type PartJson = HandJson & {
  readonly pairs: number;
  readonly grams: number;
  /** Still to knit: less than `pairs` times `minutesAPair` where a pair is begun. */
  readonly minutes: number;
  /** Null while one of them is never done. */
  readonly finishDay: string | null;
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
  /** One entry per knitter of the line, in planning order; their pairs, and those of `fromStock`, are its quantity. */
  readonly byKnitter: readonly PartJson[];
  /** The same in the hand of `referenceKnitter`, whoever knits; `costAPair`, its labour too, and `prices` follow from it. */
  readonly inReferenceHand: HandJson;
  readonly costAPair: CostParts;
  /** No shop's price and nothing paid is known for some of its yarn: `costAPair` is too low by it. */
  readonly isYarnPriceUnknown: boolean;
  readonly prices: readonly {
    readonly outlet: string;
    readonly priceCents: number | null;
    readonly getsMoneyBackCents: number | null;
    readonly paysWageCents: number | null;
    readonly hourWorthCents: number | null;
  }[];
};

export type PairJson = {
  readonly pair: string;
  /** Null for a spare pair that no order asks for. */
  readonly line: number | null;
  readonly knitter: string | null;
  /** In the knitter's hand, as in `byKnitter` of its line. */
  readonly counts: CountsJson;
  readonly rightCounts: CountsJson | null;
  /** Still to knit. */
  readonly minutes: number;
  readonly startDay: string | null;
  readonly finishDay: string | null;
  readonly yarn: readonly PairYarnJson[];
  /** Of the whole pair in the knitter's hand. */
  readonly cost: CostParts;
};

export type PairYarnJson = {
  readonly colour: string;
  readonly grams: number;
  /**
   * Where the yarn comes from; their grams sum to the `grams` of the colour. More than one: the pair mixes dye lots, or
   * one dye lot lies in several rows of the shelf.
   */
  readonly from: readonly YarnSourceJson[];
};

/**
 * `shelf`: a dye lot that is here, or with the knitter of a begun pair, in the words on its label, null where it has
 * none; `lot` is its row at /shelf/lots/.
 * `on its way`: a purchase that is ordered, at /buying/purchases/, and the day it is expected.
 * `to buy`: on the shopping list. `held`: the knitter of a begun pair has it already, of her own.
 */
export type YarnSourceJson =
  | { readonly is: 'shelf'; readonly lot: number; readonly dyeLot: string | null; readonly grams: number }
  | {
      readonly is: 'on its way';
      readonly purchase: number;
      readonly shop: string;
      readonly expectedDay: string;
      readonly grams: number;
    }
  | { readonly is: 'to buy' | 'held'; readonly grams: number };

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
    format: 2,
    today: current.today,
    currency: current.settings.currency,
    referenceKnitter: names.knitter(current.input.referenceKnitterId),
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
