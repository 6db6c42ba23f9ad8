import { sampleSetting } from '#db/sample.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

type CountedRows = Pick<
  WorkshopRows,
  'customers' | 'orders' | 'styles' | 'bands' | 'yarns' | 'knitters' | 'outlets' | 'suppliers' | 'materials' | 'pairs'
>;

/** Nothing is in the workshop yet but, perhaps, settings. */
export function isEmpty(rows: CountedRows): boolean {
  return [
    rows.customers,
    rows.orders,
    rows.styles,
    rows.bands,
    rows.yarns,
    rows.knitters,
    rows.outlets,
    rows.suppliers,
    rows.materials,
    rows.pairs,
  ].every((table) => table.length === 0);
}

/** The workshop holds the sample season, not anybody's own work. */
export function isSample(rows: Pick<WorkshopRows, 'settings'>): boolean {
  return rows.settings.some((row) => row.name === sampleSetting && row.valueJson === 'true');
}
