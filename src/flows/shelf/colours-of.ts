import type { YarnColourRow, YarnRow } from '#db/stores/shelf.ts';

/** A colour as pages name it. */
export type NamedColour = {
  readonly id: number;
  readonly name: string;
  readonly swatchHex: string;
  readonly yarn: YarnRow;
};

/** Every colour by id, with its yarn. */
export function coloursOf(rows: {
  readonly yarns: readonly YarnRow[];
  readonly yarnColours: readonly YarnColourRow[];
}): ReadonlyMap<number, NamedColour> {
  const yarns = new Map(rows.yarns.map((yarn) => [yarn.id, yarn]));
  return new Map(
    rows.yarnColours.map(({ id, name, swatchHex, yarnId }) => [id, { id, name, swatchHex, yarn: yarns.get(yarnId)! }]),
  );
}
