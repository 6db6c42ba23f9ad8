import fc from 'fast-check';
import type { Outlet } from '#core/pricing/outlet.ts';

/** An outlet without fees, tax or ending, changed where a test needs it. */
export function outletWith(changes: Partial<Outlet> = {}): Outlet {
  return Object.freeze({
    id: 1,
    name: 'Harbour fair',
    kind: 'fair',
    rank: 0,
    priceRule: 'margin',
    priceRatio: 0.3,
    fixedPriceCents: null,
    feeRatio: 0,
    feeFixedCents: 0,
    taxRatio: 0,
    isTaxIncluded: true,
    endingCents: null,
    ...changes,
  });
}

const tenThousandths = (most: number) => fc.integer({ min: 0, max: most * 10_000 }).map((count) => count / 10_000);

/**
 * Outlets as a workshop may have them: margins to 60 %, fees to 20 % and 2.00, a shop's share to 10 % more, taxes to
 * 27 %, any ending.
 */
export const anyOutlet: fc.Arbitrary<Outlet> = fc
  .record({
    priceRule: fc.constantFrom('margin' as const, 'markup' as const),
    priceRatio: tenThousandths(0.6),
    feeRatio: tenThousandths(0.2),
    feeFixedCents: fc.integer({ min: 0, max: 200 }),
    taxRatio: tenThousandths(0.27),
    isTaxIncluded: fc.boolean(),
    endingCents: fc.option(fc.integer({ min: 0, max: 99 })),
    terms: fc.constantFrom(null, 'wholesale' as const, 'sale or return' as const),
    shopShareRatio: tenThousandths(0.1),
  })
  .map(outletWith);
