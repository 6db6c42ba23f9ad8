import { isOnWayLot } from '#core/buying/purchases.ts';
import { rowsYarnOf } from '#core/cards/piece-yarn.ts';
import type { Day } from '#core/shared/calendar.ts';
import { enoughAt, sdOf } from '#core/shared/estimate.ts';
import { gramsInOunce } from '#core/shared/measures.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { expectedLeftG } from '#core/shelf/leftover.ts';
import { freeOfBalls, type PairParts, type StillDoes, useFirst, whatItStillDoes } from '#core/shelf/use-first.ts';
import { rolesMainFirst } from '#core/styles/roles.ts';
import { contrastToeSlipper } from '#core/styles/shipped/contrast-toe.ts';
import type { Workshop } from '#db/open.ts';
import { type BallMoveRow, type BallRow, listAllMoves } from '#db/stores/shelf.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { coloursOf, type NamedColour } from '#flows/shelf/colours-of.ts';
import { readShelf } from '#flows/shelf/read-shelf.ts';
import { emptyTry, type TriedPair, tryPair } from '#flows/try/try-pair.ts';

/** A part ball or an end, and what it is still good for. */
export type UseFirstBall = {
  readonly ballId: number;
  readonly lotId: number;
  readonly massMg: number;
  /** What of it is not put aside, above 0; less than is on the ball where the lot is promised in part. */
  readonly freeMg: number;
  readonly colour: NamedColour;
  readonly dyeLot: string | null;
  readonly donor: string | null;
  readonly place: string | null;
  readonly isGiven: boolean;
  readonly isReturnable: boolean;
  readonly returnableUntilDay: Day | null;
  readonly knitter: string | null;
  /** The day it was last on a scale; null while a pair's likely use was taken off since. */
  readonly weighedDay: Day | null;
  /** How much more than expected the scale showed then, below 0 for less; 0 where it was not weighed against anything. */
  readonly foundMg: number;
  /** Null where nothing can be worked out for its yarn. */
  readonly does: StillDoes | null;
};

/** What is likely left of a colour when all is knitted. */
export type ExpectedLeft = {
  readonly colour: NamedColour;
  readonly onShelfG: number;
  /** Ordered and not here yet. */
  readonly onWayG: number;
  /** On the list; of a colour that no shop has, what is wanted of it. */
  readonly toBuyG: number;
  readonly neededG: number;
  readonly leftG: number;
  readonly sdG: number;
};

export type Leftovers = {
  readonly plan: WorkshopPlan;
  readonly balls: readonly UseFirstBall[];
  readonly expected: readonly ExpectedLeft[];
};

/** The pair that ends are measured by, as a woman's EU 38 in the workshop's usual style. */
const usual = { ...emptyTry, size: '38', units: 'metric' };

const perMetre = ({ yarn }: TriedPair) => yarn.strands.reduce((sum, { tex }) => sum + tex / 1000, 0);

/** Rows of a foot, and the grams of one across both feet: the longest run of rows in the main colour of the first piece. */
function rowsOf(tried: TriedPair): Pick<PairParts, 'rows' | 'rowG'> {
  const { body } = tried.shape.style;
  const main = rolesMainFirst(body)[0]!.name;
  const uses = rowsYarnOf({
    ...{ body, spec: tried.working.spec, person: tried.person, footLengthMm: tried.shape.foot.lengthMm },
    ...{ cuffHeightMm: tried.shape.cuffHeightMm, words: 'british', unitSystem: 'metric', needlesMm: {} },
    strands: body.roles.flatMap(({ name: role }, index) =>
      tried.yarn.strands.map((yarn, strand) => ({
        ...{ role, strand, yarnColourId: index, colour: role, yarn: yarn.name, fibre: yarn.fibre, hexes: [] },
        ...{ tex: yarn.tex, ballMg: yarn.ballMg, mg: 0 },
      })),
    ),
  });
  const longest = uses
    .filter((use) => use.role === main && use.piece === body.pieces[0]?.name && use.rows > 0)
    .sort((a, b) => b.rows - a.rows)[0];
  if (!longest) return { rows: 0, rowG: 0 };
  return { rows: longest.rows, rowG: ((2 * longest.metres) / longest.rows) * perMetre(tried) };
}

/** What a usual pair takes of a yarn, with the safety that the workshop buys at. */
function partsOf(yarnId: number, plan: WorkshopPlan): PairParts | null {
  const values = { ...usual, yarn: String(yarnId) };
  const tried = tryPair(values, plan);
  if (!tried.ok) return null;
  const safe = (grams: number, sd: number) =>
    enoughAt({ mean: grams, sharedSd: sd, ownVariance: 0 }, plan.settings.confidence);
  const partOf = ({ grams, sd }: { readonly grams: number; readonly sd: number }, words: string) => ({
    words,
    grams: safe(grams, sd),
  });
  const { body } = tried.value.shape.style;
  const [, ...others] = rolesMainFirst(body);
  const parts = others.flatMap(({ name, words }) => {
    const own = tried.value.grams.find((each) => each.role === name);
    return own ? [partOf(own, words.toLowerCase())] : [];
  });
  const toes = tryPair(values, plan, { versionId: 0, name: contrastToeSlipper.style, body: contrastToeSlipper });
  const toe = toes.ok ? toes.value.grams.find((each) => each.role === 'toe') : undefined;
  if (toe && !parts.some(({ words }) => words === 'toe')) parts.push(partOf(toe, 'toe'));
  const { grams } = tried.value;
  return {
    pairG: safe(
      grams.reduce((sum, each) => sum + each.grams, 0),
      Math.hypot(...grams.map((each) => each.sd)),
    ),
    parts,
    ...rowsOf(tried.value),
    gramsPerM: perMetre(tried.value),
  };
}

/** When a ball was last on the scale and what was found; no day when a pair's likely grams were taken off after it. */
function lastWeighed(moves: readonly BallMoveRow[]): Pick<UseFirstBall, 'weighedDay' | 'foundMg'> {
  const undone = new Set(moves.map((move) => move.reversesId));
  const last = moves.filter((move) => move.reversesId === null && !undone.has(move.id)).at(-1);
  const isReckoned = last === undefined || (last.reason === 'used' && last.pairId !== null);
  return {
    weighedDay: isReckoned ? null : last.day,
    foundMg: last?.reason === 'weighed' ? last.changeMg : 0,
  };
}

/** A ball that was begun, or that came smaller than a ball as sold and has no like beside it. */
function isPartBall(ball: BallRow, moves: readonly BallMoveRow[], ofLot: readonly BallRow[], ballMg: number): boolean {
  if (ball.massMg < (moves[0]?.changeMg ?? ball.massMg)) return true;
  return ball.massMg < ballMg && !ofLot.some((other) => other.id !== ball.id && other.massMg === ball.massMg);
}

/** Part balls and ends in the order to use them, and what the plan is likely to leave. */
export async function readLeftovers(workshop: Workshop, now: Date): Promise<Leftovers> {
  const plan = await readPlan(workshop, now);
  const shelf = await readShelf(workshop);
  const moves = await workshop.store.read((db) => listAllMoves(db));
  const movesOf = new Map<number, BallMoveRow[]>();
  for (const move of moves) movesOf.set(move.ballId, [...(movesOf.get(move.ballId) ?? []), move]);
  const nameOf = new Map(shelf.knitters.map(({ id, name }) => [id, name]));
  const colours = coloursOf(plan.rows);
  const known = new Map<number, PairParts | null>();
  const usualOf = (yarnId: number) => {
    if (!known.has(yarnId)) known.set(yarnId, partsOf(yarnId, plan));
    return known.get(yarnId) ?? null;
  };
  const balls = shelf.yarns.flatMap(({ yarn, colours: ofYarn }) =>
    ofYarn.flatMap(({ colour, lots }) =>
      lots
        .filter((each) => each.massMg > each.promisedMg)
        .flatMap(({ lot, balls: ofLot, promisedMg }) => {
          const masses = ofLot.map(({ massMg }) => massMg);
          const free = freeOfBalls(masses, promisedMg);
          return ofLot
            .map((ball, at) => ({ ...ball, freeMg: free[at]! }))
            .filter((ball) => ball.freeMg > 0 && isPartBall(ball, movesOf.get(ball.id) ?? [], ofLot, yarn.ballMg))
            .map((ball): UseFirstBall => {
              const own = movesOf.get(ball.id) ?? [];
              const parts = usualOf(yarn.id);
              const { dyeLot, donor, place, returnableUntilDay } = lot;
              return {
                ...{
                  ballId: ball.id,
                  lotId: lot.id,
                  massMg: ball.massMg,
                  freeMg: ball.freeMg,
                  dyeLot,
                  donor,
                  place,
                  returnableUntilDay,
                },
                colour: { id: colour.id, name: colour.name, swatchHex: colour.swatchHex, yarn },
                isGiven: donor !== null || own.some(({ reason }) => reason === 'given'),
                isReturnable: returnableUntilDay !== null && returnableUntilDay >= plan.today,
                knitter: ball.knitterId === null ? null : (nameOf.get(ball.knitterId) ?? null),
                ...lastWeighed(own),
                does: parts === null ? null : whatItStillDoes(ball.freeMg / 1000, parts),
              };
            });
        }),
    ),
  );
  return { plan, balls: useFirst(balls), expected: expectedOf(plan, colours) };
}

function expectedOf(
  { plan, rows, settings, input }: WorkshopPlan,
  colours: ReadonlyMap<number, NamedColour>,
): ExpectedLeft[] {
  const stepG = settings.unitSystem === 'metric' ? 1 : gramsInOunce / 10;
  const colourOfLot = new Map(rows.lots.map((lot) => [lot.id, lot.yarnColourId]));
  return plan.needs.flatMap(({ yarnColourId, grams }): ExpectedLeft[] => {
    const colour = colours.get(yarnColourId);
    if (!colour) return [];
    const onShelfG =
      rows.balls.reduce((sum, ball) => (colourOfLot.get(ball.lotId) === yarnColourId ? sum + ball.massMg : sum), 0) /
      1000;
    const ofColour = (each: { readonly yarnColourId: number }) => each.yarnColourId === yarnColourId;
    const onWayMg = input.shelf
      .filter((lot) => ofColour(lot) && isOnWayLot(lot.id))
      .reduce((sum, lot) => sum + lot.freeMg, 0);
    const lines = plan.lists.chosen.baskets.flatMap((basket) => basket.lines).filter(ofColour);
    const unsold = plan.lists.chosen.uncovered.filter(ofColour);
    const toBuyMg =
      lines.reduce((sum, line) => sum + line.grossMg, 0) + unsold.reduce((sum, { needMg }) => sum + needMg, 0);
    // Rounded before they are reckoned with, so that the row adds up as it stands.
    const [here, onWay, bought, needed] = [onShelfG, onWayMg / 1000, toBuyMg / 1000, grams.mean].map(
      (each) => roundHalfUp(each / stepG) * stepG,
    );
    const leftG = expectedLeftG(here!, onWay! + bought!, needed!);
    return [{ colour, onShelfG: here!, onWayG: onWay!, toBuyG: bought!, neededG: needed!, leftG, sdG: sdOf(grams) }];
  });
}
