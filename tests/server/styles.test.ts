import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { shippedStyles } from '#core/styles/shipped/shipped-styles.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import { createPair } from '#db/stores/batch.ts';
import { changeLine } from '#db/stores/orders.ts';
import { createPriceGroup } from '#db/stores/pricing.ts';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { createMaterial, createStyle, createStyleMaterial } from '#db/stores/styles.ts';
import { workshopStyles } from '#flows/styles/read-styles.ts';
import { createApp } from '#server/app.ts';
import type { FormValues } from '#server/forms/fields.ts';
import { styleJson } from '#server/forms/style-json.ts';
import { styleValuesOf } from '#server/forms/style-values.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now: () => new Date('2026-11-25T12:00:00Z'), publicUrl: null });
});

afterEach(() => workshop.discard());

const styles = async () => workshopStyles(await readWorkshop(workshop));
const page = async (path: string) => (await app.request(path)).text();

/** A copy of the two-piece slipper, and its form as it is shown. */
async function ownCopy(): Promise<{ readonly id: number; readonly path: string; readonly form: FormValues }> {
  const answer = await postForm(app, '/styles/1/copy', {});
  expect(answer.status).toBe(303);
  const path = answer.headers.get('location')!;
  const style = (await styles()).find((each) => path.includes(`/${each.id}/`))!;
  const sample = { person: 'woman', size: '38', yarn: '', stitches: '', rows: '' };
  return { id: style.id, path, form: { ...styleValuesOf(style.body), ...sample, version: String(style.version) } };
}

describe('the list', () => {
  it('says how to begin while there is none', async () => {
    expect(await page('/styles')).toContain('Begin on the first page');
  });

  it('names every style that ships, the two-piece slipper first', async () => {
    await putSample(workshop, '2026-11-25');
    const list = await page('/styles');
    const places = shippedStyles.map((body) => list.indexOf(`>${body.style}<`));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(list).not.toContain('Add these styles');
  });

  it('offers the missing ones to an older workshop, and adds each once', async () => {
    await workshop.store.write('test', async (tx) => {
      await createStyle(tx, { name: twoPieceSlipper.style, isShipped: true, body: twoPieceSlipper });
      // An own style has taken the name of one that ships.
      await createStyle(tx, { name: 'Garter slipper', isShipped: false, body: twoPieceSlipper });
    });
    expect(await page('/styles')).toContain(
      'Not here yet: Garter slipper, Baby bootie, Bed sock (a tube), Two-piece slipper, contrast toe.',
    );
    await postForm(app, '/styles/shipped', {});
    await postForm(app, '/styles/shipped', {});
    expect((await styles()).map(({ name, isShipped }) => [name, isShipped])).toEqual([
      ['Two-piece slipper', true],
      ['Garter slipper', false],
      ['Garter slipper 2', true],
      ['Baby bootie', true],
      ['Bed sock (a tube)', true],
      ['Two-piece slipper, contrast toe', true],
    ]);
  });
});

describe('a style', () => {
  beforeEach(() => putSample(workshop, '2026-11-25'));

  it.each([1, 2, 3, 4])('shows style %i: drawing, steps, lengths, seams, settings', async (id) => {
    const shown = await page(`/styles/${id}`);
    for (const part of ['<svg', 'Sewing up', 'What it is reckoned from', 'Seams', 'Settings', 'Copy and change'])
      expect(shown).toContain(part);
    expect(shown).not.toContain('NaN');
  });

  it('shows it at the size asked for, and says what is wrong with one', async () => {
    // Woman's foot 240 mm, 13 stitches, bulky: 28 stitches and 43 rows, worked by hand in the method.
    expect(await page('/styles/1?person=woman&size=38&stitches=13&rows=18')).toContain('28 stitches');
    const answer = await app.request('/styles/1?person=woman&size=99999');
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('value="99999"');
  });

  it('is sent as JSON with its format, and read back under a name that is free', async () => {
    const answer = await app.request('/styles/1.json');
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="two-piece-slipper.json"');
    const text = await answer.text();
    expect(JSON.parse(text)).toEqual(twoPieceSlipper);
    const read = await postForm(app, '/styles/import', { text });
    expect(read.status).toBe(303);
    const own = (await styles()).at(-1)!;
    expect(own).toMatchObject({ name: 'Two-piece slipper 2', isShipped: false });
    expect({ ...own.body, style: twoPieceSlipper.style }).toEqual(twoPieceSlipper);
  });

  it('refuses a file that is no style, a newer one, and one that cannot be knitted; keeps what was pasted', async () => {
    const noToe = { ...twoPieceSlipper, joins: [{ ...twoPieceSlipper.joins[0]!, fold: 'foot.top' }] };
    const newer = styleJson({ ...twoPieceSlipper, format: 7 });
    for (const [text, sentence] of [
      ['half a style', 'the text is not JSON'],
      [newer, 'newer than this program knows'],
      [styleJson(noToe), 'There is no edge called foot.top.'],
      ['', 'Choose a file, or paste a style.'],
    ] as const) {
      const answer = await postForm(app, '/styles/import', { text });
      expect(answer.status).toBe(422);
      const shown = await answer.text();
      expect(shown).toContain(sentence);
      if (text.length < 20) expect(shown).toContain(text);
    }
    expect(await styles()).toHaveLength(shippedStyles.length);
  });

  it('stays as it is when it ships', async () => {
    expect((await app.request('/styles/1/edit')).status).toBe(409);
    const form = { ...styleValuesOf(twoPieceSlipper), style: 'Mine', do: 'save', version: '1' };
    const answer = await postForm(app, '/styles/1/edit', form);
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain('comes with the program');
    expect((await styles())[0]!.body).toEqual(twoPieceSlipper);
  });

  it('is 404 when it is not there', async () => {
    for (const path of ['/styles/99', '/styles/99.json', '/styles/99/edit', '/styles/x'])
      expect((await app.request(path)).status).toBe(404);
    expect((await postForm(app, '/styles/99/copy', {})).status).toBe(404);
  });
});

describe('the form of an own style', () => {
  beforeEach(() => putSample(workshop, '2026-11-25'));

  it('is a copy of the shipped one, and shows every field with its value', async () => {
    const { path, form } = await ownCopy();
    const shown = await page(path);
    expect(form.style).toBe('Two-piece slipper, my own');
    for (const name of Object.keys(form)) expect(shown).toContain(`name="${name}"`);
    expect(shown).toContain('value="0.93"');
    expect(shown).toContain('28 stitches');
  });

  it('saves a new version; the older one stays', async () => {
    const { id, path, form } = await ownCopy();
    const answer = await postForm(app, path, { ...form, 'settings.0.value': '0,95', style: 'Wide one', do: 'save' });
    expect(answer.status).toBe(303);
    const rows = await readWorkshop(workshop);
    const versions = rows.styleVersions.filter((version) => version.styleId === id);
    expect(versions.map((version) => JSON.parse(version.bodyJson).settings.girthFactor)).toEqual([0.93, 0.95]);
    expect((await styles()).at(-1)).toMatchObject({ name: 'Wide one', versionNumber: 2 });
  });

  it('adds, moves and removes without storing, and keeps all that was typed', async () => {
    const { path, form } = await ownCopy();
    const typed = { ...form, 'joins.0.place': 'inside out', size: '41', 'settings.0.value': 'wide' };
    const { revision } = await readWorkshop(workshop);
    for (const [command, sign] of [
      ['add pieces.1.sections', 'name="pieces.1.sections.4.name"'],
      ['down joins.0', 'name="joins.1.place"'],
      ['remove checks.2', 'name="checks.1.name"'],
      ['look', 'name="checks.2.name"'],
    ] as const) {
      const answer = await postForm(app, path, { ...typed, do: command, 'pieces.1.add': 'change' });
      expect(answer.status).toBe(200);
      const shown = await answer.text();
      expect(shown).toContain(sign);
      for (const kept of ['value="inside out"', 'value="41"', 'value="wide"']) expect(shown).toContain(kept);
    }
    expect((await readWorkshop(workshop)).revision).toBe(revision);
  });

  it('refuses a style that cannot be knitted, at its field, with everything kept', async () => {
    const { id, path, form } = await ownCopy();
    const faulty = { ...form, 'pieces.0.sections.1.rows.end': 'right side', 'joins.1.place': 'from the toe' };
    const answer = await postForm(app, path, { ...faulty, do: 'save' });
    expect(answer.status).toBe(422);
    const shown = await answer.text();
    expect(shown).toMatch(/<a href="#field-pieces-0-sections-2">[^<]*needs the right side/);
    expect(shown).toMatch(/<details class="entry has-error" id="field-pieces-0-sections-2" open/);
    expect(shown).toContain('value="from the toe"');
    expect(shown).toContain('No drawing until this is right');
    expect((await readWorkshop(workshop)).styleVersions.filter((version) => version.styleId === id)).toHaveLength(1);
  });

  it('refuses a name that another style has', async () => {
    const { path, form } = await ownCopy();
    const answer = await postForm(app, path, { ...form, style: ' baby  BOOTIE', do: 'save' });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('<a href="#field-style">There is a style “baby  BOOTIE” already.');
  });

  it('tells the second of two who save, and lets them save over it', async () => {
    const { path, form } = await ownCopy();
    expect((await postForm(app, path, { ...form, 'settings.0.value': '0.9', do: 'save' })).status).toBe(303);
    const second = { ...form, 'settings.0.value': '0.97', do: 'save' };
    const answer = await postForm(app, path, second);
    expect(answer.status).toBe(409);
    const shown = await answer.text();
    expect(shown).toContain('Somebody else saved this style');
    expect(shown).toContain('value="0.97"');
    const version = /name="version" value="(\d+)"/.exec(shown)![1]!;
    expect((await postForm(app, path, { ...second, version })).status).toBe(303);
    expect((await styles()).at(-1)!.body.settings.girthFactor).toBe(0.97);
  });

  it('follows as one types: the drawing alone, or what is wrong', async () => {
    const { form } = await ownCopy();
    const asked = { 'hx-request': 'true' };
    // Girth 0.57317 x 240 + 86.94 = 224.5 mm; x 1.2 x 13 / 100 = 35.02, and half a stitch an edge: 36.
    const wide = { ...form, 'settings.0.value': '1.2', stitches: '13', rows: '18' };
    const drawn = await postForm(app, '/styles/preview', wide, asked);
    expect(drawn.status).toBe(200);
    const shown = await drawn.text();
    expect(shown).toMatch(/^<div id="style-preview"/);
    expect(shown).toContain('36 stitches');
    const faulty = await (await postForm(app, '/styles/preview', { ...wide, make: '' }, asked)).text();
    expect(faulty).toContain('No drawing until this is right');
    expect(faulty).not.toContain('<svg');
  });

  it('answers an empty and a strange form with sentences', async () => {
    const { path } = await ownCopy();
    for (const form of [
      {},
      { 'pieces.0.name': 'x', 'pieces.99.sections.99.do': 'work' },
      { 'settings.0.name': '__proto__' },
    ])
      expect((await postForm(app, path, form)).status).toBe(422);
  });
});

describe('an own style is removed', () => {
  beforeEach(() => putSample(workshop, '2026-11-25'));

  it('with its versions and materials, while nothing uses it', async () => {
    const { id, path, form } = await ownCopy();
    await postForm(app, path, { ...form, 'settings.0.value': '0.9', do: 'save' });
    await workshop.store.write('test', async (tx) => {
      const { id: materialId } = await createMaterial(tx, { name: 'Button', eachCents: 20 });
      await createStyleMaterial(tx, { styleId: id, materialId, perPair: 2 });
    });
    expect(await page(`/styles/${id}`)).toContain('Remove this style');
    const { version } = (await styles()).find((each) => each.id === id)!;
    const answer = await postForm(app, `/styles/${id}/remove`, { version: String(version) });
    expect([answer.status, answer.headers.get('location')]).toEqual([303, '/styles']);
    const rows = await readWorkshop(workshop);
    expect(rows.styles.some((row) => row.id === id)).toBe(false);
    expect(rows.styleVersions.some((row) => row.styleId === id)).toBe(false);
    expect(rows.styleMaterials.some((row) => row.styleId === id)).toBe(false);
    expect((await app.request(`/styles/${id}`)).status).toBe(404);
    expect(await page('/settings/history')).toContain('Removed a style');
  });

  it('is refused with the reason while an order, a pair or a price uses it, and nothing is lost', async () => {
    const { id } = await ownCopy();
    const { styleVersions, orders, lines, outlets, pairs } = await readWorkshop(workshop);
    const versionId = styleVersions.find((row) => row.styleId === id)!.id;
    await workshop.store.write('test', async (tx) => {
      const line = lines.find(({ orderId }) => orderId === orders[0]!.id)!;
      await changeLine(tx, line.id, { styleId: id });
      const { id: _, version: __, ...pair } = pairs[0]!;
      await createPair(tx, { ...pair, styleVersionId: versionId });
      const price = { name: 'All', fromMm: 200, toMm: 300, priceCents: 4000 };
      await createPriceGroup(tx, { outletId: outlets[0]!.id, styleId: id, ...price });
    });
    const words = 'used by 1 order, cancelled ones counted, 1 pair and 1 price for several sizes';
    expect(await page(`/styles/${id}`)).toContain(words);
    expect(await page(`/styles/${id}`)).not.toContain('Remove this style');
    const { revision } = await readWorkshop(workshop);
    const answer = await postForm(app, `/styles/${id}/remove`, {});
    expect(answer.status).toBe(409);
    expect(await answer.text()).toContain(words);
    expect((await readWorkshop(workshop)).revision).toBe(revision);
  });

  it('is refused for one that comes with the program, and when somebody changed it meanwhile', async () => {
    expect((await postForm(app, '/styles/1/remove', {})).status).toBe(409);
    const { id, path, form } = await ownCopy();
    await postForm(app, path, { ...form, 'settings.0.value': '0.9', do: 'save' });
    expect((await postForm(app, `/styles/${id}/remove`, { version: form.version! })).status).toBe(409);
    expect((await styles()).some((each) => each.id === id)).toBe(true);
    expect((await postForm(app, '/styles/99/remove', {})).status).toBe(404);
  });
});

describe('the size chart', () => {
  beforeEach(() => putSample(workshop, '2026-11-25'));

  it('shows the style that is chosen, and which sizes are one slipper', async () => {
    const bootie = await page('/sizing?style=3&person=child');
    expect(bootie).toContain('Baby bootie: counts for every foot');
    expect(bootie).not.toContain('Mark at row');
    expect(bootie).toMatch(/EU \d+ and \d+ are one slipper\.|EU \d+, .* are one slipper\./);
  });

  it('is sent as a table', async () => {
    const answer = await app.request('/sizing/chart.csv?style=1&person=woman');
    expect(answer.headers.get('content-type')).toContain('text/csv');
    const [heading, ...lines] = (await answer.text()).trim().split('\r\n');
    expect(heading).toContain('size,UK,US,foot cm,foot cast on,foot rows,foot last stitches,cuff cast on');
    expect(lines).toHaveLength(9);
    // 240 / (25.4 / 3) - 23 = 5.35, to the half 5.5; a US woman's label is two more.
    expect(lines[3]).toMatch(/^EU 38,5.5,7.5,24,/);
  });
});
