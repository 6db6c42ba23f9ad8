import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Shape } from '#core/batch/lines.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { addOrder, lineOf, openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;
let orderId: number;

/** A pair of feet, 24 and 27 cm long, ordered on top of the season. */
async function orderOddFeet(): Promise<number> {
  const { style, heather, oat, direct, inColours } = await addSeason(workshop);
  return await workshop.store.write('test: odd feet', async (tx) => {
    const foot = await createFoot(tx, { name: 'Wim', person: 'man', leftLengthMm: 240, rightLengthMm: 270 });
    const line = lineOf(style.id, heather.id, {
      ...{ person: null, sizeSystem: null, sizeLabel: null, footId: foot.id },
      ...inColours(heather.id, oat.id),
    });
    return (await addOrder(tx, { outletId: direct.id, dueDay: '2027-02-15', lines: [line] })).id;
  });
}

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  orderId = await orderOddFeet();
});
afterEach(() => workshop.discard());

/** Counts of each foot as a pair of two such feet has them: worked out one by one, not as one odd pair. */
async function countsOfEach() {
  const { plan, input } = await readPlan(workshop, now());
  const { shape } = plan.wanted.pairs.find((pair) => pair.kind.shape.right !== null)!.kind;
  const countsOf = (foot: Shape['foot']) => {
    const [main, cuff] = specifyWithWorking({ ...shape, foot, right: null }, input.hands[0]!).spec.pieces;
    return { castOn: main!.castOnStitches, rows: main!.totalRows, cuff: cuff!.castOnStitches };
  };
  return { left: countsOf(shape.foot), right: countsOf(shape.right!) };
}

const both = (left: number, right: number, unit = '') => `left ${left}${unit},<br/>right ${right}${unit}`;
const textOf = async (path: string) => (await app.request(path)).text();

describe('a pair whose feet differ', () => {
  it('has both counts on the page of the batch', async () => {
    const { left, right } = await countsOfEach();
    expect(right.castOn).toBeGreaterThan(left.castOn);
    expect(right.rows).toBeGreaterThan(left.rows);
    const html = await textOf('/batch');
    expect(html).toContain(both(left.castOn, right.castOn));
    expect(html).toContain(both(left.rows, right.rows));
    // The three pairs with like feet have one count.
    expect(html.match(/<br\/>right /g)).toHaveLength(left.cuff === right.cuff ? 2 : 3);
  });

  it('has both where its counts are fixed, and on the page of what was started', async () => {
    const { left, right } = await countsOfEach();
    const looked = await textOf('/batch/start');
    expect(looked).toContain(both(left.castOn, right.castOn));
    expect(looked).toContain(both(left.rows, right.rows));
    const revision = /name="revision" value="(\d+)"/.exec(looked)![1]!;
    const started = await postForm(app, '/batch/start', { name: 'Odd', order: [String(orderId)], revision });
    const html = await textOf(started.headers.get('location')!);
    expect(html).toContain(both(left.castOn, right.castOn));
    expect(html).toContain(both(left.rows, right.rows));
  });

  it('has both in the list of knitting cards and on the page of its order', async () => {
    const { left, right } = await countsOfEach();
    const list = await textOf('/cards');
    expect(list).toContain(`left ${left.castOn}, right ${right.castOn} stitches`);
    expect(list).toContain(`left ${left.rows}, right ${right.rows} rows`);
    expect(list.match(/left \d+, right/g)).toHaveLength(2);
    const order = await textOf(`/orders/${orderId}`);
    expect(order).toContain(both(left.castOn, right.castOn, ' sts'));
    expect(order).toContain(both(left.rows, right.rows));
    expect(await textOf('/orders/1')).not.toMatch(/left \d/);
  });
});
