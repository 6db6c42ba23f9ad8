import { handworkOf } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import { keepMaterials } from '#core/pricing/cost-pairs.ts';
import type { CostParts } from '#core/pricing/outlet.ts';
import { type PriceSheetRow, priceFor } from '#core/pricing/price-sheet.ts';
import { type WayDown, waysDown, type YarnToTry } from '#core/pricing/ways-down.ts';
import { yarnPrices } from '#core/pricing/yarn-cost.ts';
import type { Spec } from '#core/styles/spec.ts';
import { specify } from '#core/styles/specify.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import { stylesFrom, yarnFrom } from '#flows/plan-input.ts';
import { materialsOfKind, priceAlone, priceOfKind } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** A way that costs less, with what an hour then earns at the price that is asked now. */
export type PricedWay = Pick<WayDown, 'way' | 'name'> & {
  readonly cost: CostParts;
  readonly savingCents: number;
  /** At the present price. */
  readonly row: PriceSheetRow;
  /** The yarns' colours it is reckoned in; empty where they stay. */
  readonly colourIds: readonly number[];
  /** Other materials of the pair that were not entered for the other style, and are counted in its cost all the same. */
  readonly kept: readonly string[];
};

/** A way that does not lead down, and why. */
export type WayLeftOut = Pick<WayDown, 'way' | 'name'> & { readonly reason: string };

export type WaysDown = { readonly ways: readonly PricedWay[]; readonly leftOut: readonly WayLeftOut[] };

/** The workshop's yarns as it holds them, their colours with a known price first and cheapest first. */
function yarnsToTry({ rows, plan, input }: WorkshopPlan): YarnToTry[] {
  return rows.yarns.map((row) => {
    const ids = rows.yarnColours.filter((colour) => colour.yarnId === row.id).map(({ id }) => id);
    const prices = yarnPrices(ids, plan.lists.chosen, input.offers, input.shelf);
    const known = ids.filter((id) => prices.get(id)!.from !== 'unknown');
    const colourIds = known.sort((a, b) => prices.get(a)!.centsPerG - prices.get(b)!.centsPerG || a - b);
    const strands = Array.from({ length: row.usualStrands }, () => yarnFrom(row));
    const name = row.usualStrands > 1 ? `${row.name}, ${row.usualStrands} strands` : row.name;
    return { name, strands, colourIds };
  });
}

const impossible = 'It cannot be knitted at this size.';
const tooLittle = 'There is too little of it for a pair, and no shop sells it.';

/** Why a pair cannot be knitted; null when it can. What is wrong with the pair asked for is no reason against another. */
function faultOf({ pieces, warnings }: Spec, known: ReadonlySet<string>): string | null {
  const isWhole = pieces.every(
    (piece) =>
      piece.castOnStitches > 0 && piece.sections.every(({ rows, stitchesAfter }) => rows >= 0 && stitchesAfter >= 0),
  );
  if (!isWhole) return impossible;
  return warnings.find(({ code, message }) => code === 'fit-check' && !known.has(message))?.message ?? null;
}

function specOf({ input }: WorkshopPlan, kind: Kind): Spec | string {
  try {
    const specs = specify([kind.shape], input.hands);
    return handworkOf(specs, input.knitters, input.referenceKnitterId).specOf(kind, null);
  } catch (error) {
    if (error instanceof RangeError) return error.name === 'StyleFault' ? error.message : impossible;
    throw error;
  }
}

/** Whether the yarn of one pair can be had: a shop sells it, or there is enough of it. */
function isToBeHad({ input }: WorkshopPlan, kind: Kind, spec: Spec): boolean {
  return yarnOfPair(kind, spec).every(({ yarnColourId, grams }) => {
    const isSold = input.offers.some((offer) => offer.yarnColourId === yarnColourId && offer.stockPacks !== 0);
    const lots = input.shelf.filter((lot) => lot.yarnColourId === yarnColourId);
    return isSold || lots.reduce((sum, lot) => sum + lot.freeMg, 0) >= grams * 1000;
  });
}

/**
 * Ways to a pair for the same foot that costs less, priced by the plan's own rules, the largest saving first. Those that
 * cannot be knitted, have no price, want yarn that is not there or save nothing are left out, with the reason. What goes
 * into the pair beside yarn goes into the others too: a grip line that is left out is no saving.
 *
 * @param priceCents the price asked now; the hours are reckoned at it
 */
export function readWaysDown(plan: WorkshopPlan, kind: Kind, outlet: OutletRow, priceCents: number): WaysDown {
  const now = priceOfKind(plan, kind);
  const own = specOf(plan, kind);
  const known = new Set(typeof own === 'string' ? [] : own.warnings.map(({ message }) => message));
  const asked = { ...outlet, priceRule: 'fixed' as const, fixedPriceCents: priceCents, endingCents: null };
  const ways: PricedWay[] = [];
  const leftOut: WayLeftOut[] = [];
  for (const { way, name, kind: other } of waysDown(kind, yarnsToTry(plan), [
    ...stylesFrom(plan.rows).current.values(),
  ])) {
    const spec = specOf(plan, other);
    const isShort = typeof spec !== 'string' && way === 'yarn' && !isToBeHad(plan, other, spec);
    const fault = typeof spec === 'string' ? spec : isShort ? tooLittle : faultOf(spec, known);
    if (fault !== null) {
      leftOut.push({ way, name, reason: fault });
      continue;
    }
    const { uses, kept } = keepMaterials(materialsOfKind(plan, kind), materialsOfKind(plan, other));
    const price = kept.length > 0 ? priceAlone(plan, other, uses) : priceOfKind(plan, other);
    const savingCents = now.cost.totalCents - price.cost.totalCents;
    if (price.isYarnPriceUnknown) leftOut.push({ way, name, reason: 'The price of its yarn is not known.' });
    else if (savingCents <= 0) leftOut.push({ way, name, reason: 'It saves nothing.' });
    else {
      const row = priceFor(price.cost, price.paidMinutes, asked, plan.settings.wageCentsPerHour);
      const colourIds = way === 'yarn' ? [...new Set(Object.values(other.colours).flat())] : [];
      ways.push({ way, name, cost: price.cost, savingCents, row, colourIds, kept });
    }
  }
  ways.sort((a, b) => b.savingCents - a.savingCents);
  return { ways, leftOut };
}
