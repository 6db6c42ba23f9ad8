import { type StepBudget, shopCoupled } from '#core/buying/coupled.ts';
import type { Cover } from '#core/buying/cover-need.ts';
import { completeShopping, isBetterShopping, type Shopping } from '#core/buying/shopping.ts';
import { type BuyOptions, type Market, makeCoverBook } from '#core/buying/shops.ts';

const mostNodes = 20_000;
const mostCovers = 60_000;

/**
 * The cheapest list of a market whose prices are as they stand: shops are opened or closed one by one, depth first. No
 * list from the shops not closed costs less than the postage of those open plus each colour's cheapest cover, so a
 * branch whose bound passes the best list, or the ceiling, is cut.
 *
 * @param ceilingCents nothing dearer than this is looked for; infinite when there is no list yet
 * @param budget counted steps for what couples the colours; what is left of it goes to the next search
 * @param mustUse positions of shops that a list must use to count; the bound is then one of such lists
 * @returns the best list found (null when none is within the ceiling), and what no list can undercut: the ceiling where
 * all lists are dearer
 */
export function searchShops(
  market: Market,
  options: BuyOptions,
  ceilingCents: number,
  budget: StepBudget,
  mustUse: readonly number[] = [],
): { best: Shopping | null; boundCents: number } {
  const { coverOf, coversMade } = makeCoverBook(options);
  const positions = new Map(market.shops.map((shop, position) => [shop.supplier.id, position]));
  const closed = new Uint8Array(market.shops.length);
  const open = new Uint8Array(market.shops.length);
  let nodes = 0;
  let best: Shopping | null = null;
  /** The least bound of what was left unexplored. */
  let unprovenCents = Number.POSITIVE_INFINITY;

  const coverAll = (): readonly Cover[] | null => {
    const covers: Cover[] = [];
    for (const colour of market.colours) {
      const cover = coverOf(colour, closed);
      if (!cover) return null;
      covers.push(cover);
    }
    return covers;
  };
  const complete = (covers: readonly Cover[]): Shopping | null =>
    completeShopping(
      market,
      positions,
      covers.flatMap((cover) => cover.packs),
    );

  const counts = (shopping: Shopping) => mustUse.every((position) => shopping.shops.includes(position));

  /** Opens and closes single shops as long as that helps, for a good list to begin with. */
  function climb(): void {
    let current: Shopping | null = null;
    for (let round = 0; round <= 2 * market.shops.length; round += 1) {
      let step: Shopping | null = null;
      for (let shop = -1; shop < market.shops.length; shop += 1) {
        closed.fill(round === 0 ? 0 : 1);
        if (current) for (const used of current.shops) closed[used] = 0;
        if (shop >= 0) closed[shop] = 1 - closed[shop]!;
        const covers = coverAll();
        const found = covers && complete(covers);
        if (found && counts(found) && isBetterShopping(found, step)) step = found;
      }
      if (!step || !isBetterShopping(step, current)) break;
      current = step;
    }
    closed.fill(0);
    best = current;
  }

  function visit(): void {
    nodes += 1;
    const covers = coverAll();
    if (!covers) return;
    let boundCents = 0;
    let openCount = 0;
    for (const cover of covers) boundCents += cover.boundCents;
    for (const [position, shop] of market.shops.entries()) {
      if (open[position] === 0) continue;
      boundCents += shop.leastShippingCents;
      openCount += 1;
    }
    if (boundCents > ceilingCents) return;
    if (best && (boundCents > best.cents || (boundCents === best.cents && openCount > best.shops.length))) return;
    const cheapest = complete(covers);
    const plain = cheapest && counts(cheapest) ? cheapest : null;
    if (plain && isBetterShopping(plain, best)) best = plain;
    // A list that costs the bound and uses open shops only cannot be bettered here, nor with fewer shops.
    if (plain && plain.cents <= boundCents && plain.shops.every((position) => open[position] === 1)) return;
    if (nodes > mostNodes || coversMade() > mostCovers) {
      unprovenCents = Math.min(unprovenCents, boundCents);
      return;
    }
    const next = nextShop(plain);
    if (next < 0) {
      settle(covers, boundCents, plain !== null);
      return;
    }
    closed[next] = 1;
    visit();
    closed[next] = 0;
    open[next] = 1;
    visit();
    open[next] = 0;
  }

  /** The dearest undecided shop that the plain list uses, else the first undecided one. */
  function nextShop(plain: Shopping | null): number {
    let next = -1;
    for (const position of plain?.shops ?? []) {
      if (open[position] === 1) continue;
      if (next < 0 || market.shops[position]!.shippingCents > market.shops[next]!.shippingCents) next = position;
    }
    return next >= 0 ? next : market.shops.findIndex((_, position) => open[position] === 0 && closed[position] === 0);
  }

  /** All shops decided: what couples the colours within them. */
  function settle(covers: readonly Cover[], boundCents: number, hasPlain: boolean): void {
    const decided = [...open.keys()].filter((position) => open[position] === 1);
    const isCoupled = decided.some((position) => market.shops[position]!.targetCents > 0);
    const isCoverProven = covers.every((cover) => cover.boundCents === cover.goodsCents);
    if (!isCoupled && isCoverProven && hasPlain) return; // the plain list is this leaf's best
    const isSimple = !isCoupled && mustUse.length === 0;
    if (isSimple || decided.length > 30 || budget.left < 0) {
      unprovenCents = Math.min(unprovenCents, boundCents);
      return;
    }
    // With no list yet, look as far up as reaching every minimum and limit on top of the bound would cost.
    const targets = decided.reduce((total, position) => total + 2 * market.shops[position]!.targetCents, 0);
    const highCents = Math.min(boundCents + targets, ceilingCents);
    const incumbent =
      best !== null && best.cents <= ceilingCents ? best : { cents: highCents, shops: [], grossMg: 0, packs: [] };
    const found = shopCoupled(market, options, decided, covers, boundCents, incumbent, budget, mustUse);
    if (found.best) best = found.best;
    const hasLookedHigh = incumbent.packs.length > 0 || highCents === ceilingCents;
    if (!found.isExhaustive || !hasLookedHigh) unprovenCents = Math.min(unprovenCents, boundCents);
  }

  climb();
  for (const position of mustUse) open[position] = 1;
  visit();
  const found = best as Shopping | null;
  return { best: found, boundCents: Math.min(found?.cents ?? Number.POSITIVE_INFINITY, ceilingCents, unprovenCents) };
}
