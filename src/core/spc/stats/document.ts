import type { ChartPoint } from '../chart.js';

/** What `holdreg stats` answers: one chart or study, as it is printed with `--json`. */
export type StatsDocument = {
  readonly method: string;
  /** Values that went in; null for a computation that has none. */
  readonly n: number | null;
  readonly centre: number | null;
  readonly sigma: number | null;
  readonly points: readonly ChartPoint[];
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly result: Readonly<Record<string, unknown>>;
};

/** A document, and whether the method had to answer no: then why, in words. */
export type StatsAnswer = { readonly document: StatsDocument; readonly refusal?: string };

/** How many values are not missing. */
export const present = (values: readonly (number | null)[]): number =>
  values.reduce<number>((count, value) => count + (value === null ? 0 : 1), 0);
