import type { Silhouette } from '#core/cards/card.ts';
import { flatPlanOf, rowsOfSection, rowsPer10CmOf } from '#core/cards/flat-plan.ts';
import type { SlipperCounts } from '#core/cards/seams.ts';
import type { StyleBody } from '#core/styles/style.ts';

/** Height of the side of a foot tube against its flat width: sole and instep take the rest. Our own choice. */
const sideShare = 0.36;

/** A cuff this share of the way from the style's short to its turned-down one is turned down. Our own choice. */
const turnedFrom = 0.5;

/**
 * Whether a cuff is tall enough to be turned down: nearer to the style's turned-down height than to its short one.
 *
 * @param cuffHeightMm 0 without a cuff
 * @param footLengthMm above 0
 * @param settings the style's, with `cuffShort` and `cuffTurnedDown`
 * @example isCuffTurnedDown(120, 240, { cuffShort: 0.2, cuffTurnedDown: 0.5 }) // => true
 * @example isCuffTurnedDown(48, 240, { cuffShort: 0.2, cuffTurnedDown: 0.5 }) // => false
 * @example isCuffTurnedDown(120, 240, {}) // => false
 */
export function isCuffTurnedDown(
  cuffHeightMm: number,
  footLengthMm: number,
  settings: Readonly<Record<string, number>>,
): boolean {
  const { cuffShort, cuffTurnedDown } = settings;
  if (cuffShort === undefined || cuffTurnedDown === undefined) return false;
  const border = cuffShort + (cuffTurnedDown - cuffShort) * turnedFrom;
  return cuffHeightMm / footLengthMm >= border;
}

/** The finished slipper from the side: which shape, its parts and colours. */
export function silhouetteOf(slipper: SlipperCounts, body: StyleBody, isTurnedDown: boolean): Silhouette {
  const main = slipper.pieces[0]!;
  const rules = body.pieces.find(({ name }) => name === main.name);
  const hasMark = body.marks.length > 0;
  const isFolded = body.joins.some((join) => join.fold === `${main.name}.start`);
  const kind = hasMark ? 'slipper' : isFolded ? 'boot' : 'tube';
  const plan = flatPlanOf(main, rules, null);
  const upper = slipper.pieces.find((piece) => piece !== main);
  const worked = (upper?.sections ?? []).filter((section) => section.do === 'work');
  const rows = worked.reduce((sum, section) => sum + section.rows, 0);
  if (kind === 'boot') {
    // Sole and sides lie around the foot, what follows the shaping stands up as a leg.
    const shaped = main.sections.findIndex((section) => section.do === 'change');
    const legs = main.sections.slice(shaped + 1).filter((section) => rowsOfSection(section) > 0);
    const legRows = legs.reduce((sum, section) => sum + section.rows, 0);
    const heightMm = legs.reduce(
      (sum, section) => sum + (section.rows * 100) / rowsPer10CmOf(main, section.fabric ?? 'stocking'),
      0,
    );
    return {
      kind,
      lengthMm: main.widthMm / 2,
      heightMm: plan.lengthMm - heightMm,
      openRatio: 0.4,
      foot: [{ role: main.sections[0]!.role, fabric: plan.parts[0]!.fabric, share: 1 }],
      cuff:
        legRows === 0
          ? null
          : {
              heightMm,
              isTurnedDown: false,
              bands: legs.map((section) => ({ role: section.role, share: section.rows / legRows })),
            },
    };
  }
  return {
    kind,
    lengthMm: slipper.measures.heelToToeMm,
    heightMm: main.widthMm * (kind === 'tube' ? 0.5 : sideShare),
    openRatio: hasMark ? slipper.measures.openingMm / 2 / main.lengthMm : 0,
    foot: plan.parts.map((part) => ({
      role: part.role,
      fabric: part.fabric,
      share: (part.toMm - part.fromMm) / plan.lengthMm,
    })),
    cuff:
      upper && rows > 0
        ? {
            heightMm: slipper.measures.cuffHeightMm ?? 0,
            isTurnedDown,
            bands: worked.map((section) => ({ role: section.role, share: section.rows / rows })),
          }
        : null,
  };
}
