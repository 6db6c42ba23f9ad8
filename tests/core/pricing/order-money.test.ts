import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type OrderMoney,
  type OrderMoneyInput,
  type OrderPayment,
  orderMoney,
  paidOf,
  standingPayments,
} from '#core/pricing/order-money.ts';

/** One pair at 44.00, nothing else, changed where a test needs it. */
function orderWith(changes: Partial<OrderMoneyInput> = {}): OrderMoneyInput {
  return Object.freeze({
    state: 'agreed',
    lines: Object.freeze([Object.freeze({ quantity: 1, agreedCents: 4400, outletCents: 4700 })]),
    extras: Object.freeze([]),
    postageCents: null,
    taxRatio: 0,
    isTaxIncluded: true,
    rounding: 'line',
    depositCents: null,
    depositRatio: 0,
    payments: Object.freeze([]),
    cashStepCents: 1,
    ...changes,
  } satisfies OrderMoneyInput);
}

let lastId = 0;
function payment(changes: Partial<OrderPayment> = {}): OrderPayment {
  lastId += 1;
  return Object.freeze({ id: lastId, kind: 'balance', cents: 1000, how: 'card', reversesId: null, ...changes });
}

const line = (agreedCents: number | null, quantity = 1, outletCents: number | null = null) => ({
  quantity,
  agreedCents,
  outletCents,
});

describe('orderMoney: what it comes to', () => {
  it('is pairs x the price of a pair, extras and postage', () => {
    // By hand: 2 x 45.00 + 32.00 + 2.50 + 1.00 + 4.95 = 130.45.
    const money = orderMoney(
      orderWith({
        lines: [line(4500, 2), line(3200)],
        extras: [{ cents: 250 }, { cents: 100 }],
        postageCents: 495,
      }),
    );
    expect(money).toMatchObject({ linesCents: 12200, extrasCents: 350, postageCents: 495, totalCents: 13045 });
    expect(money).toMatchObject({ paidCents: 0, owedCents: 13045, taxCents: 0, addedTaxCents: 0 });
  });

  it('comes to nothing without lines, extras and postage', () => {
    expect(orderMoney(orderWith({ lines: [], depositRatio: 0.3 }))).toMatchObject({
      totalCents: 0,
      owedCents: 0,
      depositCents: 0,
      depositDueCents: 0,
    });
  });

  it('takes the price agreed before that of the outlet', () => {
    expect(orderMoney(orderWith({ lines: [line(4400, 1, 4700)] })).totalCents).toBe(4400);
  });

  it('counts a pair at the price of the outlet while none is agreed, and says so', () => {
    const money = orderMoney(orderWith({ lines: [line(null, 2, 4700), line(4400)] }));
    expect(money.totalCents).toBe(13800);
    expect(money.notAgreed).toBe(1);
    expect(money.lines.map(({ isAgreed }) => isAgreed)).toEqual([false, true]);
  });

  it('counts nothing for a pair without any price, and says so', () => {
    const money = orderMoney(orderWith({ lines: [line(null, 2, null), line(4400)] }));
    expect(money).toMatchObject({ totalCents: 4400, notAgreed: 1, withoutPrice: 1 });
  });

  it('takes a price of nothing for a price', () => {
    expect(orderMoney(orderWith({ lines: [line(0, 1, 4700)] }))).toMatchObject({ totalCents: 0, notAgreed: 0 });
  });

  it.each([[{ lines: [line(-1)] }], [{ lines: [line(10.5)] }], [{ lines: [line(100, 0)] }], [{ postageCents: -1 }]])(
    'refuses what is no amount: %o',
    (changes) => {
      expect(() => orderMoney(orderWith(changes))).toThrow(RangeError);
    },
  );
});

describe('orderMoney: tax', () => {
  // HMRC VATREC12010 to 12030: three of 9.99 at 20 % are 3 x 1.67 by line and 29.97 / 6 = 4.995 -> 5.00 at once.
  it('is rounded by line or once, as the outlet does', () => {
    const three = orderWith({ lines: [line(999), line(999), line(999)], taxRatio: 0.2 });
    expect(orderMoney(three).taxCents).toBe(501);
    expect(orderMoney(orderWith({ ...three, rounding: 'invoice' })).taxCents).toBe(500);
    expect(orderMoney(three).totalCents).toBe(2997);
  });

  // Practitioners' tables of UK VAT rates and fractions: 20.00 of 120.00 at 20 %.
  it('is contained in the total where prices contain it', () => {
    const money = orderMoney(orderWith({ lines: [line(12000)], taxRatio: 0.2 }));
    expect(money).toMatchObject({ totalCents: 12000, taxCents: 2000, addedTaxCents: 0 });
  });

  // HMRC guide: net 100 at 5 % gives gross 105.
  it('comes on top where it is added', () => {
    const money = orderMoney(orderWith({ lines: [line(10000)], taxRatio: 0.05, isTaxIncluded: false }));
    expect(money).toMatchObject({ linesCents: 10000, totalCents: 10500, taxCents: 500, addedTaxCents: 500 });
  });

  it('is taken of extras and postage as of the pairs', () => {
    // By hand at 10 % added: 4.40 of 44.00, 0.25 of 2.50, 0.50 of 4.95 (0.495, half up).
    const added = { taxRatio: 0.1, isTaxIncluded: false };
    const money = orderMoney(orderWith({ ...added, extras: [{ cents: 250 }], postageCents: 495 }));
    expect(money.addedTaxCents).toBe(515);
    expect(money.totalCents).toBe(4400 + 250 + 495 + 515);
  });
});

describe('orderMoney: deposit', () => {
  it('is the share of the outlet of what is made, without the postage', () => {
    // By hand: 30 % of 44.00 + 2.50 = 13.95.
    const money = orderMoney(orderWith({ extras: [{ cents: 250 }], postageCents: 495, depositRatio: 0.3 }));
    expect(money).toMatchObject({ depositCents: 1395, depositDueCents: 1395 });
  });

  it('is a share with the tax that is added', () => {
    // By hand: 50 % of 100.00 + 5.00; postage of 10.00 and its tax stay out.
    const added = { taxRatio: 0.05, isTaxIncluded: false, rounding: 'invoice' as const };
    const money = orderMoney(orderWith({ ...added, lines: [line(10000)], postageCents: 1000, depositRatio: 0.5 }));
    expect(money.depositCents).toBe(5250);
  });

  it('is what was agreed for the order, where something was', () => {
    expect(orderMoney(orderWith({ depositCents: 1300, depositRatio: 0.5 })).depositCents).toBe(1300);
    expect(orderMoney(orderWith({ depositCents: 0, depositRatio: 0.5 })).depositDueCents).toBe(0);
  });

  it('is never more than the order', () => {
    expect(orderMoney(orderWith({ depositCents: 9000 }))).toMatchObject({ depositCents: 4400, depositDueCents: 4400 });
  });

  it.each([
    ['nothing', [], 1300],
    ['a part', [payment({ kind: 'deposit', cents: 500 })], 800],
    ['all of it', [payment({ kind: 'deposit', cents: 1300 })], 0],
    ['more, as a balance', [payment({ cents: 2000 })], 0],
    [
      'it, and it went back',
      [payment({ kind: 'deposit', cents: 1300 }), payment({ kind: 'returned', cents: 1300 })],
      1300,
    ],
  ])('is due after %s was paid', (_, payments, due) => {
    expect(orderMoney(orderWith({ depositCents: 1300, payments })).depositDueCents).toBe(due);
  });
});

describe('orderMoney: cash', () => {
  // Government of Canada, Budget 2012: on the total after tax, in cash alone: 1.83 + 2.86 with 5 % is 4.92, in cash 4.90.
  const groceries = {
    lines: [line(183), line(286)],
    taxRatio: 0.05,
    isTaxIncluded: false,
    rounding: 'invoice' as const,
  };
  const canada = orderWith({ ...groceries, cashStepCents: 5 });

  it('is asked for in coins that exist, and on a card to the cent', () => {
    expect(orderMoney(canada)).toMatchObject({ totalCents: 492, owedCents: 492, owedInCashCents: 490 });
  });

  it('lets go of what no coin is small enough for, once the rest was paid in cash', () => {
    const paid = orderMoney({ ...canada, payments: [payment({ cents: 490, how: 'cash' })] });
    expect(paid).toMatchObject({ cashRoundingCents: -2, totalCents: 490, paidCents: 490, owedCents: 0, taxCents: 23 });
  });

  it('still owes the same 2 cents when the rest was paid on a card', () => {
    const paid = orderMoney({ ...canada, payments: [payment({ cents: 490, how: 'card' })] });
    expect(paid).toMatchObject({ cashRoundingCents: 0, owedCents: 2 });
  });

  it('goes up as well: 4.93 is 4.95', () => {
    const money = orderMoney(
      orderWith({ lines: [line(493)], cashStepCents: 5, payments: [payment({ cents: 495, how: 'cash' })] }),
    );
    expect(money).toMatchObject({ cashRoundingCents: 2, totalCents: 495, owedCents: 0 });
  });

  it('is not rounded by a deposit in cash with the rest to come', () => {
    const money = orderMoney(
      orderWith({ lines: [line(4492)], cashStepCents: 5, payments: [payment({ kind: 'deposit', how: 'cash' })] }),
    );
    expect(money).toMatchObject({ cashRoundingCents: 0, owedCents: 3492, owedInCashCents: 3490 });
  });

  it('owes it again when the cash is reversed', () => {
    const cash = payment({ cents: 490, how: 'cash' });
    const undone = payment({ cents: 490, how: 'cash', reversesId: cash.id });
    expect(orderMoney({ ...canada, payments: [cash, undone] })).toMatchObject({ totalCents: 492, owedCents: 492 });
  });
});

describe('orderMoney: cancelled', () => {
  const deposit = payment({ kind: 'deposit', cents: 1300 });
  const cancelled = (payments: readonly OrderPayment[]) =>
    orderMoney(
      orderWith({ state: 'cancelled', extras: [{ cents: 250 }], postageCents: 495, depositRatio: 0.3, payments }),
    );

  it('comes to the deposit that is kept', () => {
    expect(cancelled([deposit])).toMatchObject({ keptCents: 1300, totalCents: 1300, paidCents: 1300, owedCents: 0 });
  });

  it('comes to nothing when the deposit went back', () => {
    const back = payment({ kind: 'returned', cents: 1300 });
    expect(cancelled([deposit, back])).toMatchObject({ totalCents: 0, paidCents: 0, owedCents: 0 });
  });

  it('comes to what was kept of it', () => {
    expect(cancelled([deposit, payment({ kind: 'returned', cents: 800 })]).totalCents).toBe(500);
  });

  it('is owed what went back too much', () => {
    const back = payment({ kind: 'returned', cents: 1300 });
    const undone = payment({ ...deposit, id: 900, reversesId: deposit.id });
    expect(cancelled([deposit, back, undone])).toMatchObject({ totalCents: 0, paidCents: -1300, owedCents: 1300 });
  });

  it('asks for no deposit, no tax, no postage', () => {
    expect(cancelled([])).toMatchObject({
      totalCents: 0,
      depositDueCents: 0,
      taxCents: 0,
      postageCents: 0,
      linesCents: 0,
    });
  });
});

describe('standingPayments', () => {
  it('leaves out what was reversed and its reversal, and keeps the order', () => {
    const [a, b, c] = [payment(), payment(), payment()];
    expect(standingPayments([a, b, payment({ reversesId: b.id }), c])).toEqual([a, c]);
  });
});

describe('paidOf', () => {
  it('refuses a payment of nothing', () => {
    expect(() => paidOf([payment({ cents: 0 })])).toThrow(RangeError);
  });
});

/** What happens to an order, one thing after another. */
type Step =
  | { readonly do: 'pay' | 'return'; readonly cents: number; readonly isDeposit: boolean; readonly isCash: boolean }
  | { readonly do: 'reverse'; readonly which: number }
  | { readonly do: 'cancel' | 'take back' }
  | { readonly do: 'extra'; readonly cents: number }
  | { readonly do: 'postage'; readonly cents: number | null };

const anyCents = fc.integer({ min: 0, max: 20_000 });
const someCents = fc.integer({ min: 1, max: 20_000 });
const anyStep: fc.Arbitrary<Step> = fc.oneof(
  fc.record({
    do: fc.constantFrom('pay' as const, 'return' as const),
    cents: someCents,
    isDeposit: fc.boolean(),
    isCash: fc.boolean(),
  }),
  fc.record({ do: fc.constant('reverse' as const), which: fc.nat(20) }),
  fc.record({ do: fc.constantFrom('cancel' as const, 'take back' as const) }),
  fc.record({ do: fc.constant('extra' as const), cents: anyCents }),
  fc.record({ do: fc.constant('postage' as const), cents: fc.option(anyCents) }),
);
const anyOrder = fc
  .record({
    lines: fc.array(
      fc.record({
        quantity: fc.integer({ min: 1, max: 9 }),
        agreedCents: fc.option(anyCents),
        outletCents: fc.option(anyCents),
      }),
      { maxLength: 5 },
    ),
    taxRatio: fc.integer({ min: 0, max: 2700 }).map((n) => n / 10_000),
    isTaxIncluded: fc.boolean(),
    rounding: fc.constantFrom('line' as const, 'invoice' as const),
    depositCents: fc.option(anyCents),
    depositRatio: fc.integer({ min: 0, max: 100 }).map((n) => n / 100),
    cashStepCents: fc.constantFrom(1, 5, 10),
  })
  .map((changes) => orderWith(changes));

/** Beside the order a till with real money in it: a second way to know what was paid. */
function take(order: OrderMoneyInput, tillCents: number, step: Step): { order: OrderMoneyInput; tillCents: number } {
  const { payments } = order;
  const id = payments.length + 1;
  switch (step.do) {
    case 'pay':
    case 'return': {
      const kind = step.do === 'return' ? 'returned' : step.isDeposit ? 'deposit' : 'balance';
      const how = step.isCash ? 'cash' : 'card';
      const next: OrderPayment = { id, kind, cents: step.cents, how, reversesId: null };
      const way = kind === 'returned' ? -1 : 1;
      return { order: { ...order, payments: [...payments, next] }, tillCents: tillCents + way * step.cents };
    }
    case 'reverse': {
      const open = standingPayments(payments);
      const target = open[step.which % Math.max(1, open.length)];
      if (!target) return { order, tillCents };
      const way = target.kind === 'returned' ? 1 : -1;
      const next = { ...target, id, reversesId: target.id };
      return { order: { ...order, payments: [...payments, next] }, tillCents: tillCents + way * target.cents };
    }
    case 'cancel':
      return { order: { ...order, state: 'cancelled' }, tillCents };
    case 'take back':
      return { order: { ...order, state: 'agreed' }, tillCents };
    case 'extra':
      return { order: { ...order, extras: [...order.extras, { cents: step.cents }] }, tillCents };
    case 'postage':
      return { order: { ...order, postageCents: step.cents }, tillCents };
  }
}

function sumOfParts(money: OrderMoney): number {
  const { linesCents, extrasCents, postageCents, addedTaxCents, cashRoundingCents, keptCents } = money;
  return linesCents + extrasCents + postageCents + addedTaxCents + cashRoundingCents + keptCents;
}

describe('orderMoney: through any sequence of payments, returns, reversals and cancels', () => {
  it('has a total that is the sum of its parts, and of what is paid and owed', () => {
    fc.assert(
      fc.property(anyOrder, fc.array(anyStep, { maxLength: 25 }), (begun, steps) => {
        let state = { order: begun, tillCents: 0 };
        for (const step of steps) {
          state = take(state.order, state.tillCents, step);
          const money = orderMoney(Object.freeze(state.order));
          expect(money.totalCents).toBe(sumOfParts(money));
          expect(money.totalCents).toBe(money.paidCents + money.owedCents);
          expect(money.paidCents).toBe(state.tillCents);
          expect(money.lines.reduce((sum, { cents }) => sum + cents, 0)).toBe(
            state.order.state === 'cancelled' ? sumOfLines(state.order) : money.linesCents,
          );
          expect(Object.values(money).flat().filter(Number.isNaN)).toEqual([]);
          expect(money.depositDueCents).toBeGreaterThanOrEqual(0);
          expect(money.depositDueCents).toBeLessThanOrEqual(Math.max(0, money.owedCents));
          expect(Math.abs(money.cashRoundingCents)).toBeLessThanOrEqual(state.order.cashStepCents / 2);
          if (state.order.state === 'cancelled' && state.tillCents >= 0) expect(money.owedCents).toBe(0);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('owes nothing after what is owed was paid, on a card or in coins', () => {
    fc.assert(
      fc.property(anyOrder, fc.array(anyStep, { maxLength: 10 }), fc.boolean(), (begun, steps, isCash) => {
        let state = { order: begun, tillCents: 0 };
        for (const step of steps) state = take(state.order, state.tillCents, step);
        const { owedCents, owedInCashCents } = orderMoney(state.order);
        const cents = isCash && state.order.state !== 'cancelled' ? owedInCashCents : owedCents;
        fc.pre(cents > 0);
        const paid = take(state.order, state.tillCents, { do: 'pay', cents, isDeposit: false, isCash });
        expect(orderMoney(paid.order).owedCents).toBe(0);
      }),
    );
  });

  it('is as it was when a payment is reversed', () => {
    fc.assert(
      fc.property(anyOrder, fc.array(anyStep, { maxLength: 10 }), someCents, (begun, steps, cents) => {
        let { order } = { order: begun };
        for (const step of steps) order = take(order, 0, step).order;
        const before = orderMoney(order);
        const id = order.payments.length + 1;
        const typed: OrderPayment = { id, kind: 'balance', cents, how: 'cash', reversesId: null };
        const both = [...order.payments, typed, { ...typed, id: id + 1, reversesId: id }];
        expect(orderMoney({ ...order, payments: both })).toEqual(before);
      }),
    );
  });
});

function sumOfLines(order: OrderMoneyInput): number {
  return order.lines.reduce(
    (sum, { quantity, agreedCents, outletCents }) => sum + quantity * (agreedCents ?? outletCents ?? 0),
    0,
  );
}
