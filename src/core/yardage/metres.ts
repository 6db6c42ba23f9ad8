import type { Yarn } from '#core/gauge/hand.ts';
import type { Estimate } from '#core/shared/estimate.ts';
import { type Figure, given, renamed, sumOf, work } from '#core/shared/figure.ts';
import { fabricNamed } from '#core/styles/fabrics.ts';
import type { ColourMetres } from '#core/styles/spec.ts';
import { strandsOf, type WorkedPiece, type WorkedSection, type WorkedStyle } from '#core/styles/work-out.ts';
import { drawUpMm, endMm, shapedLoopFactor, yardageRules } from '#core/yardage/rules.ts';

/** Yarn of one pair in one role, strand and fabric, with its working. */
export type MetresFigure = {
  readonly role: string;
  readonly strand: number;
  readonly fabric: string;
  readonly yarn: Yarn;
  readonly metres: Figure;
  readonly relativeSd: number;
};

type Part = { readonly role: string; readonly fabric: string; readonly metres: Figure };

/** From pair to pair, one standard deviation. Our own choice. */
const pairToPairSd = 0.05;
/** Relative error where the gauge itself is a guess from the yarn's category. Our own choice. */
const guessedSd = 0.12;

function loopsPart(piece: WorkedPiece, name: string, loops: Figure, fabric: string, extraFactor: number): Figure {
  const own = piece.gauge.own[fabric]?.loop;
  const factor = own ? extraFactor : fabricNamed(fabric).loopFactor * extraFactor;
  return work(
    renamed(yardageRules.section, `${piece.piece.name}: ${name}`),
    loops,
    own ?? piece.gauge.loop,
    given(
      'fabric',
      factor,
      'ratio',
      'ours',
      own ? `your own swatch in ${fabric}` : `${fabric}, against stocking stitch`,
    ),
  );
}

/** Stitches times rows; the piece's own figures where they are the same numbers, so that the working leads on. */
function countedLoops(piece: WorkedPiece, stitches: number, rows: number, section: string): Figure {
  const ofPiece = stitches === piece.castOn.value ? piece.castOn : given('stitches', stitches, 'stitches', 'ours');
  const known = piece.rowFigures[section];
  return work(yardageRules.loops, ofPiece, known?.value === rows ? known : given('rows', rows, 'rows', 'ours'));
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
  const loops = (count: number, source: string) => given('loops', count, 'loops', 'ours', source);
  const { name } = worked.section;
  const parts: Part[] = [];
  if (shaped > 0) {
    const figure = loopsPart(piece, name, loops(shaped, 'stitches left after two together'), fabric, shapedLoopFactor);
    parts.push({ role, fabric, metres: figure });
  }
  if (plain > 0) {
    const figure = loopsPart(piece, `${name}, plain`, loops(plain, 'the other stitches of these rows'), fabric, 1);
    parts.push({ role, fabric, metres: figure });
  }
  return parts;
}

function sectionParts(piece: WorkedPiece, worked: WorkedSection): Part[] {
  const { section } = worked;
  const role = section.colour;
  const stitches = given('stitches', worked.stitchesBefore, 'stitches', 'ours');
  switch (section.do) {
    case 'pickUp': {
      const loops = countedLoops(piece, worked.stitchesBefore, 1, section.name);
      return [{ role, fabric: 'stocking', metres: loopsPart(piece, 'picked up', loops, 'stocking', 1) }];
    }
    case 'castOn': {
      const tailRule = renamed(yardageRules.castOnTail, `${piece.piece.name}: cast-on tail`);
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
        { role, fabric: 'stocking', metres: given(`${piece.piece.name}: draw-up tail`, drawUpMm / 1000, 'm', 'ours') },
      ];
    case 'bindOff': {
      const bindOff = renamed(yardageRules.bindOff, `${piece.piece.name}: bind-off`);
      return [{ role, fabric: lastFabric(piece), metres: work(bindOff, stitches, piece.gauge.stitches) }];
    }
  }
}

function lastFabric(piece: WorkedPiece): string {
  return piece.sections.reduce((last, each) => (each.section.do === 'work' ? each.section.fabric : last), 'stocking');
}

/** Two ends where the colour changes inside a piece: one of the old yarn, one of the new. */
function changeParts(piece: WorkedPiece, isOneColour: boolean): Part[] {
  if (isOneColour) return [];
  const parts: Part[] = [];
  piece.sections.forEach((each, index) => {
    const before = piece.sections[index - 1]?.section.colour;
    if (before === undefined || before === each.section.colour) return;
    for (const role of [before, each.section.colour]) {
      const name = `${piece.piece.name}: end at the colour change`;
      parts.push({
        role,
        fabric: lastFabric(piece),
        metres: given(name, endMm / 1000, 'm', 'published', '6 inches an end'),
      });
    }
  });
  return parts;
}

function seamParts(worked: WorkedStyle): Part[] {
  return worked.seams.map(({ join, lengthMm }) => ({
    role: join.colour,
    fabric: lastFabric(pieceOfRole(worked, join.colour)),
    metres: work(
      renamed(yardageRules.seam, `seam: ${join.name}`),
      given('seam length', lengthMm, 'mm', 'ours', join.name),
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

function relativeSdOf(piece: WorkedPiece, fabric: string): number {
  const { gauge } = piece;
  const known = fabricNamed(fabric);
  const own = gauge.own[fabric]?.loopRelativeSd;
  if (own != null) return own;
  if (gauge.loopRelativeSd !== null) {
    return known.loopFactor === 1 ? gauge.loopRelativeSd : known.loopRelativeSd;
  }
  return gauge.source === 'guess' ? Math.max(guessedSd, known.loopRelativeSd) : known.loopRelativeSd;
}

function partsOf(worked: WorkedStyle): Part[] {
  const parts = worked.pieces.flatMap((piece) => [
    ...piece.sections.flatMap((section) => sectionParts(piece, section)),
    ...changeParts(piece, worked.shape.isOneColour),
  ]);
  return [...parts, ...seamParts(worked)];
}

function slipperSum(parts: readonly Part[], role: string, fabric: string, name: string): Figure {
  const own = parts.filter((part) => part.role === role && part.fabric === fabric);
  return sumOf(
    name,
    'm',
    own.map((part) => part.metres),
  );
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
  const leftParts = partsOf(left);
  const rightParts = right === left ? leftParts : partsOf(right);
  const places = new Map(leftParts.map(({ role, fabric }) => [`${role}/${fabric}`, { role, fabric }]));
  const make = given('slippers', 2, 'count', 'ours');
  // Roles in the order they occur, and each role's fabrics together.
  const roles = [...new Set([...places.values()].map((place) => place.role))];
  const ordered = roles.flatMap((role) => [...places.values()].filter((place) => place.role === role));
  return ordered.flatMap(({ role, fabric }) => {
    const pair =
      right === left
        ? work(yardageRules.makes, make, slipperSum(leftParts, role, fabric, 'yarn for one slipper'))
        : sumOf('yarn for both slippers', 'm', [
            slipperSum(leftParts, role, fabric, 'yarn for the left slipper'),
            slipperSum(rightParts, role, fabric, 'yarn for the right slipper'),
          ]);
    return strandsOf(left.shape, role).map((yarn, strand) => ({
      role,
      strand,
      fabric,
      yarn,
      metres: work(
        yardageRules.withJoins,
        pair,
        given('tex', yarn.tex, 'tex', 'yours', yarn.name),
        given('ball', yarn.ballMg / 1000, 'g', 'yours', yarn.name),
      ),
      relativeSd: relativeSdOf(pieceOfRole(left, role), fabric),
    }));
  });
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
  return figures.map(({ role, strand, fabric, metres, relativeSd }) => ({
    role,
    strand,
    fabric,
    metres: estimateOf(metres.value, relativeSd),
  }));
}
