import { findMostPairs, type MostPairs, type OneMoreBall, oneMoreBall } from '#core/buying/most-pairs.ts';
import { countWays, waysOf } from '#core/buying/pair-ways.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import type { KnownColour, KnownNames } from '#flows/orders/known-names.ts';
import { lineEntryOf } from '#flows/orders/line-entry.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { type AskedShelf, askShelf, rolesOfWish, type ShelfWish } from '#flows/shelf-plan/shelf-question.ts';

/** The search would take too long with more. Our own choice. */
const mostWays = 8000;
const mostBalls = 16;

export type LotUse = {
  readonly lotId: number;
  readonly colour: KnownColour;
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly freeG: number;
  readonly usedG: number;
  readonly leftG: number;
};

export type PairsOfAnswer = {
  readonly size: string;
  readonly count: number;
  readonly parts: readonly {
    readonly words: string;
    readonly colour: KnownColour;
    readonly lotId: number;
    readonly dyeLot: string | null;
  }[];
};

/** What is left of a lot and would do for a part of a pair, though for no whole foot. */
export type EndUse = {
  readonly lot: LotUse;
  readonly uses: readonly { readonly words: string; readonly pairs: number }[];
};

export type ShelfAnswer = {
  readonly pairs: number;
  readonly mostPairs: number;
  readonly isBest: boolean;
  readonly made: readonly PairsOfAnswer[];
  readonly lots: readonly LotUse[];
  readonly short: readonly (MostPairs['short'][number] & { readonly words: string })[];
  readonly balls: readonly {
    readonly colour: KnownColour;
    readonly ballG: number;
    readonly atLeast: number;
    readonly atMost: number;
  }[];
  readonly ends: readonly EndUse[];
  readonly lines: readonly LineEntry[];
};

const colourById = (known: KnownNames) => new Map(known.colours.map((colour) => [colour.id, colour]));

/** The lots with what an answer takes of them; those with nothing free are left out. */
function lotUses({ rows }: WorkshopPlan, { question }: AskedShelf, found: MostPairs, known: KnownNames): LotUse[] {
  const colours = colourById(known);
  return question.lots
    .filter(({ id, freeMg }) => freeMg > 0 || found.usedMg.has(id))
    .flatMap(({ id, yarnColourId, freeMg }) => {
      const lot = rows.lots.find((each) => each.id === id);
      const colour = colours.get(yarnColourId);
      if (!lot || !colour) return [];
      const usedG = (found.usedMg.get(id) ?? 0) / 1000;
      const { dyeLot, donor } = lot;
      return [{ lotId: id, colour, dyeLot, donor, freeG: freeMg / 1000, usedG, leftG: freeMg / 1000 - usedG }];
    });
}

/** For each yarn, what the parts of the smallest pair take when each is in a colour of its own, mg. */
function partsOf(workshopPlan: WorkshopPlan, known: KnownNames, wish: ShelfWish) {
  const byYarn = new Map<number, Map<string, number>>();
  for (const yarnId of new Set(known.colours.map((colour) => colour.yarnId))) {
    for (const style of known.styles) {
      const roles = rolesOfWish({ ...wish, style });
      const main = known.colours.find((colour) => colour.yarnId === yarnId)!;
      // Colours that are none, so that each part is counted by itself.
      const apart = new Map(roles.map((_, at) => [-1 - at, { ...main, id: -1 - at }]));
      const coloursOfRole = new Map(roles.map((role, at) => [role, [-1 - at]]));
      const asked = askShelf(workshopPlan, apart, { ...wish, style, together: 'any', coloursOfRole });
      for (const [at, role] of roles.entries()) {
        const { words } = style.roles.find((each) => each.name === role)!;
        const least = asked.question.kinds.reduce(
          (mg, kind) => Math.min(mg, kind.needs.find((need) => need.yarnColourId === -1 - at)?.mg ?? mg),
          Number.MAX_SAFE_INTEGER,
        );
        const ofYarn = byYarn.get(yarnId) ?? new Map<string, number>();
        const name = at === 0 ? '' : words.toLowerCase();
        ofYarn.set(name, Math.min(least, ofYarn.get(name) ?? least));
        byYarn.set(yarnId, ofYarn);
      }
    }
  }
  return byYarn;
}

function endsOf(parts: ReturnType<typeof partsOf>, lots: readonly LotUse[]): EndUse[] {
  return lots.flatMap((lot) => {
    const ofYarn = parts.get(lot.colour.yarnId);
    const wholeMg = ofYarn?.get('');
    if (!ofYarn || wholeMg === undefined || lot.leftG * 1000 >= wholeMg) return [];
    const uses = [...ofYarn]
      .filter(([name, mg]) => name !== '' && mg <= lot.leftG * 1000)
      .map(([words, mg]) => ({ words, pairs: Math.floor((lot.leftG * 1000) / mg) }));
    return uses.length > 0 ? [{ lot, uses }] : [];
  });
}

function linesOf({ kinds }: AskedShelf, found: MostPairs, wish: ShelfWish): LineEntry[] {
  const counts = new Map<number, number>();
  for (const { kind, count } of found.made) counts.set(kind, (counts.get(kind) ?? 0) + count);
  return [...counts].map(([kind, quantity]) => {
    const { size, colours } = kinds[kind]!;
    const { style, cuff } = wish;
    const { foot } = wish.sizes[size]!;
    return lineEntryOf({ style, foot, fit: 'usual', cuff, quantity, agreedCents: null, colours });
  });
}

/**
 * The most pairs that the shelf can make of what is wished, in words and as lines of an order.
 *
 * @returns a problem where there are more choices than can be searched
 */
export async function planFromShelf(
  workshopPlan: WorkshopPlan,
  known: KnownNames,
  wish: ShelfWish,
): Promise<Result<ShelfAnswer>> {
  const { rows } = workshopPlan;
  const colours = colourById(known);
  const asked = askShelf(workshopPlan, colours, wish);
  const { question, kinds } = asked;
  if (countWays(question) > mostWays) {
    const message =
      'There are too many colours and lots to try every pair of them. Tick fewer colours, or let fewer go together.';
    return refuse({ code: 'tooManyWays', path: 'together', message });
  }
  const found = findMostPairs(question);
  const ticked = [...new Set(question.kinds.flatMap(({ needs }) => needs.map((need) => need.yarnColourId)))];
  const ballMgOf = (id: number) => rows.yarns.find((yarn) => yarn.id === colours.get(id)!.yarnId)!.ballMg;
  // A ball is a lot more, and with it there are more ways.
  const balls = waysOf(question).length > mostWays / 2 ? [] : ticked.slice(0, mostBalls);
  const more: OneMoreBall[] = [];
  for (const yarnColourId of balls) {
    // Other pages are answered between one ball and the next.
    await new Promise(setImmediate);
    more.push(...oneMoreBall(question, found, [{ yarnColourId, mg: ballMgOf(yarnColourId) }]));
  }
  const lots = lotUses(workshopPlan, asked, found, known);
  const lotOf = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const wordsOf = new Map(wish.style.roles.map((role) => [role.name, role.words]));
  const made = found.made.map(({ kind, lotIds, count }): PairsOfAnswer => {
    const { size, colourOfRole } = kinds[kind]!;
    const lotOfColour = new Map(question.kinds[kind]!.needs.map((need, at) => [need.yarnColourId, lotIds[at]!]));
    const parts = [...colourOfRole].map(([role, id]) => {
      const lotId = lotOfColour.get(id)!;
      return { words: wordsOf.get(role) ?? role, colour: colours.get(id)!, lotId, dyeLot: lotOf.get(lotId)!.dyeLot };
    });
    return { size: wish.sizes[size]!.words, count, parts };
  });
  return succeed({
    pairs: found.pairs,
    mostPairs: found.mostValue,
    isBest: found.isBest,
    made,
    lots,
    short: found.short.map((each) => ({ ...each, words: wish.sizes[each.size]!.words })),
    balls: more
      .map(({ yarnColourId, ...rest }) => ({
        ...rest,
        colour: colours.get(yarnColourId)!,
        ballG: ballMgOf(yarnColourId) / 1000,
      }))
      .sort((a, b) => b.atLeast - a.atLeast),
    ends: endsOf(partsOf(workshopPlan, known, wish), lots),
    lines: linesOf(asked, found, wish),
  });
}
