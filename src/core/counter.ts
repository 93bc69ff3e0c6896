import { formatLength, type LengthUnit } from './units.js';

/** From where on (web position, m; null = from the beginning) the web position was the press counter plus this. A counter set anew adds one. */
export type CounterStretch = { readonly from_m: number | null; readonly offset_m: number };

/** The counter as the run begins: positions are its own values until OK to run. */
export const firstCounter: readonly CounterStretch[] = [{ from_m: null, offset_m: 0 }];

/**
 * What the press counter showed when the web stood there, m: each place in the counter that stood then.
 * Example: OK to run at counter 9 400, so offset −9 400: web position 2 165 is counter 11 565.
 */
export const counterAtWeb = (web_m: number, counters: readonly CounterStretch[]): number => {
  const stood = counters.findLast((one) => one.from_m === null || one.from_m <= web_m) ?? counters[0];
  return web_m - (stood?.offset_m ?? 0);
};

/**
 * Where the web stood, m, when the press counter showed that: the place nearest to where it stands now (`here_m`); a value it did not show
 * yet is taken by the counter of now. Example: set anew from 11 565 to 0 at web position 2 165; at 2 500 "11 300" is 1 900, "300" is 2 465.
 */
export const webAtCounter = (counter_m: number, counters: readonly CounterStretch[], here_m: number): number => {
  const places = counters
    .map(({ from_m, offset_m }, i) => ({ web_m: counter_m + offset_m, from_m, to_m: counters[i + 1]?.from_m ?? null }))
    .filter(({ web_m, from_m, to_m }) => (from_m === null || web_m >= from_m) && (to_m === null || web_m <= to_m))
    .map(({ web_m }) => web_m)
    .sort((a, b) => Math.abs(a - here_m) - Math.abs(b - here_m));
  return places[0] ?? counter_m + (counters.at(-1)?.offset_m ?? 0);
};

/** What a place is told with: the counter of the run, and the job's unit of length. */
export type Places = {
  /** Absent: positions are told as they are. */
  readonly counters?: readonly CounterStretch[];
  readonly length: LengthUnit;
  readonly repeat_mm: number;
};

/** A place on the web as the press counter showed it, in the job's unit: "11 565 m", "37 943 ft". */
export const placeWords = (web_m: number, { counters, length, repeat_mm }: Places): string =>
  formatLength(counters === undefined ? web_m : counterAtWeb(web_m, counters), length, repeat_mm);
