import { formatCents, formatDay, formatMinutes } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { PairColours } from '#views/pages/batch/pair-parts.tsx';
import type { DayViewProps, KindProps } from '#views/pages/fair/types.ts';

export type SheetPageProps = {
  readonly view: DayViewProps;
  readonly purpose: Purpose;
  readonly currency: string;
};

/** Pairs of one size at one price stand together. */
type SizeGroup = {
  readonly size: string;
  readonly isSecond: boolean;
  readonly listCents: number | null;
  readonly kinds: KindProps[];
};

function groupsOf(kinds: readonly KindProps[]): SizeGroup[] {
  const groups: SizeGroup[] = [];
  for (const kind of kinds) {
    const last = groups.find(
      ({ size, isSecond, listCents }) =>
        size === kind.size && isSecond === kind.isSecond && listCents === kind.listCents,
    );
    if (last) last.kinds.push(kind);
    else groups.push({ size: kind.size, isSecond: kind.isSecond, listCents: kind.listCents, kinds: [kind] });
  }
  return groups;
}

const boxes = (count: number) => Array.from({ length: count }, () => <span class="tally-box" />);

const Boxes = ({ count, words }: { readonly count: number; readonly words: string }) => (
  <span class="tally-boxes" role="img" aria-label={words}>
    {boxes(count)}
  </span>
);

const Rows = ({
  groups,
  currency,
  isGiving,
}: {
  readonly groups: readonly SizeGroup[];
  readonly currency: string;
  readonly isGiving: boolean;
}) => (
  <>
    {groups.map(({ size, listCents, kinds }) => (
      <tbody>
        {kinds.map((kind, index) => (
          <tr>
            {index === 0 ? (
              <th scope="rowgroup" rowspan={kinds.length} class="tally-size">
                {size}
                {isGiving || listCents === null ? null : (
                  <span class="tally-price">{formatCents(listCents, currency)}</span>
                )}
              </th>
            ) : null}
            <th scope="row" class="tally-colours">
              <PairColours colours={kind.colours} />
            </th>
            <td>
              <Boxes count={kind.counts.taken} words={`${kind.counts.taken} boxes for ${kind.words}`} />
            </td>
            <td class="tally-home">
              <span class="tally-box" role="img" aria-label="to fill in" />
            </td>
          </tr>
        ))}
      </tbody>
    ))}
  </>
);

const Head = ({ isGiving }: { readonly isGiving: boolean }) => (
  <thead>
    <tr>
      <th scope="col">Size{isGiving ? '' : ' and price'}</th>
      <th scope="col">Colours</th>
      <th scope="col">{isGiving ? 'Went out' : 'Sold: a box a pair'}</th>
      <th scope="col">Home</th>
    </tr>
  </thead>
);

const askedLines = 5;
const otherLines = 5;
/** From here on the rows are set closer, so that a sheet holds more of them. */
const mostLargeKinds = 12;
const lines = (count: number) => Array.from({ length: count });

/** The sheet to tally on: boxes by size and colours, the cash box, and what was asked for in vain. */
export const TallySheetPage = ({ view, purpose, currency }: SheetPageProps) => {
  const { fair, day, kinds, outlet, account } = view;
  const isGiving = purpose === 'give';
  const money = (cents: number) => formatCents(cents, currency);
  const good = groupsOf(kinds.filter(({ isSecond }) => !isSecond));
  const seconds = groupsOf(kinds.filter(({ isSecond }) => isSecond));
  const boxesOfMoney = [
    ['Float', money(day.floatCents)],
    ['In the box in the evening', ''],
    ['By card in all', ''],
    ['Table', money(account.tableFeeCents)],
    ['Open from, to', day.openMinutes === null ? '' : formatMinutes(day.openMinutes)],
  ] as const;
  return (
    <Page
      title={`${fair.name}, ${formatDay(day.day)}`}
      where={
        <span class="no-print">
          <a href="/fair">Fair</a>, <a href={`/fair/days/${day.id}`}>the day</a>
        </span>
      }
      current="fair"
      purpose={purpose}
    >
      {kinds.length === 0 ? (
        <EmptyState action={{ href: `/fair/days/${day.id}/pairs`, words: 'Choose what comes along' }}>
          The sheet has a box for each pair that comes along.
        </EmptyState>
      ) : (
        <div class={kinds.length > mostLargeKinds ? 'tally-sheet is-long' : 'tally-sheet'}>
          <p class="no-print soft">Print this from the menu of your browser, on A4 or Letter.</p>
          <p>
            {isGiving
              ? 'Cross a box for each pair that goes out.'
              : 'For each pair sold, in its box: a cross for cash, C for card, or the price if it was another.'}{' '}
            In the evening write under Home how many are left.
            {!isGiving && outlet.taxRatio > 0 && !outlet.isTaxIncluded ? ' Tax is added to these prices.' : ''}
          </p>
          <table class="tally-table">
            <caption class="visually-hidden">Pairs taken along</caption>
            <Head isGiving={isGiving} />
            <Rows groups={good} currency={currency} isGiving={isGiving} />
          </table>
          {seconds.length > 0 ? (
            <table class="tally-table">
              <caption>With a flaw</caption>
              <Head isGiving={isGiving} />
              <Rows groups={seconds} currency={currency} isGiving={isGiving} />
            </table>
          ) : null}
          {isGiving ? null : (
            <dl class="tally-money">
              {boxesOfMoney.map(([words, value]) => (
                <div>
                  <dt>{words}</dt>
                  <dd>{value}</dd>
                </div>
              ))}
            </dl>
          )}
          <div class="tally-foot">
            <table class="tally-blank">
              <caption>Asked for in vain</caption>
              <thead>
                <tr>
                  <th scope="col">Size</th>
                  <th scope="col">Colour</th>
                  <th scope="col">How often</th>
                </tr>
              </thead>
              <tbody>
                {lines(askedLines).map(() => (
                  <tr>
                    <td />
                    <td />
                    <td />
                  </tr>
                ))}
              </tbody>
            </table>
            {isGiving ? null : (
              <table class="tally-blank">
                <caption>Another pair, not above</caption>
                <thead>
                  <tr>
                    <th scope="col">What</th>
                    <th scope="col">Price</th>
                    <th scope="col">Cash, card</th>
                  </tr>
                </thead>
                <tbody>
                  {lines(otherLines).map(() => (
                    <tr>
                      <td />
                      <td />
                      <td />
                    </tr>
                  ))}
                </tbody>
              </table>
            )}
          </div>
        </div>
      )}
    </Page>
  );
};
