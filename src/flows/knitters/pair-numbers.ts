import type { Kind } from '#core/batch/lines.ts';
import type { Spec } from '#core/styles/spec.ts';
import type { Rates } from '#core/timing/knitter.ts';
import { minutesOfPair } from '#core/timing/minutes.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';

/** What one pair is in one hand, in the numbers that a knitter looks at; the left slipper's where they differ. */
export type PairNumbers = {
  readonly castOn: number;
  readonly rows: number;
  /** Stitches of the second piece; null where there is none. */
  readonly cuff: number | null;
  readonly grams: number;
  readonly minutes: number;
};

/** The numbers of a spec at a knitter's speed. */
export function pairNumbers(spec: Spec, kind: Kind, knitter: { readonly rates: Rates }): PairNumbers {
  return {
    castOn: spec.pieces[0]!.castOnStitches,
    rows: spec.pieces[0]!.totalRows,
    cuff: spec.pieces[1]?.castOnStitches ?? null,
    grams: yarnOfPair(kind, spec).reduce((sum, each) => sum + each.grams, 0),
    minutes: minutesOfPair(spec.operations, knitter.rates),
  };
}
