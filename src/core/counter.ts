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
