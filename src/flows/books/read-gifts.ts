import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import type { BookRows } from '#flows/books/book-rows.ts';
import { pairCoster } from '#flows/books/pair-costs.ts';
import type { Period } from '#flows/books/read-books.ts';
import { type PairLabel, pairLabeller } from '#flows/fair/pair-label.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { todayIn } from '#flows/today.ts';

/** What some gifts come to; amounts in whole minor units. */
export type GiftSums = {
  readonly pairs: number;
  readonly grams: number;
  readonly minutes: number;
  /** What was paid for: yarn and materials. */
  readonly costCents: number;
  /** Yarn at what it would have cost, materials, and the time at the wage. */
  readonly worthCents: number;
};

export type GiftKind = GiftSums & Pick<PairLabel, 'size' | 'colours' | 'words'>;
export type GiftColour = { readonly colour: NamedColour; readonly grams: number; readonly pairs: number };
export type GiftDonor = {
  readonly donor: string;
  readonly grams: number;
  readonly pairs: number;
  readonly worthCents: number;
};

export type Gifts = Period & {
  /** Null for all gifts, else those made of this donor's yarn, and of the yarn only hers. */
  readonly donor: string | null;
  readonly kinds: readonly GiftKind[];
  readonly colours: readonly GiftColour[];
  readonly donors: readonly GiftDonor[];
  readonly sums: GiftSums;
};

type Gift = GiftSums & {
  readonly day: Day;
  readonly label: PairLabel;
  readonly lengthMm: number;
  readonly yarn: readonly {
    readonly yarnColourId: number;
    readonly grams: number;
    readonly donor: string | null;
    readonly worthCents: number;
  }[];
};

function add(gifts: readonly GiftSums[]): GiftSums {
  const sums = { pairs: 0, grams: 0, minutes: 0, costCents: 0, worthCents: 0 };
  for (const gift of gifts) {
    sums.pairs += gift.pairs;
    sums.grams += gift.grams;
    sums.minutes += gift.minutes;
    sums.costCents += gift.costCents;
    sums.worthCents += gift.worthCents;
  }
  return sums;
}

function groupsOf<T>(items: readonly T[], keyOf: (item: T) => string | number): (readonly T[])[] {
  return [...groupBy(items, keyOf).values()];
}

/** A pair that was given, or handed over for an order that is a gift, and when. */
function giftsIn({ rows, settings }: WorkshopPlan, { leftPairs, events }: BookRows) {
  const giftOutlets = new Set(rows.outlets.filter(({ kind }) => kind === 'gift').map(({ id }) => id));
  const giftOrders = new Set(rows.orders.filter(({ outletId }) => giftOutlets.has(outletId)).map(({ id }) => id));
  const giftLines = new Set(rows.lines.filter(({ orderId }) => giftOrders.has(orderId)).map(({ id }) => id));
  const isGift = ({ row }: StoredPair) =>
    row.left === 'given' || (row.left === 'handed over' && row.lineId !== null && giftLines.has(row.lineId));
  const lastMs = new Map(events.map(({ pairId, event, atMs }) => [`${pairId}/${event}`, atMs]));
  return leftPairs.filter(isGift).map((pair) => {
    const atMs = lastMs.get(`${pair.row.id}/${pair.row.left}`) ?? 0;
    return { pair, day: todayIn(new Date(atMs), settings.timeZone) };
  });
}

/** What was given in a period: to whom it is told, a donor reads of her own yarn alone. */
export function readGifts(plan: WorkshopPlan, rows: BookRows, period: Period, donor: string | null = null): Gifts {
  const label = pairLabeller(plan);
  const costOf = pairCoster(plan);
  const wage = plan.settings.wageCentsPerHour;
  const all = giftsIn(plan, rows)
    .filter(({ day }) => day >= period.fromDay && day <= period.toDay)
    .map(({ pair, day }): Gift => {
      const { yarn, yarnCents, materialsCents, minutes } = costOf(pair);
      const worth = yarn.reduce((sum, { worthCents }) => sum + worthCents, 0);
      return {
        day,
        label: label(pair),
        lengthMm: pair.frozen.foot.lengthMm,
        yarn,
        pairs: 1,
        grams: yarn.reduce((sum, { grams }) => sum + grams, 0),
        minutes,
        costCents: yarnCents + materialsCents,
        worthCents: roundHalfUp(worth + materialsCents + (wage * minutes) / 60),
      };
    });
  const donors = groupsOf(
    all.flatMap((gift) => gift.yarn.flatMap((each) => (each.donor === null ? [] : [{ ...each, gift }]))),
    (each) => each.donor!,
  ).map((own) => ({
    donor: own[0]!.donor!,
    grams: own.reduce((sum, { grams }) => sum + grams, 0),
    pairs: new Set(own.map(({ gift }) => gift)).size,
    worthCents: roundHalfUp(own.reduce((sum, { worthCents }) => sum + worthCents, 0)),
  }));
  const isHers = (each: Gift['yarn'][number]) => donor === null || each.donor === donor;
  const gifts = all
    .filter((gift) => gift.yarn.some(isHers))
    .map((gift) => ({ ...gift, grams: gift.yarn.filter(isHers).reduce((sum, { grams }) => sum + grams, 0) }));
  const named = coloursOf(plan.rows);
  return {
    ...period,
    donor,
    kinds: groupsOf(gifts, ({ label: { key } }) => key)
      .sort((a, b) => a[0]!.lengthMm - b[0]!.lengthMm)
      .map((group) => ({ ...add(group), ...group[0]!.label })),
    colours: groupsOf(
      gifts.flatMap((gift) => gift.yarn.filter(isHers).map((each) => ({ ...each, gift }))),
      ({ yarnColourId }) => yarnColourId,
    )
      .flatMap((own) => {
        const colour = named.get(own[0]!.yarnColourId);
        const grams = own.reduce((sum, each) => sum + each.grams, 0);
        return colour ? [{ colour, grams, pairs: new Set(own.map(({ gift }) => gift)).size }] : [];
      })
      .sort((a, b) => b.grams - a.grams),
    donors: donors.sort((a, b) => b.grams - a.grams),
    sums: add(gifts),
  };
}
