import type { Result } from '#core/shared/problem.ts';
import { type SheetChoices, type SheetRun, type SheetWish, sheetRuns } from '#flows/pricing/sheet.ts';
import { type FormValues, readFields } from '#server/forms/fields.ts';
import { papers, tagSystems } from '#server/forms/tags.ts';

export const typeSizes = ['large', 'usual'] as const;

export type SheetPrint = {
  readonly hasSeconds: boolean;
  /** Sizes of one price in one line. */
  readonly isTogether: boolean;
  readonly type: (typeof typeSizes)[number];
  readonly paper: (typeof papers)[number];
  readonly workshopName: string;
};

export type SheetForm = { readonly wish: SheetWish; readonly print: SheetPrint };

type Query = Readonly<Record<string, string[]>>;

/** More would not be read on paper. */
export const mostColumns = 6;
const mostNameLetters = 60;

const checked = (names: readonly string[]) => Object.fromEntries(names.map((name) => [name, 'yes']));

/** What the form shows: as it was sent, or the usual for a fresh one. An address with an outlet alone is fresh. */
export function sheetValues(query: Query, { usual, workshopName }: SheetChoices): FormValues {
  const sent = Object.fromEntries(Object.entries(query).map(([name, values]) => [name, values.at(-1) ?? '']));
  if (query.paper !== undefined || usual === null) return sent;
  return {
    outlet: String(usual.outletId),
    ...checked(usual.runs.map((run) => `run-${run}`)),
    ...checked(usual.styleIds.map((id) => `style-${id}`)),
    ...checked(usual.yarns.map((value) => `yarn-${value}`)),
    ...checked(usual.systems.map((system) => `system-${system}`)),
    together: 'yes',
    type: 'large',
    paper: 'a4',
    name: workshopName,
    ...sent,
  };
}

/** What to print, out of the values of the form. */
export function readSheetForm(values: FormValues, choices: SheetChoices): Result<SheetForm> {
  const fields = readFields(values);
  const outletId = fields.optionalId(
    'outlet',
    choices.outlets.map(({ id }) => id),
    { sentence: 'Choose the outlet that the prices are for' },
  );
  if (outletId === null && (values.outlet ?? '').trim() === '') {
    fields.say('outlet', 'Choose the outlet that the prices are for.');
  }
  const isOffered = (run: SheetRun) => run !== 'bands' || choices.hasBands;
  const runs = sheetRuns.filter((run) => isOffered(run) && fields.check(`run-${run}`));
  if (runs.length === 0) fields.say('run-woman', 'Choose at least one run of sizes, like Women.');
  const styleIds = choices.styles.map(({ id }) => id).filter((id) => fields.check(`style-${id}`));
  const firstStyle = `style-${choices.styles[0]?.id}`;
  if (styleIds.length === 0) fields.say(firstStyle, 'Choose at least one style.');
  const yarns = choices.yarns.map(({ value }) => value).filter((value) => fields.check(`yarn-${value}`));
  if (yarns.length === 0) fields.say(`yarn-${choices.yarns[0]?.value}`, 'Choose at least one yarn.');
  const columns = styleIds.length * yarns.length;
  if (columns > mostColumns) {
    const message = `${styleIds.length} styles in ${yarns.length} yarns are ${columns} columns: choose fewer, ${mostColumns} columns at most.`;
    fields.say(firstStyle, message);
  }
  const systems = tagSystems.filter((system) => fields.check(`system-${system}`));
  const type = fields.choice('type', typeSizes, { sentence: 'Choose large or usual type' });
  const paper = fields.choice('paper', papers, { sentence: 'Choose A4 or US letter' });
  const workshopName = fields.optionalText('name', mostNameLetters) ?? '';
  return fields.result(() => ({
    wish: { outletId: outletId ?? 0, runs, styleIds, yarns, systems },
    print: {
      hasSeconds: fields.check('second'),
      isTogether: fields.check('together'),
      type,
      paper,
      workshopName,
    },
  }));
}
