import { handworkOf } from '#core/batch/handwork.ts';
import type { Kind } from '#core/batch/lines.ts';
import {
  bandFor,
  type Parcel,
  type PostageBand,
  type PostBy,
  parcelMassG,
  postageOf,
  postBy,
  splitParcels,
} from '#core/pricing/postage.ts';
import { specify } from '#core/styles/specify.ts';
import { readPairs } from '#flows/batch/started-pairs.ts';
import type { OrderView } from '#flows/orders/read-orders.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** What it costs to send an order to one part of the world. */
export type Destination = {
  readonly name: string;
  /** Stands for the destination in a form: its lightest band. */
  readonly bandId: number;
  /** One where it fits; more where one would be too heavy; null where the post takes it in no way. */
  readonly parcels: readonly Parcel[] | null;
  readonly cents: number;
  readonly days: number;
  /** Why one parcel does not do. */
  readonly problem: string | null;
  /** The estimate is so near the limit that the scale may say otherwise. */
  readonly isClose: boolean;
};

export type ParcelView = {
  /** All in one parcel, with its packing. */
  readonly massG: number;
  readonly packingG: number;
  /** Lines whose pairs cannot be weighed, since they cannot be planned. */
  readonly withoutMass: number;
  readonly destinations: readonly Destination[];
};

// An estimated parcel this near its limit should be put on the scale. Our own choice.
const closeRatio = 0.95;

const sumG = (yarn: readonly { readonly grams: number }[]) => yarn.reduce((sum, { grams }) => sum + grams, 0);

/** Grams of a pair of a kind as a knitter makes it; of a kind outside the plan, in the reference hand. */
function gramsOfKind({ plan, input }: WorkshopPlan, kind: Kind, knitterId: number | null): number {
  if (plan.kinds.some((each) => each.key === kind.key)) return sumG(plan.handwork.yarnOf(kind, knitterId));
  const alone = handworkOf(specify([kind.shape], input.hands), input.knitters, input.referenceKnitterId);
  return sumG(alone.yarnOf(kind, null));
}

/**
 * Grams of every pair of an order: as frozen for a pair that is begun or finished, as its knitter will make it for one that is
 * planned, in the reference hand else. A line that cannot be planned gives none.
 */
function pairsGOf(workshopPlan: WorkshopPlan, order: OrderView): { pairsG: number[]; withoutMass: number } {
  const { plan, rows, kindOfLine } = workshopPlan;
  const lineIds = new Set(order.lines.map((line) => line.id));
  const stockLine = new Map(plan.wanted.fromStock.map((each) => [each.stockPairId, each.lineId]));
  const own = rows.pairs.filter((pair) => lineIds.has(stockLine.get(pair.id) ?? pair.lineId ?? 0));
  const stored = readPairs({ ...rows, pairs: own }).filter(
    ({ row }) => row.left !== 'lost' && row.left !== 'ripped out',
  );
  const knitterOf = new Map(plan.weeks.map((each) => [each.pairKey, each.knitterId]));
  const pairsG: number[] = [];
  let withoutMass = 0;
  for (const { id, quantity } of order.lines) {
    const ofLine = stored.filter(({ row }) => (stockLine.get(row.id) ?? row.lineId) === id).slice(0, quantity);
    pairsG.push(...ofLine.map(({ frozen }) => sumG(frozen.estimate.yarn)));
    const kind = kindOfLine.get(id);
    if (!kind) {
      if (ofLine.length < quantity) withoutMass += 1;
      continue;
    }
    const planned = plan.wanted.pairs.filter((pair) => pair.lineId === id && pair.started === null);
    for (let index = 0; index < quantity - ofLine.length; index += 1) {
      const pair = planned[index];
      pairsG.push(gramsOfKind(workshopPlan, pair?.kind ?? kind, pair ? (knitterOf.get(pair.key) ?? null) : null));
    }
  }
  return { pairsG, withoutMass };
}

function destinationOf(name: string, bands: readonly PostageBand[], pairsG: readonly number[], packingG: number) {
  const one = bandFor(pairsG, packingG, bands);
  const split = one.ok ? one : splitParcels(pairsG, packingG, bands);
  const parcels = one.ok ? [one.value] : split.ok ? (split.value as readonly Parcel[]) : null;
  return {
    name,
    bandId: bands[0]!.id,
    parcels,
    ...postageOf(parcels ?? []),
    problem: one.ok ? null : one.problems[0]!.message,
    isClose: (parcels ?? []).some(({ massG, band }) => massG > closeRatio * band.upToG),
  };
}

/** What an order's parcel weighs, and what it costs to each part of the world that has bands. */
export function parcelOf(workshopPlan: WorkshopPlan, order: OrderView): ParcelView {
  const { rows, settings } = workshopPlan;
  const { packingG } = settings;
  const { pairsG, withoutMass } = pairsGOf(workshopPlan, order);
  const names = [...new Set(rows.postageBands.map((band) => band.name))];
  return {
    massG: parcelMassG(pairsG, packingG),
    packingG,
    withoutMass,
    destinations: names.map((name) =>
      destinationOf(
        name,
        rows.postageBands.filter((band) => band.name === name),
        pairsG,
        packingG,
      ),
    ),
  };
}

/** The day an order should be posted; null where it is not posted, or no day is known. */
export function postByOf(order: OrderView, today: string): PostBy | null {
  const { arriveByDay, postDays, postageCents, postedDay } = order.row;
  if (postedDay !== null || order.state === 'cancelled') return null;
  const isPosted = postageCents !== null || arriveByDay !== null;
  const day = arriveByDay ?? order.dueDay;
  return isPosted && day !== null ? postBy(day, postDays ?? 0, today) : null;
}
