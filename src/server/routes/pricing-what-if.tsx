import { type Context, Hono } from 'hono';
import type { Problem } from '#core/shared/problem.ts';
import type { SettingName } from '#core/shared/settings.ts';
import { readPrices } from '#flows/pricing/read-prices.ts';
import { compareTrial, trialNow } from '#flows/pricing/what-if.ts';
import { saveSettings } from '#flows/settings/save-settings.ts';
import type { AppDeps, AppEnv } from '#server/app.ts';
import { type FormBody, type FormValues, readFields, valuesOf } from '#server/forms/fields.ts';
import { readSeen, readSettingsForm, seenText, settingValues } from '#server/forms/settings.ts';
import { renderPage } from '#server/render.tsx';
import { WhatIfPage } from '#views/pages/pricing/what-if.tsx';

const trialSettings: readonly SettingName[] = ['wageCentsPerHour', 'runningCostsCentsPerMonth', 'plannedHoursPerMonth'];

/** Costs and prices before and after a change. */
export function pricingWhatIfRoutes({ workshop, now }: AppDeps): Hono<AppEnv> {
  const routes = new Hono<AppEnv>();

  async function showWhatIfPage(c: Context<AppEnv>, typed: FormValues, known: readonly Problem[] = []) {
    const prices = await readPrices(workshop, now());
    const { settings } = prices.plan;
    const { currency, unitSystem, purpose } = settings;
    const values: FormValues = { ...settingValues(trialSettings, settings), yarn: '0', ...typed };
    const selling = prices.outlets.filter((outlet) => outlet.kind !== 'gift');
    const form = readFields(values, currency);
    const wished = readSettingsForm(values, trialSettings, currency, unitSystem);
    const yarnChangeRatio = form.percent('yarn', {
      sentence: 'Enter how much dearer yarn gets, like 10, or -10 for cheaper',
      least: -0.9,
      most: 10,
    });
    const optionalPercent = (name: string, sentence: string, most: number) =>
      (values[name] ?? '').trim() === '' ? null : form.percent(name, { sentence, least: 0, most });
    const feeRatio = optionalPercent('fee', 'Enter the fee in percent, like 2.5, or leave it empty', 0.95);
    const taxRatio = optionalPercent('tax', 'Enter the tax in percent, like 19, or leave it empty', 1);
    const id = form.optionalId(
      'at',
      selling.map((outlet) => outlet.id),
      { sentence: 'Choose an outlet of the list' },
    );
    const problems = [...known, ...(wished.ok ? [] : wished.problems), ...form.problems];
    const outlet = selling.find((each) => each.id === id) ?? selling[0];
    const before = trialNow(prices.plan);
    const trial = { ...before, ...(wished.ok ? wished.value : {}), yarnChangeRatio, feeRatio, taxRatio };
    const isTried = Object.keys(typed).length > 0 && problems.length === 0;
    return renderPage(
      c,
      <WhatIfPage
        values={values}
        problems={problems}
        rows={isTried && outlet ? compareTrial(prices, outlet, trial) : null}
        outlets={selling.map((each) => ({ value: String(each.id), words: each.name }))}
        outletName={outlet?.name ?? ''}
        isEmpty={prices.sizes.length === 0}
        isChanged={trialSettings.some((name) => settings[name] !== trial[name as keyof typeof trial])}
        outletId={feeRatio !== null || taxRatio !== null ? (outlet?.id ?? null) : null}
        isYarnChanged={yarnChangeRatio !== 0}
        seen={seenText(trialSettings, settings)}
        currency={currency}
        purpose={purpose}
      />,
      problems.length > 0 ? 422 : 200,
    );
  }

  routes.get('/', function showWhatIf(c) {
    return showWhatIfPage(c, c.req.query());
  });

  routes.post('/', async function saveTrial(c) {
    const body = (await c.req.parseBody({ all: true })) as FormBody;
    const { seen, currency, units } = readSeen(body, trialSettings);
    const wished = readSettingsForm(body, trialSettings, currency, units);
    if (!wished.ok) {
      const { wageCentsPerHour = '', runningCostsCentsPerMonth = '', plannedHoursPerMonth = '' } = valuesOf(body);
      return showWhatIfPage(c, { wageCentsPerHour, runningCostsCentsPerMonth, plannedHoursPerMonth });
    }
    await saveSettings(workshop, wished.value, seen);
    return c.redirect('/pricing/hour', 303);
  });

  return routes;
}
