import { countOf } from '#core/shared/format.ts';
import type { Paging } from '#core/shared/paging.ts';
import { type PageHref, Pager } from '#views/components/pager.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import {
  type KnitterPair,
  KnitterTable,
  LateList,
  type LateOrderHelp,
  type PairFromStock,
  StockTable,
} from '#views/pages/batch/batch-page.tsx';

type ListPageProps<Row> = {
  readonly purpose: Purpose;
  readonly rows: readonly Row[];
  readonly paging: Paging;
  readonly pageHref: PageHref;
};

const toBatch = <a href="/batch">Batch</a>;

/** Every order that comes late. */
export const LatePage = ({ purpose, rows, paging, pageHref }: ListPageProps<LateOrderHelp>) => (
  <Page
    title={paging.count === 0 ? 'Nothing comes late' : `${countOf(paging.count, 'order', 'orders')} late as planned`}
    where={toBatch}
    current="batch"
    purpose={purpose}
  >
    {paging.count === 0 ? <p>Every order is finished by its day, as planned.</p> : null}
    <Pager paging={paging} noun="Orders" href={pageHref} />
    <LateList late={rows} />
    <Pager paging={paging} noun="Orders" href={pageHref} isBelow />
  </Page>
);

/** Every order that a finished pair answers. */
export const FromStockPage = ({ purpose, rows, paging, pageHref }: ListPageProps<PairFromStock>) => (
  <Page title="Taken from finished pairs" where={toBatch} current="batch" purpose={purpose}>
    <p>
      {paging.count === 0
        ? 'No finished pair answers an order that is open.'
        : `${countOf(paging.count, 'pair', 'pairs')} of what is ordered need no knitting: a finished one fits, whatever its label says.`}
    </p>
    <Pager paging={paging} noun="Pairs" href={pageHref} />
    {rows.length > 0 ? <StockTable fromStock={rows} /> : null}
    <Pager paging={paging} noun="Pairs" href={pageHref} isBelow />
  </Page>
);

/** Every pair of one knitter, one after another. */
export const KnitterPairsPage = ({
  purpose,
  name,
  rows,
  paging,
  pageHref,
}: ListPageProps<KnitterPair> & { readonly name: string }) => (
  <Page
    title={`${name} knits ${countOf(paging.count, 'pair', 'pairs')}`}
    where={toBatch}
    current="batch"
    purpose={purpose}
  >
    <p>One after another, as planned; pairs that are begun are among them.</p>
    <Pager paging={paging} noun="Pairs" href={pageHref} />
    {rows.length > 0 ? <KnitterTable name={name} pairs={rows} /> : null}
    <Pager paging={paging} noun="Pairs" href={pageHref} isBelow />
  </Page>
);
