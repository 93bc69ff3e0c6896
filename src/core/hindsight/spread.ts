import type { Square } from './inverse.js';

/** Readings of one axis, oldest first, less every turn of a knob that the sample carries; mm, + ahead / + operator side. */
export type Readings = {
  readonly stations: readonly {
    readonly id: string /** Web path after the reference, m. */;
    readonly path_m: number;
  }[];
  /** By station; null = not read. */
  readonly checks: readonly { readonly web_m: number; readonly mm: readonly (number | null)[] }[];
  /** Scatter of one reading, 1 sigma, and the share of its variance that all of a check have in common. */
  readonly sigma_mm: number;
  readonly share_of_reference: number;
  /** The first check follows OK to run: what stood then stood near its aim, and may have moved before the first check. */
  readonly from_ok: boolean;
};

/** A knob turned: which station (null = the reference), the first check whose sample carries it, how far. */
export type Turn = { readonly station: number | null; readonly from: number; readonly move_mm: number };

/** One reading that was made. */
export type Row = { readonly check: number; readonly station: number; readonly web_m: number; readonly mm: number };

export const rowsOf = ({ checks }: Readings): readonly Row[] =>
  checks.flatMap(({ web_m, mm }, check) =>
    mm.flatMap((value, station) => (value === null ? [] : [{ check, station, web_m, mm: value }])),
  );

/** Where a station stands at first, 1 sigma, mm: as it was passed, or anywhere. */
const PASSED_MM = 0.03;
const STANDING_MM = 0.3;
/** Slow wander of station, of reference, and of the web at the farthest station, as parts of the scatter of a reading (own choice). */
const WANDER = { station: 0.45, reference: 0.3, web: 0.35 };
/** So many usual distances between checks until wander is forgotten. */
const FORGETS = 3;
/** A knob gives so much more or less than asked, and a little more when it is reversed (common practice, no source). */
const KNOB = 0.18;
const PLAY_MM = 0.012;

/** How readings hang together while nothing moves: covariance, mm². */
export const matrixOf = (readings: Readings, rows: readonly Row[], turns: readonly Turn[]): Square => {
  const { sigma_mm, share_of_reference, stations } = readings;
  const standing_mm = readings.from_ok ? PASSED_MM : STANDING_MM;
  const n = rows.length;
  const out = new Float64Array(n * n);
  const v = sigma_mm ** 2;
  const far = Math.max(1e-9, ...stations.map((s) => Math.abs(s.path_m)));
  const length_m = FORGETS * usual(readings.checks.map((c) => c.web_m));
  const path = (row: Row): number => (stations[row.station]?.path_m ?? 0) / far;
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j <= i; j += 1) {
      const [a, b] = [rows[i], rows[j]];
      if (a === undefined || b === undefined) continue;
      const keeps = Math.exp(-Math.abs(a.web_m - b.web_m) / length_m);
      let c = v * keeps * (WANDER.reference ** 2 + WANDER.web ** 2 * path(a) * path(b));
      if (a.station === b.station) c += standing_mm ** 2 + v * WANDER.station ** 2 * keeps;
      if (a.check === b.check) c += v * share_of_reference;
      if (i === j) c += v * (1 - share_of_reference) + 1e-9;
      for (const turn of turns) {
        const does = (row: Row): boolean =>
          row.check >= turn.from && (turn.station === null || turn.station === row.station);
        if (does(a) && does(b)) c += (KNOB * turn.move_mm) ** 2 + PLAY_MM ** 2;
      }
      out[i * n + j] = c;
      out[j * n + i] = c;
    }
  return out;
};

/** The middle of the distances between checks, m. */
const usual = (at_m: readonly number[]): number => {
  const apart = at_m
    .slice(1)
    .map((m, i) => m - (at_m[i] ?? m))
    .filter((m) => m > 1)
    .toSorted((a, b) => a - b);
  return apart[Math.floor(apart.length / 2)] ?? 1_000;
};
