import { groupFor } from '#core/pricing/price-group.ts';
import type { Workshop } from '#db/open.ts';
import {
  changePriceGroup,
  createPriceGroup,
  type OutletRow,
  type PriceGroupRow,
  removePriceGroup,
} from '#db/stores/pricing.ts';
import { priceOfPair, styleIdOf } from '#flows/pricing/price-of-pair.ts';
import type { PricedPair, PricesView } from '#flows/pricing/read-prices.ts';

/** One price for a run of sizes, as its form gives it. */
export type GroupEntry = Omit<PriceGroupRow, 'id' | 'version'>;

export async function addGroup(workshop: Workshop, entry: GroupEntry): Promise<number> {
  return (await workshop.store.write('pricing: one price for a group of sizes', (tx) => createPriceGroup(tx, entry)))
    .id;
}

/** @throws {AppError} `notFound`, `conflict` */
export async function saveGroup(
  workshop: Workshop,
  id: number,
  entry: GroupEntry,
  version: number | undefined,
): Promise<void> {
  await workshop.store.write('pricing: change the price of a group', (tx) => changePriceGroup(tx, id, entry, version));
}

/** @throws {AppError} `notFound`, `conflict` */
export async function dropGroup(workshop: Workshop, id: number, version: number | undefined): Promise<void> {
  await workshop.store.write('pricing: take the price of a group away', (tx) => removePriceGroup(tx, id, version));
}

/** A pair on order that has the group's price, and what an hour of it earns. */
export type GroupMember = {
  readonly lineId: number;
  readonly size: string;
  readonly colours: PricedPair['colours'];
  readonly costCents: number;
  readonly hourWorthCents: number | null;
  readonly isBelowWage: boolean;
  readonly isBelowMoneyBack: boolean;
};

export type GroupView = {
  readonly group: PriceGroupRow;
  readonly outlet: OutletRow | null;
  readonly styleName: string;
  /** Pairs on order in the group, the one whose hour earns least first. */
  readonly members: readonly GroupMember[];
};

function membersOf({ plan, sizes }: PricesView, group: PriceGroupRow): GroupMember[] {
  const members = sizes.flatMap(({ pairs }) =>
    pairs.flatMap((pair): GroupMember[] => {
      const kind = plan.kindOfLine.get(pair.lineId);
      const styleId = kind ? styleIdOf(plan, kind) : null;
      if (!kind || styleId === null) return [];
      const { outletId } = group;
      const fitting = groupFor(plan.rows.priceGroups, { outletId, styleId, lengthMm: kind.shape.foot.lengthMm });
      if (fitting?.id !== group.id) return [];
      const { hourWorthCents, isBelowWage, isBelowMoneyBack } = priceOfPair(plan, kind, outletId, { styleId });
      const { lineId, size, colours, cost } = pair;
      return [{ lineId, size, colours, costCents: cost.totalCents, hourWorthCents, isBelowWage, isBelowMoneyBack }];
    }),
  );
  return members.sort((a, b) => (a.hourWorthCents ?? 0) - (b.hourWorthCents ?? 0));
}

/** Every group with the pairs on order that it covers. */
export function readGroups(prices: PricesView): readonly GroupView[] {
  const { rows } = prices.plan;
  return rows.priceGroups.map((group) => ({
    group,
    outlet: rows.outlets.find((outlet) => outlet.id === group.outletId) ?? null,
    styleName: rows.styles.find((style) => style.id === group.styleId)?.name ?? '',
    members: membersOf(prices, group),
  }));
}
