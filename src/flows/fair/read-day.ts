import { countKind, type KindCounts, missingPairs, type TakenPair } from '#core/fair/came-home.ts';
import { type DayAccount, dayAccount, type PaidHow, type SaleTerms, standingSales } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import { splitCents } from '#core/shared/money.ts';
import type { AskedRow, FairDayRow, FairRow } from '#db/stores/fair.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { RoleColours } from '#flows/batch/read-batch.ts';
import type { StoredPair } from '#flows/batch/started-pairs.ts';
import { pairCoster } from '#flows/books/pair-costs.ts';
import { type FairRows, pairsOf, standingLines } from '#flows/fair/fair-rows.ts';
import { pairLabeller } from '#flows/fair/pair-label.ts';
import { type TakenRow, takenOf } from '#flows/fair/taken-pairs.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** Pairs that look alike on a table. */
export type KindAtTable = {
  /** The number of the first of its pairs: names its boxes in a form. */
  readonly key: string;
  readonly size: string;
  readonly colours: readonly RoleColours[];
  readonly words: string;
  readonly isSecond: boolean;
  readonly pairs: readonly TakenPair[];
  readonly counts: KindCounts;
  readonly soldBy: Readonly<Record<PaidHow, number>>;
  readonly missing: number;
  /** What the tag says; null where no price can be made. */
  readonly listCents: number | null;
};

export type SaleView = {
  readonly id: number;
  readonly how: PaidHow;
  readonly lines: readonly {
    readonly id: number;
    readonly what: string;
    readonly priceCents: number;
    readonly isPairKnown: boolean;
  }[];
};

export type FairDayView = {
  readonly fair: FairRow;
  readonly day: FairDayRow;
  readonly outlet: OutletRow;
  /** Its place among the fair's days, from 1, and how many there are. */
  readonly dayNumber: number;
  readonly dayCount: number;
  readonly tableFeeCents: number;
  readonly kinds: readonly KindAtTable[];
  /** Pairs that were lost or given away at the table. */
  readonly gone: readonly { readonly pairId: number; readonly words: string; readonly left: string }[];
  readonly sales: readonly SaleView[];
  readonly takenBack: number;
  readonly asked: readonly AskedRow[];
  readonly account: DayAccount;
  readonly takenCount: number;
};

/** How sales of an outlet are reckoned. */
export function termsOf(outlet: OutletRow, { settings }: WorkshopPlan): SaleTerms {
  return { ...outlet, cashStepCents: settings.cashStepCents };
}

/** A day's share of what the table costs: split over the fair's days, the spare cent to the first. */
export function tableFeeOf({ fairs, days }: Pick<FairRows, 'fairs' | 'days'>, day: FairDayRow): number {
  const own = days.filter(({ fairId }) => fairId === day.fairId).sort((a, b) => (a.day < b.day ? -1 : 1));
  const fee = fairs.find(({ id }) => id === day.fairId)?.feeCents ?? 0;
  const shares = splitCents(
    fee,
    own.map(() => 1),
  );
  return shares[own.findIndex(({ id }) => id === day.id)]!;
}

/** Groups pairs that look alike: good ones before seconds, by style and size. */
export function kindsAtTable(
  taken: readonly TakenRow[],
  stored: ReadonlyMap<number, StoredPair>,
  outletId: number,
  workshopPlan: WorkshopPlan,
  howOf: ReadonlyMap<number, PaidHow>,
  gone: readonly TakenRow[] = [],
): KindAtTable[] {
  const label = pairLabeller(workshopPlan);
  // A kind keeps its name in forms when one of its pairs is lost meanwhile.
  const keys = new Map<string, number>();
  for (const { pairId } of [...taken, ...gone]) {
    const { key } = label(stored.get(pairId)!);
    keys.set(key, Math.min(keys.get(key) ?? pairId, pairId));
  }
  const groups = new Map<string, TakenRow[]>();
  for (const pair of taken) {
    const { key } = label(stored.get(pair.pairId)!);
    groups.set(key, [...(groups.get(key) ?? []), pair]);
  }
  const kinds = [...groups].map(([name, pairs]) => {
    const first = stored.get(pairs[0]!.pairId)!;
    const { size, colours, words } = label(first);
    const soldBy = { cash: 0, card: 0, other: 0 };
    for (const { isSold, pairId } of pairs) if (isSold) soldBy[howOf.get(pairId) ?? 'other'] += 1;
    const { quality } = first.row;
    return {
      key: String(keys.get(name)!),
      size,
      colours,
      words,
      isSecond: quality === 'second',
      pairs,
      counts: countKind(pairs),
      missing: missingPairs(pairs).length,
      soldBy,
      listCents: first.kind ? priceOfPair(workshopPlan, first.kind, outletId, { quality }).priceCents : null,
      lengthMm: first.frozen.foot.lengthMm,
      style: first.kind?.shape.style.name ?? '',
    };
  });
  const order = workshopPlan.rows.styles.map(({ name }) => name);
  return kinds
    .sort(
      (a, b) =>
        Number(a.isSecond) - Number(b.isSecond) ||
        order.indexOf(a.style) - order.indexOf(b.style) ||
        a.lengthMm - b.lengthMm ||
        (a.words < b.words ? -1 : 1),
    )
    .map(({ lengthMm: _, style: __, ...kind }) => kind);
}

/** A day's selling whole: what was taken, what became of it, and its account. @throws {AppError} `notFound` */
export function readDay(rows: FairRows, workshopPlan: WorkshopPlan, dayId: number): FairDayView {
  const day = rows.days.find(({ id }) => id === dayId);
  const fair = rows.fairs.find(({ id }) => id === day?.fairId);
  if (!day || !fair) throw new AppError('notFound', 'That day is not here; it may have been removed.');
  const outlet = workshopPlan.rows.outlets.find(({ id }) => id === fair.outletId)!;
  const stored = pairsOf(rows, workshopPlan);
  const { here, gone } = takenOf(dayId, rows);
  const ofDay = standingLines(rows).filter(({ sale }) => sale.fairDayId === dayId);
  const howOf = new Map(ofDay.flatMap(({ sale, line }) => (line.pairId === null ? [] : [[line.pairId, sale.how]])));
  const label = pairLabeller(workshopPlan);
  const costOf = pairCoster(workshopPlan);
  const nothing = { yarnCents: 0, materialsCents: 0, minutes: 0 };
  const own = rows.sales.filter((sale) => sale.fairDayId === dayId);
  const sales = standingSales(own).map((sale) => ({
    ...sale,
    lines: rows.lines.filter((line) => line.saleId === sale.id),
  }));
  const account = dayAccount({
    sales: sales.map(({ how, lines }) => ({
      how,
      pairs: lines.map(({ pairId, priceCents }) => {
        const pair = pairId === null ? undefined : stored.get(pairId);
        return { priceCents, ...(pair ? costOf(pair) : nothing) };
      }),
    })),
    terms: termsOf(outlet, workshopPlan),
    floatCents: day.floatCents,
    countedCents: day.cashCents,
    tableFeeCents: tableFeeOf(rows, day),
    openMinutes: day.openMinutes,
    overheadCentsPerHour: workshopPlan.input.settings.overheadCentsPerHour,
  });
  const days = rows.days.filter(({ fairId }) => fairId === fair.id);
  return {
    fair,
    day,
    outlet,
    dayNumber: days.filter((each) => each.day <= day.day).length,
    dayCount: days.length,
    tableFeeCents: account.tableFeeCents,
    kinds: kindsAtTable(here, stored, outlet.id, workshopPlan, howOf, gone),
    gone: gone.map(({ pairId, pair }) => ({ pairId, words: label(stored.get(pairId)!).words, left: pair.left ?? '' })),
    sales: sales.map(({ id, how, lines }) => ({
      id,
      how,
      lines: lines.map((line) => ({
        id: line.id,
        what: line.what,
        priceCents: line.priceCents,
        isPairKnown: line.pairId !== null || line.settledWhy !== null,
      })),
    })),
    takenBack: own.filter(({ reversesId }) => reversesId !== null).length,
    asked: rows.asked.filter(({ fairDayId }) => fairDayId === dayId),
    account,
    takenCount: here.length + gone.length,
  };
}
