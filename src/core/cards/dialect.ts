import type { KnittingWords } from '#core/cards/card.ts';
import type { UnitSystem } from '#core/shared/measures.ts';

/** The words in which British and American knitters differ. */
export type Dialect = {
  readonly words: KnittingWords;
  readonly units: UnitSystem;
  readonly gauge: 'tension' | 'gauge';
  readonly stocking: string;
  readonly castOff: 'cast off' | 'bind off';
  readonly boundEdge: 'cast-off edge' | 'bound-off edge';
  readonly boundEnd: 'cast-off end' | 'bound-off end';
  readonly lengthwise: 'lengthways' | 'lengthwise';
  readonly colour: 'colour' | 'color';
  readonly centre: 'centre' | 'center';
  /** A decrease that leans to the left. */
  readonly leftLeaning: 'k2tog tbl' | 'ssk';
};

const wordings: Readonly<Record<KnittingWords, Omit<Dialect, 'units'>>> = {
  british: {
    words: 'british',
    gauge: 'tension',
    stocking: 'stocking stitch',
    castOff: 'cast off',
    boundEdge: 'cast-off edge',
    boundEnd: 'cast-off end',
    lengthwise: 'lengthways',
    colour: 'colour',
    centre: 'centre',
    leftLeaning: 'k2tog tbl',
  },
  american: {
    words: 'american',
    gauge: 'gauge',
    stocking: 'stockinette stitch',
    castOff: 'bind off',
    boundEdge: 'bound-off edge',
    boundEnd: 'bound-off end',
    lengthwise: 'lengthwise',
    colour: 'color',
    centre: 'center',
    leftLeaning: 'ssk',
  },
};

/**
 * A text with a capital letter at its beginning.
 *
 * @example capitalised('foot') // => 'Foot'
 * @example capitalised('') // => ''
 */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/**
 * Names in a row: commas, and a last word between the last two.
 *
 * @example inARow(['Heather', 'Oat'], 'and') // => 'Heather and Oat'
 * @example inARow(['a', 'b', 'c'], 'and') // => 'a, b and c'
 * @example inARow([], 'and') // => ''
 */
export function inARow(names: readonly string[], word: string): string {
  if (names.length < 2) return names[0] ?? '';
  return `${names.slice(0, -1).join(', ')} ${word} ${names.at(-1)}`;
}

/**
 * Stitches in words, as knitters write them.
 *
 * @example stitchesOf(28) // => '28 sts'
 * @example stitchesOf(1) // => '1 st'
 */
export function stitchesOf(count: number): string {
  return `${count} ${count === 1 ? 'st' : 'sts'}`;
}

/**
 * A stretch of rows by number.
 *
 * @param from first row, the cast-on is row 1
 * @param to last row, at least `from`
 * @example rowsFromTo(2, 22) // => 'Rows 2 to 22'
 * @example rowsFromTo(2, 3) // => 'Rows 2 and 3'
 * @example rowsFromTo(43, 43) // => 'Row 43'
 */
export function rowsFromTo(from: number, to: number): string {
  if (from === to) return `Row ${from}`;
  return to === from + 1 ? `Rows ${from} and ${to}` : `Rows ${from} to ${to}`;
}

const explained: readonly (readonly [RegExp, string])[] = [
  [/\bk\b|\bk\d+\b/, 'k: knit'],
  [/\bp\b|\bp\d+\b/, 'p: purl'],
  [/\bsts?\b/, 'st(s): stitch(es)'],
  [/\bRS\b/, 'RS: right side'],
  [/\bWS\b/, 'WS: wrong side'],
  [/\bk2tog\b/, 'k2tog: knit two together'],
  [/\bp2tog\b/, 'p2tog: purl two together'],
  [/\bk3tog\b/, 'k3tog: knit three together'],
  [/\btbl\b/, 'tbl: through the back loops'],
  [/\bssk\b/, 'ssk: slip two one by one knitwise, knit them together through the back loops'],
  [/\bm1\b/, 'm1: make one, lift the strand before the next stitch and knit it twisted'],
];

/**
 * The abbreviations that some texts use, each explained once.
 *
 * @example abbreviationsIn(['k2tog to the end: 14 sts.']) // => ['st(s): stitch(es)', 'k2tog: knit two together']
 */
export function abbreviationsIn(texts: readonly string[]): string[] {
  const all = texts.join(' ');
  return explained.filter(([shape]) => shape.test(all)).map(([, words]) => words);
}

/** How a card speaks: in whose words, and in which units. */
export function dialectOf(words: KnittingWords, units: UnitSystem): Dialect {
  return { ...wordings[words], units };
}
