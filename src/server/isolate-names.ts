// Hebrew, Arabic and the scripts written like them.
const letter = '[\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufefc\\u{10800}-\\u{10fff}\\u{1e800}-\\u{1efff}]';
const anyLetter = new RegExp(letter, 'u');
// Words of one name, with what joins them.
const words = new RegExp(`${letter}(?:(?:[\\s\\u0300-\\u036f'’".-]|&#39;|&quot;)*${letter})*`, 'gu');
// What is no running text stays as it is: some elements hold plain text alone, and drawings know no such element.
const pieces = /<(title|textarea|option|script|style|svg)\b[\s\S]*?<\/\1>|<[^>]*>|[^<]+/g;

/**
 * Sets names that are written from right to left apart in a page, so that a count beside one stays on its side.
 *
 * @param html a page or a part of one
 * @returns the same text, each run of such letters in `<bdi>`; a page without any is handed back as it is
 */
export function isolateNames(html: string): string {
  if (!anyLetter.test(html)) return html;
  return html.replace(pieces, (piece) => (piece.startsWith('<') ? piece : piece.replace(words, '<bdi>$&</bdi>')));
}
