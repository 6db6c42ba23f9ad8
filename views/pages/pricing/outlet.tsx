import { currencySign } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { ChoiceField, FieldRow, TextField } from '#views/components/field.tsx';
import { Page } from '#views/layout.tsx';

export type OutletPageProps = {
  /** Null for a new one. */
  readonly outlet: {
    readonly id: number;
    readonly name: string;
    readonly kind: 'fair' | 'order' | 'shop' | 'gift';
    readonly isClosed: boolean;
    readonly version: number;
  } | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
  readonly currency: string;
};

const Fields = ({ values, problems, currency }: OutletPageProps) => {
  const sign = currencySign(currency);
  const box = (name: string, unit: string) => ({
    name,
    value: values[name],
    problems,
    inputmode: 'decimal' as const,
    width: 'short' as const,
    unit,
  });
  return (
    <>
      <Card title="What it is">
        <div class="stack">
          <TextField name="name" label="Name" value={values.name} problems={problems} required maxlength={80} />
          <ChoiceField
            name="kind"
            label="Kind"
            options={[
              { value: 'fair', words: 'a fair', hint: 'pairs are taken there from stock' },
              { value: 'order', words: 'orders', hint: 'pairs for somebody' },
              { value: 'shop', words: 'a shop', hint: 'buys from you, or sells for you and keeps a share' },
              { value: 'gift', words: 'gifts', hint: 'cost and worth are shown, no price' },
            ]}
            value={values.kind}
            problems={problems}
          />
        </div>
      </Card>
      <Card title="Terms of a shop">
        <div class="stack">
          <p class="hint">Only for a shop. Only the box of the terms chosen counts.</p>
          <ChoiceField
            name="terms"
            label="It deals by"
            options={[
              {
                value: 'sale or return',
                words: 'sale or return',
                hint: 'it shows your pairs, pays for what it sold, and gives back the rest',
              },
              { value: 'wholesale', words: 'wholesale', hint: 'it buys; the price below is what it pays' },
            ]}
            value={values.terms}
            problems={problems}
          />
          <FieldRow>
            <TextField {...box('shopShare', '%')} label="It keeps" hint="Of its price, on sale or return." />
            <TextField
              {...box('leastPairs', 'pairs')}
              inputmode="numeric"
              label="Least pairs of an order"
              hint="Wholesale. Empty: any number."
            />
          </FieldRow>
        </div>
      </Card>
      <Card title="How a price is made">
        <div class="stack">
          <p class="hint">Not used for gifts. Only the box of the rule chosen counts.</p>
          <ChoiceField
            name="priceRule"
            label="Rule"
            options={[
              { value: 'markup', words: 'what it costs, and some on top', hint: '20% on top of 40 makes 48' },
              { value: 'margin', words: 'a share of the price is mine', hint: '20% of 50 is margin when it costs 40' },
              { value: 'fixed', words: 'one price for every pair' },
            ]}
            value={values.priceRule}
            problems={problems}
          />
          <FieldRow>
            <TextField {...box('markup', '%')} label="On top of the cost" />
            <TextField {...box('margin', '%')} label="Share of the price" />
            <TextField {...box('fixedPrice', sign)} label="Price of a pair" />
          </FieldRow>
          <TextField
            {...box('ending', '')}
            label="Prices end in"
            hint="50 makes 41.20 into 41.50, 0 makes whole amounts. Always up. Empty: to the cent."
          />
          <TextField
            {...box('secondOff', '%')}
            label="With a flaw, so much less"
            hint="30 makes 45.00 into 31.50, then up to the ending."
          />
        </div>
      </Card>
      <Card title="What is taken from it">
        <div class="stack">
          <FieldRow>
            <TextField {...box('fee', '%')} label="Fee or commission" hint="Of what the buyer pays." />
            <TextField {...box('feeFixed', sign)} label="And for each sale" hint="Card fee, listing." />
          </FieldRow>
          <TextField {...box('tax', '%')} label="Tax" hint="Rules are local: check yours. 0 when you charge none." />
          <ChoiceField
            name="taxWay"
            label="The price shown"
            options={[
              { value: 'included', words: 'has the tax in it' },
              { value: 'added', words: 'gets the tax added' },
            ]}
            value={values.taxWay}
            layout="row"
            problems={problems}
          />
          <ChoiceField
            name="rounding"
            label="Tax is rounded"
            hint="Which one is allowed depends on where you live."
            options={[
              { value: 'line', words: 'for each line of an order' },
              { value: 'invoice', words: 'once for the whole order' },
            ]}
            value={values.rounding}
            layout="row"
            problems={problems}
          />
          <TextField {...box('deposit', '%')} label="Deposit asked" hint="Of the price, when an order is agreed." />
        </div>
      </Card>
    </>
  );
};

/** An outlet to add or change, close or open again. */
export const OutletPage = (props: OutletPageProps) => {
  const { outlet, values, problems } = props;
  return (
    <Page
      title={outlet ? outlet.name : 'Add an outlet'}
      where={<a href="/pricing#outlets">Costs and prices</a>}
      current="pricing"
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {outlet?.isClosed ? <p class="notice">Closed: it takes no new orders, and its old ones stay.</p> : null}
      <form method="post" action={outlet ? `/pricing/outlets/${outlet.id}` : '/pricing/outlets'}>
        {outlet ? <input type="hidden" name="version" value={values.version ?? ''} /> : null}
        <Fields {...props} />
        <Actions>
          <Button>{outlet ? 'Save the outlet' : 'Add the outlet'}</Button>
        </Actions>
      </form>
      {outlet?.kind === 'shop' ? (
        <p class="no-print">
          <a href={`/pricing/shops/${outlet.id}`}>What stands there, what it sold and owes</a>
        </p>
      ) : null}
      {outlet ? (
        <form method="post" action={`/pricing/outlets/${outlet.id}/${outlet.isClosed ? 'open' : 'close'}`}>
          <input type="hidden" name="version" value={String(outlet.version)} />
          <p class="soft">
            {outlet.isClosed ? 'Open it again to take orders for it.' : 'A closed outlet takes no new orders.'}
          </p>
          <Actions>
            <Button kind={outlet.isClosed ? 'quiet' : 'remove'}>
              {outlet.isClosed ? 'Open it again' : 'Close this outlet'}
            </Button>
          </Actions>
        </form>
      ) : null}
    </Page>
  );
};
