import type { Day } from '#core/shared/calendar.ts';
import { currencySign, formatCents } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { Caution } from '#views/components/caution.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, TextField } from '#views/components/field.tsx';
import { formatDayShort } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';
import { BillFields, OtherLotFields } from '#views/pages/buying/basket-fields.tsx';
import { OfferEntries, type OfferEntry } from '#views/pages/buying/offer-entries.tsx';
import { packWords } from '#views/pages/buying/shopping-list.tsx';
import type { ShopEntry } from '#views/pages/buying/shops-page.tsx';

export type ArrivedPageProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  /** The shop whose basket came; null while it is to be chosen. */
  readonly shop: ShopEntry['supplier'] | null;
  /** What came of it: the list's, or everything the shop sells. */
  readonly offers: ShopEntry['offers'];
  /** Shops to choose from, those on the list with what it buys there. */
  readonly shops: readonly { readonly id: number; readonly name: string; readonly totalCents: number | null }[];
  readonly list: string;
  readonly showsAll: boolean;
  /** What was ordered at this shop and is not all here: it is ticked off on its own page. */
  readonly onTheirWay?: readonly { readonly id: number; readonly expectedDay: Day }[];
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

const ChooseShop = ({ shops, list, currency }: Pick<ArrivedPageProps, 'shops' | 'list' | 'currency'>) =>
  shops.length === 0 ? (
    <EmptyState action={{ href: '/shelf/add', words: 'Put yarn on the shelf' }}>
      No shop is entered. Yarn from anywhere can go on the shelf directly.
    </EmptyState>
  ) : (
    <section>
      <h2>From which shop?</h2>
      <ul class="plain-list">
        {shops.map(({ id, name, totalCents }) => (
          <li>
            <a href={`/buying/arrived?shop=${id}&list=${list}`}>{name}</a>{' '}
            <span class="soft">
              {totalCents === null
                ? 'nothing on this list'
                : `${formatCents(totalCents, currency)} on the ${list} list`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );

type RowProps = Pick<ArrivedPageProps, 'currency' | 'values' | 'problems'> & { readonly entry: OfferEntry };

const OfferFields = ({ entry, currency, values, problems = [] }: RowProps) => {
  const { offer } = entry;
  const field = (name: string) => ({
    name: `${name}-${offer.id}`,
    value: values[`${name}-${offer.id}`],
    problems,
  });
  return (
    <>
      <FieldRow>
        <TextField {...field('packs')} label="Came" inputmode="numeric" unit={`× ${packWords(offer)}`} width="short" />
        <TextField {...field('lot')} label="Dye lot" hint="On the ball band" maxlength={200} />
        <TextField
          {...field('price')}
          label="One cost"
          inputmode="decimal"
          unit={currencySign(currency)}
          width="short"
        />
      </FieldRow>
      <OtherLotFields id={offer.id} unit={`× ${packWords(offer)}`} values={values} problems={problems} />
    </>
  );
};

/** A basket that came: what of it, in which dye lots, and what it cost. */
export const ArrivedPage = (props: ArrivedPageProps) => {
  const { purpose, currency, shop, offers, list, showsAll, values, problems = [], onTheirWay = [] } = props;
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <Page
      title={shop ? `${shop.name}: it is here` : 'It is here'}
      where={<a href="/buying">Yarn to buy</a>}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      {shop === null ? (
        <ChooseShop {...props} />
      ) : offers.length === 0 ? (
        <EmptyState action={{ href: `/buying/prices?shop=${shop.id}`, words: 'Enter a price' }}>
          {shop.name} has no prices yet, so nothing can come from there.
        </EmptyState>
      ) : (
        <form method="post" action="/buying/arrived">
          <ErrorSummary problems={problems} />
          {onTheirWay.length > 0 ? (
            <Caution title="If it was ordered before">
              {onTheirWay.map(({ id, expectedDay }) => (
                <>
                  <a href={`/buying/purchases/${id}`}>What should be here on {formatDayShort(expectedDay)}</a> is ticked
                  off on its own page.{' '}
                </>
              ))}
              What is put on the shelf here counts beside it.
            </Caution>
          ) : null}
          <input type="hidden" name="shop" value={String(shop.id)} />
          <input type="hidden" name="list" value={list} />
          <input type="hidden" name="all" value={showsAll ? 'yes' : ''} />
          <OfferEntries
            {...{ shop, offers, values, problems }}
            hint="The list buys nothing here. Open what came."
            fields={(entry) => <OfferFields entry={entry} currency={currency} values={values} problems={problems} />}
          />
          <BillFields {...{ currency, values, problems }} />
          <TextField {...field('day')} label="Day it came" type="date" required />
          <Actions>
            <Button>Put it on the shelf</Button>
            <LinkButton href="/buying" kind="quiet">
              Back to yarn to buy
            </LinkButton>
          </Actions>
          {showsAll ? null : (
            <p>
              Something else came too?{' '}
              <a href={`/buying/arrived?shop=${shop.id}&list=${list}&all=yes`}>Show all that {shop.name} sells</a>
            </p>
          )}
        </form>
      )}
    </Page>
  );
};
