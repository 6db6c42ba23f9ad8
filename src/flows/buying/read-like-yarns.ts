import { type KindStrand, strandsOfKind } from '#core/batch/kinds.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { addDays } from '#core/shared/calendar.ts';
import { planRows, type WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

/** The counts of a pair before and after. */
export type CountsChange = {
  readonly sizeWords: string;
  readonly castOn: number;
  readonly rows: number;
  readonly grams: number;
  readonly wasCastOn: number;
  readonly wasRows: number;
  readonly wasGrams: number;
};

export type LikeYarn = {
  readonly colour: NamedColour;
  /** Its tex against that of the yarn it would replace. */
  readonly texRatio: number;
  readonly isSameCategory: boolean;
  readonly isGaugeGuessed: boolean;
  /** Stitches in 10 cm that its band says; null where it says nothing. */
  readonly bandStitches: number | null;
  readonly counts: readonly CountsChange[];
  readonly shelfG: number;
  readonly shops: readonly { readonly name: string; readonly hereDay: Day }[];
  /** What all the shopping would cost more, below 0 less; and the yarn of all pairs. */
  readonly listCents: number;
  readonly yarnCents: number;
  /** Orders late with it, and now. */
  readonly lateOrders: number;
  /** The shelf and the shops have too little of it. */
  readonly isShort: boolean;
};

/** A line that has the colour, and how many of its pairs are not begun. */
export type LineWithColour = {
  readonly lineId: number;
  readonly name: string;
  readonly number: number;
  readonly sizeWords: string;
  readonly pairs: number;
};

export type LikeYarns = {
  readonly colour: NamedColour;
  readonly lines: readonly LineWithColour[];
  readonly lateOrders: number;
  readonly isSold: boolean;
  readonly yarns: readonly LikeYarn[];
  /** Further colours that were not reckoned. */
  readonly more: number;
};

/** Tex that is alike: within a tenth. Our own choice. */
const texTolerance = 0.1;
/** Each is a whole plan, so only so many are made at a request: fewer where there are thousands of pairs. */
const mostPlans = 8;
const mostPairsPlanned = 4000;

function plansFor({ plan }: WorkshopPlan): number {
  return Math.max(1, Math.min(mostPlans, Math.floor(mostPairsPlanned / Math.max(1, plan.wanted.pairs.length))));
}

/** Where a colour could be had: free on the shelf, or on sale. */
function isToBeHad(colourId: number, { input }: WorkshopPlan): boolean {
  return (
    input.shelf.some((lot) => lot.yarnColourId === colourId && lot.freeMg > 0) ||
    input.offers.some((offer) => offer.yarnColourId === colourId && offer.stockPacks !== 0)
  );
}

function linesWith(colourId: number, workshopPlan: WorkshopPlan): LineWithColour[] {
  const { plan, rows, footOfLine } = workshopPlan;
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet.name]));
  const lineIds = new Set(
    rows.lineColours.filter((each) => each.yarnColourId === colourId).map(({ lineId }) => lineId),
  );
  const toStart = new Map<number, number>();
  for (const { lineId, started } of plan.wanted.pairs) {
    if (lineId !== null && started === null) toStart.set(lineId, (toStart.get(lineId) ?? 0) + 1);
  }
  return rows.lines.flatMap((line) => {
    const order = orders.get(line.orderId);
    if (!lineIds.has(line.id) || order?.state !== 'agreed') return [];
    const pairs = toStart.get(line.id) ?? 0;
    if (pairs === 0) return [];
    const customer = order.customerId === null ? undefined : customers.get(order.customerId);
    const name = customer ?? outlets.get(order.outletId) ?? '';
    const sizeWords = footOfLine.get(line.id)?.words ?? '';
    return [{ lineId: line.id, name, number: order.number, sizeWords, pairs }];
  });
}

/** Counts of a line's pair, and its grams in the strands that are of a colour now. */
function countsOf(lineId: number, strands: readonly KindStrand[], { plan, kindOfLine }: WorkshopPlan) {
  const kind = kindOfLine.get(lineId);
  if (!kind) return null;
  const spec = plan.handwork.specOf(kind, null);
  const foot = spec.pieces[0];
  if (!foot) return null;
  const yarns = strandsOfKind(kind);
  const isSame = (a: { role: string; strand: number }, b: { role: string; strand: number }) =>
    a.role === b.role && a.strand === b.strand;
  const grams = spec.metres
    .filter((each) => strands.some((strand) => isSame(strand, each)))
    .reduce((sum, each) => sum + (each.metres.mean * yarns.find((yarn) => isSame(yarn, each))!.yarn.tex) / 1000, 0);
  return { castOn: foot.castOnStitches, rows: foot.totalRows, grams, isGuessed: spec.isGaugeGuessed };
}

function tryColour(
  colour: NamedColour,
  instead: NamedColour,
  lines: readonly LineWithColour[],
  now: WorkshopPlan,
): LikeYarn {
  const lineIds = new Set(lines.map(({ lineId }) => lineId));
  const lineColours = now.rows.lineColours.map((row) =>
    lineIds.has(row.lineId) && row.yarnColourId === colour.id ? { ...row, yarnColourId: instead.id } : row,
  );
  const then = planRows({ ...now.rows, lineColours }, now.today);
  const bySize = new Map<string, CountsChange>();
  let isGaugeGuessed = false;
  for (const { lineId, sizeWords } of lines) {
    const kind = now.kindOfLine.get(lineId);
    const strands = kind ? strandsOfKind(kind).filter(({ yarnColourId }) => yarnColourId === colour.id) : [];
    const before = countsOf(lineId, strands, now);
    const after = countsOf(lineId, strands, then);
    if (!before || !after) continue;
    isGaugeGuessed ||= after.isGuessed;
    const key = `${sizeWords}/${before.castOn}/${before.rows}/${before.grams.toFixed(1)}`;
    bySize.set(key, {
      sizeWords,
      castOn: after.castOn,
      rows: after.rows,
      grams: after.grams,
      wasCastOn: before.castOn,
      wasRows: before.rows,
      wasGrams: before.grams,
    });
  }
  const offers = now.input.offers.filter((offer) => offer.yarnColourId === instead.id && offer.stockPacks !== 0);
  const shops = now.rows.suppliers.filter((shop) => offers.some(({ supplierId }) => supplierId === shop.id));
  const uncovered = then.plan.lists.chosen.uncovered.find(({ yarnColourId }) => yarnColourId === instead.id);
  return {
    colour: instead,
    texRatio: instead.yarn.tex / colour.yarn.tex,
    isSameCategory: instead.yarn.category === colour.yarn.category,
    isGaugeGuessed,
    bandStitches: instead.yarn.usualStitchesPer10Cm,
    counts: [...bySize.values()],
    shelfG: now.input.shelf
      .filter((lot) => lot.yarnColourId === instead.id)
      .reduce((sum, lot) => sum + lot.freeMg / 1000, 0),
    shops: shops.map(({ name, deliveryDays }) => ({ name, hereDay: addDays(now.today, deliveryDays) })),
    listCents: then.plan.lists.chosen.totalCents - now.plan.lists.chosen.totalCents,
    yarnCents: then.plan.costs.total.yarnCents - now.plan.costs.total.yarnCents,
    lateOrders: then.plan.late.lateOrders.length,
    isShort: uncovered !== undefined,
  };
}

/**
 * Yarns that could take the place of a colour: of like tex or of the same yarn weight, on the shelf or on sale, each
 * with the whole workshop planned anew. Nothing is stored and nothing exchanged.
 *
 * @throws {AppError} `notFound`
 */
export function readLikeYarns(workshopPlan: WorkshopPlan, colourId: number): LikeYarns {
  const { rows, input, plan } = workshopPlan;
  const named = coloursOf(rows);
  const colour = named.get(colourId);
  if (!colour) throw new AppError('notFound', 'This colour is not here; it may have been removed.');
  const lines = linesWith(colourId, workshopPlan);
  const isLike = ({ yarn }: NamedColour) =>
    Math.abs(yarn.tex / colour.yarn.tex - 1) <= texTolerance || yarn.category === colour.yarn.category;
  const candidates = [...named.values()]
    .filter((each) => each.yarn.id !== colour.yarn.id && isLike(each) && isToBeHad(each.id, workshopPlan))
    .sort((a, b) => Math.abs(a.yarn.tex - colour.yarn.tex) - Math.abs(b.yarn.tex - colour.yarn.tex) || a.id - b.id);
  // Then other colours of the very yarn: its gauge stays.
  const ownColours = [...named.values()].filter(
    (each) => each.yarn.id === colour.yarn.id && each.id !== colourId && isToBeHad(each.id, workshopPlan),
  );
  const all = lines.length === 0 ? [] : [...candidates, ...ownColours];
  return {
    colour,
    lines,
    lateOrders: plan.late.lateOrders.length,
    isSold: input.offers.some((offer) => offer.yarnColourId === colourId),
    yarns: all.slice(0, plansFor(workshopPlan)).map((instead) => tryColour(colour, instead, lines, workshopPlan)),
    more: Math.max(0, all.length - plansFor(workshopPlan)),
  };
}

/** Colours that somebody may wish to replace: those with pairs that are not begun. */
export function coloursToReplace(workshopPlan: WorkshopPlan): readonly {
  readonly colour: NamedColour;
  readonly isUncovered: boolean;
}[] {
  const { plan, rows } = workshopPlan;
  const named = coloursOf(rows);
  const uncovered = new Set(plan.lists.chosen.uncovered.map(({ yarnColourId }) => yarnColourId));
  return plan.needs
    .filter(({ yarnColourId }) => linesWith(yarnColourId, workshopPlan).length > 0)
    .map(({ yarnColourId }) => ({ colour: named.get(yarnColourId)!, isUncovered: uncovered.has(yarnColourId) }))
    .sort((a, b) => Number(b.isUncovered) - Number(a.isUncovered));
}
