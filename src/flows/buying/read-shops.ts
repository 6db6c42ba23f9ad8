import { AppError } from '#core/shared/app-error.ts';
import { readSettings, type Settings } from '#core/shared/settings.ts';
import type { Workshop } from '#db/open.ts';
import {
  listOfferBreaks,
  listOffers,
  listSupplierBreaks,
  listSuppliers,
  type OfferBreakRow,
  type OfferRow,
  type SupplierBreakRow,
  type SupplierRow,
} from '#db/stores/buying.ts';
import { listYarnColours, listYarns, type YarnColourRow, type YarnRow } from '#db/stores/shelf.ts';
import { listSettings } from '#db/stores/workshop.ts';

export type ShopOffer = {
  readonly offer: OfferRow & { readonly breaks: readonly OfferBreakRow[] };
  readonly colour: YarnColourRow;
  readonly yarn: YarnRow;
};
export type Shop = {
  readonly supplier: SupplierRow & { readonly breaks: readonly SupplierBreakRow[] };
  readonly offers: readonly ShopOffer[];
};

export type Shops = {
  readonly settings: Settings;
  readonly shops: readonly Shop[];
  readonly yarns: readonly YarnRow[];
  readonly colours: readonly YarnColourRow[];
};

/** Every shop with what it sells, by yarn and colour. */
export async function readShops({ store }: Workshop): Promise<Shops> {
  const [suppliers, offers, yarns, colours, settingRows, packBreaks, basketBreaks] = await store.read((db) =>
    db.batch([
      listSuppliers(db),
      listOffers(db),
      listYarns(db),
      listYarnColours(db),
      listSettings(db),
      listOfferBreaks(db),
      listSupplierBreaks(db),
    ]),
  );
  const yarnById = new Map(yarns.map((yarn) => [yarn.id, yarn]));
  const colourById = new Map(colours.map((colour) => [colour.id, colour]));
  const sold = offers
    .map((offer) => {
      const colour = colourById.get(offer.yarnColourId)!;
      const breaks = packBreaks.filter((each) => each.offerId === offer.id);
      return { offer: { ...offer, breaks }, colour, yarn: yarnById.get(colour.yarnId)! };
    })
    .sort(
      (a, b) =>
        a.yarn.name.localeCompare(b.yarn.name, 'en') ||
        a.colour.name.localeCompare(b.colour.name, 'en') ||
        a.offer.ballMg * a.offer.ballsPerPack - b.offer.ballMg * b.offer.ballsPerPack,
    );
  return {
    settings: readSettings(settingRows),
    shops: suppliers.map((supplier) => ({
      supplier: { ...supplier, breaks: basketBreaks.filter((each) => each.supplierId === supplier.id) },
      offers: sold.filter(({ offer }) => offer.supplierId === supplier.id),
    })),
    yarns,
    colours,
  };
}

/** @throws {AppError} `notFound` */
export function findShop({ shops }: Shops, id: number): Shop {
  const found = shops.find(({ supplier }) => supplier.id === id);
  if (!found) throw new AppError('notFound', 'This shop is not here; it may have been removed.');
  return found;
}

/** @throws {AppError} `notFound` */
export function findShopOffer({ shops }: Shops, id: number): ShopOffer & { readonly shop: Shop } {
  for (const shop of shops) {
    const found = shop.offers.find(({ offer }) => offer.id === id);
    if (found) return { ...found, shop };
  }
  throw new AppError('notFound', 'This price is not here; it may have been removed.');
}
