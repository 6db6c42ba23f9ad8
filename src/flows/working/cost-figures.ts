import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { Basket } from '#core/buying/offers.ts';
import { linesPaid } from '#core/buying/prices.ts';
import { costFigures, costOfPair } from '#core/pricing/cost.ts';
import { type MaterialUse, materialsOf } from '#core/pricing/cost-pairs.ts';
import { ballMgOfKinds, leftOfBall } from '#core/pricing/opened-balls.ts';
import { type CostParts, type Outlet, takenRatio } from '#core/pricing/outlet.ts';
import { overheadFigure } from '#core/pricing/overhead.ts';
import { feeOf, feeSource, hourWorth, leastPriceCovering, priceFigure } from '#core/pricing/price.ts';
import { shareHalfUp, shareWithin } from '#core/pricing/share.ts';
import { type YarnPrice, yarnPrices } from '#core/pricing/yarn-cost.ts';
import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { formatCents, formatGrams } from '#core/shared/format.ts';
import { splitCents } from '#core/shared/money.ts';
import type { Result } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import type { PairWorking } from '#flows/working/pair-figures.ts';
import { colourName, supplierName } from '#flows/working/words.ts';
import { gramsFigure, sumOf } from '#flows/working/yarn-figures.ts';

const gramRule = rule(
  {
    name: 'price of a gram',
    unit: 'cents per g',
    mark: 'ours',
    source: 'what was paid over what was got',
    words: '{paid} / {weight}',
  },
  (cents: number, grams: number) => cents / grams,
);

/** "€4.50 postage of Quay Yarns x €8.90 / €26.70 of goods" */
function postageWords(
  { shippingCents, goodsCents }: Pick<Basket, 'shippingCents' | 'goodsCents'>,
  lineCents: number,
  shop: string,
  money: (cents: number) => string,
): string {
  if (shippingCents === 0) return `${shop} sends it free`;
  return `${money(shippingCents)} postage of ${shop} \u00d7 ${money(lineCents)} / ${money(goodsCents)} of goods, to the cent`;
}

function landedFigure(colourId: number, { plan, rows, settings }: WorkshopPlan): Figure {
  const money = (cents: number) => formatCents(cents, settings.currency);
  const paid: Figure[] = [];
  let grams = 0;
  for (const basket of plan.lists.chosen.baskets) {
    const postage = splitCents(
      basket.shippingCents,
      basket.lines.map((line) => line.goodsCents),
    );
    const shop = supplierName(rows, basket.supplierId);
    const costs = linesPaid(basket);
    const off = basket.offCents > 0 ? ', less its part of what is taken off the basket' : '';
    for (const [index, line] of basket.lines.entries()) {
      if (line.yarnColourId !== colourId) continue;
      grams += line.grossMg / 1000;
      paid.push(
        given('packs', costs[index]!, 'cents', 'yours', `on the list at ${shop}${off}`),
        given(
          'share of the postage',
          postage[index]!,
          'cents',
          'ours',
          postageWords(basket, line.goodsCents, shop, money),
        ),
      );
    }
  }
  const source = `the ${plan.lists.chosenName === 'safe' ? 'safe' : 'most likely'} list`;
  return work(gramRule, sumOf('paid', 'cents', paid), given('weight', grams, 'g', 'yours', source));
}

function offerFigure(colourId: number, { input, rows }: WorkshopPlan): Figure {
  const packs = input.offers
    .filter((offer) => offer.yarnColourId === colourId)
    .map((offer) => ({ offer, grams: (offer.ballMg * offer.ballsPerPack) / 1000 }));
  const { offer, grams } = packs.reduce((best, each) =>
    each.offer.priceCents / each.grams < best.offer.priceCents / best.grams ? each : best,
  );
  const source = `the cheapest pack by weight, ${supplierName(rows, offer.supplierId)}; none is on the list`;
  return work(
    gramRule,
    given('pack', offer.priceCents, 'cents', 'yours', source),
    given('weight', grams, 'g', 'yours', 'one pack'),
  );
}

function shelfFigure(colourId: number, { input }: WorkshopPlan): Figure {
  const lots = input.shelf.filter((lot) => lot.yarnColourId === colourId);
  const named = (lot: (typeof lots)[number]) => (lot.dyeLot === '' ? 'a lot' : `lot ${lot.dyeLot}`);
  const paid = lots.map((lot) => given(named(lot), lot.paidCents, 'cents', 'yours', 'paid for it'));
  const got = lots.map((lot) => given(named(lot), lot.boughtMg / 1000, 'g', 'yours', 'got'));
  return work(gramRule, sumOf('paid', 'cents', paid), sumOf('weight', 'g', got));
}

/** The price of a gram of a colour as the plan counts it, and where it comes from. */
export function gramPriceFigure(colourId: number, current: WorkshopPlan): { figure: Figure; price: YarnPrice } {
  const { plan, input, rows } = current;
  const price = yarnPrices([colourId], plan.lists.chosen, input.offers, input.shelf).get(colourId)!;
  const figure =
    price.from === 'list'
      ? landedFigure(colourId, current)
      : price.from === 'offer'
        ? offerFigure(colourId, current)
        : price.from === 'shelf'
          ? shelfFigure(colourId, current)
          : given('price of a gram', 0, 'cents per g', 'yours', 'no price is known yet: enter what a shop asks for it');
  const name = `a gram of ${colourName(rows, colourId)}`;
  return { figure: { ...figure, rule: { ...figure.rule, name } }, price };
}

const yarnRule = (name: string) =>
  rule(
    { name, unit: 'cents', mark: 'ours', source: 'yarn used at what it costs', words: '{weight} x {price of a gram}' },
    (grams: number, cents: number) => grams * cents,
  );

function yarnFigure(kind: Kind, pair: PairWorking, current: WorkshopPlan): Figure {
  const strands = strandsOfKind(kind);
  const colourOf = (role: string, strand: number) =>
    strands.find((each) => each.role === role && each.strand === strand)!.yarnColourId;
  const colours = [...new Set(pair.metres.map((each) => colourOf(each.role, each.strand)))];
  const parts = colours.map((colourId) => {
    const name = colourName(current.rows, colourId);
    const ofColour = pair.metres.filter((each) => colourOf(each.role, each.strand) === colourId);
    return work(yarnRule(name), gramsFigure(`${name}, weight`, ofColour), gramPriceFigure(colourId, current).figure);
  });
  return sumOf('yarn', 'cents', parts);
}

const openedRule = (name: string) =>
  rule(
    {
      name,
      unit: 'cents',
      mark: 'ours',
      source: 'what no pair on order can use, shared out by weight over the pairs of this colour',
      words: '{worth of what is left} x {weight in this pair} / {weight in all pairs}',
    },
    (cents: number, grams: number, all: number) => (cents * grams) / all,
  );
const lastBallRule = (name: string, ballG: number) =>
  rule(
    {
      name,
      unit: 'cents',
      mark: 'ours',
      source: 'no pair on order has this colour: the last ball would be opened for one such pair alone',
      words: '{price of a gram} x what {weight in this pair} leaves of the last ball, whole balls taken away',
    },
    (cents: number, grams: number) => leftOfBall(0, grams, ballG) * cents,
  );

/** What is left of the balls opened for a pair, as charged to it. */
function openedFigure(kind: Kind, pair: PairWorking, current: WorkshopPlan): Figure {
  const parts = yarnOfPair(kind, pair.spec).map(({ yarnColourId, grams }) => {
    const name = `${colourName(current.rows, yarnColourId)}, left of an opened ball`;
    const inPair = given('weight in this pair', grams, 'g', 'ours', 'as worked out for its yarn');
    const opened = current.plan.opened.get(yarnColourId);
    if (opened) {
      const words = `${formatGrams(opened.leftG)} of the balls that the orders open`;
      const left = given('worth of what is left', opened.leftCents, 'cents', 'ours', words);
      return work(
        openedRule(name),
        left,
        inPair,
        given('weight in all pairs', opened.usedG, 'g', 'ours', 'all pairs on order together'),
      );
    }
    const ballG = ballMgOfKinds([kind]).get(yarnColourId)! / 1000;
    return work(lastBallRule(name, ballG), gramPriceFigure(yarnColourId, current).figure, inPair);
  });
  return sumOf('left of opened balls', 'cents', parts);
}

const materialRule = (name: string) =>
  rule(
    { name, unit: 'cents', mark: 'yours', source: 'the materials of the style', words: '{price of one} x {in a pair}' },
    (cents: number, count: number) => cents * count,
  );

function materialsFigure(uses: readonly MaterialUse[]): Figure {
  if (uses.length === 0) return given('other materials', 0, 'cents', 'yours', 'none are entered for this style');
  const parts = uses.map((use) =>
    work(
      materialRule(use.name),
      given('price of one', use.eachCents, 'cents', 'yours', 'as entered'),
      given('in a pair', use.perPair, 'count', 'yours', 'as entered'),
    ),
  );
  return sumOf('other materials', 'cents', parts);
}

const wholeRule = rule(
  {
    name: 'what a pair costs me',
    unit: 'cents',
    mark: 'ours',
    source: 'rounded once, half up, after everything is added',
    words: '{cost before rounding}, to the nearest cent',
  },
  (cents: number) => roundHalfUp(cents),
);

export type PairCostWorking = {
  /** Whole, as on the price sheet. */
  readonly figure: Figure;
  readonly parts: CostParts;
  /** The work that its price pays for. */
  readonly minutes: Figure;
};

/** Running costs for an hour of work. */
export function overheadRateFigure({ settings }: WorkshopPlan): Figure {
  return overheadFigure(settings.runningCostsCentsPerMonth, settings.plannedHoursPerMonth);
}

/** What a pair costs in one hand, down to the stitches and the packs. */
export function costWorking(kind: Kind, pair: PairWorking, current: WorkshopPlan): PairCostWorking {
  const { settings } = current.input;
  const uses = current.input.materials.get(kind.shape.style.versionId) ?? [];
  const yarn = yarnFigure(kind, pair, current);
  const opened = settings.chargeOpenedBall ? openedFigure(kind, pair, current) : null;
  const input = {
    yarnCents: yarn.value,
    materialsCents: materialsOf(uses),
    minutes: pair.minutes.value,
    wageCentsPerHour: settings.wageCentsPerHour,
    overheadCentsPerHour: settings.overheadCentsPerHour,
    openedBallCents: opened?.value ?? 0,
    spareRatio: settings.spareRatio,
  };
  const { total, labour } = costFigures(input, {
    yarn,
    minutes: pair.minutes,
    materials: materialsFigure(uses),
    overheadRate: overheadRateFigure(current),
    openedBall: opened ?? undefined,
  });
  const named = { ...total, rule: { ...total.rule, name: 'cost before rounding' } };
  return { figure: work(wholeRule, named), parts: costOfPair(input), minutes: labour.inputs[0]! };
}

/** The price of a pair at an outlet. */
export function priceWorking(cost: PairCostWorking, outlet: Outlet): Result<Figure> {
  return priceFigure(cost.figure, outlet);
}

const text = (name: string, words: string, source: string) =>
  ({ name, unit: 'cents', mark: 'trade', words, source }) as const;

function partFigure(name: string, cents: number): Figure {
  return given(name, cents, 'cents', 'ours', 'whole, so that the parts add up to what a pair costs');
}

/** All that a pair costs but the work. */
export function withoutLabourFigure({ parts }: PairCostWorking): Figure {
  return sumOf('costs without the work', 'cents', [
    partFigure('yarn', parts.yarnCents),
    partFigure('other materials', parts.materialsCents),
    partFigure('running costs', parts.overheadCents),
    ...(parts.openedBallCents ? [partFigure('left of opened balls', parts.openedBallCents)] : []),
    ...(parts.sparesCents ? [partFigure('pairs that go wrong', parts.sparesCents)] : []),
  ]);
}

function leftFigure(price: Figure, outlet: Outlet): Figure {
  const taxRate = given('tax rate', outlet.taxRatio, 'ratio', 'yours', outlet.name);
  const taxWords = outlet.isTaxIncluded ? '{price} x {tax rate} / (1 + {tax rate})' : '{price} x {tax rate}';
  const taxRule = rule(
    text('tax', `${taxWords}, to the nearest cent`, 'tax is local: check your own rules'),
    (cents: number, rate: number) => (outlet.isTaxIncluded ? shareWithin : shareHalfUp)(cents, rate),
  );
  const tax = work(taxRule, price, taxRate);
  const paidRule = rule(
    text('what the buyer pays', '{price} + {tax}', 'tax is added at the till'),
    (cents: number, added: number) => cents + added,
  );
  const paid = outlet.isTaxIncluded ? price : work(paidRule, price, tax);
  const feeRule = rule(
    text('fees', '{what the buyer pays} x {fee share} + {fixed fee}, to the nearest cent', outlet.name),
    (cents: number, share: number, fixed: number) => feeOf(cents, { feeRatio: share, feeFixedCents: fixed }),
  );
  const fees = work(
    feeRule,
    paid,
    given('fee share', takenRatio(outlet), 'ratio', 'yours', feeSource(outlet)),
    given('fixed fee', outlet.feeFixedCents, 'cents', 'yours', outlet.name),
  );
  const leftRule = rule(
    text('left of the price', '{what the buyer pays} - {tax} - {fees}', 'what comes into the house'),
    (cents: number, taxCents: number, feeCents: number) => cents - taxCents - feeCents,
  );
  return work(leftRule, paid, tax, fees);
}

const hourRule = rule(
  {
    name: 'what an hour earns',
    unit: 'cents per h',
    mark: 'ours',
    source: 'what is left when everything but the work is paid, over the hours',
    words: '({left of the price} - {costs without the work}) x 60 / {minutes}, to the nearest cent',
  },
  (left: number, costs: number, minutes: number) => hourWorth(left, costs, minutes) ?? 0,
);

/** What an hour of the work earns at the outlet's price; null for a gift, or without a price. */
export function hourWorking(cost: PairCostWorking, outlet: Outlet): Figure | null {
  const price = priceWorking(cost, outlet);
  if (!price.ok || outlet.kind === 'gift') return null;
  return work(hourRule, leftFigure(price.value, outlet), withoutLabourFigure(cost), cost.minutes);
}

/** The smallest shown price that leaves an amount; null when fees take everything, or for a gift. */
export function coveringWorking(name: string, amount: Figure, outlet: Outlet): Figure | null {
  if (outlet.kind === 'gift' || !leastPriceCovering(amount.value, outlet).ok) return null;
  const tax = outlet.isTaxIncluded ? ' x (1 + {tax rate})' : '';
  const words = `({costs} + {fixed fee}) / (1 - {fee share} x (1 + {tax rate}))${tax}, up to the first price that leaves them whole`;
  const coverRule = rule(
    text(name, words, 'our own rounding: one coin less would not cover them'),
    (cents: number, fixed: number, share: number, rate: number) => {
      const asked = { ...outlet, feeFixedCents: fixed, feeRatio: share, taxRatio: rate, terms: null };
      const least = leastPriceCovering(roundHalfUp(cents), asked);
      return least.ok ? least.value : Number.POSITIVE_INFINITY;
    },
  );
  return work(
    coverRule,
    amount,
    given('fixed fee', outlet.feeFixedCents, 'cents', 'yours', outlet.name),
    given('fee share', takenRatio(outlet), 'ratio', 'yours', feeSource(outlet)),
    given('tax rate', outlet.taxRatio, 'ratio', 'yours', outlet.name),
  );
}
