import type { ColourView, LineView } from '#flows/orders/line-words.ts';

/** Pairs by size (down) and colour of the first role (across), with their sums. */
export type SizeColourTable = {
  readonly colours: readonly ColourView[];
  readonly rows: readonly { readonly size: string; readonly counts: readonly number[]; readonly total: number }[];
  readonly totals: readonly number[];
  readonly total: number;
};

/** Worth showing where sizes and colours cross: some size in two colours, some colour in two sizes; null below that. */
export function sizeColourTable(lines: readonly LineView[]): SizeColourTable | null {
  const keyOf = (colour: ColourView | undefined) => (colour ? `${colour.yarnName}/${colour.name}` : '');
  const colours = new Map<string, ColourView>();
  const sizes = [...new Set(lines.map((line) => line.size))];
  for (const line of lines) {
    const colour = line.colours[0];
    if (colour && !colours.has(keyOf(colour))) colours.set(keyOf(colour), colour);
  }
  if (lines.length <= Math.max(sizes.length, colours.size) || sizes.length < 2 || colours.size < 2) return null;
  const keys = [...colours.keys()];
  const rows = sizes.map((size) => {
    const counts = keys.map((key) =>
      lines
        .filter((line) => line.size === size && keyOf(line.colours[0]) === key)
        .reduce((sum, line) => sum + line.quantity, 0),
    );
    return { size, counts, total: counts.reduce((sum, count) => sum + count, 0) };
  });
  const totals = keys.map((_, index) => rows.reduce((sum, row) => sum + row.counts[index]!, 0));
  return { colours: [...colours.values()], rows, totals, total: totals.reduce((sum, count) => sum + count, 0) };
}
