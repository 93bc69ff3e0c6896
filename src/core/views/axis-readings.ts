import type { Axis } from '../axis.js';
import { scatter } from '../drift/scatter-now.js';
import type { Readings, Turn } from '../hindsight/spread.js';
import type { Correction, LogRecord } from '../record.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { watchConfig } from '../run/watch-config.js';
import { printedAt, samplePlace } from '../web.js';
import type { Gathered } from './gather.js';
import type { WholeTrail } from './whole-trail.js';

/** Readings of one axis less what was turned, with the turns that they carry, from check `first` of the list on. */
export type AxisReadings = { readonly readings: Readings; readonly turns: readonly Turn[] };

/** Checks of one kind (keyed or sensor) that stand and were made with the marks that are read now: what was read of others tells nothing of these. */
export const comparable = (state: RunState, trail: WholeTrail, { log, withdrawn }: Gathered): WholeTrail => {
  const passed_m = state.judged.ok?.web_m ?? Infinity;
  const renewed_m = log
    .filter((r) => RENEWS.has(r.type) && !withdrawn.has(r.seq) && 'web_m' in r && r.web_m !== null)
    .reduce((far, r) => Math.max(far, ('web_m' in r ? r.web_m : null) ?? -Infinity), -Infinity);
  return trail
    .filter((t) => !t.withdrawn && t.web_m >= Math.min(0, passed_m) && t.web_m > renewed_m)
    .toSorted((a, b) => a.web_m - b.web_m);
};

const RENEWS: ReadonlySet<LogRecord['type']> = new Set(['plate', 'die', 'reference']);

/** null = nothing is known of the scatter yet, or no station but the reference is measured. */
export const axisReadings = (
  state: RunState,
  checks: WholeTrail,
  gathered: Gathered,
  axis: Axis,
  from_ok: boolean,
): AxisReadings | null => {
  const { judged, press, job } = state;
  const sensor = checks[0]?.sensor === true;
  const watch = judged.watch[sensor ? 'sensor' : 'keyed'];
  if (watch === null) return null;
  const known = scatter(watchConfig(press, job, judged, sensor ? 'sensor' : 'keyed'), watch)[axis];
  const all = stationsOf(press, job);
  const reference = all.find((s) => s.id === judged.reference);
  const stations = all.filter((s) => s !== reference && s.read === 'measure');
  if (reference === undefined || stations.length === 0) return null;
  const place_m = samplePlace(press, sensor ? 'sensor' : 'keyed', null) ?? press.sample_m;
  const made = gathered.corrections
    .map(({ record }) => record)
    .filter((r) => r.axis === axis && !gathered.withdrawn.has(r.seq));
  const at = (id: string): number => all.find((s) => s.id === id)?.at_m ?? 0;
  const carries = (turn: Correction, web_m: number): boolean =>
    turn.web_m <= printedAt(web_m, place_m, at(turn.station));
  const turned = (id: string, web_m: number): number =>
    made.reduce((sum, t) => sum + (t.station === id && carries(t, web_m) ? t.move_mm : 0), 0);
  return {
    readings: {
      stations: stations.map((s) => ({ id: s.id, path_m: s.at_m - reference.at_m })),
      checks: checks.map((t) => ({
        web_m: t.web_m,
        mm: stations.map((s) => {
          const mm = t[axis][all.indexOf(s)] ?? null;
          return mm === null ? null : mm - turned(s.id, t.web_m) + turned(reference.id, t.web_m);
        }),
      })),
      sigma_mm: known.sigma_mm,
      share_of_reference: Math.min(0.9, Math.max(0, known.share_of_reference)),
      from_ok,
    },
    turns: made.flatMap((t): Turn[] => {
      const from = checks.findIndex((c) => carries(t, c.web_m));
      const station = t.station === reference.id ? null : stations.findIndex((s) => s.id === t.station);
      return from <= 0 || station === -1 ? [] : [{ station, from, move_mm: t.move_mm }];
    }),
  };
};
