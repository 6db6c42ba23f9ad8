import { type Gauge, type Tightness, yarnsKey } from '#core/gauge/hand.ts';
import { per10Cm } from '#core/gauge/swatch.ts';
import type { Day } from '#core/shared/calendar.ts';
import type { Workshop } from '#db/open.ts';
import type { SwatchRow } from '#db/stores/gauge.ts';
import type { DaysOffRow, KnitterRow } from '#db/stores/knitters.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { guessedKnitterName, guessedMinutes } from '#flows/begin/begin-own.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';

/** A knitter on the list. */
export type KnitterView = {
  readonly id: number;
  readonly name: string;
  readonly isActive: boolean;
  readonly hand: Tightness;
  readonly ownSwatches: number;
  readonly minutesAWeek: number;
  readonly pairsAMonth: number | null;
  readonly pairs: number;
  readonly minutesPlanned: number;
  readonly nextFinishDay: Day | null;
  readonly lastFinishDay: Day | null;
  readonly isOverFourHours: boolean;
  readonly isGuessed: boolean;
};

/** A knitted square in words. */
export type SwatchView = {
  readonly id: number;
  readonly version: number;
  readonly knitterName: string | null;
  readonly yarnWords: string;
  readonly needleMm: number | null;
  readonly stitchesPer10Cm: number;
  readonly rowsPer10Cm: number;
  readonly fabric: string;
  readonly isWashed: boolean;
  readonly massG: number | null;
  readonly madeDay: Day | null;
  readonly leftOutReason: string | null;
};

/** Minutes of the weekdays, Monday first. */
export function minutesOfKnitter(rows: Pick<WorkshopRows, 'knitterHours'>, knitterId: number): number[] {
  return [1, 2, 3, 4, 5, 6, 7].map(
    (weekday) =>
      rows.knitterHours.find((each) => each.knitterId === knitterId && each.weekday === weekday)?.minutes ?? 0,
  );
}

/** Her hours are still those that a new workshop begins with. */
export function hasGuessedHours(knitter: KnitterRow, rows: Pick<WorkshopRows, 'knitterHours'>): boolean {
  const minutes = minutesOfKnitter(rows, knitter.id);
  return (
    knitter.name === guessedKnitterName &&
    knitter.version === 1 &&
    minutes.every((each, index) => each === guessedMinutes[index])
  );
}

function knitterView(row: KnitterRow, { rows, plan, settings }: WorkshopPlan): KnitterView {
  const own = plan.weeks.filter((each) => each.knitterId === row.id);
  const finishes = own.flatMap((each) => each.finishDay ?? []).sort();
  const minutes = minutesOfKnitter(rows, row.id);
  return {
    id: row.id,
    name: row.name,
    isActive: row.isActive,
    hand: row.hand,
    ownSwatches: rows.swatches.filter((each) => each.knitterId === row.id && each.leftOutReason === null).length,
    minutesAWeek: minutes.reduce((sum, each) => sum + each, 0),
    pairsAMonth: row.pairsAMonth,
    pairs: own.length,
    minutesPlanned: own.reduce((sum, each) => sum + each.minutes, 0),
    nextFinishDay: finishes[0] ?? null,
    lastFinishDay: finishes.at(-1) ?? null,
    isOverFourHours: row.dailyCapMin > 240 && (Math.max(...minutes) * settings.knittingMinutesPerHour) / 60 > 240,
    isGuessed: hasGuessedHours(row, rows),
  };
}

/** The yarns of a square in words: "Meadow Medium, two strands". */
export function yarnWordsOf(row: Pick<SwatchRow, 'yarnId' | 'secondYarnId' | 'strands'>, rows: WorkshopRows): string {
  const name = (id: number) => rows.yarns.find((yarn) => yarn.id === id)?.name ?? 'a yarn that is no longer here';
  if (row.secondYarnId !== null) return `${name(row.yarnId)} with ${name(row.secondYarnId)}`;
  const strands = ['', 'two strands', 'three strands'][row.strands - 1];
  return strands ? `${name(row.yarnId)}, ${strands}` : name(row.yarnId);
}

function swatchView(row: SwatchRow, rows: WorkshopRows): SwatchView {
  return {
    id: row.id,
    version: row.version,
    knitterName: rows.knitters.find((knitter) => knitter.id === row.knitterId)?.name ?? null,
    yarnWords: yarnWordsOf(row, rows),
    needleMm: row.needleMm,
    stitchesPer10Cm: per10Cm(row.stitches, row.widthMm),
    rowsPer10Cm: per10Cm(row.rows, row.heightMm),
    fabric: row.fabric,
    isWashed: row.isWashed,
    massG: row.massMg === null ? null : row.massMg / 1000,
    madeDay: row.madeDay,
    leftOutReason: row.leftOutReason,
  };
}

export type KnittersView = {
  readonly plan: WorkshopPlan;
  readonly knitters: readonly KnitterView[];
  readonly swatches: readonly SwatchView[];
  readonly daysOff: readonly (DaysOffRow & { readonly knitterName: string | null })[];
  /** Pairs that nobody can take. */
  readonly pairsWithoutKnitter: number;
};

/** Everybody who knits, with what is planned for them, and all squares. */
export async function readKnitters(workshop: Workshop, now: Date): Promise<KnittersView> {
  const plan = await readPlan(workshop, now);
  const { rows } = plan;
  return {
    plan,
    knitters: rows.knitters.map((row) => knitterView(row, plan)),
    swatches: rows.swatches.map((row) => swatchView(row, rows)),
    daysOff: rows.daysOff
      .filter((off) => off.toDay >= plan.today)
      .map((off) => ({ ...off, knitterName: rows.knitters.find((each) => each.id === off.knitterId)?.name ?? null })),
    pairsWithoutKnitter: plan.plan.weeks.filter((each) => each.knitterId === null).length,
  };
}

/** A gauge that counts for a knitter, in words. */
export type GaugeView = {
  readonly yarnWords: string;
  /** Knitted by her; else the workshop's, which counts for everybody who has none of that yarn. */
  readonly isOwn: boolean;
  readonly stitches: number;
  readonly rows: number;
  readonly loopCm: number | null;
};

function keyOf({ strands, yarnId, secondYarnId }: SwatchRow): string {
  const ids = secondYarnId === null ? Array.from({ length: strands }, () => yarnId) : [yarnId, secondYarnId];
  return yarnsKey(ids.map((id) => ({ id })));
}

/** What is measured of a knitter's hand, first of each set of strands. */
export function gaugesOfKnitter({ rows, input }: WorkshopPlan, knitterId: number): readonly GaugeView[] {
  const knitter = input.knitters.find((each) => each.id === knitterId);
  const hand = input.hands.find((each) => each.key === knitter?.handKey);
  const seen = new Set<string>();
  return (hand?.gauges ?? []).flatMap((gauge: Gauge) => {
    if (gauge.fabric !== 'stocking' || seen.has(gauge.yarnsKey)) return [];
    seen.add(gauge.yarnsKey);
    const ofYarn = rows.swatches.filter((each) => keyOf(each) === gauge.yarnsKey);
    const [row] = ofYarn;
    return [
      {
        yarnWords: row ? yarnWordsOf(row, rows) : gauge.yarnsKey,
        isOwn: ofYarn.some((each) => each.knitterId === knitterId && each.leftOutReason === null),
        stitches: gauge.stitchesPer10Cm,
        rows: gauge.rowsPer10Cm,
        loopCm: gauge.loopCm,
      },
    ];
  });
}
