import type { ShelfQuestion } from '#core/buying/pair-ways.ts';

/** Second method: every kind on every choice of lots, put on or passed over, one pair after another. */
export function enumeratePairs(question: ShelfQuestion): { readonly least: number; readonly value: number } {
  const { lots, kinds, sizes } = question;
  const ways = kinds.flatMap((kind) =>
    kind.needs
      .reduce<number[][]>(
        (all, need) =>
          all.flatMap((chosen) =>
            lots.flatMap((each, at) => (each.yarnColourId === need.yarnColourId ? [[...chosen, at]] : [])),
          ),
        [[]],
      )
      .map((chosen) => ({ kind, chosen })),
  );
  const free = lots.map((each) => each.freeMg);
  const made = sizes.map(() => 0);
  let best = { least: -1, value: -1 };
  const visit = (from: number, value: number): void => {
    const least = made.reduce((sum, count, size) => sum + Math.min(count, sizes[size]!.least), 0);
    if (least > best.least || (least === best.least && value > best.value)) best = { least, value };
    for (let at = from; at < ways.length; at += 1) {
      const { kind, chosen } = ways[at]!;
      if (made[kind.size]! >= sizes[kind.size]!.most) continue;
      if (chosen.some((each, need) => free[each]! < kind.needs[need]!.mg)) continue;
      for (const [need, each] of chosen.entries()) free[each]! -= kind.needs[need]!.mg;
      made[kind.size]! += 1;
      visit(at, value + (kind.value ?? 1));
      made[kind.size]! -= 1;
      for (const [need, each] of chosen.entries()) free[each]! += kind.needs[need]!.mg;
    }
  };
  visit(0, 0);
  return best;
}
