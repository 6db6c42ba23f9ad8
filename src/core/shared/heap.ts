/**
 * Puts an entry onto a binary heap (an array whose first entry comes before all others).
 *
 * @param heap changed in place
 * @param isBefore whether one entry is to leave the heap before another
 */
export function pushOnto<T>(heap: T[], entry: T, isBefore: (a: T, b: T) => boolean): void {
  heap.push(entry);
  for (let at = heap.length - 1; at > 0; ) {
    const parent = (at - 1) >> 1;
    if (!isBefore(heap[at]!, heap[parent]!)) return;
    [heap[at], heap[parent]] = [heap[parent]!, heap[at]!];
    at = parent;
  }
}

/**
 * Takes the first entry off a binary heap.
 *
 * @param heap changed in place, not empty
 * @throws {RangeError} when the heap is empty
 */
export function popFrom<T>(heap: T[], isBefore: (a: T, b: T) => boolean): T {
  if (heap.length === 0) throw new RangeError('popFrom: heap must not be empty');
  const top = heap[0]!;
  const last = heap.pop()!;
  if (heap.length === 0) return top;
  heap[0] = last;
  for (let at = 0; ; ) {
    let first = at;
    for (const child of [2 * at + 1, 2 * at + 2]) {
      if (child < heap.length && isBefore(heap[child]!, heap[first]!)) first = child;
    }
    if (first === at) return top;
    [heap[at], heap[first]] = [heap[first]!, heap[at]!];
    at = first;
  }
}
