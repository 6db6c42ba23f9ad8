import { countPairs, type MadePairs } from '#core/buying/count-pairs.ts';
import { placeOnLots } from '#core/buying/lots.ts';
import type { MostPairs } from '#core/buying/most-pairs.ts';
import { shelfKey } from '#core/buying/one-more-ball.ts';
import { countWays } from '#core/buying/pair-ways.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import type { KnownColour, KnownNames } from '#flows/orders/known-names.ts';
import { lineEntryOf } from '#flows/orders/line-entry.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import type { AskedPairs, PairsFound } from '#flows/shelf-plan/search-pairs.ts';
import { type AskedShelf, askShelf, rolesOfWish, type ShelfWish } from '#flows/shelf-plan/shelf-question.ts';

/** The page would take too long with more. Our own choice. */
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
  /** Whether every ball was looked at. */
  readonly hasBalls: boolean;
  readonly ends: readonly EndUse[];
  /** What the plan keeps for these pairs beyond what was asked; null where it keeps no more. */
  readonly planKeeps: PlanKeeps | null;
  readonly state: PairsFound['state'];
  /** The question and the pairs, for the form that makes them a batch. */
  readonly seen: SeenPairs;
};

/**
 * Pairs that were asked for with the most likely amounts, as a plan with safe amounts takes them: what it keeps more for a
 * pair, how many pairs then miss yarn, and how much.
 */
export type PlanKeeps = {
  readonly leastG: number;
  readonly mostG: number;
  readonly shortPairs: number;
  readonly missingG: number;
};

/** An answer as it was shown: the name of its question, and its pairs. */
export type SeenPairs = { readonly question: string; readonly made: readonly MadePairs[] };

/** What the shelf is asked for a wish, with what its kinds mean. */
export type AskedWish = AskedShelf & AskedPairs;

export const changedSince =
  'Something in the workshop changed since you looked. This is the answer now: look at it, then make it a batch.';

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

function linesOf({ kinds }: AskedShelf, made: readonly MadePairs[], wish: ShelfWish): LineEntry[] {
  const counts = new Map<number, number>();
  for (const { kind, count } of made) counts.set(kind, (counts.get(kind) ?? 0) + count);
  return [...counts].map(([kind, quantity]) => {
    const { size, colours } = kinds[kind]!;
    const { style, cuff, knitterId } = wish;
    const { foot } = wish.sizes[size]!;
    return lineEntryOf({ style, foot, fit: 'usual', cuff, quantity, agreedCents: null, knitterId, colours });
  });
}

/**
 * What the shelf is asked for a wish.
 *
 * @returns a problem where there are more choices than can be searched
 */
export function askForWish(workshopPlan: WorkshopPlan, known: KnownNames, wish: ShelfWish): Result<AskedWish> {
  const colours = colourById(known);
  const { question, kinds } = askShelf(workshopPlan, colours, wish);
  const ways = countWays(question);
  if (ways > mostWays) {
    const message =
      'There are too many colours and lots to try every pair of them. Tick fewer colours, or let fewer go together.';
    return refuse({ code: 'tooManyWays', path: 'together', message });
  }
  const ticked = [...new Set(question.kinds.flatMap(({ needs }) => needs.map((need) => need.yarnColourId)))];
  // A ball is a lot more, and with it there are more ways.
  const balls = (ways > mostWays / 2 ? [] : ticked.slice(0, mostBalls)).map((yarnColourId) => ({
    yarnColourId,
    mg: ballMgOf(workshopPlan, colours, yarnColourId),
  }));
  return succeed({ question, kinds, balls, key: shelfKey(question, balls) });
}

function ballMgOf({ rows }: WorkshopPlan, colours: ReadonlyMap<number, KnownColour>, id: number): number {
  return rows.yarns.find((yarn) => yarn.id === colours.get(id)!.yarnId)!.ballMg;
}

function planKeepsOf(
  workshopPlan: WorkshopPlan,
  known: KnownNames,
  wish: ShelfWish,
  { question }: AskedWish,
  made: readonly MadePairs[],
): PlanKeeps | null {
  if (wish.amounts === 'safe' || workshopPlan.settings.buyAt === 'likely' || made.length === 0) return null;
  const safe = askShelf(workshopPlan, colourById(known), { ...wish, amounts: 'safe' }).question;
  const sumMg = (needs: readonly { readonly mg: number }[]) => needs.reduce((sum, { mg }) => sum + mg, 0);
  const moreMg = made.map(({ kind }) => sumMg(safe.kinds[kind]!.needs) - sumMg(question.kinds[kind]!.needs));
  const wants = made.flatMap(({ kind, count }, at) =>
    Array.from({ length: count }, (_, index) => `${at}.${index}`).flatMap((pairKey) =>
      safe.kinds[kind]!.needs.map((need) => ({ pairKey, ...need })),
    ),
  );
  const { left } = placeOnLots(wants, safe.lots);
  return {
    leastG: Math.min(...moreMg) / 1000,
    mostG: Math.max(...moreMg) / 1000,
    shortPairs: new Set(left.map(({ pairKey }) => pairKey)).size,
    missingG: sumMg(left) / 1000,
  };
}

/** The most pairs that the shelf can make of what is wished, in words. */
export function tellAnswer(
  workshopPlan: WorkshopPlan,
  known: KnownNames,
  wish: ShelfWish,
  asked: AskedWish,
  { answer, more, state }: PairsFound,
): ShelfAnswer {
  const { rows } = workshopPlan;
  const { question, kinds, balls, key } = asked;
  const colours = colourById(known);
  const lots = lotUses(workshopPlan, asked, answer, known);
  const lotOf = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const wordsOf = new Map(wish.style.roles.map((role) => [role.name, role.words]));
  const made = answer.made.map(({ kind, lotIds, count }): PairsOfAnswer => {
    const { size, colourOfRole } = kinds[kind]!;
    const lotOfColour = new Map(question.kinds[kind]!.needs.map((need, at) => [need.yarnColourId, lotIds[at]!]));
    const parts = [...colourOfRole].map(([role, id]) => {
      const lotId = lotOfColour.get(id)!;
      return { words: wordsOf.get(role) ?? role, colour: colours.get(id)!, lotId, dyeLot: lotOf.get(lotId)!.dyeLot };
    });
    return { size: wish.sizes[size]!.words, count, parts };
  });
  const added = more.flatMap((each, at) =>
    each ? [{ ...each, colour: colours.get(each.yarnColourId)!, ballG: balls[at]!.mg / 1000 }] : [],
  );
  return {
    pairs: answer.pairs,
    mostPairs: answer.mostValue,
    isBest: answer.isBest,
    made,
    lots,
    short: answer.short.map((each) => ({ ...each, words: wish.sizes[each.size]!.words })),
    balls: added.sort((a, b) => b.atLeast - a.atLeast),
    hasBalls: added.length === balls.length,
    ends: endsOf(partsOf(workshopPlan, known, wish), lots),
    planKeeps: planKeepsOf(workshopPlan, known, wish, asked, answer.made),
    state,
    seen: { question: key, made: answer.made },
  };
}

/**
 * The lines of an order for the pairs that were shown.
 *
 * @returns a problem where the shelf is asked something else by now, or cannot give these pairs
 */
export function linesOfSeen(asked: AskedWish, wish: ShelfWish, seen: SeenPairs | null): Result<readonly LineEntry[]> {
  if (countWays(asked.question) === 0 || asked.question.sizes.every(({ most }) => most === 0)) {
    const message = 'There is no pair to make of this. Change the sizes or the colours.';
    return refuse({ code: 'noPairs', path: 'sizes', message });
  }
  if (seen?.question === asked.key && countPairs(asked.question, seen.made))
    return succeed(linesOf(asked, seen.made, wish));
  return refuse({ code: 'changedSince', path: 'outlet', message: changedSince });
}
