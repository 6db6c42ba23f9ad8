import { kindFor } from '#core/batch/kinds.ts';
import type { ColoursByRole, Kind, StockPair } from '#core/batch/lines.ts';
import type { StartedPair } from '#core/batch/net-to-make.ts';
import { type PieceStage, workLeft } from '#core/batch/work-left.ts';
import type { LotPart } from '#core/buying/lots.ts';
import type { Yarn } from '#core/gauge/hand.ts';
import { entryOf } from '#core/shared/entry-of.ts';
import { groupBy } from '#core/shared/group-by.ts';
import type { Fit, Foot } from '#core/sizing/foot.ts';
import { readStyle } from '#core/styles/read-style.ts';
import type { Spec } from '#core/styles/spec.ts';
import type { Style } from '#core/styles/style.ts';
import type { PairColourRow, PairRow } from '#db/stores/batch.ts';
import type { PlacementRow } from '#db/stores/placements.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { remember } from '#flows/remember.ts';

/**
 * What was in the knitter's hands when a pair was begun: kept with it, so that a swatch, a size table or a style that
 * changes later does not change the counts. Colours and yarns stand in the pair's own rows.
 */
export type FrozenPair = {
  readonly format: 1;
  readonly sizeWords: string;
  readonly foot: Foot;
  /** The right foot where it differs; missing in pairs begun before that was known. */
  readonly right?: Foot | null;
  readonly fit: Fit;
  readonly cuffHeightMm: number;
  readonly spec: Spec;
  /** As estimated on the day it was begun, before anything was learned from it. */
  readonly estimate: {
    readonly minutes: number;
    readonly yarn: readonly { readonly yarnColourId: number; readonly grams: number; readonly metres: number }[];
  };
};

/** The frozen part of a stored pair. */
export function readFrozen(specJson: string): FrozenPair {
  return JSON.parse(specJson) as FrozenPair;
}

export type PairRows = Pick<
  WorkshopRows,
  'pairs' | 'pairPieces' | 'pairColours' | 'styles' | 'styleVersions' | 'yarns' | 'yarnColours' | 'lines' | 'orders'
> &
  Partial<Pick<WorkshopRows, 'placements'>>;

/** A pair as stored, with its rows put together. `kind` is null when its style or a yarn can no longer be read. */
export type StoredPair = {
  readonly row: PairRow;
  readonly frozen: FrozenPair;
  readonly kind: Kind | null;
  readonly pieces: readonly (PieceStage & { readonly knitterId: number | null })[];
  readonly colours: readonly PairColourRow[];
  readonly knitterId: number | null;
  readonly isFinished: boolean;
};

/** The stored pairs as the plan takes them. */
export type StoredPairs = {
  /** Begun and not finished. */
  readonly started: readonly StartedPair[];
  /** Finished, good, not left, and free for any order that they fit. */
  readonly stock: readonly StockPair[];
  /** Pairs that already answer a line: finished for it, or gone out for it. The plan makes the rest of the line. */
  readonly doneOfLine: ReadonlyMap<number, number>;
};

function readStyles(rows: PairRows): ReadonlyMap<number, Style> {
  const names = new Map(rows.styles.map((style) => [style.id, style.name]));
  return new Map(
    rows.styleVersions.flatMap((version) => {
      const body = readStyle(version.bodyJson);
      const name = names.get(version.styleId) ?? '';
      return body.ok ? [[version.id, { versionId: version.id, name, body: body.value }] as const] : [];
    }),
  );
}

function readYarns(rows: PairRows): ReadonlyMap<number, Yarn> {
  const yarns = new Map(
    rows.yarns.map(({ id, name, fibre, tex, ballMg, category, usualStitchesPer10Cm, needleMm }) => [
      id,
      { id, name, fibre, tex, ballMg, category, usualStitches: usualStitchesPer10Cm, needleMm },
    ]),
  );
  return new Map(
    rows.yarnColours.flatMap(({ id, yarnId }) => {
      const yarn = yarns.get(yarnId);
      return yarn ? [[id, yarn] as const] : [];
    }),
  );
}

function kindOf(
  frozen: FrozenPair,
  style: Style | undefined,
  colours: readonly PairColourRow[],
  yarnOfColour: ReadonlyMap<number, Yarn>,
): Kind | null {
  if (!style || colours.length === 0) return null;
  const yarnsByRole: Record<string, Yarn[]> = {};
  const coloursByRole: Record<string, number[]> = {};
  const seen = new Set<string>();
  for (const { role, strand, yarnColourId } of colours) {
    // A strand from several lots has a row for each, and is one strand all the same.
    if (seen.has(`${role}/${strand}`)) continue;
    seen.add(`${role}/${strand}`);
    const yarn = yarnOfColour.get(yarnColourId);
    if (!yarn) return null;
    yarnsByRole[role] = [...(yarnsByRole[role] ?? []), yarn];
    coloursByRole[role] = [...(coloursByRole[role] ?? []), yarnColourId];
  }
  const { foot, right = null, fit, cuffHeightMm } = frozen;
  const byRole: ColoursByRole = coloursByRole;
  return kindFor({ style, foot, right, fit, yarns: yarnsByRole, colours: byRole, cuff: cuffHeightMm });
}

/** Every stored pair with its pieces, colours and kind, in the order of rank. */
export const readPairs = remember((rows: PairRows): readonly StoredPair[] => {
  if (rows.pairs.length === 0) return [];
  // Like pairs were begun alike: thousands share some hundred frozen parts.
  const frozenOf = new Map<string, FrozenPair>();
  const styles = readStyles(rows);
  const yarnOfColour = readYarns(rows);
  const pieces = groupBy(rows.pairPieces, (row) => row.pairId);
  const colours = groupBy(rows.pairColours, (row) => row.pairId);
  return rows.pairs.map((row) => {
    const frozen = entryOf(frozenOf, row.specJson, () => readFrozen(row.specJson));
    const ownPieces = pieces.get(row.id) ?? [];
    const ownColours = colours.get(row.id) ?? [];
    return {
      row,
      frozen,
      kind: kindOf(frozen, styles.get(row.styleVersionId), ownColours, yarnOfColour),
      pieces: ownPieces,
      colours: ownColours,
      knitterId: ownPieces.find((piece) => piece.knitterId !== null)?.knitterId ?? null,
      isFinished: ownPieces.every((piece) => piece.stage === 'done'),
    };
  });
});

/** Colours whose yarn the pair has: every strand of the colour is allotted from a lot. */
function heldColours({ row, colours }: StoredPair): number[] {
  const ids = [...new Set(colours.map(({ yarnColourId }) => yarnColourId))];
  if (row.isOwnYarn) return ids;
  return ids.filter((id) => colours.every((colour) => colour.yarnColourId !== id || colour.lotId !== null));
}

/** The lots that it has its yarn from, by colour. */
function heldLots({ colours }: StoredPair): ReadonlyMap<number, readonly LotPart[]> {
  const byColour = groupBy(colours, ({ yarnColourId }) => yarnColourId);
  return new Map(
    [...byColour].map(([yarnColourId, own]) => {
      const parts = own.flatMap(({ lotId, allottedMg: mg }) => (lotId === null ? [] : [{ lotId, mg }]));
      return [yarnColourId, parts] as const;
    }),
  );
}

/** What was written down for it of colours that it waits for, by colour. */
function waitsMg({ row, colours }: StoredPair): ReadonlyMap<number, number> {
  const waits = new Map<number, number>();
  if (row.isOwnYarn) return waits;
  for (const { yarnColourId, lotId, allottedMg } of colours) {
    if (lotId === null) waits.set(yarnColourId, (waits.get(yarnColourId) ?? 0) + allottedMg);
  }
  return waits;
}

/** Pairs that stand in a shop on sale or return, with their placement. */
export function placedPairs(placements: WorkshopRows['placements'] = []): ReadonlyMap<number, PlacementRow> {
  const open = placements.filter(({ soldDay, backDay }) => soldDay === null && backDay === null);
  return new Map(open.map((placement) => [placement.pairId, placement]));
}

const goneOut: readonly PairRow['left'][] = ['handed over', 'sold', 'given'];

/**
 * From the stored rows to what the plan takes: pairs begun, finished pairs that are free, and how many pairs of each
 * line are there already. A finished pair stays with the line it was made for while that line is open; one whose line
 * was cancelled, or that was made as a spare, is stock. Seconds answer no order, nor does what stands in a shop.
 */
export function storedPairs(rows: PairRows): StoredPairs {
  const openLines = new Set(rows.lines.map((line) => line.id));
  const started: StartedPair[] = [];
  const stock: StockPair[] = [];
  const doneOfLine = new Map<number, number>();
  const placed = placedPairs(rows.placements);
  for (const pair of readPairs(rows)) {
    const { row, frozen, kind, isFinished } = pair;
    const lineId = row.lineId !== null && openLines.has(row.lineId) ? row.lineId : null;
    const answersLine = lineId !== null && (row.left === null ? isFinished : goneOut.includes(row.left));
    if (answersLine && row.quality === 'good') doneOfLine.set(lineId, (doneOfLine.get(lineId) ?? 0) + 1);
    if (row.left !== null || kind === null) continue;
    if (!isFinished) {
      started.push({
        id: row.id,
        lineId,
        kind,
        dueDay: null,
        knitterId: pair.knitterId,
        heldColourIds: heldColours(pair),
        heldLots: heldLots(pair),
        waitsMg: waitsMg(pair),
        workLeftRatio: workLeft(pair.pieces, frozen.spec.pieces),
      });
    } else if (!answersLine && row.quality === 'good' && !placed.has(row.id)) {
      const { widthMm, lengthMm } = frozen.spec.measures;
      stock.push({ id: row.id, kind, widthMm, lengthMm });
    }
  }
  return { started, stock, doneOfLine };
}
