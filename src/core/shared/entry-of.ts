/** What a map holds, of either kind. */
type Entries<K, V> = { get(key: K): V | undefined; set(key: K, value: V): unknown };

/**
 * The entry of a key, made when it is not there yet.
 *
 * @example entryOf(new Map([['a', 1]]), 'b', () => 2) // => 2
 * @example entryOf(new Map([['a', 1]]), 'a', () => 2) // => 1
 */
export function entryOf<K, V>(entries: Entries<K, V>, key: NoInfer<K>, make: () => NoInfer<V>): V {
  const known = entries.get(key);
  if (known !== undefined) return known;
  const made = make();
  entries.set(key, made);
  return made;
}

/** For `entryOf` of maps in maps. */
export function newMap<K, V>(): Map<K, V> {
  return new Map();
}
