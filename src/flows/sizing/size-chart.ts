import { kindFor } from '#core/batch/kinds.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { formatLength, gramsInOunce, mmInInch, type UnitSystem } from '#core/shared/measures.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { labelsForLength } from '#core/sizing/labels.ts';
import { euRun } from '#core/sizing/size-run.ts';
import type { Spec } from '#core/styles/spec.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import type { Style } from '#core/styles/style.ts';
import type { YarnChoice } from '#flows/try/try-pair.ts';

export type SizeChartRow = {
  readonly size: string;
  readonly labels: readonly { readonly system: string; readonly label: string }[];
  readonly lengthMm: number;
  readonly spec: Spec;
  readonly grams: number;
};

export type SizeChartWish = {
  readonly person: Person;
  readonly style: Style;
  readonly yarn: YarnChoice;
  readonly hand: Hand;
  readonly usWomenOffset: number;
  readonly unitSystem: UnitSystem;
  readonly bands: readonly { readonly name: string; readonly person: Person; readonly lengthMm: number }[];
};

/** Counts of a style in one yarn and hand over a person's run of sizes, then over the workshop's own bands. */
export function sizeChart(wish: SizeChartWish): { readonly sizes: SizeChartRow[]; readonly bands: SizeChartRow[] } {
  const rowOf = (size: string, person: Person, lengthMm: number): SizeChartRow => {
    const roles = wish.style.body.roles.map((role) => role.name);
    const { shape } = kindFor({
      style: wish.style,
      foot: footFrom({ person, lengthMm }),
      fit: 'usual',
      yarns: Object.fromEntries(roles.map((role) => [role, wish.yarn.strands])),
      colours: Object.fromEntries(roles.map((role) => [role, wish.yarn.strands.map(() => 0)])),
      cuff: 'short',
    });
    const { spec } = specifyWithWorking(shape, wish.hand);
    const grams = spec.metres.reduce(
      (sum, each) => sum + (each.metres.mean * (wish.yarn.strands[each.strand]?.tex ?? 0)) / 1000,
      0,
    );
    return { size, labels: labelsForLength(person, lengthMm, wish.usWomenOffset), lengthMm, spec, grams };
  };
  return {
    sizes: euRun(wish.person).map(({ eu, lengthMm }) => rowOf(`EU ${eu}`, wish.person, lengthMm)),
    bands: wish.bands
      .filter((band) => band.person === wish.person)
      .map((band) =>
        rowOf(`${band.name} (${formatLength(band.lengthMm, wish.unitSystem)})`, band.person, band.lengthMm),
      ),
  };
}

/** What the knitter's hands do, and nothing else: slippers that are alike in it are one slipper. */
function countsKey({ spec }: SizeChartRow): string {
  const pieces = spec.pieces.map(({ castOnStitches, sections }) => [
    castOnStitches,
    ...sections.map((section) => [section.rows, section.stitchesAfter]),
  ]);
  return JSON.stringify([pieces, spec.measures.markRows]);
}

/**
 * Neighbouring sizes that come out as one and the same slipper.
 *
 * @returns the sizes of each slipper that more than one label shares
 */
export function sharedSlippers(rows: readonly SizeChartRow[]): string[][] {
  const groups: { readonly key: string; readonly sizes: string[] }[] = [];
  for (const row of rows) {
    const key = countsKey(row);
    const last = groups.at(-1);
    if (last?.key === key) last.sizes.push(row.size);
    else groups.push({ key, sizes: [row.size] });
  }
  return groups.filter((group) => group.sizes.length > 1).map((group) => group.sizes);
}

/** The chart as a table for a spreadsheet: a heading, then a line for each size; lengths and weights in the workshop's units. */
export function sizeChartTable(rows: readonly SizeChartRow[], system: UnitSystem): string[][] {
  const isMetric = system === 'metric';
  const length = (mm: number) => (isMetric ? String(roundHalfUp(mm) / 10) : (mm / mmInInch).toFixed(2));
  const mass = (grams: number) => (isMetric ? String(roundHalfUp(grams)) : (grams / gramsInOunce).toFixed(2));
  const [tape, scale] = isMetric ? ['cm', 'g'] : ['in', 'oz'];
  const label = (row: SizeChartRow, system: string) => row.labels.find((each) => each.system === system)?.label ?? '';
  const pieces = rows[0]?.spec.pieces.map((piece) => piece.name) ?? [];
  const ofPieces = pieces.flatMap((name) => [`${name} cast on`, `${name} rows`, `${name} last stitches`]);
  return [
    [
      'size',
      'UK',
      'US',
      `foot ${tape}`,
      ...ofPieces,
      'mark at row',
      `width ${tape}`,
      `length ${tape}`,
      `yarn ${scale}`,
    ],
    ...rows.map((row) => [
      ...[row.size, label(row, 'UK'), label(row, 'US'), length(row.lengthMm)],
      ...row.spec.pieces.flatMap((piece) => [piece.castOnStitches, piece.totalRows, piece.lastStitches].map(String)),
      row.spec.measures.markRows > 0 ? String(row.spec.measures.markRows) : '',
      ...[length(row.spec.measures.widthMm), length(row.spec.measures.lengthMm), mass(row.grams)],
    ]),
  ];
}
