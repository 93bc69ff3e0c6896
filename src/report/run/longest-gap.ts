import type { ChartView } from '../../core/views/chart-view.js';

/** The longest stretch of web between two checks that measured anything, m; null with fewer than two. */
export function longestGap(charts: readonly ChartView[]): { readonly from_m: number; readonly to_m: number } | null {
  const places = [
    ...new Set(charts.flatMap((chart) => chart.points.filter((point) => !point.withdrawn).map((point) => point.web_m))),
  ].sort((a, b) => a - b);
  let longest: { readonly from_m: number; readonly to_m: number } | null = null;
  for (const [index, to_m] of places.entries()) {
    const from_m = places[index - 1];
    if (from_m !== undefined && (longest === null || to_m - from_m > longest.to_m - longest.from_m))
      longest = { from_m, to_m };
  }
  return longest;
}
