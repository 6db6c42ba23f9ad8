import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listOrders } from '#db/stores/orders.ts';
import { createApp } from '#server/app.ts';
import { readForm } from '#server/read-form.ts';
import { postForm } from '#tests/support/form.ts';
import { addSeason } from '#tests/support/season.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  await addSeason(workshop);
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});
afterEach(() => workshop.discard());

const page = async (path: string) => (await app.request(path)).text();
const plain = (html: string) => html.replaceAll('\u00a0', ' ');

/** Rows of the comparison: field, as it stands now, what was typed. */
function comparedIn(html: string): string[][] {
  const body = /<tbody>([\s\S]*?)<\/tbody>/.exec(html)?.[1] ?? '';
  return [...body.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
    [...row!.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell]) =>
      plain(cell!.replace(/<[^>]*>/g, '').trim()),
    ),
  );
}

describe('two people who change one shop', () => {
  const shop = { name: 'Quay Yarns', shipping: '4.50', freeFrom: '', minimum: '', deliveryDays: '4', version: '1' };

  it('see what differs under the labels of the form, with its units, and nothing of field names', async () => {
    const first = await postForm(app, '/buying/shops/1', {
      ...shop,
      freeFrom: '50',
      'breakFrom-0': '80',
      'breakOff-0': '10',
    });
    expect(first.status).toBe(303);
    const second = await postForm(app, '/buying/shops/1', { ...shop, shipping: '5.20', deliveryDays: '6' });
    expect(second.status).toBe(409);
    const html = await second.text();
    const labels = [...(await page('/buying/shops/1')).matchAll(/<label for="field-(\w+)[^"]*">([^<]*)</g)];
    const labelOf = (name: string) => labels.find(([, id]) => id === name)![2];
    expect(comparedIn(html)).toEqual(
      expect.arrayContaining([
        [labelOf('shipping'), '4.50 €', '5.20 €'],
        [labelOf('freeFrom'), '50.00 €', 'nothing'],
        [labelOf('deliveryDays'), '4 days', '6 days'],
      ]),
    );
    expect(comparedIn(html).some(([label]) => label === labelOf('name'))).toBe(false);
    for (const name of ['freeFrom', 'breakOff', 'smallest coins']) {
      expect(html.replace(/<input[^>]*>/g, '')).not.toContain(name);
    }
    expect(html).toContain('<title>Error: ');
    // Saving again puts mine over it.
    expect(html).toContain('name="version" value="2"');
  });

  it('say the words of a choice, and a day in words', async () => {
    const lot = { dyeLot: '4471', gotDay: '2026-11-02', donor: '', place: '', returnable: '', paid: '9', worth: '' };
    await postForm(app, '/shelf/lots/1/change', { ...lot, returnable: '2026-12-20', version: '1' });
    const late = await postForm(app, '/shelf/lots/1/change', { ...lot, version: '1' });
    expect(comparedIn(await late.text())).toContainEqual(['Until when at the shop', 'Sun 20 Dec 2026', 'nothing']);
    const yarn = {
      name: 'Fell Bulky',
      fibre: 'wool',
      metres: '100',
      ballG: '100',
      strands: '1',
      needleMm: '7',
      stitches: '12',
    };
    await postForm(app, '/shelf/yarns/1', { ...yarn, category: '6', version: '1' });
    const other = await postForm(app, '/shelf/yarns/1', { ...yarn, category: '5', strands: '2', version: '1' });
    expect(comparedIn(await other.text())).toEqual([
      ['How thick it is', 'super bulky (super chunky)', 'bulky (chunky)'],
      ['Held together for a slipper', 'one strand', 'two strands together'],
    ]);
  });
});

describe('an order that was cancelled in another tab', () => {
  const typed = {
    outlet: '2',
    customer: 'Mara',
    due: '2027-02-03',
    reference: 'blue door',
    state: 'agreed',
    version: '1',
  };

  it('is called cancelled where its details are saved, and all that was typed stays', async () => {
    expect((await postForm(app, '/orders/2/cancel', { version: '1' })).status).toBe(303);
    const response = await postForm(app, '/orders/2', typed);
    expect(response.status).toBe(409);
    const html = await response.text();
    expect(html).toContain('This order was cancelled while you had it open');
    for (const value of ['Mara', '2027-02-03', 'blue door']) expect(html).toContain(`value="${value}"`);
    const orders = await workshop.store.read((db) => listOrders(db));
    expect(orders.find(({ id }) => id === 2)).toMatchObject({ state: 'cancelled', reference: null });
  });

  it('is called cancelled where a line is saved, and all that was typed is shown under its labels', async () => {
    const editPage = await page('/orders/lines/2/edit');
    await postForm(app, '/orders/2/cancel', { version: '1' });
    const form = readForm(editPage, '/orders/lines/2')!;
    const line = { ...Object.fromEntries(form.map(({ name, value }) => [name, value])), quantity: '4', version: '1' };
    const response = await postForm(app, '/orders/lines/2', line, { Referer: 'http://localhost/orders/lines/2/edit' });
    expect(response.status).toBe(409);
    const html = await response.text();
    expect(html).toContain('This order was cancelled');
    const shown = html.slice(html.indexOf('What you typed'));
    expect(shown).toMatch(/<dt>How many pairs<\/dt><dd>4/);
    expect(shown).toContain('Heather');
    expect(html).toContain('<title>Error: ');
  });
});
