/**
 * A knitted fabric against stocking stitch of the same hand and yarn: how its stitches, rows, yarn and speed compare.
 * `relaxedWidthRatio` is its width at rest over its flat width (ribs pull in); flat width is the width counts are made at.
 */
export type Fabric = {
  readonly name: string;
  readonly stitchFactor: number;
  /** Rows against stocking stitch; null where rows follow from the stitches by `rowsPerStitch`. */
  readonly rowFactor: number | null;
  readonly rowsPerStitch: number;
  readonly loopFactor: number;
  readonly relaxedWidthRatio: number;
  readonly speedFactor: number;
  /** Relative error of its loop length when only the gauge is known, one standard deviation. */
  readonly loopRelativeSd: number;
};

/**
 * The fabrics that styles may name. Ratios of the ribs: one published hand-knit test stretched 1x1 to 1.96 times its
 * relaxed width; relaxed widths 0.70 (1x1, machine rib relaxes to 30 % less) and 0.615 (2x2 pulls in more) of flat.
 * Rib loops 1.1 times stocking, rates and errors: our own choice until a swatch in that rib exists. Garter: two rows to a
 * stitch make a square (published tuition), its loop is the stocking loop of the same hand (our own choice).
 */
export const fabrics: readonly Fabric[] = [
  {
    name: 'stocking',
    stitchFactor: 1,
    rowFactor: 1,
    rowsPerStitch: 4 / 3,
    loopFactor: 1,
    relaxedWidthRatio: 1,
    speedFactor: 1,
    loopRelativeSd: 0.07,
  },
  {
    name: 'garter',
    stitchFactor: 1,
    rowFactor: null,
    rowsPerStitch: 2,
    loopFactor: 1,
    relaxedWidthRatio: 1,
    speedFactor: 1.1,
    loopRelativeSd: 0.11,
  },
  {
    name: 'rib 2x2',
    stitchFactor: 1,
    rowFactor: 1,
    rowsPerStitch: 4 / 3,
    loopFactor: 1.1,
    relaxedWidthRatio: 0.615,
    speedFactor: 0.85,
    loopRelativeSd: 0.11,
  },
  {
    name: 'rib 1x1',
    stitchFactor: 1,
    rowFactor: 1,
    rowsPerStitch: 4 / 3,
    loopFactor: 1.1,
    relaxedWidthRatio: 0.7,
    speedFactor: 0.85,
    loopRelativeSd: 0.11,
  },
];

const byName = new Map(fabrics.map((fabric) => [fabric.name, fabric]));

/**
 * The fabric of a name.
 *
 * @throws {RangeError} when no fabric has that name
 * @example fabricNamed('rib 2x2').loopFactor // => 1.1
 */
export function fabricNamed(name: string): Fabric {
  const fabric = byName.get(name);
  if (!fabric) throw new RangeError(`fabricNamed: no fabric is called ${name}`);
  return fabric;
}
