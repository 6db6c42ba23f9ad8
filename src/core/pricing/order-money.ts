import { shareHalfUp } from '#core/pricing/share.ts';
import { roundCash, type TaxRounding, taxOfLines } from '#core/pricing/tax.ts';
import { requireWhole } from '#core/shared/check.ts';
import { sumCents } from '#core/shared/money.ts';

export type PaymentKind = 'deposit' | 'balance' | 'returned';
export type PaymentWay = 'cash' | 'card' | 'transfer' | 'other';

/** Money that changed hands for an order. A row that reverses another says that the other was never paid. */
export type OrderPayment = {
  readonly id: number;
  readonly kind: PaymentKind;
  /** Whole minor units from 1; which way they went says the kind. */
  readonly cents: number;
  readonly how: PaymentWay;
  readonly reversesId: number | null;
};

/** Some like pairs of an order. */
export type LineToCharge = {
  readonly quantity: number;
  /** The price of one pair as it was agreed; null while nobody has agreed one. */
  readonly agreedCents: number | null;
  /** What the outlet asks for one pair today; null where no price can be made. */
  readonly outletCents: number | null;
};

export type OrderMoneyInput = {
  readonly state: 'asked' | 'agreed' | 'cancelled';
  readonly lines: readonly LineToCharge[];
  readonly extras: readonly { readonly cents: number }[];
  /** Passed on as it is; null when nothing is posted. */
  readonly postageCents: number | null;
  readonly taxRatio: number;
  readonly isTaxIncluded: boolean;
  readonly rounding: TaxRounding;
  /** The deposit agreed on for this order; null for the outlet's own share. */
  readonly depositCents: number | null;
  readonly depositRatio: number;
  /** In the order they were made. */
  readonly payments: readonly OrderPayment[];
  /** The smallest coin in use. */
  readonly cashStepCents: number;
};

/** A line as it is charged. */
export type ChargedLine = {
  /** The price of one pair; null where there is none, and then the line counts nothing. */
  readonly eachCents: number | null;
  readonly cents: number;
  readonly isAgreed: boolean;
};

/**
 * What an order comes to, whole minor units:
 * total = lines + extras + postage + tax added + cash rounding + kept = paid + owed.
 */
export type OrderMoney = {
  readonly lines: readonly ChargedLine[];
  readonly linesCents: number;
  readonly extrasCents: number;
  readonly postageCents: number;
  /** Tax that comes on top; 0 where the prices contain it. */
  readonly addedTaxCents: number;
  /** What the smallest coin gave or took, once the rest was paid in cash. */
  readonly cashRoundingCents: number;
  /** Of a cancelled order: what stays here. */
  readonly keptCents: number;
  readonly totalCents: number;
  /** Tax in the total, contained or added. */
  readonly taxCents: number;
  /** Deposits and balances less what went back. */
  readonly paidCents: number;
  /** Below 0 when money is to go back. */
  readonly owedCents: number;
  /** The same in coins that exist. */
  readonly owedInCashCents: number;
  /** The deposit asked for, never more than the total. */
  readonly depositCents: number;
  /** What is missing of it. */
  readonly depositDueCents: number;
  /** Lines at a price that nobody has agreed. */
  readonly notAgreed: number;
  /** Lines without any price: the total is too low by them. */
  readonly withoutPrice: number;
};

/**
 * The payments that stand: neither reversed nor a reversal.
 *
 * @param payments in any order, which is kept
 * @example standingPayments([{ id: 1, kind: 'deposit', cents: 500, how: 'cash', reversesId: null }, { id: 2, kind: 'deposit', cents: 500, how: 'cash', reversesId: 1 }]) // => []
 */
export function standingPayments<P extends Pick<OrderPayment, 'id' | 'reversesId'>>(payments: readonly P[]): P[] {
  const reversed = new Set(payments.flatMap((payment) => payment.reversesId ?? []));
  return payments.filter((payment) => payment.reversesId === null && !reversed.has(payment.id));
}

/**
 * What was paid and stayed: deposits and balances less what was returned. Below 0 when more went back than came.
 *
 * @param payments whole minor units from 1 each
 * @throws {RangeError} when an amount is not whole or below 1
 * @example paidOf([{ id: 1, kind: 'deposit', cents: 1300, how: 'cash', reversesId: null }, { id: 2, kind: 'returned', cents: 300, how: 'cash', reversesId: null }]) // => 1000
 */
export function paidOf(payments: readonly OrderPayment[]): number {
  for (const { cents } of payments) requireWhole('paidOf: cents', cents, 1);
  return sumCents(standingPayments(payments).map(({ kind, cents }) => (kind === 'returned' ? -cents : cents)));
}

function chargeLine({ quantity, agreedCents, outletCents }: LineToCharge): ChargedLine {
  requireWhole('orderMoney: quantity', quantity, 1);
  const eachCents = agreedCents ?? outletCents;
  if (eachCents !== null) requireWhole('orderMoney: price of a pair', eachCents);
  return { eachCents, cents: quantity * (eachCents ?? 0), isAgreed: agreedCents !== null };
}

/** What is left after the last payment was made in cash, when no coin is small enough for it. */
function leftToCoins(owedCents: number, { payments, cashStepCents }: OrderMoneyInput): number {
  const last = standingPayments(payments).at(-1);
  return last?.how === 'cash' && roundCash(owedCents, cashStepCents) === 0 ? owedCents : 0;
}

/**
 * An order's money: what it comes to, what was paid, and what is owed.
 * Lines are pairs x the price of a pair. A price that nobody has agreed is the outlet's of today: it counts, so that the
 * sum is never too low, and it is counted in `notAgreed`, since it moves with costs until it is agreed. Extras and postage are lines of the
 * invoice like the pairs, taxed as they are, since what is sent along is part of the sale; tax is rounded by line or once. Paid is
 * what came less what went back. When the last payment was in cash and what is then left is smaller than the coins, it is let go as
 * `cashRoundingCents`. A cancelled order comes to what was kept of it; whether a kept deposit is taxed is a matter of the
 * country, so its tax is 0 here.
 *
 * @param input amounts in whole minor units from 0
 * @returns whole minor units; total = lines + extras + postage + added tax + cash rounding + kept = paid + owed, always
 * @throws {RangeError} when an amount is negative or not whole, or the tax or deposit is out of range
 * Source: the invoice's own arithmetic; cash rounding after Government of Canada, Budget 2012 (on the total, cash alone)
 * @example orderMoney({ state: 'agreed', lines: [{ quantity: 2, agreedCents: 4500, outletCents: null }], extras: [{ cents: 250 }], postageCents: 495, taxRatio: 0, isTaxIncluded: true, rounding: 'line', depositCents: null, depositRatio: 0.3, payments: [], cashStepCents: 1 }).totalCents // => 9745
 * @example orderMoney({ state: 'cancelled', lines: [{ quantity: 1, agreedCents: 4400, outletCents: null }], extras: [], postageCents: null, taxRatio: 0, isTaxIncluded: true, rounding: 'line', depositCents: null, depositRatio: 0, payments: [{ id: 1, kind: 'deposit', cents: 1300, how: 'cash', reversesId: null }], cashStepCents: 1 }).totalCents // => 1300, the deposit is kept
 */
export function orderMoney(input: OrderMoneyInput): OrderMoney {
  const lines = input.lines.map(chargeLine);
  const paidCents = paidOf(input.payments);
  const counts = {
    lines,
    paidCents,
    notAgreed: lines.filter((line) => !line.isAgreed).length,
    withoutPrice: lines.filter((line) => line.eachCents === null).length,
  };
  return { ...counts, ...(input.state === 'cancelled' ? keptOf(paidCents) : chargesOf(input, lines, paidCents)) };
}

function keptOf(paidCents: number) {
  const keptCents = Math.max(0, paidCents);
  const none = { linesCents: 0, extrasCents: 0, postageCents: 0, addedTaxCents: 0, cashRoundingCents: 0, taxCents: 0 };
  const owedCents = keptCents - paidCents;
  return { ...none, keptCents, totalCents: keptCents, owedCents, owedInCashCents: owedCents, ...noDeposit };
}

const noDeposit = { depositCents: 0, depositDueCents: 0 };

function chargesOf(input: OrderMoneyInput, lines: readonly ChargedLine[], paidCents: number) {
  const { extras, taxRatio, isTaxIncluded, rounding, cashStepCents } = input;
  const postageCents = input.postageCents ?? 0;
  const amounts = [...lines.map((line) => line.cents), ...extras.map((extra) => extra.cents), postageCents];
  const tax = taxOfLines(amounts, taxRatio, isTaxIncluded, rounding);
  const linesCents = sumCents(lines.map((line) => line.cents));
  const extrasCents = sumCents(extras.map((extra) => extra.cents));
  const addedTaxCents = isTaxIncluded ? 0 : tax.totalCents;
  const exactCents = linesCents + extrasCents + postageCents + addedTaxCents;
  const leftCents = leftToCoins(exactCents - paidCents, input);
  const totalCents = exactCents - leftCents;
  const owedCents = totalCents - paidCents;
  // Postage is paid when it is posted: a deposit is a share of what is made.
  const postageTaxCents = isTaxIncluded ? 0 : tax.byLineCents.at(-1)!;
  const share = shareHalfUp(exactCents - postageCents - postageTaxCents, input.depositRatio);
  const depositCents = Math.min(exactCents, requireWhole('orderMoney: depositCents', input.depositCents ?? share));
  return {
    linesCents,
    extrasCents,
    postageCents,
    addedTaxCents,
    cashRoundingCents: 0 - leftCents,
    keptCents: 0,
    totalCents,
    taxCents: tax.totalCents,
    owedCents,
    owedInCashCents: roundCash(owedCents, cashStepCents),
    depositCents,
    depositDueCents: Math.max(0, Math.min(depositCents - paidCents, owedCents)),
  };
}
