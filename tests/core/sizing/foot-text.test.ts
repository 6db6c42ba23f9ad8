import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { footLengthFromText } from '#core/sizing/foot-text.ts';

describe('footLengthFromText', () => {
  it.each([
    ['24.5', 245],
    ['24,5', 245],
    ['24.5cm', 245],
    ['24 1/2 cm', 245],
    ['245', 245],
    ['245 mm', 245],
    ['9 1/2 in', 241.3],
    ['9.5"', 241.3],
    ['9½ inches', 241.3],
    ['6 cm', 60],
    ['36', 360],
    [' 17 CM ', 170],
  ])('reads “%s” as %d mm', (text, lengthMm) => {
    const result = footLengthFromText(text);
    expect(result.ok && result.value.value).toBeCloseTo(lengthMm, 9);
  });

  it.each([
    ['', 'Enter the length of the foot, like 24.5 cm or 245 mm.'],
    ['long', 'Enter the length of the foot, like 24.5 cm or 245 mm. You typed “long”.'],
    ['24.5 m', 'Enter the length of the foot, like 24.5 cm or 245 mm. You typed “24.5 m”.'],
    ['9.5', 'Say whether this is centimetres or inches: enter 9.5 cm or 9.5 in.'],
    ['37', 'Enter the length of the foot between 6 and 36 cm, like 24.5 cm. You typed “37”.'],
    ['2', 'Enter the length of the foot between 6 and 36 cm, like 24.5 cm. You typed “2”.'],
    ['400 mm', 'Enter the length of the foot between 6 and 36 cm, like 24.5 cm. You typed “400 mm”.'],
    ['0', 'Enter the length of the foot between 6 and 36 cm, like 24.5 cm. You typed “0”.'],
  ])('answers “%s” with a sentence', (text, message) => {
    const result = footLengthFromText(text, 'left');
    expect(!result.ok && result.problems).toEqual([expect.objectContaining({ path: 'left', message })]);
  });

  it('gives a foot of 60 to 360 mm or a sentence, whatever is typed', () => {
    const texts = fc.oneof(fc.string(), fc.stringMatching(/^[0-9]{0,4}[.,]?[0-9]{0,2} ?(mm|cm|in)?$/));
    fc.assert(
      fc.property(texts, (text) => {
        const result = footLengthFromText(text);
        return !result.ok || (result.value.value >= 60 && result.value.value <= 360);
      }),
      { numRuns: 2000 },
    );
  });
});
