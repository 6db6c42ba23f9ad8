import { handworkOf } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import { type MaterialUse, materialsOf } from '#core/pricing/cost-pairs.ts';
import { ballMgOfKinds, chargeNothing, openedChargeOf } from '#core/pricing/opened-balls.ts';
import type { Outlet } from '#core/pricing/outlet.ts';
import { groupFor, priceOfSecond } from '#core/pricing/price-group.ts';
import { type KindPrice, priceKinds } from '#core/pricing/price-kinds.ts';
import { type PriceSheetRow, priceFor, priceWithoutCost } from '#core/pricing/price-sheet.ts';
import { yarnPrices } from '#core/pricing/yarn-cost.ts';
import { AppError } from '#core/shared/app-error.ts';
import { specify } from '#core/styles/specify.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/**
 * Cost and prices of a kind that no agreed order asks for: the plan's own rules, at the same reference knitter.
 *
 * @param uses what goes into it beside yarn
 */
export function priceAlone({ plan, input }: WorkshopPlan, kind: Kind, uses: readonly MaterialUse[]): KindPrice {
  const handwork = handworkOf(specify([kind.shape], input.hands), input.knitters, input.referenceKnitterId);
  const colourIds = Object.values(kind.colours).flat();
  const prices = yarnPrices(colourIds, plan.lists.chosen, input.offers, input.shelf);
  const toPrice = { kind, spec: handwork.specOf(kind, null), minutes: handwork.minutesOf(kind, null) };
  const materialsCents = () => materialsOf(uses);
  const charge = input.settings.chargeOpenedBall
    ? openedChargeOf(plan.opened, prices, ballMgOfKinds([kind]))
    : chargeNothing;
  return priceKinds([toPrice], prices, materialsCents, input.outlets, input.settings, charge)[0]!;
}

/** What goes into a pair of a kind beside yarn: what was entered for its style. */
export function materialsOfKind({ input }: WorkshopPlan, kind: Kind): readonly MaterialUse[] {
  return input.materials.get(kind.shape.style.versionId) ?? [];
}

const knownPrices = new WeakMap<WorkshopPlan, Map<string, KindPrice>>();

/** What a pair of a kind costs, and its price at each outlet by the outlet's own rule; no group, no second. */
export function priceOfKind(plan: WorkshopPlan, kind: Kind): KindPrice {
  let known = knownPrices.get(plan);
  if (!known) {
    known = new Map(plan.plan.prices.map((price) => [price.kindKey, price]));
    knownPrices.set(plan, known);
  }
  const price = known.get(kind.key) ?? priceAlone(plan, kind, materialsOfKind(plan, kind));
  known.set(kind.key, price);
  return price;
}

/** The style that a kind is of; null when its version is gone. */
export function styleIdOf({ rows }: WorkshopPlan, kind: Kind): number | null {
  const { versionId } = kind.shape.style;
  return rows.styleVersions.find((version) => version.id === versionId)?.styleId ?? null;
}

/** The price of a pair at an outlet, what it leaves, and the group of sizes that it comes from. */
export type PairPrice = PriceSheetRow & { readonly groupName: string | null };

/** The group of sizes that a kind has one price with at an outlet; null for none, and for gifts. */
function groupOf(plan: WorkshopPlan, kind: Kind, outlet: Pick<Outlet, 'id' | 'kind'>, styleId?: number) {
  const { priceGroups } = plan.rows;
  if (outlet.kind === 'gift' || priceGroups.length === 0) return null;
  const id = styleId ?? styleIdOf(plan, kind);
  if (id === null) return null;
  return groupFor(priceGroups, { outletId: outlet.id, styleId: id, lengthMm: kind.shape.foot.lengthMm });
}

/** An outlet as it prices a kind: with the one price of its group of sizes where there is one, else as it is. */
export function outletFor(plan: WorkshopPlan, kind: Kind, outlet: Outlet): Outlet {
  const group = groupOf(plan, kind, outlet);
  if (!group) return outlet;
  const name = `${outlet.name}, one price for ${group.name}`;
  return { ...outlet, name, priceRule: 'fixed', fixedPriceCents: group.priceCents, endingCents: null };
}

function atPrice(price: KindPrice, outlet: OutletRow, priceCents: number, wageCentsPerHour: number): PriceSheetRow {
  const fixed = { ...outlet, priceRule: 'fixed' as const, fixedPriceCents: priceCents, endingCents: null };
  return price.isCostUnknown
    ? priceWithoutCost(fixed)
    : priceFor(price.cost, price.paidMinutes, fixed, wageCentsPerHour);
}

/**
 * What a pair is sold for at an outlet: the one price of its group of sizes where there is one, else the price that the
 * outlet's rule makes of its cost. A second costs so much less as the outlet says.
 *
 * @throws {AppError} `notFound` when there is no such outlet
 */
export function priceOfPair(
  plan: WorkshopPlan,
  kind: Kind,
  outletId: number,
  options: { readonly styleId?: number; readonly quality?: 'good' | 'second' } = {},
): PairPrice {
  const { rows, settings } = plan;
  const outlet = rows.outlets.find((each) => each.id === outletId);
  if (!outlet) throw new AppError('notFound', 'That outlet is not here.');
  const price = priceOfKind(plan, kind);
  const group = groupOf(plan, kind, outlet, options.styleId);
  const byRule = price.prices.find((each) => each.outletId === outletId)!.row;
  const good = group ? atPrice(price, outlet, group.priceCents, settings.wageCentsPerHour) : byRule;
  const groupName = group?.name ?? null;
  if (options.quality !== 'second' || good.priceCents === null || outlet.kind === 'gift') return { ...good, groupName };
  const secondCents = priceOfSecond(good.priceCents, outlet.secondOffRatio, outlet.endingCents);
  return { ...atPrice(price, outlet, secondCents, settings.wageCentsPerHour), groupName };
}
