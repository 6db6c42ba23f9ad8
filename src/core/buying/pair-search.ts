import type { ShelfQuestion, Way } from '#core/buying/pair-ways.ts';
import { boundOf, type Limit, newTableau, type Tableau } from '#core/buying/tableau.ts';
import { entryOf } from '#core/shared/entry-of.ts';

/** Pairs by way, and what is known of the best there can be. */
export type SearchResult = {
  /** One count a way. */
  readonly counts: Int32Array;
  readonly score: number;
  /** No answer can score more. */
  readonly bound: number;
  /** What one pair of a size's least counts for; more than all that the pairs are worth together. */
  readonly leastWorth: number;
  /** Numbers touched. */
  readonly steps: number;
};

/** A limit that is broken by less than this is no reason to cut. */
const leastCut = 1e-3;
const mostCutRounds = 12;
const mostCutsARound = 24;
/** Amounts nearer than this to a whole number are that number. */
const nearly = 1e-6;

/** What it takes to set a problem up, for each way. */
const stepsOfWay = 100;

type Problem = {
  readonly ways: readonly Way[];
  readonly freeMg: Float64Array;
  readonly least: readonly number[];
  readonly mostOfSize: readonly number[];
  readonly leastWorth: number;
  /** What no answer is worth more than, by the lightest pair on each lot alone. */
  readonly mostScore: number;
  /** Of each column: ways first, then one for each size's least. */
  readonly worth: readonly number[];
  readonly most: readonly number[];
  /** Sizes that have a least, in the order of their columns. */
  readonly wanting: readonly number[];
  /** What is made whole on branching: pairs of a size, of a lot, and of one size and amount on one lot. */
  readonly groups: readonly (readonly number[])[];
  /** For each lot, the columns that take the same amount of it. */
  readonly weights: readonly (readonly { readonly mg: number; readonly columns: readonly number[] }[])[];
  /** For each size, its columns. */
  readonly bySize: readonly (readonly number[])[];
};

function problemOf(
  ways: readonly Way[],
  freeMg: Float64Array,
  least: readonly number[],
  mostOfSize: readonly number[],
  worthOfLeast?: number,
): Problem {
  const bySize: number[][] = least.map(() => []);
  const byLot: number[][] = Array.from(freeMg, () => []);
  const weights = Array.from(freeMg, () => new Map<number, { mg: number; columns: number[] }>());
  const likes = Array.from(freeMg, () => new Map<number, number[]>());
  const most: number[] = [];
  for (let column = 0; column < ways.length; column += 1) {
    const { size, takes } = ways[column]!;
    bySize[size]!.push(column);
    let room = mostOfSize[size]!;
    for (const { lot, mg } of takes) {
      byLot[lot]!.push(column);
      entryOf(weights[lot]!, mg, () => ({ mg, columns: [] })).columns.push(column);
      entryOf(likes[lot]!, mg * least.length + size, () => []).push(column);
      room = Math.min(room, Math.floor(freeMg[lot]! / mg));
    }
    most.push(room);
  }
  const wanting = [...least.keys()].filter((size) => least[size]! > 0);
  let mostPairs = 0;
  for (const [lot, byWeight] of weights.entries()) {
    if (byWeight.size > 0) mostPairs += Math.floor(freeMg[lot]! / Math.min(...byWeight.keys()));
  }
  mostPairs = Math.min(
    mostPairs,
    mostOfSize.reduce((sum, each) => sum + each, 0),
  );
  const mostWorth = mostPairs * ways.reduce((value, way) => Math.max(value, way.value), 0);
  const leastWorth = worthOfLeast ?? 1 + mostWorth;
  const mostScore = mostWorth + leastWorth * least.reduce((sum, each) => sum + each, 0);
  return {
    ...{ ways, freeMg, least, mostOfSize, leastWorth, mostScore, wanting, bySize },
    worth: [...ways.map((way) => way.value), ...wanting.map(() => leastWorth)],
    most: [...most, ...wanting.map((size) => least[size]!)],
    groups: [...bySize, ...byLot, ...likes.flatMap((like) => [...like.values()]), ...ways.map((_, column) => [column])],
    weights: weights.map((byWeight) => [...byWeight.values()]),
  };
}

/** Grams of each lot, the most of each size, and the pairs that count towards a least. */
function relaxed(problem: Problem): Tableau {
  const { ways, freeMg, least, mostOfSize, wanting, weights, bySize } = problem;
  const tableau = newTableau(problem.worth);
  for (const [lot, byWeight] of weights.entries()) {
    if (byWeight.length === 0) continue;
    const columns = byWeight.flatMap((each) => each.columns);
    const coefficients = byWeight.flatMap((each) => each.columns.map(() => each.mg / freeMg[lot]!));
    tableau.addLimit({ columns, coefficients, most: 1 });
  }
  for (const [size, columns] of bySize.entries()) {
    if (columns.length === 0) continue;
    tableau.addLimit({ columns, coefficients: columns.map(() => 1), most: mostOfSize[size]! });
    const own = wanting.indexOf(size);
    if (own < 0) continue;
    const both = { columns: [ways.length + own, ...columns], coefficients: [1, ...columns.map(() => -1)] };
    tableau.addLimit({ ...both, most: 0 });
  }
  for (const [own, size] of wanting.entries()) {
    const most = bySize[size]!.length > 0 ? least[size]! : 0;
    tableau.addLimit({ columns: [ways.length + own], coefficients: [1], most });
  }
  return tableau;
}

/**
 * Limits that hold for whole pairs and that the amounts break. Of one lot: its weights and its grams times the same
 * factor, both rounded down; three and a half pairs of one size are three.
 * Source: rounding of limits, as in any textbook of integer programming
 */
function cutsFor({ freeMg, weights }: Problem, amounts: Float64Array): Limit[] {
  const cuts: { readonly limit: Limit; readonly broken: number }[] = [];
  for (const [lot, byWeight] of weights.entries()) {
    const used: { readonly mg: number; readonly pairs: number }[] = [];
    for (const { mg, columns } of byWeight) {
      let pairs = 0;
      for (const column of columns) pairs += amounts[column]!;
      if (pairs > nearly) used.push({ mg, pairs });
    }
    const tried = new Map<string, { readonly count: number; readonly unit: number; readonly broken: number }>();
    for (const { mg: unit } of used) {
      const mostCount = Math.min(40, Math.floor(freeMg[lot]! / unit) + 1);
      for (let count = 1; count <= mostCount; count += 1) {
        const room = Math.floor((count * freeMg[lot]!) / unit);
        let taken = 0;
        for (const { mg, pairs } of used) taken += Math.floor((count * mg) / unit) * pairs;
        const broken = (taken - room) / Math.max(1, room);
        if (broken > leastCut) tried.set(`${room} ${taken}`, { count, unit, broken });
      }
    }
    const worst = [...tried.values()].sort((a, b) => b.broken - a.broken).slice(0, 3);
    for (const { count, unit, broken } of worst) {
      const room = Math.floor((count * freeMg[lot]!) / unit);
      const columns: number[] = [];
      const coefficients: number[] = [];
      for (const each of byWeight) {
        const coefficient = Math.floor((count * each.mg) / unit);
        if (coefficient === 0) continue;
        for (const column of each.columns) {
          columns.push(column);
          coefficients.push(coefficient / room);
        }
      }
      cuts.push({ limit: { columns, coefficients, most: 1 }, broken });
    }
  }
  return cuts
    .sort((a, b) => b.broken - a.broken)
    .slice(0, mostCutsARound)
    .map(({ limit }) => limit);
}

/** What is left of lots and sizes while pairs are put on them and taken off. */
class Shelf {
  readonly counts: Int32Array;
  readonly #freeMg: Float64Array;
  readonly #made: Int32Array;
  readonly #problem: Problem;

  constructor(problem: Problem, from?: Shelf) {
    this.#problem = problem;
    this.counts = from ? from.counts.slice() : new Int32Array(problem.ways.length);
    this.#freeMg = from ? from.#freeMg.slice() : problem.freeMg.slice();
    this.#made = from ? from.#made.slice() : new Int32Array(problem.least.length);
  }

  copy(): Shelf {
    return new Shelf(this.#problem, this);
  }

  /** How many more pairs find room. */
  room(column: number): number {
    const { size, takes } = this.#problem.ways[column]!;
    let room = this.#problem.mostOfSize[size]! - this.#made[size]!;
    for (const { lot, mg } of takes) room = Math.min(room, Math.floor(this.#freeMg[lot]! / mg));
    return room;
  }

  lacking(column: number): number {
    const { size } = this.#problem.ways[column]!;
    return Math.max(0, this.#problem.least[size]! - this.#made[size]!);
  }

  add(column: number, pairs: number): void {
    const { size, takes } = this.#problem.ways[column]!;
    this.counts[column]! += pairs;
    this.#made[size]! += pairs;
    for (const { lot, mg } of takes) this.#freeMg[lot]! -= mg * pairs;
  }

  left(): { readonly freeMg: Float64Array; readonly made: Int32Array } {
    return { freeMg: this.#freeMg, made: this.#made };
  }

  score(): number {
    const { ways, least, leastWorth } = this.#problem;
    let score = 0;
    for (let column = 0; column < ways.length; column += 1) score += this.counts[column]! * ways[column]!.value;
    for (let size = 0; size < least.length; size += 1) score += leastWorth * Math.min(least[size]!, this.#made[size]!);
    return score;
  }
}

/** Puts on what still finds room: first what a size's least wants, then anything, in the order given. */
function fill(shelf: Shelf, order: readonly number[]): Shelf {
  for (const column of order) {
    const pairs = Math.min(shelf.lacking(column), shelf.room(column));
    if (pairs > 0) shelf.add(column, pairs);
  }
  for (const column of order) {
    const pairs = shelf.room(column);
    if (pairs > 0) shelf.add(column, pairs);
  }
  return shelf;
}

/** Pairs at whole amounts, rounded down, and filled up: what the fractions say first, then what takes least. */
function rounded(problem: Problem, amounts: Float64Array, lightestFirst: readonly number[]): Shelf {
  const shelf = new Shelf(problem);
  const parts: { readonly column: number; readonly part: number }[] = [];
  for (const column of problem.ways.keys()) {
    const amount = amounts[column]!;
    if (amount <= nearly) continue;
    const whole = Math.min(Math.floor(amount + nearly), shelf.room(column));
    if (whole > 0) shelf.add(column, whole);
    parts.push({ column, part: amount - Math.floor(amount + nearly) });
  }
  parts.sort((a, b) => b.part - a.part || a.column - b.column);
  for (const { column } of parts) if (shelf.lacking(column) > 0 && shelf.room(column) > 0) shelf.add(column, 1);
  for (const { column } of parts) if (shelf.room(column) > 0) shelf.add(column, 1);
  return fill(shelf, lightestFirst);
}

type Branch = { readonly limit: Limit; readonly isNear: boolean };

/** The group of pairs whose number is furthest from whole, made whole either way; null when all are whole. */
function branchesOf({ groups }: Problem, amounts: Float64Array): readonly Branch[] | null {
  let chosen: { readonly columns: readonly number[]; readonly sum: number; readonly distance: number } | null = null;
  for (const columns of groups) {
    let sum = 0;
    for (const column of columns) sum += amounts[column]!;
    const distance = Math.abs(sum - Math.round(sum));
    if (distance > nearly && distance > (chosen?.distance ?? 0) + 1e-4) chosen = { columns, sum, distance };
  }
  if (!chosen) return null;
  const { columns, sum } = chosen;
  const down = Math.floor(sum);
  const isDown = sum - down < 0.5;
  return [
    { limit: { columns, coefficients: columns.map(() => 1), most: down }, isNear: isDown },
    { limit: { columns, coefficients: columns.map(() => -1), most: -down - 1 }, isNear: !isDown },
  ];
}

type Found = { shelf: Shelf; score: number };

/** Steps of work, counted so that the same question ends at the same place on every machine. */
type Work = { steps: number; readonly most: number };

type Node = { readonly tableau: Tableau; readonly limit: Limit | null; readonly bound: number };

const floorOf = ({ worth, most }: Problem, tableau: Tableau): number =>
  Math.floor(boundOf(worth, most, tableau.limits, tableau.prices()) + nearly);

/** The relaxed problem with cuts, and what it says is the most; as far as the steps last. */
function rootOf(problem: Problem, order: readonly number[], found: Found, work: Work): Node {
  const tableau = relaxed(problem);
  tableau.steps += stepsOfWay * problem.ways.length;
  tableau.improve(work.most);
  let bound = Math.min(problem.mostScore, floorOf(problem, tableau));
  for (let round = 0; round < mostCutRounds && bound > found.score && tableau.steps < work.most; round += 1) {
    const amounts = tableau.amounts();
    tableau.steps += 4 * problem.ways.length;
    take(found, rounded(problem, amounts, order));
    const cuts = bound > found.score ? cutsFor(problem, amounts) : [];
    if (cuts.length === 0) break;
    for (const cut of cuts) tableau.addLimit(cut);
    tableau.repair();
    bound = Math.min(bound, floorOf(problem, tableau));
  }
  work.steps += tableau.steps;
  tableau.steps = 0;
  return { tableau, limit: null, bound };
}

function take(found: Found, shelf: Shelf): void {
  const score = shelf.score();
  if (score > found.score) Object.assign(found, { shelf, score });
}

/** Depth first, the nearer whole number first. @returns what no answer that was not looked at can be above */
function branchAndBound(problem: Problem, root: Node, order: readonly number[], found: Found, work: Work): number {
  const open: Node[] = [root];
  let unsure = 0;
  while (open.length > 0 && work.steps < work.most) {
    const { tableau, limit, bound } = open.pop()!;
    if (bound <= found.score) continue;
    if (limit) tableau.addLimit(limit);
    const own = tableau.repair() ? Math.min(bound, floorOf(problem, tableau)) : found.score;
    work.steps += tableau.steps + (tableau.limits.length + 8) * problem.ways.length;
    tableau.steps = 0;
    if (own <= found.score) continue;
    const amounts = tableau.amounts();
    take(found, rounded(problem, amounts, order));
    if (own <= found.score) continue;
    const branches = branchesOf(problem, amounts);
    // Whole amounts that the shelf would not take, by a hair: nothing left to branch on, and nothing proven.
    if (!branches) {
      unsure = Math.max(unsure, own);
      continue;
    }
    const [near, far] = branches[0]!.isNear ? branches : [branches[1]!, branches[0]!];
    open.push({ tableau: tableau.copy(), limit: far!.limit, bound: own });
    open.push({ tableau, limit: near!.limit, bound: own });
  }
  return open.reduce((highest, { bound }) => Math.max(highest, bound), unsure);
}

/** Columns by how much of the shelf a pair takes for what it is worth. */
function lightestFirst({ ways, freeMg }: Problem): readonly number[] {
  const shareOf = ({ takes, value }: Way) =>
    takes.reduce((sum, { lot, mg }) => sum + mg / Math.max(1, freeMg[lot]!), 0) / value;
  const shares = ways.map(shareOf);
  return [...ways.keys()].sort((a, b) => shares[a]! - shares[b]! || a - b);
}

/** Numbers that look like chance and are the same each time. */
function chanceFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** Takes all pairs off a few lots and searches these alone, again and again. */
function searchParts(problem: Problem, order: readonly number[], bound: number, found: Found, work: Work): void {
  const { ways, weights } = problem;
  const lots = [...weights.keys()].filter((lot) => weights[lot]!.length > 0);
  if (lots.length < 3) return;
  const chance = chanceFrom(1);
  const mostRoles = Math.max(...ways.map(({ takes }) => takes.length));
  for (let round = 0; found.score < bound && work.steps < work.most; round += 1) {
    const size = Math.min(lots.length - 1, mostRoles + 1 + (round % 3));
    const isPart = new Uint8Array(weights.length);
    for (let left = size; left > 0; ) {
      const lot = lots[chance(lots.length)]!;
      if (isPart[lot] === 0) left -= 1;
      isPart[lot] = 1;
    }
    const columns = order.filter((column) => ways[column]!.takes.every(({ lot }) => isPart[lot] === 1));
    const rest = found.shelf.copy();
    for (const column of columns) rest.add(column, -rest.counts[column]!);
    const { freeMg, made } = rest.left();
    const own = problemOf(
      columns.map((column) => ways[column]!),
      freeMg,
      problem.least.map((least, at) => Math.max(0, least - made[at]!)),
      problem.mostOfSize.map((most, at) => most - made[at]!),
      problem.leastWorth,
    );
    // Worth the same in another arrangement is taken too: the next part may gain by it.
    const before = found.score - rest.score();
    const inside: Found = { shelf: new Shelf(own), score: before - 1 };
    const limit: Work = { steps: 0, most: 400_000 };
    const ownOrder = [...columns.keys()];
    const root = rootOf(own, ownOrder, inside, limit);
    if (root.bound > before) branchAndBound(own, root, ownOrder, inside, limit);
    work.steps += limit.steps + 8 * ways.length;
    if (inside.score < before) continue;
    for (const [at, pairs] of inside.shelf.counts.entries()) if (pairs > 0) rest.add(columns[at]!, pairs);
    if (rest.score() >= found.score) Object.assign(found, { shelf: rest, score: rest.score() });
  }
}

/**
 * The best score in whole pairs: branch and bound over the relaxed problem. Score = pairs by value, and before that the
 * pairs that a size's least wants. Ends when nothing better is possible, or after `mostSteps` numbers touched.
 *
 * @param start counts by way that are known to be possible; the answer is never worse
 */
export function searchPairs(
  question: ShelfQuestion,
  ways: readonly Way[],
  mostSteps: number,
  start: Int32Array | null = null,
): SearchResult {
  const problem = problemOf(
    ways,
    Float64Array.from(question.lots, (lot) => Math.floor(lot.freeMg)),
    question.sizes.map((size) => size.least),
    question.sizes.map((size) => size.most),
  );
  const order = lightestFirst(problem);
  const found: Found = { shelf: new Shelf(problem), score: 0 };
  take(found, fill(new Shelf(problem), order));
  if (start) {
    const given = new Shelf(problem);
    for (const [column, pairs] of start.entries()) if (pairs > 0) given.add(column, pairs);
    take(found, fill(given, order));
  }
  let bound = 0;
  const work: Work = { steps: 0, most: mostSteps };
  if (ways.length > 0) {
    const root = rootOf(problem, order, found, work);
    bound = root.bound;
    const parts: Work = { steps: 0, most: (mostSteps - work.steps) / 2 };
    searchParts(problem, order, bound, found, parts);
    work.steps += parts.steps;
    bound = branchAndBound(problem, root, order, found, work);
  }
  return {
    counts: found.shelf.counts,
    score: found.score,
    bound: Math.max(found.score, bound),
    leastWorth: problem.leastWorth,
    steps: work.steps,
  };
}
