import { StyleFault } from '#core/styles/fault.ts';
import type { Change } from '#core/styles/style.ts';

/** One row of a change: stitches before and after, and how many of those before are worked together. */
export type ShapingRow = { readonly before: number; readonly after: number; readonly taken: number };

/** All rows of a change, plain ones between included. */
export type Shaping = { readonly rows: readonly ShapingRow[]; readonly after: number };

const plainRow = (stitches: number): ShapingRow => ({ before: stitches, after: stitches, taken: 0 });

function togetherAcross(stitches: number, limit: number, plainBetween: number): ShapingRow[] {
  const rows: ShapingRow[] = [];
  let left = stitches;
  do {
    for (let plain = 0; rows.length > 0 && plain < plainBetween; plain += 1) rows.push(plainRow(left));
    const after = Math.ceil(left / 2);
    rows.push({ before: left, after, taken: left });
    left = after;
  } while (left > limit && left > 1);
  return rows;
}

function stepByStep(stitches: number, target: number, by: number, everyRows: number): ShapingRow[] {
  const rows: ShapingRow[] = [];
  let left = stitches;
  while (left > target) {
    const less = Math.min(by, left - target);
    rows.push({ before: left, after: left - less, taken: 2 * less });
    left -= less;
    for (let plain = 1; plain < everyRows; plain += 1) rows.push(plainRow(left));
  }
  return rows;
}

/**
 * The rows of a change from a number of stitches.
 * Two together across: an odd count knits one first; while more than the limit are left, plain rows and once more.
 * Centre and edges: `by` stitches less every so many rows; the last time takes what is left. Evenly: one row.
 *
 * @param change the section; its path in the style is named in a fault
 * @param stitches stitches before, at least 1
 * @param target stitches to end with; unused for two together across
 * @param limit most stitches that may be left by two together across
 * @throws {StyleFault} when a change by steps would have to increase, or nothing is left
 * @example shapingOf({ how: 'two together across', plainRowsBetween: 1 }, 33, 0, 16, 'toe').rows.length // => 3
 * @example shapingOf({ how: 'two together across', plainRowsBetween: 1 }, 29, 0, 16, 'toe').after // => 15
 * @example shapingOf({ how: 'centre', by: 4, everyRows: 2 }, 46, 26, 0, 'instep').rows.length // => 10
 * @example shapingOf({ how: 'evenly' }, 40, 34, 0, 'ankle').rows // => [{ before: 40, after: 34, taken: 12 }]
 */
export function shapingOf(change: Change, stitches: number, target: number, limit: number, path: string): Shaping {
  if (change.how === 'two together across') {
    const rows = togetherAcross(stitches, limit, change.plainRowsBetween);
    return { rows, after: rows.at(-1)!.after };
  }
  if (target < 1) throw new StyleFault(path, 'No stitches would be left: change to at least one.');
  if (change.how === 'evenly') {
    return { rows: [{ before: stitches, after: target, taken: 2 * Math.abs(stitches - target) }], after: target };
  }
  if (target > stitches) {
    const message = `There are only ${stitches} stitches here, and ${target} are wanted after it: this change can only take away.`;
    throw new StyleFault(path, message);
  }
  return { rows: stepByStep(stitches, target, change.by, change.everyRows), after: target };
}
