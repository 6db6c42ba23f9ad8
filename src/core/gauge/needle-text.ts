import { needleSizes } from '#core/gauge/needle-words.ts';
import { type Result, refuse, succeed } from '#core/shared/problem.ts';
import { parseSizeNumber } from '#core/sizing/size-number.ts';

const leastMm = 1;
const mostMm = 40;

function byName(system: 'us' | 'oldUk', name: string): number | null {
  return needleSizes.find((size) => size[system] === name)?.mm ?? null;
}

function mmFrom(typed: string): number | null {
  const us = /^us\s*(.+)$/.exec(typed);
  if (us) {
    const number = parseSizeNumber(us[1]!);
    return byName('us', number === null ? us[1]! : String(number));
  }
  const uk = /^(?:old\s+)?uk\s*(\d+)$/.exec(typed);
  if (uk) return byName('oldUk', uk[1]!);
  // As the list of suggestions writes it: the numbers in brackets only explain.
  return parseSizeNumber(typed.replace(/\s*\(.*\)$/, '').replace(/\s*mm$/, ''));
}

/**
 * A needle as somebody wrote it, in mm.
 *
 * @param text like `7`, `7 mm`, `US 10.5`, `old UK 2`, or as `needleWords` writes it
 * @param path field that a problem belongs to
 * @returns the diameter, 1 to 40 mm; or the problem in a sentence
 * Source: the table of `needleSizes`
 * @example needleMmFromText('7').value // => 7
 * @example needleMmFromText('US 10 1/2').value // => 6.5
 * @example needleMmFromText('old UK 000').value // => 10
 * @example needleMmFromText('7 mm (old UK 2, no US size)').value // => 7
 * @example needleMmFromText('US 12').ok // => false
 */
export function needleMmFromText(text: string, path = 'needleMm'): Result<number> {
  const value = mmFrom(text.trim().toLowerCase().replace(/\s+/g, ' '));
  if (value !== null && value >= leastMm && value <= mostMm) return succeed(value);
  const message = `Enter the needle in mm, like 7, or by its number, like US 10.5 or old UK 3, or leave it empty. You typed “${text.trim().slice(0, 30)}”.`;
  return refuse({ code: 'needleUnknown', path, message });
}
