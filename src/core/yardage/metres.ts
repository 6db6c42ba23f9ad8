import { guessedLoopSd } from '#core/gauge/gauge.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import { texFigure } from '#core/gauge/swatch-figures.ts';
import { entryOf, newMap } from '#core/shared/entry-of.ts';
import type { Estimate } from '#core/shared/estimate.ts';
import { type Figure, given, renamed, sumOf, work } from '#core/shared/figure.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { ColourMetres } from '#core/styles/spec.ts';
import type { Piece } from '#core/styles/style.ts';
import { strandsOf, type WorkedPiece, type WorkedSection, type WorkedStyle } from '#core/styles/work-out.ts';
import { drawUpMm, endMm, shapedLoopFactor, yardageRules } from '#core/yardage/rules.ts';

/** Yarn of one pair in one role, strand and fabric, with its working. */
export type MetresFigure = {
  readonly role: string;
  readonly strand: number;
  readonly fabric: string;
  readonly yarn: Yarn;
  readonly metres: Figure;
  /** Relative error of the loops, one standard deviation. */
  readonly error: Figure;
};

type Part = { readonly role: string; readonly fabric: string; readonly metres: Figure };

/** From pair to pair, one standard deviation. Our own choice. */
const pairToPairSd = 0.05;

// The same few names for every size of a style: a plan would otherwise write each of them a thousand times.
const namesInPiece = new WeakMap<Piece, Map<string, string>>();

function nameIn({ piece }: WorkedPiece, name: string): string {
  let names = namesInPiece.get(piece);
  if (!names) {
    names = new Map();
    namesInPiece.set(piece, names);
  }
  let known = names.get(name);
  if (known === undefined) {
    known = `${piece.name}: ${name}`;
    names.set(name, known);
  }
  return known;
}

// A handful of fabrics, each with its factor and that of loops worked together.
const ownFactors = new Map<string, Map<number, Figure>>();
const usualFactors = new Map<string, Map<number, Figure>>();

function factorOf(fabric: string, factor: number, isOwn: boolean): Figure {
  const source = isOwn ? `your own swatch in ${fabric}` : `${fabric}, against stocking stitch`;
  return given('fabric', factor, 'ratio', 'ours', source);
}

function loopsPart(piece: WorkedPiece, name: string, loops: Figure, fabric: string, extraFactor: number): Figure {
  const own = piece.gauge.own[fabric]?.loop;
  const factor = own ? extraFactor : fabricNamed(fabric).loopFactor * extraFactor;
  const ofFabric = entryOf(own ? ownFactors : usualFactors, fabric, newMap);
  const share = ofFabric.get(factor) ?? entryOf(ofFabric, factor, () => factorOf(fabric, factor, Boolean(own)));
  return work(renamed(yardageRules.section, nameIn(piece, name)), loops, own ?? piece.gauge.loop, share);
}

/** Stitches times rows; the piece's own figures where they are the same numbers, so that the working leads on. */
function countedLoops(piece: WorkedPiece, stitches: number, rows: number, section: string): Figure {
  const ofPiece =
    stitches === piece.castOn.value
      ? piece.castOn
      : given('stitches', stitches, 'stitches', 'ours', `at the step “${section}”`);
  const known = piece.rowFigures[section];
  return work(
    yardageRules.loops,
    ofPiece,
    known?.value === rows ? known : given('rows', rows, 'rows', 'ours', `of the step “${section}”`),
  );
}

/** Rows of a change: two-together loops take more yarn; a step at centre or edges has just a few of them. */
function shapingParts(piece: WorkedPiece, worked: WorkedSection, role: string, fabric: string): Part[] {
  const isAcross = worked.section.do === 'change' && worked.section.how === 'two together across';
  let shaped = 0;
  let plain = 0;
  for (const row of worked.shaping?.rows ?? []) {
    const together = isAcross && row.taken > 0 ? row.after : row.taken / 2;
    shaped += together;
    plain += row.after - together;
  }
  const { name } = worked.section;
  const parts: Part[] = [];
  if (shaped > 0) {
    const loops = given('loops', shaped, 'loops', 'ours', 'stitches left after two together');
    const figure = loopsPart(piece, name, loops, fabric, shapedLoopFactor);
    parts.push({ role, fabric, metres: figure });
  }
  if (plain > 0) {
    const loops = given('loops', plain, 'loops', 'ours', 'the other stitches of these rows');
    const figure = loopsPart(piece, `${name}, plain`, loops, fabric, 1);
    parts.push({ role, fabric, metres: figure });
  }
  return parts;
}

function sectionParts(piece: WorkedPiece, worked: WorkedSection): Part[] {
  const { section } = worked;
  const role = section.colour;
  switch (section.do) {
    case 'pickUp': {
      const loops = countedLoops(piece, worked.stitchesBefore, 1, section.name);
      return [{ role, fabric: 'stocking', metres: loopsPart(piece, 'picked up', loops, 'stocking', 1) }];
    }
    case 'castOn': {
      const tailRule = renamed(yardageRules.castOnTail, nameIn(piece, 'cast-on tail'));
      const tail = work(tailRule, piece.castOn, piece.gauge.stitches);
      return [
        {
          role,
          fabric: 'stocking',
          metres: loopsPart(
            piece,
            'cast-on row',
            countedLoops(piece, worked.stitchesBefore, 1, section.name),
            'stocking',
            1,
          ),
        },
        { role, fabric: 'stocking', metres: tail },
      ];
    }
    case 'work': {
      const loops = countedLoops(piece, worked.stitchesBefore, worked.rows, section.name);
      return [{ role, fabric: section.fabric, metres: loopsPart(piece, section.name, loops, section.fabric, 1) }];
    }
    case 'change':
      return shapingParts(piece, worked, role, section.how === 'two together across' ? 'stocking' : section.fabric);
    case 'drawUp':
      return [
        {
          role,
          fabric: 'stocking',
          metres: given(nameIn(piece, 'draw-up tail'), drawUpMm / 1000, 'm', 'ours', '20 cm to draw through'),
        },
      ];
    case 'bindOff': {
      const stitches =
        worked.stitchesBefore === piece.castOn.value
          ? piece.castOn
          : given('stitches', worked.stitchesBefore, 'stitches', 'ours', 'left at the end');
      const bindOff = renamed(yardageRules.bindOff, nameIn(piece, 'bind-off'));
      return [{ role, fabric: lastFabric(piece), metres: work(bindOff, stitches, piece.gauge.stitches) }];
    }
  }
}

function lastFabric(piece: WorkedPiece): string {
  const last = piece.sections.findLast(({ section }) => section.do === 'work')?.section;
  return last?.do === 'work' ? last.fabric : 'stocking';
}

/** Two ends where the colour changes inside a piece: one of the old yarn, one of the new. */
function changeParts(piece: WorkedPiece, isOneColour: boolean): Part[] {
  if (isOneColour) return [];
  const parts: Part[] = [];
  let before: string | undefined;
  for (const { section } of piece.sections) {
    if (before !== undefined && before !== section.colour) {
      const name = nameIn(piece, 'end at the colour change');
      for (const role of [before, section.colour]) {
        const metres = given(name, endMm / 1000, 'm', 'published', '6 inches an end (knitting tuition)');
        parts.push({ role, fabric: lastFabric(piece), metres });
      }
    }
    before = section.colour;
  }
  return parts;
}

function seamParts(worked: WorkedStyle): Part[] {
  return worked.seams.map(({ join, length }) => ({
    role: join.colour,
    fabric: lastFabric(pieceOfRole(worked, join.colour)),
    metres: work(
      renamed(yardageRules.seam, `seam: ${join.name}`),
      length,
      given(
        'ends',
        join.withTail === undefined ? 2 : 0,
        'count',
        'ours',
        join.withTail ? `sewn with the ${join.withTail} tail` : 'a fresh thread',
      ),
    ),
  }));
}

const knownErrors = new Map<string, Figure>();

/** The error of loops that were not weighed, in so many words. */
function looseError(value: number, source: string): Figure {
  return entryOf(knownErrors, `${value} ${source}`, () =>
    given('error of one stitch', value, 'percent', 'ours', source),
  );
}

function errorOf(piece: WorkedPiece, fabric: string): Figure {
  const { gauge } = piece;
  const known = fabricNamed(fabric);
  const own = gauge.own[fabric]?.loopError;
  if (own) return own;
  if (gauge.loopError !== null && known.loopFactor === 1) return gauge.loopError;
  if (gauge.loopError !== null) return looseError(known.loopRelativeSd, 'a rib reckoned from stocking stitch');
  return gauge.source === 'guess'
    ? looseError(Math.max(guessedLoopSd, known.loopRelativeSd), 'the gauge is a guess from the yarn')
    : looseError(known.loopRelativeSd, 'from the stitches and rows alone, not weighed');
}

function partsOf(worked: WorkedStyle): Part[] {
  const parts: Part[] = [];
  for (const piece of worked.pieces) {
    for (const section of piece.sections) parts.push(...sectionParts(piece, section));
    parts.push(...changeParts(piece, worked.shape.isOneColour));
  }
  parts.push(...seamParts(worked));
  return parts;
}

/** The parts of one slipper by role, then by fabric, in the order they first occur. */
type Places = Map<string, Map<string, Figure[]>>;

function placesOf(worked: WorkedStyle): Places {
  const places: Places = new Map();
  for (const { role, fabric, metres } of partsOf(worked)) {
    let ofRole = places.get(role);
    if (!ofRole) {
      ofRole = new Map();
      places.set(role, ofRole);
    }
    const figures = ofRole.get(fabric);
    if (figures) figures.push(metres);
    else ofRole.set(fabric, [metres]);
  }
  return places;
}

const knownYarns = new WeakMap<Yarn, { readonly tex: Figure; readonly ball: Figure }>();

function figuresOf(yarn: Yarn) {
  return {
    tex: texFigure([yarn]),
    ball: given('ball', yarn.ballMg / 1000, 'g', 'yours', `${yarn.name}, as sold`),
  };
}

const twoSlippers = given('slippers', 2, 'count', 'ours', 'a pair');

/** One slipper's yarn twice, or that of two different ones together. */
function pairFigure(left: readonly Figure[], right: readonly Figure[] | null): Figure {
  if (right === null) {
    return work(yardageRules.makes, twoSlippers, sumOf('yarn for one slipper', 'm', left));
  }
  return sumOf('yarn for both slippers', 'm', [
    sumOf('yarn for the left slipper', 'm', left),
    sumOf('yarn for the right slipper', 'm', right),
  ]);
}

/**
 * Yarn of one pair for each role, fabric and strand, with the working: loops, tails, seams, ends and ball joins.
 * Every strand has the full length, its own tails and its own ball.
 *
 * @param left one slipper, as `workOut` gives it
 * @param right the other, where the feet differ; the same object where they are alike
 * @returns one entry per role, fabric and strand, in the order they first occur
 */
export function metresFigures(left: WorkedStyle, right: WorkedStyle): MetresFigure[] {
  const rightPlaces = right === left ? null : placesOf(right);
  const figures: MetresFigure[] = [];
  for (const [role, fabrics] of placesOf(left)) {
    const strands = strandsOf(left.shape, role);
    for (const [fabric, parts] of fabrics) {
      const pair = pairFigure(parts, rightPlaces && (rightPlaces.get(role)?.get(fabric) ?? []));
      const error = errorOf(pieceOfRole(left, role), fabric);
      strands.forEach((yarn, strand) => {
        const { tex, ball } = entryOf(knownYarns, yarn, () => figuresOf(yarn));
        const metres = work(yardageRules.withJoins, pair, tex, ball);
        figures.push({ role, strand, fabric, yarn, metres, error });
      });
    }
  }
  return figures;
}

function pieceOfRole(worked: WorkedStyle, role: string): WorkedPiece {
  return worked.pieces.find((each) => each.piece.gaugeOf === role) ?? worked.pieces[0]!;
}

/**
 * The numbers of a metres figure: mean, the error a yarn and fabric share, and the pair's own.
 *
 * @param meanM metres, at least 0
 * @param relativeSd error of the loop length, shared by all pairs of this hand, yarn and fabric
 * @example estimateOf(100, 0.07) // => { mean: 100, sharedSd: 7, ownVariance: 25 }
 */
export function estimateOf(meanM: number, relativeSd: number): Estimate {
  const own = meanM * pairToPairSd;
  return { mean: meanM, sharedSd: meanM * relativeSd, ownVariance: own * own };
}

/**
 * Metres as plain numbers, as the plan keeps them.
 */
export function metresOf(figures: readonly MetresFigure[]): ColourMetres[] {
  return figures.map(({ role, strand, fabric, metres, error }) => ({
    role,
    strand,
    fabric,
    metres: estimateOf(metres.value, error.value),
  }));
}
