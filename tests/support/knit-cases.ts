import { kindFor } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { Hand, Yarn } from '#core/gauge/hand.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { type SpecWorking, specifyWithWorking } from '#core/styles/specify.ts';
import { bulky, gauge, slipper } from '#tests/support/plan-input.ts';

/** Pairs of the shipped slipper at any gauge, for tests of counts, yarn and minutes. */

export type PairWish = {
  readonly person: Person;
  readonly lengthMm: number;
  readonly ballGirthMm?: number;
  readonly heelAnkleGirthMm?: number;
  readonly fit?: Fit;
  readonly cuff?: 'short' | 'turned down' | 'none' | number;
  readonly stitches?: number;
  readonly rows?: number;
  readonly yarns?: readonly Yarn[];
  /** Colour of the cuff; the foot is colour 1. */
  readonly cuffColour?: number;
};

export function yarnOf(tex: number, over: Partial<Yarn> = {}): Yarn {
  return Object.freeze({ ...bulky, id: tex, name: `Yarn of ${tex} tex`, tex, ...over });
}

export function kindOf(wish: PairWish): Kind {
  const yarns = wish.yarns ?? [bulky];
  return kindFor({
    style: slipper,
    foot: footFrom(wish),
    fit: wish.fit ?? 'usual',
    yarns: { foot: yarns, cuff: yarns },
    colours: { foot: yarns.map(() => 1), cuff: yarns.map(() => wish.cuffColour ?? 1) },
    cuff: wish.cuff ?? 'short',
  });
}

/** A washed swatch of these strands, counted and not weighed. */
export function handOf(wish: PairWish): Hand {
  const yarns = wish.yarns ?? [bulky];
  const ids = yarns.map((yarn) => yarn.id).sort((a, b) => a - b);
  const own = { ...gauge(ids.join('+'), wish.stitches ?? 13, wish.rows ?? 18), needleMm: yarns[0]!.needleMm };
  return { key: 'hand', tightness: 'usual', gauges: [own] };
}

/** Counts, yarn and handwork of a pair: 13 stitches and 18 rows in 10 cm of bulky yarn unless the wish says otherwise. */
export function knit(wish: PairWish): SpecWorking & { readonly kind: Kind } {
  const kind = kindOf(wish);
  return { ...specifyWithWorking(kind.shape, handOf(wish)), kind };
}
