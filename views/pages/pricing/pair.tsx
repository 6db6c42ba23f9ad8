import type { PriceSheetRow } from '#core/pricing/price-sheet.ts';
import { currencySign, formatCents, formatMinutes } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Bar } from '#views/components/bar.tsx';
import { Card } from '#views/components/card.tsx';
import { Caution } from '#views/components/caution.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, TextField } from '#views/components/field.tsx';
import { FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Page } from '#views/layout.tsx';
import {
  NoWage,
  notKnownYet,
  type OutletProps,
  PairColours,
  type PairProps,
  toneClass,
  worthTone,
  worthWords,
} from '#views/pages/pricing/price-words.tsx';
import { OthersAsk, type SeenRangeProps } from '#views/pages/pricing/seen.tsx';
import { WaysDown, type WaysDownProps } from '#views/pages/pricing/ways-down.tsx';

export type PairPageProps = {
  readonly pair: PairProps;
  readonly orderId: number;
  readonly orderNumber: number;
  readonly agreedCents: number | null;
  readonly currency: string;
  readonly wageCents: number;
  readonly purpose: 'sell' | 'order' | 'give';
  /** What was typed to try. */
  readonly values: { readonly price: string; readonly at: string };
  readonly problems: readonly Problem[];
  readonly tried: { readonly outlet: OutletProps; readonly row: PriceSheetRow } | null;
  /** Null where nothing is sold. */
  readonly ways: Omit<WaysDownProps, 'currency' | 'wageCents'> | null;
  readonly othersAsk: SeenRangeProps | null;
};

const CostBar = ({ pair, currency }: { readonly pair: PairProps; readonly currency: string }) => {
  const { yarnCents, materialsCents, labourCents, overheadCents, totalCents } = pair.cost;
  const { openedBallCents = 0, sparesCents = 0 } = pair.cost;
  const part = (name: string, cents: number) => ({ name, size: cents, text: formatCents(cents, currency) });
  return (
    <Bar
      id="cost"
      caption={`Where the ${formatCents(totalCents, currency)} of a pair go`}
      parts={[
        part('Yarn', yarnCents),
        part('Other materials', materialsCents),
        part(sparesCents > 0 ? 'Work, with that of pairs that go wrong' : 'Work', labourCents),
        part('Running costs', overheadCents),
        part('Left of opened balls', openedBallCents),
        part('Pairs that go wrong, without their work', sparesCents),
      ].filter((each) => each.size > 0 || each.name === 'Yarn')}
      total={formatCents(totalCents, currency)}
    />
  );
};

const Outlets = ({ pair, currency, wageCents }: PairPageProps) => {
  const money = (cents: number | null) => (cents === null ? '–' : formatCents(cents, currency));
  return (
    <DataTable
      caption="At each outlet"
      columns={[
        {
          name: 'Outlet',
          kind: 'heading',
          cell: ({ outlet }) => <a href={`/pricing/outlets/${outlet.id}`}>{outlet.name}</a>,
        },
        {
          name: 'Price',
          kind: 'number',
          cell: ({ outlet, row, groupName, suggestedCents }) =>
            outlet.kind === 'gift' ? (
              'a gift'
            ) : row.priceCents === null ? (
              '–'
            ) : groupName === null ? (
              <span class="price">
                <a href={`/working/pricing/price/${pair.lineId}-${outlet.id}`}>{money(row.priceCents)}</a>
                {suggestedCents === null ? null : <small>it may ask {money(suggestedCents)}</small>}
              </span>
            ) : (
              <span class="price">
                {money(row.priceCents)}
                <small>
                  <a href="/pricing/groups">for {groupName}</a>
                </small>
              </span>
            ),
        },
        { name: 'With a flaw', kind: 'number', cell: ({ secondCents }) => money(secondCents) },
        {
          name: 'Left to me',
          kind: 'number',
          cell: ({ outlet, row }) => (outlet.kind === 'gift' ? '–' : money(row.netCents)),
        },
        { name: 'Money back at', kind: 'number', cell: ({ row }) => money(row.getsMoneyBackCents) },
        ...(wageCents > 0
          ? [
              {
                name: 'Wage paid at',
                kind: 'number' as const,
                cell: ({ row }: { row: PriceSheetRow }) => money(row.paysWageCents),
              },
            ]
          : []),
        {
          name: 'So',
          kind: 'wide',
          cell: ({ outlet, row }) =>
            outlet.kind === 'gift' ? (
              pair.isCostUnknown ? (
                notKnownYet
              ) : (
                `costs ${money(pair.cost.totalCents - pair.cost.labourCents)}, worth ${money(pair.cost.totalCents)} with the time in it`
              )
            ) : (
              <span class={toneClass(worthTone(row, wageCents))}>
                {worthWords(row, pair.cost, wageCents, currency)}
              </span>
            ),
        },
      ]}
      rows={pair.prices}
    />
  );
};

const TryPrice = ({ pair, currency, wageCents, values, problems, tried, agreedCents }: PairPageProps) => {
  const outlets = pair.prices.filter(({ outlet }) => outlet.kind !== 'gift').map(({ outlet }) => outlet);
  if (outlets.length === 0) return null;
  return (
    <Card title="Try a price">
      <form method="get" action={`/pricing/pair/${pair.lineId}#tried`}>
        <FieldRow>
          <TextField
            name="price"
            label="At a price of"
            value={values.price}
            problems={problems}
            inputmode="decimal"
            width="short"
            unit={currencySign(currency)}
          />
          <SelectField
            name="at"
            label="at"
            options={outlets.map((outlet) => ({ value: String(outlet.id), words: outlet.name }))}
            value={values.at}
            problems={problems}
          />
        </FieldRow>
        {agreedCents === null ? null : <p class="hint">Agreed for this order: {formatCents(agreedCents, currency)}.</p>}
        <Actions>
          <Button kind="quiet">What does an hour earn?</Button>
        </Actions>
      </form>
      {tried ? (
        <p
          id="tried"
          role="status"
          class={`tried tone-${(pair.isCostUnknown ? undefined : worthTone(tried.row, wageCents)) ?? 'plain'}`}
        >
          At {formatCents(tried.row.priceCents ?? 0, currency)} at {tried.outlet.name},{' '}
          {formatCents(tried.row.netCents ?? 0, currency)} are left after tax and fees:{' '}
          <strong>
            {pair.isCostUnknown
              ? 'what an hour earns is not known until you enter what the yarn costs'
              : worthWords(tried.row, pair.cost, wageCents, currency)}
          </strong>
          .
        </p>
      ) : null}
    </Card>
  );
};

/** What one pair costs, what each outlet makes of it, and a price to try. */
export const PairPage = (props: PairPageProps) => {
  const { pair, orderId, orderNumber, currency, wageCents, purpose, problems } = props;
  const { totalCents, labourCents } = pair.cost;
  return (
    <Page
      title={
        pair.isCostUnknown
          ? `What a pair of ${pair.size} costs is not known yet`
          : `A pair of ${pair.size} costs me ${formatCents(totalCents, currency)}`
      }
      where={<a href="/pricing">Costs and prices</a>}
      current="pricing"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      <p>
        <PairColours colours={pair.colours} />
      </p>
      <p class="soft">
        As asked for in <a href={`/orders/${orderId}`}>order {orderNumber}</a>.
      </p>
      <FigureRow
        figures={[
          ...(pair.isCostUnknown
            ? []
            : [
                {
                  value: formatCents(totalCents, currency),
                  words: wageCents > 0 ? 'costs me, the wage with it' : 'costs me, without my time',
                  href: `/working/pricing/cost/${pair.lineId}`,
                },
                { value: formatCents(totalCents - labourCents, currency), words: 'gets my money back' },
              ]),
          {
            value: formatMinutes(pair.minutes),
            words: 'of work',
            href: `/working/timing/minutes/${pair.lineId}`,
          },
        ]}
      />
      {wageCents === 0 ? <NoWage /> : null}
      {pair.isYarnPriceUnknown ? (
        <Caution title="Some of its yarn has no price">
          {pair.isCostUnknown ? 'What it costs is not known yet.' : 'What it costs is too low.'}{' '}
          <a href="/buying">Enter what the yarn costs</a>
        </Caution>
      ) : null}
      {pair.isCostUnknown ? null : (
        <section>
          <h2>Where it goes</h2>
          <CostBar pair={pair} currency={currency} />
        </section>
      )}
      {purpose === 'give' ? null : (
        <>
          <Outlets {...props} />
          <OthersAsk range={props.othersAsk} currency={currency} />
          <TryPrice {...props} />
          {props.ways ? <WaysDown {...props.ways} currency={currency} wageCents={wageCents} /> : null}
        </>
      )}
    </Page>
  );
};
