import type { Day } from '#core/shared/calendar.ts';
import { formatCents, formatDay, formatPercent } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';
import type { OutletProps } from '#views/pages/pricing/price-words.tsx';
import { dearestOf, type SizeProps } from '#views/pages/pricing/prices.tsx';

export type SheetPageProps = {
  readonly sizes: readonly SizeProps[];
  readonly outlets: readonly OutletProps[];
  readonly currency: string;
  readonly today: Day;
  readonly taxNote: string;
};

function taxWords(outlet: OutletProps): string {
  return `${outlet.name}: ${formatPercent(outlet.taxRatio)} tax ${outlet.isTaxIncluded ? 'is in the price' : 'is added'}`;
}

/** Sizes down, outlets across: to print and take along. */
export const SheetPage = ({ sizes, outlets, currency, today, taxNote }: SheetPageProps) => {
  const selling = outlets.filter((outlet) => outlet.kind !== 'gift');
  const taxed = selling.filter((outlet) => outlet.taxRatio > 0);
  return (
    <Page title={`Prices from ${formatDay(today)}`} where={<a href="/pricing">Costs and prices</a>} current="pricing">
      {sizes.length === 0 || selling.length === 0 ? (
        <EmptyState action={{ href: '/pricing', words: 'Back to costs and prices' }}>
          A price sheet needs an order and an outlet that sells.
        </EmptyState>
      ) : (
        <>
          <p class="soft no-print">
            Print this page with your browser. The list has a line for each size that is on order.
          </p>
          <DataTable
            caption="Price of a pair"
            isCaptionHidden
            columns={[
              { name: 'Size', kind: 'heading', cell: (size: SizeProps) => size.size },
              ...selling.map((outlet) => ({
                name: outlet.name,
                kind: 'number' as const,
                cell: (size: SizeProps) => {
                  const price = dearestOf(size).prices.find((each) => each.outlet.id === outlet.id)?.row.priceCents;
                  return price === null || price === undefined ? '–' : formatCents(price, currency);
                },
              })),
            ]}
            rows={sizes}
          />
          {taxed.length > 0 ? <p>{taxed.map(taxWords).join('; ')}.</p> : null}
          {taxNote ? <p>{taxNote}</p> : null}
        </>
      )}
    </Page>
  );
};
