import type { Day } from '#core/shared/calendar.ts';
import { formatDay } from '#core/shared/format.ts';
import { formatMass, type UnitSystem } from '#core/shared/measures.ts';
import { lotsDueAtShop } from '#core/shelf/returns.ts';
import type { BallRow, LotRow, YarnColourRow, YarnRow } from '#db/stores/shelf.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** The place of yarn that a shop keeps for us until a day. */
export const placeAtShop = 'at the shop';

/** Yarn whose last day at the shop is near: to bring back, or to fetch where the shop keeps it for us. */
export type DueAtShop = {
  readonly lotId: number;
  readonly day: Day;
  readonly massMg: number;
  readonly colour: string;
  readonly dyeLot: string | null;
  readonly isAtShop: boolean;
};

/** Whether a lot lies at the shop, by the name of its place. */
export function isAtShop({ place }: Pick<LotRow, 'place'>): boolean {
  return place?.trim().toLowerCase() === placeAtShop;
}

export function dueAtShop(
  rows: {
    readonly yarns: readonly YarnRow[];
    readonly yarnColours: readonly YarnColourRow[];
    readonly lots: readonly LotRow[];
    readonly balls: readonly BallRow[];
  },
  today: Day,
): readonly DueAtShop[] {
  const colours = coloursOf(rows);
  const massOf = (lotId: number) =>
    rows.balls.reduce((sum, ball) => (ball.lotId === lotId ? sum + ball.massMg : sum), 0);
  const dated = rows.lots.filter((lot) => lot.returnableUntilDay !== null);
  return lotsDueAtShop(
    dated.map((lot) => ({ ...lot, massMg: massOf(lot.id) })),
    today,
  ).map((lot) => ({
    lotId: lot.id,
    day: lot.returnableUntilDay!,
    massMg: lot.massMg,
    colour: colours.get(lot.yarnColourId)?.name ?? '',
    dyeLot: lot.dyeLot,
    isAtShop: isAtShop(lot),
  }));
}

/** One line of yarn to fetch or to bring back, for the first page; null while nothing hurries. */
export function shopCaution(
  due: readonly DueAtShop[],
  unitSystem: UnitSystem,
): { readonly title: string; readonly sentence: string } | null {
  const [first] = due;
  if (!first) return null;
  const what = `${formatMass(first.massMg / 1000, unitSystem)} of ${first.colour}`;
  const day = formatDay(first.day);
  return {
    title: first.isAtShop ? `Fetch yarn by ${day}` : `Yarn may go back until ${day}`,
    sentence: `${what} ${first.isAtShop ? 'is kept for you at the shop until then' : 'can be brought back to the shop until then'}${due.length > 1 ? `, and ${due.length - 1} more` : ''}.`,
  };
}
