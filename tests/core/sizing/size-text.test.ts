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
  it('speaks of the age where a child’s small number may be one', () => {
    expect(sentenceOf('5', 'child')).toMatch(/UK 5 or US 5; for a child of 5 years write age 5;/);
    expect(sentenceOf('5', 'woman')).not.toMatch(/age/);
    expect(sentenceOf('1', 'child')).not.toMatch(/age/);
  });

  it('speaks of the unit where a number is a foot rather than a size', () => {
    expect(sentenceOf('24.5')).toBe(
      'Enter an EU size between 33 and 52, like 38. You typed “24.5”. If that is the foot in centimetres, add the unit: 24.5 cm.',
    );
    expect(sentenceOf('EU 26,5', 'man')).toMatch(/add the unit: 26,5 cm\.$/);
    // A child's EU 24.5 is a size.
    expect(lengthOf('24.5', 'child')).toBe(151.2);
    expect(sentenceOf('55')).not.toMatch(/unit/);
  });

  it('asks for something where there is nothing', () => expect(sentenceOf(' ')).toMatch(/Enter a shoe size/));

  it('asks back when a grown-up’s foot would be a small child’s', () => {
    expect(sentenceOf('99', 'man')).toMatch(/9\.9\u00a0cm of foot, a small child’s/);
    expect(lengthOf('99', 'child')).toBe(99);
    expect(lengthOf('17 cm', 'woman')).toBe(170);
  });
});
