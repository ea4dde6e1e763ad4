/** The nth largest of many numbers, without sorting them: the half that cannot hold it is left alone (Hoare 1961). */
export function nthLargest(numbers: Float64Array, nth: number): number {
  const held = numbers.slice();
  const wanted = Math.max(0, held.length - nth);
  let [low, high] = [0, held.length - 1];
  while (low < high) {
    const middle = held[(low + high) >> 1]!;
    let [left, right] = [low, high];
    while (left <= right) {
      while (held[left]! < middle) left += 1;
      while (held[right]! > middle) right -= 1;
      if (left > right) break;
      const swapped = held[left]!;
      held[left] = held[right]!;
      held[right] = swapped;
      left += 1;
      right -= 1;
    }
    if (wanted <= right) high = right;
    else if (wanted >= left) low = left;
    else break;
  }
  return held[wanted] ?? 0;
}
