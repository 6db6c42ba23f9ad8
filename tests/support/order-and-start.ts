import fc from 'fast-check';
import { expect } from 'vitest';
import type { StartedPair } from '#core/batch/net-to-make.ts';
import { placementKey } from '#core/buying/lots.ts';
import type { Offer, Supplier } from '#core/buying/offers.ts';
import type { ShelfLot } from '#core/buying/shelf.ts';
import { type Plan, type PlanInput, plan } from '#core/plan.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Person } from '#core/sizing/foot.ts';
import { confidenceOfWants, enoughForPair } from '#core/yardage/needs.ts';
import { knitterOf, lineOf, offerOf, planInputOf, slipperKind } from '#tests/support/plan-input.ts';

/** Workshops at random, what is on their list ordered and come home, and their pairs begun one after the other. */

const shops: readonly Supplier[] = [1, 2, 3].map((id) => ({
  ...planInputOf([]).suppliers[0]!,
  id,
  name: `Shop ${id}`,
  shippingCents: 100 + 90 * id,
  deliveryDays: 2 * id,
  rank: id,
}));

const anyOffer = fc.record({
  supplierId: fc.integer({ min: 1, max: 3 }),
  yarnColourId: fc.integer({ min: 1, max: 3 }),
  ballMg: fc.constantFrom(25_000, 50_000, 100_000),
  ballsPerPack: fc.constantFrom(1, 1, 1, 5),
  centsPerG: fc.integer({ min: 4, max: 9 }),
  stockPacks: fc.option(fc.integer({ min: 1, max: 6 })),
});
const offersOf = (list: readonly { readonly centsPerG: number }[], make: (each: never) => Partial<Offer>): Offer[] =>
  list.map((each, i) => offerOf(i + 1, make(each as never)));

const anyLine = fc.record({
  person: fc.constantFrom<Person>('woman', 'man', 'child'),
  lengthMm: fc.constantFrom(150, 185, 200, 226, 233, 240, 253, 260, 271),
  foot: fc.integer({ min: 1, max: 3 }),
  cuff: fc.integer({ min: 1, max: 3 }),
  quantity: fc.integer({ min: 1, max: 4 }),
});

const anyLot = fc.record({
  yarnColourId: fc.integer({ min: 1, max: 3 }),
  freeMg: fc.integer({ min: 15_000, max: 420_000 }),
  number: fc.constantFrom(null, 'a', 'b'),
});

export const anyWorkshop: fc.Arbitrary<PlanInput> = fc
  .record({
    lines: fc.array(anyLine, { minLength: 1, maxLength: 7 }),
    lots: fc.array(anyLot, { maxLength: 5 }),
    offers: fc.array(anyOffer, { minLength: 3, maxLength: 12 }),
    begun: fc.integer({ min: 0, max: 2 }),
    settledRatio: fc.constantFrom(1, 0.9, 1.05),
    buyAt: fc.constantFrom<'safe' | 'likely'>('safe', 'likely'),
    confidence: fc.constantFrom(0.8, 0.9, 0.95),
    oneSupplierPerColour: fc.boolean(),
    knitters: fc.integer({ min: 1, max: 2 }),
  })
  .map((each) => {
    const lines = each.lines.map((line, i) =>
      lineOf(i + 1, slipperKind(line.person, line.lengthMm, line.foot, line.cuff), { quantity: line.quantity }),
    );
    const offers = offersOf(each.offers, ({ centsPerG, ...offer }: (typeof each.offers)[number]) => ({
      ...offer,
      priceCents: Math.round((centsPerG * offer.ballMg * offer.ballsPerPack) / 1000),
    }));
    const shelf = each.lots.map(({ yarnColourId, freeMg, number }, i) => ({
      id: i + 1,
      yarnColourId,
      dyeLot: number ?? '',
      freeMg,
      paidCents: 500,
      boughtMg: 500_000,
      ...(number === null ? {} : { lotKey: number }),
    }));
    const base = planInputOf(lines, { suppliers: shops, offers, shelf });
    const settings = { ...base.settings, buyAt: each.buyAt, confidence: each.confidence };
    const input: PlanInput = {
      ...base,
      knitters: Array.from({ length: each.knitters }, (_, i) => knitterOf(i + 1)),
      settings: { ...settings, oneSupplierPerColour: each.oneSupplierPerColour },
    };
    // Pairs that were begun without their yarn, when a pair was given a little more or less than it is today.
    const { handwork, wanted } = plan(input);
    const started = wanted.pairs.slice(0, each.begun).map((pair, i): StartedPair => {
      const yarn = handwork.yarnOf(pair.kind, 1);
      const mgOf = (grams: number) => Math.round(grams * 1000 * 1.1 * each.settledRatio);
      const waitsMg = new Map(yarn.map(({ yarnColourId, grams }) => [yarnColourId, mgOf(grams)]));
      const own = { id: i + 1, lineId: pair.lineId, kind: pair.kind, dueDay: null, knitterId: 1 };
      return { ...own, heldColourIds: [], waitsMg, workLeftRatio: 1 };
    });
    return { ...input, started };
  });

/** The chosen list as it was shown: from each shop one dye lot of each colour. */
export function comeHome(input: PlanInput, { lists }: Plan): PlanInput {
  let id = 100;
  const come = lists.chosen.baskets.flatMap((basket) => {
    const byColour = new Map<number, number>();
    for (const { yarnColourId, grossMg } of basket.lines)
      byColour.set(yarnColourId, (byColour.get(yarnColourId) ?? 0) + grossMg);
    return [...byColour].map(([yarnColourId, mg]): ShelfLot => {
      id += 1;
      return { id, yarnColourId, dyeLot: `new ${id}`, freeMg: mg, paidCents: 1, boughtMg: mg, lotKey: `new ${id}` };
    });
  });
  const today = [input.today, ...lists.arrivals.values()].sort().at(-1) as Day;
  return { ...input, today, shelf: [...input.shelf, ...come] };
}

/** The first pair that is not begun, begun as the plan has it; null when all are. */
export function startNext(input: PlanInput, { wanted, weeks, placed, handwork }: Plan): PlanInput | null {
  const at = wanted.pairs.findIndex((pair) => pair.started === null);
  const pair = wanted.pairs[at];
  if (!pair) return null;
  const knitterId = weeks[at]!.knitterId;
  const takenMg = new Map<number, number>();
  const held: number[] = [];
  const alone = enoughForPair(pair.kind, handwork.specOf(pair.kind, knitterId), confidenceOfWants(input.settings));
  const enough = new Map(alone.map(({ yarnColourId, mg }) => [yarnColourId, mg]));
  for (const { yarnColourId } of handwork.yarnOf(pair.kind, knitterId)) {
    const key = placementKey(pair.key, yarnColourId);
    const lotId = placed.lotOf.get(key);
    const parts = placed.mixedOf.get(key) ?? [];
    if (lotId === undefined && parts.length === 0) continue;
    held.push(yarnColourId);
    for (const part of parts) takenMg.set(part.lotId, (takenMg.get(part.lotId) ?? 0) + part.mg);
    if (lotId !== undefined) takenMg.set(lotId, (takenMg.get(lotId) ?? 0) + enough.get(yarnColourId)!);
  }
  const shelf = input.shelf.map((lot) => ({ ...lot, freeMg: lot.freeMg - (takenMg.get(lot.id) ?? 0) }));
  for (const lot of shelf) expect(lot.freeMg).toBeGreaterThanOrEqual(0);
  const id = 1 + input.started.length;
  const own = { id, lineId: pair.lineId, kind: pair.kind, dueDay: null, knitterId, workLeftRatio: 1 };
  return { ...input, shelf, started: [...input.started, { ...own, heldColourIds: held }] };
}

/** Ordered exactly as shown and come home, then begun pair by pair: nothing is to buy any more. */
export function expectNothingMore(input: PlanInput): void {
  const first = plan(input);
  const unsold = first.lists.chosen.uncovered.map(({ yarnColourId }) => yarnColourId);
  let next: PlanInput | null = comeHome(input, first);
  while (next) {
    const now: Plan = plan(next);
    const more = now.placed.toBuy.filter(({ yarnColourId }) => !unsold.includes(yarnColourId));
    expect(more.map(({ yarnColourId, safe }) => [yarnColourId, safe.needMg])).toEqual([]);
    next = startNext(next, now);
  }
}
