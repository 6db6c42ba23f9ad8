import { requireRange } from '#core/shared/check.ts';
import type { Person } from '#core/sizing/foot.ts';
import { footLengthRangeMm, requireFootLength } from '#core/sizing/foot-range.ts';
import { labelRuleFor, systemsFor } from '#core/sizing/label-rules.ts';
import { labelOf, labelsForLength, type SizeLabel } from '#core/sizing/labels.ts';

// Shops sell EU sizes by whole numbers; the other systems are read in the steps of their tables.
const euStep = 1;
// A band made from sizes ends exactly on one: a rounding error must not put it outside.
const hair = 1e-6;

/**
 * From one label to another; what both begin with is said once.
 *
 * @example labelRange('36', '37') // => '36–37'
 * @example labelRange('36', '36') // => '36'
 * @example labelRange('infant 2', 'infant 3.5') // => 'infant 2–3.5'
 * @example labelRange('13.5', 'junior 1') // => '13.5–junior 1'
 */
export function labelRange(from: string, to: string): string {
  if (from === to) return from;
  const stage = /^\D+ /.exec(from)?.[0] ?? '';
  return `${from}–${stage !== '' && to.startsWith(stage) ? to.slice(stage.length) : to}`;
}

/**
 * The sizes that lie in a band of foot lengths, in every system: from the smallest to the largest of them; the size
 * nearest to the middle where none lies within.
 *
 * @param person whose feet
 * @param fromMm shortest foot in mm, 60 to 360
 * @param toMm longest foot in mm, from `fromMm` to 360
 * @param usWomenOffset US women's size less UK size, 2 or 2.5
 * @returns in the order EU, UK, US, Japan, Mondopoint; a system in which such feet have no size is left out
 * @throws {RangeError} when a length is out of range or the two are the wrong way round
 * Source: ISO/TS 19407:2015, read second-hand, as for single labels; whole EU sizes are our own choice
 * @example labelsForBand('unknown', 730 / 3, 770 / 3).slice(0, 2) // => [{ system: 'EU', label: '39–40' }, { system: 'UK', label: '6–7' }], EU 38.5 to 40.5
 * @example labelsForBand('woman', 240, 240)[0] // => { system: 'EU', label: '38' }
 * @example labelsForBand('woman', 241, 242)[0] // => { system: 'EU', label: '38' }, none lies within
 */
export function labelsForBand(person: Person, fromMm: number, toMm: number, usWomenOffset = 2): readonly SizeLabel[] {
  requireFootLength('labelsForBand: fromMm', fromMm);
  requireRange('labelsForBand: toMm', toMm, fromMm, footLengthRangeMm.most);
  const ofMiddle = labelsForLength(person, (fromMm + toMm) / 2, usWomenOffset);
  return systemsFor(person).flatMap((system) => {
    const column = labelRuleFor(person, system, usWomenOffset)!;
    const step = system === 'EU' ? euStep : column.step;
    const first = Math.max(column.least, Math.ceil(column.sizeOf(fromMm) / step - hair) * step);
    const last = Math.min(column.most, Math.floor(column.sizeOf(toMm) / step + hair) * step);
    if (first > last) return ofMiddle.filter((label) => label.system === system);
    return [{ system, label: labelRange(labelOf(column, first), labelOf(column, last)) }];
  });
}
