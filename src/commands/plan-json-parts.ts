import type {
  CountsJson,
  HandJson,
  LineJson,
  Names,
  PairJson,
  PairYarnJson,
  PartJson,
  YarnSourceJson,
} from '#commands/plan-json.ts';
import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { onWayLotId } from '#core/buying/purchases.ts';
import { lotsOfPair } from '#core/pricing/lots-of-pair.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { FinishedMeasures, PieceCounts } from '#core/styles/spec.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

function countsJson(pieces: readonly PieceCounts[], measures: FinishedMeasures): CountsJson {
  const [foot, cuff] = [pieces[0]!, pieces[1]];
  return {
    castOn: foot.castOnStitches,
    rows: foot.totalRows,
    toeStitches: foot.lastStitches,
    markRow: measures.markRows,
    cuffStitches: cuff?.castOnStitches ?? null,
    cuffRows: cuff?.totalRows ?? null,
  };
}

/** A kind in the hand of a knitter; null for the hand that stands for all. */
function handJson({ plan, input }: WorkshopPlan, names: Names, kind: Kind, knitterId: number | null): HandJson {
  const { pieces, measures, right, warnings } = plan.handwork.specOf(kind, knitterId);
  return {
    knitter: names.knitter(knitterId ?? input.referenceKnitterId),
    counts: countsJson(pieces, measures),
    rightCounts: right && countsJson(right.pieces, right.measures),
    finished: {
      widthMm: measures.widthMm,
      lengthMm: measures.lengthMm,
      heelToToeMm: measures.heelToToeMm,
      openingMm: measures.openingMm,
      girthEaseRatio: measures.girthEaseRatio,
    },
    gramsAPair: plan.handwork.yarnOf(kind, knitterId).reduce((sum, each) => sum + each.grams, 0),
    minutesAPair: plan.handwork.minutesOf(kind, knitterId),
    warnings: warnings.map((warning) => warning.message),
  };
}

type Planned = { readonly pair: WantedPair; readonly week: WorkshopPlan['plan']['weeks'][number] };

function partsJson(current: WorkshopPlan, names: Names, kind: Kind, planned: readonly Planned[]): PartJson[] {
  return [...groupBy(planned, ({ week }) => week.knitterId)].map(([knitterId, own]) => {
    const hand = handJson(current, names, kind, knitterId);
    const days = own.map(({ week }) => week.finishDay);
    return {
      ...hand,
      knitter: names.knitter(knitterId),
      pairs: own.length,
      grams: own.length * hand.gramsAPair,
      minutes: own.reduce((sum, { week }) => sum + week.minutes, 0),
      finishDay: days.includes(null) ? null : (days.sort().at(-1) ?? null),
    };
  });
}

export function linesJson(current: WorkshopPlan, names: Names): LineJson[] {
  const { plan, input, rows } = current;
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const priced = new Map(plan.prices.map((price) => [price.kindKey, price]));
  const planned = groupBy(
    plan.wanted.pairs.map((pair, index) => ({ pair, week: plan.weeks[index]! })),
    ({ pair }) => pair.lineId,
  );
  return input.lines.map((line) => {
    const order = orders.get(line.orderId);
    const price = priced.get(line.kind.key)!;
    const colours: Record<string, string[]> = {};
    for (const strand of strandsOfKind(line.kind)) {
      colours[strand.role] = [...(colours[strand.role] ?? []), names.colour(strand.yarnColourId)];
    }
    const { lengthMm, ballGirthMm, heelAnkleGirthMm } = line.kind.shape.foot;
    return {
      line: line.id,
      order: line.orderNumber,
      customer: order?.customerId ? (customers.get(order.customerId) ?? null) : null,
      outlet: names.outlet(line.outletId),
      dueDay: line.dueDay,
      size: current.footOfLine.get(line.id)?.words ?? '',
      quantity: line.quantity,
      colours,
      foot: { lengthMm, ballGirthMm, heelAnkleGirthMm },
      byKnitter: partsJson(current, names, line.kind, planned.get(line.id) ?? []),
      inReferenceHand: handJson(current, names, line.kind, null),
      costAPair: price.cost,
      isYarnPriceUnknown: price.isYarnPriceUnknown,
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
    };
  });
}

/** What a lot is called: its dye lot, or the purchase it will come with. */
function sourcesOf({ rows }: WorkshopPlan, names: Names): (lotId: number, grams: number) => YarnSourceJson {
  const purchases = new Map(rows.purchases.map((purchase) => [purchase.id, purchase]));
  const onWay = new Map(rows.purchaseLines.map((line) => [onWayLotId(line.id), purchases.get(line.purchaseId)!]));
  const dyeLots = new Map(rows.lots.map((lot) => [lot.id, lot.dyeLot]));
  return (lotId, grams) => {
    const purchase = onWay.get(lotId);
    if (!purchase) return { is: 'shelf', lot: lotId, dyeLot: dyeLots.get(lotId) ?? null, grams };
    const { id, supplierId, expectedDay } = purchase;
    return { is: 'on its way', purchase: id, shop: names.supplier(supplierId), expectedDay, grams };
  };
}

export function pairsJson(current: WorkshopPlan, names: Names): PairJson[] {
  const { plan } = current;
  const sourceOf = sourcesOf(current, names);
  const yarnJson = (pair: WantedPair, knitterId: number | null): PairYarnJson[] =>
    plan.handwork.yarnOf(pair.kind, knitterId).map(({ yarnColourId, grams }) => {
      const lots = lotsOfPair(pair, yarnColourId, plan.placed);
      const isHeld = pair.started?.heldColourIds.includes(yarnColourId) ?? false;
      return {
        colour: names.colour(yarnColourId),
        grams,
        from:
          lots.length > 0
            ? lots.map(({ lotId, share }) => sourceOf(lotId, grams * share))
            : [{ is: isHeld ? 'held' : 'to buy', grams }],
      };
    });
  return plan.wanted.pairs.map((pair, index) => {
    const week = plan.weeks[index]!;
    const { pieces, measures, right } = plan.handwork.specOf(pair.kind, week.knitterId);
    return {
      pair: pair.key,
      line: pair.lineId,
      knitter: names.knitter(week.knitterId),
      counts: countsJson(pieces, measures),
      rightCounts: right && countsJson(right.pieces, right.measures),
      minutes: week.minutes,
      startDay: week.startDay,
      finishDay: week.finishDay,
      yarn: yarnJson(pair, week.knitterId),
      cost: plan.costs.pairs[index]!.cost,
    };
  });
}
