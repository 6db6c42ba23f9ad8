import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { knittingMinutesOn } from '#core/schedule/availability.ts';
import { addDays, type Day } from '#core/shared/calendar.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { createPostageBand } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import type { LineEntry } from '#flows/orders/entries.ts';
import { readQuote } from '#flows/orders/read-quote.ts';
import {
  acceptQuote,
  addQuote,
  changeQuote,
  declineQuote,
  priceQuote,
  type QuoteDetails,
  type QuoteEntry,
  removeQuoteLine,
  renewQuote,
  saveQuoteLine,
} from '#flows/orders/save-quote.ts';
import { readPlan } from '#flows/read-plan.ts';
import {
  addKnitter,
  addLot,
  addOffer,
  addOrder,
  addOutlet,
  addStyle,
  addSupplier,
  addYarn,
  addYarnColour,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

/** A Wednesday. */
const now = new Date('2026-11-25T10:00:00Z');
const today = '2026-11-25';
const inDays = (days: number) => new Date(now.getTime() + days * 86_400_000);

let workshop: TestWorkshop;
let ids: Awaited<ReturnType<typeof fill>>;

/** One knitter with an hour on weekdays, a lot that is enough for one pair, a shop that takes four days, no order. */
async function fill({ store }: TestWorkshop) {
  return await store.write('test: a workshop for quotes', async (tx) => {
    await setSetting(tx, 'wageCentsPerHour', 1200);
    const style = await addStyle(tx, twoPieceSlipper);
    const yarn = await addYarn(tx, { name: 'Fell Bulky', needleMm: 7 });
    const heather = await addYarnColour(tx, { yarnId: yarn.id, name: 'Heather' });
    await addLot(tx, [100_000, 50_000], { yarnColourId: heather.id, dyeLot: '4471' });
    const shop = await addSupplier(tx, { name: 'Quay Yarns', shippingCents: 450, deliveryDays: 4 });
    await addOffer(tx, { supplierId: shop.id, yarnColourId: heather.id, priceCents: 890 });
    const knitter = await addKnitter(tx, { name: 'Ilka' });
    const order = await addOutlet(tx, { name: 'By order', kind: 'order', depositRatio: 0.3 });
    const fair = await addOutlet(tx, { name: 'Winter fair', kind: 'fair', priceRatio: 0.5, rank: 1 });
    return { style: style.id, heather: heather.id, knitter: knitter.id, order: order.id, fair: fair.id };
  });
}

beforeEach(async () => {
  workshop = await openTestWorkshop();
  ids = await fill(workshop);
});
afterEach(() => workshop.discard());

const line = (values: Partial<LineEntry> = {}): LineEntry => ({
  styleId: ids.style,
  size: { by: 'label', person: 'woman', system: 'EU', label: '38' },
  fit: 'usual',
  cuffHeightMm: null,
  quantity: 1,
  agreedCents: null,
  knitterId: null,
  colours: ['foot', 'cuff'].map((role) => ({ role, strand: 0, yarnColourId: ids.heather })),
  ...values,
});

const details = (values: Partial<QuoteDetails> = {}): QuoteDetails => ({
  customerName: null,
  contact: null,
  outletId: ids.order,
  wishedDay: null,
  post: null,
  depositCents: null,
  validUntilDay: null,
  holds: true,
  remarks: null,
  ...values,
});

async function give(values: Partial<QuoteEntry> = {}, at = now) {
  const added = await addQuote(workshop, { ...details(values), lines: values.lines ?? [line()] }, at);
  if (!added.ok) throw new Error(added.problems[0]!.message);
  return added.value;
}

const orderOf = async (id: number) => (await readWorkshop(workshop)).orders.find((order) => order.id === id)!;
const linesOf = async (id: number) => (await readWorkshop(workshop)).lines.filter((each) => each.orderId === id);

/** Knitting minutes of the only knitter from today to the end of a day. */
async function minutesTo(last: Day): Promise<number> {
  const { input } = await readPlan(workshop, now);
  let sum = 0;
  for (let day: Day = today; day <= last; day = addDays(day, 1)) {
    sum += knittingMinutesOn(input.knitters[0]!, day, { knittingMinutesPerHour: 50 });
  }
  return sum;
}

describe('addQuote', () => {
  it('is an order only asked, with the price of a pair, the deposit, the day and the last day', async () => {
    const quote = await give({ customerName: 'Mara', contact: 'mara@linden.example' });
    const view = await readQuote(workshop, now, quote.id);
    const [pair] = await linesOf(quote.id);
    expect(quote).toMatchObject({ state: 'asked', holds: true, createdDay: today, validUntilDay: '2026-12-09' });
    expect(pair!.agreedCents).toBe(view.lines[0]!.price!.sheet.priceCents);
    // 30 % of the price, to the whole cent.
    expect(quote.depositCents).toBe(Math.round(pair!.agreedCents! * 0.3));
    // The first day by whose end so many minutes of knitting have passed.
    expect(await minutesTo(quote.promisedDay!)).toBeGreaterThanOrEqual(view.minutes);
    expect(await minutesTo(addDays(quote.promisedDay!, -1))).toBeLessThan(view.minutes);
    expect((await readWorkshop(workshop)).customers).toMatchObject([{ name: 'Mara', contact: 'mara@linden.example' }]);
  });

  it('leaves the plan of the agreed orders as it is, and nothing of it to knit', async () => {
    const agreed = lineOf(ids.style, ids.heather, { colours: line().colours });
    await workshop.store.write('test', (tx) => addOrder(tx, { outletId: ids.order, lines: [agreed] }));
    const before = await readPlan(workshop, now);
    await give({ lines: [line({ quantity: 3 })] });
    const after = await readPlan(workshop, now);
    expect(after.plan.weeks).toEqual(before.plan.weeks);
    expect(after.plan.wanted).toEqual(before.plan.wanted);
    expect(after.plan.lists).toEqual(before.plan.lists);
  });

  it('does not promise the evenings and the balls that another quote holds', async () => {
    const first = await give();
    const second = await give();
    const [one, two] = [await readQuote(workshop, now, first.id), await readQuote(workshop, now, second.id)];
    // One knitter: both are done by the second day, and not both by the first.
    expect(await minutesTo(second.promisedDay!)).toBeGreaterThanOrEqual(one.minutes + two.minutes);
    expect(await minutesTo(first.promisedDay!)).toBeLessThan(one.minutes + two.minutes);
    expect(one.yarn).toMatchObject([{ lotNames: ['4471'], toBuyG: 0, packs: [] }]);
    expect(two.yarn).toMatchObject([{ fromShelfG: 0, lotNames: [], packs: [{ shop: 'Quay Yarns', packs: 2 }] }]);
    expect([one.dayNow, two.dayNow]).toEqual([first.promisedDay, second.promisedDay]);
  });

  it('may promise the same where nothing is held', async () => {
    const first = await give({ holds: false });
    const second = await give({ holds: false });
    expect(second.promisedDay).toBe(first.promisedDay);
    const views = [await readQuote(workshop, now, first.id), await readQuote(workshop, now, second.id)];
    expect(views.map(({ yarn }) => yarn[0]!.lotNames)).toEqual([['4471'], ['4471']]);
  });

  it('holds nothing from the day after its last', async () => {
    await give({ validUntilDay: '2026-12-02' });
    const alone = await give({ holds: false }, inDays(8));
    const lastDay = await give({ holds: false }, inDays(7));
    const view = await readQuote(workshop, inDays(8), alone.id);
    expect(view.yarn[0]!.lotNames).toEqual(['4471']);
    // A day earlier it still held, and the same pair could only be promised for later.
    expect(lastDay.promisedDay! > alone.promisedDay!).toBe(true);
  });

  it('keeps every day it promised before, between agreed orders, in whatever order they ask', async () => {
    const agreed = (days: number, quantity: number) => {
      const lines = [lineOf(ids.style, ids.heather, { colours: line().colours, quantity })];
      return workshop.store.write('test', (tx) =>
        addOrder(tx, { outletId: ids.order, dueDay: addDays(today, days), lines }),
      );
    };
    await agreed(30, 2);
    await agreed(45, 1);
    const sizes = ['44', '36', '41', '38', '46', '40'];
    const quotes = [];
    for (const [index, label] of sizes.entries()) {
      const size = { by: 'label' as const, person: 'unknown' as const, system: 'EU' as const, label };
      quotes.push(await give({ lines: [line({ size, quantity: 1 + (index % 2) })] }));
    }
    for (const { id, promisedDay } of quotes) {
      const { dayNow } = await readQuote(workshop, now, id);
      expect(dayNow! <= promisedDay!).toBe(true);
    }
    expect((await readPlan(workshop, now)).plan.late.lateOrders).toEqual([]);
    // Nobody can knit more than the evenings have: by each day, what was promised for it and before.
    const work = await Promise.all(
      quotes.map(async ({ id, promisedDay }) => ({
        promisedDay,
        minutes: (await readQuote(workshop, now, id)).minutes,
      })),
    );
    for (const { promisedDay } of work) {
      const sum = work.filter((each) => each.promisedDay! <= promisedDay!).reduce((all, each) => all + each.minutes, 0);
      expect(sum).toBeLessThanOrEqual(await minutesTo(promisedDay!));
    }
  });

  it('does not promise the same evenings to two who ask at once', async () => {
    const [first, second] = await Promise.all([give(), give()]);
    expect(first.promisedDay).not.toBe(second.promisedDay);
  });

  it('takes what the post asks for the parcel where the boxes are empty', async () => {
    await workshop.store.write('test', async (tx) => {
      await createPostageBand(tx, { name: 'Inland', upToG: 100, cents: 150, days: 2 });
      await createPostageBand(tx, { name: 'Inland', upToG: 500, cents: 320, days: 3 });
    });
    const post = { destination: 'Inland', cents: null, days: null };
    const quote = await give({ post, wishedDay: '2027-02-20' });
    // A pair of 100 g and the packing of 60 g are above 100 g.
    expect(quote).toMatchObject({ postageCents: 320, postDays: 3, arriveByDay: '2027-02-20', dueDay: '2027-02-17' });
    expect(
      await addQuote(workshop, { ...details({ post: { ...post, destination: null } }), lines: [line()] }, now),
    ).toMatchObject({
      ok: false,
      problems: [{ path: 'postage' }, { path: 'postDays' }],
    });
  });

  it('leaves nothing behind when the writing fails', async () => {
    const before = await readWorkshop(workshop);
    const remarks = 'x'.repeat(2001);
    await expect(give({ customerName: 'Mara', remarks })).rejects.toThrow();
    const after = await readWorkshop(workshop);
    expect([after.orders, after.customers, after.revision]).toEqual([[], [], before.revision]);
  });
});

describe('changeQuote', () => {
  it('prices anew what stood on the price sheet, and keeps what was typed', async () => {
    const quote = await give({ lines: [line(), line({ agreedCents: 7700 })] });
    const before = await linesOf(quote.id);
    await changeQuote(workshop, quote.id, details({ outletId: ids.fair }), 1, now);
    const after = await linesOf(quote.id);
    // A margin of 50 % instead of 30 %.
    expect(after[0]!.agreedCents!).toBeGreaterThan(before[0]!.agreedCents!);
    expect(after[1]!.agreedCents).toBe(7700);
    expect((await orderOf(quote.id)).depositCents).toBe(0);
  });

  it('is refused against an older version, with nothing changed', async () => {
    const quote = await give();
    await changeQuote(workshop, quote.id, details({ customerName: 'Mara' }), 1, now);
    await expect(changeQuote(workshop, quote.id, details({ customerName: 'Nell' }), 1, now)).rejects.toMatchObject({
      code: 'conflict',
    });
    expect((await readWorkshop(workshop)).customers.map(({ name }) => name)).toEqual(['Mara']);
  });

  it('is no longer possible once it is an order', async () => {
    const quote = await give();
    await acceptQuote(workshop, quote.id, 1, now);
    await expect(changeQuote(workshop, quote.id, details(), undefined, now)).rejects.toMatchObject({
      code: 'conflict',
    });
    await expect(changeQuote(workshop, 99, details(), undefined, now)).rejects.toMatchObject({ code: 'notFound' });
  });
});

describe('saveQuoteLine and removeQuoteLine', () => {
  it('bring price, deposit and day along', async () => {
    const quote = await give();
    const added = await saveQuoteLine(workshop, quote.id, null, line({ quantity: 2 }), undefined, now);
    expect(added.ok).toBe(true);
    const three = await orderOf(quote.id);
    expect(three.promisedDay! > quote.promisedDay!).toBe(true);
    // Three like pairs instead of one, each at the same price.
    expect(Math.abs(three.depositCents! - 3 * quote.depositCents!)).toBeLessThanOrEqual(1);
    const [first] = await linesOf(quote.id);
    await removeQuoteLine(workshop, quote.id, first!.id, 1, now);
    const two = await orderOf(quote.id);
    expect(two.promisedDay! < three.promisedDay!).toBe(true);
    const [last] = await linesOf(quote.id);
    await expect(removeQuoteLine(workshop, quote.id, last!.id, undefined, now)).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('refuse a foot that cannot be planned at its field', async () => {
    const quote = await give();
    const gone = line({ size: { by: 'band', bandId: 77 } });
    expect(await saveQuoteLine(workshop, quote.id, null, gone, undefined, now)).toMatchObject({
      ok: false,
      problems: [{ path: 'size' }],
    });
    expect(await linesOf(quote.id)).toHaveLength(1);
  });
});

describe('priceQuote', () => {
  it('asks a price by hand and says what an hour earns at it; the day stays', async () => {
    const quote = await give();
    const [pair] = await linesOf(quote.id);
    await priceQuote(workshop, quote.id, new Map([[pair!.id, 2000]]), null, 1, now);
    const view = await readQuote(workshop, now, quote.id);
    const { row, cost, minutes, isOwn } = view.lines[0]!.price!;
    expect(isOwn).toBe(true);
    // No tax and no fees at this outlet: the price less all costs but labour, over the hours.
    const outlay = cost.totalCents - cost.labourCents;
    expect(row.hourWorthCents).toBe(Math.round(((2000 - outlay) * 60) / minutes));
    expect([row.isBelowWage, row.isBelowMoneyBack]).toEqual([true, false]);
    expect(view.order.row).toMatchObject({
      depositCents: 600,
      promisedDay: quote.promisedDay,
      validUntilDay: quote.validUntilDay,
    });
    await priceQuote(workshop, quote.id, new Map([[pair!.id, null]]), 500, 2, now);
    expect((await linesOf(quote.id))[0]!.agreedCents).toBe(pair!.agreedCents);
    expect((await orderOf(quote.id)).depositCents).toBe(500);
  });
});

describe('renewQuote', () => {
  it('keeps the price, and gives a new day and a new last day', async () => {
    const quote = await give();
    const [pair] = await linesOf(quote.id);
    await workshop.store.write('test: a higher wage', (tx) => setSetting(tx, 'wageCentsPerHour', 2400));
    await renewQuote(workshop, quote.id, 1, inDays(30));
    const renewed = await orderOf(quote.id);
    expect(renewed.validUntilDay).toBe('2027-01-08');
    expect(renewed.promisedDay! > '2026-12-25').toBe(true);
    expect((await linesOf(quote.id))[0]!.agreedCents).toBe(pair!.agreedCents);
  });
});

describe('acceptQuote and declineQuote', () => {
  it('makes it an order at its price, for the day promised, and the plan keeps that day', async () => {
    await give();
    const quote = await give();
    const [pair] = await linesOf(quote.id);
    await workshop.store.write('test: a higher wage', (tx) => setSetting(tx, 'wageCentsPerHour', 2400));
    const accepted = await acceptQuote(workshop, quote.id, 1, now);
    expect(accepted).toMatchObject({ ok: true, value: { state: 'agreed', holds: false, dueDay: quote.promisedDay } });
    expect((await linesOf(quote.id))[0]!.agreedCents).toBe(pair!.agreedCents);
    expect((await orderOf(quote.id)).depositCents).toBe(quote.depositCents);
    const { plan } = await readPlan(workshop, now);
    expect(plan.wanted.pairs).toHaveLength(1);
    expect(plan.late.lateOrders).toEqual([]);
  });

  it('takes the day wished for where it is later, and the promised one where it is sooner', async () => {
    const later = await give({ wishedDay: '2027-06-01' });
    await acceptQuote(workshop, later.id, 1, now);
    expect(await orderOf(later.id)).toMatchObject({ dueDay: '2027-06-01', arriveByDay: null });
    const post = { destination: null, cents: 0, days: 2 };
    const sooner = await give({ wishedDay: '2026-11-27', post });
    await acceptQuote(workshop, sooner.id, 1, now);
    expect(await orderOf(sooner.id)).toMatchObject({
      dueDay: sooner.promisedDay,
      arriveByDay: addDays(sooner.promisedDay!, 2),
    });
  });

  it('keeps a quote they said no to as a cancelled order that holds nothing', async () => {
    const quote = await give();
    await declineQuote(workshop, quote.id, 1, now);
    const next = await give();
    expect(next.promisedDay).toBe(quote.promisedDay);
    await expect(declineQuote(workshop, quote.id, undefined, now)).rejects.toMatchObject({ code: 'notFound' });
  });
});
