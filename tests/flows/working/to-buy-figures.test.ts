import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readPlan } from '#flows/read-plan.ts';
import { listPage } from '#flows/working/buying-pages.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOrder, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
});
afterEach(() => workshop.discard());

describe('toBuyWorking', () => {
  it('tells pairs apart that are for one size and outlet and take different amounts', async () => {
    const { style, direct, heather, oat, inColours } = await addSeason(workshop);
    await workshop.store.write('test: two of one size', async (tx) => {
      for (const cuff of [oat.id, heather.id]) {
        const line = lineOf(style.id, oat.id, { sizeLabel: '40', ...inColours(oat.id, cuff) });
        await addOrder(tx, { outletId: direct.id, dueDay: '2027-02-01', lines: [line] });
      }
    });
    const current = await readPlan(workshop, new Date('2026-11-25T12:00:00Z'));
    const names = listPage(oat.id, current)!.figure!.inputs.map(({ rule }) => rule.name);
    const ofSize40 = names.filter((name) => name.includes('40'));
    expect(ofSize40).toHaveLength(2);
    expect(new Set(ofSize40).size).toBe(2);
    // The season has orders 1 and 2.
    expect(ofSize40.map((name) => Number(/order (\d+)/.exec(name)?.[1])).sort()).toEqual([3, 4]);
    expect(ofSize40.filter((name) => name.includes('Heather'))).toHaveLength(1);
  });
});
