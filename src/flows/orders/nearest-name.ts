import { sameName } from '#flows/orders/known-names.ts';

/** How many letters must be put in, taken out or changed to turn one word into the other (Levenshtein). */
export function editDistance(a: string, b: string): number {
  let before = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let row = 1; row <= a.length; row += 1) {
    const now = [row];
    for (let column = 1; column <= b.length; column += 1) {
      const change = a[row - 1] === b[column - 1] ? 0 : 1;
      now.push(Math.min(now[column - 1]! + 1, before[column]! + 1, before[column - 1]! + change));
    }
    before = now;
  }
  return before[b.length]!;
}

const longest = 60;

/** The name that was most likely meant; null when none is near: one letter in three may be wrong, and always one. */
export function nearestName(text: string, names: readonly string[]): string | null {
  const wanted = sameName(text);
  if (wanted === '' || wanted.length > longest) return null;
  let best: { name: string; distance: number } | null = null;
  for (const name of names) {
    const distance = editDistance(wanted, sameName(name).slice(0, longest));
    if (!best || distance < best.distance) best = { name, distance };
  }
  return best && best.distance <= Math.max(1, Math.floor(wanted.length / 3)) ? best.name : null;
}

const mostListed = 8;

/** What would have been right: the nearest name, or the names there are. */
export function suggestName(text: string, names: readonly string[]): string {
  const nearest = nearestName(text, names);
  if (nearest !== null) return `Did you mean ${nearest}?`;
  if (names.length === 0) return 'There are none yet.';
  const listed = names.slice(0, mostListed).join(', ');
  return `There is ${listed}${names.length > mostListed ? ' and more' : ''}.`;
}
