/**
 * Items by a key they share: groups in the order their keys first occur, items in their own order.
 *
 * @example [...groupBy([1, 2, 3], (number) => number % 2)] // => [[1, [1, 3]], [0, [2]]]
 * @example groupBy([], (item) => item).size // => 0
 */
export function groupBy<T, K>(items: readonly T[], keyOf: (item: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}
