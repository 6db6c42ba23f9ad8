import type { Kind } from '#core/batch/lines.ts';
import type { Outlet } from '#core/pricing/outlet.ts';
import type { Figure } from '#core/shared/figure.ts';
import { formatFigure, formatPercent } from '#core/shared/format.ts';
import { workingOf } from '#core/shared/working.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { outletFor } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { listPage, listTotalPage, needPage, type TotalWorking } from '#flows/working/buying-pages.ts';
import {
  costWorking,
  coveringWorking,
  gramPriceFigure,
  hourWorking,
  overheadRateFigure,
  priceWorking,
  withoutLabourFigure,
} from '#flows/working/cost-figures.ts';
import { finishPage, stockPage, type TablePage } from '#flows/working/line-pages.ts';
import type { WorkingArea, WorkingPage } from '#flows/working/page.ts';
import { type FoundFigure, type PairWorking, pairFigure, workPair } from '#flows/working/pair-figures.ts';
import { colourName, lineWords } from '#flows/working/words.ts';

/** What was asked for: the parts of the address. */
export type WorkingWish = {
  readonly area: string;
  readonly figure: string;
  readonly id: string;
  readonly knitter?: string | undefined;
};

/** A page, a sentence why this record has no such figure, or null for an address that is none. */
export type Opened = WorkingPage | string | null;

/** A figure as the other pages show it. */
function shownOf({ rule, value }: Figure, currency: string): string {
  return rule.unit === 'percent' ? formatPercent(value) : formatFigure(value, rule.unit, currency);
}

/** "How 28 stitches come about" */
export function titleOf(figure: Figure, currency: string): string {
  const { unit } = figure.rule;
  const value = shownOf(figure, currency);
  const isMany = ['stitches', 'rows', 'per 10 cm'].includes(unit) && figure.value !== 1;
  const words = unit === 'per 10 cm' ? `${value.replace(' in', ' stitches in')}` : value;
  return `How ${words} ${isMany ? 'come' : 'comes'} about`;
}

/** The page of a figure that belongs to no stored record, like one of a pair that is only tried. */
export function pageOfFigure(
  found: FoundFigure,
  page: Pick<WorkingPage, 'where' | 'back'> & { readonly currency: string },
): WorkingPage {
  const { where, back, currency } = page;
  return {
    title: titleOf(found.figure, currency),
    where,
    current: areaOfFigure[found.area]!,
    about: found.about,
    valueText: shownOf(found.figure, currency),
    step: workingOf(found.figure, currency),
    tables: [],
    notes: [],
    back,
    hands: [],
  };
}

const lineGone = 'That line is not here; it may have been removed. Go back to the orders and choose another.';
const colourGone = 'That colour is not in the plan now: no pair needs it. Go back to the yarn to buy.';
const knitterGone = 'That knitter is not here; leave the name out to see it in the usual hand.';
const outletGone = 'That outlet is not here; it may have been removed. Go back to costs and prices.';

function idFrom(text: string): number | null {
  return /^\d{1,15}$/.test(text) ? Number(text) : null;
}

type LineContext = {
  readonly lineId: number;
  readonly kind: Kind;
  readonly knitter: Knitter;
  readonly current: WorkshopPlan;
  readonly pair: PairWorking;
};

function contextOf(lineId: number, knitterId: number | null, current: WorkshopPlan): LineContext | string {
  const kind = current.kindOfLine.get(lineId);
  const foot = current.footOfLine.get(lineId);
  const problem = current.lineProblems.find((each) => each.lineId === lineId);
  if (problem) return problem.message;
  if (!kind || !foot) return lineGone;
  const { knitters, hands, referenceKnitterId } = current.input;
  const wished = knitterId ?? referenceKnitterId;
  const knitter = knitters.find((each) => each.id === wished);
  const hand = hands.find((each) => each.key === knitter?.handKey);
  if (!knitter || !hand) return knitterGone;
  return { lineId, kind, knitter, current, pair: workPair(kind.shape, hand, foot.figure, knitter.rates) };
}

type Shown = { readonly figure: Figure; readonly about: string; readonly notes?: readonly string[] };

const areaOfFigure: Readonly<Record<string, WorkingArea>> = {
  sizing: 'sizing',
  gauge: 'knitters',
  yardage: 'buying',
  timing: 'batch',
  schedule: 'batch',
  buying: 'buying',
  pricing: 'pricing',
  batch: 'batch',
};

/** Prices are reckoned in one hand, whoever knits. */
function priceFigures(context: LineContext, figure: string, outlet: Outlet | undefined): Shown | string | null {
  const cost = costWorking(context.kind, context.pair, context.current);
  if (figure === 'cost')
    return { figure: cost.figure, about: 'What a pair costs: yarn, other materials, work, running costs.' };
  if (!['price', 'hour', 'money-back', 'wage'].includes(figure)) return null;
  if (!outlet) return outletGone;
  const { name } = outlet;
  const sold = outletFor(context.current, context.kind, outlet);
  if (figure === 'price') {
    const price = priceWorking(cost, sold);
    if (!price.ok) return price.problems[0]!.message;
    return { figure: price.value, about: `The price of a pair at ${name}.` };
  }
  if (outlet.kind === 'gift') return `At ${name} pairs are given away: there is no price to reckon with.`;
  const noPrice = `No price at ${name} covers it: the fees take everything. Lower them, or choose another way out.`;
  if (figure === 'hour') {
    const hour = hourWorking(cost, sold);
    return hour ? { figure: hour, about: `What an hour of the work earns at the price at ${name}.` } : noPrice;
  }
  if (figure === 'money-back') {
    const least = coveringWorking('gets my money back', withoutLabourFigure(cost), outlet);
    return least ? { figure: least, about: `From this price on, all but the work is paid at ${name}.` } : noPrice;
  }
  if (context.current.settings.wageCentsPerHour === 0) return 'No wage was named yet: enter one in the settings.';
  const least = coveringWorking('pays my wage', cost.figure, outlet);
  return least ? { figure: least, about: `From this price on, the wage is paid too at ${name}.` } : noPrice;
}

function backOfLine({ lineId, current }: Pick<LineContext, 'lineId' | 'current'>): WorkingPage['back'] {
  const line = current.rows.lines.find((each) => each.id === lineId);
  return { href: `/orders/${line?.orderId ?? ''}`, words: 'To the order' };
}

function linePage(wish: WorkingWish, current: WorkshopPlan): Opened {
  const { area, figure } = wish;
  const isPricing = area === 'pricing';
  const [lineText, outletText, ...rest] = isPricing && figure !== 'cost' ? wish.id.split('-') : [wish.id];
  const lineId = idFrom(lineText ?? '');
  if (lineId === null || rest.length > 0) return null;
  const knitterId = wish.knitter === undefined || wish.knitter === '' ? null : idFrom(wish.knitter);
  if (wish.knitter && knitterId === null) return knitterGone;
  const context = contextOf(lineId, knitterId, current);
  if (typeof context === 'string') return context;
  const outlet = current.input.outlets.find((each) => each.id === idFrom(outletText ?? ''));
  let found: Shown | string | null;
  if (isPricing) found = priceFigures(context, figure, outlet);
  else {
    const picked = pairFigure(context.pair, figure);
    found = picked !== null && typeof picked !== 'string' && picked.area !== area ? null : picked;
  }
  if (found === null || typeof found === 'string') return found;
  const { currency } = current.settings;
  const address = `/working/${area}/${figure}/${wish.id}`;
  return {
    title: titleOf(found.figure, currency),
    where: `${lineWords(current, lineId)}, in ${context.knitter.name}’s hand`,
    current: areaOfFigure[area]!,
    about: found.about,
    valueText: shownOf(found.figure, currency),
    step: workingOf(found.figure, currency),
    tables: [],
    notes:
      current.input.hands.length > 0 && context.pair.spec.isGaugeGuessed
        ? ['The gauge is a guess from the yarn until somebody knits a square, or the first foot.']
        : [],
    back: isPricing ? { href: '/pricing', words: 'To costs and prices' } : backOfLine(context),
    hands: current.input.knitters.map(({ id, name }) => ({
      name,
      href: `${address}?knitter=${id}`,
      isOpen: id === context.knitter.id,
    })),
  };
}

function tablePage(wish: WorkingWish, current: WorkshopPlan, pageOf: (lineId: number) => TablePage): Opened {
  const lineId = idFrom(wish.id);
  if (lineId === null) return null;
  const problem = current.lineProblems.find((each) => each.lineId === lineId);
  if (problem) return problem.message;
  if (!current.kindOfLine.has(lineId)) return lineGone;
  const { value, about, tables, notes } = pageOf(lineId);
  return {
    title: `How ${value} ${wish.figure === 'stock' && !value.startsWith('1 ') ? 'come' : 'comes'} about`,
    where: lineWords(current, lineId),
    current: areaOfFigure[wish.area]!,
    about,
    valueText: null,
    step: null,
    tables,
    notes,
    back: backOfLine({ lineId, current }),
    hands: [],
  };
}

function totalPage(wish: WorkingWish, current: WorkshopPlan, where: string, total: TotalWorking | null): Opened {
  if (total === null)
    return wish.figure === 'total' ? 'There is nothing to buy, so there is nothing to add up.' : colourGone;
  const { figure, about, tables, notes } = total;
  const { currency } = current.settings;
  const isPricing = wish.area === 'pricing';
  return {
    title: figure ? titleOf(figure, currency) : 'How nothing to buy comes about',
    where,
    current: areaOfFigure[wish.area]!,
    about,
    valueText: figure ? shownOf(figure, currency) : null,
    step: figure ? workingOf(figure, currency) : null,
    tables,
    notes,
    back: isPricing
      ? { href: '/pricing', words: 'To costs and prices' }
      : { href: '/buying', words: 'To the yarn to buy' },
    hands: [],
  };
}

function colourPage(
  wish: WorkingWish,
  current: WorkshopPlan,
  pageOf: (colourId: number) => TotalWorking | null,
): Opened {
  const id = idFrom(wish.id);
  if (id === null) return null;
  if (!current.rows.yarnColours.some((each) => each.id === id)) return colourGone;
  return totalPage(wish, current, colourName(current.rows, id), pageOf(id));
}

/**
 * Opens a figure of the plan with its whole working, by the same code that planned it.
 *
 * @param wish the parts of the address
 */
export function openWorking(wish: WorkingWish, current: WorkshopPlan): Opened {
  const plain = { tables: [], notes: [] };
  switch (`${wish.area}/${wish.figure}`) {
    case 'yardage/need':
      return colourPage(wish, current, (id) => needPage(id, current));
    case 'buying/list':
      return colourPage(wish, current, (id) => listPage(id, current));
    case 'buying/total':
      return totalPage(wish, current, 'All yarn to buy', listTotalPage(current));
    case 'pricing/gram':
      return colourPage(wish, current, (id) => ({
        ...plain,
        figure: gramPriceFigure(id, current).figure,
        about:
          'What a gram of this colour costs where it has to be bought. Yarn from the shelf costs what its own lot cost.',
      }));
    case 'pricing/overhead':
      return totalPage(wish, current, 'The workshop', {
        ...plain,
        figure: overheadRateFigure(current),
        about: 'Running costs that each hour of work carries.',
      });
    case 'schedule/finish':
      return tablePage(wish, current, (lineId) => finishPage(lineId, current));
    case 'batch/stock':
      return tablePage(wish, current, (lineId) => stockPage(lineId, current));
    default:
      return linePage(wish, current);
  }
}
