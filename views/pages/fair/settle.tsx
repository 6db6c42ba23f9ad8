import type { PaidHow } from '#core/fair/day-account.ts';
import type { Day } from '#core/shared/calendar.ts';
import { countOf, currencySign, formatCents, formatDay } from '#core/shared/format.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { Card } from '#views/components/card.tsx';
import { EmptyState } from '#views/components/empty-state.tsx';
import { ErrorSummary } from '#views/components/error-summary.tsx';
import { FieldRow, SelectField, type SelectOption, TextField } from '#views/components/field.tsx';
import { Page, type Purpose } from '#views/layout.tsx';
import { howWords, type Values } from '#views/pages/fair/types.ts';

export type SettlePageProps = {
  readonly unknown: readonly {
    readonly lineId: number;
    readonly version: number;
    readonly day: Day;
    readonly what: string;
    readonly priceCents: number;
    readonly how: PaidHow;
  }[];
  readonly unpriced: readonly { readonly pairId: number; readonly words: string; readonly day: Day }[];
  readonly pairs: readonly { readonly id: number; readonly words: string }[];
  readonly outlets: readonly SelectOption[];
  readonly token: string;
  readonly values: Values;
  readonly problems: readonly Problem[];
  readonly purpose: Purpose;
  readonly currency: string;
};

const Unknown = ({ unknown, pairs, values, problems, currency, purpose }: SettlePageProps) =>
  unknown.length === 0 ? null : (
    <section>
      <h2>Sold, but which pair?</h2>
      {unknown.map(({ lineId, version, day, what, priceCents, how }) => (
        <Card title={what}>
          <p>
            {formatDay(day)}
            {purpose === 'give' ? '' : `, ${formatCents(priceCents, currency)}, ${howWords[how]}`}
          </p>
          <form method="post" action={`/fair/settle/lines/${lineId}/pair`}>
            <input type="hidden" name="version" value={String(version)} />
            <SelectField
              name={`pair-${lineId}`}
              label="It was this pair"
              blank="Choose a pair"
              options={pairs.map(({ id, words }) => ({ value: String(id), words: `${words} (pair ${id})` }))}
              value={values[`pair-${lineId}`]}
              problems={problems}
            />
            <Actions>
              <Button>That was it</Button>
            </Actions>
          </form>
          <form method="post" action={`/fair/settle/lines/${lineId}/why`}>
            <input type="hidden" name="version" value={String(version)} />
            <TextField
              name={`why-${lineId}`}
              label="Or why no pair of the list belongs to it"
              hint="Like: knitted by a friend"
              width="long"
              maxlength={200}
              value={values[`why-${lineId}`]}
              problems={problems}
            />
            <Actions>
              <Button kind="quiet">Leave it at that</Button>
            </Actions>
          </form>
        </Card>
      ))}
    </section>
  );

const Unpriced = ({ unpriced, outlets, token, values, problems, currency }: SettlePageProps) =>
  unpriced.length === 0 ? null : (
    <section>
      <h2>Marked as sold, for how much?</h2>
      {unpriced.map(({ pairId, words, day }) => {
        const field = (part: string) => {
          const name = `${part}-${pairId}`;
          return { name, value: values[name], problems };
        };
        return (
          <Card title={words}>
            <form method="post" action={`/fair/settle/pairs/${pairId}`}>
              <input type="hidden" name="token" value={token} />
              <FieldRow>
                <TextField
                  {...field('price')}
                  label="Sold for"
                  inputmode="decimal"
                  width="short"
                  unit={currencySign(currency)}
                  required
                />
                <SelectField
                  {...field('how')}
                  label="Paid"
                  width="short"
                  options={[
                    { value: 'cash', words: 'cash' },
                    { value: 'card', words: 'card' },
                    { value: 'other', words: 'not known' },
                  ]}
                />
                <SelectField {...field('outlet')} label="Where" options={outlets} />
                <TextField {...field('day')} value={values[`day-${pairId}`] ?? day} type="date" label="Day" />
              </FieldRow>
              <Actions>
                <Button>Note it</Button>
              </Actions>
            </form>
          </Card>
        );
      })}
    </section>
  );

/** *To be settled*: sales without a pair, and pairs sold without a price. */
export const SettlePage = (props: SettlePageProps) => {
  const { unknown, unpriced, purpose, problems } = props;
  const count = unknown.length + unpriced.length;
  return (
    <Page
      title={count === 0 ? 'Nothing is left to be settled' : `${countOf(count, 'sale', 'sales')} to be settled`}
      where={<a href="/fair">Fair</a>}
      current="fair"
      purpose={purpose}
      problems={problems}
    >
      <ErrorSummary problems={problems} />
      {count === 0 ? (
        <EmptyState action={{ href: '/fair', words: 'Back to the fairs' }}>
          Every sale has its pair, and every pair that was sold its price.
        </EmptyState>
      ) : null}
      <Unknown {...props} />
      {purpose === 'give' ? null : <Unpriced {...props} />}
    </Page>
  );
};
