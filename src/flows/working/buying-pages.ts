import type { WantedPair } from '#core/batch/net-to-make.ts';
import { bestSingleShop } from '#core/buying/buy-yarn.ts';
import { placementKey } from '#core/buying/lots.ts';
import type { Offer, PurchaseList } from '#core/buying/offers.ts';
import { isOneLot } from '#core/buying/same-lots.ts';
import { needsOf } from '#core/buying/shopping-lists.ts';
import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { countOf, formatCents, formatDay, formatGrams } from '#core/shared/format.ts';
import { writtenDownG } from '#flows/buying/read-buying.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { needTable, needWorking, type PlannedPair, plannedPairs } from '#flows/working/need-figures.ts';
import type { WorkingTable } from '#flows/working/page.ts';
import { toBuyWorking } from '#flows/working/to-buy-figures.ts';
import { colourName, supplierName } from '#flows/working/words.ts';
import { sumOf } from '#flows/working/yarn-figures.ts';

/** The parts of a page that differ from figure to figure. */
export type TotalWorking = {
  readonly figure: Figure | null;
  readonly about: string;
  readonly tables: readonly WorkingTable[];
  readonly notes: readonly string[];
};

function pairsOfColour(colourId: number, current: WorkshopPlan): PlannedPair[] {
  return plannedPairs(current).filter(({ pair, knitterId }) =>
    current.plan.handwork.yarnOf(pair.kind, knitterId).some((each) => each.yarnColourId === colourId),
  );
}

function placeOf(colourId: number, { plan, input }: WorkshopPlan): (pair: WantedPair) => string {
  return (pair) => {
    if (pair.started?.heldColourIds.includes(colourId)) return 'in the knitter’s hands';
    const mixed = plan.placed.mixedOf.get(placementKey(pair.key, colourId));
    if (mixed && !isOneLot(mixed, input.shelf)) return `mixed from ${countOf(mixed.length, 'lot', 'lots')}`;
    const lotId = plan.placed.lotOf.get(placementKey(pair.key, colourId)) ?? mixed?.[0]?.lotId;
    if (lotId === undefined) return 'to buy';
    const lot = input.shelf.find((each) => each.id === lotId);
    if (lot?.fromDay !== undefined) return `on its way, here ${formatDay(lot.fromDay)}`;
    const dyeLot = lot?.dyeLot;
    return dyeLot ? `on the shelf, lot ${dyeLot}` : 'on the shelf';
  };
}

/** What all pairs of the plan need of a colour; null when none needs it. */
export function needPage(colourId: number, current: WorkshopPlan): TotalWorking | null {
  const pairs = pairsOfColour(colourId, current);
  if (pairs.length === 0) return null;
  const { safe } = needWorking(colourId, pairs, current);
  const caption = `Pairs that need ${colourName(current.rows, colourId)}`;
  return {
    figure: safe,
    about: `What ${countOf(pairs.length, 'pair', 'pairs')} of the plan need of this colour, with enough to be safe.`,
    tables: [needTable(caption, colourId, pairs, current, placeOf(colourId, current))],
    notes: [
      'Yarn that is on the shelf or with a knitter already counts here too; what is to buy is a page of its own.',
    ],
  };
}

function packWords(offer: Offer): string {
  const ball = formatGrams(offer.ballMg / 1000);
  return offer.ballsPerPack === 1 ? `ball of ${ball}` : `${offer.ballsPerPack} balls of ${ball}`;
}

function packsTable(colourId: number, { plan, input, rows, settings }: WorkshopPlan): WorkingTable {
  const chosen = plan.lists.chosen.baskets.flatMap((basket) => basket.lines);
  const offers = input.offers
    .filter((offer) => offer.yarnColourId === colourId)
    .map((offer) => ({ offer, grams: (offer.ballMg * offer.ballsPerPack) / 1000 }))
    .sort((a, b) => a.offer.priceCents / a.grams - b.offer.priceCents / b.grams || a.offer.id - b.offer.id);
  return {
    caption: 'Packs that were weighed against each other',
    columns: [
      { name: 'Pack', kind: 'heading' },
      { name: 'Shop' },
      { name: 'Price', kind: 'number' },
      { name: 'For 100 g', kind: 'number' },
      { name: 'Delivery', kind: 'number' },
      { name: 'On the list', kind: 'number' },
    ],
    rows: offers.map(({ offer, grams }) => {
      const packs = chosen.find((line) => line.offerId === offer.id)?.packs ?? 0;
      const days = input.suppliers.find((each) => each.id === offer.supplierId)?.deliveryDays ?? 0;
      return [
        packWords(offer),
        supplierName(rows, offer.supplierId),
        formatCents(offer.priceCents, settings.currency),
        formatCents((offer.priceCents / grams) * 100, settings.currency),
        countOf(days, 'day', 'days'),
        packs === 0 ? 'none' : String(packs),
      ];
    }),
  };
}

const listWords = (list: PurchaseList, currency: string) => formatCents(list.totalCents, currency);

function whyCheapest({ plan, input, settings, rows }: WorkshopPlan): string[] {
  const { chosen, chosenName, cheaperButLate, safe } = plan.lists;
  const { currency } = settings;
  const single = bestSingleShop(needsOf(plan.placed.toBuy, chosenName), input.suppliers, input.offers);
  const notes = [`The whole list comes to ${listWords(chosen, currency)}, postage included.`];
  if (chosen.isProvenCheapest)
    notes.push('No list of whole packs that covers every colour in time costs less: proven.');
  else
    notes.push(
      `It cannot be cheaper than ${formatCents(chosen.boundCents, currency)}; the search stopped before it could prove more.`,
    );
  const shop = single?.baskets[0]?.supplierId;
  if (single && shop !== undefined) {
    notes.push(`Everything from one shop, ${supplierName(rows, shop)}, would cost ${listWords(single, currency)}.`);
  } else notes.push('No single shop has every colour.');
  if (input.settings.oneSupplierPerColour) {
    notes.push('All of a colour comes from one shop, so that it can be one dye lot; that is a setting.');
  }
  const soldBy = new Map<number, Set<number>>();
  for (const line of chosen.baskets.flatMap((basket) => basket.lines)) {
    soldBy.set(line.yarnColourId, (soldBy.get(line.yarnColourId) ?? new Set()).add(line.supplierId));
  }
  if ([...soldBy.values()].some((shops) => shops.size > 1)) {
    notes.push(
      'A colour from several shops is several dye lots: for each shop after the first the yarn of the largest pair is bought on top, so that whole pairs find a place.',
    );
  }
  if (cheaperButLate && chosenName === 'safe') {
    const saved = formatCents(safe.totalCents - cheaperButLate.totalCents, currency);
    notes.push(`A list that is ${saved} cheaper exists, but its yarn would come too late.`);
  }
  return notes;
}

function whyMore(colourId: number, toBuy: readonly PlannedPair[], current: WorkshopPlan): string {
  const together = formatGrams(needWorking(colourId, toBuy, current).safe.value);
  return `All these pairs together would be safe with ${together}; the list asks for a little more, so that each pair finds enough in its lot.`;
}

/** How the packs of a colour were chosen; null when no pair needs the colour. */
export function listPage(colourId: number, current: WorkshopPlan): TotalWorking | null {
  const pairs = pairsOfColour(colourId, current);
  if (pairs.length === 0) return null;
  const { plan, rows, input } = current;
  const where = placeOf(colourId, current);
  const toBuy = pairs.filter(({ pair }) => where(pair) === 'to buy');
  const uncovered = plan.lists.chosen.uncovered.some((each) => each.yarnColourId === colourId);
  const arrival = plan.lists.arrivals.get(colourId);
  const name = colourName(rows, colourId);
  const tables = [needTable(`Where the ${name} of each pair comes from`, colourId, pairs, current, where)];
  if (input.offers.some((offer) => offer.yarnColourId === colourId)) tables.push(packsTable(colourId, current));
  const notes = [
    'Whole pairs go on the shelf first, as many grams as will fit; a pair never mixes dye lots in one colour.',
    ...(uncovered ? ['No shop entered has enough of this colour: add one, or choose another colour.'] : []),
    ...(arrival ? [`Ordered today it is here on ${formatDay(arrival)}.`] : []),
    ...(writtenDownG(colourId, current) > 0
      ? ['A pair that is begun gets what was written down for it to be safe, more than it likely takes.']
      : []),
    ...(toBuy.length > 1 && plan.lists.chosenName === 'safe' ? [whyMore(colourId, toBuy, current)] : []),
    ...(toBuy.length > 0 ? whyCheapest(current) : ['The shelf has enough for every pair: nothing is to buy.']),
  ];
  const figure = toBuy.length === 0 ? null : toBuyWorking(colourId, toBuy, current);
  return { figure, about: `What is left to buy of ${name}, after the shelf.`, tables, notes };
}

const totalRule = rule(
  { name: 'the whole list', unit: 'cents', mark: 'yours', source: 'prices of the shops', words: '{goods} + {postage}' },
  (goods: number, postage: number) => goods + postage,
);

/** The whole shopping list; null when there is nothing to buy. */
export function listTotalPage(current: WorkshopPlan): TotalWorking | null {
  const { plan, rows, settings } = current;
  const { baskets } = plan.lists.chosen;
  if (baskets.length === 0) return null;
  const goods = baskets.map((each) =>
    given(
      supplierName(rows, each.supplierId),
      each.goodsCents - each.offCents,
      'cents',
      'yours',
      each.offCents > 0 ? `goods, less ${formatCents(each.offCents, settings.currency)} off the basket` : 'goods',
    ),
  );
  const postage = baskets.map((each) =>
    given(supplierName(rows, each.supplierId), each.shippingCents, 'cents', 'yours', 'postage'),
  );
  const money = (cents: number) => formatCents(cents, settings.currency);
  const packs: WorkingTable = {
    caption: 'Packs on the list',
    columns: [
      { name: 'Colour', kind: 'heading' },
      { name: 'Shop' },
      { name: 'Packs', kind: 'number' },
      { name: 'Weight', kind: 'number' },
      { name: 'Goods', kind: 'number' },
    ],
    rows: baskets.flatMap((basket) =>
      basket.lines.map((line) => [
        colourName(rows, line.yarnColourId),
        supplierName(rows, basket.supplierId),
        String(line.packs),
        formatGrams(line.grossMg / 1000),
        money(line.goodsCents),
      ]),
    ),
    footer: ['All', null, null, null, money(baskets.reduce((sum, each) => sum + each.goodsCents, 0))],
  };
  return {
    figure: work(totalRule, sumOf('goods', 'cents', goods), sumOf('postage', 'cents', postage)),
    about: `The ${plan.lists.chosenName === 'safe' ? 'safe' : 'most likely'} list, all shops together.`,
    tables: [packs],
    notes: whyCheapest(current),
  };
}
