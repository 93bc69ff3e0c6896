import type { Cause } from '../finding.js';
import type { WatchConfig } from './seen.js';

/**
 * The directions in station space in which one cause can move the readings. Causes are numbered: 0…n−1 the stations in web order,
 * n the reference, n + 1 the web. A movement of size m adds m × `push(cause, station)` to a station's reading.
 */
export type CauseLines = {
  readonly n: number;
  /** Stations that can give numbers, the reference never. */
  readonly measured: readonly boolean[];
  readonly path_m: readonly number[];
  /** Path of the farthest measured station, m; the size of a web movement is thought of there. */
  readonly far_m: number;
  /** Share of movements expected of each cause before any data; 0 = cannot be told apart here. Sums to 1. */
  readonly prior: readonly number[];
  readonly names: readonly Cause[];
  readonly isReference: readonly boolean[];
};

const REFERENCE_SHARE = 0.16;
const WEB_SHARE = 0.16;

/** With one measured station every cause looks alike: it is then the station's. */
export const causeLines = (config: WatchConfig): CauseLines => {
  const n = config.stations.length;
  const measured = config.stations.map((s) => s.measured && !s.isReference);
  const path_m = config.stations.map((s) => s.path_m);
  const paths = path_m.filter((_, k) => measured[k] === true);
  const far_m = paths.reduce((far, p) => Math.max(far, Math.abs(p)), 0);
  const several = paths.length >= 2;
  const reference = several ? REFERENCE_SHARE : 0;
  const web = several && Math.max(...paths) - Math.min(...paths) > 0.01 * far_m ? WEB_SHARE : 0;
  const each = paths.length === 0 ? 0 : (1 - reference - web) / paths.length;
  return {
    n,
    measured,
    path_m,
    far_m: far_m > 0 ? far_m : 1,
    prior: [...measured.map((m) => (m ? each : 0)), reference, web],
    names: [
      ...config.stations.map((s): Cause => ({ kind: 'station', station: s.id })),
      { kind: 'reference' },
      { kind: 'web' },
    ],
    isReference: config.stations.map((s) => s.isReference),
  };
};

/** What a movement of 1 mm (web: 1 mm per m) of this cause adds to the station's reading, mm. */
export const push = (lines: CauseLines, cause: number, station: number): number => {
  if (lines.isReference[station] === true) return 0;
  if (cause === lines.n) return -1;
  if (cause === lines.n + 1) return lines.path_m[station] ?? 0;
  return cause === station ? 1 : 0;
};
