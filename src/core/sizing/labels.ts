import { type Figure, given, rule, work } from '#core/shared/figure.ts';
import { mmInInch } from '#core/shared/measures.ts';
import { type Problem, type Result, refuse, succeed } from '#core/shared/problem.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import type { Person } from '#core/sizing/foot.ts';
import { requireFootLength } from '#core/sizing/foot-range.ts';
import { type LabelRule, labelRuleFor, type SizeSystem, systemsFor } from '#core/sizing/label-rules.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

export { type SizeSystem, sizeSystems, systemsFor, usWomenOffsets } from '#core/sizing/label-rules.ts';
export { parseSizeNumber } from '#core/sizing/size-number.ts';

export type LabelInput = {
  readonly person: Person;
  readonly system: SizeSystem;
  /** As typed: `38`, `38,5`, `38 1/2`, `junior 1`. */
  readonly label: string;
  /** US women's size less UK size, 2 (the default) or 2.5. */
  readonly usWomenOffset?: number | undefined;
};

/** A size as written, with the system it belongs to. */
export type SizeLabel = { readonly system: SizeSystem; readonly label: string };

/** Running size of junior 1, and the last junior size: children's 13.5 is followed by 1. */
const juniorStart = 13;
const lastJunior = 5.5;

const juniorRule = rule(
  {
    name: 'size counted on',
    unit: 'size',
    mark: 'published',
    source: "definition of children's UK and US sizes: 13.5 is followed by 1",
    words: '{junior size} + 13',
  },
  (size: number) => size + juniorStart,
);

function rangeWords(person: Person, system: SizeSystem, column: LabelRule): string {
  if (column.restarts) {
    return `Enter a child's ${system} size from ${column.least} to 13.5, or from junior 1 to junior ${lastJunior}, like ${column.like}.`;
  }
  const name = system === 'Japan' ? 'Japanese' : system;
  const whose = person === 'child' ? "a child's" : system === 'EU' ? 'an' : 'a';
  return `Enter ${whose} ${name} size between ${column.least} and ${column.most}, like ${column.like}.`;
}

function problemOf(code: string, path: string, sentence: string, typed: string): Problem {
  return { code, path, message: typed.trim() === '' ? sentence : `${sentence} You typed “${typed.trim()}”.` };
}

type Stage = 'infant' | 'junior' | null;

/** Takes the system's name, a unit, and the words for the two children's scales off a label. */
function readStage(typed: string, system: SizeSystem): { stage: Stage; rest: string } {
  const unit = system === 'Japan' ? 'cm' : 'mm';
  const plain = typed
    .trim()
    .toLowerCase()
    .replace(new RegExp(`^${system.toLowerCase()}\\s*|\\s*${unit}$`, 'g'), '');
  const stages: readonly [Stage, RegExp][] = [
    ['junior', /^(?:junior|youth|j|y)\s*(?=[\d½])|\s*(?:junior|youth|j|y)$/],
    ['infant', /^(?:infant|toddler|child|i|c)\s*(?=[\d½])|\s*(?:infant|toddler|child|i|c)$/],
  ];
  for (const [stage, pattern] of stages) {
    if (pattern.test(plain)) return { stage, rest: plain.replace(pattern, '') };
  }
  return { stage: null, rest: plain };
}

/**
 * Whether a text is two sizes at once.
 *
 * @example isTwoSizes('38/39') // => true
 * @example isTwoSizes('38 - 39.5') // => true
 * @example isTwoSizes('38 1/2') // => false
 */
export function isTwoSizes(text: string): boolean {
  return /^\s*(\d{2}|\d\d?[.,]5)\s*[/–-]\s*\d{2}([.,]5)?\s*$/.test(text);
}

/**
 * The foot length that a shoe size stands for.
 * Adults: EU (size - 2) x 20/3; UK (size + 23) x 25.4/3; US men UK + 1; US women UK + 2 (or 2.5).
 * Children: EU size x 10/1.62; UK (size + 12) x 25.4/3.24, US a third of a size more, both from about -0.75 to 0.75
 * sizes loose. Japan is the foot in cm, Mondopoint in mm. A child's UK or US 1 to 5.5 exists twice, for the small child
 * and again after 13.5, so that `infant 3` or `junior 3` (also `3C`, `J3`, `3Y`) must be written.
 *
 * @param input person, system and the label as typed
 * @param path field that a problem belongs to
 * @returns a figure, foot length in mm, not rounded; or the problem in a sentence
 * @throws {RangeError} when the US women's offset is neither 2 nor 2.5
 * Source: ISO/TS 19407:2015, read second-hand
 * @example footLengthFromLabel({ person: 'woman', system: 'EU', label: '38' }).value.value // => 240
 * @example footLengthFromLabel({ person: 'man', system: 'US', label: '9' }).value.value // => 262.4666666667, (9 - 1 + 23) x 25.4 / 3
 * @example footLengthFromLabel({ person: 'woman', system: 'EU', label: '380' }).problems[0].message // => 'Enter an EU size between 33 and 52, like 38. You typed “380”.'
 * @example footLengthFromLabel({ person: 'child', system: 'UK', label: '1' }).ok // => false, infant 1 or junior 1
 */
export function footLengthFromLabel(input: LabelInput, path = 'label'): Result<Figure> {
  const { person, system, label } = input;
  const column = labelRuleFor(person, system, input.usWomenOffset ?? 2);
  if (!column) {
    const message = 'Choose woman, man or child: US sizes differ between them. Or enter the EU or UK size.';
    return refuse({ code: 'personNeeded', path, message });
  }
  const sentence = rangeWords(person, system, column);
  if (isTwoSizes(label)) {
    const message = `These are two sizes. Enter one of them, or one between, like ${column.like}.`;
    return refuse(problemOf('sizePair', path, message, label));
  }
  const { stage, rest } = readStage(label, system);
  const size = parseSizeNumber(rest);
  if (size === null || (stage !== null && !column.restarts)) {
    return refuse(problemOf('sizeNotANumber', path, sentence, label));
  }
  if (column.restarts) return childLength(column, stage, size, { path, sentence, label });
  if (size < column.least || size > column.most) return refuse(problemOf('sizeOutOfRange', path, sentence, label));
  return succeed(work(column.rule, given('size', size, 'size', 'yours', 'on the order')));
}

function childLength(
  column: LabelRule,
  stage: Stage,
  size: number,
  at: { readonly path: string; readonly sentence: string; readonly label: string },
): Result<Figure> {
  const isJuniorSize = size >= 1 && size <= lastJunior;
  if (stage === null && isJuniorSize) {
    const about = (running: number) => {
      const lengthMm = Math.round(column.rule.formula(running));
      return `${lengthMm / 10} cm, ${(lengthMm / mmInInch).toFixed(1)} in`;
    };
    const message =
      `Write “infant ${size}” (a foot of about ${about(size)}) or “junior ${size}” ` +
      `(about ${about(size + juniorStart)}): children's sizes begin again at 1 after 13.5.`;
    return refuse(problemOf('sizeAmbiguous', at.path, message, at.label));
  }
  if (stage === 'junior' ? !isJuniorSize : size > juniorStart + 0.5) {
    return refuse(problemOf('sizeOutOfRange', at.path, at.sentence, at.label));
  }
  const running =
    stage === 'junior'
      ? work(juniorRule, given('junior size', size, 'size', 'yours', 'on the order'))
      : given('size', size, 'size', 'yours', 'on the order');
  return succeed(work(column.rule, running));
}

/** Nearest step; a tie goes to the smaller size, as in the published table. */
function nearestStep(value: number, step: number): number {
  return -roundHalfUp(-value / step) * step + 0;
}

/** A running number of a system as it is written: a child's UK or US 14 is junior 1. */
export function labelOf(column: LabelRule, size: number): string {
  if (!column.restarts || (size > lastJunior && size <= juniorStart + 0.5)) return String(size);
  return size > juniorStart + 0.5 ? `junior ${size - juniorStart}` : `infant ${size}`;
}

/**
 * The sizes of a foot in every system, for a size chart: the nearest half size (Mondopoint: 5 mm), a tie going down as
 * in the published table. A system in which the foot is outside the sizes that exist is left out, and so is US for an
 * unknown person.
 *
 * @param person whose foot
 * @param lengthMm foot length in mm, 60 to 360
 * @param usWomenOffset US women's size less UK size, 2 or 2.5
 * @returns in the order EU, UK, US, Japan, Mondopoint; may be empty
 * @throws {RangeError} when the length is out of range
 * Source: ISO/TS 19407:2015, read second-hand; UK labels within 0.26 of the table
 * @example labelsForLength('woman', 240) // => [{ system: 'EU', label: '38' }, { system: 'UK', label: '5.5' }, { system: 'US', label: '7.5' }, { system: 'Japan', label: '24' }, { system: 'Mondopoint', label: '240' }]
 * @example labelsForLength('woman', 215)[0].label // => '34', a tie at 34.25 goes down
 * @example labelsForLength('child', 60) // => []
 */
export function labelsForLength(person: Person, lengthMm: number, usWomenOffset = 2): readonly SizeLabel[] {
  requireFootLength('labelsForLength: lengthMm', lengthMm);
  const labels: SizeLabel[] = [];
  for (const system of systemsFor(person)) {
    const column = labelRuleFor(person, system, usWomenOffset)!;
    const size = nearestStep(column.sizeOf(lengthMm), column.step);
    if (size >= column.least && size <= column.most) labels.push({ system, label: labelOf(column, size) });
  }
  return labels;
}
