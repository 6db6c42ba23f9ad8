import { dealByDay } from '#core/buying/deal-by-day.ts';
import { dealToRows, joinLots } from '#core/buying/same-lots.ts';
import type { Day } from '#core/shared/calendar.ts';
import { requireRange } from '#core/shared/check.ts';

/** Yarn one pair wants in one colour, all roles of that colour together. */
export type Want = {
  readonly pairKey: string;
  readonly yarnColourId: number;
  readonly mg: number;
  /** Whether it may come from several lots, when no lot has it whole. */
  readonly mayMix?: boolean;
};

/** What of a want comes from one of several lots, or of several rows of one lot. */
export type LotPart = { readonly lotId: number; readonly mg: number };

/** A dye lot on the shelf, or on its way to it from a day on, and what of it is still free. */
export type LotLeft = {
  readonly id: number;
  readonly yarnColourId: number;
  readonly freeMg: number;
  readonly fromDay?: Day;
  /** Rows of a colour with one key are one dye lot. */
  readonly lotKey?: string | undefined;
};

export type Placement<W extends Want = Want> = {
  /** Lot id by `placementKey`. */
  readonly placed: ReadonlyMap<string, number>;
  /** By `placementKey`, the parts of wants that mix lots or lie on several rows of one, the largest first; none of them is in `placed`. */
  readonly mixed: ReadonlyMap<string, readonly LotPart[]>;
  /** Wants that found no lot, in the order of the wants. */
  readonly left: readonly W[];
  /** By pair, the day the last of its lots that are on their way is here; pairs that wait for none are missing. */
  readonly waits: ReadonlyMap<string, Day>;
};

const mostSearchSteps = 30_000;
const mostSearchWants = 2000;
const mostLotOrders = 6;
const mostBitWords = 200_000;

/**
 * The name under which a pair's place in a colour is kept.
 *
 * @example placementKey('12.1', 7) // => '12.1/7'
 */
export function placementKey(pairKey: string, yarnColourId: number): string {
  return `${pairKey}/${yarnColourId}`;
}

/**
 * Places the yarn of whole pairs on shelf lots, so that the most grams find a place; what is placed need not be bought,
 * and needing less never costs more. A want lies in one lot whole: a pair never mixes dye lots in a colour, unless it says
 * that it may; such pairs then take what whole pairs left over. Rows of the shelf with one key are one lot. One lot is
 * filled exactly (subset sums by bit sets over like wants); several lots are filled one after another in all orders (up
 * to 3 lots, else by size), and improved by a depth-first search of counted steps: exact when it ends, and always when
 * everything finds a place or every lot is as full as it alone could be. Ties: pairs earlier in the list are placed, and
 * lots that are here go to earlier pairs than lots that are on their way.
 *
 * @param wants one per pair and colour, milligrams, at least 0 (fractions count as the next whole milligram)
 * @param rows lots, or rows of one; free milligrams, at least 0
 * @throws {RangeError} when a pair wants a colour of the shelf twice, or an amount is negative or not finite
 * Source: multiple subset sum; checked against enumeration in the tests
 * @example placeOnLots([{ pairKey: 'a', yarnColourId: 1, mg: 60 }, { pairKey: 'b', yarnColourId: 1, mg: 50 }], [{ id: 4, yarnColourId: 1, freeMg: 55 }]).left // => [{ pairKey: 'a', yarnColourId: 1, mg: 60 }]
 */
export function placeOnLots<W extends Want>(wants: readonly W[], rows: readonly LotLeft[]): Placement<W> {
  const lots = joinLots(rows);
  const lotOf = new Map<Want, number>();
  const byColour = new Map<number, Want[]>();
  for (const want of wants) {
    requireRange('placeOnLots: wants.mg', want.mg, 0, Number.MAX_SAFE_INTEGER);
    const list = byColour.get(want.yarnColourId);
    if (list) list.push(want);
    else byColour.set(want.yarnColourId, [want]);
  }
  for (const [colour, list] of byColour) {
    const bins = lots
      .filter((lot) => lot.yarnColourId === colour)
      .map((lot) => ({ id: lot.id, mg: Math.floor(requireRange('placeOnLots: lots.freeMg', lot.freeMg, 0)) }))
      .filter((bin) => bin.mg > 0)
      .sort((a, b) => a.id - b.id);
    if (bins.length === 0) continue;
    requireOnce(list);
    placeColour(list, bins, lotOf);
    dealByDay(
      list,
      lots.filter((lot) => lot.yarnColourId === colour),
      lotOf,
    );
  }
  const onRows = dealToRows(wants, lots, lotOf, mixRests(wants, lots, lotOf));
  const placed = new Map<string, number>();
  for (const [want, lot] of onRows.lotOf) placed.set(placementKey(want.pairKey, want.yarnColourId), lot);
  const mixed = new Map(
    [...onRows.mixedOf].map(([want, parts]) => [placementKey(want.pairKey, want.yarnColourId), parts] as const),
  );
  const left = wants.filter((want) => !onRows.lotOf.has(want) && !onRows.mixedOf.has(want));
  return { placed, mixed, left, waits: waitsOf(onRows.lotOf, onRows.mixedOf, rows) };
}

/** What whole pairs left over, for pairs that may mix it: each from as few lots as will do, what is here first. */
function mixRests(wants: readonly Want[], lots: readonly LotLeft[], lotOf: ReadonlyMap<Want, number>) {
  const mixedOf = new Map<Want, readonly LotPart[]>();
  const open = wants.filter((want) => want.mayMix && !lotOf.has(want));
  if (open.length === 0) return mixedOf;
  const free = new Map(lots.map((lot) => [lot.id, Math.floor(lot.freeMg)]));
  for (const [want, lot] of lotOf) free.set(lot, free.get(lot)! - Math.ceil(want.mg));
  for (const want of open) {
    const own = lots
      .filter((lot) => lot.yarnColourId === want.yarnColourId && free.get(lot.id)! > 0)
      .sort(
        (a, b) =>
          Number(a.fromDay !== undefined) - Number(b.fromDay !== undefined) ||
          free.get(b.id)! - free.get(a.id)! ||
          a.id - b.id,
      );
    let mg = Math.ceil(want.mg);
    if (own.reduce((sum, lot) => sum + free.get(lot.id)!, 0) < mg) continue;
    const parts: LotPart[] = [];
    for (const { id } of own) {
      const part = Math.min(mg, free.get(id)!);
      if (part === 0) break;
      parts.push({ lotId: id, mg: part });
      free.set(id, free.get(id)! - part);
      mg -= part;
    }
    mixedOf.set(
      want,
      parts.sort((a, b) => b.mg - a.mg),
    );
  }
  return mixedOf;
}

function waitsOf(
  lotOf: ReadonlyMap<Want, number>,
  mixedOf: ReadonlyMap<Want, readonly LotPart[]>,
  lots: readonly LotLeft[],
): ReadonlyMap<string, Day> {
  const waits = new Map<string, Day>();
  const dayOf = new Map(lots.flatMap(({ id, fromDay }) => (fromDay === undefined ? [] : [[id, fromDay] as const])));
  if (dayOf.size === 0) return waits;
  const wait = ({ pairKey }: Want, lot: number) => {
    const day = dayOf.get(lot);
    if (day === undefined) return;
    const known = waits.get(pairKey);
    if (known === undefined || day > known) waits.set(pairKey, day);
  };
  for (const [want, lot] of lotOf) wait(want, lot);
  for (const [want, parts] of mixedOf) for (const { lotId } of parts) wait(want, lotId);
  return waits;
}

function requireOnce(wantsOfColour: readonly Want[]): void {
  const pairKeys = new Set<string>();
  for (const { pairKey, yarnColourId } of wantsOfColour) {
    if (pairKeys.has(pairKey)) {
      const key = placementKey(pairKey, yarnColourId);
      throw new RangeError(`placeOnLots: wants must name a pair and colour once, got ${key} twice`);
    }
    pairKeys.add(pairKey);
  }
}

type Bin = { readonly id: number; readonly mg: number };
/** Bin position by want position; -1 for none. */
type Places = { readonly bins: Int32Array; readonly mg: number };

function placeColour(wants: readonly Want[], bins: readonly Bin[], lotOf: Map<Want, number>): void {
  const sizes = wants.map((want) => Math.ceil(want.mg));
  const best = placeSizes(sizes, bins);
  for (const [i, bin] of best.bins.entries()) if (bin >= 0) lotOf.set(wants[i]!, bins[bin]!.id);
}

/**
 * Where all would find a place by weight and do not, the newest lot takes what the others, filled as if it were not there,
 * leave over: so a lot that was bought for what was left holds just that when it has come.
 */
function placeSizes(sizes: readonly number[], bins: readonly Bin[]): Places {
  const best = fillBest(sizes, bins);
  const wantedMg = sizes.reduce((total, mg) => total + mg, 0);
  const roomMg = bins.reduce((total, { mg }) => total + mg, 0);
  if (bins.length < 2 || best.mg === wantedMg || roomMg < wantedMg) return best;
  const older = placeSizes(sizes, bins.slice(0, -1));
  const places = older.bins.slice();
  const newest = fill(sizes, places, bins.at(-1)!.mg);
  for (const want of newest.chosen) places[want] = bins.length - 1;
  return older.mg + newest.mg > best.mg ? { bins: places, mg: older.mg + newest.mg } : best;
}

function fillBest(sizes: readonly number[], bins: readonly Bin[]): Places {
  const all = sizes.reduce((total, mg) => total + mg, 0);
  const alone = bins.map((bin) => fill(sizes, new Int32Array(sizes.length).fill(-1), bin.mg).mg);
  const mostMg = Math.min(
    all,
    alone.reduce((total, mg) => total + mg, 0),
  );
  let best = inListOrder(sizes, bins);
  for (const order of ordersOf(bins)) {
    if (best.mg >= mostMg) break;
    const places = new Int32Array(sizes.length).fill(-1);
    let mg = 0;
    for (const bin of order) {
      const filled = fill(sizes, places, bins[bin]!.mg);
      for (const want of filled.chosen) places[want] = bin;
      mg += filled.mg;
    }
    if (mg > best.mg) best = { bins: places, mg };
  }
  if (bins.length > 1 && best.mg < mostMg && sizes.length <= mostSearchWants) best = search(sizes, bins, best, mostMg);
  return best;
}

/** Each want, in list order, onto the fullest lot that still takes it: earlier pairs first. */
function inListOrder(sizes: readonly number[], bins: readonly Bin[]): Places {
  const free = bins.map((bin) => bin.mg);
  const places = new Int32Array(sizes.length).fill(-1);
  let placedMg = 0;
  for (const [i, mg] of sizes.entries()) {
    let tightest = -1;
    for (const [bin, left] of free.entries()) {
      if (left >= mg && (tightest < 0 || left < free[tightest]!)) tightest = bin;
    }
    if (tightest < 0) continue;
    places[i] = tightest;
    free[tightest]! -= mg;
    placedMg += mg;
  }
  return { bins: places, mg: placedMg };
}

function ordersOf(bins: readonly Bin[]): readonly (readonly number[])[] {
  const positions = bins.map((_, i) => i);
  if (factorial(bins.length) > mostLotOrders) {
    const rising = [...positions].sort((a, b) => bins[a]!.mg - bins[b]!.mg || a - b);
    return [positions, rising, [...rising].reverse()];
  }
  const permute = (rest: readonly number[]): number[][] =>
    rest.length === 0
      ? [[]]
      : rest.flatMap((first) => permute(rest.filter((each) => each !== first)).map((tail) => [first, ...tail]));
  return permute(positions);
}

function factorial(count: number): number {
  return count < 2 ? 1 : count * factorial(count - 1);
}

/**
 * The wants not placed yet that fill one lot best. Like wants are one class; `reach[k]` holds a bit for each sum that
 * classes from k on can make, so that walking forward takes as many as possible of the classes that come first.
 */
function fill(sizes: readonly number[], places: Int32Array, lotMg: number): { chosen: readonly number[]; mg: number } {
  const classes = new Map<number, number[]>();
  for (const [i, mg] of sizes.entries()) {
    if (places[i] !== -1 || mg > lotMg) continue;
    const list = classes.get(mg);
    if (list) list.push(i);
    else classes.set(mg, [i]);
  }
  const entries = [...classes].filter(([mg]) => mg > 0);
  const chosen = [...(classes.get(0) ?? [])];
  const open = entries.reduce((total, [mg, list]) => total + mg * list.length, 0);
  if (open <= lotMg) return { chosen: [...chosen, ...entries.flatMap(([, list]) => list)], mg: open };
  // A common unit shortens the bit sets: the lot's rest below one unit can never be filled. Where they would still be
  // long, the unit is made coarser and wants count as the next whole unit: still a fill, perhaps not the fullest.
  const finestMg = entries.reduce((divisor, [mg]) => greatestCommonDivisor(divisor, mg), 0);
  const unitMg = finestMg * Math.ceil((entries.length * lotMg) / (finestMg * 32 * mostBitWords));
  const room = Math.floor(lotMg / unitMg);
  const units = entries.map(([mg]) => Math.ceil(mg / unitMg));
  const reach: Uint32Array[] = new Array(entries.length + 1);
  reach[entries.length] = new Uint32Array((room >> 5) + 1);
  reach[entries.length]![0] = 1;
  for (let k = entries.length - 1; k >= 0; k -= 1) {
    const bits = reach[k + 1]!.slice();
    let left = Math.min(entries[k]![1].length, Math.floor(room / units[k]!));
    for (let count = 1; left > 0; count *= 2) {
      orShifted(bits, units[k]! * Math.min(count, left));
      left -= Math.min(count, left);
    }
    reach[k] = bits;
  }
  let sum = room;
  while (!hasBit(reach[0]!, sum)) sum -= 1;
  let placedMg = 0;
  for (const [k, [mg, list]] of entries.entries()) {
    let count = Math.min(list.length, Math.floor(sum / units[k]!));
    while (!hasBit(reach[k + 1]!, sum - count * units[k]!)) count -= 1;
    chosen.push(...list.slice(0, count));
    sum -= count * units[k]!;
    placedMg += count * mg;
  }
  return { chosen, mg: placedMg };
}

function greatestCommonDivisor(a: number, b: number): number {
  let [larger, smaller] = [a, b];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

function hasBit(bits: Uint32Array, at: number): boolean {
  return ((bits[at >> 5]! >>> (at & 31)) & 1) === 1;
}

/** bits |= bits << by, in place from the top so that each word still reads what was there before. */
function orShifted(bits: Uint32Array, by: number): void {
  const whole = Math.floor(by / 32);
  const rest = by % 32;
  for (let word = bits.length - 1; word >= whole; word -= 1) {
    const low = bits[word - whole]! << rest;
    const high = rest > 0 && word > whole ? bits[word - whole - 1]! >>> (32 - rest) : 0;
    bits[word]! |= low | high;
  }
}

/** Largest wants first, each into every lot (lots with equal room once) or nowhere; cut by what could still be placed. */
function search(sizes: readonly number[], bins: readonly Bin[], start: Places, mostMg: number): Places {
  const order = sizes.map((_, i) => i).sort((a, b) => sizes[b]! - sizes[a]! || a - b);
  const rest = new Float64Array(order.length + 1);
  for (let k = order.length - 1; k >= 0; k -= 1) rest[k] = rest[k + 1]! + sizes[order[k]!]!;
  const free = bins.map((bin) => bin.mg);
  const places = new Int32Array(sizes.length).fill(-1);
  let best = start;
  let steps = 0;
  const visit = (k: number, placedMg: number): void => {
    steps += 1;
    if (placedMg > best.mg) best = { bins: places.slice(), mg: placedMg };
    if (k === order.length || best.mg >= mostMg || steps > mostSearchSteps) return;
    const room = free.reduce((total, mg) => total + mg, 0);
    if (placedMg + Math.min(rest[k]!, room) <= best.mg) return;
    const want = order[k]!;
    const mg = sizes[want]!;
    // Of equal wants a later one lies in no earlier lot, and nowhere once one before it does.
    const before = k > 0 && sizes[order[k - 1]!] === mg ? places[order[k - 1]!]! : 0;
    const tried: number[] = [];
    for (const [bin, left] of free.entries()) {
      if (before < 0 || bin < before || left < mg || tried.includes(left)) continue;
      tried.push(left);
      places[want] = bin;
      free[bin]! -= mg;
      visit(k + 1, placedMg + mg);
      free[bin] = left;
      places[want] = -1;
    }
    visit(k + 1, placedMg);
  };
  visit(0, 0);
  return best;
}
