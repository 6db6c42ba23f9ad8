import type { Day } from '#core/shared/calendar.ts';
import { type Problem, refuse, succeed } from '#core/shared/problem.ts';
import { differenceToBook } from '#core/shelf/stocktake.ts';
import type { Workshop } from '#db/open.ts';
import { findBall, listBalls, moveBall } from '#db/stores/shelf.ts';
import { allotWaiting } from '#flows/batch/allot-yarn.ts';
import { readShelf, type Shelf } from '#flows/shelf/read-shelf.ts';
import { type Settled, type Settling, type ShortAnswer, settleShort } from '#flows/shelf/short-pairs.ts';

/** A ball on the list to carry around. */
export type StockBall = {
  readonly id: number;
  readonly version: number;
  /** Its number in its lot, as the lot's page has it. */
  readonly number: number;
  readonly massMg: number;
  /** What a whole ball of its yarn has. */
  readonly wholeMg: number;
  readonly yarn: string;
  readonly colour: string;
  readonly swatchHex: string;
  readonly dyeLot: string | null;
  readonly donor: string | null;
};

/** Balls that lie in one place; the name is null where none was written down. */
export type StockPlace = { readonly place: string | null; readonly balls: readonly StockBall[] };

export type StockList = { readonly shelf: Shelf; readonly places: readonly StockPlace[] };

/** Every ball with yarn on it, by where it lies: places by name, then those without one, then what is with knitters. */
export async function readStockList(workshop: Workshop): Promise<StockList> {
  const shelf = await readShelf(workshop);
  const numbers = new Map<number, number>();
  const counts = new Map<number, number>();
  for (const ball of (await workshop.store.read((db) => listBalls(db))).sort((a, b) => a.id - b.id)) {
    const number = (counts.get(ball.lotId) ?? 0) + 1;
    counts.set(ball.lotId, number);
    numbers.set(ball.id, number);
  }
  const nameOf = new Map(shelf.knitters.map(({ id, name }) => [id, name]));
  const groups = new Map<string, { place: string | null; rank: number; balls: StockBall[] }>();
  for (const { yarn, colours } of shelf.yarns) {
    for (const { colour, lots } of colours) {
      for (const { lot, balls } of lots) {
        for (const ball of [...balls].sort((a, b) => a.id - b.id)) {
          const isOut = ball.knitterId !== null;
          const place = isOut ? `With ${nameOf.get(ball.knitterId!) ?? 'a knitter'}` : lot.place;
          const rank = isOut ? 2 : place === null ? 1 : 0;
          const key = `${rank}/${place?.toLowerCase() ?? ''}`;
          const group = groups.get(key) ?? { place, rank, balls: [] };
          group.balls.push({
            id: ball.id,
            version: ball.version,
            number: numbers.get(ball.id)!,
            massMg: ball.massMg,
            wholeMg: yarn.ballMg,
            yarn: yarn.name,
            colour: colour.name,
            swatchHex: colour.swatchHex,
            dyeLot: lot.dyeLot,
            donor: lot.donor,
          });
          groups.set(key, group);
        }
      }
    }
  }
  const places = [...groups.values()]
    .sort((a, b) => a.rank - b.rank || (a.place ?? '').localeCompare(b.place ?? '', 'en'))
    .map(({ place, balls }) => ({ place, balls }));
  return { shelf, places };
}

/** What was typed for a ball, and where its faults are shown. */
export type Weighed = {
  readonly ballId: number;
  readonly shownMg: number;
  readonly reason: 'weighed' | 'lost';
  /** The ball as it was when the list was shown. */
  readonly version: number | undefined;
  readonly path: string;
  readonly reasonPath: string;
};

export type StockTaken = Settled & { readonly weighed: number; readonly booked: number };

/** Code of the problem that a ball changed while its list was out. */
export const changedMeanwhile = 'changedMeanwhile';

/**
 * Books what the scale shows against what is written down, in one write; what was not weighed stays as it is. A reading
 * that agrees is kept as a move of nothing, since it says when the ball was weighed. Where begun pairs are left without
 * enough yarn it is asked what becomes of them; where more turned up, pairs that wait get theirs.
 *
 * @param stepMg the smallest step of the scale
 * @returns how many were weighed and how many differed; or every problem, and nothing is booked
 */
export async function takeStock(
  { store }: Workshop,
  entries: readonly Weighed[],
  stepMg: number,
  day: Day,
  answer: ShortAnswer,
): Promise<Settling<StockTaken>> {
  return await store.write('shelf: stocktake', async (tx) => {
    const problems: Problem[] = [];
    const lotIds = new Set<number>();
    let booked = 0;
    let foundMg = 0;
    for (const { ballId, shownMg, reason, version, path, reasonPath } of entries) {
      const ball = await findBall(tx, ballId);
      if (!ball || ball.version !== version) {
        const message =
          'Somebody changed this ball since the list was shown; beside it is what is written down now. Look at it once more and save again.';
        problems.push({ code: changedMeanwhile, path, message });
        continue;
      }
      const changeMg = differenceToBook(ball.massMg, shownMg, stepMg);
      lotIds.add(ball.lotId);
      foundMg += Math.max(0, changeMg);
      if (reason === 'lost' && changeMg > 0) {
        const message =
          'The scale shows more than is written down, so nothing was lost. Choose "the number was wrong".';
        problems.push({ code: 'notLess', path: reasonPath, message });
        continue;
      }
      const moved = await moveBall(tx, { ballId, changeMg, reason: changeMg === 0 ? 'weighed' : reason, day });
      if (moved.ok) booked += changeMg === 0 ? 0 : 1;
      else problems.push(...moved.problems.map((problem) => ({ ...problem, path })));
    }
    if (problems.length > 0) return refuse(...problems);
    const settled = await settleShort(tx, [...lotIds], answer);
    if (!settled.ok) return settled;
    if (foundMg > 0) await allotWaiting(tx);
    return succeed({ weighed: entries.length, booked, ...settled.value });
  });
}
