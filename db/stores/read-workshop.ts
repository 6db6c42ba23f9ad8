import { entryOf } from '#core/shared/entry-of.ts';
import type { Workshop } from '#db/open.ts';
import {
  type BatchLineRow,
  type BatchRow,
  listBatches,
  listBatchLines,
  listCurrentPairColours,
  listCurrentPairPieces,
  listCurrentPairs,
  type PairColourRow,
  type PairPieceRow,
  type PairRow,
} from '#db/stores/batch.ts';
import {
  listOfferBreaks,
  listOffers,
  listPurchaseLines,
  listPurchases,
  listSupplierBreaks,
  listSuppliers,
  type OfferBreakRow,
  type OfferRow,
  type PurchaseLineRow,
  type PurchaseRow,
  type SupplierBreakRow,
  type SupplierRow,
} from '#db/stores/buying.ts';
import { listSwatches, type SwatchRow } from '#db/stores/gauge.ts';
import {
  type DaysOffRow,
  type KnitterHoursRow,
  type KnitterRateRow,
  type KnitterRow,
  listDaysOff,
  listKnitterHours,
  listKnitterRates,
  listKnitters,
} from '#db/stores/knitters.ts';
import {
  type CustomerRow,
  type LineColourRow,
  listCustomers,
  listOpenLineColours,
  listOpenLines,
  listOpenOrders,
  listOrderExtras,
  listPayments,
  type OrderExtraRow,
  type OrderLineRow,
  type OrderRow,
  type PaymentRow,
} from '#db/stores/orders.ts';
import { listPlacements, type PlacementRow } from '#db/stores/placements.ts';
import {
  type ExpenseRow,
  listExpenses,
  listOutlets,
  listPostageBands,
  listPriceGroups,
  type OutletRow,
  type PostageBandRow,
  type PriceGroupRow,
} from '#db/stores/pricing.ts';
import {
  type BallRow,
  type LotRow,
  type LotShopRow,
  listFullBalls,
  listLotShops,
  listLots,
  listReservations,
  listYarnColours,
  listYarns,
  type ReservationRow,
  type YarnColourRow,
  type YarnRow,
} from '#db/stores/shelf.ts';
import { type FootRow, listBands, listFeet, type SizeBandRow } from '#db/stores/sizing.ts';
import {
  listMaterials,
  listStyleMaterials,
  listStyles,
  listStyleVersions,
  type MaterialRow,
  type StyleMaterialRow,
  type StyleRow,
  type StyleVersionRow,
} from '#db/stores/styles.ts';
import { type AnswerRow, listAnswers, listSettings, listState, type SettingRow } from '#db/stores/workshop.ts';

/** All that a plan needs, as it stood at one moment. Orders, lines and colours are of orders not cancelled. */
export type WorkshopRows = {
  readonly born: string;
  readonly revision: number;
  readonly customers: readonly CustomerRow[];
  /** By due day (those without one last), then number. */
  readonly orders: readonly OrderRow[];
  readonly lines: readonly OrderLineRow[];
  readonly lineColours: readonly LineColourRow[];
  readonly bands: readonly SizeBandRow[];
  readonly feet: readonly FootRow[];
  readonly styles: readonly StyleRow[];
  /** Every version: pairs on the needles may still use an old one. */
  readonly styleVersions: readonly StyleVersionRow[];
  readonly materials: readonly MaterialRow[];
  readonly styleMaterials: readonly StyleMaterialRow[];
  readonly swatches: readonly SwatchRow[];
  readonly yarns: readonly YarnRow[];
  readonly yarnColours: readonly YarnColourRow[];
  readonly lots: readonly LotRow[];
  /** Where lots without a number were bought. */
  readonly lotShops: readonly LotShopRow[];
  /** Balls with yarn on them, on the shelf or with a knitter. */
  readonly balls: readonly BallRow[];
  readonly reservations: readonly ReservationRow[];
  readonly suppliers: readonly SupplierRow[];
  readonly offers: readonly OfferRow[];
  readonly offerBreaks: readonly OfferBreakRow[];
  readonly supplierBreaks: readonly SupplierBreakRow[];
  readonly purchases: readonly PurchaseRow[];
  readonly purchaseLines: readonly PurchaseLineRow[];
  readonly knitters: readonly KnitterRow[];
  readonly knitterRates: readonly KnitterRateRow[];
  readonly knitterHours: readonly KnitterHoursRow[];
  readonly daysOff: readonly DaysOffRow[];
  readonly outlets: readonly OutletRow[];
  readonly expenses: readonly ExpenseRow[];
  /** Of every order, a cancelled one's too: it may still owe or be owed. */
  readonly orderExtras: readonly OrderExtraRow[];
  readonly payments: readonly PaymentRow[];
  readonly postageBands: readonly PostageBandRow[];
  readonly priceGroups: readonly PriceGroupRow[];
  /** Pairs that stand in a shop on sale or return, or stood there. */
  readonly placements: readonly PlacementRow[];
  readonly settings: readonly SettingRow[];
  readonly answers: readonly AnswerRow[];
  readonly batches: readonly BatchRow[];
  readonly batchLines: readonly BatchLineRow[];
  /** Pairs that have not left, and pairs that left for an order not cancelled. */
  readonly pairs: readonly PairRow[];
  readonly pairPieces: readonly PairPieceRow[];
  readonly pairColours: readonly PairColourRow[];
};

/** Reads the workshop in one batch: a consistent view, even beside a write under way. */
export async function readWorkshop({ store }: Workshop): Promise<WorkshopRows> {
  return await store.read(async (db) => {
    const [
      [state],
      customers,
      orders,
      lines,
      lineColours,
      bands,
      feet,
      styles,
      styleVersions,
      materials,
      styleMaterials,
      swatches,
      yarns,
      yarnColours,
      lots,
      lotShops,
      balls,
      reservations,
      suppliers,
      offers,
      offerBreaks,
      supplierBreaks,
      purchases,
      purchaseLines,
      knitters,
      knitterRates,
      knitterHours,
      daysOff,
      outlets,
      expenses,
      orderExtras,
      payments,
      postageBands,
      priceGroups,
      placements,
      settings,
      answers,
      batches,
      batchLines,
      pairs,
      pairPieces,
      pairColours,
    ] = await db.batch([
      listState(db),
      listCustomers(db),
      listOpenOrders(db),
      listOpenLines(db),
      listOpenLineColours(db),
      listBands(db),
      listFeet(db),
      listStyles(db),
      listStyleVersions(db),
      listMaterials(db),
      listStyleMaterials(db),
      listSwatches(db),
      listYarns(db),
      listYarnColours(db),
      listLots(db),
      listLotShops(db),
      listFullBalls(db),
      listReservations(db),
      listSuppliers(db),
      listOffers(db),
      listOfferBreaks(db),
      listSupplierBreaks(db),
      listPurchases(db),
      listPurchaseLines(db),
      listKnitters(db),
      listKnitterRates(db),
      listKnitterHours(db),
      listDaysOff(db),
      listOutlets(db),
      listExpenses(db),
      listOrderExtras(db),
      listPayments(db),
      listPostageBands(db),
      listPriceGroups(db),
      listPlacements(db),
      listSettings(db),
      listAnswers(db),
      listBatches(db),
      listBatchLines(db),
      listCurrentPairs(db),
      listCurrentPairPieces(db),
      listCurrentPairColours(db),
    ]);
    return {
      born: state!.born,
      revision: state!.revision,
      customers,
      orders,
      lines,
      lineColours,
      bands,
      feet,
      styles,
      styleVersions,
      materials,
      styleMaterials,
      swatches,
      yarns,
      yarnColours,
      lots,
      lotShops,
      balls,
      reservations,
      suppliers,
      offers,
      offerBreaks,
      supplierBreaks,
      purchases,
      purchaseLines,
      knitters,
      knitterRates,
      knitterHours,
      daysOff,
      outlets,
      expenses,
      orderExtras,
      payments,
      postageBands,
      priceGroups,
      placements,
      settings,
      answers,
      batches,
      batchLines,
      pairs: sharingTexts(pairs),
      pairPieces,
      pairColours,
    };
  });
}

// The frozen part of a pair is some thousand letters, and the same in all like pairs: each is held once.
function sharingTexts(pairs: readonly PairRow[]): PairRow[] {
  const texts = new Map<string, string>();
  return pairs.map((pair) => ({ ...pair, specJson: entryOf(texts, pair.specJson, () => pair.specJson) }));
}
