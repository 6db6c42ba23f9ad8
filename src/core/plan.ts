import { type Handwork, handworkOf, referenceHand } from '#core/batch/handwork.ts';
import { kindsOf, shapesOf, strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind, Line, StockPair } from '#core/batch/lines.ts';
import { type NetToMake, netToMake, type StartedPair } from '#core/batch/net-to-make.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import { placeInTurn } from '#core/buying/place-in-turn.ts';
import type { BuyingAnswers } from '#core/buying/problem.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { buyLikelyAndSafe, type ShoppingLists } from '#core/buying/shopping-lists.ts';
import { type Placed, placementOf, wantsOf } from '#core/buying/wants.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { type BatchCost, costPairs, type MaterialUse, materialsOf } from '#core/pricing/cost-pairs.ts';
import {
  ballMgOfKinds,
  ballUsesOf,
  chargeNothing,
  type OpenedBalls,
  openedBalls,
  openedChargeOf,
} from '#core/pricing/opened-balls.ts';
import type { Outlet } from '#core/pricing/outlet.ts';
import { pairsToCost } from '#core/pricing/pairs-to-cost.ts';
import { type KindPrice, kindToPrice, priceKinds } from '#core/pricing/price-kinds.ts';
import { type YarnPrice, yarnPrices } from '#core/pricing/yarn-cost.ts';
import { type Assignment, assignKnitters } from '#core/schedule/assign.ts';
import type { ScheduleOptions } from '#core/schedule/availability.ts';
import { findLate, type LateReport } from '#core/schedule/late.ts';
import { layOutDays } from '#core/schedule/lay-out-days.ts';
import { neededBy } from '#core/schedule/needed-by.ts';
import { duePairs, minutesLeft, pairsToKnit } from '#core/schedule/pairs-to-knit.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Specs, specify } from '#core/styles/specify.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { type ColourAmount, yarnNeeds } from '#core/yardage/needs.ts';

/** Settings the plan counts with; ranges and defaults live with the settings. */
export type PlanSettings = {
  readonly wageCentsPerHour: number;
  readonly overheadCentsPerHour: number;
  readonly confidence: number;
  readonly buyAt: 'likely' | 'safe';
  readonly oneSupplierPerColour: boolean;
  readonly spareRatio: number;
  readonly knittingMinutesPerHour: number;
  /** Whether pairs pay for what is left of the balls opened for them. */
  readonly chargeOpenedBall?: boolean;
};

/** Everything the plan depends on. Same input, same plan, in the same order. */
export type PlanInput = {
  readonly today: Day;
  readonly lines: readonly Line[];
  readonly stock: readonly StockPair[];
  readonly started: readonly StartedPair[];
  readonly hands: readonly Hand[];
  /** At least one. */
  readonly knitters: readonly Knitter[];
  readonly referenceKnitterId: number;
  readonly shelf: readonly ShelfLot[];
  readonly suppliers: readonly Supplier[];
  readonly offers: readonly Offer[];
  readonly outlets: readonly Outlet[];
  /** Other materials of a pair, by style version. */
  readonly materials: ReadonlyMap<number, readonly MaterialUse[]>;
  readonly settings: PlanSettings;
  /** What searches for a cheaper list found, by the key of their problem. */
  readonly answers?: BuyingAnswers;
};

/** The whole way from orders to prices. `weeks` are the assignments laid out at the chosen list's arrivals. */
export type Plan = {
  readonly kinds: readonly Kind[];
  readonly specs: Specs;
  readonly handwork: Handwork;
  readonly wanted: NetToMake;
  readonly needs: readonly ColourAmount[];
  readonly placed: Placed;
  readonly lists: ShoppingLists;
  readonly gramPrices: ReadonlyMap<number, YarnPrice>;
  /** What is left of opened balls, by colour; empty unless it is charged. */
  readonly opened: ReadonlyMap<number, OpenedBalls>;
  readonly weeks: readonly Assignment[];
  readonly late: LateReport;
  readonly costs: BatchCost;
  readonly prices: readonly KindPrice[];
};

/** Days laid out at once; calendars grow by themselves, so that even a mountain of orders gets an honest date. */
const horizonDays = 400;

/** How a plan lays out days, for whoever asks the schedule something more. */
export function scheduleOptionsOf({ today, settings }: Pick<PlanInput, 'today' | 'settings'>): ScheduleOptions {
  return { today, horizonDays, knittingMinutesPerHour: settings.knittingMinutesPerHour };
}

/**
 * Plans a workshop: orders to kinds, kinds to counts, pairs to knitters, yarn to lots and shops, days, costs, prices.
 * Knitters come first (minutes need only counts and rates), then yarn at each knitter's counts, then the cheapest packs
 * that come in time, then the days at which that yarn really arrives. There is no going round.
 *
 * @param input everything the plan depends on; nothing else does it read, and it changes nothing
 * @throws {RangeError} when there is no knitter, or a number is out of its range
 */
export function plan(input: PlanInput): Plan {
  const { today, settings, knitters, referenceKnitterId } = input;
  const scheduleOptions = scheduleOptionsOf(input);

  const kinds = kindsOf([...input.lines, ...input.started]);
  const specs = specify(shapesOf(kinds), input.hands);
  const handwork = handworkOf(specs, knitters, referenceKnitterId);
  const wanted = netToMake(input.lines, input.stock, input.started, specs, referenceHand(input), settings.spareRatio);

  const pairs = wanted.pairs;
  const toKnit = pairsToKnit(pairs, input, handwork);
  const assigned = assignKnitters(toKnit, knitters, minutesLeft(pairs, handwork), scheduleOptions);

  const wants = wantsOf(pairs, assigned, handwork, settings);
  // Started pairs lead the list, and so do their wants.
  const begun = new Set(pairs.filter(({ started }) => started !== null).map(({ key }) => key));
  const groups =
    begun.size === 0
      ? [wants.wants]
      : [true, false].map((isBegun) => wants.wants.filter(({ pairKey }) => begun.has(pairKey) === isBegun));
  const placed = placementOf(placeInTurn(groups, input.shelf), wants);
  const dueDayOf = (_pairKey: string, index: number) => pairs[index]!.dueDay;
  const neededByDay = placed.neededByDay(neededBy(assigned, dueDayOf, knitters, scheduleOptions));
  const shopping = { today, ...settings };
  const lists = buyLikelyAndSafe(placed.toBuy, input.suppliers, input.offers, neededByDay, shopping, input.answers);
  const arrivalOf = (pairKey: string) => placed.arrivalDay(pairKey, lists.arrivals, today);
  const weeks = layOutDays(assigned, toKnit, knitters, arrivalOf, scheduleOptions);

  // Of every kind, also where the stock has all that was ordered: it has a price all the same.
  const colourIds = new Set<number>();
  for (const kind of kinds) for (const { yarnColourId } of strandsOfKind(kind)) colourIds.add(yarnColourId);
  const gramPrices = yarnPrices([...colourIds], lists.chosen, input.offers, input.shelf);
  const materialsCents = (versionId: number) => materialsOf(input.materials.get(versionId) ?? []);
  const toCost = pairsToCost(wants, handwork, placed, input.shelf, gramPrices);
  const ballMgOf = settings.chargeOpenedBall ? ballMgOfKinds(kinds) : new Map<number, number>();
  const opened = settings.chargeOpenedBall
    ? openedBalls(ballUsesOf(wants.pairs, placed), input.shelf, lists.chosen, gramPrices, ballMgOf)
    : new Map<number, OpenedBalls>();
  const charge = settings.chargeOpenedBall ? openedChargeOf(opened, gramPrices, ballMgOf) : chargeNothing;
  const toPrice = kinds.map((kind) => kindToPrice(kind, handwork));
  return {
    kinds,
    specs,
    handwork,
    wanted,
    needs: yarnNeeds(wants.groups),
    placed,
    lists,
    gramPrices,
    opened,
    weeks,
    late: findLate(duePairs(pairs, weeks)),
    costs: costPairs(toCost, materialsCents, settings, charge),
    prices: priceKinds(toPrice, gramPrices, materialsCents, input.outlets, settings, charge),
  };
}
