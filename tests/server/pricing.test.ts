import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents, formatMinutes } from '#core/shared/format.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { readPairPrice, readPrices } from '#flows/pricing/read-prices.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { seenText } from '#server/forms/settings.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';
import { hourSettings } from '#views/pages/pricing/hour.tsx';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const sample = () => putSample(workshop, '2026-11-25');
const outletForm = { name: 'Harbour day', kind: 'fair', priceRule: 'markup', markup: '20', taxWay: 'included' };

describe('GET /pricing', () => {
  it('shows each kind of pair with parts that sum to what it costs', async () => {
    await sample();
    const { sizes } = await readPrices(workshop, now());
    const html = await textAt('/pricing');
    const pairs = sizes.flatMap((size) => size.pairs);
    expect(pairs.length).toBeGreaterThan(15);
    for (const { cost, lineId } of pairs) {
      const { yarnCents, materialsCents, labourCents, overheadCents, totalCents } = cost;
      expect(yarnCents + materialsCents + labourCents + overheadCents).toBe(totalCents);
      expect(html).toContain(formatCents(totalCents, 'EUR'));
      expect(html).toContain(`/working/pricing/cost/${lineId}`);
    }
  });

  it('says plainly that labour is not counted while no wage was named', async () => {
    await sample();
    const before = await textAt('/pricing');
    expect(before).not.toContain('Your time is not counted yet');
    // The same word as in the workings.
    expect(before).toMatch(/<th[^>]*>Work</);
    await workshop.store.write('test: no wage', (tx) => setSetting(tx, 'wageCentsPerHour', 0));
    const html = await textAt('/pricing');
    expect(html).toContain('Your time is not counted yet');
    expect(html).toContain('href="/pricing/hour"');
    expect(html).not.toMatch(/<th[^>]*>Work</);
  });

  it('says how to begin without orders, and offers a grip line where there is none', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const html = await textAt('/pricing');
    expect(html).toContain('With the first order');
    expect(html).toContain('Smooth knitted soles slip on hard floors');
    await postForm(app, '/pricing/materials', { styleId: '1', name: 'Grip line', each: '0,90', perPair: '1' });
    expect(await textAt('/pricing')).not.toContain('Smooth knitted soles');
  });

  it('shows cost and worth without a price where slippers are given', async () => {
    await sample();
    await workshop.store.write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    const html = await textAt('/pricing');
    expect(html).toContain('What a gift costs and is worth');
    expect(html).not.toContain('What to charge');
  });
});

describe('GET /pricing/pair/:lineId', () => {
  it('shows the parts, both lines at each outlet and the minutes', async () => {
    await sample();
    const { pair } = await readPairPrice(workshop, now(), 1);
    const html = await textAt('/pricing/pair/1');
    expect(html).toContain(formatMinutes(pair.minutes));
    for (const { outlet, row } of pair.prices) {
      expect(html).toContain(outlet.name);
      if (row.getsMoneyBackCents !== null) expect(html).toContain(formatCents(row.getsMoneyBackCents, 'EUR'));
      if (row.paysWageCents !== null) expect(html).toContain(formatCents(row.paysWageCents, 'EUR'));
    }
    expect(html).toMatch(/costs €[\d.]+, worth €[\d.]+ with the time in it/);
  });

  it('says what an hour earns at a price tried, and a loss only below the money back', async () => {
    await sample();
    const { pair } = await readPairPrice(workshop, now(), 1);
    const byOrder = pair.prices.find(({ outlet }) => outlet.kind === 'order')!;
    const outlay = pair.cost.totalCents - pair.cost.labourCents;
    expect(byOrder.row.getsMoneyBackCents).toBe(outlay);
    const tryAt = (cents: number) => textAt(`/pricing/pair/1?price=${cents / 100}&at=${byOrder.outlet.id}`);
    // No fees and no tax by order: what is left is the price, and an hour earns (price - outlay) / hours.
    const hour = (2000 - outlay) / (pair.minutes / 60);
    expect(await tryAt(2000)).toContain(`an hour earns ${formatCents(hour, 'EUR')}`);
    const triedIn = (html: string) => /<p id="tried".*?<\/p>/.exec(html)![0];
    expect(triedIn(await tryAt(outlay))).not.toContain('a loss');
    expect(await tryAt(outlay)).toContain('below your wage');
    expect(await tryAt(outlay - 1)).toContain(`a loss of ${formatCents(1, 'EUR')} a pair`);
    expect(await tryAt(pair.cost.totalCents)).toContain('pays your wage');
  });

  it('takes a decimal comma, and says what to do with anything else', async () => {
    await sample();
    expect((await app.request('/pricing/pair/1?price=45%2C50&at=1')).status).toBe(200);
    expect(await textAt('/pricing/pair/1?price=45%2C50&at=1')).toContain('At €45.50');
    const faulty = await app.request('/pricing/pair/1?price=dear&at=1');
    const html = await faulty.text();
    expect(faulty.status).toBe(422);
    expect(html).toContain('value="dear"');
    expect(html).toContain('Enter a price to try, like 45.');
  });

  it('prices a pair that is only asked for, as an order for it would be', async () => {
    await sample();
    const { rows } = await readPlan(workshop, now());
    const asked = rows.orders.find((order) => order.state === 'asked')!;
    const line = rows.lines.find((each) => each.orderId === asked.id)!;
    const { pair } = await readPairPrice(workshop, now(), line.id);
    expect(pair.cost.totalCents).toBeGreaterThan(3000);
    expect((await app.request(`/pricing/pair/${line.id}`)).status).toBe(200);
  });

  it('says why a way down was left out, in one sentence with its name', async () => {
    await sample();
    const html = await textAt('/pricing/pair/1');
    const reasons = [...html.matchAll(/<li>\s*((?:In|As) [^<]*)<\/li>/g)].map((match) => match[1]!);
    expect(reasons.length).toBeGreaterThan(1);
    for (const reason of reasons) expect(reason).toMatch(/: [a-z].*\.\s*$/);
  });

  it('answers 404 for a pair that is not here', async () => {
    await sample();
    expect((await app.request('/pricing/pair/999')).status).toBe(404);
  });
});

describe('outlets', () => {
  it('are added after the others, with amounts and percentages as typed', async () => {
    await beginOwn(workshop, { purpose: 'sell' });
    const response = await postForm(app, '/pricing/outlets', {
      ...outletForm,
      fee: '1,75',
      feeFixed: '0.30',
      tax: '19',
      ending: '50',
      deposit: '30',
    });
    expect(response.status).toBe(303);
    const { outlets } = await readWorkshop(workshop);
    expect(outlets.at(-1)).toMatchObject({ name: 'Harbour day', rank: 3, feeFixedCents: 30, endingCents: 50 });
    expect(outlets.at(-1)!.feeRatio).toBeCloseTo(0.0175, 12);
    expect(outlets.at(-1)!.taxRatio).toBeCloseTo(0.19, 12);
    const html = await textAt('/pricing/outlets/4');
    for (const value of ['1.75', '0.30', '19', '50', '30', '20']) expect(html).toContain(`value="${value}"`);
  });

  it('read only the box of their rule', async () => {
    const fixed = { ...outletForm, priceRule: 'fixed', fixedPrice: '45', markup: 'nonsense', margin: '99' };
    expect((await postForm(app, '/pricing/outlets', fixed)).status).toBe(303);
    expect((await readWorkshop(workshop)).outlets[0]).toMatchObject({ fixedPriceCents: 4500, priceRatio: 0 });
  });

  it.each([
    [{ name: '' }, 'name'],
    [{ kind: 'market' }, 'kind'],
    [{ priceRule: 'margin', margin: '100' }, 'margin'],
    [{ priceRule: 'fixed', fixedPrice: '' }, 'fixedPrice'],
    [{ markup: '-1' }, 'markup'],
    [{ fee: '100' }, 'fee'],
    [{ ending: '100' }, 'ending'],
    [{ tax: 'much' }, 'tax'],
  ])('with %o are refused at %s, what was typed kept', async (change, path) => {
    const response = await postForm(app, '/pricing/outlets', { ...outletForm, ...change });
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain(`href="#field-${path}"`);
    if (!('name' in change)) expect(html).toContain('value="Harbour day"');
    expect((await readWorkshop(workshop)).outlets).toEqual([]);
  });

  it('close and open again, and tell who comes second', async () => {
    await postForm(app, '/pricing/outlets', outletForm);
    expect((await postForm(app, '/pricing/outlets/1/close', { version: '1' })).status).toBe(303);
    expect((await readWorkshop(workshop)).outlets[0]!.isClosed).toBe(true);
    expect(await textAt('/pricing')).toContain('Closed:');
    expect((await postForm(app, '/pricing/outlets/1', { ...outletForm, version: '1' })).status).toBe(409);
    expect((await postForm(app, '/pricing/outlets/1/open', { version: '2' })).status).toBe(303);
    expect((await readWorkshop(workshop)).outlets[0]!.isClosed).toBe(false);
    expect((await postForm(app, '/pricing/outlets', outletForm)).status).toBe(422);
    expect((await app.request('/pricing/outlets/9')).status).toBe(404);
  });
});

describe('other materials', () => {
  it('go into the cost of every pair of their style, and out again', async () => {
    await sample();
    const before = (await readPairPrice(workshop, now(), 1)).pair.cost;
    expect(
      (await postForm(app, '/pricing/materials', { styleId: '1', name: 'Button', each: '1.25', perPair: '2' })).status,
    ).toBe(303);
    const after = (await readPairPrice(workshop, now(), 1)).pair.cost;
    // two buttons at 1.25
    expect(after.materialsCents - before.materialsCents).toBe(250);
    const use = (await readWorkshop(workshop)).styleMaterials.at(-1)!;
    const changed = await postForm(app, `/pricing/materials/${use.id}`, {
      name: 'Button',
      each: '1',
      perPair: '2',
      version: '1',
    });
    expect(changed.status).toBe(303);
    expect((await readPairPrice(workshop, now(), 1)).pair.cost.materialsCents - before.materialsCents).toBe(200);
    await postForm(app, `/pricing/materials/${use.id}/remove`, {});
    expect((await readPairPrice(workshop, now(), 1)).pair.cost).toEqual(before);
  });

  it('are entered for every style at once, and once in each', async () => {
    await sample();
    const form = { styleId: 'every', name: 'Button', each: '1.25', perPair: '2' };
    expect((await postForm(app, '/pricing/materials', { ...form, styleId: '2' })).status).toBe(303);
    expect((await postForm(app, '/pricing/materials', form)).status).toBe(303);
    const { styles, styleMaterials, materials } = await readWorkshop(workshop);
    const button = materials.find(({ name }) => name === 'Button')!;
    const used = styleMaterials.filter((use) => use.materialId === button.id).map(({ styleId }) => styleId);
    expect(used.sort((a, b) => a - b)).toEqual(styles.map(({ id }) => id).sort((a, b) => a - b));
    expect(await (await postForm(app, '/pricing/materials', form)).text()).toContain('on the list of every style');
  });

  it('are refused twice in a style, at another price, and without an amount', async () => {
    await sample();
    const post = async (form: Record<string, string>) => {
      const response = await postForm(app, '/pricing/materials', { styleId: '1', perPair: '1', ...form });
      return [response.status, await response.text()] as const;
    };
    expect((await post({ name: 'label', each: '0.15' }))[1]).toContain('on the list of this style already');
    expect((await post({ name: 'Label', each: '0.20' }))[1]).toContain('at another price already');
    expect(await post({ name: 'Bow', each: 'cheap' })).toEqual([422, expect.stringContaining('value="cheap"')]);
  });
});

describe('what an hour costs', () => {
  it('is the wage and the running costs over the hours of a month', async () => {
    const { settings } = await readPlan(workshop, now());
    const response = await postForm(app, '/pricing/hour', {
      seen: seenText(hourSettings, settings),
      wageCentsPerHour: '12,50',
      runningCostsCentsPerMonth: '60',
      plannedHoursPerMonth: '40',
      taxNote: 'No tax is charged.',
    });
    expect(response.status).toBe(303);
    // 60.00 over 40 hours are 1.50; with the wage of 12.50 an hour costs 14.00
    expect(await textAt('/pricing/hour')).toContain('An hour costs €14.00');
  });

  it('refuses what is no amount and keeps it', async () => {
    const response = await postForm(app, '/pricing/hour', {
      wageCentsPerHour: 'a lot',
      runningCostsCentsPerMonth: '-1',
      plannedHoursPerMonth: '0',
      taxNote: '',
    });
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain('value="a lot"');
    for (const path of ['wageCentsPerHour', 'runningCostsCentsPerMonth', 'plannedHoursPerMonth']) {
      expect(html).toContain(`href="#field-${path}"`);
    }
  });

  it('adds up what was paid over a year to a month', async () => {
    await postForm(app, '/pricing/expenses', { what: 'Table', day: '2026-11-01', amount: '45' });
    await postForm(app, '/pricing/expenses', { what: 'Tags', day: '2026-03-01', amount: '15' });
    await postForm(app, '/pricing/expenses', { what: 'Long ago', day: '2024-03-01', amount: '500' });
    // (45 + 15) / 12 = 5.00
    expect(await textAt('/pricing/hour')).toContain('these come to €5.00 a month');
    await postForm(app, '/pricing/expenses/1/remove', { version: '1' });
    expect((await readWorkshop(workshop)).expenses).toHaveLength(2);
    const faulty = await postForm(app, '/pricing/expenses', { what: 'Bags', day: 'today', amount: '3' });
    expect(faulty.status).toBe(422);
    expect(await faulty.text()).toContain('value="Bags"');
  });
});

describe('the pages of the sample season', () => {
  it('all answer', async () => {
    await sample();
    const paths = [
      ...['/', '/orders', '/batch', '/buying', '/shelf', '/pricing', '/pricing/sheet', '/pricing/hour', '/sizing'],
      ...['/knitters', '/knitters/1', '/knitters/2', '/knitters/swatches/1', '/knitters/new', '/settings', '/try'],
    ];
    for (const path of paths) expect([path, (await app.request(path)).status]).toEqual([path, 200]);
    const { rows } = await readPlan(workshop, now());
    for (const line of rows.lines) {
      for (const figure of [`/pricing/pair/${line.id}`, `/working/pricing/cost/${line.id}`]) {
        expect([figure, (await app.request(figure)).status]).toEqual([figure, 200]);
      }
    }
  }, 60_000);
});
