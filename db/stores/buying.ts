import { asc, desc } from 'drizzle-orm';
import { offerBreaks, offers, purchaseLines, purchases, supplierBreaks, suppliers } from '#db/schema/buying.ts';
import type { RowOf } from '#db/stores/record.ts';
import { rowsOf } from '#db/stores/rows.ts';

export type SupplierRow = RowOf<typeof suppliers>;
export type OfferRow = RowOf<typeof offers>;
export type OfferBreakRow = RowOf<typeof offerBreaks>;
export type SupplierBreakRow = RowOf<typeof supplierBreaks>;
export type PurchaseRow = RowOf<typeof purchases>;
export type PurchaseLineRow = RowOf<typeof purchaseLines>;

export const {
  list: listSuppliers,
  find: findSupplier,
  create: createSupplier,
  change: changeSupplier,
  remove: removeSupplier,
} = rowsOf(suppliers, asc(suppliers.rank));

export const {
  list: listOffers,
  find: findOffer,
  create: createOffer,
  change: changeOffer,
  remove: removeOffer,
} = rowsOf(offers, asc(offers.yarnColourId), asc(offers.supplierId));

export const {
  list: listPurchases,
  find: findPurchase,
  create: createPurchase,
  change: changePurchase,
} = rowsOf(purchases, desc(purchases.orderedDay));

export const {
  list: listPurchaseLines,
  find: findPurchaseLine,
  create: createPurchaseLine,
  change: changePurchaseLine,
} = rowsOf(purchaseLines, asc(purchaseLines.purchaseId));

export const {
  list: listOfferBreaks,
  create: createOfferBreak,
  change: changeOfferBreak,
  remove: removeOfferBreak,
} = rowsOf(offerBreaks, asc(offerBreaks.fromPacks));

export const {
  list: listSupplierBreaks,
  create: createSupplierBreak,
  change: changeSupplierBreak,
  remove: removeSupplierBreak,
} = rowsOf(supplierBreaks, asc(supplierBreaks.fromCents));
