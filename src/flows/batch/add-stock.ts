import { kindFor, strandsOfKind } from '#core/batch/kinds.ts';
import type { ColoursByRole } from '#core/batch/lines.ts';
import { sewingUp } from '#core/batch/work-left.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Fit, Person } from '#core/sizing/foot.ts';
import { footFrom } from '#core/sizing/girths.ts';
import { footLengthFromLabel, type SizeSystem } from '#core/sizing/labels.ts';
import { sizeWords } from '#core/sizing/size-words.ts';
import { specify, specKey } from '#core/styles/specify.ts';
import { minutesOfPair } from '#core/timing/minutes.ts';
import { yarnOfPair } from '#core/yardage/needs.ts';
import type { Workshop } from '#db/open.ts';
import { createPair, createPairColour, createPairEvent, createPairPiece, listCurrentPairs } from '#db/stores/batch.ts';
import type { FrozenPair } from '#flows/batch/started-pairs.ts';
import { stylesFrom, yarnFrom } from '#flows/plan-input.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

export type StockEntry = {
  readonly styleId: number;
  readonly person: Person;
  readonly system: SizeSystem;
  readonly label: string;
  readonly fit: Fit;
  /** Colours of each role's strands. */
  readonly colours: ColoursByRole;
  /** Null is the style's own short cuff, 0 none. */
  readonly cuffHeightMm: number | null;
  readonly quality: 'good' | 'second';
  readonly quantity: number;
};

/**
 * Adds finished pairs that were there before: counts as the reference knitter would have made them, no batch, no yarn
 * taken off the shelf.
 *
 * @returns the pairs' ids, or what is wrong with the size
 */
export async function addStock(
  { store }: Workshop,
  workshopPlan: WorkshopPlan,
  entry: StockEntry,
): Promise<Result<readonly number[]>> {
  const { rows, settings, input } = workshopPlan;
  const { person, system, label } = entry;
  const length = footLengthFromLabel({ person, system, label, usWomenOffset: settings.usWomenOffset }, 'label');
  if (!length.ok) return length;
  const style = stylesFrom(rows).current.get(entry.styleId);
  if (!style) return refuse({ code: 'noStyle', path: 'style', message: 'Choose a style.' });
  const yarnById = new Map(rows.yarns.map((row) => [row.id, yarnFrom(row)]));
  const yarnOfColour = new Map(rows.yarnColours.map((colour) => [colour.id, yarnById.get(colour.yarnId)!]));
  const yarns: Record<string, readonly Yarn[]> = Object.fromEntries(
    Object.entries(entry.colours).map(([role, ids]) => [role, ids.map((id) => yarnOfColour.get(id)!)]),
  );
  const foot = footFrom({ person, lengthMm: length.value.value });
  const kind = kindFor({
    style,
    foot,
    fit: entry.fit,
    yarns,
    colours: entry.colours,
    cuff: entry.cuffHeightMm ?? 'short',
  });
  const reference = input.knitters.find((knitter) => knitter.id === input.referenceKnitterId) ?? input.knitters[0]!;
  const hand = input.hands.find((each) => each.key === reference.handKey)!;
  const spec = specify([kind.shape], [hand]).get(specKey(kind.shape, hand))!;
  const frozen: FrozenPair = {
    format: 1,
    sizeWords: sizeWords({ by: 'label', person, system, label }),
    foot,
    fit: entry.fit,
    cuffHeightMm: kind.shape.cuffHeightMm,
    spec,
    estimate: { minutes: minutesOfPair(spec.operations, reference.rates), yarn: yarnOfPair(kind, spec) },
  };
  return await store.write('batch: add finished pairs', async (tx) => {
    const firstRank = (await listCurrentPairs(tx)).reduce((next, pair) => Math.max(next, pair.rank + 1), 0);
    const ids: number[] = [];
    for (let index = 0; index < entry.quantity; index += 1) {
      const pair = await createPair(tx, {
        batchId: null,
        lineId: null,
        styleVersionId: style.versionId,
        kind: kind.key,
        specJson: JSON.stringify(frozen),
        quality: entry.quality,
        rank: firstRank + index,
      });
      for (const piece of [...spec.pieces.map(({ name }) => name), sewingUp]) {
        await createPairPiece(tx, { pairId: pair.id, piece, stage: 'done' });
      }
      for (const { role, strand, yarnColourId } of strandsOfKind(kind)) {
        await createPairColour(tx, { pairId: pair.id, role, strand, yarnColourId, allottedMg: 0 });
      }
      await createPairEvent(tx, { pairId: pair.id, event: 'was there' });
      ids.push(pair.id);
    }
    return succeed(ids);
  });
}
