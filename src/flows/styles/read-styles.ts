import { AppError } from '#core/shared/app-error.ts';
import { countOf } from '#core/shared/format.ts';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import type { StyleBody } from '#core/styles/style.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { StyleRow } from '#db/stores/styles.ts';
import { stylesFrom } from '#flows/plan-input.ts';

/** A style of the workshop. */
export type WorkshopStyle = {
  readonly id: number;
  readonly name: string;
  readonly isShipped: boolean;
  readonly version: number;
  readonly body: StyleBody;
  readonly versionId: number;
  /** Which of its versions is the current one, counted from 1. */
  readonly versionNumber: number;
  /** Pairs in orders that are not cancelled. */
  readonly pairsOrdered: number;
  /** Pairs that were begun from it, whatever version. */
  readonly pairsBegun: number;
  /** What keeps it from being removed: "2 orders and a price for several sizes"; empty for nothing. */
  readonly usedBy: string;
};

type StyleRows = Pick<WorkshopRows, 'styles' | 'styleVersions' | 'lines' | 'orders' | 'pairs' | 'priceGroups'>;

/** Cancelled orders count too: they keep what was asked for. */
function usersOf(styleId: number, versionIds: ReadonlySet<number>, rows: StyleRows): string {
  const orders = new Set(rows.lines.filter((line) => line.styleId === styleId).map((line) => line.orderId)).size;
  const pairs = rows.pairs.filter((pair) => versionIds.has(pair.styleVersionId)).length;
  const prices = rows.priceGroups.filter((group) => group.styleId === styleId).length;
  const users = [
    orders > 0 ? countOf(orders, 'order, cancelled ones counted', 'orders, cancelled ones counted') : '',
    pairs > 0 ? countOf(pairs, 'pair', 'pairs') : '',
    prices > 0 ? countOf(prices, 'price for several sizes', 'prices for several sizes') : '',
  ].filter(Boolean);
  return users.length < 2 ? (users[0] ?? '') : `${users.slice(0, -1).join(', ')} and ${users.at(-1)}`;
}

function styleOf(row: StyleRow, rows: StyleRows, current: ReturnType<typeof stylesFrom>['current']) {
  const style = current.get(row.id);
  if (!style) return [];
  const cancelled = new Set(rows.orders.filter((order) => order.state === 'cancelled').map((order) => order.id));
  const lines = rows.lines.filter((line) => line.styleId === row.id && !cancelled.has(line.orderId));
  const versions = rows.styleVersions.filter((version) => version.styleId === row.id);
  const versionIds = new Set(versions.map((version) => version.id));
  const found: WorkshopStyle = {
    ...{ id: row.id, name: row.name, isShipped: row.isShipped, version: row.version },
    ...{ body: style.body, versionId: style.versionId },
    versionNumber: versions.find((version) => version.id === style.versionId)?.number ?? 1,
    pairsOrdered: lines.reduce((sum, line) => sum + line.quantity, 0),
    pairsBegun: rows.pairs.filter((pair) => versionIds.has(pair.styleVersionId)).length,
    usedBy: usersOf(row.id, versionIds, rows),
  };
  return [found];
}

/** Every style of the workshop, in the order they were added. */
export function workshopStyles(rows: StyleRows): WorkshopStyle[] {
  const { current } = stylesFrom(rows);
  return rows.styles.flatMap((row) => styleOf(row, rows, current));
}

/** @throws {AppError} `notFound` */
export function workshopStyle(rows: StyleRows, id: number): WorkshopStyle {
  const style = workshopStyles(rows).find((each) => each.id === id);
  if (!style) throw new AppError('notFound', 'This style is not here; it may have been removed.');
  return style;
}

/** The styles that ship and that this workshop does not have. */
export function missingStyles(rows: Pick<WorkshopRows, 'styles' | 'styleVersions'>): readonly StyleBody[] {
  const { current } = stylesFrom(rows);
  const known = rows.styles.filter((row) => row.isShipped).map((row) => current.get(row.id)?.body.style);
  return shippedStyles.filter((body) => !known.includes(body.style));
}
