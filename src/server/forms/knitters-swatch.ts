import { loopLengthCm } from '#core/gauge/gauge.ts';
import { needleMmFromText } from '#core/gauge/needle-text.ts';
import { formatMass, measureForInput, mmOfGauge, type UnitSystem, unitOf } from '#core/shared/measures.ts';
import type { Result } from '#core/shared/problem.ts';
import type { Settings } from '#core/shared/settings.ts';
import { fabrics } from '#core/styles/fabrics.ts';
import type { SwatchRow } from '#db/stores/gauge.ts';
import type { FirstFootEntry, FootInHand } from '#flows/knitters/first-foot.ts';
import type { SwatchEntry } from '#flows/knitters/save-swatch.ts';
import { type FieldReader, type FormBody, type FormValues, readFields, textOf } from '#server/forms/fields.ts';
import { numberForInput } from '#server/forms/numbers.ts';

export type SwatchChoices = {
  readonly knitterIds: readonly number[];
  readonly yarnIds: readonly number[];
  /** Grams in 1000 m of a yarn; 0 for one that is not there. */
  readonly texOf: (yarnId: number) => number;
  readonly unitSystem: UnitSystem;
};

function readLength(form: FieldReader, name: string, metric: string, imperial: string): number {
  const range = { least: 20, most: 2000 };
  return form.measure(name, 'lengthMm', { sentence: { metric, imperial }, ...range });
}

function readNeedle(form: FieldReader): number | null {
  const text = form.optionalText('needleMm', 60);
  if (text === null) return null;
  const needle = needleMmFromText(text);
  if (needle.ok) return needle.value;
  for (const { path, message } of needle.problems) form.say(path, message);
  return null;
}

function readScaleStep(form: FieldReader): number | null {
  return form.optionalMeasure('scaleStepG', 'fineMassG', {
    sentence: {
      metric: 'Enter the smallest step of your scale in grams, like 1 or 0.1',
      imperial: 'Enter the smallest step of your scale in ounces, like 0.05 or 0.005',
    },
    least: 0.01,
    most: 10,
  });
}

/** A knitted square's form. Measures are in the workshop's units unless another is written. */
export function readSwatchForm(
  body: FormBody,
  { knitterIds, yarnIds, unitSystem, texOf }: SwatchChoices,
): Result<SwatchEntry & { readonly scaleStepG: number | null }> {
  const form = readFields(body, undefined, unitSystem);
  const yarnId = form.optionalId('yarnId', yarnIds, { sentence: 'Choose a yarn of the list' });
  if (textOf(body, 'yarnId') === '') form.say('yarnId', 'Choose the yarn it is knitted with.');
  const secondYarnId = form.optionalId('secondYarnId', yarnIds, { sentence: 'Choose a yarn of the list, or none' });
  const strands = form.number('strands', {
    sentence: 'Choose one, two or three strands',
    least: 1,
    most: 3,
    isWhole: true,
  });
  if (secondYarnId !== null && strands !== 2) {
    form.say('strands', 'With another yarn held together there are two strands: choose two.');
  }
  const massG = form.optionalMeasure('massG', 'massG', {
    sentence: {
      metric: 'Enter the grams of the whole square, like 28, or leave it empty',
      imperial: 'Enter the ounces of the whole square, like 1, or leave it empty',
    },
    least: 0.1,
    most: 5000,
  });
  const entry: SwatchEntry = {
    knitterId: form.optionalId('knitterId', knitterIds, { sentence: 'Choose one of the knitters, or the workshop' }),
    yarnId: yarnId ?? 0,
    secondYarnId: secondYarnId === yarnId ? null : secondYarnId,
    strands,
    needleMm: readNeedle(form),
    fabric: form.choice(
      'fabric',
      fabrics.map((fabric) => fabric.name),
      { sentence: 'Choose what it is knitted in' },
    ),
    stitches: form.number('stitches', { sentence: 'Enter the stitches you counted, like 24.5', least: 2, most: 900 }),
    rows: form.number('rows', { sentence: 'Enter the rows you counted, like 30', least: 2, most: 900 }),
    widthMm: readLength(
      form,
      'width',
      'Enter over how many cm you counted the stitches, like 18',
      'Enter over how many inches you counted the stitches, like 7',
    ),
    heightMm: readLength(
      form,
      'height',
      'Enter over how many cm you counted the rows, like 15',
      'Enter over how many inches you counted the rows, like 6',
    ),
    massMg: massG === null ? null : Math.round(massG * 1000),
    isWashed: form.check('isWashed'),
    madeDay: form.optionalDay('madeDay', { sentence: 'Choose a day of the calendar, or leave it empty' }),
    leftOutReason: form.optionalText('leftOutReason', 200),
  };
  checkGauge(form, entry);
  checkWeight(form, entry, texOf);
  const scaleStepG = readScaleStep(form);
  return form.result(() => ({ ...entry, scaleStepG }));
}

/** Far from any slipper: a slip of the pen rather than a gauge. Our own bounds, twice beyond lace and jumbo. */
function checkGauge(
  form: FieldReader,
  { stitches, rows, widthMm, heightMm }: Pick<SwatchEntry, 'stitches' | 'rows' | 'widthMm' | 'heightMm'>,
  rowsField = 'rows',
): void {
  if (form.problems.length > 0) return;
  const per10 = (count: number, mm: number) => (count * 100) / mm;
  const say = (name: string, count: number, what: string) => {
    const shown = numberForInput((count * mmOfGauge[form.units]) / 100, 1);
    form.say(name, `That makes ${shown} ${what} ${unitOf('per10Cm', form.units)}. Count again, or check the length.`);
  };
  if (per10(stitches, widthMm) < 3 || per10(stitches, widthMm) > 80)
    say('stitches', per10(stitches, widthMm), 'stitches');
  if (per10(rows, heightMm) < 3 || per10(rows, heightMm) > 120) say(rowsField, per10(rows, heightMm), 'rows');
}

/** Further than this from what the gauge alone says, the weight is a slip of the decimal point. Our own bound. */
const mostWeightRatio = 3;

function checkWeight(form: FieldReader, entry: SwatchEntry, texOf: SwatchChoices['texOf']): void {
  if (form.problems.length > 0 || entry.massMg === null || entry.fabric !== 'stocking') return;
  const tex = texOf(entry.yarnId) + texOf(entry.secondYarnId ?? entry.yarnId) * (entry.strands - 1);
  const loopCm = loopLengthCm((entry.stitches * 100) / entry.widthMm, (entry.rows * 100) / entry.heightMm, 21.6);
  const usualG = (entry.stitches * entry.rows * loopCm * tex) / 100_000;
  const ratio = entry.massMg / 1000 / usualG;
  if (ratio <= mostWeightRatio && ratio >= 1 / mostWeightRatio) return;
  const about = formatMass(usualG, form.units);
  form.say('massG', `So many stitches of this yarn weigh about ${about}. Weigh the square again, or leave it empty.`);
}

/** A square as its form shows it. */
export function swatchValues(row: SwatchRow, { scaleStepG, unitSystem }: Settings): FormValues {
  return {
    units: unitSystem,
    knitterId: row.knitterId === null ? '' : String(row.knitterId),
    yarnId: String(row.yarnId),
    secondYarnId: row.secondYarnId === null ? '' : String(row.secondYarnId),
    strands: String(row.strands),
    needleMm: numberForInput(row.needleMm, 2),
    fabric: row.fabric,
    stitches: numberForInput(row.stitches, 2),
    rows: numberForInput(row.rows, 2),
    width: measureForInput(row.widthMm, 'lengthMm', unitSystem),
    height: measureForInput(row.heightMm, 'lengthMm', unitSystem),
    massG: row.massMg === null ? '' : measureForInput(row.massMg / 1000, 'massG', unitSystem),
    isWashed: row.isWashed ? 'yes' : '',
    madeDay: row.madeDay ?? '',
    leftOutReason: row.leftOutReason ?? '',
    scaleStepG: measureForInput(scaleStepG, 'fineMassG', unitSystem),
    version: String(row.version),
  };
}

/** The first foot's form: so many stitches across, ten rows, perhaps its weight. */
export function readFirstFootForm(
  body: FormBody,
  knitterIds: readonly number[],
  unitSystem: UnitSystem,
): Result<FirstFootEntry> {
  const form = readFields(body, undefined, unitSystem);
  const entry: FirstFootEntry = {
    knitterId: form.optionalId('knitterId', knitterIds, { sentence: 'Choose who knitted it' }) ?? knitterIds[0] ?? 0,
    stitches: form.number('stitches', {
      sentence: 'Enter the stitches across, like 28',
      least: 4,
      most: 300,
    }),
    widthMm: readLength(
      form,
      'width',
      'Enter how wide the foot lies, flat, like 20.8',
      'Enter how wide the foot lies, flat, like 8 1/4',
    ),
    tenRowsMm: readLength(
      form,
      'tenRows',
      'Enter how long ten rows are, like 5.6',
      'Enter how long ten rows are, like 2.2',
    ),
    massG: form.optionalMeasure('massG', 'massG', {
      sentence: {
        metric: 'Enter the grams of the foot with its tails, like 38, or leave it empty',
        imperial: 'Enter the ounces of the foot with its tails, like 1.35, or leave it empty',
      },
      least: 1,
      most: 1000,
    }),
    needleMm: readNeedle(form),
    isWashed: form.check('isWashed'),
    madeDay: form.optionalDay('madeDay', { sentence: 'Choose a day of the calendar, or leave it empty' }),
  };
  checkGauge(
    form,
    { stitches: entry.stitches, rows: 10, widthMm: entry.widthMm, heightMm: entry.tenRowsMm },
    'tenRows',
  );
  return form.result(() => entry);
}

/** What the first foot's form begins with: the counts of her card. */
export function firstFootValues(foot: FootInHand, today: string): FormValues {
  return {
    knitterId: String(foot.knitterId),
    stitches: String(foot.castOnStitches),
    needleMm: numberForInput(foot.needleMm, 2),
    madeDay: today,
  };
}
