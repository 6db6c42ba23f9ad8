import type { Problem } from '#core/shared/problem.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import type { Reader } from '#db/store.ts';
import { changeOffer, createOffer, listOfferBreaks, listOffers, listSuppliers } from '#db/stores/buying.ts';
import { listYarnColours, listYarns } from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';
import { comparePrices, type KnownForPrices, type PriceChanges, readPriceCsv } from '#flows/buying/read-price-csv.ts';

/** Every name that a table of prices may use. */
export async function readKnownForPrices(from: Reader): Promise<KnownForPrices> {
  return {
    shops: await listSuppliers(from),
    yarns: await listYarns(from),
    colours: await listYarnColours(from),
    offers: await listOffers(from),
    breaks: await listOfferBreaks(from),
    currency: readSettings(await listSettings(from)).currency,
  };
}

export type PriceImport =
  | { readonly kind: 'faulty'; readonly problems: readonly Problem[] }
  /** Counted and not saved: nobody has seen these counts yet. */
  | { readonly kind: 'counted'; readonly changes: PriceChanges; readonly seen: string; readonly known: KnownForPrices }
  | { readonly kind: 'saved'; readonly changes: PriceChanges };

/** The counts as one word, so that what was seen is what is saved. */
const seenOf = ({ added, changed, unchanged }: PriceChanges) => `${added.length}-${changed.length}-${unchanged}`;

/**
 * Prices of a table: first counted, then, with the counts that were seen, saved. All of it or nothing, in one write.
 *
 * @param seen the counts that the user saw; empty at first
 */
export async function importPrices({ store }: Workshop, text: string, seen: string): Promise<PriceImport> {
  const known = await store.read(readKnownForPrices);
  const read = readPriceCsv(text, known);
  if (!read.ok) return { kind: 'faulty', problems: read.problems };
  const counted = comparePrices(read.value, known.offers);
  if (seenOf(counted) !== seen) return { kind: 'counted', changes: counted, seen: seenOf(counted), known };
  return await store.write('buying: import prices', async (tx): Promise<PriceImport> => {
    const now = await readKnownForPrices(tx);
    const again = readPriceCsv(text, now);
    if (!again.ok) return { kind: 'faulty', problems: again.problems };
    const changes = comparePrices(again.value, now.offers);
    if (seenOf(changes) !== seen) return { kind: 'counted', changes, seen: seenOf(changes), known: now };
    for (const { row: _, stockPacks = null, ...offer } of changes.added)
      await createOffer(tx, { ...offer, stockPacks });
    for (const { entry, offer } of changes.changed) {
      const { priceCents, stockPacks = offer.stockPacks } = entry;
      await changeOffer(tx, offer.id, { priceCents, stockPacks });
    }
    return { kind: 'saved', changes };
  });
}
