/**
 * Leaves at most about four points in each of `columns` slices along the web, the lowest and the highest and the ends among them, so that a
 * picture of a million readings looks the same as one of all of them. Few points come back as they are. Points in order of web position.
 */
export function thinPoints<T extends { readonly web_m: number; readonly mm: number }>(
  points: readonly T[],
  columns: number,
): readonly T[] {
  const first = points[0];
  const last = points[points.length - 1];
  if (first === undefined || last === undefined || points.length <= columns * KEPT) return points;
  const slice = (last.web_m - first.web_m) / columns || 1;
  const kept = new Set<T>();
  let group: T[] = [];
  let at = 0;
  for (const point of points) {
    const column = Math.floor((point.web_m - first.web_m) / slice);
    if (column !== at) {
      keep(group, kept);
      group = [];
      at = column;
    }
    group.push(point);
  }
  keep(group, kept);
  return points.filter((point) => kept.has(point));
}

const KEPT = 4;

function keep<T extends { readonly mm: number }>(group: readonly T[], kept: Set<T>): void {
  const first = group[0];
  const last = group[group.length - 1];
  if (first === undefined || last === undefined) return;
  let low = first;
  let high = first;
  for (const point of group) {
    if (point.mm < low.mm) low = point;
    if (point.mm > high.mm) high = point;
  }
  for (const point of [first, low, high, last]) kept.add(point);
}
