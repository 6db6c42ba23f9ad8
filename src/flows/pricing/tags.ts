import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import { type CareCard, careCardOf, type TagYarn } from '#core/cards/care-card.ts';
import { type Tag, type TagFoot, tagOf } from '#core/cards/tag.ts';
import { keystone } from '#core/pricing/margin.ts';
import type { Foot } from '#core/sizing/foot.ts';
import { type SizeSystem, sizeSystems } from '#core/sizing/labels.ts';
import { sizeWords, sizeWordsIn } from '#core/sizing/size-words.ts';
import { rolesKnitted } from '#core/styles/roles.ts';
import type { OutletRow } from '#db/stores/pricing.ts';
import type { SizeBandRow } from '#db/stores/sizing.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { orderNames, type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { sizeWordsOf } from '#flows/batch/start-batch.ts';
import { placedPairs, readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** Which pairs get a tag. */
export type TagPairs =
  | { readonly from: 'stock' }
  | { readonly from: 'next batch' }
  | { readonly from: 'batch' | 'order'; readonly id: number }
  | { readonly from: 'kinds'; readonly counts: readonly { readonly lineId: number; readonly count: number }[] };

export type TagWish = {
  readonly pairs: TagPairs;
  /** Of each pair. */
  readonly copies: number;
  /** Whose price is printed; null prints none. */
  readonly outletId: number | null;
  readonly systems: readonly SizeSystem[];
};

/** A pair as a tag knows it. */
type Tagged = {
  readonly kind: Kind;
  /** As kept with the pair: metric. */
  readonly sizeWords: string;
  readonly quality: 'good' | 'second';
  readonly lineId: number | null;
};

/** A tag and a care card, with the colours that are shown as chips. */
export type TagSheet = { readonly tag: Tag; readonly care: CareCard; readonly colours: readonly RoleColours[] };

export type Tags = {
  readonly sheets: readonly TagSheet[];
  /** Why some carry no price, each once. */
  readonly priceProblems: readonly string[];
  /** Pairs whose style or yarn can no longer be read. */
  readonly unreadable: number;
};

export type TagChoices = {
  readonly workshopName: string;
  /** Finished pairs that are here. */
  readonly stockCount: number;
  /** Pairs gathered and not started. */
  readonly nextCount: number;
  readonly batches: readonly { readonly id: number; readonly name: string; readonly count: number }[];
  readonly orders: readonly {
    readonly id: number;
    readonly number: number;
    readonly customer: string | null;
    readonly outlet: string;
    readonly outletId: number;
    readonly count: number;
  }[];
  /** Every kind in the orders, by a line that asks for it. */
  readonly kinds: readonly {
    readonly lineId: number;
    readonly words: string;
    readonly colours: readonly RoleColours[];
  }[];
  /** Those that sell. */
  readonly outlets: readonly { readonly id: number; readonly name: string; readonly kind: string }[];
  /** The systems that the workshop's orders are written in; EU where they are in none. */
  readonly usualSystems: readonly SizeSystem[];
};

/** Finished, not left, and not in somebody's shop. */
function stockOf({ rows }: WorkshopPlan, pairs: readonly StoredPair[]): StoredPair[] {
  const placed = placedPairs(rows.placements);
  return pairs.filter(({ row, isFinished }) => row.left === null && isFinished && !placed.has(row.id));
}

function ofStored({ kind, frozen, row }: StoredPair): Tagged | null {
  return kind && { kind, sizeWords: frozen.sizeWords, quality: row.quality, lineId: row.lineId };
}

function ofLine(workshopPlan: WorkshopPlan, lineId: number): Tagged | null {
  const kind = workshopPlan.kindOfLine.get(lineId);
  const words = workshopPlan.footOfLine.get(lineId)?.words;
  return kind && words !== undefined ? { kind, sizeWords: words, quality: 'good', lineId } : null;
}

function nextPairs(workshopPlan: WorkshopPlan): Tagged[] {
  return workshopPlan.plan.wanted.pairs
    .filter((pair) => pair.started === null)
    .map((pair) => ({
      kind: pair.kind,
      sizeWords: sizeWordsOf(pair, workshopPlan),
      quality: 'good' as const,
      lineId: pair.lineId,
    }));
}

function times<T>(item: T, count: number): T[] {
  return Array.from({ length: count }, () => item);
}

function chosenPairs(workshopPlan: WorkshopPlan, wish: TagPairs): (Tagged | null)[] {
  const { rows } = workshopPlan;
  switch (wish.from) {
    case 'stock':
      return stockOf(workshopPlan, readPairs(rows)).map(ofStored);
    case 'next batch':
      return nextPairs(workshopPlan);
    case 'batch':
      return readPairs(rows)
        .filter(({ row }) => row.batchId === wish.id && row.left === null)
        .map(ofStored);
    case 'order':
      return rows.lines
        .filter((line) => line.orderId === wish.id)
        .flatMap((line) => times(ofLine(workshopPlan, line.id), line.quantity));
    case 'kinds':
      return wish.counts.flatMap(({ lineId, count }) => times(ofLine(workshopPlan, lineId), count));
  }
}

/** Smallest first, like pairs together: a pile that can be laid beside the slippers. */
function inOrder(a: Tagged, b: Tagged): number {
  const style = a.kind.shape.style.name.localeCompare(b.kind.shape.style.name, 'en');
  return (
    style ||
    a.kind.shape.foot.lengthMm - b.kind.shape.foot.lengthMm ||
    a.sizeWords.localeCompare(b.sizeWords, 'en') ||
    (a.kind.key < b.kind.key ? -1 : a.kind.key > b.kind.key ? 1 : 0)
  );
}

const measuredWords = /(?:^|[ ,])(?:foot|feet) [\d.]+(?: and [\d.]+)? cm$/;

function bandOf(words: string, bands: readonly SizeBandRow[], lengthMm: number) {
  const band = bands.find(
    ({ name, person, fromMm, toMm }) =>
      sizeWords({ by: 'band', person: person ?? 'unknown', name }) === words && fromMm <= lengthMm && lengthMm <= toMm,
  );
  return band ? { fromMm: band.fromMm, toMm: band.toMm } : null;
}

function tagFoot({ lengthMm, ballGirthMm, isBallGirthMeasured }: Foot): TagFoot {
  return { lengthMm, ballGirthMm: isBallGirthMeasured ? ballGirthMm : null };
}

function yarnsOf(kind: Kind): TagYarn[] {
  const knitted = rolesKnitted(kind.shape.style.body, kind.shape.cuffHeightMm);
  return strandsOfKind(kind)
    .filter(({ role }) => knitted.includes(role))
    .map(({ yarn: { name, fibre } }) => ({ name, fibre }));
}

/** What the buyer is told: what was agreed for the pair where its order goes to that outlet, else the outlet's own price. */
function priceCentsOf(workshopPlan: WorkshopPlan, pair: Tagged, outlet: OutletRow): number | string {
  const { rows } = workshopPlan;
  const line = rows.lines.find((each) => each.id === pair.lineId);
  const order = rows.orders.find((each) => each.id === line?.orderId);
  const agreed = pair.quality === 'good' && order?.outletId === outlet.id ? (line?.agreedCents ?? null) : null;
  const { priceCents, problems } = priceOfPair(workshopPlan, pair.kind, outlet.id, { quality: pair.quality });
  const cents = agreed ?? priceCents;
  if (cents === null) return problems[0]?.message ?? 'No price can be made.';
  // A shop that buys pays the wholesale price; on the tag stands what it may ask.
  return outlet.kind === 'shop' && outlet.terms === 'wholesale' ? keystone(cents) : cents;
}

/**
 * Tags and care cards of the pairs chosen, smallest feet first, each as often as wished. What a foot's owner is called
 * is left off: a tag is read by strangers.
 */
export function readTags(workshopPlan: WorkshopPlan, wish: TagWish): Tags {
  const { rows, settings } = workshopPlan;
  const named = coloursOf(rows);
  const chosen = chosenPairs(workshopPlan, wish.pairs);
  const pairs = chosen.filter((pair): pair is Tagged => pair !== null).sort(inOrder);
  const outlet = rows.outlets.find((each) => each.id === wish.outletId);
  const priceProblems = new Set<string>();
  const sheets = pairs.flatMap((pair) => {
    const { foot, right } = pair.kind.shape;
    const price = outlet ? priceCentsOf(workshopPlan, pair, outlet) : null;
    if (typeof price === 'string') priceProblems.add(price);
    const sheet: TagSheet = {
      tag: tagOf({
        style: pair.kind.shape.style.name,
        called: measuredWords.test(pair.sizeWords) ? null : pair.sizeWords,
        person: foot.person,
        foot: tagFoot(foot),
        right: right && tagFoot(right),
        band: bandOf(pair.sizeWords, rows.bands, foot.lengthMm),
        systems: wish.systems,
        usWomenOffset: settings.usWomenOffset,
        unitSystem: settings.unitSystem,
        quality: pair.quality,
        price:
          outlet && typeof price === 'number'
            ? {
                cents: price,
                currency: settings.currency,
                addedTaxRatio: outlet.isTaxIncluded ? 0 : outlet.taxRatio,
              }
            : null,
      }),
      care: careCardOf(yarnsOf(pair.kind), foot.person),
      colours: roleColours(pair.kind, named),
    };
    return times(sheet, wish.copies);
  });
  return { sheets, priceProblems: [...priceProblems], unreadable: chosen.length - pairs.length };
}

/** The size systems that the orders are written in; EU where they are in none. */
export function usualSystems({ lines }: WorkshopPlan['rows']): SizeSystem[] {
  const used = sizeSystems.filter((system) => lines.some((line) => line.sizeSystem === system));
  return used.length > 0 ? used : ['EU'];
}

/** What tags can be made for. */
export const readTagChoices = remember((workshopPlan: WorkshopPlan): TagChoices => {
  const { rows, settings, kindOfLine, footOfLine } = workshopPlan;
  const pairs = readPairs(rows);
  const names = orderNames(workshopPlan);
  const colours = coloursOf(rows);
  const pairsOfOrder = new Map<number, number>();
  for (const { orderId, quantity } of rows.lines)
    pairsOfOrder.set(orderId, (pairsOfOrder.get(orderId) ?? 0) + quantity);
  const seen = new Set<string>();
  const kinds = rows.lines.flatMap((line) => {
    const kind = kindOfLine.get(line.id);
    if (!kind || seen.has(kind.key)) return [];
    seen.add(kind.key);
    const size = sizeWordsIn(footOfLine.get(line.id)?.words ?? '', settings.unitSystem);
    return [{ lineId: line.id, kind, words: pairWords(size, kind, rows), colours: roleColours(kind, colours) }];
  });
  kinds.sort((a, b) => a.kind.shape.foot.lengthMm - b.kind.shape.foot.lengthMm || a.lineId - b.lineId);
  return {
    workshopName: settings.workshopName,
    stockCount: stockOf(workshopPlan, pairs).length,
    nextCount: workshopPlan.plan.wanted.pairs.filter((pair) => pair.started === null).length,
    batches: rows.batches
      .map(({ id, name }) => ({
        id,
        name,
        count: pairs.filter(({ row }) => row.batchId === id && row.left === null).length,
      }))
      .filter(({ count }) => count > 0),
    orders: rows.orders.flatMap(({ id, outletId }) => {
      const count = pairsOfOrder.get(id) ?? 0;
      const name = names.get(id);
      return name && count > 0
        ? [{ id, number: name.number, customer: name.customer, outlet: name.outlet.name, outletId, count }]
        : [];
    }),
    kinds: kinds.map(({ kind: _kind, ...rest }) => rest),
    outlets: rows.outlets
      .filter((outlet) => outlet.kind !== 'gift' && !outlet.isClosed)
      .map(({ id, name, kind }) => ({ id, name, kind })),
    usualSystems: usualSystems(rows),
  };
});
