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
    swap(heap, at, parent);
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
    const left = 2 * at + 1;
    const right = left + 1;
    if (left < heap.length && isBefore(heap[left]!, heap[first]!)) first = left;
    if (right < heap.length && isBefore(heap[right]!, heap[first]!)) first = right;
    if (first === at) return top;
    swap(heap, at, first);
    at = first;
  }
}

function swap<T>(heap: T[], one: number, other: number): void {
  const kept = heap[one]!;
  heap[one] = heap[other]!;
  heap[other] = kept;
}
