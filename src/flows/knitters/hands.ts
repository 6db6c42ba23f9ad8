import { type Hand, type Tightness, yarnsKey } from '#core/gauge/hand.ts';
import { gaugesFromSwatches, type SwatchReading } from '#core/gauge/swatch.ts';
import { readSettings } from '#core/shared/settings.ts';
import type { Knitter } from '#core/timing/knitter.ts';
import { usualRates } from '#core/timing/minutes.ts';
import type { SwatchRow } from '#db/stores/gauge.ts';
import type { KnitterRow } from '#db/stores/knitters.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';

/** Hands and knitters as the plan takes them. */
export type HandsOfWorkshop = {
  readonly hands: readonly Hand[];
  /** At least one: without anybody active there is somebody without time, so that a plan can say what is missing. */
  readonly knitters: readonly Knitter[];
  readonly referenceKnitterId: number;
};

type GaugeRows = Pick<WorkshopRows, 'swatches' | 'yarns' | 'settings'>;
type HandRows = GaugeRows & Pick<WorkshopRows, 'knitters' | 'knitterRates' | 'knitterHours' | 'daysOff'>;

/** A stored square as the core reads it; null when one of its yarns is gone. */
export function readingOf(row: SwatchRow, rows: Pick<WorkshopRows, 'yarns'>): SwatchReading | null {
  const yarnOf = (id: number) => rows.yarns.find((yarn) => yarn.id === id);
  const ids = row.secondYarnId === null ? Array(row.strands).fill(row.yarnId) : [row.yarnId, row.secondYarnId];
  const yarns = ids.map(yarnOf).filter((yarn) => yarn !== undefined);
  if (yarns.length !== ids.length) return null;
  return {
    id: row.id,
    yarnsKey: yarnsKey(yarns),
    tex: yarns.reduce((sum, yarn) => sum + yarn.tex, 0),
    fabric: row.fabric,
    stitches: row.stitches,
    rows: row.rows,
    widthMm: row.widthMm,
    heightMm: row.heightMm,
    massG: row.massMg === null ? null : row.massMg / 1000,
    isWashed: row.isWashed,
    needleMm: row.needleMm,
    madeDay: row.madeDay,
  };
}

function gaugesOf(rows: GaugeRows, knitterId: number | null) {
  const readings = rows.swatches
    .filter((row) => row.knitterId === knitterId && row.leftOutReason === null)
    .map((row) => readingOf(row, rows))
    .filter((reading) => reading !== null);
  return gaugesFromSwatches(readings, readSettings(rows.settings).scaleStepG);
}

const nobodyYet: Knitter = {
  id: 0,
  name: 'nobody yet',
  handKey: 'usual',
  rates: usualRates,
  minutesByWeekday: [0, 0, 0, 0, 0, 0, 0],
  dailyCapMin: 0,
  pairsAMonth: null,
  daysOff: [],
  lastDay: null,
};

/** The name of a knitter's hand: her own once she has a square that counts, else the workshop's of her tightness. */
function handKeyOf(knitter: KnitterRow, rows: GaugeRows): string {
  const hasOwn = rows.swatches.some((row) => row.knitterId === knitter.id && row.leftOutReason === null);
  return hasOwn ? `knitter-${knitter.id}` : knitter.hand;
}

function knitterOf(row: KnitterRow, rows: HandRows): Knitter {
  const minutesByWeekday = [1, 2, 3, 4, 5, 6, 7].map(
    (weekday) => rows.knitterHours.find((each) => each.knitterId === row.id && each.weekday === weekday)?.minutes ?? 0,
  );
  const ownRates = rows.knitterRates.filter((rate) => rate.knitterId === row.id);
  return {
    id: row.id,
    name: row.name,
    handKey: handKeyOf(row, rows),
    rates: { ...usualRates, ...Object.fromEntries(ownRates.map((rate) => [rate.operation, rate.value])) },
    minutesByWeekday,
    dailyCapMin: row.dailyCapMin,
    pairsAMonth: row.pairsAMonth,
    daysOff: rows.daysOff
      .filter((off) => off.knitterId === null || off.knitterId === row.id)
      .map(({ fromDay, toDay }) => ({ fromDay, toDay })),
    lastDay: row.lastDay,
  };
}

/**
 * Hands and knitters out of the stored rows. A knitter with a square of her own has a hand of her own; the others share
 * the workshop's hand of their tightness. Squares without a knitter count for everybody who has none of those strands.
 * The reference knitter is the one of the settings, else the first that knits.
 */
export function handsOf(rows: HandRows): HandsOfWorkshop {
  const active = rows.knitters.filter((row) => row.isActive).sort((a, b) => a.id - b.id);
  const shared = gaugesOf(rows, null);
  const hands = new Map<string, Hand>();
  const addHand = (key: string, tightness: Tightness, own: Hand['gauges']) => {
    if (!hands.has(key)) hands.set(key, { key, tightness, gauges: [...own, ...shared] });
  };
  for (const row of active) {
    const key = handKeyOf(row, rows);
    addHand(key, row.hand, key === row.hand ? [] : gaugesOf(rows, row.id));
  }
  const knitters = active.length > 0 ? active.map((row) => knitterOf(row, rows)) : [nobodyYet];
  if (active.length === 0) addHand('usual', 'usual', []);
  const wished = readSettings(rows.settings).referenceKnitterId;
  const reference = knitters.find((knitter) => knitter.id === wished) ?? knitters[0]!;
  return { hands: [...hands.values()], knitters, referenceKnitterId: reference.id };
}
