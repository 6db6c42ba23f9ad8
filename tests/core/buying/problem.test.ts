import { describe, expect, it } from 'vitest';
import { buyYarn } from '#core/buying/buy-yarn.ts';
import { checkList } from '#core/buying/check-list.ts';
import { answersOf, type BuyingProblem, keptList, narrowProblem, problemKey } from '#core/buying/problem.ts';
import { pack, supplier } from '#tests/support/purchase-cases.ts';

const options = { oneSupplierPerColour: true };
const problem: BuyingProblem = {
  needs: [{ yarnColourId: 1, needMg: 90_000 }],
  suppliers: [supplier(1, 300), supplier(2, 0)],
  offers: [pack(1, 1, 1, 50, 400), pack(2, 2, 1, 50, 700), pack(3, 2, 9, 50, 100)],
  options,
};
const narrow = narrowProblem(problem, []);
const answer = (packs: readonly { offerId: number; packs: number }[], boundCents = 1100) =>
  new Map([[problemKey(narrow), { packs, boundCents }]]);

describe('problemKey', () => {
  it('is the same whatever plays no part, and another where a price is', () => {
    const turned = { ...problem, suppliers: [...problem.suppliers].reverse(), offers: [...problem.offers].reverse() };
    expect(problemKey(narrowProblem(turned, []))).toBe(problemKey(narrow));
    const slower = { ...problem, suppliers: [supplier(1, 300, { deliveryDays: 9, name: 'Other' }), supplier(2, 0)] };
    expect(problemKey(narrowProblem(slower, []))).toBe(problemKey(narrow));
    for (const offers of [
      [pack(1, 1, 1, 50, 401), ...problem.offers.slice(1)],
      [{ ...problem.offers[0]!, breaks: [{ fromPacks: 3, priceCents: 300 }] }, ...problem.offers.slice(1)],
    ])
      expect(problemKey(narrowProblem({ ...problem, offers }, []))).not.toBe(problemKey(narrow));
    const off = [supplier(1, 300, { breaks: [{ fromCents: 100, offRatio: 0.1 }] }), supplier(2, 0)];
    expect(problemKey(narrowProblem({ ...problem, suppliers: off }, []))).not.toBe(problemKey(narrow));
  });
});

describe('keptList', () => {
  it('is the stored list, recounted, with the bound that was found', () => {
    const uncovered = [{ yarnColourId: 5, needMg: 1 }];
    // 2 x 4.00 + 3.00 from shop 1.
    const list = keptList(narrow, uncovered, answer([{ offerId: 1, packs: 2 }]))!;
    expect(list).toMatchObject({ totalCents: 1100, boundCents: 1100, isProvenCheapest: true, uncovered });
    expect(checkList(list, narrow.needs, narrow.suppliers, narrow.offers, options)).toEqual([]);
    const unproven = keptList(narrow, [], answer([{ offerId: 1, packs: 2 }], 1099));
    expect(unproven).toMatchObject({ totalCents: 1100, boundCents: 1099, isProvenCheapest: false });
  });

  it.each([
    ['a pack short', [{ offerId: 1, packs: 1 }]],
    ['of packs that are not sold', [{ offerId: 77, packs: 2 }]],
    ['of half packs', [{ offerId: 1, packs: 2.5 }]],
  ])('is nothing where the stored list is %s', (_, packs) => {
    expect(keptList(narrow, [], answer(packs))).toBeNull();
  });

  it('is nothing where none is stored for this problem', () => {
    expect(keptList(narrow, [], new Map())).toBeNull();
    const other = narrowProblem({ ...problem, needs: [{ yarnColourId: 1, needMg: 90_001 }] }, []);
    expect(keptList(other, [], answer([{ offerId: 1, packs: 2 }]))).toBeNull();
  });
});

describe('answersOf', () => {
  it('gives a plan that asks the same its own lists again', () => {
    const { needs, suppliers, offers } = narrow;
    const list = buyYarn(needs, suppliers, offers, options);
    const more = narrowProblem({ ...problem, needs: [{ yarnColourId: 1, needMg: 140_000 }] }, []);
    const safe = buyYarn(more.needs, more.suppliers, more.offers, options);
    const answers = answersOf({ likely: list, safe, problems: { likely: narrow, safe: more } });
    expect(keptList(narrow, [], answers)).toEqual(list);
    expect(keptList(more, [], answers)).toEqual(safe);
  });
});
