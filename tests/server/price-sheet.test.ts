import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents, formatCentsForInput } from '#core/shared/format.ts';
import { changeOutlet, createOutlet, createPriceGroup } from '#db/stores/pricing.ts';
import { renameStyle } from '#db/stores/styles.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { readSheet, readSheetChoices, type SheetWish, togetherByPrice } from '#flows/pricing/sheet.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { putSample } from '#tests/support/sample.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

async function get(path: string, fields: Record<string, string> = {}) {
  const response = await app.request(`${path}?${new URLSearchParams(fields)}`);
  return { status: response.status, html: await response.text(), headers: response.headers };
}
const sheetAt = (fields: Record<string, string> = {}) => get('/pricing/sheet', fields);
const textOf = (html: string) =>
  html
    .replace(/<[^>]+>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ')
    .trim();
const sheetText = (html: string) => textOf(/<article class="price-sheet[\s\S]*?<\/article>/.exec(html)![0]);

const chosen = {
  ...{ paper: 'a4', type: 'large', outlet: '1', name: '' },
  ...{ 'run-woman': 'yes', 'style-1': 'yes', 'yarn-1': 'yes', 'system-EU': 'yes', 'system-UK': 'yes' },
};
const wish: SheetWish = { outletId: 1, runs: ['woman'], styleIds: [1], yarns: ['1'], systems: ['EU', 'UK'] };

describe('GET /pricing/sheet', () => {
  it('begins with the fair, the sizes, style and yarn that were ordered most', async () => {
    await putSample(workshop, '2026-11-25');
    const { html, status } = await sheetAt();
    expect(status).toBe(200);
    expect(html).toContain('<h1>Prices, Winter fair</h1>');
    const text = sheetText(html);
    for (const words of ['Women', 'Men', 'Children', 'Two-piece slipper', 'from Wed 25 Nov 2026']) {
      expect(text).toContain(words);
    }
    expect(textOf(html)).toMatch(/Two-piece slipper, Harbour Bulky: [A-Z]/);
    // Whose feet were measured is not for the stall, nor is what a pair costs.
    expect(html).not.toContain('Theo');
    expect(text).not.toMatch(/cost|wage|hour/i);
  });

  it('shows what a pair of the size, style and usual colours is sold for, and nothing else', async () => {
    const { fair } = await addSeason(workshop);
    const plan = await readPlan(workshop, now());
    // Two pairs in Heather and one with an Oat cuff were ordered: Heather is the usual one, and line 1 is its 38.
    const { priceCents } = priceOfPair(plan, plan.kindOfLine.get(1)!, fair.id);
    const text = sheetText((await sheetAt({ ...chosen, outlet: String(fair.id) })).html);
    expect(text).toContain(`EU 38 UK 5.5, foot 24.0 cm 5.5 24.0 cm ${formatCents(priceCents!, 'EUR')}`);
  });

  it('prints a row for each size, or one for neighbours of one price', async () => {
    const { fair, style } = await addSeason(workshop);
    await workshop.store.write('test: one price', (tx) =>
      // EU 36 to 38 are 226.7 to 240 mm
      createPriceGroup(tx, {
        outletId: fair.id,
        styleId: style.id,
        name: 'middle',
        fromMm: 226,
        toMm: 241,
        priceCents: 3990,
      }),
    );
    const apart = sheetText((await sheetAt(chosen)).html);
    for (const size of ['EU 36', 'EU 37', 'EU 38']) expect(apart).toContain(size);
    const together = sheetText((await sheetAt({ ...chosen, together: 'yes' })).html);
    // UK 3.77 and 5.35 are nearest to 4 and 5.5.
    expect(together).toContain('EU 36–38 UK 4–5.5, foot 22.7–24.0 cm 4–5.5 22.7–24.0 cm €39.90');
    expect(together).not.toContain('EU 37');
  });

  it('has the price of a second where it is wished', async () => {
    const { fair } = await addSeason(workshop);
    const plan = await readPlan(workshop, now());
    const second = priceOfPair(plan, plan.kindOfLine.get(1)!, fair.id, { quality: 'second' }).priceCents!;
    const words = `second ${formatCents(second, 'EUR')}`;
    expect(sheetText((await sheetAt({ ...chosen, second: 'yes' })).html)).toContain(words);
    expect(sheetText((await sheetAt(chosen)).html)).not.toContain('second');
  });

  it('says what tax does to the prices, and the workshop’s own line on it', async () => {
    const { fair } = await addSeason(workshop);
    await workshop.store.write('test: tax', async (tx) => {
      await changeOutlet(tx, fair.id, { taxRatio: 0.19, isTaxIncluded: true });
      await setSetting(tx, 'taxNote', 'Small trader, see the sign.');
    });
    const text = sheetText((await sheetAt(chosen)).html);
    expect(text).toContain('19% tax is in these prices.');
    expect(text).toContain('Small trader, see the sign.');
    await workshop.store.write('test: tax added', (tx) => changeOutlet(tx, fair.id, { isTaxIncluded: false }));
    expect(sheetText((await sheetAt(chosen)).html)).toContain('19% tax comes on top.');
  });

  it('for a shop that buys: wholesale price, least pairs, twice as much to ask', async () => {
    await addSeason(workshop);
    const shop = await workshop.store.write('test: shop', (tx) =>
      createOutlet(tx, {
        ...{ name: 'Corner shop', kind: 'shop', rank: 3, priceRule: 'fixed', priceRatio: 0, fixedPriceCents: 2210 },
        ...{ terms: 'wholesale', leastPairs: 6 },
      }),
    );
    const { html } = await sheetAt({ ...chosen, outlet: String(shop.id) });
    expect(html).toContain('<h1>Wholesale prices for Corner shop</h1>');
    // 22.10 wholesale, twice that is 44.20
    expect(sheetText(html)).toContain('€22.10 suggested €44.20');
    expect(sheetText(html)).toContain('An order is of 6 pairs or more');
  });

  it('on sale or return: the shop’s price, what it keeps, what is the maker’s', async () => {
    await addSeason(workshop);
    const shop = await workshop.store.write('test: shop', (tx) =>
      createOutlet(tx, {
        ...{ name: 'Quay shop', kind: 'shop', rank: 3, priceRule: 'fixed', priceRatio: 0, fixedPriceCents: 4450 },
        ...{ terms: 'sale or return', shopShareRatio: 0.35 },
      }),
    );
    const { html } = await sheetAt({ ...chosen, outlet: String(shop.id) });
    // 35 % of 44.50 is 15.575, half up 15.58; 44.50 - 15.58 = 28.92
    expect(sheetText(html)).toContain('€44.50 shop €15.58, maker €28.92');
    expect(sheetText(html)).toContain('The shop keeps 35%');
  });

  it('has the workshop’s own bands, each for the feet it fits', async () => {
    await putSample(workshop, '2026-11-25');
    const { 'run-woman': _, ...rest } = chosen;
    const text = sheetText((await sheetAt({ ...rest, 'run-bands': 'yes' })).html);
    // 238 to 254 mm: EU 37.7 to 40.1, UK 5.11 to 7.0
    expect(text).toContain('Woman M EU 38–40 UK 5.5–7, foot 23.8–25.4 cm');
  });

  it('says what is missing before there is anything to price', async () => {
    expect((await sheetAt()).html).toContain('A price sheet needs an outlet that sells');
  });

  it('prints no prices where slippers are given', async () => {
    await addSeason(workshop);
    await workshop.store.write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    const { html, status } = await sheetAt(chosen);
    expect(status).toBe(200);
    expect(html).toContain('no prices to print');
    expect(html).not.toContain('€');
    expect((await get('/pricing/sheet/prices.csv', chosen)).html).not.toContain('€');
  });

  it.each([
    [{ outlet: '99' }, 'outlet', 'Choose the outlet that the prices are for'],
    [{ outlet: '' }, 'outlet', 'Choose the outlet that the prices are for'],
    [{ 'run-woman': '' }, 'run-woman', 'Choose at least one run of sizes, like Women.'],
    [{ 'style-1': '' }, 'style-1', 'Choose at least one style.'],
    [{ 'yarn-1': '' }, 'yarn-1', 'Choose at least one yarn.'],
    [{ type: 'tiny' }, 'type', 'Choose large or usual type.'],
    [{ paper: 'A0' }, 'paper', 'Choose A4 or US letter.'],
    [{ name: 'x'.repeat(61) }, 'name', 'Use at most 60 letters'],
  ])('%o is refused at %s with what to do, the rest kept', async (fields, path, words) => {
    await addSeason(workshop);
    const { html, status } = await sheetAt({ ...chosen, name: 'Harbour Lane', ...fields });
    expect(status).toBe(422);
    expect(html).toContain(`href="#field-${path}"`);
    expect(html).toContain(words);
    expect(html).not.toContain('class="price-sheet');
    if (path !== 'name') expect(html).toContain('value="Harbour Lane"');
    expect((await get('/pricing/sheet/prices.csv', { ...chosen, ...fields })).status).toBe(422);
  });

  it('takes six columns and no more', async () => {
    await putSample(workshop, '2026-11-25');
    const { styles } = readSheetChoices(await readPlan(workshop, now()));
    const all = Object.fromEntries(styles.slice(0, 4).map(({ id }) => [`style-${id}`, 'yes']));
    const six = { ...chosen, ...all, [`style-${styles[3]!.id}`]: '', 'yarn-2': 'yes' };
    expect((await sheetAt(six)).status).toBe(200);
    const { html, status } = await sheetAt({ ...six, ...all });
    expect(status).toBe(422);
    expect(html).toContain('4 styles in 2 yarns are 8 columns');
  });
});

describe('GET /pricing/sheet/prices.csv', () => {
  it('has every size in a row, with plain amounts', async () => {
    const { fair } = await addSeason(workshop);
    const { html, headers } = await get('/pricing/sheet/prices.csv', { ...chosen, together: 'yes' });
    expect(headers.get('content-type')).toContain('text/csv');
    const lines = html.trim().split('\r\n');
    // Women's EU 35 to 43.
    expect(lines).toHaveLength(10);
    expect(lines[0]).toMatch(
      /^for,size,EU,UK,foot from cm,foot to cm,"Style \d+, Fell Bulky: price EUR",.*second EUR"$/,
    );
    const plan = await readPlan(workshop, now());
    const kind = plan.kindOfLine.get(1)!;
    const amounts = (['good', 'second'] as const).map((quality) =>
      formatCentsForInput(priceOfPair(plan, kind, fair.id, { quality }).priceCents!, 'EUR'),
    );
    expect(lines[4]).toBe(`woman,,38,5.5,24,24,${amounts.join(',')}`);
  });

  it('keeps a spreadsheet from taking names for formulas', async () => {
    const { style } = await addSeason(workshop);

    await workshop.store.write('test: a formula', (tx) => renameStyle(tx, style.id, '=1+1'));
    const { html } = await get('/pricing/sheet/prices.csv', chosen);
    expect(html.split('\r\n')[0]).toContain(`"'=1+1, Fell Bulky: price EUR"`);
  });
});

describe('togetherByPrice', () => {
  it('joins neighbours alone, and leaves the rows it was given as they were', async () => {
    await addSeason(workshop);
    const sheet = readSheet(await readPlan(workshop, now()), wish);
    const price = (cents: number) => [
      { ...sheet.groups[0]!.rows[0]!.prices[0]!, priceCents: cents, secondCents: null },
    ];
    const rows = sheet.groups[0]!.rows.slice(0, 4).map((row, index) =>
      Object.freeze({ ...row, prices: price([4000, 4000, 4200, 4000][index]!) }),
    );
    expect(togetherByPrice(rows).map(({ labels }) => labels[0]!.label)).toEqual(['35–36', '37', '38']);
    expect(togetherByPrice([])).toEqual([]);
  });
});
