import type { OutletKind, PriceRule, ShopTerms } from '#core/pricing/outlet.ts';
import type { TaxRounding } from '#core/pricing/tax.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { changeOutlet, createOutlet, listOutlets } from '#db/stores/pricing.ts';

export type OutletEntry = {
  readonly name: string;
  readonly kind: OutletKind;
  readonly priceRule: PriceRule;
  readonly priceRatio: number;
  readonly fixedPriceCents: number | null;
  readonly feeRatio: number;
  readonly feeFixedCents: number;
  readonly taxRatio: number;
  readonly isTaxIncluded: boolean;
  readonly rounding: TaxRounding;
  readonly endingCents: number | null;
  readonly depositRatio: number;
  readonly secondOffRatio: number;
  /** Null where it is no shop. */
  readonly terms: ShopTerms | null;
  readonly leastPairs: number | null;
  readonly shopShareRatio: number;
};

async function refuseNameTwice(tx: Tx, name: string, id: number | null) {
  const wanted = name.toLowerCase();
  const other = (await listOutlets(tx)).find((each) => each.id !== id && each.name.toLowerCase() === wanted);
  if (!other) return null;
  const message = other.isClosed
    ? `“${other.name}” is there and closed: open it again, or choose another name.`
    : `There is an outlet called “${other.name}” already: choose another name.`;
  return refuse({ code: 'nameTwice', path: 'name', message });
}

/** Adds an outlet after the others. */
export async function addOutlet(workshop: Workshop, entry: OutletEntry): Promise<Result<number>> {
  return await workshop.store.write('pricing: add an outlet', async (tx) => {
    const twice = await refuseNameTwice(tx, entry.name, null);
    if (twice) return twice;
    const rank = Math.max(-1, ...(await listOutlets(tx)).map((outlet) => outlet.rank)) + 1;
    return succeed((await createOutlet(tx, { ...entry, rank })).id);
  });
}

/** Changes an outlet. @throws {AppError} `notFound`, `conflict` */
export async function saveOutlet(
  workshop: Workshop,
  id: number,
  entry: OutletEntry,
  version: number | undefined,
): Promise<Result<number>> {
  return await workshop.store.write('pricing: change an outlet', async (tx) => {
    const twice = await refuseNameTwice(tx, entry.name, id);
    if (twice) return twice;
    await changeOutlet(tx, id, entry, version);
    return succeed(id);
  });
}

/** Closes an outlet for new orders, or opens it again; its old orders stay. @throws {AppError} `notFound`, `conflict` */
export async function closeOutlet(
  workshop: Workshop,
  id: number,
  isClosed: boolean,
  version: number | undefined,
): Promise<void> {
  const flow = isClosed ? 'pricing: close an outlet' : 'pricing: open an outlet again';
  await workshop.store.write(flow, (tx) => changeOutlet(tx, id, { isClosed }, version));
}
