import type { Dialect } from '#core/cards/dialect.ts';
import type { Side } from '#core/styles/style.ts';

const short: Readonly<Record<Side, 'RS' | 'WS'>> = { 'right side': 'RS', 'wrong side': 'WS' };
const knitOn: Readonly<Record<'RS' | 'WS', 'k' | 'p'>> = { RS: 'k', WS: 'p' };
const opposite = { k: 'p', p: 'k' } as const;

/**
 * The side a row lies on, shortened.
 *
 * @param startsOn side of the first row
 * @param later rows after the first, from 0
 * @example sideOf('wrong side', 0) // => 'WS'
 * @example sideOf('wrong side', 1) // => 'RS'
 */
export function sideOf(startsOn: Side, later: number): 'RS' | 'WS' {
  const first = short[startsOn];
  return later % 2 === 0 ? first : first === 'RS' ? 'WS' : 'RS';
}

/**
 * One row of a rib: blocks of `wide` stitches, beginning with knit or purl.
 *
 * @param stitches stitches in the row, at least 1
 * @param wide 1 or 2 (any whole number from 1)
 * @param begins what the row begins with
 * @returns the row with its repeat, and what it ends with seen from the other side
 * @example ribRow(34, 2, 'k') // => 'k2, *p2, k2; repeat from * to the end'
 * @example ribRow(36, 2, 'k') // => '*k2, p2; repeat from * to the end'
 * @example ribRow(35, 2, 'k') // => '*k2, p2; repeat from * to the last 3 sts, k2, p1'
 * @example ribRow(33, 2, 'p') // => '*p2, k2; repeat from * to the last st, p1'
 * @example ribRow(15, 1, 'p') // => 'p1, *k1, p1; repeat from * to the end'
 * @example ribRow(3, 2, 'k') // => 'k2, p1'
 */
export function ribRow(stitches: number, wide: number, begins: 'k' | 'p'): string {
  const other = opposite[begins];
  const repeat = 2 * wide;
  const rest = stitches % repeat;
  if (stitches < repeat) return blocks(stitches, wide, begins);
  if (rest === 0) return `*${begins}${wide}, ${other}${wide}; repeat from * to the end`;
  if (rest === wide) return `${begins}${wide}, *${other}${wide}, ${begins}${wide}; repeat from * to the end`;
  const last = rest === 1 ? 'the last st' : `the last ${rest} sts`;
  return `*${begins}${wide}, ${other}${wide}; repeat from * to ${last}, ${blocks(rest, wide, begins)}`;
}

function blocks(stitches: number, wide: number, begins: 'k' | 'p'): string {
  const parts: string[] = [];
  let stitch = begins;
  for (let left = stitches; left > 0; left -= wide) {
    parts.push(`${stitch}${Math.min(wide, left)}`);
    stitch = opposite[stitch];
  }
  return parts.join(', ');
}

/** What the last block of a rib row is, seen from the other side: what the way back begins with. */
function wayBack(stitches: number, wide: number, begins: 'k' | 'p'): 'k' | 'p' {
  const blocksInRow = Math.ceil(stitches / wide);
  const last = blocksInRow % 2 === 1 ? begins : opposite[begins];
  return opposite[last];
}

/** On which side a run of rows begins; a single row has its side beside its number. */
function beginningWords(startsOn: Side, rows: number): string {
  return rows === 1 ? '' : `, beginning with a ${short[startsOn]} row`;
}

function ribWords(stitches: number, wide: number, startsOn: Side, rows: number): string {
  const rightRow = ribRow(stitches, wide, 'k');
  const lastWidth = stitches % wide === 0 ? wide : stitches % wide;
  const back = wayBack(stitches, wide, 'k');
  // Where the last block is a narrow one, the way back begins with it.
  const wrongRow =
    lastWidth === wide
      ? ribRow(stitches, wide, back)
      : `${back}${lastWidth}, ${ribRow(stitches - lastWidth, wide, opposite[back])}`;
  const name = `${wide} x ${wide} rib${beginningWords(startsOn, rows)}`;
  if (rightRow === wrongRow) return `${name}: every row ${rightRow}`;
  const both = { RS: `RS rows: ${rightRow}`, WS: `WS rows: ${wrongRow}` };
  const order = short[startsOn] === 'RS' ? [both.RS, both.WS] : [both.WS, both.RS];
  return `${name}. ${order.slice(0, rows).join('. ')}`;
}

/**
 * How rows of a fabric are worked.
 *
 * @param fabric a fabric's name
 * @param stitches stitches in the row
 * @param startsOn side of the first row
 * @param rows how many, from 1
 * @param dialect the knitter's words
 */
export function fabricWords(fabric: string, stitches: number, startsOn: Side, rows: number, dialect: Dialect): string {
  const beginning = beginningWords(startsOn, rows);
  if (fabric === 'stocking') {
    const first = short[startsOn];
    const both = first === 'RS' ? 'k on RS, p on WS' : 'p on WS, k on RS';
    return rows === 1 ? `${dialect.stocking}: ${knitOn[first]}` : `${dialect.stocking} (${both})${beginning}`;
  }
  if (fabric === 'garter') return `garter stitch (k every row)${beginning}`;
  if (fabric === 'rib 2x2') return ribWords(stitches, 2, startsOn, rows);
  if (fabric === 'rib 1x1') return ribWords(stitches, 1, startsOn, rows);
  return `${fabric}${beginning}`;
}
