import { Chip } from '#views/components/chip.tsx';
import type { ColourView } from '#views/pages/orders/types.ts';

export type SizeColourTableProps = {
  readonly caption: string;
  readonly colours: readonly ColourView[];
  readonly rows: readonly { readonly size: string; readonly counts: readonly number[]; readonly total: number }[];
  readonly totals: readonly number[];
  readonly total: number;
};

/** Pairs by size and colour with their sums; on a phone each size lists its colours. */
export const SizeColourTable = ({ caption, colours, rows, totals, total }: SizeColourTableProps) => (
  <div class="size-grid-frame">
    <table class="size-grid">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">Size</th>
          {colours.map((colour) => (
            <th scope="col" class="number">
              <Chip colours={colour.hexes} name={colour.name} />
            </th>
          ))}
          <th scope="col" class="number">
            Together
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr>
            <th scope="row">{row.size}</th>
            {row.counts.map((count, index) => (
              <td class={count === 0 ? 'number nothing' : 'number'}>
                <span class="cell-name">
                  <Chip colours={colours[index]!.hexes} name={colours[index]!.name} />
                </span>
                {count === 0 ? '' : count}
              </td>
            ))}
            <td class="number sum">
              <span class="cell-name">Together</span>
              {row.total}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">Together</th>
          {totals.map((count, index) => (
            <td class="number">
              <span class="cell-name">
                <Chip colours={colours[index]!.hexes} name={colours[index]!.name} />
              </span>
              {count}
            </td>
          ))}
          <td class="number sum">
            <span class="cell-name">All</span>
            {total}
          </td>
        </tr>
      </tfoot>
    </table>
  </div>
);
