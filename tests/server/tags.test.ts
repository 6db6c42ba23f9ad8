import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatCents } from '#core/shared/format.ts';
import { changePair, changePairPiece, listCurrentPairPieces, listCurrentPairs } from '#db/stores/batch.ts';
import { createPlacement } from '#db/stores/placements.ts';
import { createOutlet } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { priceOfPair } from '#flows/pricing/price-of-pair.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import {
  addOrder,
  addYarn,
  addYarnColour,
  lineOf,
  openTestWorkshop,
  type TestWorkshop,
} from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const chosen = {
  shows: 'both',
  copies: '1',
  outlet: '',
  name: '',
  paper: 'a4',
  'system-EU': 'yes',
  'system-UK': 'yes',
};
async function print(fields: Record<string, string>) {
  const response = await app.request(`/pricing/tags/print?${new URLSearchParams({ ...chosen, ...fields })}`);
  return { status: response.status, html: await response.text() };
}
const countOf = (html: string, part: string) => html.split(part).length - 1;
const tagsIn = (html: string) => countOf(html, 'class="tag-piece"');
const textOf = (html: string) =>
  html
    .replace(/<[^>]+>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ')
    .trim();

/** Two pairs for the fair, begun; the first of them finished. */
async function startFair() {
  const season = await addSeason(workshop);
  const { revision } = await readWorkshop(workshop);
  await postForm(app, '/batch/start', { name: 'Winter', order: String(season.forFair.id), revision: String(revision) });
  await workshop.store.write('test: finish one', async (tx) => {
    const pieces = (await listCurrentPairPieces(tx)).filter((piece) => piece.pairId === 1);
    for (const piece of pieces) await changePairPiece(tx, piece.id, { stage: 'done' });
  });
  return season;
}

describe('GET /pricing/tags', () => {
  it('says what tags are for while there is no pair', async () => {
    const html = await (await app.request('/pricing/tags')).text();
    expect(html).toContain('There is no pair');
    expect(html).toContain('href="/orders/new"');
  });

  it('offers what is here, batches, orders and kinds, and begins with what is here', async () => {
    await startFair();
    const html = await (await app.request('/pricing/tags')).text();
    expect(html).toMatch(/<option value="stock"[^>]* selected="">Finished pairs that are here: 1</);
    expect(html).toContain('>Winter: 2 pairs<');
    expect(html).toContain('>Order 1, Winter fair: 2 pairs<');
    expect(html).toContain('name="count-1"');
    // The systems that the orders are written in.
    expect(html).toMatch(/name="system-EU" value="yes" checked/);
    expect(html).not.toMatch(/name="system-UK" value="yes" checked/);
  });

  it('opened from an order it has that order, and the price where it goes', async () => {
    const { forHilda, direct } = await addSeason(workshop);
    const html = await (await app.request(`/pricing/tags?pairs=order-${forHilda.id}`)).text();
    expect(html).toMatch(new RegExp(`<option value="order-${forHilda.id}"[^>]* selected`));
    expect(html).toMatch(new RegExp(`<option value="${direct.id}"[^>]* selected[^>]*>as at By order`));
  });
});

describe('GET /pricing/tags/print', () => {
  it('makes a tag and a care card for each finished pair that is here', async () => {
    const { fair } = await startFair();
    const { html, status } = await print({ pairs: 'stock', outlet: String(fair.id), name: 'Harbour & Lane' });
    expect(status).toBe(200);
    expect(tagsIn(html)).toBe(1);
    const plan = await readPlan(workshop, now());
    const { priceCents } = priceOfPair(plan, plan.kindOfLine.get(1)!, fair.id);
    const text = textOf(html);
    // 240 mm: UK 240 x 3 / 25.4 - 23 = 5.35, nearest half 5.5
    expect(text).toContain('Woman EU 38 UK 5.5 foot 24.0 cm');
    expect(text).toContain('Heather');
    expect(text).toContain(formatCents(priceCents!, 'EUR'));
    expect(text).toContain('Wool Fell Bulky');
    expect(text).toContain('Hand wash in cool water');
    expect(text).toContain('slip on hard floors');
    expect(html).toContain('Harbour &amp; Lane');
  });

  it('makes them for a batch, for an order, for kinds with counts, and as often as wished', async () => {
    const { forHilda } = await startFair();
    const batch = (await readWorkshop(workshop)).batches.find(({ name }) => name === 'Winter')!;
    expect(tagsIn((await print({ pairs: `batch-${batch.id}` })).html)).toBe(2);
    expect(tagsIn((await print({ pairs: 'next' })).html)).toBe(1);
    expect(tagsIn((await print({ pairs: `order-${forHilda.id}`, copies: '3' })).html)).toBe(3);
    const kinds = await print({ pairs: 'kinds', 'count-1': '2', 'count-2': '1' });
    expect(tagsIn(kinds.html)).toBe(3);
    // Smallest first.
    expect(textOf(kinds.html).indexOf('EU 38')).toBeLessThan(textOf(kinds.html).indexOf('EU 41'));
  });

  it('shows tags alone, or care cards alone', async () => {
    await startFair();
    const tags = await print({ pairs: 'stock', shows: 'tag' });
    expect(tags.html).not.toContain('care-half');
    // Without a card beside it the tag says what the pair is made of.
    expect(textOf(tags.html)).toMatch(/Heather Wool/);
    expect(textOf((await print({ pairs: 'stock' })).html)).not.toMatch(/Heather Wool/);
    const cards = await print({ pairs: 'stock', shows: 'care' });
    expect(cards.html).not.toContain('tag-front');
    expect(cards.html).toContain('Hand wash in cool water');
  });

  it('marks a second as one, at its own price', async () => {
    const { fair } = await startFair();
    await workshop.store.write('test: a second', async (tx) => {
      const first = (await listCurrentPairs(tx)).find(({ id }) => id === 1)!;
      await changePair(tx, first.id, { quality: 'second' });
    });
    const plan = await readPlan(workshop, now());
    const kind = plan.kindOfLine.get(1)!;
    const good = priceOfPair(plan, kind, fair.id).priceCents!;
    const second = priceOfPair(plan, kind, fair.id, { quality: 'second' }).priceCents!;
    expect(second).toBeLessThan(good);
    const text = textOf((await print({ pairs: 'stock', outlet: String(fair.id) })).html);
    expect(text).toContain('Second: with a small flaw');
    expect(text).toContain(formatCents(second, 'EUR'));
    expect(text).not.toContain(formatCents(good, 'EUR'));
  });

  it('takes the price that was agreed where the order goes to the outlet', async () => {
    const { style, heather, direct, fair, inColours } = await addSeason(workshop);
    const order = await workshop.store.write('test: agreed', (tx) =>
      addOrder(tx, {
        outletId: direct.id,
        lines: [lineOf(style.id, heather.id, { ...inColours(heather.id, heather.id), agreedCents: 4321 })],
      }),
    );
    expect((await print({ pairs: `order-${order.id}`, outlet: String(direct.id) })).html).toContain('€43.21');
    expect((await print({ pairs: `order-${order.id}`, outlet: String(fair.id) })).html).not.toContain('€43.21');
  });

  it('for a shop that buys, the tag carries what the shop may ask', async () => {
    const { forHilda } = await addSeason(workshop);
    const shop = await workshop.store.write('test: shop', (tx) =>
      createOutlet(tx, {
        ...{ name: 'Corner shop', kind: 'shop', rank: 3, priceRule: 'fixed', priceRatio: 0, fixedPriceCents: 2210 },
        ...{ terms: 'wholesale', leastPairs: 6 },
      }),
    );
    const text = textOf((await print({ pairs: `order-${forHilda.id}`, outlet: String(shop.id) })).html);
    // 22.10 wholesale, twice that is 44.20
    expect(text).toContain('€44.20');
    expect(text).not.toContain('€22.10');
  });

  it('names both sizes of unlike feet, and not whose they are', async () => {
    const { style, heather, direct, inColours } = await addSeason(workshop);
    const order = await workshop.store.write('test: odd feet', async (tx) => {
      const foot = await createFoot(tx, { name: 'Wim', person: 'man', leftLengthMm: 260, rightLengthMm: 275 });
      const line = lineOf(style.id, heather.id, inColours(heather.id, heather.id));
      const { person: _, sizeSystem: __, sizeLabel: ___, ...rest } = line;
      return addOrder(tx, { outletId: direct.id, lines: [{ ...rest, footId: foot.id }] });
    });
    const text = textOf((await print({ pairs: `order-${order.id}` })).html);
    // EU: 26.0 x 1.5 + 2 = 41, 27.5 x 1.5 + 2 = 43.25, nearest half 43.5 or 43: a tie goes down
    expect(text).toContain('Left EU 41');
    expect(text).toContain('Right EU 43');
    expect(text).toContain('foot 26.0 cm');
    expect(text).toContain('foot 27.5 cm');
    expect(text).not.toContain('Wim');
  });

  it('says of an unknown fibre: by hand, and not for babies', async () => {
    const { style, fair } = await addSeason(workshop);
    const order = await workshop.store.write('test: unknown', async (tx) => {
      const yarn = await addYarn(tx, { name: 'Attic find', fibre: null });
      const colour = await addYarnColour(tx, { yarnId: yarn.id });
      const colours = ['foot', 'cuff'].map((role) => ({ role, strand: 0, yarnColourId: colour.id }));
      return addOrder(tx, { outletId: fair.id, lines: [lineOf(style.id, colour.id, { colours })] });
    });
    const text = textOf((await print({ pairs: `order-${order.id}`, shows: 'care' })).html);
    expect(text).toContain('Fibre unknown Attic find');
    expect(text).toContain('Hand wash');
    expect(text).toContain('not for babies');
    expect(textOf((await print({ pairs: `order-${order.id}`, shows: 'tag' })).html)).toContain(
      'Fibre unknown: hand wash, not for babies.',
    );
  });

  it('leaves out pairs that stand in a shop or have left', async () => {
    const { fair } = await startFair();
    await workshop.store.write('test: in a shop', (tx) =>
      createPlacement(tx, { pairId: 1, outletId: fair.id, placedDay: '2026-11-20', priceCents: 4000, shareRatio: 0.3 }),
    );
    expect(tagsIn((await print({ pairs: 'kinds', 'count-1': '1' })).html)).toBe(1);
    const html = await (await app.request('/pricing/tags')).text();
    expect(html).not.toContain('Finished pairs that are here');
  });

  it('carries no price where slippers are given', async () => {
    const { fair } = await startFair();
    await workshop.store.write('test: give', (tx) => setSetting(tx, 'purpose', 'give'));
    expect(await (await app.request('/pricing/tags')).text()).not.toContain('name="outlet"');
    const { html } = await print({ pairs: 'stock', outlet: String(fair.id) });
    expect(tagsIn(html)).toBe(1);
    expect(html).not.toContain('€');
  });

  it('is on the paper that was chosen, with what was chosen kept for another go', async () => {
    await startFair();
    const { html } = await print({ pairs: 'stock', paper: 'letter', name: 'Lane' });
    expect(html).toContain('paper-letter');
    expect(html).toMatch(/href="\/pricing\/tags\?[^"]*name=Lane/);
  });

  it.each([
    [{ pairs: 'all' }, 'pairs', 'Choose which pairs the tags are for'],
    [{ pairs: 'order-99' }, 'pairs', 'Choose which pairs the tags are for'],
    [{ pairs: 'stock', shows: 'poster' }, 'shows', 'Choose tags, care cards or both'],
    [{ pairs: 'stock', copies: 'many' }, 'copies', 'Enter how many of each, like 1'],
    [{ pairs: 'stock', copies: '51' }, 'copies', 'from 1 to 50'],
    [{ pairs: 'stock', outlet: '77' }, 'outlet', 'Choose the outlet whose price the tag carries'],
    [{ pairs: 'stock', paper: 'A9' }, 'paper', 'Choose A4 or US letter'],
    [{ pairs: 'stock', name: 'x'.repeat(61) }, 'name', 'Use at most 60 letters'],
    [{ pairs: 'kinds' }, 'count-1', 'Enter how many pairs of at least one kind'],
    [{ pairs: 'kinds', 'count-1': 'two' }, 'count-1', 'Enter how many pairs, like 3'],
    [{ pairs: 'kinds', 'count-1': '150', copies: '5' }, 'copies', 'That would be 750 tags'],
  ])('%o is refused at %s with what to do, all that was typed kept', async (fields, path, words) => {
    await startFair();
    const { html, status } = await print({ name: 'Kept name', ...fields });
    expect(status).toBe(422);
    expect(html).toContain(`href="#field-${path}"`);
    expect(html).toContain(words);
    if (!('name' in fields)) expect(html).toContain('value="Kept name"');
    for (const value of Object.values(fields)) {
      if (!['stock', 'kinds', 'all', 'order-99', 'poster', '77', 'A9'].includes(value)) {
        expect(html).toContain(`value="${value}"`);
      }
    }
  });
});
