import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import { measureForInput, type UnitSystem } from '#core/shared/measures.ts';
import type { Problem } from '#core/shared/problem.ts';
import { undoneAlready } from '#db/stores/shelf.ts';
import { giveBackShort, handOver, takeOff, undoMove, weigh, windOffBall } from '#flows/shelf/move-yarn.ts';
import { putOnShelf } from '#flows/shelf/put-on-shelf.ts';
import { type LotView, readLot } from '#flows/shelf/read-lot.ts';
import { readShelf, type Shelf } from '#flows/shelf/read-shelf.ts';
import { addColours, dropColour, saveColour } from '#flows/shelf/save-colour.ts';
import { saveLot } from '#flows/shelf/save-lot.ts';
import { addYarn, dropYarn, saveYarn } from '#flows/shelf/save-yarn.ts';
import { pairsThatWait, readPairYarn, type Settling, type ShortLot, shortLots } from '#flows/shelf/short-pairs.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, textOf, valuesOf } from '#server/forms/fields.ts';
import { moneyForInput, numberForInput } from '#server/forms/numbers.ts';
import {
  colourRows,
  type LotFormContext,
  lengthsForInput,
  parseColour,
  parseColours,
  parseHandOver,
  parseLot,
  parsePutOnShelf,
  parseTakeOff,
  parseWeigh,
  parseWindOff,
  parseYarn,
  readDay,
} from '#server/forms/shelf.ts';
import { parseShort } from '#server/forms/shelf-short.ts';
import { renderPage } from '#server/render.tsx';
import { AddColoursPage, ColourPage } from '#views/pages/shelf/colour-fields.tsx';
import { type LotFormKind, LotFormPage } from '#views/pages/shelf/lot-forms.tsx';
import { LotPage } from '#views/pages/shelf/lot-page.tsx';
import { PutOnPage } from '#views/pages/shelf/put-on-page.tsx';
import { ShelfPage } from '#views/pages/shelf/shelf-page.tsx';
import { YarnFormPage } from '#views/pages/shelf/yarn-form.tsx';

type YarnEntry = Shelf['yarns'][number];

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));
const versionOf = (body: FormBody) => readFields(body).version();

function yarnValues({ yarn }: YarnEntry, system: UnitSystem): FormValues {
  return {
    units: system,
    name: yarn.name,
    fibre: yarn.fibre ?? '',
    ...lengthsForInput(yarn),
    ballG: measureForInput(yarn.ballMg / 1000, 'massG', system),
    category: String(yarn.category),
    strands: String(yarn.usualStrands),
    needleMm: numberForInput(yarn.needleMm),
    stitches: yarn.usualStitchesPer10Cm === null ? '' : measureForInput(yarn.usualStitchesPer10Cm, 'per10Cm', system),
    version: String(yarn.version),
  };
}

function colourValues(colour: YarnEntry['colours'][number]['colour']): FormValues {
  const hexes = colour.swatchHex.split(' ');
  return {
    'colour1-name': colour.name,
    'colour1-count': String(hexes.length),
    ...Object.fromEntries(hexes.map((hex, index) => [`colour1-hex${index + 1}`, hex])),
    version: String(colour.version),
  };
}

function findYarn(shelf: Shelf, id: number): YarnEntry {
  const found = shelf.yarns.find(({ yarn }) => yarn.id === id);
  if (!found) throw new AppError('notFound', 'This yarn is not here; it may have been removed.');
  return found;
}

function findColour(shelf: Shelf, id: number) {
  const found = shelf.yarns
    .flatMap((entry) => entry.colours.map((each) => ({ entry, ...each })))
    .find(({ colour }) => colour.id === id);
  if (!found) throw new AppError('notFound', 'This colour is not here; it may have been removed.');
  return found;
}

/** The colours to choose from, by yarn. */
function colourGroups(shelf: Shelf) {
  return shelf.yarns
    .filter(({ colours }) => colours.length > 0)
    .map(({ yarn, colours }) => ({
      group: yarn.name,
      options: colours.map(({ colour }) => ({ value: String(colour.id), words: colour.name })),
    }));
}

const lotKinds: readonly LotFormKind[] = ['weigh', 'take-off', 'wind-off', 'hand', 'change'];

function lotValues(view: LotView): FormValues {
  const { lot, shelf } = view;
  const { currency } = shelf.settings;
  return {
    dyeLot: lot.dyeLot ?? '',
    donor: lot.donor ?? '',
    place: lot.place ?? '',
    gotDay: lot.gotDay,
    returnable: lot.returnableUntilDay ?? '',
    paid: moneyForInput(lot.paidCents, currency),
    worth: moneyForInput(lot.worthCents, currency),
    version: String(lot.version),
  };
}

const fullBalls = (view: LotView) => view.balls.filter((ball) => ball.massMg > 0);

/** Yarn on the shelf: yarns, colours, lots, balls and what happened to them. */
export function shelfRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  routes.get('/', async function showShelf(c) {
    const { settings, ...current } = await readShelf(workshop);
    const today = todayIn(now(), settings.timeZone);
    const typed = (c.req.query('day') ?? '').trim();
    const fields = readFields({ day: typed });
    const day = typed === '' ? null : readDay(fields, 'day', 'Enter a day that is past', today);
    const isPast = day !== null && fields.problems.length === 0;
    const shelf = isPast ? await readShelf(workshop, day) : current;
    return renderPage(
      c,
      <ShelfPage
        {...shelf}
        purpose={settings.purpose}
        currency={settings.currency}
        onDay={isPast ? day : null}
        typedDay={typed}
        problems={fields.problems}
        due={isPast ? [] : current.dueAtShop(today)}
        short={isPast ? [] : shortLots(await workshop.store.read(readPairYarn))}
      />,
      fields.problems.length > 0 ? 422 : 200,
    );
  });

  async function showYarnForm(
    c: Context<AppEnv>,
    entry: YarnEntry | null,
    values: FormValues,
    problems: readonly Problem[] = [],
  ) {
    const { settings } = await readShelf(workshop);
    const yarn = entry ? { id: entry.yarn.id, name: entry.yarn.name, canGo: entry.colours.length === 0 } : null;
    return renderPage(
      c,
      <YarnFormPage
        purpose={settings.purpose}
        yarn={yarn}
        values={values}
        problems={problems}
        colourRows={colourRows}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/yarns/new', (c) => showYarnForm(c, null, { strands: '1' }));
  routes.post('/yarns/new', async function postYarn(c) {
    const body = await bodyOf(c);
    const { unitSystem } = (await readShelf(workshop)).settings;
    const entry = parseYarn(body, unitSystem);
    const colours = parseColours(body, false);
    const problems = [entry, colours].flatMap((part) => (part.ok ? [] : part.problems));
    if (!entry.ok || !colours.ok) return showYarnForm(c, null, valuesOf(body), problems);
    const plain = colours.value.map(({ name, swatchHex }) => ({ name, swatchHex }));
    const added = await addYarn(workshop, entry.value, plain);
    if (!added.ok) return showYarnForm(c, null, valuesOf(body), added.problems);
    return c.redirect(`/shelf#yarn-${added.value}`, 303);
  });

  routes.get('/yarns/:id{[0-9]+}', async function showYarn(c) {
    const shelf = await readShelf(workshop);
    const entry = findYarn(shelf, idOf(c));
    return showYarnForm(c, entry, yarnValues(entry, shelf.settings.unitSystem));
  });
  routes.post('/yarns/:id{[0-9]+}', async function postYarnChange(c) {
    const body = await bodyOf(c);
    const shelf = await readShelf(workshop);
    const before = findYarn(shelf, idOf(c));
    const entry = parseYarn(body, shelf.settings.unitSystem, before.yarn);
    const saved = entry.ok ? await saveYarn(workshop, before.yarn.id, entry.value, versionOf(body)) : entry;
    if (!saved.ok) return showYarnForm(c, before, valuesOf(body), saved.problems);
    return c.redirect(`/shelf#yarn-${before.yarn.id}`, 303);
  });
  routes.post('/yarns/:id{[0-9]+}/remove', async function postYarnRemoval(c) {
    await dropYarn(workshop, idOf(c), versionOf(await bodyOf(c)));
    return c.redirect('/shelf', 303);
  });

  async function showAddColours(c: Context<AppEnv>, values: FormValues, problems: readonly Problem[] = []) {
    const shelf = await readShelf(workshop);
    const { yarn } = findYarn(shelf, idOf(c));
    return renderPage(
      c,
      <AddColoursPage
        purpose={shelf.settings.purpose}
        yarn={yarn}
        rows={colourRows}
        values={values}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/yarns/:id{[0-9]+}/colours', (c) => showAddColours(c, {}));
  routes.post('/yarns/:id{[0-9]+}/colours', async function postColours(c) {
    const body = await bodyOf(c);
    const { yarn } = findYarn(await readShelf(workshop), idOf(c));
    const colours = parseColours(body, true);
    const added = colours.ok ? await addColours(workshop, yarn.id, colours.value) : colours;
    if (!added.ok) return showAddColours(c, valuesOf(body), added.problems);
    return c.redirect(`/shelf#yarn-${yarn.id}`, 303);
  });

  async function showColourForm(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const shelf = await readShelf(workshop);
    const { entry, colour, lots } = findColour(shelf, idOf(c));
    return renderPage(
      c,
      <ColourPage
        purpose={shelf.settings.purpose}
        yarn={entry.yarn}
        colour={{ id: colour.id, name: colour.name, canGo: lots.length === 0 }}
        values={typed ?? colourValues(colour)}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/colours/:id{[0-9]+}', (c) => showColourForm(c, null));
  routes.post('/colours/:id{[0-9]+}', async function postColour(c) {
    const body = await bodyOf(c);
    const { entry, colour } = findColour(await readShelf(workshop), idOf(c));
    const parsed = parseColour(body);
    const saved = parsed.ok ? await saveColour(workshop, colour.id, parsed.value, versionOf(body)) : parsed;
    if (!saved.ok) return showColourForm(c, valuesOf(body), saved.problems);
    return c.redirect(`/shelf#yarn-${entry.yarn.id}`, 303);
  });
  routes.post('/colours/:id{[0-9]+}/remove', async function postColourRemoval(c) {
    await dropColour(workshop, idOf(c), versionOf(await bodyOf(c)));
    return c.redirect('/shelf', 303);
  });

  async function showPutOn(c: Context<AppEnv>, typed: FormValues | null, problems: readonly Problem[] = []) {
    const shelf = await readShelf(workshop);
    const { settings } = shelf;
    const values = typed ?? {
      colour: c.req.query('colour') ?? '',
      reason: settings.purpose === 'give' ? 'given' : 'bought',
      gotDay: todayIn(now(), settings.timeZone),
    };
    return renderPage(
      c,
      <PutOnPage
        purpose={settings.purpose}
        currency={settings.currency}
        colours={colourGroups(shelf)}
        places={shelf.places}
        donors={shelf.donors}
        values={values}
        problems={problems}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }
  routes.get('/add', (c) => showPutOn(c, null));
  routes.post('/add', async function postPutOn(c) {
    const body = await bodyOf(c);
    const { settings, yarns } = await readShelf(workshop);
    const ballMgOfColour = new Map(
      yarns.flatMap(({ yarn, colours }) => colours.map(({ colour }) => [colour.id, yarn.ballMg] as const)),
    );
    const today = todayIn(now(), settings.timeZone);
    const parsed = parsePutOnShelf(body, {
      ballMgOfColour,
      currency: settings.currency,
      unitSystem: settings.unitSystem,
      today,
    });
    const put = parsed.ok ? await putOnShelf(workshop, parsed.value) : parsed;
    if (!put.ok) return showPutOn(c, valuesOf(body), put.problems);
    return c.redirect(`/shelf/lots/${put.value}`, 303);
  });

  /** @param refused a move that could not be undone: what was sent, why not, and who would lack yarn by it */
  async function showLotPage(
    c: Context<AppEnv>,
    view: LotView,
    refused: { values: FormValues; problems: readonly Problem[]; short?: readonly ShortLot[] | undefined } | null,
  ) {
    const { settings, knitters } = view.shelf;
    const nameOf = new Map(knitters.map((knitter) => [knitter.id, knitter.name]));
    const balls = view.balls.map((ball) => ({
      ...ball,
      knitter: ball.knitterId === null ? null : (nameOf.get(ball.knitterId) ?? null),
    }));
    const handOvers = view.handOvers.map((each) => ({
      ...each,
      knitter: each.knitterId === null ? null : (nameOf.get(each.knitterId) ?? 'a knitter'),
    }));
    const yarnOfPairs = await workshop.store.read(readPairYarn);
    const lacking = refused?.short ?? shortLots(yarnOfPairs).filter(({ lotId }) => lotId === view.lot.id);
    return renderPage(
      c,
      <LotPage
        {...view}
        balls={balls}
        handOvers={handOvers}
        short={lacking}
        waiting={pairsThatWait(yarnOfPairs).filter(({ yarnColourId }) => yarnColourId === view.colour.id)}
        values={refused?.short ? refused.values : {}}
        problems={refused?.problems ?? []}
        purpose={settings.purpose}
        currency={settings.currency}
      />,
      refused ? (refused.problems.some(({ code }) => code === undoneAlready) ? 409 : 422) : 200,
    );
  }
  routes.get('/lots/:id{[0-9]+}', async function showLot(c) {
    return showLotPage(c, await readLot(workshop, idOf(c)), null);
  });
  routes.post('/lots/:id{[0-9]+}/give-back', async function postGiveBack(c) {
    const body = await bodyOf(c);
    const view = await readLot(workshop, idOf(c));
    const answer = parseShort(body);
    const done = await giveBackShort(workshop, view.lot.id, answer);
    if (!done.ok) return showLotPage(c, view, { values: valuesOf(body), problems: done.problems });
    return c.redirect(`/shelf/lots/${view.lot.id}`, 303);
  });

  function showLotForm(
    c: Context<AppEnv>,
    kind: LotFormKind,
    view: LotView,
    values: FormValues,
    problems: readonly Problem[] = [],
    short: readonly ShortLot[] = [],
  ) {
    const { settings, knitters, places, donors } = view.shelf;
    return renderPage(
      c,
      <LotFormPage
        kind={kind}
        purpose={settings.purpose}
        currency={settings.currency}
        colour={view.colour}
        lot={view.lot}
        isGiven={view.lot.donor !== null || view.moves.some((move) => move.reason === 'given')}
        balls={fullBalls(view)}
        pairs={view.pairs}
        knitters={knitters.filter((knitter) => knitter.isActive || view.balls.some((b) => b.knitterId === knitter.id))}
        places={places}
        donors={donors}
        values={values}
        problems={problems}
        short={short}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  async function saveLotForm(kind: LotFormKind, view: LotView, body: FormBody): Promise<Settling<unknown>> {
    const { settings, knitters } = view.shelf;
    const { id } = view.lot;
    const context: LotFormContext = {
      balls: fullBalls(view),
      wholeMg: view.yarn.ballMg,
      pairIds: view.pairs.map((pair) => pair.id),
      knitterIds: knitters.map((knitter) => knitter.id),
      today: todayIn(now(), settings.timeZone),
      unitSystem: settings.unitSystem,
    };
    if (kind === 'weigh') {
      const parsed = parseWeigh(body, context);
      return parsed.ok ? weigh(workshop, id, parsed.value, parseShort(body)) : parsed;
    }
    if (kind === 'take-off') {
      const parsed = parseTakeOff(body, context);
      return parsed.ok ? takeOff(workshop, id, parsed.value, parseShort(body)) : parsed;
    }
    if (kind === 'wind-off') {
      const parsed = parseWindOff(body, context);
      return parsed.ok ? windOffBall(workshop, id, parsed.value) : parsed;
    }
    if (kind === 'hand') {
      const parsed = parseHandOver(body, context);
      return parsed.ok ? handOver(workshop, id, parsed.value) : parsed;
    }
    const parsed = parseLot(body, settings.currency, context.today);
    if (parsed.ok) await saveLot(workshop, id, parsed.value, versionOf(body));
    return parsed;
  }

  for (const kind of lotKinds) {
    routes.get(`/lots/:id{[0-9]+}/${kind}`, async function showLotAction(c) {
      const view = await readLot(workshop, idOf(c));
      const day = todayIn(now(), view.shelf.settings.timeZone);
      const values = kind === 'change' ? lotValues(view) : { ball: c.req.query('ball') ?? '', day };
      return showLotForm(c, kind, view, values);
    });
    routes.post(`/lots/:id{[0-9]+}/${kind}`, async function postLotAction(c) {
      const body = await bodyOf(c);
      const view = await readLot(workshop, idOf(c));
      const saved = await saveLotForm(kind, view, body);
      if (!saved.ok) return showLotForm(c, kind, view, valuesOf(body), saved.problems, saved.short);
      return c.redirect(`/shelf/lots/${view.lot.id}`, 303);
    });
  }

  routes.post('/lots/:id{[0-9]+}/undo', async function postUndo(c) {
    const view = await readLot(workshop, idOf(c));
    const body = await bodyOf(c);
    const moveId = Number(textOf(body, 'move'));
    if (!view.moves.some((move) => move.id === moveId)) throw new AppError('notFound', 'This move is no longer there.');
    const day = todayIn(now(), view.shelf.settings.timeZone);
    const undone = await undoMove(workshop, view.lot.id, moveId, day, parseShort(body));
    if (!undone.ok) return showLotPage(c, view, { values: valuesOf(body), ...undone });
    return c.redirect(`/shelf/lots/${view.lot.id}`, 303);
  });

  return routes;
}
