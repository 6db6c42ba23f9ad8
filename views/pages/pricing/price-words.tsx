import type { CostParts, Outlet, ShopTerms } from '#core/pricing/outlet.ts';
import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import { formatCents } from '#core/shared/format.ts';
import { Caution } from '#views/components/caution.tsx';
import { Chip } from '#views/components/chip.tsx';

/** A pair with its cost and prices, as the pages of this area show it. */
export type PairProps = {
  readonly lineId: number;
  readonly size: string;
  readonly colours: readonly { readonly role: string; readonly name: string; readonly hexes: readonly string[] }[];
  readonly minutes: number;
  readonly cost: CostParts;
  readonly isYarnPriceUnknown: boolean;
  /** Neither the price of its yarn nor the worth of an hour is known. */
  readonly isCostUnknown: boolean;
  readonly prices: readonly {
    readonly outlet: OutletProps;
    readonly row: PriceSheetRow;
    readonly groupName: string | null;
    readonly secondCents: number | null;
    readonly suggestedCents: number | null;
  }[];
};

export type OutletProps = Outlet & {
  readonly isClosed: boolean;
  readonly depositRatio: number;
  readonly terms: ShopTerms | null;
  readonly leastPairs: number | null;
  readonly shopShareRatio: number;
  readonly version: number;
};

/** Stands where an amount of nothing would be wrong. */
export const notKnownYet = 'not known yet';

/** What a pair costs, if that can be said. */
export function costWords(
  { cost, isCostUnknown }: Pick<PairProps, 'cost' | 'isCostUnknown'>,
  currency: string,
): string {
  return isCostUnknown ? notKnownYet : formatCents(cost.totalCents, currency);
}

/** The chips of a pair; a cuff in the foot's colour is not said twice. */
export const PairColours = ({ colours }: Pick<PairProps, 'colours'>) => {
  const seen = new Set<string>();
  const shown = colours.filter(({ name }) => !seen.has(name) && seen.add(name));
  return (
    <span class="chips">
      {shown.map(({ name, hexes }) => (
        <Chip colours={hexes} name={name} />
      ))}
    </span>
  );
};

/**
 * What a price is worth, in words: a loss only where the money is not got back; below the wage, what an hour earns.
 */
export function worthWords(row: PriceSheetRow, cost: CostParts, wageCents: number, currency: string): string {
  const show = (cents: number) => formatCents(cents, currency);
  if (row.priceCents === null) return row.problems[0]?.message ?? 'no price can be made';
  if (row.isBelowMoneyBack) {
    return `a loss of ${show(cost.totalCents - cost.labourCents - (row.netCents ?? 0))} a pair`;
  }
  if (row.hourWorthCents === null) return '';
  if (wageCents > 0 && !row.isBelowWage) return `pays your wage: an hour earns ${show(row.hourWorthCents)}`;
  const below = wageCents > 0 ? ', below your wage' : '';
  return `an hour earns ${show(row.hourWorthCents)}${below}`;
}

/** The same in a table, where the heading says the rest. */
export function shortWorth(row: PriceSheetRow, cost: CostParts, wageCents: number, currency: string): string {
  if (row.priceCents !== null && !row.isBelowMoneyBack && row.hourWorthCents !== null) {
    const below = wageCents > 0 && row.isBelowWage ? ', below your wage' : '';
    return `${formatCents(row.hourWorthCents, currency)} an hour${below}`;
  }
  return worthWords(row, cost, wageCents, currency);
}

/** Below the money back it is a loss, below the wage something to see. */
export function worthTone(row: PriceSheetRow, wageCents: number): 'late' | 'caution' | 'done' | undefined {
  if (row.isBelowMoneyBack) return 'late';
  if (wageCents > 0 && row.isBelowWage) return 'caution';
  return wageCents > 0 && row.priceCents !== null ? 'done' : undefined;
}

/** Only what is below the money back or the wage is coloured. */
export function toneClass(tone: ReturnType<typeof worthTone>): string | undefined {
  return tone === 'late' || tone === 'caution' ? `tone-${tone}` : undefined;
}

/** Why the work of a pair is nothing, and what to do about it. */
export const NoWage = () => (
  <Caution title="Your time is not counted yet">
    Say <a href="/pricing/hour">what an hour is worth to you</a>, and costs and prices include it.
  </Caution>
);
