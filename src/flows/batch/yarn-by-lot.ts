import { dyeLotOf } from '#core/buying/shelf.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { LotRow } from '#db/stores/shelf.ts';

type Part = { readonly yarnColourId: number; readonly lotId: number | null; readonly allottedMg: number };

/** What strands take of a colour from one dye lot; from none while it is still to come. */
export type FromLot<T extends Part> = {
  readonly yarnColourId: number;
  /** The first row of the shelf that is of this dye lot. */
  readonly lot: LotRow | null;
  readonly mg: number;
  readonly parts: readonly T[];
};

/** Parts of a colour and a dye lot together: one dye lot may have come in two parcels, and is weighed out as one. */
export function yarnByLot<T extends Part>(parts: readonly T[], lots: ReadonlyMap<number, LotRow>): FromLot<T>[] {
  const lotOf = ({ lotId }: Part) => (lotId === null ? null : (lots.get(lotId) ?? null));
  const keyOf = (part: T) => {
    const lot = lotOf(part);
    return `${part.yarnColourId} ${lot === null ? part.lotId : dyeLotOf(lot)}`;
  };
  return [...groupBy(parts, keyOf).values()].map((own) => {
    const [first] = own.toSorted((a, b) => (a.lotId ?? 0) - (b.lotId ?? 0));
    const mg = own.reduce((sum, { allottedMg }) => sum + allottedMg, 0);
    return { yarnColourId: first!.yarnColourId, lot: lotOf(first!), mg, parts: own };
  });
}
