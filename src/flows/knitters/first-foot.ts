import { type FirstFoot, swatchOfFirstFoot } from '#core/gauge/first-foot.ts';
import { loopOfWeighed } from '#core/gauge/swatch.ts';
import { AppError } from '#core/shared/app-error.ts';
import type { Day } from '#core/shared/calendar.ts';
import { formatMass } from '#core/shared/measures.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { strandsOf } from '#core/styles/work-out.ts';
import { drawUpTailM, loopsOfPiece } from '#core/yardage/piece-loops.ts';
import type { Workshop } from '#db/open.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';

/** The first foot of a line in a knitter's hands: what her card said, and which strands she held. */
export type FootInHand = {
  readonly current: WorkshopPlan;
  readonly lineId: number;
  readonly size: string;
  readonly knitterId: number;
  readonly knitterName: string;
  readonly castOnStitches: number;
  readonly totalRows: number;
  readonly loops: number;
  readonly otherTailsM: number;
  readonly tex: number;
  /** Yarn in one stitch as it is known so far. */
  readonly loopCm: number;
  readonly fabric: string;
  readonly needleMm: number;
  readonly yarnIds: readonly number[];
  readonly yarnWords: string;
};

const notHere = () => new AppError('notFound', 'That line is not here; it may have been removed.');

/**
 * A line's foot in a knitter's hands, the reference knitter's where none is named.
 *
 * @throws {AppError} `notFound`
 */
export async function readFirstFoot(
  workshop: Workshop,
  now: Date,
  lineId: number,
  knitterId: number | null,
): Promise<FootInHand> {
  const current = await readPlan(workshop, now);
  const { knitters, hands, referenceKnitterId } = current.input;
  const kind = current.kindOfLine.get(lineId);
  const foot = current.footOfLine.get(lineId);
  const wished = knitterId ?? referenceKnitterId;
  const knitter = knitters.find((each) => each.id === wished) ?? knitters[0];
  const hand = hands.find((each) => each.key === knitter?.handKey);
  if (!kind || !foot || !knitter || !hand) throw notHere();
  const { worked } = specifyWithWorking(kind.shape, hand);
  const piece = worked.pieces[0]!;
  const yarns = strandsOf(kind.shape, piece.piece.gaugeOf);
  const work = piece.sections.find(({ section }) => section.do === 'work')?.section;
  return {
    current,
    lineId,
    size: sizeWordsIn(foot.words, current.settings.unitSystem),
    knitterId: knitter.id,
    knitterName: knitter.name,
    castOnStitches: piece.castOn.value,
    totalRows: piece.totalRows.value,
    loops: loopsOfPiece(piece),
    otherTailsM: drawUpTailM(piece),
    tex: piece.gauge.texTotal,
    loopCm: piece.gauge.loop.value,
    fabric: work?.do === 'work' ? work.fabric : 'stocking',
    needleMm: piece.gauge.needleMm,
    yarnIds: yarns.map((yarn) => yarn.id),
    yarnWords: [...new Set(yarns.map((yarn) => yarn.name))].join(' with ') + strandWords(yarns.length),
  };
}

function strandWords(strands: number): string {
  return strands > 1 ? `, ${strands === 2 ? 'two' : 'three'} strands` : '';
}

export type FirstFootEntry = FirstFoot & {
  readonly knitterId: number;
  readonly needleMm: number | null;
  readonly isWashed: boolean;
  readonly madeDay: Day | null;
};

/** A weight that no yarn in a stitch could come from: half or twice what the gauge says. Our own bounds. */
function oddWeight(
  massG: number,
  { stitches, rows }: { readonly stitches: number; readonly rows: number },
  { tex, loopCm, current }: FootInHand,
): string | null {
  const loop = massG > 0 ? loopOfWeighed(massG, stitches, rows, tex) : 0;
  if (loop > loopCm / 2 && loop < loopCm * 2) return null;
  const usual = formatMass((loopCm * stitches * rows * tex) / 100_000, current.settings.unitSystem);
  return `A foot of these counts weighs about ${usual} with this yarn. Weigh the whole foot again, or leave it empty.`;
}

/**
 * Keeps a first foot as a swatch of its knitter and yarn.
 *
 * @param foot read for the knitter that the entry names
 * @returns the number of the swatch
 */
export async function keepFirstFoot(
  workshop: Workshop,
  foot: FootInHand,
  entry: FirstFootEntry,
): Promise<Result<number>> {
  const [first, second] = [foot.yarnIds[0]!, foot.yarnIds.find((id) => id !== foot.yarnIds[0])];
  if (foot.yarnIds.length > 3 || (second !== undefined && foot.yarnIds.length > 2)) {
    const message = 'A swatch can hold one yarn in up to three strands, or two yarns together. This foot has more.';
    return refuse({ code: 'tooManyStrands', path: 'stitches', message });
  }
  const swatch = swatchOfFirstFoot(entry, foot);
  const tooOdd = swatch.massG === null ? null : oddWeight(swatch.massG, swatch, foot);
  if (tooOdd !== null) return refuse({ code: 'oddWeight', path: 'massG', message: tooOdd });
  const { massG, ...measures } = swatch;
  const { knitterId, needleMm, isWashed, madeDay } = entry;
  const id = await workshop.store.write('knitters: keep the first foot as a swatch', async (tx) => {
    const row = await createSwatch(tx, {
      ...measures,
      knitterId: knitterId === 0 ? null : knitterId,
      yarnId: first,
      secondYarnId: second ?? null,
      strands: foot.yarnIds.length,
      needleMm,
      fabric: foot.fabric,
      massMg: massG === null ? null : Math.round(massG * 1000),
      isWashed,
      madeDay,
    });
    return row.id;
  });
  return succeed(id);
}
