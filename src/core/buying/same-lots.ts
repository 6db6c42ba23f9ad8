import type { LotLeft, LotPart, Want } from '#core/buying/lots.ts';

/** Rows of the shelf that are one dye lot, put together under the id of the first of them. */
export type JoinedLot = LotLeft & { readonly rows: readonly LotLeft[] };

/**
 * Puts rows of the shelf together that are one dye lot of a colour: those with one key. A lot of which some is here counts
 * as here.
 *
 * @param lots rows, any order; one without a key is a lot of its own
 * @returns each lot once, in the order in which it is first met
 * @example joinLots([{ id: 4, yarnColourId: 1, freeMg: 50, lotKey: 'a' }, { id: 6, yarnColourId: 1, freeMg: 60, lotKey: 'a' }]).map(({ id, freeMg }) => [id, freeMg]) // => [[4, 110]]
 */
export function joinLots(lots: readonly LotLeft[]): JoinedLot[] {
  const byKey = new Map<string, LotLeft[]>();
  for (const lot of lots) {
    const key = lot.lotKey === undefined ? `row ${lot.id}` : `${lot.yarnColourId} ${lot.lotKey}`;
    const rows = byKey.get(key);
    if (rows) rows.push(lot);
    else byKey.set(key, [lot]);
  }
  return [...byKey.values()].map((rows) => {
    const [first] = rows as [LotLeft];
    if (rows.length === 1) return { ...first, rows };
    const { fromDay: _, ...lot } = first;
    const days = rows.map((row) => row.fromDay ?? '').sort();
    const freeMg = rows.reduce((sum, row) => sum + Math.floor(row.freeMg), 0);
    return { ...lot, freeMg, rows, ...(days[0] === '' ? {} : { fromDay: days[0]! }) };
  });
}

/**
 * Whether parts of a want are all of one dye lot, on several rows of it.
 *
 * @param rows of the shelf
 * @example isOneLot([{ lotId: 1, mg: 5 }, { lotId: 2, mg: 4 }], [{ id: 1, yarnColourId: 1, freeMg: 5 }, { id: 2, yarnColourId: 1, freeMg: 5 }]) // => false
 */
export function isOneLot(parts: readonly LotPart[], rows: readonly LotLeft[]): boolean {
  const keys = new Set(parts.map(({ lotId }) => rows.find((row) => row.id === lotId)?.lotKey ?? `row ${lotId}`));
  return keys.size === 1;
}

/** What is left of the rows of a lot, what is here first. */
type RowsLeft = { readonly id: number; readonly day: string; mg: number }[];

/** The fullest row that still takes it whole, of those that are here soonest. */
function rowFor(rows: RowsLeft, mg: number) {
  const fitting = rows.filter((row) => row.mg >= mg);
  const day = fitting[0]?.day;
  return fitting
    .filter((row) => row.day === day)
    .reduce<RowsLeft[number] | undefined>(
      (tightest, row) => (tightest && tightest.mg <= row.mg ? tightest : row),
      undefined,
    );
}

/** Takes so much from one row after another. */
function takeParts(rows: RowsLeft, wantedMg: number): LotPart[] {
  let mg = wantedMg;
  const parts: LotPart[] = [];
  for (const row of rows) {
    const part = Math.min(mg, row.mg);
    if (part === 0) continue;
    row.mg -= part;
    mg -= part;
    parts.push({ lotId: row.id, mg: part });
  }
  return parts;
}

/**
 * Deals what was placed on joined lots to their rows: each want to one row where one takes it whole, else in parts, which
 * are of one dye lot all the same.
 *
 * @param wants in planning order
 * @param lotOf joined lot by want
 * @param mixedOf parts of joined lots, of wants that mix them
 * @returns the row of each want that lies in one, and the parts of each that does not, the largest first
 */
export function dealToRows<W extends Want>(
  wants: readonly W[],
  joined: readonly JoinedLot[],
  lotOf: ReadonlyMap<Want, number>,
  mixedOf: ReadonlyMap<Want, readonly LotPart[]>,
): { readonly lotOf: ReadonlyMap<Want, number>; readonly mixedOf: ReadonlyMap<Want, readonly LotPart[]> } {
  if (joined.every(({ rows }) => rows.length === 1)) return { lotOf, mixedOf };
  const rowsOf = new Map<number, RowsLeft>(
    joined.map(({ id, rows }) => [
      id,
      rows
        .map((row) => ({ id: row.id, day: row.fromDay ?? '', mg: Math.floor(row.freeMg) }))
        .sort((a, b) => Number(a.day > b.day) - Number(a.day < b.day) || a.id - b.id),
    ]),
  );
  const rowOf = new Map<Want, number>();
  const partsOf = new Map<Want, readonly LotPart[]>();
  const inParts: { readonly want: W; readonly parts: readonly LotPart[] }[] = [];
  for (const want of wants) {
    const lot = lotOf.get(want);
    const mixed = mixedOf.get(want);
    if (mixed) inParts.push({ want, parts: mixed });
    if (lot === undefined) continue;
    const mg = Math.ceil(want.mg);
    const row = rowFor(rowsOf.get(lot)!, mg);
    if (row) {
      row.mg -= mg;
      rowOf.set(want, row.id);
    } else inParts.push({ want, parts: [{ lotId: lot, mg }] });
  }
  for (const { want, parts } of inParts) {
    const dealt = parts.flatMap(({ lotId, mg }) => takeParts(rowsOf.get(lotId)!, mg));
    partsOf.set(
      want,
      dealt.sort((a, b) => b.mg - a.mg),
    );
  }
  return { lotOf: rowOf, mixedOf: partsOf };
}
