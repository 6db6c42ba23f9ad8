import type { Day } from '#core/shared/calendar.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import type { LotRow } from '#db/stores/shelf.ts';

/** What tells lots without a number apart: who gave it or sold it, where that is known, and the day it came. */
export type LotName = { readonly dyeLot: string | null; readonly from: string | null; readonly gotDay: Day };

/** Names lots of the shelf. */
export function lotNamer({
  lotShops,
  suppliers,
}: Pick<WorkshopRows, 'lotShops' | 'suppliers'>): (lot: LotRow) => LotName {
  const names = new Map(suppliers.map(({ id, name }) => [id, name]));
  const shopOf = new Map(lotShops.map(({ lotId, supplierId }) => [lotId, names.get(supplierId) ?? null]));
  return ({ id, dyeLot, donor, gotDay }) => ({ dyeLot, from: donor ?? shopOf.get(id) ?? null, gotDay });
}
