import type { CardInput, CardStep } from '#core/cards/card.ts';
import { capitalised, type Dialect, inARow } from '#core/cards/dialect.ts';
import { slippersOf } from '#core/cards/piece-yarn.ts';
import type { SlipperCounts } from '#core/cards/seams.ts';
import { type CardSeam, pieceOfEdge, type SewOn } from '#core/cards/seams.ts';
import { isFibreUnknown, unknownFibre } from '#core/gauge/fibre-words.ts';
import type { PieceCounts } from '#core/styles/spec.ts';
import type { EdgeName } from '#core/styles/style.ts';

export type SewingInput = {
  readonly input: CardInput;
  readonly slipper: SlipperCounts;
  readonly seams: readonly CardSeam[];
  readonly dialect: Dialect;
  readonly sewOn: SewOn;
  readonly isTurnedDown: boolean;
  readonly nameOf: (role: string) => string;
};

/** Stitches of each edge that a side seam takes in: what the piece's flat width leaves out. */
function takesOf(piece: PieceCounts | undefined): number {
  if (!piece) return 0;
  return Math.round(piece.castOnStitches - (piece.widthMm * piece.stitchesPer10Cm) / 100) / 2;
}

const takesWords = (takes: number): string =>
  takes === 0
    ? 'edge to edge'
    : takes === 0.5
      ? 'taking in half a st of each edge'
      : takes === 1
        ? 'taking in one st of each edge'
        : `taking in ${takes} sts of each edge`;

/** The end a seam is sewn with. */
function threadWords(seam: CardSeam, { dialect, nameOf }: SewingInput): string {
  const tail = seam.join.withTail;
  if (tail === 'cast-on') return 'With the cast-on end';
  if (tail === 'draw-up') return 'With the drawn-up end';
  if (tail === 'bind-off') return `With the ${dialect.boundEnd}`;
  return `With a new length of ${nameOf(seam.join.colour)}`;
}

/** A side that was split by a mark, and which part of it. */
function partOf(edges: readonly EdgeName[]): string | undefined {
  return edges[0]?.split('.')[2];
}

function isSide(edges: readonly EdgeName[]): boolean {
  return edges.every((edge) => ['left', 'right'].includes(edge.split('.')[1] ?? ''));
}

function sideSeamWords(seam: CardSeam, sewing: SewingInput, one: readonly EdgeName[]): string {
  const { input, slipper, isTurnedDown, dialect } = sewing;
  const piece = pieceOfEdge(one[0]!);
  const part = partOf(one);
  const isDrawnUp = input.body.pieces
    .find(({ name }) => name === piece)
    ?.sections.some((section) => section.do === 'drawUp');
  const start = isDrawnUp ? 'toe' : dialect.boundEdge;
  const whole = seam.join.withTail === 'cast-on' ? 'from the cast-on edge up' : `from the ${start} to the cast-on edge`;
  const reach =
    part === 'rest'
      ? `from the ${start} to the marks`
      : part === undefined
        ? whole
        : `from the cast-on edge to the marks`;
  const isCuff = input.body.pieces.find(({ name }) => name === piece)?.isOptional ?? false;
  const turned =
    isCuff && isTurnedDown && slipper.pieces.length > 1
      ? ` Sew the half next to the ${dialect.boundEdge} from the other side: it shows when the cuff is turned down.`
      : '';
  return `${threadWords(seam, sewing)} sew the two side edges of the ${piece} together, ${reach}, ${takesWords(seam.join.takes ?? takesOf(slipper.pieces.find(({ name }) => name === piece)))}.${turned}`;
}

function sewnOnWords(
  seam: CardSeam,
  sewing: SewingInput,
  one: readonly EdgeName[],
  other: readonly EdgeName[],
): string {
  const { sewOn, slipper } = sewing;
  const upper = pieceOfEdge(one[0]!);
  const lower = pieceOfEdge(other[0]!);
  const place = seam.join.place ? `, ${seam.join.place}` : '';
  const edge = one[0]?.split('.')[1] === 'start' ? 'cast-on edge' : 'last edge';
  const where = partOf(other) === 'rest' ? 'closed part' : isSide(other) ? 'opening' : 'edge';
  const counts = slipper.pieces.find(({ name }) => name === upper);
  const ratio = isSide(other)
    ? `, ${sewOn.stitches} ${sewOn.stitches === 1 ? 'st' : 'sts'} of the ${upper} to ${sewOn.rows} ${sewOn.rows === 1 ? 'row' : 'rows'} of the ${lower}`
    : counts
      ? ', st for st'
      : '';
  return `Pin the ${edge} of the ${upper} around the ${where} of the ${lower}${place}. ${threadWords(seam, sewing)} sew it on${ratio}.`;
}

/** The seams of one slipper in order, each a step. */
export function sewingSteps(sewing: SewingInput): CardStep[] {
  const { dialect } = sewing;
  return sewing.seams.map((seam) => {
    const { join, piece } = seam;
    const title = `${capitalised(join.name)}.`;
    const [one = [], other = []] = join.edges ?? [];
    const words =
      join.fold !== undefined
        ? `Fold the ${piece} ${dialect.lengthwise}, right side out, so that the ${join.fold.endsWith('.start') ? 'cast-on' : 'last'} edge lies double. ${threadWords(seam, sewing)} sew its halves together, edge to edge.`
        : isSide(one) && isSide(other) && pieceOfEdge(one[0]!) === pieceOfEdge(other[0]!)
          ? sideSeamWords(seam, sewing, one)
          : sewnOnWords(seam, sewing, one, other);
    return { key: join.name, words: `${title} ${words}`, rows: 0, fromRow: null, toRow: null };
  });
}

/** The seams in one line, for who has sewn such a pair before. */
export function sewingInShort({ seams, sewOn, input }: SewingInput): string {
  const names = seams.map(({ join }) => {
    const [, other = []] = join.edges ?? [];
    const isSewnOn = join.edges !== undefined && isSide(other) && !isSide(join.edges[0]);
    if (isSewnOn) return `${join.name} (${sewOn.stitches} sts to ${sewOn.rows} rows)`;
    return partOf(other) === 'rest' ? `${join.name} to the marks` : join.name;
  });
  const ends =
    slippersOf(input).length > 1
      ? `${input.spec.operations.ends} ends`
      : `${Math.round(input.spec.operations.ends / 2)} ends each`;
  return `${names.join(', ')}; ${ends}.`;
}

/** Washing by what is known of the fibre; one unknown yarn decides for all. */
function washWords(input: CardInput): string {
  const isUnknown = input.strands.some((strand) => strand.fibre === null);
  return isUnknown
    ? 'The fibre is unknown: wash by hand in cool water, pull into shape and dry flat.'
    : 'Wash as the ball band says, pull into shape and dry flat.';
}

/** What comes after the seams: ends, the other slipper, washing, the sole. */
export function finishingSteps({ input }: Pick<SewingInput, 'input'>): CardStep[] {
  const { spec } = input;
  const each = Math.round(spec.operations.ends / 2);
  const step = (key: string, words: string): CardStep => ({ key, words, rows: 0, fromRow: null, toRow: null });
  const ends =
    slippersOf(input).length > 1
      ? `Weave in the ends on the inside, ${spec.operations.ends} in the pair.`
      : `Weave in the ends on the inside, ${each} in each slipper.`;
  return [
    step('ends', ends),
    step('wash', washWords(input)),
    step('grip', 'Sew, glue or dot a grip on the soles: smooth knitting slips on hard floors.'),
  ];
}

/** What to be careful about with this pair. */
export function cautionsOf(input: CardInput): string[] {
  const fibres = [...new Set(input.strands.flatMap(({ fibre }) => fibre ?? []))];
  const isUnknown = input.strands.some(({ fibre }) => isFibreUnknown(fibre));
  const isChild = input.person === 'child';
  return [
    'Smooth knitted soles slip on hard floors and stairs.',
    ...(isChild ? ["For a child: nothing small, tied or loose on babies' pairs."] : []),
    ...(isUnknown ? [unknownFibre] : []),
    ...(fibres.length > 0 ? [`In the yarn: ${inARow(fibres, 'and')}; fibres can irritate sensitive skin.`] : []),
  ];
}
