import type { Child } from 'hono/jsx';
import { currencySign, formatCents, formatCentsForInput, formatCount } from '#core/shared/format.ts';
import { rowsOnScreen } from '#core/shared/paging.ts';
import type { Problem } from '#core/shared/problem.ts';
import { Actions, Button } from '#views/components/actions.tsx';
import { ChoiceField, FieldRow, TextField } from '#views/components/field.tsx';
import type { MoneyForm, OrderMoneyProps } from '#views/pages/orders/money-types.ts';
import { kindWords, wayWords } from '#views/pages/orders/money-words.ts';
import type { FormValues } from '#views/pages/orders/types.ts';

/** What the fields of one of several forms on the page need: its values, its problems, ids that no other has. */
export type FormState = {
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  readonly isRefused: boolean;
  readonly id: (name: string) => string | undefined;
};

/** @param fresh what the form begins with */
export function formState(props: Pick<OrderMoneyProps, 'refused'>, form: MoneyForm, fresh: FormValues): FormState {
  const { refused } = props;
  const isRefused = refused?.form === form;
  return {
    isRefused,
    values: isRefused ? refused.values : fresh,
    problems: isRefused ? refused.problems : [],
    // The refused form has the usual ids: the summary of its problems leads to them.
    id: (name) => (isRefused ? undefined : `${form}-${name}`),
  };
}

/** A form that is closed until it is wanted. */
export const Fold = (props: {
  readonly summary: string;
  readonly isOpen: boolean;
  readonly id?: string;
  readonly children?: Child;
}) => (
  <details class="more" open={props.isOpen} id={props.id}>
    <summary>{props.summary}</summary>
    {props.children}
  </details>
);

const wayOptions = Object.entries(wayWords).map(([value, words]) => ({ value, words }));

/** What a payment begins with: what is due, today, the way the last one went. */
function freshPayment({ state, money, payments, today, currency }: OrderMoneyProps): FormValues {
  const isBack = state === 'cancelled' || money.owedCents < 0;
  const isDeposit = !isBack && money.depositDueCents > 0;
  const due = isDeposit ? money.depositDueCents : money.owedCents;
  const cents = state === 'cancelled' ? money.paidCents : Math.abs(due);
  return {
    amount: cents > 0 ? formatCentsForInput(cents, currency) : '',
    day: today,
    how: payments.findLast((payment) => payment.isStanding)?.how ?? 'cash',
    kind: isBack ? 'returned' : isDeposit ? 'deposit' : 'balance',
  };
}

function cashHint({ money, currency }: OrderMoneyProps): string | undefined {
  const { owedCents, owedInCashCents } = money;
  return owedCents > 0 && owedInCashCents !== owedCents
    ? `In cash the whole rest is ${formatCents(owedInCashCents, currency)}.`
    : undefined;
}

/** Money that changed hands. */
export const PaymentForm = (props: OrderMoneyProps) => {
  const { orderId, currency, money, state, seen } = props;
  const { values, problems, isRefused, id } = formState(props, 'payment', freshPayment(props));
  const field = (name: string) => ({ name, id: id(name), value: values[name], problems });
  const hint = cashHint(props);
  const kinds = state === 'cancelled' ? (['returned'] as const) : (['deposit', 'balance', 'returned'] as const);
  const isDue = state !== 'cancelled' && props.isReady && money.owedCents !== 0;
  return (
    <Fold summary={state === 'cancelled' ? 'Give money back' : 'Note a payment'} isOpen={isRefused || isDue}>
      <form method="post" action={`/orders/${orderId}/payments`}>
        <input type="hidden" name="seen" value={seen} />
        <FieldRow>
          <TextField
            {...field('amount')}
            label="Amount"
            {...(hint ? { hint } : {})}
            inputmode="decimal"
            width="short"
            maxlength={20}
            unit={currencySign(currency)}
          />
          <TextField {...field('day')} label="Day" type="date" />
        </FieldRow>
        <ChoiceField {...field('how')} label="How" layout="row" options={wayOptions} />
        <ChoiceField
          {...field('kind')}
          label="What it is"
          layout="row"
          options={kinds.map((kind) => ({ value: kind, words: kindWords[kind].toLowerCase() }))}
        />
        {money.notAgreed > 0 && state !== 'cancelled' ? (
          <p class="hint">With the first money the prices above are agreed.</p>
        ) : null}
        <Actions>
          <Button kind="quiet">Note the payment</Button>
        </Actions>
      </form>
    </Fold>
  );
};

/** A usual extra with one press, or another typed in. */
export const ExtraForm = (props: Pick<OrderMoneyProps, 'orderId' | 'currency' | 'usualExtras' | 'refused'>) => {
  const { orderId, currency, usualExtras } = props;
  const { values, problems, isRefused, id } = formState(props, 'extra', {});
  const field = (name: string) => ({ name, id: id(name), value: values[name], problems });
  const money = { inputmode: 'decimal', width: 'short', maxlength: 20, unit: currencySign(currency) } as const;
  return (
    <Fold summary="Add an extra" isOpen={isRefused}>
      {usualExtras.length > 0 ? (
        <form method="post" action={`/orders/${orderId}/extras`} class="usual-extras">
          {usualExtras.map((extra) => (
            <Button kind="quiet" name="usual" value={String(extra.id)}>
              {extra.name}, {formatCents(extra.cents, currency)}
            </Button>
          ))}
        </form>
      ) : null}
      <form method="post" action={`/orders/${orderId}/extras`}>
        <FieldRow>
          <TextField {...field('name')} label="Something else" hint="A wrap, a card, a rush." maxlength={80} />
          <TextField {...field('price')} label="Price" {...money} />
          <TextField {...field('minutes')} label="Takes" inputmode="numeric" width="short" maxlength={8} unit="min" />
          <TextField {...field('material')} label="Material costs me" {...money} />
        </FieldRow>
        <Actions>
          <Button kind="quiet">Add the extra</Button>
        </Actions>
      </form>
      <p class="hint no-print">
        <a href="/pricing/extras">Change the usual extras</a>
      </p>
    </Fold>
  );
};

/** Takes an extra off the order again. */
export const DropExtra = (props: {
  readonly orderId: number;
  readonly extra: { readonly id: number; readonly version: number; readonly name: string };
}) => (
  <form method="post" action={`/orders/${props.orderId}/extras/${props.extra.id}/remove`} class="in-row">
    <input type="hidden" name="version" value={props.extra.version} />
    <Button kind="remove">
      Take off<span class="visually-hidden"> {props.extra.name}</span>
    </Button>
  </form>
);

/** Says that a payment never was. */
export const UndoPayment = (props: {
  readonly orderId: number;
  readonly paymentId: number;
  readonly words: string;
}) => (
  <form method="post" action={`/orders/${props.orderId}/payments/${props.paymentId}/undo`} class="in-row">
    <Button kind="remove">
      Undo<span class="visually-hidden"> {props.words}</span>
    </Button>
  </form>
);

/** A price for each line that has none agreed; the outlet's of today stands in the box. */
export const PricesForm = (props: OrderMoneyProps) => {
  const { orderId, currency, lines, outletName } = props;
  const all = lines.filter((line) => !line.isAgreed);
  const open = all.slice(0, rowsOnScreen);
  const { values, problems, isRefused, id } = formState(
    props,
    'prices',
    Object.fromEntries(
      open.map(({ lineId, outletCents }) => [
        `price-${lineId}`,
        outletCents === null ? '' : formatCentsForInput(outletCents, currency),
      ]),
    ),
  );
  return (
    <Fold summary="Agree the prices" isOpen={isRefused}>
      <form method="post" action={`/orders/${orderId}/prices`}>
        <p class="hint">Until they are agreed they follow what {outletName} asks, and move when your costs do.</p>
        {all.length > open.length ? (
          <p>{`The first ${formatCount(open.length)} of ${formatCount(all.length)} lines stand here; the next come up once these are agreed.`}</p>
        ) : null}
        {open.map(({ lineId, version, name, colours }) => (
          <>
            <input type="hidden" name={`version-${lineId}`} value={values[`version-${lineId}`] ?? version} />
            <TextField
              name={`price-${lineId}`}
              id={id(`price-${lineId}`)}
              label={`One pair of ${name}${colours === '' ? '' : ` in ${colours}`}`}
              inputmode="decimal"
              width="short"
              maxlength={20}
              unit={currencySign(currency)}
              value={values[`price-${lineId}`]}
              problems={problems}
            />
          </>
        ))}
        <Actions>
          <Button kind="quiet">Agree {open.length === 1 ? 'this price' : 'these prices'}</Button>
        </Actions>
      </form>
    </Fold>
  );
};

/** Cancels an order for which something was paid: whether that stays here or goes back. */
export const CancelForm = (props: OrderMoneyProps) => {
  const { orderId, version, money, currency } = props;
  const { values, problems, isRefused, id } = formState(props, 'cancel', { how: 'cash' });
  const field = (name: string) => ({ name, id: id(name), value: values[name], problems });
  const paid = formatCents(money.paidCents, currency);
  return (
    <Fold summary="Cancel the order" isOpen={isRefused || props.isCancelling} id="cancel">
      <form method="post" action={`/orders/${orderId}/cancel`}>
        <input type="hidden" name="version" value={values.version ?? version} />
        <ChoiceField
          {...field('paid')}
          label={`What becomes of the ${paid} that was paid?`}
          options={[
            { value: 'kept', words: 'it is kept', hint: `The order then comes to ${paid}.` },
            { value: 'returned', words: 'it goes back today', hint: 'Noted as given back.' },
          ]}
        />
        <ChoiceField {...field('how')} label="How it goes back" layout="row" options={wayOptions} />
        <Actions>
          <Button kind="remove">Cancel the order</Button>
        </Actions>
      </form>
    </Fold>
  );
};
