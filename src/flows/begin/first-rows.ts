import { defaultBands } from '#core/sizing/bands.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { Tx } from '#db/store.ts';
import { createBand, type SizeBandRow } from '#db/stores/sizing.ts';
import { createStyle, type StyleRow } from '#db/stores/styles.ts';

/** What every workshop begins with, its own or the sample: the shipped style and the usual bands. */
export async function addFirstRows(tx: Tx): Promise<{ style: StyleRow; bands: readonly SizeBandRow[] }> {
  const style = await createStyle(tx, { name: twoPieceSlipper.style, isShipped: true, body: twoPieceSlipper });
  const bands: SizeBandRow[] = [];
  for (const [rank, band] of defaultBands.entries()) bands.push(await createBand(tx, { ...band, rank }));
  return { style, bands };
}
