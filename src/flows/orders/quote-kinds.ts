import type { Kind } from '#core/batch/lines.ts';
import type { Problem } from '#core/shared/problem.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { footColumns, sizeColumns } from '#flows/orders/stored-line.ts';
import { planInputFrom } from '#flows/plan-input.ts';
import { noDetails } from '#flows/plan-orders.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

const noBatch = { batches: [], batchLines: [], pairs: [], pairPieces: [], pairColours: [], reservations: [] };
const quoteOrder = {
  ...noDetails,
  id: 1,
  number: 1,
  customerId: null,
  state: 'asked' as const,
  dueDay: null,
  reference: null,
};

/**
 * The kinds of lines that are not stored yet, worked out as if they were.
 *
 * @returns one an entry, in their order; a problem at `size` where a pair cannot be planned
 */
export function kindsOfEntries(plan: WorkshopPlan, entries: readonly LineEntry[]): readonly (Kind | Problem)[] {
  const { rows, settings, today } = plan;
  const firstFootId = 1 + Math.max(0, ...rows.feet.map((foot) => foot.id));
  const feet = entries.flatMap(({ size }, index) =>
    size.by === 'foot'
      ? [{ id: firstFootId + index, customerId: null, name: null, version: 1, ...footColumns(size) }]
      : [],
  );
  const lines = entries.map(({ size, colours: _, ...entry }, index) => ({
    id: index + 1,
    orderId: quoteOrder.id,
    version: 1,
    ...entry,
    ...sizeColumns(size, firstFootId + index),
  }));
  const lineColours = entries.flatMap(({ colours }, index) =>
    colours.map((colour, place) => ({ id: index * 100 + place + 1, lineId: index + 1, ...colour })),
  );
  const orders = [{ ...quoteOrder, outletId: rows.outlets[0]?.id ?? 0, createdDay: today }];
  const source = planInputFrom(
    { ...rows, ...noBatch, orders, lines, lineColours, feet: [...rows.feet, ...feet] },
    settings,
    today,
  );
  return lines.map(({ id }) => {
    const said = source.lineProblems.find((problem) => problem.lineId === id);
    const message = said?.message ?? 'This pair cannot be planned: choose its size and colours again.';
    return source.kindOfLine.get(id) ?? { code: 'notPlanned', path: 'size', message };
  });
}
