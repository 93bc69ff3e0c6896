import type { Axis, PerAxis } from '../axis.js';
import { AXES } from '../axis.js';
import type { Check, StationReading } from '../record.js';
import type { Judged } from './state.js';
import type { Station } from './stations.js';

/** What a check says of one station, both edges of the web brought together. */
export type Measured = {
  readonly station: string;
  /** Reading minus aim, mm; null = not measured. */
  readonly mm: PerAxis<number | null>;
  /** Operator edge minus gear edge, mm, where both were read. */
  readonly edges_apart_mm: PerAxis<number | null>;
  readonly look: 'in' | 'off' | null;
};

/** Every station of the job in web order, whatever order the check came in. The reference reads 0 by definition and counts as not measured. */
export const measuredOf = (
  stations: readonly Station[],
  judged: Pick<Judged, 'reference' | 'aim_mm'>,
  check: Pick<Check, 'readings'>,
): readonly Measured[] => {
  const read = new Map<string, StationReading[]>();
  for (const r of check.readings) {
    const of = read.get(r.station);
    if (of === undefined) read.set(r.station, [r]);
    else of.push(r);
  }
  return stations.map((station) => {
    const of = read.get(station.id) ?? NONE;
    const along = one(station, judged, of, 'along');
    const across = one(station, judged, of, 'across');
    const looks = of.map((r) => r.look);
    return {
      station: station.id,
      mm: { along: along.mm, across: across.mm },
      edges_apart_mm: { along: along.apart, across: across.apart },
      look: looks.includes('off') ? 'off' : looks.includes('in') ? 'in' : null,
    };
  });
};

const NONE: readonly StationReading[] = [];

const one = (
  station: Station,
  judged: Pick<Judged, 'reference' | 'aim_mm'>,
  of: readonly StationReading[],
  axis: Axis,
): { readonly mm: number | null; readonly apart: number | null } => {
  if (station.id === judged.reference) return { mm: null, apart: null };
  const read = of.flatMap((r) => {
    const mm = axis === 'along' ? r.along_mm : r.across_mm;
    return mm === null ? [] : [{ mm, edge: r.edge }];
  });
  if (read.length === 0) return { mm: null, apart: null };
  const operator = read.find((r) => r.edge === 'operator');
  const gear = read.find((r) => r.edge === 'gear');
  const mean = read.reduce((sum, r) => sum + r.mm, 0) / read.length;
  return {
    mm: mean - (judged.aim_mm[station.id]?.[axis] ?? 0),
    apart: operator !== undefined && gear !== undefined ? operator.mm - gear.mm : null,
  };
};

/** How many stations were measured on either axis. */
export const countMeasured = (measured: readonly Measured[]): number =>
  measured.filter((m) => AXES.some((a) => m.mm[a] !== null)).length;
