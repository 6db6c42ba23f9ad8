import { yarnsKey } from '#core/gauge/hand.ts';
import { AppError } from '#core/shared/app-error.ts';
import { sizeWordsIn } from '#core/sizing/size-words.ts';
import { specifyWithWorking } from '#core/styles/specify.ts';
import { strandsOf } from '#core/styles/work-out.ts';
import type { Workshop } from '#db/open.ts';
import type { WorkshopRows } from '#db/stores/read-workshop.ts';
import { type HandsOfWorkshop, handsOf, readingOf } from '#flows/knitters/hands.ts';
import { type PairNumbers, pairNumbers } from '#flows/knitters/pair-numbers.ts';
import { yarnWordsOf } from '#flows/knitters/read-knitters.ts';
import { readPlan } from '#flows/read-plan.ts';

export type ChangedLine = {
  readonly lineId: number;
  readonly orderNumber: number;
  readonly size: string;
  readonly knitterName: string;
  readonly before: PairNumbers;
  readonly after: PairNumbers;
  /** Stitches or rows differ; grams and minutes may differ without. */
  readonly isRecounted: boolean;
};

/** What a swatch changes: every open line in its yarn, in the hands that it speaks for, without it and with it. */
export type SwatchChanges = {
  readonly knitterId: number | null;
  readonly yarnWords: string;
  readonly isLeftOut: boolean;
  readonly lines: readonly ChangedLine[];
  readonly recounted: number;
};

const keyOf = (numbers: PairNumbers) => [numbers.castOn, numbers.rows, numbers.cuff].join('/');

function numbersOf(
  { kindOfLine }: Pick<Awaited<ReturnType<typeof readPlan>>, 'kindOfLine'>,
  lineId: number,
  knitterId: number,
  { knitters, hands }: HandsOfWorkshop,
): PairNumbers | null {
  const kind = kindOfLine.get(lineId);
  const knitter = knitters.find((each) => each.id === knitterId);
  const hand = hands.find((each) => each.key === knitter?.handKey);
  if (!kind || !knitter || !hand) return null;
  return pairNumbers(specifyWithWorking(kind.shape, hand).spec, kind, knitter);
}

/**
 * The open lines in a swatch's strands, without the swatch and with it. For a swatch of the workshop's these are the hands
 * of all who knit; hands that it makes no difference to are left out.
 *
 * @throws {AppError} `notFound`
 */
export async function readSwatchChanges(workshop: Workshop, now: Date, swatchId: number): Promise<SwatchChanges> {
  const current = await readPlan(workshop, now);
  const { rows } = current;
  const swatch = rows.swatches.find((each) => each.id === swatchId);
  if (!swatch) throw new AppError('notFound', 'That swatch is not here.');
  const key = readingOf(swatch, rows)?.yarnsKey;
  const without: WorkshopRows = { ...rows, swatches: rows.swatches.filter((each) => each.id !== swatchId) };
  const [before, after] = [handsOf(without), handsOf(rows)];
  const ids = swatch.knitterId === null ? after.knitters.map((each) => each.id) : [swatch.knitterId];
  const lines = current.input.lines.flatMap((line): ChangedLine[] => {
    const { shape } = line.kind;
    const isOfYarn = shape.style.body.pieces.some((piece) => yarnsKey(strandsOf(shape, piece.gaugeOf)) === key);
    if (!isOfYarn) return [];
    return ids.flatMap((knitterId): ChangedLine[] => {
      const was = numbersOf(current, line.id, knitterId, before);
      const is = numbersOf(current, line.id, knitterId, after);
      if (!was || !is) return [];
      const isAlike = keyOf(was) === keyOf(is) && Math.abs(was.grams - is.grams) < 0.5;
      if (swatch.knitterId === null && isAlike) return [];
      return [
        {
          lineId: line.id,
          orderNumber: line.orderNumber,
          size: sizeWordsIn(current.footOfLine.get(line.id)?.words ?? '', current.settings.unitSystem),
          knitterName: after.knitters.find((each) => each.id === knitterId)?.name ?? '',
          before: was,
          after: is,
          isRecounted: keyOf(was) !== keyOf(is),
        },
      ];
    });
  });
  return {
    knitterId: swatch.knitterId,
    yarnWords: yarnWordsOf(swatch, rows),
    isLeftOut: swatch.leftOutReason !== null,
    lines,
    recounted: lines.filter((line) => line.isRecounted).length,
  };
}
