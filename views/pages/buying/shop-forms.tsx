import type { Child } from 'hono/jsx';
import { currencySign } from '#core/shared/format.ts';
import { unitOf } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button, LinkButton } from '#views/components/actions.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import {
  FieldRow,
  SelectField,
  type SelectGroup,
  type SelectOption,
  TextField,
  UnitsField,
} from '#views/components/field.tsx';
import { unitsOfForm } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';

type FormProps = {
  readonly purpose: Purpose;
  readonly currency: string;
  readonly values: Readonly<Record<string, string>>;
  readonly problems?: readonly Problem[];
};

const breakRows = [0, 1, 2] as const;
const fromWords = ['From', 'Then from', 'At last from'] as const;
const offWords = ['Taken off', 'Then off', 'At last off'] as const;
const priceWords = ['A pack costs then', 'A pack then', 'A pack at last'] as const;

const hasBreaks = (values: FormProps['values'], ...names: readonly string[]) =>
  breakRows.some((row) => names.some((name) => Boolean(values[`${name}-${row}`])));

type BreakFieldsProps = {
  readonly summary: string;
  readonly hint: string;
  readonly isOpen: boolean;
  readonly children: Child;
};

/** Rows for what gets cheaper with the amount; folded while there are none. */
const BreakFields = ({ summary, hint, isOpen, children }: BreakFieldsProps) => (
  <details open={isOpen}>
    <summary>{summary}</summary>
    <p class="soft">{hint}</p>
    {children}
  </details>
);

const shopsLink = (
  <>
    <a href="/buying">Yarn to buy</a>, <a href="/buying/shops">shops</a>
  </>
);

export type ShopFormProps = FormProps & { readonly shop: { readonly id: number; readonly name: string } | null };

/** A shop and what it asks beside its prices. */
export const ShopFormPage = ({ purpose, currency, shop, values, problems = [] }: ShopFormProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  const sign = currencySign(currency);
  return (
    <Page
      title={shop ? shop.name : 'A shop to buy from'}
      where={shopsLink}
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      <form method="post" action={shop ? `/buying/shops/${shop.id}` : '/buying/shops/new'}>
        <ErrorSummary problems={problems} />
        {shop ? (
          <input type="hidden" name="version" value={values.version ?? ''} />
        ) : (
          <input type="hidden" name="colour" value={values.colour ?? ''} />
        )}
        {values.colour ? <p class="soft">First the shop; what its yarn costs is asked next.</p> : null}
        <TextField {...field('name')} label="Name" required maxlength={200} />
        <FieldRow>
          <TextField
            {...field('shipping')}
            label="Postage"
            hint="For one order; empty for none"
            inputmode="decimal"
            unit={sign}
            width="short"
          />
          <TextField
            {...field('freeFrom')}
            label="No postage from"
            hint="May be left empty"
            inputmode="decimal"
            unit={sign}
            width="short"
          />
          <TextField
            {...field('minimum')}
            label="Least order"
            hint="May be left empty"
            inputmode="decimal"
            unit={sign}
            width="short"
          />
        </FieldRow>
        <BreakFields
          summary="Something off the whole basket"
          hint="A share off all its goods from an amount on, counted before it is taken off and without postage"
          isOpen={hasBreaks(values, 'breakFrom', 'breakOff')}
        >
          {breakRows.map((row) => (
            <FieldRow>
              <TextField
                {...field(`breakFrom-${row}`)}
                label={fromWords[row]}
                inputmode="decimal"
                unit={sign}
                width="short"
              />
              <TextField
                {...field(`breakOff-${row}`)}
                label={offWords[row]}
                inputmode="decimal"
                unit="%"
                width="short"
              />
            </FieldRow>
          ))}
        </BreakFields>
        <TextField
          {...field('deliveryDays')}
          label="Here after"
          hint="Needed: the plan waits for the yarn; 0 if you fetch it"
          inputmode="numeric"
          unit="days"
          width="short"
          required
        />
        <Actions>
          <Button>{shop ? 'Save the shop' : 'Add the shop'}</Button>
          <LinkButton href="/buying/shops" kind="quiet">
            Back to the shops
          </LinkButton>
          {shop ? (
            <Button kind="remove" formaction={`/buying/shops/${shop.id}/remove`} formnovalidate>
              Remove this shop and its prices
            </Button>
          ) : null}
        </Actions>
      </form>
    </Page>
  );
};

const PackBreakFields = ({ values, problems = [], currency }: FormProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <BreakFields
      summary="Cheaper from so many packs on"
      hint="What each pack of this one colour then costs, the first ones too"
      isOpen={hasBreaks(values, 'breakPacks', 'breakPrice')}
    >
      {breakRows.map((row) => (
        <FieldRow>
          <TextField
            {...field(`breakPacks-${row}`)}
            label={fromWords[row]}
            inputmode="numeric"
            unit="packs"
            width="short"
          />
          <TextField
            {...field(`breakPrice-${row}`)}
            label={priceWords[row]}
            inputmode="decimal"
            unit={currencySign(currency)}
            width="short"
          />
        </FieldRow>
      ))}
    </BreakFields>
  );
};

const PackFields = ({ values, problems = [], currency }: FormProps) => {
  const field = (name: string) => ({ name, value: values[name], problems });
  const units = unitsOfForm(values);
  return (
    <FieldRow>
      <UnitsField units={units} />
      <TextField
        {...field('ballG')}
        label="A ball has"
        hint="Empty: as the yarn says"
        inputmode="decimal"
        unit={unitOf('massG', units)}
        width="short"
      />
      <TextField
        {...field('ballsPerPack')}
        label="Balls in a pack"
        hint="1 if sold singly"
        inputmode="numeric"
        unit="balls"
        width="short"
      />
      <TextField
        {...field('price')}
        label="A pack costs"
        hint="Like 8.90"
        inputmode="decimal"
        unit={currencySign(currency)}
        width="short"
        required
      />
      <TextField
        {...field('stock')}
        label="Packs the shop has"
        hint="Empty: as many as wanted"
        inputmode="numeric"
        unit="packs"
        width="short"
      />
    </FieldRow>
  );
};

export type PricesPageProps = FormProps & {
  readonly shops: readonly SelectOption[];
  /** By yarn: all its colours first, then one by one. */
  readonly choices: readonly SelectGroup[];
};

/** One price, for a colour or for all colours of a yarn at once. */
export const PricesPage = (props: PricesPageProps) => {
  const { purpose, shops, choices, values, problems = [] } = props;
  const field = (name: string) => ({ name, value: values[name], problems });
  return (
    <Page title="Enter a price" where={shopsLink} current="buying" purpose={purpose} problems={problems}>
      {choices.length === 0 ? (
        <EmptyState action={{ href: '/shelf/yarns/new', words: 'Add a yarn' }}>
          A price is for a yarn, and there is none yet.
        </EmptyState>
      ) : (
        <form method="post" action="/buying/prices">
          <ErrorSummary problems={problems} />
          <SelectField
            {...field('shop')}
            label="Shop"
            options={shops}
            {...(shops.length === 1 ? {} : { blank: 'Choose a shop' })}
            required
          />
          <SelectField
            {...field('what')}
            label="What it is the price of"
            hint="A price that is there for such a pack is changed"
            options={choices}
            blank="Choose a yarn or a colour"
            required
          />
          <PackFields {...props} />
          <PackBreakFields {...props} />
          <Actions>
            <Button>Save the price</Button>
            <LinkButton href="/buying/shops" kind="quiet">
              Back to the shops
            </LinkButton>
          </Actions>
        </form>
      )}
    </Page>
  );
};

export type OfferPageProps = FormProps & {
  readonly offer: { readonly id: number };
  readonly shop: { readonly name: string };
  readonly colour: { readonly name: string };
  readonly yarn: { readonly name: string };
};

/** One pack of one colour at one shop. */
export const OfferPage = (props: OfferPageProps) => {
  const { purpose, offer, shop, colour, yarn, values, problems = [] } = props;
  return (
    <Page
      title={`${colour.name} at ${shop.name}`}
      where={
        <>
          {shopsLink}, {yarn.name}
        </>
      }
      current="buying"
      purpose={purpose}
      problems={problems}
    >
      <form method="post" action={`/buying/offers/${offer.id}`}>
        <ErrorSummary problems={problems} />
        <input type="hidden" name="version" value={values.version ?? ''} />
        <PackFields {...props} />
        <PackBreakFields {...props} />
        <Actions>
          <Button>Save the price</Button>
          <LinkButton href="/buying/shops" kind="quiet">
            Back to the shops
          </LinkButton>
          <Button kind="remove" formaction={`/buying/offers/${offer.id}/remove`} formnovalidate>
            Remove this price
          </Button>
        </Actions>
      </form>
    </Page>
  );
};
