import type { Assignment, PairToKnit } from '#core/schedule/assign.ts';
import { capacitiesOf, type ScheduleOptions } from '#core/schedule/availability.ts';
import {
  isLessLate,
  type LaidRow,
  type Lateness,
  latenessOfBoth,
  layOutRow,
  nothingLate,
  type RowPair,
  type Steps,
} from '#core/schedule/row.ts';
import { dayFromNumber, dayNumber } from '#core/shared/calendar.ts';
import type { Knitter } from '#core/timing/knitter.ts';

/** Pairs placed in trials at the most: about a hundredth of a second, and enough for all changes of a small workshop. */
const mostSteps = 20_000;
/** Longer rows are left as they are: each trial would cost too much, and one pair more or less changes little. */
const longestRow = 300;

type Row = { readonly pairs: readonly RowPair[]; readonly laid: LaidRow };
type Rows = ReadonlyMap<number, Row>;

/** Pairs that go from one knitter to another, and those that come back for them. */
type Change = {
  readonly from: number;
  readonly to: number;
  readonly gives: RowPair;
  readonly takes: RowPair | null;
};

export type Reassigning = {
  /** As the list rule gives them, in the order of `pairs`. */
  readonly assignments: readonly Assignment[];
  readonly pairs: readonly PairToKnit[];
  /** Positions of the pairs by due day. */
  readonly order: readonly number[];
  readonly knitters: readonly Knitter[];
  readonly minutesOf: (index: number, knitterId: number) => number;
  readonly options: ScheduleOptions;
};

const latenessOf = (rows: Iterable<Row>): Lateness =>
  [...rows].reduce((sum, { laid }) => latenessOfBoth(sum, laid.late), nothingLate);

function longestRowOf(assignments: readonly Assignment[]): number {
  const counts = new Map<number | null, number>();
  for (const { knitterId } of assignments) counts.set(knitterId, (counts.get(knitterId) ?? 0) + 1);
  return Math.max(0, ...counts.values());
}

function rowPairsOf({ assignments, pairs, order, options }: Reassigning): RowPair[] {
  const today = dayNumber(options.today);
  return order.map((index, rank) => {
    const { dueDay, readyDay } = pairs[index]!;
    const ready = Math.max(0, dayNumber(readyDay) - today);
    const due = dueDay === null ? null : dayNumber(dueDay) - today;
    return { index, rank, minutes: assignments[index]!.minutes, ready, due };
  });
}

/** Day by whose end a row is done. */
const endOf = ({ laid }: Row): number => laid.placed.at(-1)?.finish ?? 0;

/**
 * Changes that could bring a late pair home sooner: what is knitted up to it goes elsewhere, first to whoever is done
 * first, or changes places.
 */
function* changesFor(late: RowPair, from: number, rows: Rows, isFree: (pair: RowPair) => boolean): Generator<Change> {
  const { placed } = rows.get(from)!.laid;
  const at = placed.findIndex(({ pair }) => pair === late);
  const upToIt = placed
    .slice(0, at + 1)
    .map(({ pair }) => pair)
    .reverse()
    .filter(isFree);
  const others = [...rows.keys()]
    .filter((id) => id !== from)
    .sort((a, b) => endOf(rows.get(a)!) - endOf(rows.get(b)!) || a - b);
  for (const gives of upToIt) for (const to of others) yield { from, to, gives, takes: null };
  for (const gives of upToIt) {
    for (const to of others) {
      for (const takes of rows.get(to)!.pairs.filter(isFree)) yield { from, to, gives, takes };
    }
  }
}

/**
 * Gives pairs to other knitters where that leaves less late. Late pairs are taken in turn, the latest first; what stands
 * before one in its row, or itself, is moved to another knitter or changes places with a pair of hers, and the two rows
 * are laid out anew. A change is kept only if neither the pairs late nor their days in all nor the days of the latest
 * are more, and one of them is less; then it begins again, until nothing helps or the steps are used up.
 *
 * @param reassigning the list rule's assignments and what they were made from; pinned pairs stay where they are
 * @returns assignments in the same order; the very same when nothing helps
 * Source: local search by moves and exchanges, our own bounds; checked against enumeration in the tests
 */
export function fewerLate(reassigning: Reassigning): readonly Assignment[] {
  const { assignments, pairs, knitters, minutesOf, options } = reassigning;
  if (longestRowOf(assignments) > longestRow) return assignments;
  const capacities = capacitiesOf(assignments, knitters, options);
  const steps: Steps = { left: mostSteps };
  const lay = (id: number, own: readonly RowPair[]): Row => {
    steps.left -= own.length;
    return { pairs: own, laid: layOutRow(own, capacities.get(id)!, steps) };
  };
  const placed = rowPairsOf(reassigning);
  const rows = new Map<number, Row>();
  for (const id of capacities.keys()) {
    const own = placed.filter(({ index }) => assignments[index]!.knitterId === id);
    rows.set(id, lay(id, own));
  }
  const isFree = ({ index }: RowPair) => pairs[index]!.pinnedKnitterId === null;
  const inHandsOf = (pair: RowPair, id: number): RowPair => ({ ...pair, minutes: minutesOf(pair.index, id) });

  const tryChange = ({ from, to, gives, takes }: Change): boolean => {
    const one = rows.get(from)!.pairs.filter((pair) => pair !== gives);
    const other = rows.get(to)!.pairs.filter((pair) => pair !== takes);
    if (takes) one.push(inHandsOf(takes, from));
    other.push(inHandsOf(gives, to));
    const changed = new Map([...rows, [from, lay(from, one)], [to, lay(to, other)]]);
    if ([from, to].some((id) => changed.get(id)!.laid.placed.some(({ finish }) => finish === null))) return false;
    if (!isLessLate(latenessOf(changed.values()), latenessOf(rows.values()))) return false;
    for (const [id, row] of changed) rows.set(id, row);
    return true;
  };
  const improve = (): boolean => {
    const late = [...rows].flatMap(([id, { laid }]) =>
      laid.placed.filter(({ daysLate }) => daysLate > 0).map(({ pair, daysLate }) => ({ id, pair, daysLate })),
    );
    late.sort((a, b) => b.daysLate - a.daysLate || a.pair.rank - b.pair.rank);
    for (const { id, pair } of late) {
      for (const change of changesFor(pair, id, rows, isFree)) {
        if (steps.left <= 0) return false;
        if (tryChange(change)) return true;
      }
    }
    return false;
  };
  let isChanged = false;
  while (improve()) isChanged = true;
  return isChanged ? withRows(assignments, rows, dayNumber(options.today)) : assignments;
}

function withRows(assignments: readonly Assignment[], rows: Rows, today: number): readonly Assignment[] {
  const changed = [...assignments];
  for (const [knitterId, { laid }] of rows) {
    for (const { pair, start, finish } of laid.placed) {
      const { index, minutes } = pair;
      if (finish === null) continue;
      changed[index] = {
        ...assignments[index]!,
        knitterId,
        minutes,
        startDay: dayFromNumber(today + Math.min(start ?? finish, finish)),
        finishDay: dayFromNumber(today + finish),
      };
    }
  }
  return changed;
}
