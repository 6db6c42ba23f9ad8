import { type Context, Hono } from 'hono';
import { AppError } from '#core/shared/app-error.ts';
import type { Problem } from '#core/shared/problem.ts';
import { YarnUnknown } from '#flows/batch/finish-yarn.ts';
import { missingToFinish } from '#flows/batch/missing-to-finish.ts';
import { stepPair } from '#flows/batch/step-pair.ts';
import { countRows, type Place, tickStep } from '#flows/cards/count-rows.ts';
import { answerBall, type CardPlace, type PairCard, readPairCard } from '#flows/cards/pair-card.ts';
import { readRuns, readSheets } from '#flows/cards/read-runs.ts';
import { readPlan } from '#flows/read-plan.ts';
import { todayIn } from '#flows/today.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { renderFinish } from '#server/finish.tsx';
import { parseStep } from '#server/forms/batch.ts';
import { parseBall, parseCount, parsePlace, parseTick, readPrintWish } from '#server/forms/cards.ts';
import { type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { pageHrefs, pageWish } from '#server/forms/page-wish.ts';
import { renderFragment, renderPage, wantsFragment } from '#server/render.tsx';
import { pairYarnHref } from '#server/routes/pair-yarn.tsx';
import { CardsPage } from '#views/pages/cards/cards-page.tsx';
import { Knitting, PairPage, type PairPageProps, placeHref } from '#views/pages/cards/pair-page.tsx';
import { PrintPage } from '#views/pages/cards/print-page.tsx';

const bodyOf = (c: Context<AppEnv>): Promise<FormBody> => c.req.parseBody({ all: true });
const idOf = (c: Context<AppEnv>): number => Number(c.req.param('id'));

/** Where the knitter was: what the address names, else the first piece that is not done. */
function placeIn({ places }: PairCard, asked: Place | null): CardPlace {
  const named = asked && places.find(({ piece, slipper }) => piece === asked.piece && slipper === asked.slipper);
  return named ?? places.find((place) => !place.isDone) ?? places[0]!;
}

/** The colours that are knitted in a piece first, then the pair's others. */
function ballColours({ input }: PairCard): { id: number; words: string }[] {
  const ids = [...new Set(input.strands.map((strand) => strand.yarnColourId))];
  return ids.map((id) => ({ id, words: input.strands.find((strand) => strand.yarnColourId === id)!.colour }));
}

function propsOf(pairCard: PairCard, place: CardPlace): PairPageProps {
  const { pair, sheet, places } = pairCard;
  return {
    pairId: pair.row.id,
    version: pair.row.version,
    sheet,
    places,
    place,
    isFinished: pair.isFinished,
    left: pair.row.left,
    stages: pair.pieces,
    colours: ballColours(pairCard).map(({ id, words }) => ({ value: String(id), words })),
    ball: { values: {}, answer: null },
  };
}

/** Knitting cards: on paper for a pile of pairs, on the phone for the pair in hand. */
export function cardsRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();
  const readCard = async (pairId: number) => readPairCard(workshop, await readPlan(workshop, now()), pairId);

  routes.get('/', async function showCards(c) {
    const runs = readRuns(await readPlan(workshop, now()), pageWish(c));
    return renderPage(c, <CardsPage {...runs} pageHref={pageHrefs('/cards')} />);
  });

  routes.get('/print', async function showPrint(c) {
    const wish = readPrintWish(c.req.queries());
    const sheets = readSheets(await readPlan(workshop, now()), wish);
    const { paper, layout, print } = wish;
    return renderPage(c, <PrintPage sheets={sheets} paper={paper} layout={layout} print={print} back="/cards" />);
  });

  routes.get('/pair/:id{[0-9]+}', async function showPair(c) {
    const query = c.req.query();
    const asked = query.piece === undefined ? null : parsePlace(query);
    const pairCard = await readCard(idOf(c));
    const place = placeIn(pairCard, asked);
    const props = propsOf(pairCard, place);
    if (query.grams === undefined) return renderPage(c, <PairPage {...props} />);
    const values: FormValues = {
      units: query.units ?? '',
      grams: query.grams,
      bag: query.bag ?? '',
      colour: query.colour ?? '',
    };
    const parsed = parseBall(
      values,
      ballColours(pairCard).map(({ id }) => id),
      pairCard.input.unitSystem,
    );
    if (!parsed.ok) {
      return renderPage(c, <PairPage {...props} ball={{ values, answer: null }} problems={parsed.problems} />, 422);
    }
    const answer = answerBall(pairCard, place, parsed.value.yarnColourId, parsed.value.gramsLeft);
    return renderPage(c, <PairPage {...props} ball={{ values, answer }} />);
  });

  type Refusal = { readonly notice?: string; readonly problems?: readonly Problem[]; readonly setTo?: string };

  /** The pair again as it is now: the part that was renewed, or the page it stands on. */
  async function answerPress(c: Context<AppEnv>, asked: Place, refusal: Refusal | null = null) {
    if (!refusal && !wantsFragment(c)) return c.redirect(placeHref(idOf(c), asked), 303);
    const pairCard = await readCard(idOf(c));
    const props = { ...propsOf(pairCard, placeIn(pairCard, asked)), ...refusal };
    const status = refusal ? (refusal.problems ? 422 : 409) : 200;
    return wantsFragment(c)
      ? renderFragment(c, <Knitting {...props} />, refusal?.problems ? 422 : 200)
      : renderPage(c, <PairPage {...props} />, status);
  }

  routes.post('/pair/:id{[0-9]+}/rows', async function postRows(c) {
    const body = await bodyOf(c);
    const asked = parsePlace(body);
    const place = placeIn(await readCard(idOf(c)), asked);
    const parsed = parseCount(body, place.rows);
    if (!parsed.ok) {
      return answerPress(c, asked, { problems: parsed.problems, setTo: textOf(body, 'setTo') });
    }
    try {
      await countRows(workshop, idOf(c), asked, parsed.value);
    } catch (error) {
      if (!(error instanceof AppError && error.code === 'conflict')) throw error;
      return answerPress(c, asked, { notice: error.message, setTo: textOf(body, 'setTo') });
    }
    return answerPress(c, asked);
  });

  routes.post('/pair/:id{[0-9]+}/steps', async function postStep(c) {
    const body = await bodyOf(c);
    const asked = parsePlace(body);
    const place = placeIn(await readCard(idOf(c)), asked);
    const parsed = parseTick(
      body,
      place.steps.map(({ key }) => key),
    );
    if (!parsed.ok) return answerPress(c, asked, { notice: parsed.problems[0]!.message });
    await tickStep(workshop, idOf(c), asked, parsed.value.step, parsed.value.isDone);
    return answerPress(c, asked);
  });

  routes.post('/pair/:id{[0-9]+}/done', async function postDone(c) {
    const body = await bodyOf(c);
    const asked = parsePlace(body);
    const parsed = parseStep(body);
    if (!parsed.ok) return answerPress(c, asked, { notice: parsed.problems[0]!.message });
    const { settings } = await readPlan(workshop, now());
    const missing = textOf(body, 'sure') === 'yes' ? [] : await missingToFinish(workshop, idOf(c), parsed.value);
    if (missing.length > 0) return renderFinish(c, { purpose: settings.purpose, pairId: idOf(c), missing }, body);
    try {
      await stepPair(workshop, idOf(c), parsed.value, todayIn(now(), settings.timeZone), readFields(body).version());
    } catch (error) {
      if (error instanceof YarnUnknown) {
        return c.redirect(pairYarnHref(idOf(c), textOf(body, 'step'), `/cards/pair/${idOf(c)}`), 303);
      }
      if (!(error instanceof AppError && error.code === 'conflict')) throw error;
      return answerPress(c, asked, { notice: error.message });
    }
    return c.redirect(`/cards/pair/${idOf(c)}`, 303);
  });

  return routes;
}
