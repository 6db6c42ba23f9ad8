import { describe, expect, it } from 'vitest';
import { readSizeText } from '#core/sizing/size-text.ts';

const lengthOf = (text: string, person: Parameters<typeof readSizeText>[1] = 'woman') => {
  const read = readSizeText(text, person, 2);
  return read.ok ? Math.round(read.value.length.value * 10) / 10 : null;
};
const sentenceOf = (text: string, person: Parameters<typeof readSizeText>[1] = 'woman') => {
  const read = readSizeText(text, person, 2);
  return read.ok ? '' : read.problems[0]!.message;
};

describe('readSizeText', () => {
  // EU: (38 - 2) x 20 / 3 = 240; UK: (5.5 + 23) x 25.4 / 3 = 241.3; US women UK + 2: 7.5 is UK 5.5.
  it.each([
    ['38', 240],
    ['EU 38', 240],
    ['uk 5.5', 241.3],
    ['US 7.5', 241.3],
    ['Japan 24', 240],
    ['24,5 cm', 245],
    ['245', 245],
    ['9 1/2 in', 241.3],
  ])('reads “%s” as a foot of %s mm', (text, mm) => expect(lengthOf(text)).toBe(mm));

  it('reads an age as a child’s', () => {
    const read = readSizeText('age 5', 'woman', 2);
    expect(read.ok && read.value.person).toBe('child');
  });

  it('asks for the system of a small number', () => expect(sentenceOf('6')).toMatch(/UK 6 or US 6/));
  it('asks for something where there is nothing', () => expect(sentenceOf(' ')).toMatch(/Enter a shoe size/));

  it('asks back when a grown-up’s foot would be a small child’s', () => {
    expect(sentenceOf('99', 'man')).toMatch(/9\.9\u00a0cm of foot, a small child’s/);
    expect(lengthOf('99', 'child')).toBe(99);
    expect(lengthOf('17 cm', 'woman')).toBe(170);
  });
});
