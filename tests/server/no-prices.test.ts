import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { planJson } from '#commands/plan-json.ts';
import { planText } from '#commands/plan-text.ts';
import { createOffer, createSupplier } from '#db/stores/buying.ts';
import { changeOutlet } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

/** The workshop of somebody who only tried one pair and kept it: no shop, no wage, nothing paid. */
beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  const tried = { person: 'woman', size: '38', yarn: 'bulky', stitches: '', rows: '' };
  expect((await postForm(app, '/try/keep', tried)).headers.get('location')).toBe('/orders/1');
});
afterEach(() => workshop.discard());

const mainOf = async (path: string) => /<main[\s\S]*<\/main>/.exec(await (await app.request(path)).text())![0];
/** What is said in words: amounts, without boxes to type in. */
const wordsOf = async (path: string) => (await mainOf(path)).replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');
const text = async () => {
  const plan = await readPlan(workshop, now());
  return planText(planJson(plan), plan.settings.unitSystem);
};

describe('without a price of the yarn and without a wage', () => {
  it.each([
    ['/', 'Not known yet what the yarn to buy costs'],
    ['/orders/1', 'Not known yet what is to pay: a pair has no price'],
    ['/orders/lines/1', 'What a pair costs enter what the yarn costs, under Yarn to buy not known yet'],
    ['/pricing', 'What a pair costs is not known yet'],
    ['/pricing/pair/1', 'What a pair of woman EU 38 costs is not known yet'],
    ['/pricing/sheet', 'not known yet'],
  ])('%s says that it is not known, and shows no amount of nothing', async (path, words) => {
    const said = await wordsOf(path);
    expect(said).toContain(words);
    // What is nothing, and known to be: running costs that nobody entered, and other materials.
    const left = said.replace(/€0\.00 running costs in an hour|€0\.00 €0\.00 3 h 36/g, '');
    expect(left).not.toContain('€0.00');
  });

  it('leads once, at the top, by the shop to the price of the colour that has none', async () => {
    const { yarnColourId } = (await readWorkshop(workshop)).lineColours[0]!;
    const page = await mainOf('/pricing');
    expect(page).toContain(`href="/buying/prices?colour=${yarnColourId}"`);
    expect((await wordsOf('/pricing')).match(/enter what the yarn costs/g)).toHaveLength(1);
    const asked = await app.request(`/buying/prices?colour=${yarnColourId}`);
    expect(asked.headers.get('location')).toBe(`/buying/shops/new?colour=${yarnColourId}`);
    expect(await mainOf(asked.headers.get('location')!)).toContain('is asked next');
    const shop = { name: 'Hill Wool', deliveryDays: '3', colour: String(yarnColourId) };
    const added = await postForm(app, '/buying/shops/new', shop);
    expect(await mainOf(added.headers.get('location')!)).toMatch(
      new RegExp(`<option value="colour-${yarnColourId}" selected`),
    );
  });

  it('says the same in the plan as text', async () => {
    const said = await text();
    expect(said).toContain('Most likely list: not known yet');
    expect(said).toMatch(/woman EU 38 +not known .* not known +By order +not known/);
    expect(said).toContain('What the pairs cost is not known yet.');
  });

  it('asks a fixed price all the same', async () => {
    const [outlet] = (await readWorkshop(workshop)).outlets;
    await workshop.store.write('test', (tx) =>
      changeOutlet(tx, outlet!.id, { priceRule: 'fixed', fixedPriceCents: 5900 }),
    );
    const said = await wordsOf('/orders/1');
    expect(said).toContain('€59.00');
    expect(said).not.toContain('earned in an hour');
  });

  it('knows costs and prices once a shop or an hour has one', async () => {
    await workshop.store.write('test', (tx) => setSetting(tx, 'wageCentsPerHour', 1000));
    expect(await wordsOf('/pricing')).toContain('A pair costs me €');
    const { yarnColourId } = (await readWorkshop(workshop)).lineColours[0]!;
    await workshop.store.write('test', async (tx) => {
      await setSetting(tx, 'wageCentsPerHour', 0);
      const { id: supplierId } = await createSupplier(tx, {
        ...{ name: 'Quay Yarns', shippingCents: 0, freeFromCents: null, minimumCents: 0, deliveryDays: 3, rank: 0 },
      });
      const pack = { ballMg: 100_000, ballsPerPack: 1, priceCents: 700 };
      await createOffer(tx, { supplierId, yarnColourId, ...pack });
    });
    expect(await wordsOf('/pricing')).toContain('A pair costs me €');
    expect(await wordsOf('/orders/1')).not.toContain('Not known yet');
  });
});
