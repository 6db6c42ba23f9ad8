import { defaultBands } from '#core/sizing/bands.ts';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import type { Tx } from '#db/store.ts';
import { createBand, type SizeBandRow } from '#db/stores/sizing.ts';
import { createStyle, type StyleRow } from '#db/stores/styles.ts';

/** What every workshop begins with, its own or the sample: the styles that ship, the usual slipper first, and the bands. */
export async function addFirstRows(tx: Tx): Promise<{ style: StyleRow; bands: readonly SizeBandRow[] }> {
  const [usual, ...others] = shippedStyles;
  const style = await createStyle(tx, { name: usual!.style, isShipped: true, body: usual! });
  for (const body of others) await createStyle(tx, { name: body.style, isShipped: true, body });
  const bands: SizeBandRow[] = [];
  for (const [rank, band] of defaultBands.entries()) bands.push(await createBand(tx, { ...band, rank }));
  return { style, bands };
}
