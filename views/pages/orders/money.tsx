import type { Child } from 'hono/jsx';
import { countOf, formatCents, formatMinutes, formatPercent } from '#core/shared/format.ts';
import { rowsOnScreen } from '#core/shared/paging.ts';
import { type FigureEntry, FigureRow } from '#views/components/figure-row.tsx';
import { DataTable } from '#views/components/table.tsx';
import { formatDayShort } from '#views/format.ts';
import {
  CancelForm,
  DropExtra,
  ExtraForm,
  PaymentForm,
  PricesForm,
  UndoPayment,
} from '#views/pages/orders/money-forms.tsx';
import type { OrderMoneyProps, PaymentProps } from '#views/pages/orders/money-types.ts';
import { extraTakes, kindWords, wayWords } from '#views/pages/orders/money-words.ts';

function owedFigure({ money, state, isReady, currency }: OrderMoneyProps): FigureEntry {
  const { owedCents, totalCents, paidCents, keptCents } = money;
  const amount = (cents: number) => formatCents(cents, currency);
  if (owedCents < 0) return { value: amount(-owedCents), words: 'to give back', tone: 'caution' };
  if (state === 'cancelled') {
    if (owedCents > 0) return { value: amount(owedCents), words: 'went back too much', tone: 'caution' };
    return { value: amount(keptCents), words: keptCents > 0 ? 'kept of what was paid' : 'kept: nothing is owed' };
  }
  if (owedCents === 0) {
    if (totalCents === 0 && money.withoutPrice > 0) {
      return { value: 'Not known yet', words: 'what is to pay: a pair has no price', tone: 'caution' };
    }
    return totalCents === 0
      ? { value: amount(0), words: 'to pay' }
      : { value: 'Paid', words: `all of ${amount(totalCents)}`, tone: 'done' };
  }
  const of = paidCents > 0 ? ` of ${amount(totalCents)}` : '';
  return isReady
    ? { value: amount(owedCents), words: `owed${of}`, tone: 'caution' }
    : { value: amount(owedCents), words: `still to pay${of}` };
}

function hourFigure({ worth, wageCents, currency }: OrderMoneyProps): FigureEntry[] {
  if (!worth || worth.hourWorthCents === null) return [];
  const { hourWorthCents: cents, leftCents } = worth;
  const earned = worth.extraMinutes > 0 ? 'earned in an hour, extras included' : 'earned in an hour';
  const words =
    leftCents < 0
      ? 'an hour: the order does not get its money back'
      : wageCents > 0 && cents >= wageCents
        ? `${earned}: pays the wage`
        : wageCents > 0
          ? `${earned}, of a wage of ${formatCents(wageCents, currency)}`
          : earned;
  return [{ value: formatCents(cents, currency), words, tone: leftCents < 0 ? 'late' : undefined }];
}

function figuresOf(props: OrderMoneyProps): FigureEntry[] {
  const { money, worth, currency, state } = props;
  const figures = [owedFigure(props)];
  if (state === 'cancelled') return figures;
  if (money.depositDueCents > 0 && !props.isReady) {
    figures.push({
      value: formatCents(money.depositDueCents, currency),
      words: money.paidCents > 0 ? 'missing of the deposit' : 'deposit to ask for',
      tone: 'caution',
    });
  }
  if (worth) {
    figures.push({
      value: formatCents(worth.leftCents, currency),
      words: `left for ${formatMinutes(worth.pairMinutes + worth.extraMinutes)} of work`,
    });
  }
  return [...figures, ...hourFigure(props)];
}

function paymentName({ kind, day, how }: PaymentProps): string {
  return `${kindWords[kind]}, ${formatDayShort(day)}, ${wayWords[how]}`;
}

/** An amount; null where it is not known yet. */
type Sum = { readonly what: Child; readonly cents: number | null; readonly isStrong?: boolean };

function chargedSums(props: OrderMoneyProps): Sum[] {
  const { money, lines, extras, currency, orderId, taxRatio, isTaxIncluded, state, post } = props;
  if (state === 'cancelled') return [];
  const sums: Sum[] = lines.slice(0, rowsOnScreen).map(({ quantity, name, colours, eachCents, cents, isAgreed }) => ({
    what: (
      <>
        {quantity} × {name}
        {colours === '' ? null : `, ${colours}`}
        <small class="block">
          {eachCents === null
            ? 'no price yet: agree one below, or enter what the yarn costs'
            : [quantity > 1 ? `${formatCents(eachCents, currency)} a pair` : '', isAgreed ? '' : 'not agreed yet']
                .filter(Boolean)
                .join(', ')}
        </small>
      </>
    ),
    cents: eachCents === null ? null : cents,
  }));
  const rest = lines.slice(rowsOnScreen);
  if (rest.length > 0) {
    sums.push({
      what: countOf(rest.length, 'more line', 'more lines'),
      cents: rest.reduce((sum, { cents }) => sum + cents, 0),
    });
  }
  for (const extra of extras) {
    const takes = extraTakes(extra.minutes, extra.materialCents, currency);
    sums.push({
      what: (
        <>
          {extra.name}
          {takes === '' ? null : <small class="block">takes {takes}</small>}
          <DropExtra orderId={orderId} extra={extra} />
        </>
      ),
      cents: extra.cents,
    });
  }
  if (post.postageCents !== null) sums.push({ what: 'Postage, passed on as it is', cents: money.postageCents });
  if (!isTaxIncluded && taxRatio > 0)
    sums.push({ what: `Tax, ${formatPercent(taxRatio)}`, cents: money.addedTaxCents });
  if (money.cashRoundingCents !== 0) sums.push({ what: 'Rounded to coins', cents: money.cashRoundingCents });
  return sums;
}

function sumsOf(props: OrderMoneyProps): Sum[] {
  const { money, payments, orderId, currency, state, taxRatio } = props;
  const taxWords =
    taxRatio > 0 && state !== 'cancelled' ? (
      <small class="block">with {formatCents(money.taxCents, currency)} of tax in it</small>
    ) : null;
  const standing = payments.filter((payment) => payment.isStanding);
  const isNothingKnown = money.totalCents === 0 && money.withoutPrice > 0 && standing.length === 0;
  const owed = money.owedCents < 0 ? 'To give back' : state === 'asked' ? 'To pay' : 'Owed';
  return [
    ...chargedSums(props),
    {
      what: (
        <>
          {state === 'cancelled' ? 'Kept' : 'Total'}
          {money.withoutPrice > 0 && !isNothingKnown ? (
            <small class="block">without what has no price yet</small>
          ) : null}
          {taxWords}
        </>
      ),
      cents: isNothingKnown ? null : money.totalCents,
      isStrong: true,
    },
    ...standing.map((payment) => ({
      what: (
        <>
          {paymentName(payment)}
          <UndoPayment orderId={orderId} paymentId={payment.id} words={paymentName(payment)} />
        </>
      ),
      cents: payment.kind === 'returned' ? payment.cents : -payment.cents,
    })),
    { what: owed, cents: isNothingKnown ? null : Math.abs(money.owedCents), isStrong: true },
  ];
}

const Sums = (props: OrderMoneyProps) => (
  <DataTable<Sum>
    caption={props.state === 'asked' ? 'What it would come to' : 'What it comes to'}
    columns={[
      { name: 'What', kind: 'heading', cell: ({ what, isStrong }) => (isStrong ? <strong>{what}</strong> : what) },
      {
        name: 'Amount',
        kind: 'number',
        cell: ({ cents, isStrong }) => {
          const amount = cents === null ? 'not known yet' : formatCents(cents, props.currency);
          return isStrong ? <strong>{amount}</strong> : amount;
        },
      },
    ]}
    rows={sumsOf(props)}
  />
);

const Undone = ({ payments, currency }: OrderMoneyProps) => {
  const undone = payments.filter((payment) => !payment.isStanding && payment.reversesId === null);
  if (undone.length === 0) return null;
  return (
    <p class="soft">
      Undone, and kept here only to be seen:{' '}
      {undone.map((payment) => `${paymentName(payment)}, ${formatCents(payment.cents, currency)}`).join('; ')}.
    </p>
  );
};

/** Where the hours go, and what the figures leave out. */
const WorthWords = ({ worth, money, extras, currency, isYarnPriceUnknown }: OrderMoneyProps) => {
  if (!worth) return null;
  const cents = (amount: number) => formatCents(amount, currency);
  return (
    <p class="soft">
      The pairs take {formatMinutes(worth.pairMinutes)}
      {worth.extraMinutes > 0 ? ` and the extras ${formatMinutes(worth.extraMinutes)}, which no date counts yet` : ''}.
      Yarn, material{extras.length > 0 ? ' of pairs and extras' : ''} and running costs take {cents(worth.outlayCents)}
      {worth.feeCents > 0 ? `, fees ${cents(worth.feeCents)}` : ''}
      {money.postageCents > 0 ? '; postage is passed on and left out' : ''}.
      {money.withoutPrice > 0 ? ' A line without a price counts nothing yet.' : ''}
      {isYarnPriceUnknown ? (
        <>
          {' '}
          Some yarn has no price, so less is left than that: <a href="/buying">enter what it costs</a>.
        </>
      ) : null}
    </p>
  );
};

function unchargedWords({ outletKind, outletName }: OrderMoneyProps): string {
  if (outletKind === 'gift') return 'These are to give: nobody owes for them.';
  return `These are for ${outletName}: the money comes when they are sold.`;
}

/** What an order comes to, what was paid, what is owed, and what it leaves: with every form about it. */
export const OrderMoney = (props: OrderMoneyProps) => {
  const { isCharged, isGiving, state, money, payments } = props;
  if (isGiving || (state === 'cancelled' && payments.length === 0)) return null;
  if (!isCharged) {
    return (
      <section id="money">
        <h2>Money</h2>
        <p>{unchargedWords(props)}</p>
        {props.outletKind === 'gift' ? null : (
          <div class="folds no-print">
            <PaymentForm {...props} />
            <ExtraForm {...props} />
          </div>
        )}
      </section>
    );
  }
  const isOpen = state !== 'cancelled';
  return (
    <section id="money">
      <h2>Money</h2>
      <FigureRow figures={figuresOf(props)} />
      <div class="sums">
        <Sums {...props} />
      </div>
      <Undone {...props} />
      {isOpen ? <WorthWords {...props} /> : null}
      {isOpen || money.paidCents > 0 ? (
        <div class="folds no-print">
          <PaymentForm {...props} />
          {isOpen && money.notAgreed > 0 ? <PricesForm {...props} /> : null}
          {isOpen ? <ExtraForm {...props} /> : null}
          {isOpen && money.paidCents > 0 ? <CancelForm {...props} /> : null}
        </div>
      ) : null}
    </section>
  );
};
