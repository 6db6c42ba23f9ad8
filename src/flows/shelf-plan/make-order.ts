import { placementKey } from '#core/buying/lots.ts';
import type { Day } from '#core/shared/calendar.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import { createOrder } from '#db/stores/orders.ts';
import { findAnswer, readState, saveAnswer } from '#db/stores/workshop.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { newLinesOf } from '#flows/orders/stored-line.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { changedSince } from '#flows/shelf-plan/plan-from-shelf.ts';

/** The state of the workshop that the lines were made in. */
export type SeenState = { readonly born: string; readonly revision: number };

export type ShelfOrder = {
  readonly outletId: number;
  readonly dueDay: Day | null;
  readonly lines: readonly LineEntry[];
  readonly seen: SeenState;
  /** A name for what was pressed; the same one makes one order, however often it comes. */
  readonly pressed: string;
};

/** The order that was made when the same thing was pressed before. */
export async function findMade(workshop: Workshop, pressed: string): Promise<number | null> {
  const row = await workshop.store.read((db) => findAnswer(db, pressed));
  return row ? Number(row.answerJson) : null;
}

/** Makes the pairs of an answer an order, unless something changed since its lines were made. @returns the order's id */
export async function makeOrder(workshop: Workshop, wish: ShelfOrder, today: Day): Promise<Result<number>> {
  return await workshop.store.write('shelf: order pairs for the shelf’s yarn', async (tx) => {
    const before = await findAnswer(tx, wish.pressed);
    if (before) return succeed(Number(before.answerJson));
    const { born, revision } = await readState(tx);
    if (born !== wish.seen.born || revision !== wish.seen.revision) {
      return refuse({ code: 'changedSince', path: 'outlet', message: changedSince });
    }
    const order = await createOrder(tx, {
      customerId: null,
      outletId: wish.outletId,
      state: 'agreed',
      createdDay: today,
      dueDay: wish.dueDay,
      reference: null,
      lines: await newLinesOf(tx, null, wish.lines),
    });
    const answerJson = String(order.id);
    await saveAnswer(tx, { problemHash: wish.pressed, answerJson, bound: null, isProven: false });
    return succeed(order.id);
  });
}

/** How the plan took an order made for the shelf's yarn: how many pairs, and for how many all their yarn is here. */
export type PlannedOrder = { readonly number: number; readonly pairs: number; readonly fromShelf: number };

/** Null where there is no such order. */
export function plannedOrder({ plan, rows }: WorkshopPlan, orderId: number): PlannedOrder | null {
  const order = rows.orders.find((each) => each.id === orderId);
  if (!order) return null;
  const own = plan.wanted.pairs.filter((pair) => pair.orderId === orderId);
  const { lotOf, mixedOf } = plan.placed;
  const isPlaced = (key: string) => lotOf.has(key) || mixedOf.has(key);
  const isHere = ({ key, kind }: (typeof own)[number]) =>
    plan.handwork.yarnOf(kind, null).every(({ yarnColourId }) => isPlaced(placementKey(key, yarnColourId)));
  return { number: order.number, pairs: own.length, fromShelf: own.filter(isHere).length };
}
