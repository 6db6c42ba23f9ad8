import type { Handwork } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import { costOfPair, minutesWithSpares } from '#core/pricing/cost.ts';
import type { HourCosts } from '#core/pricing/cost-pairs.ts';
import { chargeNothing, type OpenedCharge } from '#core/pricing/opened-balls.ts';
import type { CostParts, Outlet } from '#core/pricing/outlet.ts';
import { type PriceSheetRow, priceFor, priceWithoutCost } from '#core/pricing/price-sheet.ts';
import type { YarnPrice } from '#core/pricing/yarn-cost.ts';
import type { Spec } from '#core/styles/spec.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';

/** What a pair of a kind costs at the reference knitter, and its price at each outlet. */
export type KindPrice = {
  readonly kindKey: string;
  readonly minutes: number;
  /** The work that its price pays: its own, and its share of the work on pairs that go wrong. */
  readonly paidMinutes: number;
  readonly cost: CostParts;
  /** Some colour's price is unknown, so the yarn part is too low. */
  readonly isYarnPriceUnknown: boolean;
  /** Neither the yarn's price nor an hour's worth is known: nothing can be said of its cost yet. */
  readonly isCostUnknown: boolean;
  readonly prices: readonly { readonly outletId: number; readonly row: PriceSheetRow }[];
};

/** What pricing needs to know of one kind. */
export type KindToPrice = { readonly kind: Kind; readonly spec: Spec; readonly minutes: number };

/** A kind with the reference knitter's counts and minutes. */
export function kindToPrice(kind: Kind, handwork: Handwork): KindToPrice {
  return { kind, spec: handwork.specOf(kind, null), minutes: handwork.minutesOf(kind, null) };
}

/**
 * Cost and prices of kinds at the reference knitter: a price never depends on who happens to knit.
 *
 * @param kinds distinct kinds with the reference knitter's counts and minutes
 * @param prices price of a gram of each colour
 * @param materialsCents other materials of one pair, by style version
 * @param openedCharge what is charged for opened balls; nothing when left out
 */
export function priceKinds(
  kinds: readonly KindToPrice[],
  prices: ReadonlyMap<number, YarnPrice>,
  materialsCents: (styleVersionId: number) => number,
  outlets: readonly Outlet[],
  hours: HourCosts,
  openedCharge: OpenedCharge = chargeNothing,
): KindPrice[] {
  const { spareRatio = 0 } = hours;
  const sheetByCost = new Map<string, KindPrice['prices']>();
  return kinds.map(({ kind, spec, minutes }) => {
    const yarn = yarnOfPair(kind, spec);
    const cost = costOfPair({
      yarnCents: yarn.reduce((sum, each) => sum + each.grams * (prices.get(each.yarnColourId)?.centsPerG ?? 0), 0),
      materialsCents: materialsCents(kind.shape.style.versionId),
      minutes,
      wageCentsPerHour: hours.wageCentsPerHour,
      overheadCentsPerHour: hours.overheadCentsPerHour,
      openedBallCents: yarn.reduce((sum, each) => sum + openedCharge(each.yarnColourId, each.grams), 0),
      spareRatio,
    });
    const paidMinutes = minutesWithSpares(minutes, spareRatio);
    const isYarnPriceUnknown = yarn.some((each) => (prices.get(each.yarnColourId)?.from ?? 'unknown') === 'unknown');
    const isCostUnknown = isYarnPriceUnknown && cost.labourCents === 0;
    // Like costs and minutes have like prices: ten thousand kinds are a few hundred different sheets.
    const sheetKey = isCostUnknown ? 'unknown' : `${cost.totalCents}/${cost.labourCents}/${paidMinutes}`;
    let sheet = sheetByCost.get(sheetKey);
    if (!sheet) {
      sheet = outlets.map((outlet) => ({
        outletId: outlet.id,
        row: isCostUnknown ? priceWithoutCost(outlet) : priceFor(cost, paidMinutes, outlet, hours.wageCentsPerHour),
      }));
      sheetByCost.set(sheetKey, sheet);
    }
    return {
      kindKey: kind.key,
      minutes,
      paidMinutes,
      cost,
      isYarnPriceUnknown,
      isCostUnknown,
      prices: sheet,
    };
  });
}
