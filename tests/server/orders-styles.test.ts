import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T12:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  await beginOwn(workshop, { purpose: 'order' });
});

afterEach(() => workshop.discard());

// The two colours of the workshop's first yarn, one strand.
const [cream, grey] = ['1', '2'];
const styles = { slipper: '1', garter: '2', bootie: '3', sock: '4' };
const size = { by: 'label', person: 'woman', system: 'EU', label: '38', quantity: '1', fit: 'usual', cuff: 'short' };
const order = { ...size, outlet: '1', state: 'agreed', unit: 'cm' };

async function coloursByRole(lineId: number): Promise<Record<string, number>> {
  const { lineColours: colours } = await readWorkshop(workshop);
  return Object.fromEntries(
    colours.filter((each) => each.lineId === lineId).map((each) => [each.role, each.yarnColourId]),
  );
}

const lastLine = async () => (await readWorkshop(workshop)).lines.reduce((a, b) => (a.id > b.id ? a : b));

describe('an order in each style', () => {
  it('offers the styles at the top, with the colours that each one has', async () => {
    const page = await (await app.request('/orders/new')).text();
    expect(page).toMatch(
      /<option value="1" class="shows-role-0 shows-role-1 shows-cuff" selected="">Two-piece slipper/,
    );
    expect(page).toMatch(/<option value="2" class="shows-role-0">Garter slipper/);
    expect(page).toMatch(/<option value="3" class="shows-role-0 shows-role-2">Baby bootie/);
    // The sock's rib comes first on the needles; its foot is still the colour that is asked for first.
    expect(page).toMatch(/<option value="4" class="shows-role-0 shows-role-1">Bed sock/);
  });

  it.each([
    ['the slipper', styles.slipper, { 'colour-foot': cream, 'colour-cuff': grey }, { foot: 1, cuff: 2 }],
    ['the garter slipper', styles.garter, { 'colour-foot': cream, 'colour-cuff': grey }, { foot: 1 }],
    ['the bootie', styles.bootie, { 'colour-foot': cream, 'colour-leg': grey }, { foot: 1, leg: 2 }],
    ['the bed sock', styles.sock, { 'colour-foot': cream, 'colour-cuff': grey }, { foot: 1, cuff: 2 }],
    ['a bed sock all over', styles.sock, { 'colour-foot': grey }, { foot: 2, cuff: 2 }],
  ])('%s is stored in its own colours, planned, and every page of it opens', async (_, style, colours, stored) => {
    const answer = await postForm(app, '/orders', { ...order, style, ...colours });
    expect(answer.status).toBe(303);
    const line = await lastLine();
    expect(String(line.styleId)).toBe(style);
    expect(await coloursByRole(line.id)).toEqual(stored);
    const { plan, lineProblems } = await readPlan(workshop, now());
    expect(lineProblems).toEqual([]);
    expect(plan.weeks).toHaveLength(1);
    const paths = [
      answer.headers.get('location')!,
      ...[`/orders/lines/${line.id}`, `/orders/lines/${line.id}/edit`, '/orders', '/batch', '/batch/start', '/pricing'],
      ...['cast-on', 'rows', 'width', 'foot-length'].map((figure) => `/working/sizing/${figure}/${line.id}`),
      ...[`/working/yardage/grams/${line.id}`, `/working/timing/minutes/${line.id}`, '/buying'],
    ];
    for (const path of paths) {
      const page = await app.request(path);
      expect([path, page.status]).toEqual([path, 200]);
      expect(await page.text()).not.toContain('NaN');
    }
  });

  it('asks for the main colour of the style, at its field', async () => {
    const answer = await postForm(app, '/orders', { ...order, style: styles.sock, 'colour-cuff': grey });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('<a href="#field-colour-foot">Choose a colour for the foot.</a>');
  });

  it('shows a stored sock as it would be entered again', async () => {
    await postForm(app, '/orders', { ...order, style: styles.sock, 'colour-foot': cream, 'colour-cuff': grey });
    const page = await (await app.request(`/orders/lines/${(await lastLine()).id}/edit`)).text();
    expect(page).toMatch(/<option value="4"[^>]* selected="">Bed sock/);
    expect(page).toMatch(/name="colour-foot" value="1" checked/);
    expect(page).toMatch(/id="field-colour-cuff"[\s\S]*?<option value="2" selected="">/);
  });

  it('fills a grid in the style that is chosen', async () => {
    const grid = { person: 'woman', system: 'EU', sizes: '38', row: '38', 'pairs-38-1': '2', yarn: '1' };
    const rest = {
      fit: 'usual',
      cuff: 'short',
      outlet: '2',
      state: 'agreed',
      style: styles.bootie,
      'colour-leg': grey,
    };
    expect((await postForm(app, '/orders/grid', { ...grid, ...rest })).status).toBe(303);
    const line = await lastLine();
    expect([line.styleId, line.quantity, await coloursByRole(line.id)]).toEqual([3, 2, { foot: 1, leg: 2 }]);
  });

  it('reads the style of a table, its second colour for whatever the style has', async () => {
    const text = [
      'size,style,yarn,foot colour,cuff colour,outlet',
      'woman EU 38,bed sock (a tube),Bulky yarn,Cream,Grey,By order',
      'child EU 18,Baby bootie,Bulky yarn,Cream,Grey,By order',
      'woman EU 38,Garter slipper,Bulky yarn,Cream,,By order',
    ].join('\n');
    const answer = await postForm(app, '/orders/import', { text, do: 'import' });
    expect([200, 303]).toContain(answer.status);
    const { lines } = await readWorkshop(workshop);
    expect(lines.map((line) => line.styleId).sort()).toEqual([2, 3, 4]);
    const of = (styleId: number) => lines.find((line) => line.styleId === styleId)!.id;
    expect(await coloursByRole(of(4))).toEqual({ foot: 1, cuff: 2 });
    expect(await coloursByRole(of(3))).toEqual({ foot: 1, leg: 2 });
    expect(await coloursByRole(of(2))).toEqual({ foot: 1 });
    expect((await readPlan(workshop, now())).lineProblems).toEqual([]);
  });
});
