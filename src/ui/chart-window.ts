/** The stretch of web a chart shows; null = the whole run. */
export type ChartWindow = { readonly from_m: number; readonly to_m: number };

/** Least and first stretch when zooming in, metres. */
const LEAST_M = 200;

/** Closer, wider, earlier, later, all of it. The window keeps its end at the present as long as it was there. */
export function moveChart(
  window: ChartWindow | null,
  how: 'zoom-in' | 'zoom-out' | 'earlier' | 'later' | 'whole',
  now_m: number,
): ChartWindow | null {
  const whole: ChartWindow = { from_m: Math.min(0, now_m), to_m: Math.max(LEAST_M, now_m) };
  const here = window ?? whole;
  const size = here.to_m - here.from_m;
  switch (how) {
    case 'whole':
      return null;
    case 'zoom-in': {
      const next = Math.max(LEAST_M, size / 2);
      return { from_m: here.to_m - next, to_m: here.to_m };
    }
    case 'zoom-out': {
      const from_m = Math.max(whole.from_m, here.to_m - size * 2);
      return window === null || (from_m <= whole.from_m && here.to_m >= whole.to_m)
        ? null
        : { from_m, to_m: Math.min(Math.max(whole.to_m, here.to_m), from_m + size * 2) };
    }
    case 'earlier': {
      const from_m = Math.max(whole.from_m, here.from_m - size / 2);
      return window === null ? null : { from_m, to_m: from_m + size };
    }
    case 'later': {
      const to_m = Math.min(Math.max(whole.to_m, here.to_m), here.to_m + size / 2);
      return window === null ? null : { from_m: to_m - size, to_m };
    }
  }
}
