import { texFigure } from '#core/gauge/swatch-figures.ts';
import { type Figure, type Unit, work } from '#core/shared/figure.ts';
import type { MetresFigure } from '#core/yardage/metres.ts';
import { yardageRules } from '#core/yardage/rules.ts';

/** The sum of some figures; one figure is itself under the sum's name, since "15 g = 15 g" says nothing. */
export function sumOf(name: string, unit: Unit, inputs: readonly Figure[], source = 'a sum'): Figure {
  if (inputs.length === 1) return renamed(inputs[0]!, name);
  return {
    rule: { name, unit, mark: 'ours', source, words: inputs.map((each) => `{${each.rule.name}}`).join(' + ') },
    value: inputs.reduce((sum, each) => sum + each.value, 0),
    sd: 0,
    inputs,
  };
}

function renamed(figure: Figure, name: string): Figure {
  return { ...figure, rule: { ...figure.rule, name } };
}

/** "foot, rib 2x2, second strand" */
function partName({ role, fabric, strand }: MetresFigure): string {
  const which = ['', ', second strand', ', third strand'][strand] ?? `, strand ${strand + 1}`;
  return `${role} colour, ${fabric === 'stocking' ? 'stocking stitch' : fabric}${which}`;
}

/** Grams of some of a pair's yarn, each part from its metres. */
export function gramsFigure(name: string, metres: readonly MetresFigure[]): Figure {
  const parts = metres.map((each) => {
    return renamed(work(yardageRules.grams, each.metres, texFigure([each.yarn])), partName(each));
  });
  return sumOf(name, 'g', parts);
}

/** Metres of some of a pair's yarn; strands held together count each. */
export function metresSum(name: string, metres: readonly MetresFigure[]): Figure {
  return sumOf(
    name,
    'm',
    metres.map((each) => renamed(each.metres, partName(each))),
  );
}
