import { describe, expect, it } from 'vitest';
import {
  centsFrom,
  moneyForInput,
  numberForInput,
  numberFrom,
  percentForInput,
  ratioFrom,
  tooManyDigitsWords,
  twoReadings,
} from '#server/forms/numbers.ts';

describe('numberFrom', () => {
  it.each([
    ['12', 12],
    [' 12.5 ', 12.5],
    ['12,5', 12.5],
    ['1,200', 1.2],
    ['-3', -3],
    ['\u22123', -3],
    ['.5', 0.5],
    ['0', 0],
  ])('takes %j for %d', (text, value) => expect(numberFrom(text)).toBe(value));

  it.each([
    '',
    ' ',
    'ten',
    '1e5',
    '0x10',
    '1 200',
    '1,2,3',
    '12 cm',
    'NaN',
    'Infinity',
    '٣',
    '9'.repeat(400),
    '\u0000',
  ])('refuses %j', (text) => expect(numberFrom(text)).toBeNull());
});

describe('centsFrom', () => {
  it.each([
    ['4.80', 480],
    ['4,8', 480],
    ['€4.80', 480],
    ['4,80 €', 480],
    ['12', 1200],
    ['.5', 50],
    ['1,234.50', 123450],
    ['1.234,50', 123450],
    ['1 234', 123400],
    ['1,234,567', 123456700],
    ['-2.50', -250],
    ['0', 0],
    ['1.15', 115],
  ])('takes %j for %d cents', (text, cents) => expect(centsFrom(text, 'EUR')).toBe(cents));

  it.each(['', 'free', '1.234567', '4.8.0', '1.234.50', '0.500', '1e3', '--1', '9'.repeat(40), '€'])(
    'refuses %j',
    (text) => expect(centsFrom(text, 'EUR')).toBeNull(),
  );

  // Thousands and a fraction are written with the same two signs in different countries.
  it.each([
    ['13.005', ['13005', '13.01']],
    ['1,200', ['1200', '1.20']],
    ['€ 13.000', ['13000', '13.00']],
  ])('asks of %j which of two it is', (text, readings) => {
    expect(centsFrom(text, 'EUR')).toBeNull();
    expect(twoReadings(text, 'EUR')).toEqual(readings);
  });

  it.each(['12', '4.80', '1,234.50', '1,234,567', '1 234', '0.500'])('has nothing to ask of %j', (text) =>
    expect(twoReadings(text, 'EUR')).toBeNull(),
  );

  it('knows a currency without minor units', () => {
    expect(centsFrom('500', 'JPY')).toBe(500);
    expect(centsFrom('5.5', 'JPY')).toBeNull();
    expect(centsFrom('13.005', 'JPY')).toBe(13_005);
  });

  it('knows a currency with three decimals', () => {
    expect(centsFrom(moneyForInput(13_005, 'KWD'), 'KWD')).toBe(13_005);
    expect(centsFrom('13,005', 'KWD')).toBeNull();
    expect(centsFrom('1,234.567', 'KWD')).toBe(1_234_567);
  });
});

describe('ratioFrom', () => {
  it.each([
    ['30', 0.3],
    ['12,5 %', 0.125],
    ['0%', 0],
  ])('takes %j for %d', (text, ratio) => expect(ratioFrom(text)).toBeCloseTo(ratio, 12));
  it.each(['', '%', 'a third'])('refuses %j', (text) => expect(ratioFrom(text)).toBeNull());
});

describe('what a box shows', () => {
  it('is read back as the same number', () => {
    expect(numberForInput(1200, 2)).toBe('1200');
    expect(numberFrom(numberForInput(1234.5, 2))).toBe(1234.5);
    expect(numberForInput(null)).toBe('');
    expect(ratioFrom(percentForInput(0.07))).toBeCloseTo(0.07, 12);
    expect(centsFrom(moneyForInput(123450, 'EUR'), 'EUR')).toBe(123450);
    expect(moneyForInput(null, 'EUR')).toBe('');
  });
});

describe('tooManyDigitsWords', () => {
  it.each([
    ['4.9999', 'EUR', 'Write at most two digits after the point, like 4.95.'],
    ['0,125', 'SEK', 'Write at most two digits after the point, like 4.95.'],
    ['1,234.567', 'EUR', 'Write at most two digits after the point, like 4.95.'],
    ['4.5', 'JPY', 'Write a whole amount, with no digits after the point, like 3000.'],
    ['4.12345', 'KWD', 'Write at most three digits after the point, like 0.495.'],
  ])('of %s in %s', (text, currency, words) => {
    expect(centsFrom(text, currency)).toBeNull();
    expect(tooManyDigitsWords(text, currency)).toBe(words);
  });

  it.each(['4.95', '4', 'ten', '13.005', '', '-', '4.'])('says nothing of %j', (text) => {
    expect(tooManyDigitsWords(text, 'EUR')).toBeNull();
  });
});
