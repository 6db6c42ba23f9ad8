import { isNotNull } from 'drizzle-orm';
import type { SQLiteTable } from 'drizzle-orm/sqlite-core';
import { batches, batchLines, pairColours, pairEvents, pairPieces, pairRows, pairs } from '#db/schema/batch.ts';
import { offerBreaks, offers, purchaseLines, purchases, supplierBreaks, suppliers } from '#db/schema/buying.ts';
import { asked, fairDays, fairPairs, fairs, saleLines, sales } from '#db/schema/fair.ts';
import { swatches } from '#db/schema/gauge.ts';
import { daysOff, knitterHours, knitterRates, knitters } from '#db/schema/knitters.ts';
import {
  customers,
  extras,
  imports,
  lineColours,
  orderExtras,
  orderLines,
  orders,
  payments,
} from '#db/schema/orders.ts';
import { placements, shopPayments } from '#db/schema/placements.ts';
import { expenses, outlets, postageBands, priceGroups, pricesSeen } from '#db/schema/pricing.ts';
import { ballMoves, balls, lots, reservations, yarnColours, yarns } from '#db/schema/shelf.ts';
import { sessions } from '#db/schema/sign-in.ts';
import { feet, sizeBands } from '#db/schema/sizing.ts';
import { materials, styleMaterials, styles, styleVersions } from '#db/schema/styles.ts';
import { answers, changes, settings } from '#db/schema/workshop.ts';
import type { Tx } from '#db/store.ts';

/**
 * Every table but `state` and the passphrase, each before those it points to. The passphrase stays, since an empty
 * workshop that others can reach would otherwise be left open; whoever was signed in signs in again.
 */
const inOrder: readonly SQLiteTable[] = [
  saleLines,
  sales,
  asked,
  fairPairs,
  fairDays,
  fairs,
  placements,
  shopPayments,
  pairEvents,
  pairRows,
  pairColours,
  pairPieces,
  ballMoves,
  pairs,
  batchLines,
  reservations,
  batches,
  balls,
  lots,
  purchaseLines,
  purchases,
  offerBreaks,
  supplierBreaks,
  offers,
  suppliers,
  lineColours,
  orderLines,
  payments,
  orderExtras,
  extras,
  orders,
  imports,
  feet,
  customers,
  priceGroups,
  outlets,
  postageBands,
  pricesSeen,
  expenses,
  swatches,
  knitterRates,
  knitterHours,
  daysOff,
  knitters,
  styleMaterials,
  materials,
  styleVersions,
  styles,
  sizeBands,
  yarnColours,
  yarns,
  settings,
  answers,
  sessions,
  changes,
];

/**
 * Takes every row away, settings and history too: what is left is a workshop as on its first day. The history would
 * hold each row again, so it goes as well; whoever wants it keeps a copy first.
 */
export async function clearEverything(tx: Tx): Promise<void> {
  // These point back at their own kind; what undoes something goes before it.
  for (const table of [ballMoves, payments, sales]) await tx.changer.delete(table).where(isNotNull(table.reversesId));
  await tx.changer.update(styles).set({ currentVersionId: null });
  for (const table of inOrder) await tx.changer.delete(table);
}
