import { kindFor } from '#core/batch/kinds.ts';
import type { Hand } from '#core/gauge/hand.ts';
import { formatMmAsCm } from '#core/shared/format.ts';
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
      .map((band) => rowOf(`${band.name} (${formatMmAsCm(band.lengthMm)})`, band.person, band.lengthMm)),
  };
}
