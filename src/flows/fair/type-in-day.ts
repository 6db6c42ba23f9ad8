import { type TakenPair, typeInKind } from '#core/fair/came-home.ts';
import type { PaidHow } from '#core/fair/day-account.ts';
import { AppError } from '#core/shared/app-error.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { listPairs } from '#db/stores/batch.ts';
import {
  type AskedRow,
  changeAsked,
  changeFairDay,
  changeFairPair,
  createAsked,
  findFair,
  findFairDay,
  listAsked,
  listFairPairs,
  listSaleLines,
  listSales,
  removeAsked,
} from '#db/stores/fair.ts';
import type { KindAtTable } from '#flows/fair/read-day.ts';
import { markSold, type NewSale, noteSale } from '#flows/fair/sell-pair.ts';
import { type TakenRow, takenOf } from '#flows/fair/taken-pairs.ts';

/** Like sales: so many, paid so, at one price. */
export type TypedSales = { readonly how: PaidHow; readonly count: number; readonly priceCents: number };

export type TypedDay = {
  /** Of the form itself: sent twice, it is the same form. */
  readonly token: string;
  readonly version: number | undefined;
  readonly kinds: readonly {
    readonly kind: KindAtTable;
    readonly sales: readonly TypedSales[];
    readonly home: number | null;
    readonly paths: { readonly sold: string; readonly home: string };
  }[];
  /** Pairs that are not in the list. */
  readonly others: readonly { readonly what: string; readonly how: PaidHow; readonly priceCents: number }[];
  readonly asked: readonly { readonly size: string | null; readonly colour: string | null; readonly count: number }[];
  readonly cashCents: number | null;
};

const savedBefore: Problem = {
  code: 'savedBefore',
  path: '',
  message:
    'This form was saved already, so nothing was counted again. Look below at what is noted now, clear the boxes of what is in it, and save the rest.',
};

type Planned = Omit<NewSale, 'tillKey' | 'fairDayId' | 'outletId' | 'day'>;

function salesOf(kind: KindAtTable, sales: readonly TypedSales[], sold: readonly number[]): Planned[] {
  const toSell = [...sold];
  return sales.flatMap(({ how, count, priceCents }) =>
    Array.from({ length: count }, () => ({ how, priceCents, what: kind.words, pairId: toSell.shift()! })),
  );
}

/** Whether a form that was saved before says the same now. */
async function isSameForm(tx: Tx, token: string, planned: readonly Omit<Planned, 'pairId'>[]): Promise<boolean | null> {
  const before = (await listSales(tx)).filter(({ tillKey }) => tillKey.startsWith(`${token}-`));
  if (before.length === 0) return null;
  const lines = new Map((await listSaleLines(tx)).map((line) => [line.saleId, line]));
  const nameOf = (how: string, priceCents: number | undefined, what: string | undefined) =>
    `${how}/${priceCents}/${what}`;
  const saved = before.map((sale) => nameOf(sale.how, lines.get(sale.id)?.priceCents, lines.get(sale.id)?.what));
  const typed = planned.map(({ how, priceCents, what }) => nameOf(how, priceCents, what));
  return JSON.stringify(saved.sort()) === JSON.stringify(typed.sort());
}

async function setAsked(tx: Tx, dayId: number, there: readonly AskedRow[], wished: TypedDay['asked']): Promise<void> {
  for (const [index, wish] of wished.entries()) {
    const row = there[index];
    if (!row) await createAsked(tx, { fairDayId: dayId, ...wish });
    else if (!isAlike(row, wish)) await changeAsked(tx, row.id, wish);
  }
  for (const row of there.slice(wished.length)) await removeAsked(tx, row.id);
}

const isAlike = (a: TypedDay['asked'][number], b: TypedDay['asked'][number]) =>
  a.size === b.size && a.colour === b.colour && a.count === b.count;

/** The pairs of a kind as they stand in this write. */
function pairsOfKind(kind: KindAtTable, here: readonly TakenRow[]): readonly TakenRow[] {
  const ids = new Set(kind.pairs.map(({ pairId }) => pairId));
  return here.filter(({ pairId }) => ids.has(pairId));
}

/**
 * Types in a day: sales come on top of those noted, counts of what came home, the cash box and what was asked for in
 * vain are as they stand now. Sent twice it counts once.
 *
 * @returns how many sales were noted, or what is wrong at which field
 * @throws {AppError} `notFound`, or `conflict` when the day has changed since the form was shown
 */
export async function typeInDay({ store }: Workshop, dayId: number, typed: TypedDay): Promise<Result<number>> {
  return await store.write('fair: type in a day', async (tx) => {
    const day = await findFairDay(tx, dayId);
    const fair = day && (await findFair(tx, day.fairId));
    if (!day || !fair) throw new AppError('notFound', 'That day is not here; it may have been removed.');
    const others = typed.others.map((each): Planned => ({ ...each, pairId: null }));
    const wanted = typed.kinds.flatMap(({ kind, sales }) => salesOf(kind, sales, []));
    const isSame = await isSameForm(tx, typed.token, [...wanted, ...others]);
    if (isSame !== null) return isSame ? succeed(0) : refuse(savedBefore);

    const rows = { taken: await listFairPairs(tx), sales: await listSales(tx), lines: await listSaleLines(tx) };
    const { here } = takenOf(dayId, { ...rows, pairs: await listPairs(tx) });
    const problems: Problem[] = [];
    const planned: Planned[] = [];
    const marks: { readonly row: TakenRow['row']; readonly cameHome: boolean | null }[] = [];
    for (const { kind, sales, home, paths } of typed.kinds) {
      const before = pairsOfKind(kind, here);
      const sold = sales.reduce((sum, { count }) => sum + count, 0);
      const after = typeInKind(before, { sold, home }, paths);
      if (!after.ok) {
        problems.push(...after.problems);
        continue;
      }
      planned.push(...salesOf(kind, sales, soldNow(before, after.value)));
      for (const [index, { cameHome }] of after.value.entries()) {
        const { row } = before[index]!;
        if (row.cameHome !== cameHome) marks.push({ row, cameHome });
      }
    }
    if (problems.length > 0) return refuse(...problems);
    planned.push(...others);

    const asked = (await listAsked(tx)).filter(({ fairDayId }) => fairDayId === dayId);
    const isAskedSame =
      asked.length === typed.asked.length && asked.every((row, index) => isAlike(row, typed.asked[index]!));
    const isNothingNew = planned.length === 0 && marks.length === 0 && isAskedSame && day.cashCents === typed.cashCents;
    if (isNothingNew) return succeed(0);
    await changeFairDay(tx, dayId, { cashCents: typed.cashCents }, typed.version);
    for (const { row, cameHome } of marks) await changeFairPair(tx, row.id, { cameHome });
    for (const [index, sale] of planned.entries()) {
      if (sale.pairId !== null) await markSold(tx, sale.pairId);
      await noteSale(tx, {
        ...sale,
        tillKey: `${typed.token}-${index + 1}`,
        fairDayId: dayId,
        outletId: fair.outletId,
        day: day.day,
      });
    }
    await setAsked(tx, dayId, asked, typed.asked);
    return succeed(planned.length);
  });
}

function soldNow(before: readonly TakenPair[], after: readonly TakenPair[]): number[] {
  return after.filter(({ isSold }, index) => isSold && !before[index]!.isSold).map(({ pairId }) => pairId);
}
