import { describe, expect, it } from 'vitest';
import { plainPassphrase, readPassphrase } from '#flows/sign-in/read-passphrase.ts';

describe('plainPassphrase', () => {
  it('takes what different keyboards make of the same words as the same', () => {
    expect(plainPassphrase(' otter  candle\u00a0brisk ')).toBe('otter candle brisk');
    // An e and its accent apart, and as one sign.
    expect(plainPassphrase('cafe\u0301 candle brisk')).toBe(plainPassphrase('caf\u00e9 candle brisk'));
  });
});

describe('readPassphrase', () => {
  it.each([
    ['eleven letters', 'otter candl', 'at least 12'],
    ['twelve only by blanks', 'otter     candl    ', 'at least 12'],
    ['nothing', '', 'at least 12'],
    ['a book', 'otter candle '.repeat(30), 'at most 200'],
    ['one letter over and over', 'aaaaaaaaaaaaaaaa', 'easy to guess'],
  ])('refuses %s, at its field', (_, typed, words) => {
    const read = readPassphrase(typed, 'passphrase');
    expect(read.ok ? '' : read.problems[0]).toMatchObject({
      path: 'passphrase',
      message: expect.stringContaining(words),
    });
  });

  it('takes exactly twelve letters, and 200', () => {
    expect(readPassphrase('otter candle', 'passphrase')).toEqual({ ok: true, value: 'otter candle' });
    expect(readPassphrase(`otter${'candle'.repeat(33).slice(0, 195)}`, 'passphrase').ok).toBe(true);
  });
});
