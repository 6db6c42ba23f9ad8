// A number before a percent sign or its words; a comma may set apart its fraction.
const share = /(\d+(?:[.,]\d+)?)\s*(?:%|per ?cent\b)/gi;

/** Bands round their shares, so that three thirds may come to 100.2 %. Our own choice. */
const mostRatio = 1.005;

/**
 * What the shares of a fibre text come to where that is more than the whole; null where it is not, or none are said.
 *
 * @param fibre what a yarn is made of, as on its band
 * @returns a ratio, above 1
 * @example sharesTooMany('90% wool, 90% nylon') // => 1.8
 * @example sharesTooMany('80 % wool 20 % nylon') // => null
 * @example sharesTooMany('33.4% wool, 33.4% silk, 33.4% nylon') // => null, the band rounds
 * @example sharesTooMany('wool') // => null
 */
export function sharesTooMany(fibre: string): number | null {
  const percent = [...fibre.matchAll(share)].reduce((sum, match) => sum + Number(match[1]!.replace(',', '.')), 0);
  return percent / 100 > mostRatio ? percent / 100 : null;
}
