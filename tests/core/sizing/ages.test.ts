import { describe, expect, it } from 'vitest';
import { ageFromText, ageSpreadWords, childLengths, footLengthFromAge } from '#core/sizing/ages.ts';
import { readReference } from '#tests/support/reference.ts';

// Snyder and others, UM-HSRI-77-17, 1977, girls and boys together (see tests/reference/SOURCES.md).
const rows = readReference('child-foot-length-by-age.csv').filter((row) => row.sex === 'B');

describe('footLengthFromAge', () => {
  it('has the ages 2 to 12', () => {
    expect(childLengths.map(({ years }) => years)).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });

  it.each(childLengths.map((entry) => [entry.years, entry] as const))(
    'equals the table at %d years',
    (years, entry) => {
      const row = rows.find((each) => Number(each.age_years_completed) === years)!;
      const result = footLengthFromAge(years);
      expect(result.ok && [result.value.value, result.value.sd]).toEqual([Number(row.mean_mm), Number(row.sd_mm)]);
      expect(entry.count).toBe(Number(row.n));
      expect([entry.lowerQuarterMm, entry.upperQuarterMm]).toEqual([Number(row.p25_mm), Number(row.p75_mm)]);
    },
  );

  it('counts completed years', () => {
    const [five, almostSix] = [footLengthFromAge(5), footLengthFromAge(5.99)];
    expect(five.ok && almostSix.ok && almostSix.value.value === five.value.value).toBe(true);
  });

  it.each([1.99, 13, 0, -3, Number.NaN, Number.POSITIVE_INFINITY])('asks for another age than %d', (years) => {
    const result = footLengthFromAge(years, 'childAge');
    expect(!result.ok && result.problems).toEqual([
      {
        code: 'ageOutOfRange',
        path: 'childAge',
        message: 'Enter an age from 2 to 12 years, like 5. For anyone else, enter the foot length or the shoe size.',
      },
    ]);
  });
});

describe('ageFromText', () => {
  it.each([
    ['5', 5],
    ['age 5', 5],
    ['aged 5', 5],
    ['5 years', 5],
    ['5 years old', 5],
    ['2', 2],
    ['12', 12],
  ])('reads %s', (text, years) => {
    expect(ageFromText(text)).toEqual({ ok: true, value: years });
  });

  it.each(['', 'five', '1', '13', 'age', '5 cm', '-5'])('asks again for “%s”, and says what was typed', (text) => {
    const result = ageFromText(text, 'age');
    const message = result.ok ? '' : result.problems[0]!.message;
    expect(message).toContain('Enter an age from 2 to 12 years, like 5.');
    expect(message.includes('You typed')).toBe(text !== '');
  });
});

describe('part of a year', () => {
  it.each(['5.5', 'Age 5 1/2', '5½ years', 'age 5,9'])('“%s” is refused, and the completed years are named', (text) => {
    const result = ageFromText(text);
    expect(result.ok ? '' : result.problems[0]!.message).toBe(
      `Feet are known by completed years: enter 5. You typed “${text}”.`,
    );
  });
});

describe('ageSpreadWords', () => {
  it('says between which lengths half of the feet lie', () => {
    // 177 and 190.5 mm at six, the quarters of the table.
    expect(ageSpreadWords(6).replaceAll('\u00a0', ' ')).toMatch(/between 17\.7 cm and 19\.1 cm/);
    expect(() => ageSpreadWords(13)).toThrow(RangeError);
  });
});
