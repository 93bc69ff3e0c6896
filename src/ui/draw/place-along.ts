import type { ChartView } from '../../core/views/chart-view.js';

/** Where a web position falls on a chart, in columns; and the finished rolls in sight, each with its columns. */
export type PlaceAlong = {
  readonly column: (web_m: number) => number;
  readonly rolls: readonly { readonly name: string; readonly from: number; readonly to: number }[];
};

/** By web: metres in proportion. By roll: every finished roll in sight equally wide, whatever its length. */
export function placeAlong(
  view: Pick<ChartView, 'from_m' | 'to_m' | 'rolls'>,
  by: 'web' | 'roll',
  width: number,
): PlaceAlong {
  const last = Math.max(1, width - 1);
  const ends = view.rolls.filter((one) => one.kind === 'finished' && one.web_m > view.from_m && one.web_m < view.to_m);
  const edges = by === 'roll' ? [view.from_m, ...ends.map((one) => one.web_m), view.to_m] : [view.from_m, view.to_m];
  const share = last / Math.max(1, edges.length - 1);
  const column = (web_m: number): number => {
    let i = 0;
    while (i < edges.length - 2 && web_m > (edges[i + 1] ?? Infinity)) i += 1;
    const from = edges[i] ?? 0;
    const to = edges[i + 1] ?? from + 1;
    return share * (i + (to > from ? (web_m - from) / (to - from) : 0));
  };
  const names = [...ends.map((one) => one.roll ?? '?'), 'now'];
  return {
    column,
    rolls: by === 'roll' ? names.map((name, i) => ({ name, from: i * share, to: (i + 1) * share })) : [],
  };
}
