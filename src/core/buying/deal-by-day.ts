import type { LotLeft, Want } from '#core/buying/lots.ts';

const mostSwaps = 2000;
const mostPasses = 8;

/** Lots that are here come first, then by their day; the same day, the same rank. */
function ranksOf(lots: readonly LotLeft[]): ReadonlyMap<number, number> {
  const days = [...new Set(lots.map((lot) => lot.fromDay ?? ''))].sort();
  return new Map(lots.map((lot) => [lot.id, days.indexOf(lot.fromDay ?? '')]));
}

/**
 * Changes which lot each placed want of a colour lies on, so that pairs earlier in the list need not wait: like wants
 * change places, a want moves to an earlier lot that has room, and two change places where both fit. What is placed
 * stays placed, whole, and no lot holds more than it has.
 *
 * @param wants of one colour, in planning order
 * @param lots of that colour; without any on its way nothing changes
 * @param lotOf lot by want; changed in place
 */
export function dealByDay(wants: readonly Want[], lots: readonly LotLeft[], lotOf: Map<Want, number>): void {
  if (lots.every((lot) => lot.fromDay === undefined)) return;
  const rankOf = ranksOf(lots);
  const free = new Map(lots.map((lot) => [lot.id, Math.floor(lot.freeMg)]));
  const placed = wants.filter((want) => lotOf.has(want));
  const rank = (want: Want) => rankOf.get(lotOf.get(want)!)!;
  const put = (want: Want, lot: number) => {
    const from = lotOf.get(want);
    if (from !== undefined) free.set(from, free.get(from)! + Math.ceil(want.mg));
    free.set(lot, free.get(lot)! - Math.ceil(want.mg));
    lotOf.set(want, lot);
  };
  for (const want of placed) free.set(lotOf.get(want)!, free.get(lotOf.get(want)!)! - Math.ceil(want.mg));

  const byMg = new Map<number, Want[]>();
  for (const want of placed) {
    const alike = byMg.get(Math.ceil(want.mg));
    if (alike) alike.push(want);
    else byMg.set(Math.ceil(want.mg), [want]);
  }
  for (const alike of byMg.values()) {
    const dealt = alike.map((want) => lotOf.get(want)!).sort((a, b) => rankOf.get(a)! - rankOf.get(b)! || a - b);
    for (const [i, want] of alike.entries()) lotOf.set(want, dealt[i]!);
  }

  const early = [...lots].sort((a, b) => rankOf.get(a.id)! - rankOf.get(b.id)! || a.id - b.id);
  // What changes places may leave room for one that was asked before, so they are asked again.
  for (let pass = 0; pass < mostPasses && improve(); pass += 1);

  function improve(): boolean {
    let isBetter = false;
    for (const [i, want] of placed.entries()) {
      const mg = Math.ceil(want.mg);
      if (rank(want) === 0) continue;
      const roomy = early.find((lot) => rankOf.get(lot.id)! < rank(want) && free.get(lot.id)! >= mg);
      if (roomy) put(want, roomy.id);
      const other = roomy || placed.length > mostSwaps ? undefined : findGivingWay(want, i);
      if (other) {
        const [own, others] = [lotOf.get(want)!, lotOf.get(other)!];
        put(other, own);
        put(want, others);
      }
      if (roomy || other) isBetter = true;
    }
    return isBetter;
  }

  /** The least urgent of those that come later in the list and lie on an earlier lot, and could change places. */
  function findGivingWay(want: Want, at: number): Want | undefined {
    const mg = Math.ceil(want.mg);
    const own = lotOf.get(want)!;
    for (let j = placed.length - 1; j > at; j -= 1) {
      const other = placed[j]!;
      const others = lotOf.get(other)!;
      const otherMg = Math.ceil(other.mg);
      if (rank(other) >= rank(want)) continue;
      if (free.get(others)! + otherMg >= mg && free.get(own)! + mg >= otherMg) return other;
    }
    return undefined;
  }
}
