import { type Figure, namesInWords, type RuleText } from '#core/shared/figure.ts';
import type { WorkingStep } from '#core/shared/working.ts';

/** The number read off the page, in the figure's unit, and the worth of its last digit. */
function readOff(step: WorkingStep, { unit }: RuleText): { value: number; lastDigit: number } {
  const digits = /[\d,]+(\.\d+)?/.exec(step.valueText)!;
  const isMoney = unit.startsWith('cents');
  const factor = isMoney ? 100 : unit === 'percent' ? 0.01 : 1;
  const sign = step.valueText.startsWith('−') ? -1 : 1;
  return {
    value: sign * Number(digits[0].replaceAll(',', '')) * factor,
    lastDigit: 10 ** -Math.max(0, (digits[1]?.length ?? 1) - 1) * factor,
  };
}

const usualDigits: Partial<Record<RuleText['unit'], number>> = {
  mm: 0.1,
  cm: 0.001,
  m: 0.01,
  g: 0.1,
  min: 0.1,
  percent: 0.001,
};
const prose = /nearest|at least|up to|whole/;

/** The words as arithmetic, with numbers for names: a second way from the formula's own code. */
function evaluate(words: string, values: readonly number[]): number {
  const names = namesInWords(words);
  const code = words
    .replace(/\{([^}]+)\}/g, (_, name: string) => `(${values[names.indexOf(name)]})`)
    .replaceAll('square root of', 'Math.sqrt')
    .replaceAll(' x ', ' * ');
  return new Function(`return ${code};`)() as number;
}

/** A tie on an endless decimal: the next digit up reaches the count, the page says it is a tie, and it is exact within. */
function isTie(figure: Figure, step: WorkingStep, formula: (...values: number[]) => number, count: number): boolean {
  const nudged = figure.inputs.map(({ value, rule }) => (rule.unit === 'mm' ? value * (1 + 1e-7) : value));
  const below = figure.inputs.map(({ value, rule }) => (rule.unit === 'mm' ? value * (1 - 1e-7) : value));
  return (
    step.formulaText!.endsWith('(a tie, which goes up)') && formula(...nudged) === count && formula(...below) < count
  );
}

/** Every step whose shown inputs do not lead to its shown value. */
export function faultsIn(figure: Figure, step: WorkingStep, again: { steps: number } = { steps: 0 }): string[] {
  if (step.steps.length === 0) return [];
  again.steps += 1;
  const shown = readOff(step, figure.rule);
  const inputs = step.steps.map((each, index) => readOff(each, figure.inputs[index]!.rule).value);
  const { formula } = figure.rule as RuleText & { formula?: (...values: number[]) => number };
  const total = inputs.reduce((sumOfAll, each) => sumOfAll + each, 0);
  const results = [formula ? formula(...inputs) : total];
  if (formula && !prose.test(figure.rule.words)) results.push(evaluate(figure.rule.words, inputs));
  const isCounted = ['stitches', 'rows', 'loops'].includes(figure.rule.unit);
  const slack = isCounted
    ? 1e-6
    : Math.max(shown.lastDigit < 1 ? shown.lastDigit : 0, usualDigits[figure.rule.unit] ?? shown.lastDigit);
  const wrong = results
    .filter((result) => !(Math.abs(result - shown.value) <= slack * 1.00001))
    .filter(() => !(isCounted && formula && isTie(figure, step, formula, shown.value)))
    .map((result) => `${step.name}: ${step.formulaText} is ${result}, shown ${step.valueText}`);
  return [...wrong, ...step.steps.flatMap((each, index) => faultsIn(figure.inputs[index]!, each, again))];
}
