import type { SignalWord } from './method.js';

/**
 * One point of a chart as it is drawn. `i` counts from 1 and is the place in the column, so a missing reading keeps
 * its place: it has no value, no statistic and no signals.
 */
export type ChartPoint = {
  readonly i: number;
  readonly value: number | null;
  readonly statistic: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly signals: readonly SignalWord[];
};

/** A whole chart: where it is centred, the scatter its limits come from, its points, and what was asked and found. */
export type Chart<Point extends ChartPoint = ChartPoint> = {
  readonly centre: number;
  readonly sigma: number;
  readonly points: readonly Point[];
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly result: Readonly<Record<string, unknown>>;
};

/** The point of a missing reading. */
export const missingPoint = (i: number): ChartPoint => ({
  i,
  value: null,
  statistic: null,
  lower: null,
  upper: null,
  signals: [],
});
