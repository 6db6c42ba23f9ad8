import type { WorkedPiece, WorkedStyle } from '#core/styles/work-out.ts';

/** What each count of handwork is made of, as arithmetic with names: `2 x (29 x 41 sole and sides + 34 x 2 join rows)`. */
export type OperationWords = {
  readonly stitches: Readonly<Record<string, string>>;
  readonly castOnStitches: string;
  readonly twoTogetherStitches: string;
  readonly bindOffStitches: string;
  readonly rowTurns: string;
  readonly seamMm: string;
  readonly ends: string;
  readonly colourChanges: string;
  readonly drawUps: string;
  readonly piecesBegun: string;
};

type Terms = Map<string, string[]>;

function add(terms: Terms, count: string, term: string): void {
  terms.set(count, [...(terms.get(count) ?? []), term]);
}

function addSections(terms: Terms, { piece, sections }: WorkedPiece): void {
  for (const { section, stitchesBefore, rows, shaping } of sections) {
    const name = `${piece.name}, ${section.name}`;
    if (section.do === 'castOn' || section.do === 'pickUp')
      add(terms, 'castOnStitches', `${stitchesBefore} ${piece.name}`);
    if (section.do === 'bindOff') add(terms, 'bindOffStitches', `${stitchesBefore} ${piece.name}`);
    if (section.do === 'drawUp') add(terms, 'drawUps', `1 ${name}`);
    if (section.do === 'work' && rows > 0) {
      add(terms, `knitting ${section.fabric}`, `${stitchesBefore} \u00d7 ${rows} ${name}`);
    }
    if (section.do === 'change') {
      const fabric = section.how === 'two together across' ? 'stocking' : section.fabric;
      for (const { before, taken } of shaping?.rows ?? []) {
        if (taken > 0) add(terms, 'twoTogetherStitches', `${taken} ${name}`);
        if (before > taken) add(terms, `knitting ${fabric}`, `${before - taken} ${name}`);
      }
    }
    if ((section.do === 'work' || section.do === 'change') && rows > 0) add(terms, 'rowTurns', `${rows} ${name}`);
  }
}

function addEnds(terms: Terms, { piece, sections }: WorkedPiece, isOneColour: boolean): void {
  const colours = sections.map(({ section }) => section.colour);
  const changes = isOneColour
    ? 0
    : colours.filter((colour, index) => index > 0 && colour !== colours[index - 1]).length;
  const finishes = sections.filter(({ section }) => section.do === 'bindOff' || section.do === 'drawUp').length;
  if (changes > 0) add(terms, 'colourChanges', `${changes} ${piece.name}`);
  add(terms, 'ends', `${1 + finishes} ${piece.name}`);
  if (changes > 0) add(terms, 'ends', `2 \u00d7 ${changes} where ${piece.name} changes colour`);
  add(terms, 'piecesBegun', `1 ${piece.name}`);
}

function termsOf({ pieces, seams, shape }: WorkedStyle): Terms {
  const terms: Terms = new Map();
  for (const piece of pieces) {
    addSections(terms, piece);
    addEnds(terms, piece, shape.isOneColour);
  }
  for (const { join, lengthMm } of seams) {
    add(terms, 'seamMm', `${lengthMm.toFixed(1)} ${join.name}`);
    if (join.withTail === undefined) add(terms, 'ends', `2 of ${join.name}`);
  }
  return terms;
}

/**
 * How the counts of `operationsOf` come about, for the working of the time.
 *
 * @param left one slipper, as `workOut` gives it
 * @param right the other; the same object where they are alike
 * @returns for each count its terms; `none` where there is nothing to count
 */
export function operationsInWords(left: WorkedStyle, right: WorkedStyle): OperationWords {
  const [ofLeft, ofRight] = [termsOf(left), right === left ? null : termsOf(right)];
  const names = [...new Set([...ofLeft.keys(), ...(ofRight?.keys() ?? [])])];
  const wordsOf = (name: string) => {
    const terms = ofLeft.get(name) ?? [];
    if (ofRight) return [...terms, ...(ofRight.get(name) ?? [])].join(' + ') || 'none';
    if (terms.length === 0) return 'none';
    return terms.length === 1 ? `2 \u00d7 ${terms[0]}` : `2 \u00d7 (${terms.join(' + ')})`;
  };
  const knitted = names.filter((name) => name.startsWith('knitting '));
  return {
    stitches: Object.fromEntries(knitted.map((name) => [name.slice('knitting '.length), wordsOf(name)])),
    castOnStitches: wordsOf('castOnStitches'),
    twoTogetherStitches: wordsOf('twoTogetherStitches'),
    bindOffStitches: wordsOf('bindOffStitches'),
    rowTurns: wordsOf('rowTurns'),
    seamMm: wordsOf('seamMm'),
    ends: wordsOf('ends'),
    colourChanges: wordsOf('colourChanges'),
    drawUps: wordsOf('drawUps'),
    piecesBegun: wordsOf('piecesBegun'),
  };
}
