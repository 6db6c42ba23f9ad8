import type { CostParts } from '#core/pricing/outlet.ts';
import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import { formatCents } from '#core/shared/format.ts';
import { FoldOnPhone } from '#views/components/fold-on-phone.tsx';
import { DataTable } from '#views/components/table.tsx';
import { shortWorth, toneClass, worthTone } from '#views/pages/pricing/price-words.tsx';

type WayName = {
  readonly way: 'short cuff' | 'no cuff' | 'one colour' | 'yarn' | 'style';
  readonly name: string | null;
};

export type WaysDownProps = {
  readonly ways: readonly (WayName & {
    readonly cost: CostParts;
    readonly savingCents: number;
    readonly row: PriceSheetRow;
    readonly colourNames: readonly string[];
    readonly kept: readonly string[];
  })[];
  readonly leftOut: readonly (WayName & { readonly reason: string })[];
  readonly priceCents: number;
  readonly outletName: string;
  readonly currency: string;
  readonly wageCents: number;
};

const plainWords = { 'short cuff': 'A short cuff', 'no cuff': 'No cuff', 'one colour': 'One colour' };

function wayWords({ way, name }: WayName): string {
  if (way === 'yarn') return `In ${name ?? ''}`;
  if (way === 'style') return `As ${name ?? ''}`;
  return plainWords[way];
}

/** Other pairs for the same foot that cost less, and what an hour of them earns at the price asked now. */
export const WaysDown = ({ ways, leftOut, priceCents, outletName, currency, wageCents }: WaysDownProps) => (
  <section id="ways-down">
    <h2>Ways down</h2>
    {ways.length === 0 ? (
      <p>Nothing that you have makes this pair cheaper.</p>
    ) : (
      <p>
        Other pairs for the same foot, and what an hour of them earns at {formatCents(priceCents, currency)} at{' '}
        {outletName}.
      </p>
    )}
    {ways.length === 0 ? null : (
      <DataTable
        caption="What would cost less"
        isCaptionHidden
        columns={[
          {
            name: 'Instead',
            kind: 'heading',
            cell: (row) => (
              <span>
                {wayWords(row)}
                {row.colourNames.length > 0 ? <small class="soft"> {row.colourNames.join(' and ')}</small> : null}
                {row.kept.length > 0 ? <small class="soft"> counted with {row.kept.join(' and ')} too</small> : null}
              </span>
            ),
          },
          { name: 'Saves', kind: 'number', cell: (row) => formatCents(row.savingCents, currency) },
          { name: 'Then costs me', kind: 'number', cell: (row) => formatCents(row.cost.totalCents, currency) },
          {
            name: 'An hour earns',
            kind: 'number',
            cell: (row) => (
              <span class={toneClass(worthTone(row.row, wageCents))}>
                {shortWorth(row.row, row.cost, wageCents, currency).replace(' an hour', '')}
              </span>
            ),
          },
        ]}
        rows={ways}
      />
    )}
    {leftOut.length > 0 ? (
      <FoldOnPhone summary="What was left out, and why">
        <ul class="soft">
          {leftOut.map((each) => (
            <li>
              {wayWords(each)}: {each.reason.charAt(0).toLowerCase() + each.reason.slice(1)}
            </li>
          ))}
        </ul>
      </FoldOnPhone>
    ) : null}
  </section>
);
