import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { babyBootie } from '#core/styles/shipped/baby-bootie.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { createMaterial, createStyle, createStyleMaterial } from '#db/stores/styles.ts';
import { priceOfKind } from '#flows/pricing/price-of-pair.ts';
import { readWaysDown } from '#flows/pricing/ways-down.ts';
import { readPlan } from '#flows/read-plan.ts';
import { addSeason } from '#tests/support/season.ts';
import {
  addLot,
  addOffer,
  addYarn,
  addYarnColour,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

const now = new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let season: Awaited<ReturnType<typeof addSeason>>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  season = await addSeason(workshop);
});
afterEach(() => workshop.discard());

// Hilda's pair has another colour for the cuff.
async function ways(priceCents = 4000) {
  const plan = await readPlan(workshop, now);
  const lineId = plan.rows.lines.find((line) => line.orderId === season.forHilda.id)!.id;
  const kind = plan.kindOfLine.get(lineId)!;
  const outlet = plan.rows.outlets.find((each) => each.id === season.direct.id)!;
  return { plan, kind, ...readWaysDown(plan, kind, outlet, priceCents) };
}

describe('readWaysDown', () => {
  it('says what each saves and what an hour then earns at the same price', async () => {
    const { plan, kind, ways: found } = await ways();
    const before = priceOfKind(plan, kind).cost;
    expect(found.map(({ way }) => way)).toContain('no cuff');
    for (const { cost, savingCents, row } of found) {
      expect(savingCents).toBe(before.totalCents - cost.totalCents);
      expect(savingCents).toBeGreaterThan(0);
      // 40.00, no fees: less all but the work, over the hours that the labour at 12.00 stands for.
      const hours = cost.labourCents / 1200;
      expect(Math.abs(row.hourWorthCents! - (4000 - cost.totalCents + cost.labourCents) / hours)).toBeLessThan(2);
    }
    const savings = found.map(({ savingCents }) => savingCents);
    expect([...savings].sort((a, b) => b - a)).toEqual(savings);
  });

  it('takes a cheaper yarn of like gauge, and leaves one without a price out', async () => {
    await workshop.store.write('test: yarns', async (tx) => {
      const cheap = await addYarn(tx, { name: 'Moor Bulky' });
      const grey = await addYarnColour(tx, { yarnId: cheap.id, name: 'Grey' });
      await addOffer(tx, { yarnColourId: grey.id, priceCents: 100 });
    });
    const { ways: found } = await ways();
    const yarn = found.find(({ way }) => way === 'yarn');
    expect(yarn).toMatchObject({ name: 'Moor Bulky' });
    expect(yarn!.savingCents).toBeGreaterThan(500);
  });

  it('takes given yarn that nobody sells only where there is enough of it for the pair', async () => {
    await workshop.store.write('test: given yarn', async (tx) => {
      for (const [name, balls] of [
        ['One ball', [47_000]],
        ['Three balls', [60_000, 60_000, 60_000]],
      ] as const) {
        const yarn = await addYarn(tx, { name });
        const colour = await addYarnColour(tx, { yarnId: yarn.id, name: 'Grey' });
        await addLot(tx, balls, { yarnColourId: colour.id, paidCents: 0 });
      }
    });
    const { ways: found, leftOut } = await ways();
    expect(found.filter(({ way }) => way === 'yarn').map(({ name }) => name)).toEqual(['Three balls']);
    const reason = 'There is too little of it for a pair, and no shop sells it.';
    expect(leftOut).toContainEqual({ way: 'yarn', name: 'One ball', reason });
  });

  it('leaves out with the reason what cannot be knitted or saves nothing', async () => {
    await workshop.store.write('test: more', async (tx) => {
      await createStyle(tx, { name: 'Baby bootie', isShipped: true, body: babyBootie });
      const silk = await addYarn(tx, { name: 'Dear Bulky' });
      const red = await addYarnColour(tx, { yarnId: silk.id, name: 'Red' });
      await addOffer(tx, { yarnColourId: red.id, priceCents: 9000 });
    });
    const { ways: found, leftOut } = await ways();
    expect(leftOut).toContainEqual({ way: 'yarn', name: 'Dear Bulky', reason: 'It saves nothing.' });
    expect(found.some(({ name }) => name === 'Dear Bulky')).toBe(false);
    for (const { reason } of leftOut) expect(reason).toMatch(/\.$/);
  });

  it('does not count as saved what another style was never given: a grip line goes with the pair', async () => {
    await workshop.store.write('test: a like style without a grip', async (tx) => {
      await createStyle(tx, { name: 'Slipper too', isShipped: false, body: twoPieceSlipper });
      const { id: materialId } = await createMaterial(tx, { name: 'Grip line', eachCents: 105 });
      await createStyleMaterial(tx, { styleId: season.style.id, materialId, perPair: 1 });
    });
    const { ways: found, leftOut } = await ways();
    // The same slipper under another name saves nothing; the grip alone made 1.05 of it.
    expect(found.some(({ way }) => way === 'style')).toBe(false);
    expect(leftOut).toContainEqual({ way: 'style', name: 'Slipper too', reason: 'It saves nothing.' });
    for (const { kept } of found) expect(kept).toEqual([]);
  });
});
