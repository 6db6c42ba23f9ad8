const fractions: Readonly<Record<string, number>> = {
  '1/2': 1 / 2,
  '1/3': 1 / 3,
  '2/3': 2 / 3,
  '1/4': 1 / 4,
  '3/4': 3 / 4,
};
const signs: Readonly<Record<string, string>> = { '½': '1/2', '⅓': '1/3', '⅔': '2/3', '¼': '1/4', '¾': '3/4' };

/**
 * The number somebody wrote for a size or a measure: point or comma, whole and fraction, or a fraction sign.
 *
 * @param text up to three digits before the decimal mark and three after; blanks around it are ignored
 * @returns the number, or null when the text is none
 * @example parseSizeNumber('38') // => 38
 * @example parseSizeNumber(' 38,5 ') // => 38.5
 * @example parseSizeNumber('38 1/2') // => 38.5
 * @example parseSizeNumber('38½') // => 38.5
 * @example parseSizeNumber('36/37') // => null, a pair of sizes is not a number
 * @example parseSizeNumber('') // => null
 */
export function parseSizeNumber(text: string): number | null {
  const plain = text
    .replace(/[½⅓⅔¼¾]/g, (sign) => ` ${signs[sign]}`)
    .replace(',', '.')
    .trim();
  if (/^\d{1,3}(\.\d{1,3})?$/.test(plain)) return Number(plain);
  const mixed = /^(?:(\d{1,3})[\s-]+)?(\d\/\d)$/.exec(plain);
  const part = mixed ? fractions[mixed[2]!] : undefined;
  return part === undefined ? null : Number(mixed![1] ?? 0) + part;
}
