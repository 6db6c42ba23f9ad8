import { describe, expect, it } from 'vitest';
import { given, rule, sumOf, work } from '#core/shared/figure.ts';
import { workingOf } from '#core/shared/working.ts';
import { FigureTree } from '#views/components/figure-tree.tsx';

const part = (name: string, value: number) => given(name, value, 'g', 'yours', 'weighed');
const twice = rule({ name: 'a pair', unit: 'g', mark: 'ours', source: 'two feet', words: '2 x {one}' }, (g) => 2 * g);

describe('FigureTree', () => {
  it('begins with the figure as other pages show it, and says where its steps have more digits', () => {
    const step = workingOf(work(twice, part('one', 48.95)), 'EUR');
    const text = String(<FigureTree step={step} valueText={'98\u00a0g'} />);
    expect(text).toContain('<strong>98\u00a0g</strong>');
    expect(text).toContain('(in the steps 97.9\u00a0g)');
    expect(String(<FigureTree step={step} valueText={step.valueText} />)).not.toContain('in the steps');
  });

  it('says of a sum of one part no “x = x”', () => {
    const text = (parts: Parameters<typeof sumOf>[2]) => {
      const step = workingOf(sumOf('all', 'g', parts), 'EUR');
      return String(<FigureTree step={step} valueText={step.valueText} />);
    };
    expect(text([part('foot', 80)])).not.toContain('step-formula');
    expect(text([part('foot', 80), part('cuff', 18)])).toContain('= 80\u00a0g + 18\u00a0g = <strong>98\u00a0g');
  });

  it('marks a choice of ours, and no plain sum', () => {
    const marked = (figure: Parameters<typeof workingOf>[0]) => {
      const step = workingOf(figure, 'EUR');
      return String(<FigureTree step={step} valueText={step.valueText} />).match(/our choice/g)?.length ?? 0;
    };
    expect(marked(work(twice, part('one', 49)))).toBe(1);
    expect(marked(sumOf('all', 'g', [part('foot', 80), part('cuff', 18)]))).toBe(0);
  });
});
