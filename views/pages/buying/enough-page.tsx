import { formatCents, formatNumber } from '#core/shared/format.ts';
import { EmptyState } from '#views/components/empty-state.tsx';
import { MassRange } from '#views/components/range.tsx';
import { DataTable } from '#views/components/table.tsx';
import { Working } from '#views/components/working.tsx';
import { formatMass } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { listInWords } from '#views/pages/batch/count-words.ts';
import { type BuyingColour, ColourAndYarn } from '#views/pages/buying/colour-and-yarn.tsx';
import { countPacks } from '#views/pages/buying/shopping-list.tsx';

type Packs = {
  readonly packs: number;
  readonly offer: { readonly ballMg: number; readonly ballsPerPack: number };
};

export type EnoughRowProps = {
  readonly colour: BuyingColour;
  readonly pairs: number;
  readonly likelyG: number;
  readonly safeG: number;
  readonly sdG: number;
  readonly boughtG: number;
  readonly lessG: number;
  readonly lessBalls: number;
  readonly chanceShort: number;
  readonly chanceShortWithLess: number;
  readonly forSafetyG: number;
};

export type StepsProps = {
  readonly shop: { readonly id: number; readonly name: string };
  readonly colours: readonly {
    readonly colour: BuyingColour;
    readonly now: readonly Packs[];
    readonly once: readonly Packs[];
    readonly steps: { readonly laterG: number; readonly chanceOfNone: number };
  }[];
  readonly onceCents: number;
  readonly nowCents: number;
  readonly laterCents: number;
  readonly savesCents: number;
  /** They save enough for another parcel, and maybe another dye lot. */
  readonly isAdvised: boolean;
  readonly secondPostageCents: number;
  readonly isUnderMinimum: boolean;
};

export type EnoughPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  /** "9 times in 10". */
  readonly confidenceWords: string;
  readonly listName: 'likely' | 'safe';
  readonly moreForLotsG: number;
  readonly rows: readonly EnoughRowProps[];
  readonly fromShelf: readonly BuyingColour[];
  readonly shops: readonly StepsProps[];
};

/** A chance as knitters say it: "1 in 14", "7 in 10". */
export function chanceWords(chance: number): string {
  if (chance < 0.005) return 'hardly ever';
  if (chance > 0.95) return 'nearly always';
  if (chance < 0.05) return `1 in ${formatNumber(Math.round(0.1 / chance) * 10, 0)}`;
  if (chance < 0.2) return `1 in ${formatNumber(1 / chance, 0)}`;
  return `${formatNumber(chance * 10, 0)} in 10`;
}

/** "runs short 1 in 14"; "is enough". */
const shortWords = (chance: number) => (chance < 0.005 ? 'is enough' : `runs short ${chanceWords(chance)}`);

const lessWords = ({ lessG, lessBalls }: EnoughRowProps) =>
  lessBalls === 1 ? `a ball of ${formatMass(lessG)}` : `a pack of ${formatMass(lessG)}`;

const isFolded = () => true;

const ColourTable = ({ rows, confidenceWords }: Pick<EnoughPageProps, 'rows' | 'confidenceWords'>) => (
  <DataTable
    caption="How sure each colour is"
    columns={[
      { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
      {
        name: 'Likely needed',
        kind: 'number',
        cell: ({ likelyG, sdG }) => (
          <span>
            {formatMass(likelyG)}
            <MassRange sdG={sdG} />
          </span>
        ),
      },
      { name: `Enough ${confidenceWords}`, kind: 'number', cell: ({ safeG }) => formatMass(safeG) },
      {
        name: 'On the list',
        kind: 'number',
        isFolded,
        cell: ({ boughtG, forSafetyG }) => (
          <span>
            {formatMass(boughtG)}
            {forSafetyG > 0 ? (
              <>
                <br />
                <small>{formatMass(forSafetyG)} only to be safe</small>
              </>
            ) : null}
          </span>
        ),
      },
      { name: 'It runs short', kind: 'number', isFolded, cell: ({ chanceShort }) => chanceWords(chanceShort) },
      {
        name: 'With one less',
        kind: 'number',
        isFolded,
        cell: (row) => (
          <span>
            {chanceWords(row.chanceShortWithLess)}
            <br />
            <small>without {lessWords(row)}</small>
          </span>
        ),
      },
    ]}
    rows={rows}
    fold={{
      rowName: ({ colour }) => colour.name,
      words: ({ chanceShort }) => shortWords(chanceShort),
    }}
  />
);

function verdict(
  { savesCents, onceCents, secondPostageCents, isUnderMinimum, isAdvised, shop }: StepsProps,
  currency: string,
): string {
  if (isUnderMinimum) return `The first step alone would be less than ${shop.name} takes as an order.`;
  if (savesCents > 0) {
    const saving = `${formatCents(savesCents, currency)} of ${formatCents(onceCents, currency)} on average, the second postage of ${formatCents(secondPostageCents, currency)} counted`;
    return isAdvised
      ? `Two steps are worth it here: they save ${saving}. For that there may be another parcel, and another dye lot.`
      : `Hardly worth it: two steps save ${saving}, and there may be another parcel, and another dye lot.`;
  }
  return `Two steps do not pay here: with the second postage of ${formatCents(secondPostageCents, currency)} they cost ${formatCents(-savesCents, currency)} more on average.`;
}

const packsInWords = (packs: readonly Packs[]) => listInWords(packs.map(countPacks));

const Steps = ({ steps, currency }: { readonly steps: StepsProps; readonly currency: string }) => (
  <section>
    <h3>{steps.shop.name}</h3>
    <p>{steps.isAdvised ? <strong>{verdict(steps, currency)}</strong> : verdict(steps, currency)}</p>
    <DataTable
      caption={`Two steps at ${steps.shop.name}`}
      isCaptionHidden
      columns={[
        { name: 'Colour', kind: 'heading', cell: ({ colour }) => <ColourAndYarn colour={colour} /> },
        { name: 'Now', kind: 'wide', cell: ({ now }) => packsInWords(now) },
        {
          name: 'Later, on average',
          kind: 'number',
          cell: ({ steps: { laterG, chanceOfNone } }) => (
            <span>
              {formatMass(laterG)}
              <br />
              <small>bought {chanceWords(1 - chanceOfNone)}</small>
            </span>
          ),
        },
        { name: 'All at once', kind: 'wide', cell: ({ once }) => packsInWords(once) },
      ]}
      rows={steps.colours}
    />
    <p class="soft">
      {formatCents(steps.nowCents, currency)} now and {formatCents(steps.laterCents, currency)} later on average,
      against {formatCents(steps.onceCents, currency)} at once.
    </p>
  </section>
);

function titleOf({ rows }: EnoughPageProps): string {
  if (rows.length === 0) return 'Is it enough?';
  const worst = rows.reduce((most, row) => (row.chanceShort > most.chanceShort ? row : most));
  return worst.chanceShort < 0.005
    ? 'What is on the list is enough'
    : `${worst.colour.name} is the least sure: short ${chanceWords(worst.chanceShort)}`;
}

/** How sure it is that the yarn on the list is enough, and whether to buy it in two steps. */
export const EnoughPage = (props: EnoughPageProps) => {
  const { purpose, currency, rows, fromShelf, shops, listName, moreForLotsG } = props;
  return (
    <Page title={titleOf(props)} where={<a href="/buying">Yarn to buy</a>} current="buying" purpose={purpose}>
      {rows.length === 0 ? (
        <EmptyState action={{ href: '/buying', words: 'Yarn to buy' }}>
          {fromShelf.length > 0
            ? 'Nothing is to buy: the shelf, with what is on its way, has it all.'
            : 'Nothing is on the list, so there is nothing to be sure of.'}
        </EmptyState>
      ) : (
        <>
          <p>
            For the pairs that yarn is to be bought for, by the {listName} list
            {fromShelf.length > 0
              ? `; of ${listInWords(fromShelf.map(({ name }) => name))} enough is here or on its way`
              : ''}
            .
          </p>
          <ColourTable {...props} />
          {moreForLotsG >= 1 ? (
            <p>
              These amounts are for all pairs together. The list asks for {formatMass(moreForLotsG)} more, so that each
              pair finds enough for itself in its lot.
            </p>
          ) : null}
          <section>
            <h2>In two steps?</h2>
            <p>
              Buy what is surely used, knit and weigh three pairs, then buy the rest: they tell how much your yarn
              really takes. The rest may be of another dye lot, and it comes later.
            </p>
            {shops.length === 0 ? (
              <p>
                <strong>Two steps make no sense here:</strong> no colour is bought for more than three pairs in more
                than a pack or two.
              </p>
            ) : (
              shops.map((steps) => <Steps steps={steps} currency={currency} />)
            )}
          </section>
          <Working
            summary="How this comes about"
            lines={[
              {
                term: 'Runs short',
                value:
                  'how often a need around the likely one, spread by its error, comes out above what is on the list',
                mark: 'published',
                source: 'normal distribution, by Abramowitz and Stegun 26.2.17, wrong by less than 0.0000001',
              },
              {
                term: 'Now',
                value:
                  'whole packs, the largest first, up to 70 % of the likely need, or what is used 19 times in 20 if that is more; more only where it costs less',
                mark: 'ours',
              },
              {
                term: 'Later',
                value: 'the cheapest packs for what is then missing, each amount by its chance',
                mark: 'ours',
              },
              {
                term: 'Worth it',
                value: 'two steps that save at least a twentieth of the bill',
                mark: 'ours',
              },
              {
                term: 'Three weighed pairs',
                value: 'each tells your yarn to 5 %; never surer than 2 %',
                mark: 'ours',
                source: 'precision-weighted mean of what was thought and what was weighed',
              },
            ]}
          />
        </>
      )}
      <p class="no-print">
        <a href="/settings#field-confidence">Set how sure the safe list is</a>
      </p>
    </Page>
  );
};
