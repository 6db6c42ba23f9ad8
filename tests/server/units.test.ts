import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readWorkshop } from '#db/stores/read-workshop.ts';
import { setSetting } from '#db/stores/workshop.ts';
import { createApp } from '#server/app.ts';
import { postForm } from '#tests/support/form.ts';
import { putSample } from '#tests/support/sample.ts';
import { openTestWorkshop, type TestWorkshop } from '#tests/support/workshop.ts';

const today = '2026-11-25';
const now = () => new Date('2026-11-25T10:00:00Z');
let workshop: TestWorkshop;
let app: ReturnType<typeof createApp>;

const measureIn = (units: 'metric' | 'imperial') =>
  workshop.store.write('test: choose the units', (tx) => setSetting(tx, 'unitSystem', units));

beforeEach(async () => {
  workshop = await openTestWorkshop();
  app = createApp({ workshop, now, publicUrl: null });
  await putSample(workshop, today);
  await measureIn('imperial');
});
afterEach(() => workshop.discard());

const get = async (path: string) => (await app.request(path)).text();
const plain = (text: string) => text.replaceAll('&amp;', '&').replaceAll('&#39;', "'").replaceAll('&quot;', '"');

/** What a person reads on a page: its text, the words for a screen reader, and what the boxes hold. */
function readText(html: string): string {
  // Workings are metric, and say so.
  const main = html
    .replace(/<dl class="working-lines">[\s\S]*?<\/dl>/g, ' ')
    .replace(/<(script|style|head)\b[\s\S]*?<\/\1>/g, ' ')
    .replace(/<input type="hidden"[^>]*>/g, ' ');
  const held = [...main.matchAll(/\s(?:value|aria-label|title)="([^"]*)"/g)].map((match) => match[1]).join(' | ');
  return plain(`${main.replace(/<[^>]*>/g, ' ')} | ${held}`);
}

// Formulas and the paper ruler's bar stay metric, files are downloaded, and a help page teaches both.
const apart = /^\/working\/|\/working\/|\.csv|\.json|\.ics|\/settings\/copy|\/assets\//;
const metricWords = /\d[\s\u00a0]?(?:cm|g|m|grams?|metres?)(?![\w²])|\bin 10\u00a0?\s?cm|\b(?:grams|metres)\b/i;
// Said of the choice itself, and of the bar that proves the scale of a print.
const allowed = [
  'centimetres and grams',
  'grams a ball',
  'wraps in 2.54 cm',
  'This bar must be 10 cm long',
  'bars of 10 cm and 4 in',
];

describe('the sample season in inches and ounces', () => {
  it('shows no centimetre and no gram on any page but the workings', async () => {
    const seen = new Set(['/']);
    const waiting = ['/'];
    const faults: string[] = [];
    const ofKind = new Map<string, number>();
    // A name is what somebody wrote, in the measures of that day.
    const names = (await readWorkshop(workshop)).yarns.map(({ name }) => name);
    while (waiting.length > 0 && seen.size < 400) {
      const path = waiting.shift()!;
      const response = await app.request(path);
      if (response.status === 303) continue;
      const html = await response.text();
      const text = [...allowed, ...names].reduce((rest, words) => rest.replaceAll(words, ''), readText(html));
      const found = metricWords.exec(text);
      if (found) faults.push(`${path}: …${text.slice(Math.max(0, found.index - 60), found.index + 30).trim()}…`);
      const units = [...html.matchAll(/<span class="unit">(cm|g|m)<\/span>/g)].map((match) => match[1]);
      if (units.length > 0) faults.push(`${path}: a box in ${units.join(', ')}`);
      for (const [, href] of html.matchAll(/<a\b[^>]*?\shref="(\/[^"#]*)/g)) {
        const link = plain(href!);
        // Pages of one kind differ in numbers alone: two of each will do.
        const kind = link.replace(/\d+/g, ':number');
        if (apart.test(link) || seen.has(link) || (ofKind.get(kind) ?? 0) >= 2) continue;
        ofKind.set(kind, (ofKind.get(kind) ?? 0) + 1);
        seen.add(link);
        waiting.push(link);
      }
    }
    expect(seen.size).toBeGreaterThan(60);
    expect([...new Set(faults)]).toEqual([]);
  }, 120_000);

  it('says on a working page that it is metric, as its formulas are', async () => {
    const { lines } = await readWorkshop(workshop);
    expect(await get(`/working/yardage/grams/${lines[0]!.id}`)).toContain('Workings are in centimetres and grams');
  });
});

/** The fields of a form that a browser would send. */
function fieldsOf(form: string): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const [tag] of form.matchAll(/<input\b[^>]*>/g)) {
    const name = / name="([^"]*)"/.exec(tag)?.[1];
    const type = / type="([^"]*)"/.exec(tag)?.[1] ?? 'text';
    if (!name || ((type === 'radio' || type === 'checkbox') && !/ checked/.test(tag))) continue;
    fields[name] = plain(/ value="([^"]*)"/.exec(tag)?.[1] ?? '');
  }
  for (const [, name, inner] of form.matchAll(/<select\b[^>]* name="([^"]*)"[^>]*>([\s\S]*?)<\/select>/g)) {
    const options = [...inner!.matchAll(/<option value="([^"]*)"[^>]*?( selected)?[^>]*>/g)].map(([tag, value]) => ({
      value: plain(value!),
      isChosen: / selected/.test(tag),
    }));
    fields[name!] = (options.find(({ isChosen }) => isChosen) ?? options[0])?.value ?? '';
  }
  for (const [, name, text] of form.matchAll(/<textarea\b[^>]* name="([^"]*)"[^>]*>([\s\S]*?)<\/textarea>/g)) {
    fields[name!] = plain(text!).trim();
  }
  return fields;
}

async function formOn(path: string, action: string): Promise<Record<string, string>> {
  const html = await get(path);
  const form = [...html.matchAll(/<form\b([^>]*)>([\s\S]*?)<\/form>/g)].find(([, tag]) =>
    tag!.includes(`action="${action}"`),
  );
  if (!form) throw new Error(`no form for ${action} on ${path}`);
  return fieldsOf(form[2]!);
}

type Form = { readonly path: string; readonly action: string };

/** Every form with a measure that changes something that is there. */
async function changingForms(): Promise<Form[]> {
  const rows = await readWorkshop(workshop);
  const same = (path: string): Form => ({ path, action: path });
  return [
    ...rows.yarns.map(({ id }) => same(`/shelf/yarns/${id}`)),
    ...rows.offers.map(({ id }) => same(`/buying/offers/${id}`)),
    ...rows.bands.map(({ id }) => same(`/sizing/bands/${id}`)),
    ...rows.swatches.map(({ id }) => same(`/knitters/swatches/${id}`)),
    ...rows.knitters.map(({ id }) => same(`/knitters/${id}`)),
    same('/settings'),
  ];
}

/** The measures that are stored, without the versions that every saving raises. */
async function stored(): Promise<unknown> {
  const { yarns, offers, bands, swatches, knitters, knitterRates, settings } = await readWorkshop(workshop);
  const bare = (rows: readonly object[]) =>
    rows.map((row) => ({ ...row, version: 0, id: 'operation' in row ? 0 : 'id' in row ? row.id : 0 }));
  return [yarns, offers, bands, swatches, knitters, knitterRates, settings].map(bare);
}

describe('a form saved as it was shown', () => {
  it.each(['metric', 'imperial'] as const)(
    'leaves every stored measure as it is (%s)',
    async (units) => {
      await measureIn(units);
      const before = await stored();
      for (const { path, action } of await changingForms()) {
        const shown = await formOn(path, action);
        const saved = await postForm(app, action, shown);
        expect([path, saved.status]).toEqual([path, 303]);
        expect({ ...(await formOn(path, action)), version: '' }).toEqual({ ...shown, version: '' });
      }
      expect(await stored()).toEqual(before);
    },
    120_000,
  );

  it('is read in the units it was shown in, though the setting changed meanwhile', async () => {
    const before = await stored();
    const { yarns, bands, swatches } = await readWorkshop(workshop);
    const actions = [
      `/shelf/yarns/${yarns[0]!.id}`,
      `/sizing/bands/${bands[0]!.id}`,
      `/knitters/swatches/${swatches[0]!.id}`,
    ];
    const forms = await Promise.all(actions.map((action) => formOn(action, action)));
    await measureIn('metric');
    for (const [index, action] of actions.entries()) {
      expect((await postForm(app, action, forms[index]!)).status).toBe(303);
    }
    await measureIn('imperial');
    expect(await stored()).toEqual(before);
  });
});

type Case = {
  readonly what: string;
  readonly path: () => Promise<string>;
  readonly action?: () => Promise<string>;
  readonly field: string;
  readonly bad: string;
  readonly sentence: RegExp;
};

const firstOf = async (table: 'yarns' | 'offers' | 'bands' | 'swatches') =>
  (await readWorkshop(workshop))[table][0]!.id;
const firstFullLot = async () => {
  const { balls } = await readWorkshop(workshop);
  return balls[0]!.lotId;
};
const lotForm = (kind: string) => async () => `/shelf/lots/${await firstFullLot()}/${kind}`;

describe('a form in inches and ounces', () => {
  const cases: Case[] = [
    {
      what: 'ball size',
      path: async () => `/shelf/yarns/${await firstOf('yarns')}`,
      field: 'ballG',
      bad: 'x',
      sentence: /Enter how many ounces a whole ball has/,
    },
    {
      what: 'yards',
      path: async () => `/shelf/yarns/${await firstOf('yarns')}`,
      field: 'yards',
      bad: '0',
      sentence: /Enter how many yards are in a ball.*from 0\.1 to .* yd/,
    },
    {
      what: 'stitches on the band',
      path: async () => `/shelf/yarns/${await firstOf('yarns')}`,
      field: 'stitches',
      bad: '500',
      sentence: /stitches in 4 in .*from 2\.03 to 101\.6 in 4 in/,
    },
    { what: 'weigh', path: lotForm('weigh'), field: 'grams', bad: '-1', sentence: /shows in ounces.*from 0 to .* oz/ },
    { what: 'take off', path: lotForm('take-off'), field: 'grams', bad: 'some', sentence: /how many ounces go/ },
    { what: 'wind off', path: lotForm('wind-off'), field: 'grams', bad: '', sentence: /how many ounces to wind off/ },
    {
      what: 'part balls',
      path: async () => '/shelf/add',
      field: 'parts',
      bad: '1.5 x',
      sentence: /in ounces with blanks between/,
    },
    {
      what: 'pack',
      path: async () => `/buying/offers/${await firstOf('offers')}`,
      field: 'ballG',
      bad: 'x',
      sentence: /how many ounces a ball has/,
    },
    {
      what: 'band',
      path: async () => `/sizing/bands/${await firstOf('bands')}`,
      field: 'from',
      bad: '40',
      sentence: /shortest foot in inches.*from 2\.362 to 14\.173 in/,
    },
    {
      what: 'swatch',
      path: async () => `/knitters/swatches/${await firstOf('swatches')}`,
      field: 'width',
      bad: '0',
      sentence: /how many inches you counted.*from 0\.787 to 78\.74 in/,
    },
    {
      what: 'swatch weight',
      path: async () => `/knitters/swatches/${await firstOf('swatches')}`,
      field: 'massG',
      bad: 'x',
      sentence: /ounces of the whole square/,
    },
    {
      what: 'settings',
      path: async () => '/settings',
      field: 'leastPartBallG',
      bad: '99',
      sentence: /from 0 to 3\.5274 oz/,
    },
  ];
  it.each(cases)(
    'says what is wrong with $what in them, and keeps what was typed',
    async ({ path, field, bad, sentence }) => {
      const action = await path();
      const shown = await formOn(action, action);
      const answer = await postForm(app, action, { ...shown, [field]: bad });
      const html = await answer.text();
      expect(answer.status).toBe(422);
      expect(plain(html)).toMatch(sentence);
      expect(html).toContain(`value="${bad}"`);
    },
  );

  it('takes a yarn by the yards and ounces of its ball', async () => {
    const id = await firstOf('yarns');
    const action = `/shelf/yarns/${id}`;
    const shown = await formOn(action, action);
    expect((await postForm(app, action, { ...shown, yards: '100', ballG: '4' })).status).toBe(303);
    const yarn = (await readWorkshop(workshop)).yarns.find((each) => each.id === id)!;
    // 4 oz = 113.398 g, kept as the tenth of a gram that shows as 4 too; 100 yd = 91.44 m.
    expect(yarn.ballMg).toBe(113_400);
    expect(yarn.tex).toBeCloseTo((113.4 / 91.44) * 1000, 6);
  });

  it('takes inches in fractions, and centimetres where they are written', async () => {
    const id = await firstOf('bands');
    const action = `/sizing/bands/${id}`;
    const shown = await formOn(action, action);
    expect((await postForm(app, action, { ...shown, from: '8 3/4', to: '24 cm' })).status).toBe(303);
    const band = (await readWorkshop(workshop)).bands.find((each) => each.id === id)!;
    // 8.75 x 25.4 = 222.25 mm.
    expect([band.fromMm, band.toMm]).toEqual([222.25, 240]);
  });

  it('tries a pair by stitches in 4 in and a foot in inches', async () => {
    const html = plain(await get('/try?person=woman&size=9.5%20in&yarn=&stitches=13.21&rows=18.29&units=imperial'));
    const metric = plain(await get('/try?person=woman&size=24.13%20cm&yarn=&stitches=13&rows=18&units=metric'));
    const counts = (page: string) => [...page.matchAll(/(\d+) (?:stitches|rows)</g)].map((match) => match[1]);
    expect(counts(html)).toEqual(counts(metric));
    expect(counts(html).length).toBeGreaterThan(1);
    expect(html).toContain('One pair for woman foot 9.5 in');
  });

  it('asks for the unit where a bare foot cannot be inches', async () => {
    const answer = await app.request('/try?person=woman&size=60.5&units=imperial');
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('centimetres or inches');
  });
});
