import { type Context, Hono } from 'hono';
import type { Result } from '#core/shared/problem.ts';
import {
  readSheet,
  readSheetChoices,
  type Sheet,
  type SheetChoices,
  sheetTable,
  togetherByPrice,
} from '#flows/pricing/sheet.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { writeCsv } from '#server/forms/csv.ts';
import type { FormValues } from '#server/forms/fields.ts';
import { readSheetForm, type SheetForm, sheetValues } from '#server/forms/price-sheet.ts';
import { tagSystems } from '#server/forms/tags.ts';
import { renderPage } from '#server/render.tsx';
import { SheetPrintPage } from '#views/pages/pricing/sheet-print.tsx';

type Asked = {
  readonly plan: WorkshopPlan;
  readonly choices: SheetChoices;
  readonly values: FormValues;
  readonly form: Result<SheetForm>;
};

const nothingPrinted: SheetForm['print'] = {
  hasSeconds: false,
  isTogether: false,
  type: 'large',
  paper: 'a4',
  workshopName: '',
};

function shownSheet(sheet: Sheet, isTogether: boolean): Sheet {
  if (!isTogether) return sheet;
  return { ...sheet, groups: sheet.groups.map((group) => ({ ...group, rows: togetherByPrice(group.rows) })) };
}

/** Price sheets to print, and as a table. */
export function priceSheetRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function readAsked(c: Context<AppEnv>): Promise<Asked> {
    const plan = await readPlan(workshop, now());
    const choices = readSheetChoices(plan);
    const values = sheetValues(c.req.queries(), choices);
    return { plan, choices, values, form: readSheetForm(values, choices) };
  }

  function showSheet(c: Context<AppEnv>, { plan, choices, values, form }: Asked) {
    const { settings, today } = plan;
    const isShowable = choices.usual !== null && settings.purpose !== 'give';
    const problems = form.ok || !isShowable ? [] : form.problems;
    const asked = form.ok && isShowable ? form.value : null;
    const page = (
      <SheetPrintPage
        {...choices}
        sheet={asked && shownSheet(readSheet(plan, asked.wish), asked.print.isTogether)}
        systems={asked?.wish.systems ?? []}
        print={asked?.print ?? nothingPrinted}
        today={today}
        currency={settings.currency}
        taxNote={settings.taxNote}
        csvHref={`/pricing/sheet/prices.csv?${new URLSearchParams(values)}`}
        offeredSystems={tagSystems}
        values={values}
        purpose={settings.purpose}
        problems={problems}
      />
    );
    return renderPage(c, page, problems.length > 0 ? 422 : 200);
  }

  routes.get('/', async function showPriceSheet(c) {
    return showSheet(c, await readAsked(c));
  });

  routes.get('/prices.csv', async function sendPrices(c) {
    const asked = await readAsked(c);
    if (!asked.form.ok || asked.plan.settings.purpose === 'give') return showSheet(c, asked);
    const { wish } = asked.form.value;
    return c.body(writeCsv(sheetTable(readSheet(asked.plan, wish), wish, asked.plan)), 200, {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': 'attachment; filename="prices.csv"',
    });
  });

  return routes;
}
