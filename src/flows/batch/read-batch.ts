import type { PairYarn } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { NetToMake, WantedPair } from '#core/batch/net-to-make.ts';
import { childFibreWords } from '#core/gauge/fibre-words.ts';
import type { Assignment } from '#core/schedule/assign.ts';
import type { LateOrder, lateHelpOf } from '#core/schedule/late.ts';
import type { Day } from '#core/shared/calendar.ts';
import { addShared, sdOf } from '#core/shared/estimate.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { type PageWish, type Paging, pagingOf, rowsOn } from '#core/shared/paging.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { rolesKnitted } from '#core/styles/roles.ts';
import { type FootCounts, pairCountsOf } from '#flows/batch/foot-counts.ts';
import { lateHelpIn } from '#flows/batch/late-help.ts';
import { pairWords } from '#flows/batch/pair-words.ts';
import { sizeWordsOf } from '#flows/batch/start-batch.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { remember } from '#flows/remember.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';

/** Colours of one role, in words of the style: the foot, the cuff. */
export type RoleColours = { readonly role: string; readonly words: string; readonly colours: readonly NamedColour[] };

/** An order as pages name it. */
export type OrderName = {
  readonly id: number;
  readonly number: number;
  readonly customer: string | null;
  readonly outlet: { readonly name: string; readonly kind: string };
};

/** Counts in all the hands that have like pairs, each once, fewest first. */
export type CountsInHands = {
  readonly castOn: readonly number[];
  readonly rows: readonly number[];
  readonly cuffStitches: readonly number[];
};

/** Like pairs in due order: what a row of the batch shows. Several knitters may have several counts. */
export type KindRow = CountsInHands & {
  readonly kind: Kind;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly pairCount: number;
  readonly startedCount: number;
  /** A line to follow the working of; null for spares. */
  readonly lineId: number | null;
  /** Who is to knit them, as their line says; null for whoever has time. */
  readonly knitterName: string | null;
  /** What to be careful about with the yarn of a child's pair. */
  readonly caution: string | null;
  /** The right foot's counts where the feet differ; those of the row are then the left one's. */
  readonly right: CountsInHands | null;
  readonly cuffHeightMm: number;
  readonly gramsEach: readonly number[];
  readonly minutesEach: readonly number[];
  readonly dueDay: Day | null;
  /** When the last of them is finished; null when one never is. */
  readonly finishDay: Day | null;
  readonly isLate: boolean;
};

export type KnitterRow = {
  readonly id: number;
  readonly name: string;
  readonly minutes: number;
  readonly firstDay: Day;
  readonly lastDay: Day;
  readonly pairCount: number;
  /** The first of her pairs, in the order they are finished; all of them have a page of their own. */
  readonly pairs: readonly KnitterPair[];
};

/** A pair of a knitter's, with its days. */
export type KnitterPair = {
  readonly key: string;
  readonly sizeWords: string;
  readonly colours: readonly RoleColours[];
  readonly lineId: number | null;
  readonly minutes: number;
  readonly finishDay: Day;
  readonly dueDay: Day | null;
};

/** A finished pair that answers an order. */
export type PairFromStock = {
  readonly order: OrderName;
  readonly lineId: number;
  readonly wanted: string;
  readonly pairId: number;
  readonly pairWords: string;
  readonly colours: readonly RoleColours[];
};

/** An order that comes late, and what would help. */
export type LateOrderHelp = {
  readonly order: OrderName;
  readonly pairCount: number;
  readonly daysLate: number | null;
  readonly help: string;
  readonly promiseDay: Day | null;
};

/** Like pairs on one page of the batch: those that orders want, then the spares. */
export type BatchRows = {
  readonly rows: readonly KindRow[];
  readonly spares: readonly KindRow[];
  /** Over rows and spares together. */
  readonly paging: Paging;
};

/** A part of a list, with where it stands in the whole. */
export type PageOf<T> = { readonly rows: readonly T[]; readonly paging: Paging };

/** Totals are of the whole batch; long lists are begun, and have pages of their own. */
export type Batch = {
  readonly today: Day;
  readonly revision: number;
  readonly pairCount: number;
  readonly startedCount: number;
  readonly spareCount: number;
  readonly orders: readonly (OrderName & {
    readonly pairCount: number;
    readonly toStart: number;
    readonly dueDay: Day | null;
  })[];
  readonly grams: number;
  readonly gramsSd: number;
  readonly minutes: number;
  readonly lastFinishDay: Day | null;
  readonly yarnCents: number;
  /** Everybody whose counts the rows can be shown in. */
  readonly hands: readonly { readonly id: number; readonly name: string }[];
  readonly fromStockCount: number;
  readonly fromStock: readonly PairFromStock[];
  readonly lineProblems: readonly { readonly order: OrderName; readonly message: string }[];
  /** Pairs nobody can knit, by reason. */
  readonly idle: readonly { readonly reason: string; readonly pairCount: number }[];
  readonly knitters: readonly KnitterRow[];
  readonly lateCount: number;
  /** The latest first. */
  readonly late: readonly LateOrderHelp[];
  readonly started: readonly {
    readonly id: number;
    readonly name: string;
    readonly isFinished: boolean;
    readonly pairCount: number;
    readonly doneCount: number;
  }[];
};

export function orderNames({ rows }: WorkshopPlan): ReadonlyMap<number, OrderName> {
  const customers = new Map(rows.customers.map((customer) => [customer.id, customer.name]));
  const outlets = new Map(rows.outlets.map((outlet) => [outlet.id, outlet]));
  return new Map(
    rows.orders.map(({ id, number, customerId, outletId }) => [
      id,
      {
        id,
        number,
        customer: customerId === null ? null : (customers.get(customerId) ?? null),
        outlet: { name: outlets.get(outletId)?.name ?? '', kind: outlets.get(outletId)?.kind ?? '' },
      },
    ]),
  );
}

/** The colours of a kind by role; roles that have the same colours are named together. */
export function roleColours(kind: Kind, colours: ReadonlyMap<number, NamedColour>): RoleColours[] {
  const { style, cuffHeightMm } = kind.shape;
  const knitted = rolesKnitted(style.body, cuffHeightMm);
  const entries = style.body.roles
    .filter(({ name }) => (kind.colours[name] ?? []).length > 0)
    .filter(({ name }) => knitted.includes(name))
    .map(({ name, words }) => ({
      role: name,
      words,
      colours: (kind.colours[name] ?? []).flatMap((id) => colours.get(id) ?? []),
    }));
  const keyOf = (entry: RoleColours) => entry.colours.map(({ id }) => id).join('+');
  const isOneColour = new Set(entries.map(keyOf)).size === 1;
  return isOneColour ? [{ ...entries[0]!, words: 'all' }] : entries;
}

/** Pairs of a list that are shown where the list is only begun, and orders that come late. Our own choice. */
const pairsBegun = 50;
const lateBegun = 10;

const distinct = (values: readonly number[]) => [...new Set(values)].sort((a, b) => a - b);

function countsInHands(feet: readonly FootCounts[]): CountsInHands {
  return {
    castOn: distinct(feet.map((foot) => foot.castOn)),
    rows: distinct(feet.map((foot) => foot.rows)),
    cuffStitches: distinct(feet.flatMap((foot) => foot.cuffStitches ?? [])),
  };
}

/** A pair's size in words, with its style where that is not the usual one. */
function wordsOf({ pair, stored }: Pick<Entry, 'pair' | 'stored'>, workshopPlan: WorkshopPlan): string {
  const words = stored?.frozen.sizeWords ?? sizeWordsOf(pair, workshopPlan);
  return pairWords(sizeWordsIn(words, workshopPlan.settings.unitSystem), pair.kind, workshopPlan.rows);
}

type FromStock = NetToMake['fromStock'][number];
type Entry = { readonly pair: WantedPair; readonly assignment: Assignment; readonly stored: StoredPair | null };

function lastOf(days: readonly (Day | null)[]): Day | null {
  return days.some((day) => day === null) ? null : ([...(days as Day[])].sort().at(-1) ?? null);
}

/** Whose hand a pair is shown in: its knitter's once it is begun, else the one asked for, if one is. */
function handOf({ stored, assignment }: Entry, knitterId: number | null): number | null {
  return stored === null && knitterId !== null ? knitterId : assignment.knitterId;
}

const gramsOf = (yarn: readonly PairYarn[]) => yarn.reduce((sum, each) => sum + each.grams, 0);

function kindRow(
  entries: readonly Entry[],
  workshopPlan: WorkshopPlan,
  colours: ReadonlyMap<number, NamedColour>,
  knitterId: number | null,
): KindRow {
  const { plan } = workshopPlan;
  const first = entries[0]!;
  const { kind, dueDay } = first.pair;
  // A pair that is begun keeps its frozen counts; what is thought of its yarn and time is as known today.
  const counts = entries.map((entry) =>
    pairCountsOf(entry.stored?.frozen.spec ?? plan.handwork.specOf(kind, handOf(entry, knitterId))),
  );
  const right = counts.flatMap((pair) => pair.right ?? []);
  const finishDay = lastOf(entries.map(({ assignment }) => assignment.finishDay));
  return {
    kind,
    sizeWords: wordsOf(first, workshopPlan),
    colours: roleColours(kind, colours),
    pairCount: entries.length,
    startedCount: entries.filter(({ pair }) => pair.started !== null).length,
    lineId: first.pair.lineId,
    knitterName: workshopPlan.rows.knitters.find(({ id }) => id === first.pair.pinnedKnitterId)?.name ?? null,
    caution: childFibreWords(kind.shape),
    ...countsInHands(counts),
    right: right.length > 0 ? countsInHands(right) : null,
    cuffHeightMm: kind.shape.cuffHeightMm,
    gramsEach: distinct(
      entries.map((entry) => Math.round(gramsOf(plan.handwork.yarnOf(kind, handOf(entry, knitterId))))),
    ),
    minutesEach: distinct(entries.map((entry) => Math.round(plan.handwork.minutesOf(kind, handOf(entry, knitterId))))),
    dueDay,
    finishDay,
    isLate: dueDay !== null && (finishDay === null || finishDay > dueDay),
  };
}

// Days sort as texts; what has none comes last.
const byDay = (a: Day | null, b: Day | null) => {
  const [one, other] = [a ?? '9999', b ?? '9999'];
  return one < other ? -1 : one > other ? 1 : 0;
};

/** Like pairs due on one day and for one knitter, by due day. */
function groupsOf(entries: readonly Entry[]): readonly (readonly Entry[])[] {
  const groups = groupBy(
    entries,
    ({ pair }) => `${pair.dueDay ?? 'never'} ${pair.kind.key} ${pair.pinnedKnitterId ?? ''}`,
  );
  return [...groups.values()].sort((a, b) => byDay(a[0]!.pair.dueDay, b[0]!.pair.dueDay));
}

type PlannedEntry = Entry & { readonly finishDay: Day };

/** Pairs that get finished, by knitter, in the order they are. */
function entriesByKnitter(entries: readonly Entry[]): ReadonlyMap<number | null, readonly PlannedEntry[]> {
  const planned = entries.flatMap((entry): PlannedEntry[] => {
    const { finishDay } = entry.assignment;
    return finishDay === null ? [] : [{ ...entry, finishDay }];
  });
  return groupBy(
    planned.sort((a, b) => byDay(a.finishDay, b.finishDay)),
    ({ assignment }) => assignment.knitterId,
  );
}

function knitterPair(entry: PlannedEntry, { workshopPlan, colours }: Gathered): KnitterPair {
  const { pair, assignment, finishDay } = entry;
  return {
    key: pair.key,
    sizeWords: wordsOf(entry, workshopPlan),
    colours: roleColours(pair.kind, colours),
    lineId: pair.lineId,
    minutes: assignment.minutes,
    finishDay,
    dueDay: pair.dueDay,
  };
}

function knitterRows(gathered: Gathered): KnitterRow[] {
  return gathered.workshopPlan.input.knitters.flatMap(({ id, name }): KnitterRow[] => {
    const own = gathered.ofKnitter.get(id) ?? [];
    if (own.length === 0) return [];
    return [
      {
        id,
        name,
        minutes: own.reduce((sum, { assignment }) => sum + assignment.minutes, 0),
        firstDay: own.map(({ assignment }) => assignment.startDay!).sort()[0]!,
        lastDay: own.at(-1)!.finishDay,
        pairCount: own.length,
        pairs: own.slice(0, pairsBegun).map((entry) => knitterPair(entry, gathered)),
      },
    ];
  });
}

function lateOrder({ orderId, daysLate, pairs }: LateOrder, { names, helpOf }: Gathered): LateOrderHelp[] {
  const order = names.get(orderId);
  const help = helpOf(orderId);
  return order
    ? [{ order, pairCount: pairs, daysLate, help: help?.words ?? '', promiseDay: help?.promiseDay ?? null }]
    : [];
}

function pairFromStock({ lineId, stockPairId }: FromStock, gathered: Gathered): PairFromStock[] {
  const { workshopPlan, colours, storedById, orderOfLine } = gathered;
  const { kindOfLine, footOfLine, settings } = workshopPlan;
  const pair = storedById.get(stockPairId);
  const kind = kindOfLine.get(lineId);
  const order = orderOfLine.get(lineId);
  if (!pair || !kind || !order) return [];
  return [
    {
      order,
      lineId,
      wanted: sizeWordsIn(footOfLine.get(lineId)?.words ?? '', settings.unitSystem),
      pairId: stockPairId,
      pairWords: sizeWordsIn(pair.frozen.sizeWords, settings.unitSystem),
      colours: roleColours(kind, colours),
    },
  ];
}

function startedBatches({ rows }: WorkshopPlan, pairs: readonly StoredPair[]): Batch['started'] {
  return rows.batches
    .filter((batch) => batch.state !== 'gathering')
    .map((batch) => {
      const own = pairs.filter(({ row }) => row.batchId === batch.id && row.left !== 'ripped out');
      const done = own.filter((pair) => pair.row.left !== null || pair.isFinished);
      return {
        id: batch.id,
        name: batch.name,
        isFinished: batch.state === 'finished',
        pairCount: own.length,
        doneCount: done.length,
      };
    })
    .sort((a, b) => b.id - a.id);
}

function entriesOf({ plan }: WorkshopPlan, storedById: ReadonlyMap<number, StoredPair>): Entry[] {
  return plan.wanted.pairs.map((pair, index) => ({
    pair,
    assignment: plan.weeks[index]!,
    stored: pair.started === null ? null : (storedById.get(pair.started.id) ?? null),
  }));
}

const isSpare = ({ pair }: Entry) => pair.isSpare && pair.started === null;

/** What every list of a batch is made from. */
type Gathered = {
  readonly workshopPlan: WorkshopPlan;
  readonly colours: ReadonlyMap<number, NamedColour>;
  readonly names: ReadonlyMap<number, OrderName>;
  readonly stored: readonly StoredPair[];
  readonly storedById: ReadonlyMap<number, StoredPair>;
  readonly orderOfLine: ReadonlyMap<number, OrderName>;
  readonly entries: readonly Entry[];
  /** Groups of like pairs, the spares apart and last. */
  readonly groups: readonly (readonly Entry[])[];
  readonly ofKnitter: ReadonlyMap<number | null, readonly PlannedEntry[]>;
  readonly helpOf: ReturnType<typeof lateHelpOf>;
};

// What was read out of a plan holds as long as the plan does.
const gatheredOf = remember((workshopPlan: WorkshopPlan): Gathered => {
  const { rows } = workshopPlan;
  const names = orderNames(workshopPlan);
  const stored = readPairs(rows);
  const storedById = new Map(stored.map((pair) => [pair.row.id, pair]));
  const entries = entriesOf(workshopPlan, storedById);
  return {
    workshopPlan,
    colours: coloursOf(rows),
    names,
    stored,
    storedById,
    orderOfLine: new Map(rows.lines.map((line) => [line.id, names.get(line.orderId)!])),
    entries,
    groups: [...groupsOf(entries.filter((entry) => !isSpare(entry))), ...groupsOf(entries.filter(isSpare))],
    ofKnitter: entriesByKnitter(entries),
    helpOf: lateHelpIn(workshopPlan),
  };
});

/**
 * What is to make, one page of it: like pairs by due day, the spares apart and last.
 *
 * @param knitterId whose counts the pairs not begun are shown in; null for whoever has them
 */
export function readBatchRows(workshopPlan: WorkshopPlan, wish: PageWish, knitterId: number | null = null): BatchRows {
  const { groups, colours } = gatheredOf(workshopPlan);
  const paging = pagingOf(groups.length, wish);
  const shown = rowsOn(groups, paging);
  const rowsOf = (own: typeof shown) => own.map((group) => kindRow(group, workshopPlan, colours, knitterId));
  return {
    rows: rowsOf(shown.filter(([first]) => !isSpare(first!))),
    spares: rowsOf(shown.filter(([first]) => isSpare(first!))),
    paging,
  };
}

/** A page of the orders that come late, the latest first. */
export function readLateOrders(workshopPlan: WorkshopPlan, wish: PageWish): PageOf<LateOrderHelp> {
  const { lateOrders } = workshopPlan.plan.late;
  const gathered = gatheredOf(workshopPlan);
  const paging = pagingOf(lateOrders.length, wish);
  return { rows: rowsOn(lateOrders, paging).flatMap((order) => lateOrder(order, gathered)), paging };
}

/** A page of the finished pairs that answer orders. */
export function readFromStock(workshopPlan: WorkshopPlan, wish: PageWish): PageOf<PairFromStock> {
  const { fromStock } = workshopPlan.plan.wanted;
  const gathered = gatheredOf(workshopPlan);
  const paging = pagingOf(fromStock.length, wish);
  return { rows: rowsOn(fromStock, paging).flatMap((pair) => pairFromStock(pair, gathered)), paging };
}

/** A page of what one knitter knits, one pair after another; null when there is no such knitter in the plan. */
export function readKnitterPairs(
  workshopPlan: WorkshopPlan,
  knitterId: number,
  wish: PageWish,
): (PageOf<KnitterPair> & { readonly name: string }) | null {
  const knitter = workshopPlan.input.knitters.find(({ id }) => id === knitterId);
  if (!knitter) return null;
  const gathered = gatheredOf(workshopPlan);
  const own = gathered.ofKnitter.get(knitterId) ?? [];
  const paging = pagingOf(own.length, wish);
  return { name: knitter.name, rows: rowsOn(own, paging).map((entry) => knitterPair(entry, gathered)), paging };
}

/** The pairs of a batch as one knitter would knit them, whoever the plan has knit them: all of them together. */
export type BatchInHand = {
  readonly knitterId: number;
  readonly name: string;
  /** Pairs not begun, and what all of them take in this hand. */
  readonly pairCount: number;
  readonly grams: number;
  readonly minutes: number;
};

/**
 * The batch in another hand: grams and minutes. Pairs that are begun keep their own, and so do days and knitters of the
 * plan.
 *
 * @returns null when there is no such knitter in the plan
 */
export function readBatchInHand(workshopPlan: WorkshopPlan, knitterId: number): BatchInHand | null {
  const knitter = workshopPlan.input.knitters.find(({ id }) => id === knitterId);
  if (!knitter) return null;
  const { handwork } = workshopPlan.plan;
  const { entries } = gatheredOf(workshopPlan);
  const kinds = entries.filter(({ stored }) => stored === null).map(({ pair }) => pair.kind);
  return {
    knitterId,
    name: knitter.name,
    pairCount: kinds.length,
    grams: kinds.reduce((sum, kind) => sum + gramsOf(handwork.yarnOf(kind, knitterId)), 0),
    minutes: kinds.reduce((sum, kind) => sum + handwork.minutesOf(kind, knitterId), 0),
  };
}

/** The batch as it stands: what is to make, by whom and when, out of the plan and the pairs that are begun. */
export const readBatch = remember((workshopPlan: WorkshopPlan): Batch => {
  const { plan, rows, today, lineProblems } = workshopPlan;
  const gathered = gatheredOf(workshopPlan);
  const { entries, names, orderOfLine } = gathered;
  const total = addShared(plan.needs.map((need) => need.grams));
  const orderPairs = new Map<number, { pairs: number; toStart: number; dueDay: Day | null }>();
  for (const { pair } of entries) {
    if (pair.orderId === null) continue;
    const known = orderPairs.get(pair.orderId) ?? { pairs: 0, toStart: 0, dueDay: pair.dueDay };
    orderPairs.set(pair.orderId, {
      ...known,
      pairs: known.pairs + 1,
      toStart: known.toStart + (pair.started === null ? 1 : 0),
    });
  }
  const idle = new Map<string, number>();
  for (const { assignment } of entries) {
    if (assignment.finishDay !== null) continue;
    const reason = assignment.reason ?? 'Nobody can knit it as things are.';
    idle.set(reason, (idle.get(reason) ?? 0) + 1);
  }
  const finishDays = entries.flatMap(({ assignment }) => assignment.finishDay ?? []).sort();
  return {
    today,
    revision: rows.revision,
    pairCount: entries.length,
    startedCount: entries.filter(({ pair }) => pair.started !== null).length,
    spareCount: entries.filter(isSpare).length,
    orders: [...orderPairs].map(([id, { pairs, toStart, dueDay }]) => ({
      ...names.get(id)!,
      pairCount: pairs,
      toStart,
      dueDay,
    })),
    grams: total.mean,
    gramsSd: sdOf(total),
    minutes: plan.weeks.reduce((sum, { minutes }) => sum + minutes, 0),
    lastFinishDay: finishDays.at(-1) ?? null,
    yarnCents: plan.lists.chosen.totalCents,
    hands: workshopPlan.input.knitters.map(({ id, name }) => ({ id, name })),
    fromStockCount: plan.wanted.fromStock.length,
    fromStock: plan.wanted.fromStock.slice(0, pairsBegun).flatMap((pair) => pairFromStock(pair, gathered)),
    lineProblems: lineProblems.flatMap(({ lineId, message }) => {
      const order = orderOfLine.get(lineId);
      return order ? [{ order, message }] : [];
    }),
    idle: [...idle].map(([reason, pairCount]) => ({ reason, pairCount })),
    knitters: knitterRows(gathered),
    lateCount: plan.late.lateOrders.length,
    late: plan.late.lateOrders.slice(0, lateBegun).flatMap((order) => lateOrder(order, gathered)),
    started: startedBatches(workshopPlan, gathered.stored),
  };
});
