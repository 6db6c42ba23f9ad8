import { type Result, refuse, succeed } from '#core/shared/problem.ts';

const leastLetters = 12;
const mostLetters = 200;

/** What a passphrase should be, in words for whoever chooses one. */
export const passphraseHint = `At least ${leastLetters} letters. Four words that have nothing to do with each other are good, like four picked from four pages of a book: easy to remember, hard to guess.`;

/**
 * A passphrase as it is compared: the same signs however a keyboard makes them, one blank between words, none at the
 * ends, which phones like to add.
 */
export function plainPassphrase(typed: string): string {
  return typed.normalize('NFKC').replace(/\s+/g, ' ').trim();
}

/** A new passphrase, or what is wrong with it, at the field given. */
export function readPassphrase(typed: string, path: string): Result<string> {
  const text = plainPassphrase(typed);
  const say = (message: string) => refuse({ code: 'badPassphrase', path, message });
  const letters = [...text].length;
  if (letters < leastLetters) {
    return say(`Enter at least ${leastLetters} letters, best four words that have nothing to do with each other.`);
  }
  if (letters > mostLetters) return say(`Use at most ${mostLetters} letters; there are ${letters}.`);
  if (new Set(text.replaceAll(' ', '').toLowerCase()).size < 5) {
    return say('That is too easy to guess. Take four words that have nothing to do with each other.');
  }
  return succeed(text);
}
