import { strandsOfKind } from '#core/batch/kinds.ts';
import type { Kind } from '#core/batch/lines.ts';
import type { WantedPair } from '#core/batch/net-to-make.ts';
import { sewingUp } from '#core/batch/work-left.ts';
import { placementKey } from '#core/buying/lots.ts';
import { AppError } from '#core/shared/app-error.ts';
import { splitCents } from '#core/shared/money.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import type { Spec } from '#core/styles/spec.ts';
import { confidenceOfWants, enoughForPair } from '#core/yardage/needs.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import {
  createBatch,
  createBatchLines,
  createPairColours,
  createPairEvents,
  createPairPieces,
  createPairs,
  nextPairRank,
} from '#db/stores/batch.ts';
import type { LotRow } from '#db/stores/shelf.ts';
import { readState } from '#db/stores/workshop.ts';
import { type Allotment, freeLots, mixedAllotments, putAside } from '#flows/batch/allot-yarn.ts';
import { type Places, placesToStart } from '#flows/batch/place-begun.ts';
import type { FrozenPair } from '#flows/batch/started-pairs.ts';
import { yarnByLot } from '#flows/batch/yarn-by-lot.ts';
import type { WorkshopPlan } from '#flows/read-plan.ts';

/** A pair as it will be frozen. */
export type PairToStart = {
  readonly pair: WantedPair;
  readonly knitterId: number;
  readonly frozen: FrozenPair;
  readonly colours: readonly Allotment[];
};

/** Grams of each strand of a pair, in the order of the kind's strands. */
function strandGrams(kind: Kind, spec: Spec) {
  return strandsOfKind(kind).map(({ role, strand, yarn, yarnColourId }) => {
    const metres = spec.metres
      .filter((each) => each.role === role && each.strand === strand)
      .reduce((sum, each) => sum + each.metres.mean, 0);
    return { role, strand, yarnColourId, grams: (metres * yarn.tex) / 1000 };
  });
}

/** What is weighed out for a pair, from which lots; what has no lot waits for yarn that is to come. */
function allot(pair: WantedPair, spec: Spec, { settings }: WorkshopPlan, { lotOf, mixedOf }: Places): Allotment[] {
  const strands = strandGrams(pair.kind, spec);
  return enoughForPair(pair.kind, spec, confidenceOfWants(settings)).flatMap(({ yarnColourId, mg }) => {
    const own = strands.filter((strand) => strand.yarnColourId === yarnColourId);
    // Whole milligrams are shared out as cents are: the parts make the whole.
    const parts = splitCents(
      mg,
      own.map((strand) => strand.grams),
    );
    const key = placementKey(pair.key, yarnColourId);
    const mixed = mixedOf.get(key);
    if (mixed) return mixedAllotments(own, parts, mixed, yarnColourId);
    const lotId = lotOf.get(key) ?? null;
    return own.map(({ role, strand }, index) => ({ role, strand, yarnColourId, lotId, allottedMg: parts[index]! }));
  });
}

/** The size of a pair in words: its line's, or for a spare that of a line of its kind. */
export function sizeWordsOf(pair: WantedPair, { kindOfLine, footOfLine }: WorkshopPlan): string {
  const own = pair.lineId === null ? undefined : footOfLine.get(pair.lineId)?.words;
  if (own) return own;
  for (const [lineId, kind] of kindOfLine) {
    if (kind.key === pair.kind.key) return footOfLine.get(lineId)?.words ?? '';
  }
  return `foot ${(pair.kind.shape.foot.lengthMm / 10).toFixed(1)} cm`;
}

/**
 * What starting would freeze: of the orders chosen, every pair that somebody can knit, with her counts and her yarn.
 *
 * @param orderIds orders to start
 * @param withSpares whether the spare pairs of the plan are started too
 */
export function pairsToStart(
  workshopPlan: WorkshopPlan,
  orderIds: ReadonlySet<number>,
  withSpares: boolean,
): readonly PairToStart[] {
  const { plan, rows } = workshopPlan;
  const known = new Set(rows.knitters.map((knitter) => knitter.id));
  const assignmentOf = new Map(plan.weeks.map((assignment) => [assignment.pairKey, assignment]));
  const chosen = plan.wanted.pairs.flatMap((pair) => {
    if (pair.started !== null) return [];
    if (pair.orderId === null ? !withSpares : !orderIds.has(pair.orderId)) return [];
    const knitterId = assignmentOf.get(pair.key)?.knitterId ?? null;
    return knitterId !== null && known.has(knitterId) ? [{ pair, knitterId }] : [];
  });
  const places = placesToStart(workshopPlan, new Set(chosen.map(({ pair }) => pair.key)));
  return chosen.map(({ pair, knitterId }): PairToStart => {
    const spec = plan.handwork.specOf(pair.kind, knitterId);
    const { foot, right, fit, cuffHeightMm } = pair.kind.shape;
    const frozen: FrozenPair = {
      format: 1,
      sizeWords: sizeWordsOf(pair, workshopPlan),
      foot,
      right,
      fit,
      cuffHeightMm,
      spec,
      estimate: {
        minutes: plan.handwork.minutesOf(pair.kind, knitterId),
        yarn: plan.handwork.yarnOf(pair.kind, knitterId),
      },
    };
    return { pair, knitterId, frozen, colours: allot(pair, spec, workshopPlan, places) };
  });
}

/** Yarn of a colour that pairs get out of a dye lot, or wait for; mg. */
export type YarnToGive = {
  readonly yarnColourId: number;
  /** The first row of the shelf of this dye lot; null while it is still to come. */
  readonly lot: LotRow | null;
  readonly mg: number;
  readonly pairs: number;
};

/** What starting takes from each dye lot, colour by colour, and what then still waits. */
export function yarnToGive(pairs: readonly PairToStart[], lots: ReadonlyMap<number, LotRow>): readonly YarnToGive[] {
  const parts = pairs.flatMap(({ pair, colours }) => colours.map((colour) => ({ ...colour, key: pair.key })));
  return yarnByLot(parts, lots)
    .map(({ yarnColourId, lot, mg, parts: own }) => {
      return { yarnColourId, lot, mg, pairs: new Set(own.map(({ key }) => key)).size };
    })
    .filter(({ mg }) => mg > 0)
    .sort(
      (a, b) =>
        a.yarnColourId - b.yarnColourId ||
        Number(a.lot === null) - Number(b.lot === null) ||
        (a.lot?.id ?? 0) - (b.lot?.id ?? 0),
    );
}

/** Stores pairs in few statements: thousands may be started at once, and every one has some dozen rows. */
async function storePairs(tx: Tx, batchId: number, chosen: readonly PairToStart[]): Promise<void> {
  const firstRank = await nextPairRank(tx);
  const rows = await createPairs(
    tx,
    chosen.map(({ pair, frozen }, index) => ({
      batchId,
      lineId: pair.lineId,
      styleVersionId: pair.kind.shape.style.versionId,
      kind: pair.kind.key,
      specJson: JSON.stringify(frozen),
      rank: firstRank + index,
    })),
  );
  const ofPair = <T>(partsOf: (pair: PairToStart, pairId: number) => readonly T[]) =>
    chosen.flatMap((pair, index) => partsOf(pair, rows[index]!.id));
  await createPairPieces(
    tx,
    ofPair(({ frozen, knitterId }, pairId) =>
      [...frozen.spec.pieces.map(({ name }) => name), sewingUp].map((piece) => ({ pairId, piece, knitterId })),
    ),
  );
  await createPairColours(
    tx,
    ofPair(({ colours }, pairId) => colours.map((colour) => ({ ...colour, pairId }))),
  );
  await createPairEvents(
    tx,
    ofPair((_, pairId) => [{ pairId, event: 'started' }]),
  );
}

export type StartWish = {
  readonly name: string;
  readonly orderIds: readonly number[];
  readonly withSpares: boolean;
  /** The workshop as it stood when this was shown; when it moved on, nothing is frozen unseen. */
  readonly revision: number;
};

/**
 * Starts knitting: freezes counts, colours, knitter and lots of the pairs chosen, and puts their yarn aside, all in one
 * write.
 *
 * @returns the batch's id, or what keeps it from starting
 * @throws {AppError} `conflict` when the workshop changed since it was shown
 */
export async function startBatch(
  { store }: Workshop,
  workshopPlan: WorkshopPlan,
  wish: StartWish,
): Promise<Result<number>> {
  const chosen = pairsToStart(workshopPlan, new Set(wish.orderIds), wish.withSpares);
  if (chosen.length === 0) {
    return refuse({ code: 'nothingChosen', path: 'order', message: 'Choose at least one order with pairs to knit.' });
  }
  return await store.write('batch: start knitting', async (tx) => {
    const { born, revision } = await readState(tx);
    const { rows } = workshopPlan;
    if (revision !== rows.revision || born !== rows.born || wish.revision !== rows.revision) {
      throw new AppError(
        'conflict',
        'Something in the workshop changed since you looked, so the plan may be another. Nothing was started; look at it again.',
      );
    }
    const batch = await createBatch(tx, { name: wish.name, state: 'started', startedMs: tx.atMs });
    const perLine = new Map<number, number>();
    for (const { pair } of chosen) {
      if (pair.lineId !== null) perLine.set(pair.lineId, (perLine.get(pair.lineId) ?? 0) + 1);
    }
    await createBatchLines(
      tx,
      [...perLine].map(([lineId, quantity]) => ({ batchId: batch.id, lineId, quantity })),
    );
    await storePairs(tx, batch.id, chosen);
    const byLot = new Map<number, number>();
    for (const { lotId, allottedMg } of chosen.flatMap((each) => each.colours)) {
      if (lotId !== null) byLot.set(lotId, (byLot.get(lotId) ?? 0) + allottedMg);
    }
    const freeMg = new Map((await freeLots(tx)).map((lot) => [lot.id, lot.freeMg]));
    for (const [lotId, mg] of byLot) {
      if (mg > (freeMg.get(lotId) ?? 0)) throw new RangeError(`startBatch: lot ${lotId} must hold ${mg} mg`);
      await putAside(tx, batch.id, lotId, mg);
    }
    return succeed(batch.id);
  });
}
