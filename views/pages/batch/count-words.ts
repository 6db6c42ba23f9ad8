import { formatCount } from '#core/shared/format.ts';

const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** A count as it stands in a sentence: words to twelve, figures from there: "four pairs", "18 pairs". */
export function countInWords(count: number, one: string, many: string): string {
  return `${words[count] ?? formatCount(count)} ${count === 1 ? one : many}`;
}

/** The same at the beginning of a heading. */
export function upperFirst(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** "a", "a and b", "a, b and c". */
export function listInWords(parts: readonly string[]): string {
  return parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
