import { inARow } from '#core/cards/dialect.ts';
import type { YarnCategory } from '#core/gauge/hand.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatMass, formatYarnLength } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Settings } from '#core/shared/settings.ts';
import {
  type JoinBy,
  type JoinedYarn,
  joinBalls,
  strandsForSlipper,
  type UnlabelledBall,
  type WorkedBall,
  weightNames,
  workOutBall,
} from '#core/shelf/unlabelled.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { createYarn, createYarnColour, listYarnColours, listYarns, type YarnRow } from '#db/stores/shelf.ts';
import { makeLot } from '#flows/shelf/make-lot.ts';

/** A ball of the form: what the scale and the ruler said, its colour and who gave it. */
export type UnlabelledRow = UnlabelledBall & {
  /** The yarn weight that was chosen where several fit; none while nobody did. */
  readonly weight?: YarnCategory | null;
  readonly colour: string;
  readonly swatchHex: string;
  readonly donor: string | null;
};

export type UnlabelledEntry = {
  /** At least one. */
  readonly rows: readonly UnlabelledRow[];
  readonly joinBy: JoinBy;
  readonly day: Day;
  readonly place: string | null;
};

export type UnlabelledYarn = JoinedYarn & { readonly name: string };

/** What the balls come to, and the yarns they become. */
export function workOutUnlabelled(
  rows: readonly (UnlabelledBall & Pick<UnlabelledRow, 'weight'>)[],
  joinBy: JoinBy,
  { scaleStepG, unitSystem }: Pick<Settings, 'scaleStepG' | 'unitSystem'>,
): { readonly balls: readonly WorkedBall[]; readonly yarns: readonly UnlabelledYarn[] } {
  const balls = rows.map((row) => {
    const ball = workOutBall(row, scaleStepG);
    const chosen = ball.categories.find((category) => category === row.weight);
    return chosen === undefined ? ball : { ...ball, category: chosen };
  });
  // What was chosen is no longer one of several.
  const known = balls.map((ball, index) => (rows[index]!.weight === ball.category ? [ball.category] : ball.categories));
  const joined = joinBalls(
    balls.map((ball, index) => ({ ...ball, categories: known[index]!, massG: rows[index]!.massG })),
    joinBy,
  );
  const nameOf = ({ categories, tex }: JoinedYarn) =>
    `Unlabelled, ${inARow(
      categories.map((category) => weightNames[category]!),
      'or',
    )}, ${formatYarnLength(100_000 / tex, unitSystem)} in ${formatMass(100, unitSystem)}`.replaceAll('\u00a0', ' ');
  return { balls, yarns: joined.map((yarn) => ({ ...yarn, name: nameOf(yarn) })) };
}

const mgOf = (grams: number) => roundHalfUp(grams * 1000);
const sameName = (a: string, b: string) => a.localeCompare(b, 'en', { sensitivity: 'accent' }) === 0;

// Wool weighed on another day that came to the very same is the same yarn; another thickness of one name gets a number.
async function yarnFor(tx: Tx, yarn: UnlabelledYarn, ballMg: number): Promise<YarnRow> {
  const known = await listYarns(tx);
  const isAlike = (row: YarnRow) =>
    row.fibre === null && row.category === yarn.category && Math.abs(row.tex - yarn.tex) < 0.05;
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? yarn.name : `${yarn.name} (${number})`;
    const same = known.find((row) => sameName(row.name, name));
    if (same && isAlike(same)) return same;
    if (same) continue;
    const { tex, category } = yarn;
    return await createYarn(tx, { name, fibre: null, tex, ballMg, category, usualStrands: strandsForSlipper(tex) });
  }
}

async function colourFor(tx: Tx, yarnId: number, { colour: name, swatchHex }: UnlabelledRow): Promise<number> {
  const known = await listYarnColours(tx);
  const same = known.find((row) => row.yarnId === yarnId && sameName(row.name, name));
  return (same ?? (await createYarnColour(tx, { yarnId, name, swatchHex }))).id;
}

/**
 * Puts unlabelled balls on the shelf in one write: a yarn for each thickness unless they are joined, its colours, a lot
 * for each colour and giver, and every ball as it was weighed, given.
 *
 * @returns ids of the yarns, old and new; or what is more than a lot can hold
 */
export async function saveUnlabelled(
  { store }: Workshop,
  entry: UnlabelledEntry,
  settings: Pick<Settings, 'scaleStepG' | 'unitSystem'>,
): Promise<Result<readonly number[]>> {
  const { yarns } = workOutUnlabelled(entry.rows, entry.joinBy, settings);
  return await store.write('shelf: unlabelled wool', async (tx) => {
    const ids: number[] = [];
    const problems: Problem[] = [];
    for (const yarn of yarns) {
      const rows = yarn.balls.map((index) => entry.rows[index]!);
      const { id: yarnId } = await yarnFor(tx, yarn, Math.max(...rows.map((row) => mgOf(row.massG))));
      const lots = new Map<string, { yarnColourId: number; donor: string | null; ballsMg: number[] }>();
      for (const row of rows) {
        const yarnColourId = await colourFor(tx, yarnId, row);
        const key = `${yarnColourId}/${row.donor?.toLowerCase() ?? ''}`;
        const lot = lots.get(key) ?? { yarnColourId, donor: row.donor, ballsMg: [] };
        lot.ballsMg.push(mgOf(row.massG));
        lots.set(key, lot);
      }
      for (const { yarnColourId, donor, ballsMg } of lots.values()) {
        const { day: gotDay, place } = entry;
        const lot = { yarnColourId, donor, place, gotDay, paidCents: 0, reason: 'given' as const, ballsMg };
        const made = await makeLot(tx, lot, 'mass1');
        if (!made.ok) problems.push(...made.problems);
      }
      ids.push(yarnId);
    }
    return problems.length > 0 ? refuse(...problems) : succeed(ids);
  });
}
