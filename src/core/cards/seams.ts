import type { Spec } from '#core/styles/spec.ts';
import type { EdgeName, Join, StyleBody } from '#core/styles/style.ts';

/** One slipper's counts. */
export type SlipperCounts = Pick<Spec, 'pieces' | 'measures'>;

/** A seam of one slipper, its length, and the piece whose yarn it is reckoned with. */
export type CardSeam = { readonly join: Join; readonly lengthMm: number; readonly piece: string };

/** The lengths of a slipper's edges, mm, those that marks split included. */
export function edgeLengths({ pieces, measures }: SlipperCounts, body: StyleBody): ReadonlyMap<EdgeName, number> {
  const edges = new Map<EdgeName, number>();
  for (const { name, widthMm, lengthMm, castOnStitches, lastStitches, stitchesPer10Cm } of pieces) {
    edges.set(`${name}.start`, widthMm);
    edges.set(`${name}.end`, Math.max(0, widthMm - ((castOnStitches - lastStitches) * 100) / stitchesPer10Cm));
    edges.set(`${name}.left`, lengthMm);
    edges.set(`${name}.right`, lengthMm);
  }
  // A spec keeps one mark, the first: the opening goes around both its edges.
  const mark = body.marks[0];
  for (const edge of mark?.edges ?? []) {
    const whole = edges.get(edge);
    if (whole === undefined || !mark) continue;
    const open = measures.openingMm / 2;
    edges.set(`${edge}.${mark.name}`, open);
    edges.set(`${edge}.rest`, whole - open);
  }
  return edges;
}

function sidesOf(join: Join): readonly (readonly EdgeName[])[] {
  return join.fold === undefined ? (join.edges ?? []) : [[join.fold]];
}

/**
 * The piece an edge belongs to.
 *
 * @example pieceOfEdge('foot.left.open') // => 'foot'
 */
export function pieceOfEdge(edge: EdgeName): string {
  return edge.split('.')[0]!;
}

/**
 * The seams of one slipper in the order they are sewn; a seam of a piece that was left out is none.
 *
 * @param slipper counts of one slipper
 * @param body the style
 */
export function seamsOf(slipper: SlipperCounts, body: StyleBody): CardSeam[] {
  const edges = edgeLengths(slipper, body);
  return body.joins.flatMap((join) => {
    const sides = sidesOf(join);
    if (sides.flat().some((edge) => !edges.has(edge))) return [];
    const lengths = sides.map((side) => side.reduce((sum, edge) => sum + edges.get(edge)!, 0));
    const lengthMm = join.fold === undefined ? Math.max(...lengths) : lengths[0]! / 2;
    return [{ join, lengthMm, piece: pieceOfEdge(sides[0]![0]!) }];
  });
}

/** Stitches to rows, the smallest numbers that say it well. */
export type SewOn = { readonly stitches: number; readonly rows: number };

/** Nobody counts further than this along an edge. Our own choice. */
const mostToCount = 5;

/**
 * How many stitches of one edge lie on how many rows of another: the nearest ratio of numbers up to 5.
 *
 * @param stitchesPer10Cm gauge across the sewn-on piece, above 0
 * @param rowsPer10Cm rows of the edge it is sewn to, above 0
 * @returns the nearest ratio; of two as near, the smaller numbers
 * @example sewOnRatio(13, 18) // => { stitches: 3, rows: 4 }
 * @example sewOnRatio(14, 28) // => { stitches: 1, rows: 2 }
 * @example sewOnRatio(20, 20) // => { stitches: 1, rows: 1 }
 */
export function sewOnRatio(stitchesPer10Cm: number, rowsPer10Cm: number): SewOn {
  const wished = stitchesPer10Cm / rowsPer10Cm;
  let best: SewOn = { stitches: 1, rows: 1 };
  let away = Math.abs(wished - 1);
  for (let rows = 1; rows <= mostToCount; rows += 1) {
    for (let stitches = 1; stitches <= mostToCount; stitches += 1) {
      const off = Math.abs(stitches / rows - wished);
      if (off < away - 1e-9) {
        best = { stitches, rows };
        away = off;
      }
    }
  }
  return best;
}
