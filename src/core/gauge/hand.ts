import type { SwatchReading } from '#core/gauge/swatch.ts';

/** Yarn weight number of the Craft Yarn Council system: 0 lace to 7 jumbo; 4 is medium, 5 is bulky. */
export type YarnCategory = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7;

/** A yarn, whatever its colour. `tex` is grams in 1000 m: 100 000 / (metres in 100 g). */
export type Yarn = {
  readonly id: number;
  readonly name: string;
  /** What it is made of, in words; null when unknown (then: hand wash, not for babies). */
  readonly fibre: string | null;
  readonly tex: number;
  /** Ball size as sold, milligrams. */
  readonly ballMg: number;
  readonly category: YarnCategory;
  /** Stitches in 10 cm printed on the band for one strand; null when it says nothing. */
  readonly usualStitches: number | null;
  /** Needle the workshop uses for a slipper in this yarn, mm; null takes the rule by thickness. */
  readonly needleMm: number | null;
};

/** The yarns held together for each role of a style, one entry a strand; two entries mean two strands. */
export type YarnsByRole = Readonly<Record<string, readonly Yarn[]>>;

/** Where a gauge comes from, best first. */
export type GaugeSource = 'swatch' | 'typed' | 'guess';

/** Stitches and rows in 10 cm of one fabric, for one set of strands. */
export type Gauge = {
  /** `yarnsKey(strands)` of the strands it was knitted with. */
  readonly yarnsKey: string;
  readonly fabric: string;
  readonly stitchesPer10Cm: number;
  readonly rowsPer10Cm: number;
  readonly source: GaugeSource;
  readonly isWashed: boolean;
  /** Yarn in one stitch from a weighed or unravelled swatch, cm, with its relative error; null when not measured. */
  readonly loopCm: number | null;
  readonly loopRelativeSd: number | null;
  readonly needleMm: number | null;
  /** The squares it was counted on, with the smallest step of the scale; left out where it was typed. */
  readonly counted?: { readonly squares: readonly SwatchReading[]; readonly scaleStepG: number };
};

export type Tightness = 'loose' | 'usual' | 'tight';

/** How somebody knits. Knitters without swatches of their own share the workshop's hand. */
export type Hand = { readonly key: string; readonly tightness: Tightness; readonly gauges: readonly Gauge[] };

/**
 * The name of a set of strands: yarn ids in order, so that the same two yarns held together have one name.
 *
 * @param yarns one per strand, at least one
 * @example yarnsKey([{ id: 7 }, { id: 3 }]) // => '3+7'
 * @example yarnsKey([{ id: 5 }]) // => '5'
 */
export function yarnsKey(yarns: readonly { readonly id: number }[]): string {
  if (yarns.length === 0) throw new RangeError('yarnsKey: yarns must not be empty');
  if (yarns.length === 1) return String(yarns[0]!.id);
  return yarns
    .map((yarn) => yarn.id)
    .sort((a, b) => a - b)
    .join('+');
}
