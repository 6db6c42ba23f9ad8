import { capitalised, type Dialect, stitchesOf } from '#core/cards/dialect.ts';
import { sideOf } from '#core/cards/fabric-rows.ts';
import type { Shaping } from '#core/styles/shaping.ts';
import type { Change, Side } from '#core/styles/style.ts';

/** One row, or a run of like rows, of a change: how many and what is done in them. */
export type ChangeRows = { readonly rows: number; readonly words: string; readonly key: string };

/** A row of two together all across; an odd count works one first. */
function acrossWords(before: number, side: 'RS' | 'WS'): string {
  const together = side === 'RS' ? 'k2tog' : 'p2tog';
  const one = side === 'RS' ? 'k1' : 'p1';
  if (before === 2) return together;
  return before % 2 === 1 ? `${one}, *${together}; repeat from * to the end` : `*${together}; repeat from * to the end`;
}

function plainWords(fabric: string, side: 'RS' | 'WS'): string {
  if (fabric === 'garter') return 'k';
  if (fabric === 'stocking') return side === 'RS' ? 'k' : 'p';
  return 'work the sts as they show';
}

/** The plain rows between two steps: one side alone when there is one row, else both. */
function betweenWords(fabric: string, everyRows: number, startsOn: Side): string {
  if (fabric !== 'garter' && fabric !== 'stocking') return 'work the sts as they show in the rows between';
  if (everyRows === 2 || fabric === 'garter') return `${plainWords(fabric, sideOf(startsOn, 1))} the rows between`;
  return 'in the rows between k on RS, p on WS';
}

const times = (stitch: string, count: number): string =>
  count === 0 ? '' : count === 1 ? stitch : `${stitch} ${count === 2 ? 'twice' : `${count} times`}`;

/**
 * A row that takes stitches away at its middle: those before the middle lean one way, those after it the other.
 *
 * @example centreRow(46, 4, 'ssk') // => 'k19, k2tog twice, ssk twice, k19'
 * @example centreRow(28, 2, 'ssk') // => 'k12, k2tog, ssk, k12'
 * @example centreRow(27, 1, 'ssk') // => 'k12, k2tog, k13'
 */
export function centreRow(stitches: number, less: number, leftLeaning: string): string {
  const right = Math.ceil(less / 2);
  const left = less - right;
  const plain = stitches - 2 * less;
  const before = Math.floor(plain / 2);
  const after = plain - before;
  return [before > 0 ? `k${before}` : '', times('k2tog', right), times(leftLeaning, left), after > 0 ? `k${after}` : '']
    .filter((part) => part !== '')
    .join(', ');
}

/**
 * A row that takes stitches away at both edges, one in from each edge.
 *
 * @example edgesRow(20, 2, 'ssk') // => 'k1, k2tog, k14, ssk, k1'
 * @example edgesRow(20, 1, 'ssk') // => 'k1, k2tog, k17'
 */
export function edgesRow(stitches: number, less: number, leftLeaning: string): string {
  const atStart = Math.ceil(less / 2);
  const atEnd = less - atStart;
  const middle = stitches - 2 * less - 1 - (atEnd > 0 ? 1 : 0);
  return [
    'k1',
    times('k2tog', atStart),
    middle > 0 ? `k${middle}` : '',
    times(leftLeaning, atEnd),
    atEnd > 0 ? 'k1' : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}

function groupsOf(total: number, parts: number): readonly { readonly size: number; readonly count: number }[] {
  const size = Math.floor(total / parts);
  const longer = total - size * parts;
  return [
    { size: size + 1, count: longer },
    { size, count: parts - longer },
  ].filter(({ count }) => count > 0);
}

const repeated = (words: string, count: number): string => (count === 1 ? words : `(${words}) ${count} times`);

/**
 * One row that changes the number of stitches evenly.
 *
 * @param before stitches before, at least 1
 * @param after stitches after, at least 1
 * @returns groups that use up the row exactly; a change too great for one decrease or increase a group is said in words
 * @example evenlyRow(40, 34) // => '(k5, k2tog) 4 times, (k4, k2tog) 2 times'
 * @example evenlyRow(30, 33) // => '(k10, m1) 3 times'
 * @example evenlyRow(20, 20) // => 'k'
 * @example evenlyRow(30, 10) // => '*k3tog; repeat from * to the end'
 * @example evenlyRow(10, 25) // => 'increase 15 sts evenly across, more than one in some places'
 */
export function evenlyRow(before: number, after: number): string {
  if (before === after) return 'k';
  if (before > after) {
    const less = before - after;
    if (before === 3 * after) return '*k3tog; repeat from * to the end';
    if (2 * less > before) return `decrease ${stitchesOf(less)} evenly across, three together in some places`;
    return groupsOf(before, less)
      .map(({ size, count }) => repeated(size === 2 ? 'k2tog' : `k${size - 2}, k2tog`, count))
      .join(', ');
  }
  const more = after - before;
  if (more > before) return `increase ${stitchesOf(more)} evenly across, more than one in some places`;
  return groupsOf(before, more)
    .map(({ size, count }) => repeated(`k${size}, m1`, count))
    .join(', ');
}

/**
 * The rows of a change in words, one entry a row; steps at the centre or the edges are put together as a list.
 *
 * @param change the section of the style
 * @param shaping its rows, as the counts have them
 * @param startsOn side of the first row
 * @param firstRow number of the first row, from the cast-on
 * @param dialect the knitter's words
 */
export function changeRows(
  change: Change,
  shaping: Shaping,
  startsOn: Side,
  firstRow: number,
  dialect: Dialect,
): ChangeRows[] {
  const { rows } = shaping;
  if (rows.length === 0) return [];
  if (change.how === 'evenly') {
    const words = `${evenlyRow(rows[0]!.before, rows[0]!.after)}: ${stitchesOf(rows[0]!.after)}.`;
    return [{ rows: 1, words, key: '1' }];
  }
  if (change.how === 'two together across') {
    return rows.map((row, index) => {
      const side = sideOf(startsOn, index);
      const words =
        row.taken > 0
          ? `${acrossWords(row.before, side)}: ${stitchesOf(row.after)}.`
          : `${plainWords('stocking', side)} to the end.`;
      return { rows: 1, words, key: String(index + 1) };
    });
  }
  const rowOf = change.how === 'centre' ? centreRow : edgesRow;
  const shaped = rows.flatMap((row, index) => (row.taken > 0 ? [{ ...row, index }] : []));
  const list = shaped.map(
    ({ before, after, index }) =>
      `row ${firstRow + index} (${sideOf(startsOn, index)}): ${rowOf(before, before - after, dialect.leftLeaning)}: ${stitchesOf(after)}`,
  );
  const others = change.everyRows > 1 ? `, ${betweenWords(change.fabric, change.everyRows, startsOn)}` : '';
  const where = change.how === 'centre' ? `at the ${dialect.centre}` : 'at both edges';
  return [{ rows: rows.length, words: `decrease ${where}${others}. ${capitalised(list.join('; '))}.`, key: '1' }];
}
