import type { ShopAccount } from '#core/pricing/shop-account.ts';
import { countOf, formatCents, formatPercent } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page, type Purpose } from '#views/layout.tsx';

/** A shop as its pages show it. */
export type ShopProps = {
  readonly id: number;
  readonly name: string;
  readonly terms: 'wholesale' | 'sale or return' | null;
  readonly shopShareRatio: number;
  readonly leastPairs: number | null;
};

export type ShopsPageProps = {
  readonly shops: readonly { readonly shop: ShopProps; readonly account: ShopAccount }[];
  readonly currency: string;
  readonly purpose: Purpose;
};

/** How a shop deals, in words. */
export function termsWords({ terms, shopShareRatio, leastPairs }: ShopProps): string {
  if (terms === 'sale or return') return `Sale or return, keeps ${formatPercent(shopShareRatio)}`;
  if (terms === 'wholesale') {
    return leastPairs === null ? 'Buys wholesale' : `Buys wholesale, from ${countOf(leastPairs, 'pair', 'pairs')} on`;
  }
  return 'Terms not said yet';
}

/** What a shop owes, in words and tone. */
export function owedWords(owedCents: number, currency: string): string {
  if (owedCents === 0) return 'nothing';
  return owedCents > 0 ? formatCents(owedCents, currency) : `${formatCents(-owedCents, currency)} paid ahead`;
}

/** Every shop that sells for us or buys from us. */
export const ShopsPage = ({ shops, currency, purpose }: ShopsPageProps) => {
  const owed = shops.reduce((sum, { account }) => sum + Math.max(0, account.owedCents), 0);
  const standing = shops.reduce((sum, { account }) => sum + account.standing, 0);
  const title =
    standing === 0
      ? 'Shops'
      : `${countOf(standing, 'pair stands', 'pairs stand')} in ${countOf(shops.length, 'shop', 'shops')}`;
  return (
    <Page title={title} where={<a href="/pricing">Costs and prices</a>} current="pricing" purpose={purpose}>
      {shops.length === 0 ? (
        <EmptyState action={{ href: '/pricing/outlets/new', words: 'Add an outlet' }}>
          A shop buys pairs from you, or shows them and pays for what it sold. Add it as an outlet.
        </EmptyState>
      ) : (
        <>
          <p>{owed > 0 ? `Shops owe you ${formatCents(owed, currency)}.` : 'No shop owes you anything.'}</p>
          <DataTable
            caption="Shops"
            isCaptionHidden
            columns={[
              {
                name: 'Shop',
                kind: 'heading',
                cell: ({ shop }) => <a href={`/pricing/shops/${shop.id}`}>{shop.name}</a>,
              },
              { name: 'Terms', kind: 'wide', cell: ({ shop }) => termsWords(shop) },
              { name: 'Standing there', kind: 'number', cell: ({ account }) => String(account.standing) },
              { name: 'Sold there', kind: 'number', cell: ({ account }) => String(account.sold) },
              { name: 'Owes', kind: 'number', cell: ({ account }) => owedWords(account.owedCents, currency) },
            ]}
            rows={shops}
          />
        </>
      )}
    </Page>
  );
};
