import { coverNeed, packMg } from '#core/buying/cover-need.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import { lowestPackCents, priceSteps } from '#core/buying/prices.ts';
import type { BuyingAnswer, BuyingProblem } from '#core/buying/problem.ts';
import type { ProgramData } from '#solver/messages.ts';

/** A mixed-integer program in rows: least cost of the columns, each row between its ends. Every cost is whole. */
type Model = {
  readonly costs: number[];
  readonly lower: number[];
  readonly upper: number[];
  readonly isWhole: boolean[];
  readonly rows: { readonly from: number; readonly to: number; readonly terms: readonly Term[] }[];
};

type Term = readonly [column: number, factor: number];

/** The purchase as a program, and the ways between its columns and packs. */
export type PurchaseModel = {
  readonly model: ProgramData;
  /** Whole packs out of column values; nothing is believed of them before they are checked. */
  readonly packsOf: (values: ArrayLike<number>) => BuyingAnswer['packs'];
  /** Column values of a list to start from. */
  readonly startOf: (packs: BuyingAnswer['packs']) => Float64Array;
};

type Column = { readonly index: number; readonly from: number; readonly most: number; readonly priceCents: number };
type OfferColumns = { readonly offer: Offer; readonly steps: readonly (Column & { readonly choice: number | null })[] };

const infinite = Number.POSITIVE_INFINITY;

/** The share off at a shop that no basket can pass. */
function mostOff({ breaks = [] }: Supplier): number {
  return breaks.reduce((most, each) => Math.max(most, each.offRatio), 0);
}

/** Into how many parts a minor unit falls by a share, tried from few to many; a share of none of these counts as the last. */
const partsOfUnit = [1, 2, 4, 5, 10, 20, 25, 40, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10_000];

/**
 * What lifts a share of a whole amount to its rounding, half down, when a whole number may be at most that. It lies midway
 * between the nearest two shares that may not be taken for each other: what the solver's arithmetic misses is less.
 */
function liftOf(offRatio: number): number {
  const isWhole = (parts: number) => Math.abs(offRatio * parts - Math.round(offRatio * parts)) < 1e-9;
  return 0.5 - 1 / (4 * (partsOfUnit.find(isWhole) ?? partsOfUnit.at(-1)!));
}

function gcdOf(values: readonly number[]): number {
  return values.reduce((a, b) => {
    let [larger, smaller] = [a, b];
    while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
    return larger;
  }, 0);
}

/**
 * Packs to buy as whole numbers, shops as yes or no: goods + postage - shares off, at least.
 * Packs at each step of an offer's price are a column of their own, of which one may be used. A shop that is used costs
 * its postage, unless its goods reach the free limit; a share off is a whole number of minor units, at most the share of
 * the goods at the step reached, rounded as the shop rounds. How many packs a column may hold follows from a list that is
 * known: what would already cost more than it is left out. In units of the packs' greatest common weight, a need counts
 * as its next multiple, which no whole packs can tell from it.
 *
 * @param problem from `narrowProblem`
 * @param knownCents what a known list costs; nothing dearer can be found
 */
export function purchaseModel(problem: BuyingProblem, knownCents: number): PurchaseModel {
  const { needs, suppliers, offers, options } = problem;
  const model: Model = { costs: [], lower: [], upper: [], isWhole: [], rows: [] };
  const addColumn = (cost: number, upper: number, isWhole = true): number => {
    model.costs.push(cost);
    model.lower.push(0);
    model.upper.push(upper);
    model.isWhole.push(isWhole);
    return model.costs.length - 1;
  };
  const addRow = (from: number, to: number, terms: readonly Term[]) => model.rows.push({ from, to, terms });
  const supplierById = new Map(suppliers.map((supplier) => [supplier.id, supplier]));
  const leastCents = (offer: Offer) => lowestPackCents(offer) * (1 - mostOff(supplierById.get(offer.supplierId)!));

  // No list within `knownCents` spends more on a colour than its least cost and all that the others leave.
  const leastOf = new Map(
    needs.map(({ yarnColourId, needMg }) => {
      const own = offers.filter((offer) => offer.yarnColourId === yarnColourId);
      const rates = own.map((offer) => leastCents(offer) / packMg(offer));
      return [yarnColourId, needMg * rates.reduce((least, rate) => Math.min(least, rate), infinite)] as const;
    }),
  );
  const slackCents = knownCents - [...leastOf.values()].reduce((sum, cents) => sum + cents, 0) + suppliers.length;

  const open = new Map(suppliers.map((supplier) => [supplier.id, addColumn(supplier.shippingCents, 1)]));
  const goodsOf = new Map<number, Term[]>(suppliers.map((supplier) => [supplier.id, []]));
  const columns: OfferColumns[] = [];
  const sellers: { readonly colour: number; readonly supplier: number; readonly column: number }[] = [];

  for (const { yarnColourId, needMg, largestPairMg = 0 } of needs) {
    const own = offers.filter((offer) => offer.yarnColourId === yarnColourId);
    const unitMg = gcdOf(own.map(packMg));
    const units = Math.ceil(needMg / unitMg);
    const mostCents = leastOf.get(yarnColourId)! + slackCents;
    const weights: Term[] = [];
    const shops = [...new Set(own.map((offer) => offer.supplierId))];
    const weightsAt = new Map<number, Term[]>(shops.map((shop) => [shop, []]));
    const chosen = new Map<number, number>();
    const priceCountAt = new Map(shops.map((shop) => [shop, goodsOf.get(shop)!.length]));
    // Where each shop's packs must hold whole pairs, every shop after the first needs the largest pair's yarn more.
    const isDealt = !options.oneSupplierPerColour && largestPairMg > 0;
    if (options.oneSupplierPerColour || isDealt) {
      for (const shop of shops) {
        const column = addColumn(0, 1);
        chosen.set(shop, column);
        sellers.push({ colour: yarnColourId, supplier: shop, column });
        addRow(-infinite, 0, [
          [column, 1],
          [open.get(shop)!, -1],
        ]);
      }
      addRow(
        1,
        isDealt ? infinite : 1,
        [...chosen.values()].map((column) => [column, 1]),
      );
    }
    for (const offer of own) {
      const least = leastCents(offer);
      const affordable = least > 0 ? Math.floor(mostCents / least + 1e-6) : Math.ceil(units / (packMg(offer) / unitMg));
      const most = Math.max(0, Math.min(affordable, offer.stockPacks ?? infinite));
      const reached = priceSteps(offer).filter((step) => step.fromPacks <= most);
      const steps = reached.map((step, k) => {
        const end = Math.min(most, (reached[k + 1]?.fromPacks ?? infinite) - 1);
        const index = addColumn(step.priceCents, end);
        const choice = reached.length > 1 ? addColumn(0, 1) : null;
        goodsOf.get(offer.supplierId)!.push([index, step.priceCents]);
        const weight = packMg(offer) / unitMg;
        weights.push([index, weight]);
        weightsAt.get(offer.supplierId)!.push([index, weight]);
        if (choice !== null) {
          addRow(-infinite, 0, [
            [index, 1],
            [choice, -end],
          ]);
          addRow(0, infinite, [
            [index, 1],
            [choice, -step.fromPacks],
          ]);
        }
        return { index, from: step.fromPacks, most: end, priceCents: step.priceCents, choice };
      });
      const gate = chosen.get(offer.supplierId) ?? open.get(offer.supplierId)!;
      const choices = steps.flatMap((step) => (step.choice === null ? [] : [step.choice]));
      if (choices.length > 0) {
        addRow(-infinite, 0, [...choices.map((choice): Term => [choice, 1]), [gate, -1]]);
      } else if (steps[0]) {
        addRow(-infinite, 0, [
          [steps[0].index, 1],
          [gate, -steps[0].most],
        ]);
      }
      columns.push({ offer, steps });
    }
    // Whole packs that cover the need cost at least the cheapest cover: without this row fractions of packs would do.
    const coverOf = (sold: readonly Offer[]) => coverNeed(needMg, sold)?.boundCents ?? 0;
    const pricesAt = (shop: number) => goodsOf.get(shop)!.slice(priceCountAt.get(shop)!);
    if (options.oneSupplierPerColour) {
      for (const shop of shops) {
        const isChosen = chosen.get(shop)!;
        addRow(0, infinite, [...weightsAt.get(shop)!, [isChosen, -units]]);
        const least = coverOf(own.filter((offer) => offer.supplierId === shop));
        addRow(0, infinite, [...pricesAt(shop), [isChosen, -least]]);
      }
    } else {
      const pairUnits = largestPairMg / unitMg;
      const forShops = isDealt ? [...chosen.values()].map((column): Term => [column, -pairUnits]) : [];
      addRow(isDealt ? needMg / unitMg - pairUnits : units, infinite, [...weights, ...forShops]);
      addRow(coverOf(own), infinite, shops.flatMap(pricesAt));
    }
  }

  const terms = suppliers.map((supplier) => {
    const goods = goodsOf.get(supplier.id)!;
    const isOpen = open.get(supplier.id)!;
    const mostGoods = Math.floor(knownCents / (1 - mostOff(supplier)) + 1);
    // A shop that nothing is bought from must not be counted as used, nor goods without their shop.
    if (supplier.minimumCents > 0) addRow(0, infinite, [...goods, [isOpen, -supplier.minimumCents]]);
    let isFree: number | null = null;
    if (supplier.freeFromCents !== null && supplier.shippingCents > 0) {
      isFree = addColumn(-supplier.shippingCents, 1);
      addRow(-infinite, 0, [
        [isFree, 1],
        [isOpen, -1],
      ]);
      addRow(0, infinite, [...goods, [isFree, -supplier.freeFromCents]]);
    }
    const breaks = (supplier.breaks ?? []).filter((each) => each.offRatio > 0 && each.fromCents <= mostGoods);
    const steps = breaks.map((each) => {
      const isReached = addColumn(0, 1);
      const value = addColumn(0, mostGoods, false);
      addRow(-infinite, 0, [
        [value, 1],
        [isReached, -mostGoods],
      ]);
      addRow(0, infinite, [
        [value, 1],
        [isReached, -each.fromCents],
      ]);
      return { ...each, isReached, value, lift: liftOf(each.offRatio) };
    });
    let off: number | null = null;
    if (steps.length > 0) {
      addRow(0, infinite, [...goods, ...steps.map((step): Term => [step.value, -1])]);
      addRow(-infinite, 0, [...steps.map((step): Term => [step.isReached, 1]), [isOpen, -1]]);
      off = addColumn(-1, mostGoods);
      // What is paid is rounded half up: what is taken off is rounded half down.
      addRow(-infinite, 0, [
        [off, 1],
        ...steps.map((step): Term => [step.value, -step.offRatio]),
        ...steps.map((step): Term => [step.isReached, -step.lift]),
      ]);
    }
    return { supplier, goods, isOpen, isFree, steps, off };
  });

  function packsOf(values: ArrayLike<number>): BuyingAnswer['packs'] {
    return columns
      .map(({ offer, steps }) => ({
        offerId: offer.id,
        packs: steps.reduce((sum, step) => sum + Math.round(values[step.index] ?? 0), 0),
      }))
      .filter((entry) => entry.packs > 0);
  }

  function startOf(packs: BuyingAnswer['packs']): Float64Array {
    const values = new Float64Array(model.costs.length);
    const counts = new Map(packs.map((entry) => [entry.offerId, entry.packs]));
    for (const { offer, steps } of columns) {
      const count = counts.get(offer.id) ?? 0;
      const step = steps.findLast((each) => count >= each.from);
      if (count === 0 || !step) continue;
      values[step.index] = count;
      if (step.choice !== null) values[step.choice] = 1;
      values[open.get(offer.supplierId)!] = 1;
      const seller = sellers.find((each) => each.colour === offer.yarnColourId && each.supplier === offer.supplierId);
      if (seller) values[seller.column] = 1;
    }
    for (const { supplier, goods, isFree, steps, off } of terms) {
      const cents = goods.reduce((sum, [column, price]) => sum + values[column]! * price, 0);
      if (isFree !== null && cents > 0 && cents >= supplier.freeFromCents!) values[isFree] = 1;
      const reached = steps
        .filter((step) => cents > 0 && cents >= step.fromCents)
        .reduce<(typeof steps)[number] | null>((a, b) => (a && a.offRatio >= b.offRatio ? a : b), null);
      if (!reached || off === null) continue;
      values[reached.isReached] = 1;
      values[reached.value] = cents;
      values[off] = Math.floor(cents * reached.offRatio + reached.lift);
    }
    return values;
  }

  return { model: dataOf(model), packsOf, startOf };
}

function dataOf({ costs, lower, upper, isWhole, rows }: Model): ProgramData {
  const starts = new Int32Array(rows.length + 1);
  const terms = rows.flatMap((row, i) => {
    starts[i + 1] = starts[i]! + row.terms.length;
    return row.terms;
  });
  const size = { numCols: costs.length, numRows: rows.length };
  return {
    ...size,
    colCost: Float64Array.from(costs),
    colLower: Float64Array.from(lower),
    colUpper: Float64Array.from(upper),
    rowLower: Float64Array.from(rows, (row) => row.from),
    rowUpper: Float64Array.from(rows, (row) => row.to),
    integrality: Int32Array.from(isWhole, (whole) => (whole ? 1 : 0)),
    matrix: {
      format: 'csr',
      ...size,
      starts,
      indices: Int32Array.from(terms, ([column]) => column),
      values: Float64Array.from(terms, ([, factor]) => factor),
    },
  };
}
