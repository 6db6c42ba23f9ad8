import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { loadSample } from '#flows/begin/load-sample.ts';
import { readPlan } from '#flows/read-plan.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
});
afterEach(() => workshop.discard());

const textAt = async (path: string) => (await app.request(path)).text();
const knitterForm = {
  name: 'Nora',
  hand: 'loose',
  words: 'american',
  dailyCapMin: '200',
  isActive: 'yes',
  'minutes-1': '60',
  'minutes-7': '90',
};
const swatchForm = {
  yarnId: '1',
  strands: '1',
  fabric: 'stocking',
  stitches: '24',
  width: '18',
  rows: '30,5',
  height: '15 cm',
};

describe('GET /knitters', () => {
  it('says how to begin when nobody knits', async () => {
    const html = await textAt('/knitters');
    expect(html).toContain('Nobody knits yet');
    expect(html).toContain('href="/knitters/new"');
  });

  it('lists hand, hours, pairs and the next day something is done', async () => {
    await loadSample(workshop, { today: '2026-11-25' });
    const html = await textAt('/knitters');
    expect(html).toContain('3 knitters');
    expect(html).toContain('loose, not measured');
    expect(html).toContain('6 pairs a month');
    expect(html).toContain('left out: the edges curled too much to measure');
    const { plan } = await readPlan(workshop, now());
    const pairs = plan.weeks.filter((each) => each.knitterId === 1).length;
    expect(html).toContain(`>${pairs}<`);
  });
});

describe('POST /knitters', () => {
  it('adds a knitter with hours and rates', async () => {
    const response = await postForm(app, '/knitters', { ...knitterForm, stitchesPerMin: '28,5' });
    expect(response.status).toBe(303);
    const rows = await readWorkshop(workshop);
    expect(rows.knitters[0]).toMatchObject({ name: 'Nora', hand: 'loose', words: 'american', dailyCapMin: 200 });
    expect(rows.knitterHours.map((row) => row.minutes)).toEqual([60, 0, 0, 0, 0, 0, 90]);
    expect(rows.knitterRates.map((row) => [row.operation, row.value])).toEqual([['stitchesPerMin', 28.5]]);
    expect((await app.request(response.headers.get('location')!)).status).toBe(200);
  });

  it('names every faulty field and keeps what was typed', async () => {
    const response = await postForm(app, '/knitters', {
      ...knitterForm,
      name: '',
      'minutes-1': '1500',
      'minutes-2': '-5',
      pairsAMonth: '1e9',
      lastDay: '2026-02-30',
      endMin: 'slow',
    });
    const html = await response.text();
    expect(response.status).toBe(422);
    for (const path of ['name', 'minutes-1', 'minutes-2', 'pairsAMonth', 'lastDay', 'endMin']) {
      expect(html, path).toContain(`href="#field-${path}"`);
    }
    for (const typed of ['1500', '-5', '1e9', 'slow']) expect(html).toContain(`value="${typed}"`);
    expect((await readWorkshop(workshop)).knitters).toEqual([]);
  });

  it('refuses a name twice', async () => {
    await postForm(app, '/knitters', knitterForm);
    const response = await postForm(app, '/knitters', { ...knitterForm, name: 'NORA' });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain('There is a Nora already');
  });
});

describe('POST /knitters/:id', () => {
  it('changes hours, and takes rates and pairs a month back', async () => {
    await postForm(app, '/knitters', { ...knitterForm, stitchesPerMin: '28', pairsAMonth: '3' });
    const html = await textAt('/knitters/1');
    expect(html).toContain('value="28"');
    const response = await postForm(app, '/knitters/1', { ...knitterForm, 'minutes-1': '', version: '1' });
    expect(response.status).toBe(303);
    const rows = await readWorkshop(workshop);
    expect(rows.knitterRates).toEqual([]);
    expect(rows.knitters[0]!.pairsAMonth).toBeNull();
    expect(rows.knitterHours.find((row) => row.weekday === 1)!.minutes).toBe(0);
  });

  it('tells who comes second that somebody else was first', async () => {
    await postForm(app, '/knitters', knitterForm);
    await postForm(app, '/knitters/1', { ...knitterForm, name: 'Nora B', version: '1' });
    const second = await postForm(app, '/knitters/1', { ...knitterForm, 'minutes-1': '15', version: '1' });
    expect(second.status).toBe(409);
    const rows = await readWorkshop(workshop);
    expect(rows.knitters[0]!.name).toBe('Nora B');
    expect(rows.knitterHours[0]!.minutes).toBe(60);
  });

  it('answers 404 for somebody who is not here', async () => {
    expect((await app.request('/knitters/7')).status).toBe(404);
    expect((await postForm(app, '/knitters/7', knitterForm)).status).toBe(404);
    expect((await app.request('/knitters/swatches/7')).status).toBe(404);
  });
});

describe('days off', () => {
  it('of one knitter and of everybody come and go', async () => {
    await postForm(app, '/knitters', knitterForm);
    await postForm(app, '/knitters/1/days-off', { fromDay: '2026-12-24', toDay: '2026-12-26' });
    await postForm(app, '/knitters/days-off', { fromDay: '2026-12-31', toDay: '' });
    const rows = await readWorkshop(workshop);
    expect(rows.daysOff.map((row) => [row.knitterId, row.fromDay, row.toDay])).toEqual([
      [1, '2026-12-24', '2026-12-26'],
      [null, '2026-12-31', '2026-12-31'],
    ]);
    expect(await textAt('/knitters/1')).toContain('Everybody');
    expect((await postForm(app, '/knitters/days-off/1/remove', { version: '1' })).status).toBe(303);
    expect((await readWorkshop(workshop)).daysOff).toHaveLength(1);
  });

  it('that end before they begin are refused, the days kept', async () => {
    const response = await postForm(app, '/knitters/days-off', { fromDay: '2026-12-26', toDay: '2026-12-24' });
    const html = await response.text();
    expect(response.status).toBe(422);
    expect(html).toContain('comes before the first');
    expect(html).toContain('value="2026-12-24"');
  });
});

describe('swatches', () => {
  beforeEach(() => beginOwn(workshop, { purpose: 'sell' }));

  it('count over any length and make a hand', async () => {
    const response = await postForm(app, '/knitters/swatches', {
      ...swatchForm,
      knitterId: '1',
      massG: '22.5',
      isWashed: 'yes',
    });
    expect(response.status).toBe(303);
    const { rows, input } = await readPlan(workshop, now());
    expect(rows.swatches[0]).toMatchObject({ stitches: 24, widthMm: 180, rows: 30.5, heightMm: 150, massMg: 22_500 });
    // 24 stitches over 18 cm: 13.33 in 10
    expect(input.hands[0]!.gauges[0]!.stitchesPer10Cm).toBeCloseTo(40 / 3, 10);
    expect(await textAt('/knitters/1')).toContain('13.3');
  });

  it('can be left out with a reason, and then no longer count', async () => {
    await postForm(app, '/knitters/swatches', { ...swatchForm, knitterId: '1' });
    await postForm(app, '/knitters/swatches/1', {
      ...swatchForm,
      knitterId: '1',
      leftOutReason: 'another needle',
      version: '1',
    });
    const { input } = await readPlan(workshop, now());
    expect(input.hands[0]!.gauges).toEqual([]);
    expect(await textAt('/knitters')).toContain('left out: another needle');
  });

  it.each([
    [{ stitches: '0' }, 'stitches'],
    [{ stitches: '' }, 'stitches'],
    [{ width: 'wide' }, 'width'],
    [{ yarnId: '' }, 'yarnId'],
    [{ yarnId: '99' }, 'yarnId'],
    [{ secondYarnId: '2' }, 'strands'],
    [{ massG: '-3' }, 'massG'],
    [{ fabric: 'lace' }, 'fabric'],
    // 240 stitches over 18 cm would be 133 in 10 cm
    [{ stitches: '240' }, 'stitches'],
  ])('with %o are refused at %s', async (change, path) => {
    const response = await postForm(app, '/knitters/swatches', { ...swatchForm, ...change });
    expect(response.status).toBe(422);
    expect(await response.text()).toContain(`href="#field-${path}"`);
    expect((await readWorkshop(workshop)).swatches).toEqual([]);
  });
});
