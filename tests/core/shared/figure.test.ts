import { describe, expect, it } from 'vitest';
import { given, namesInWords, rule, withSd, work } from '#core/shared/figure.ts';

const area = rule(
  { name: 'area', unit: 'count', mark: 'ours', source: 'geometry', words: '{width} x {height}' },
  (width: number, height: number) => width * height,
);
const inverse = rule(
  { name: 'inverse', unit: 'ratio', mark: 'ours', source: 'arithmetic', words: '1 / {value}' },
  (value: number) => 1 / value,
);

describe('work', () => {
  it('remembers the rule, the value and what went in', () => {
    const width = Object.freeze(given('width', 3, 'mm', 'yours'));
    const height = Object.freeze(given('height', 4, 'mm', 'published', 'a table', 0.5));
    const figure = work(area, width, height);
    expect([figure.value, figure.sd]).toEqual([12, 0]);
    expect(figure.rule.name).toBe('area');
    expect(figure.inputs[0]).toBe(width);
    expect(figure.inputs[1]).toBe(height);
  });

  it('lets no endless number out, and names the rule and what went in', () => {
    expect(() => work(inverse, given('value', 0, 'ratio', 'yours'))).toThrow('inverse: no finite result from 0');
    expect(() => work(inverse, given('value', Number.NaN, 'ratio', 'yours'))).toThrow(RangeError);
  });

  it('nests', () => {
    const twice = work(inverse, work(inverse, given('value', 8, 'ratio', 'yours')));
    expect([twice.value, twice.inputs[0]!.value]).toEqual([8, 0.125]);
  });
});

describe('withSd', () => {
  it('is a copy', () => {
    const figure = Object.freeze(given('length', 3, 'mm', 'yours'));
    expect([withSd(figure, 0.2).sd, figure.sd]).toEqual([0.2, 0]);
  });
});

describe('namesInWords', () => {
  it.each([
    ['{a} + {b}', ['a', 'b']],
    ['{a} x {a}', ['a']],
    ['nothing', []],
    ['', []],
    ['{ball girth} x (1 + {ease})', ['ball girth', 'ease']],
  ])('of “%s”', (words, names) => {
    expect(namesInWords(words)).toEqual(names);
  });
});
