/**
 * How many pairs of a list stand in falling order: an earlier value larger than a later one. Equal values do not count.
 * How: merge sort, so n log n. Source: D. E. Knuth (1973), The Art of Computer Programming 3, 5.2.4.
 * Example: 3, 1, 2 has 2.
 */
export const inversions = (values: ArrayLike<number>): number => {
  let from = Float64Array.from(values);
  let to = new Float64Array(values.length);
  let count = 0;
  for (let width = 1; width < from.length; width *= 2) {
    for (let start = 0; start < from.length; start += 2 * width) {
      const middle = Math.min(start + width, from.length);
      const end = Math.min(start + 2 * width, from.length);
      let left = start;
      let right = middle;
      for (let at = start; at < end; at += 1) {
        const a = from[left] ?? 0;
        const b = from[right] ?? 0;
        if (left < middle && (right >= end || a <= b)) {
          to[at] = a;
          left += 1;
        } else {
          to[at] = b;
          right += 1;
          count += middle - left;
        }
      }
    }
    [from, to] = [to, from];
  }
  return count;
};
