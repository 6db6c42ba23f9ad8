import type { Day } from '#core/shared/calendar.ts';
import { countOf, formatCents, formatPercent } from '#core/shared/format.ts';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort, formatGauge, formatMass, gaugeUnit } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { upperFirst } from '#views/pages/batch/count-words.ts';
import { type BuyingColour, ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';

type CountsProps = {
  readonly sizeWords: string;
  readonly castOn: number;
  readonly rows: number;
  readonly grams: number;
  readonly wasCastOn: number;
  readonly wasRows: number;
  readonly wasGrams: number;
};

export type LikeYarnProps = {
  readonly colour: BuyingColour;
  readonly texRatio: number;
  readonly isSameCategory: boolean;
  /** No square was knitted with it. */
  readonly isGaugeGuessed: boolean;
  /** Stitches in 10 cm that its band says; null where it says nothing. */
  readonly bandStitches: number | null;
  readonly counts: readonly CountsProps[];
  readonly shelfG: number;
  readonly shops: readonly { readonly name: string; readonly hereDay: Day }[];
  readonly listCents: number;
  readonly yarnCents: number;
  readonly lateOrders: number;
  readonly isShort: boolean;
};

export type LikeYarnsPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly colour: BuyingColour;
  readonly lines: readonly {
    readonly lineId: number;
    readonly name: string;
    readonly number: number;
    readonly sizeWords: string;
    readonly pairs: number;
  }[];
  readonly lateOrders: number;
  readonly isSold: boolean;
  readonly yarns: readonly LikeYarnProps[];
  readonly more: number;
};

function likeWords({ texRatio, isSameCategory }: LikeYarnProps): string {
  const off = Math.abs(texRatio - 1);
  const thick = off < 0.005 ? 'as thick' : `${formatPercent(off)} ${texRatio > 1 ? 'thicker' : 'thinner'}`;
  return isSameCategory ? `${thick}, the same yarn weight` : thick;
}

function whereWords({ shelfG, shops, isShort }: LikeYarnProps): string {
  const places = [
    shelfG > 0 ? `${formatMass(shelfG)} on the shelf or on the way` : '',
    ...shops.map(({ name, hereDay }) => `${name}, here ${formatDayShort(hereDay)}`),
  ].filter(Boolean);
  return `${places.join('; ')}${isShort ? ': too little for all of them' : ''}`;
}

function moneyWords(cents: number, currency: string): string {
  if (cents === 0) return 'as much as now';
  return `${formatCents(Math.abs(cents), currency)} ${cents > 0 ? 'more' : 'less'}`;
}

const changeWords = (now: number | string, was: number | string) => (now === was ? String(now) : `${now}, was ${was}`);

const isAlike = ({ castOn, rows, grams, wasCastOn, wasRows, wasGrams }: CountsProps) =>
  castOn === wasCastOn && rows === wasRows && Math.abs(grams - wasGrams) < 0.5;

function gaugeWords({ isGaugeGuessed, bandStitches }: LikeYarnProps): string {
  if (!isGaugeGuessed) return '';
  return bandStitches === null
    ? ' Its gauge is a guess from its yarn weight: knit a square first.'
    : ` Its gauge is reckoned from its band, ${formatGauge(bandStitches)} stitches ${gaugeUnit()}, as no square of it was counted: knit one first.`;
}

const LikeYarnSection = ({
  yarn,
  currency,
  purpose,
  lateOrders,
}: { readonly yarn: LikeYarnProps } & Pick<LikeYarnsPageProps, 'currency' | 'purpose' | 'lateOrders'>) => (
  <section id={`colour-${yarn.colour.id}`}>
    <h2>
      <ColourAndYarn colour={yarn.colour} />
    </h2>
    <p>
      {upperFirst(likeWords(yarn))}. {upperFirst(whereWords(yarn))}.{gaugeWords(yarn)}
    </p>
    {purpose === 'give' ? null : (
      <p>
        The shopping would cost {moneyWords(yarn.listCents, currency)}, the yarn in all pairs{' '}
        {moneyWords(yarn.yarnCents, currency)}.
      </p>
    )}
    {yarn.lateOrders === lateOrders ? null : (
      <p>
        <strong class={yarn.lateOrders > lateOrders ? 'late-words' : undefined}>
          {countOf(yarn.lateOrders, 'order', 'orders')} late with it, {lateOrders} now.
        </strong>
      </p>
    )}
    {yarn.counts.every(isAlike) ? (
      <p>Counts and weights stay as they are.</p>
    ) : (
      <DataTable
        caption={`Counts in ${yarn.colour.name}`}
        isCaptionHidden
        columns={[
          { name: 'Size', kind: 'heading', cell: ({ sizeWords }) => sizeWords },
          { name: 'Cast on', kind: 'number', cell: ({ castOn, wasCastOn }) => changeWords(castOn, wasCastOn) },
          { name: 'Rows of the foot', kind: 'number', cell: ({ rows, wasRows }) => changeWords(rows, wasRows) },
          {
            name: 'Of it in a pair',
            kind: 'number',
            cell: ({ grams, wasGrams }) => changeWords(formatMass(grams), formatMass(wasGrams)),
          },
        ]}
        rows={yarn.counts}
      />
    )}
  </section>
);

/** Yarns that could take the place of a colour, with what each would change. */
export const LikeYarnsPage = (props: LikeYarnsPageProps) => {
  const { purpose, colour, lines, yarns, more, isSold } = props;
  return (
    <Page
      title={`Instead of ${colour.name}`}
      where={<a href="/buying/instead">A like yarn instead</a>}
      current="buying"
      purpose={purpose}
    >
      {lines.length === 0 ? (
        <EmptyState action={{ href: '/buying', words: 'Yarn to buy' }}>
          No pair that is still to be begun has this colour.
        </EmptyState>
      ) : (
        <>
          <p>
            {isSold ? '' : `No shop sells ${colour.name}. `}Nothing is exchanged by itself: where you like one better,
            change the colours of the line.
          </p>
          <ul class="plain-list">
            {lines.map(({ lineId, name, number, sizeWords, pairs }) => (
              <li>
                <a href={`/orders/lines/${lineId}/edit`}>{`Change ${name}, order ${number}`}</a>: {sizeWords},{' '}
                {countOf(pairs, 'pair', 'pairs')} not begun
              </li>
            ))}
          </ul>
          {yarns.length === 0 ? (
            <Caution title="There is none">
              No yarn of yours is within a tenth of its tex or of its yarn weight and on the shelf or on sale.
            </Caution>
          ) : null}
          {yarns.map((yarn) => (
            <LikeYarnSection {...props} yarn={yarn} />
          ))}
          {more > 0 ? <p class="soft">{countOf(more, 'more colour', 'more colours')} would do too.</p> : null}
        </>
      )}
    </Page>
  );
};

/** Which colour is to be replaced. */
export const ChooseColourPage = ({
  purpose,
  colours,
}: {
  readonly purpose: Purpose;
  readonly colours: readonly { readonly colour: BuyingColour; readonly isUncovered: boolean }[];
}) => (
  <Page title="A like yarn instead" where={<a href="/buying">Yarn to buy</a>} current="buying" purpose={purpose}>
    {colours.length === 0 ? (
      <EmptyState action={{ href: '/orders/new', words: 'Add an order' }}>
        No pair is still to be begun, so there is no yarn to replace.
      </EmptyState>
    ) : (
      <>
        <p>For a colour that nobody sells, or that comes too late: what else would do, and what it would change.</p>
        <ul class="plain-list spaced">
          {colours.map(({ colour, isUncovered }) => (
            <li>
              <a href={`/buying/instead/${colour.id}`}>
                <ColourAndYarn colour={colour} />
              </a>
              {isUncovered ? ': no shop has enough' : ''}
            </li>
          ))}
        </ul>
      </>
    )}
  </Page>
);
