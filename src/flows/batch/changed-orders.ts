import type { Kind } from '#core/batch/lines.ts';
import { groupBy } from '#core/shared/group-by.ts';
import { formatLength, type UnitSystem } from '#core/shared/measures.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { readPairs, type StoredPair } from '#flows/batch/started-pairs.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf } from '#flows/shelf/colours-of.ts';

/** A pair that no longer is what its order asks for, and how. */
export type ChangedPair = {
  readonly pair: StoredPair;
  readonly orderId: number | null;
  /** One sentence a difference. */
  readonly words: readonly string[];
  readonly what: 'cancelled' | 'fewer' | 'changed';
};

const cuffWords = (heightMm: number, system: UnitSystem) =>
  heightMm === 0 ? 'no cuff' : `a cuff of ${formatLength(heightMm, system)}`;

function differences(pair: StoredPair, kind: Kind, lineId: number, workshopPlan: WorkshopPlan): string[] {
  const { frozen } = pair;
  const { shape } = kind;
  const { unitSystem } = workshopPlan.settings;
  const colours = coloursOf(workshopPlan.rows);
  const words: string[] = [];
  const isSameFoot =
    frozen.foot.person === shape.foot.person &&
    frozen.foot.lengthMm.toFixed(2) === shape.foot.lengthMm.toFixed(2) &&
    frozen.foot.ballGirthMm.toFixed(1) === shape.foot.ballGirthMm.toFixed(1);
  if (!isSameFoot)
    words.push(
      `Size: begun as ${sizeWordsIn(frozen.sizeWords, unitSystem)}, now ${sizeWordsIn(workshopPlan.footOfLine.get(lineId)?.words ?? 'another', unitSystem)}.`,
    );
  if (frozen.fit !== shape.fit) words.push(`Fit: begun as ${frozen.fit}, now ${shape.fit}.`);
  if (Math.abs(frozen.cuffHeightMm - shape.cuffHeightMm) >= 1 && isSameFoot) {
    words.push(
      `Cuff: begun with ${cuffWords(frozen.cuffHeightMm, unitSystem)}, now ${cuffWords(shape.cuffHeightMm, unitSystem)}.`,
    );
  }
  const nameOf = (id: number) => colours.get(id)?.name ?? 'a colour that is gone';
  for (const { name, words: roleWords } of shape.style.body.roles) {
    // A strand from several lots has a row for each, and is one strand all the same.
    const strands = groupBy(
      pair.colours.filter(({ role }) => role === name),
      ({ strand }) => strand,
    );
    const before = [...strands.values()].map(([first]) => first!.yarnColourId);
    const now = kind.colours[name] ?? [];
    if (before.join('+') !== now.join('+')) {
      words.push(
        `Colour of the ${roleWords}: begun in ${before.map(nameOf).join(' and ')}, now ${now.map(nameOf).join(' and ')}.`,
      );
    }
  }
  return words;
}

/**
 * Pairs begun or finished, not gone, whose order has changed since: cancelled, fewer wanted, or another size, fit, cuff
 * or colour. More wanted needs no answer: the new pairs are gathered.
 */
export function changedPairs(workshopPlan: WorkshopPlan): readonly ChangedPair[] {
  const { rows, kindOfLine } = workshopPlan;
  const agreed = new Set(rows.orders.filter((order) => order.state === 'agreed').map((order) => order.id));
  const lines = new Map(rows.lines.map((line) => [line.id, line]));
  const counted = new Map<number, number>();
  const pairs = readPairs(rows);
  for (const { row } of pairs) {
    const isGone = row.left === 'handed over' || row.left === 'sold' || row.left === 'given';
    if (row.lineId !== null && isGone) counted.set(row.lineId, (counted.get(row.lineId) ?? 0) + 1);
  }
  // Finished pairs are kept before begun ones, so that what is too many is the least knitted.
  const here = pairs.filter(({ row }) => row.left === null && row.lineId !== null && row.quality === 'good');
  const inOrder = [...here].sort((a, b) => Number(b.isFinished) - Number(a.isFinished) || a.row.rank - b.row.rank);
  return inOrder.flatMap((pair): ChangedPair[] => {
    const lineId = pair.row.lineId!;
    const line = lines.get(lineId);
    if (!line || !agreed.has(line.orderId)) {
      return [{ pair, orderId: line?.orderId ?? null, words: ['Its order was cancelled.'], what: 'cancelled' }];
    }
    const count = (counted.get(lineId) ?? 0) + 1;
    counted.set(lineId, count);
    if (count > line.quantity) {
      return [{ pair, orderId: line.orderId, words: ['The order wants fewer pairs now.'], what: 'fewer' }];
    }
    const kind = kindOfLine.get(lineId);
    const words = kind ? differences(pair, kind, lineId, workshopPlan) : [];
    return words.length > 0 ? [{ pair, orderId: line.orderId, words, what: 'changed' }] : [];
  });
}
