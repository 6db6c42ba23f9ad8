import { afterEach, beforeEach, expect, it } from 'vitest';
import { problemKey } from '#core/buying/problem.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { planRows, readPlan } from '#flows/read-plan.ts';
import { addCoupledSeason } from '#tests/support/coupled-season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addCoupledSeason(workshop, { colours: 4 });
});
afterEach(() => workshop.discard());

it('a write that changes nothing of what is to buy leaves the lists of the last plan, as they would be found anew', async () => {
  const first = await readPlan(workshop, now);
  const keys = [first.plan.lists.problems.likely, first.plan.lists.problems.safe].map(problemKey);
  expect(keys.some((key) => first.input.answers?.has(key))).toBe(false);
  await workshop.store.write('test: a wage', (tx) => setSetting(tx, 'wageCentsPerHour', 1234));
  const second = await readPlan(workshop, now);
  expect(keys.every((key) => second.input.answers?.has(key))).toBe(true);
  const anew = planRows(second.rows, second.today).plan.lists;
  expect(second.plan.lists.likely).toEqual(anew.likely);
  expect(second.plan.lists.safe).toEqual(anew.safe);
  expect(second.plan.lists.chosen).toEqual(anew.chosen);
  // With another amount to buy they answer nothing.
  await workshop.store.write('test: surer', (tx) => setSetting(tx, 'confidence', 0.95));
  const third = await readPlan(workshop, now);
  expect(third.plan.lists.safe).toEqual(planRows(third.rows, third.today).plan.lists.safe);
  expect(third.plan.lists.safe.totalCents).toBeGreaterThan(second.plan.lists.safe.totalCents);
});
