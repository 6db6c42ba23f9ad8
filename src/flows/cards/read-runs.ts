import type { Card, KnittingWords } from '#core/cards/card.ts';
import { cardOf } from '#core/cards/card-of.ts';
import type { Day } from '#core/shared/calendar.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { UnitSystem } from '#core/shared/measures.ts';
import { firstPage, type PageWish, type Paging, pagingOf, rowsOn } from '#core/shared/paging.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { type PairCounts, pairCountsOf } from '#flows/batch/foot-counts.ts';
import { type OrderName, orderNames, type RoleColours, roleColours } from '#flows/batch/read-batch.ts';
import { type CardSubject, cardInputOf, cardSubjects, wordsOf } from '#flows/cards/card-subjects.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** Like pairs of one knitter: one card serves them all. */
export type CardRun = PairCounts & {
  /** The first pair's key, under which the run is chosen. */
  readonly key: string;
  readonly isStarted: boolean;
  readonly sizeWords: string;
  readonly style: string;
  readonly colours: readonly RoleColours[];
  readonly count: number;
  readonly pairIds: readonly number[];
  readonly orders: readonly OrderName[];
  readonly firstDueDay: Day | null;
};

export type KnitterRuns = {
  readonly knitterId: number | null;
  readonly name: string;
  readonly words: KnittingWords;
  readonly runs: readonly CardRun[];
};

/** Equal for pairs whose cards say the same. */
function runKey({ knitterId, kind, frozen, pairId, yarn }: CardSubject): string {
  const counts = frozen.spec.pieces.map((piece) => `${piece.castOnStitches}x${piece.totalRows}`).join('/');
  const grams = yarn.map(({ allottedMg }) => allottedMg).join('/');
  return [knitterId, pairId === null ? 'planned' : 'started', kind.key, frozen.sizeWords, counts, grams].join('|');
}

function groupRuns(subjects: readonly CardSubject[]): readonly (readonly CardSubject[])[] {
  return [...groupBy(subjects, runKey).values()];
}

/** What is looked up for every pair, put in order once. */
function lookUpsOf(workshopPlan: WorkshopPlan) {
  const { rows } = workshopPlan;
  const lines = new Map(rows.lines.map((line) => [line.id, line]));
  const orders = new Map(rows.orders.map((order) => [order.id, order]));
  const lots = new Map(rows.lots.map((lot) => [lot.id, lot]));
  const knitters = new Map(rows.knitters.map(({ id, name }) => [id, name]));
  const names = orderNames(workshopPlan);
  const colours = coloursOf(rows);
  const orderOf = ({ lineId }: CardSubject) => {
    const line = lineId === null ? undefined : lines.get(lineId);
    return line ? orders.get(line.orderId) : undefined;
  };
  return {
    colours,
    knitterName: (id: number | null): string => (id === null ? '' : (knitters.get(id) ?? '')),
    dueDayOf(subject: CardSubject): Day | null {
      const order = orderOf(subject);
      return order ? (order.dueDay ?? order.arriveByDay) : null;
    },
    ordersOf(subjects: readonly CardSubject[]): OrderName[] {
      const ids = new Set(subjects.flatMap((subject) => orderOf(subject)?.id ?? []));
      return [...ids].flatMap((id) => names.get(id) ?? []);
    },
    lotsOf(subject: CardSubject): CardSheet['lots'] {
      const byColour = new Map<string, string>();
      for (const { yarnColourId, lotId } of subject.yarn) {
        const lot = lotId === null ? undefined : lots.get(lotId);
        const colour = colours.get(yarnColourId);
        if (lot?.dyeLot && colour) byColour.set(colour.name, lot.dyeLot);
      }
      return [...byColour].map(([colour, dyeLot]) => ({ colour, dyeLot }));
    },
  };
}

type LookUps = ReturnType<typeof lookUpsOf>;

/** One page of the runs of like pairs. */
export type RunsPage = {
  /** Pairs of all runs. */
  readonly pairCount: number;
  readonly knitters: readonly KnitterRuns[];
  readonly paging: Paging;
};

/** Runs of like pairs by knitter: what is on the needles first, then what is gathered and not started yet. */
export function readRuns(workshopPlan: WorkshopPlan, wish: PageWish = firstPage): RunsPage {
  const lookUps = lookUpsOf(workshopPlan);
  const groups = groupRuns(cardSubjects(workshopPlan));
  const byKnitter = [...groupBy(groups, ([first]) => first!.knitterId).values()].flat();
  const paging = pagingOf(byKnitter.length, wish);
  const shown = groupBy(rowsOn(byKnitter, paging), ([first]) => first!.knitterId);
  return {
    pairCount: groups.reduce((sum, subjects) => sum + subjects.length, 0),
    paging,
    knitters: [...shown].map(([knitterId, runs]) => ({
      knitterId,
      name: lookUps.knitterName(knitterId) || 'Nobody yet',
      words: wordsOf(knitterId, workshopPlan),
      runs: runs.map((subjects) => runOf(subjects, lookUps, workshopPlan.settings.unitSystem)),
    })),
  };
}

function runOf(subjects: readonly CardSubject[], lookUps: LookUps, system: UnitSystem): CardRun {
  const first = subjects[0]!;
  const dueDays = subjects.flatMap((subject) => lookUps.dueDayOf(subject) ?? []).sort();
  return {
    key: first.key,
    isStarted: first.pairId !== null,
    sizeWords: sizeWordsIn(first.frozen.sizeWords, system),
    style: first.kind.shape.style.name,
    colours: roleColours(first.kind, lookUps.colours),
    count: subjects.length,
    pairIds: subjects.flatMap(({ pairId }) => pairId ?? []),
    ...pairCountsOf(first.frozen.spec),
    orders: lookUps.ordersOf(subjects),
    firstDueDay: dueDays[0] ?? null,
  };
}

/** A card with what stands at its head: whose hands, whose feet. */
export type CardSheet = {
  readonly key: string;
  readonly pairId: number | null;
  readonly card: Card;
  readonly sizeWords: string;
  readonly fit: string;
  readonly knitter: string;
  readonly orders: readonly OrderName[];
  readonly dueDay: Day | null;
  /** Dye lots to take, by colour. */
  readonly lots: readonly { readonly colour: string; readonly dyeLot: string }[];
};

function sheetFrom(subject: CardSubject, card: Card, lookUps: LookUps, system: UnitSystem): CardSheet {
  return {
    key: subject.key,
    pairId: subject.pairId,
    card,
    sizeWords: sizeWordsIn(subject.frozen.sizeWords, system),
    fit: subject.frozen.fit,
    knitter: lookUps.knitterName(subject.knitterId),
    orders: lookUps.ordersOf([subject]),
    dueDay: lookUps.dueDayOf(subject),
    lots: lookUps.lotsOf(subject),
  };
}

/** The sheet of one pair in its knitter's words. */
export function sheetOf(subject: CardSubject, workshopPlan: WorkshopPlan): CardSheet {
  const words = wordsOf(subject.knitterId, workshopPlan);
  return sheetFrom(
    subject,
    cardOf(cardInputOf(subject, workshopPlan, words)),
    lookUpsOf(workshopPlan),
    workshopPlan.settings.unitSystem,
  );
}

export type SheetWish = {
  /** Keys of the first pairs of runs. */
  readonly runs: readonly string[];
  /** Pairs one by one. */
  readonly pairIds: readonly number[];
  readonly words: KnittingWords | 'knitter';
};

/**
 * The sheets to print, a pair each: like pairs share one card.
 *
 * @returns in the order of the list; runs that are no longer in the plan are left out
 */
export function readSheets(workshopPlan: WorkshopPlan, wish: SheetWish): readonly CardSheet[] {
  const lookUps = lookUpsOf(workshopPlan);
  const runs = new Set(wish.runs);
  const pairIds = new Set(wish.pairIds);
  return groupRuns(cardSubjects(workshopPlan)).flatMap((subjects) => {
    const first = subjects[0]!;
    const chosen = runs.has(first.key)
      ? subjects
      : subjects.filter(({ pairId }) => pairId !== null && pairIds.has(pairId));
    if (chosen.length === 0) return [];
    const words = wish.words === 'knitter' ? wordsOf(first.knitterId, workshopPlan) : wish.words;
    const card = cardOf(cardInputOf(first, workshopPlan, words));
    return chosen.map((subject) => sheetFrom(subject, card, lookUps, workshopPlan.settings.unitSystem));
  });
}
