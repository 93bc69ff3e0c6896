import type { Axis } from '../axis.js';
import { forecast } from '../drift/forecast.js';
import { scatter } from '../drift/scatter-now.js';
import { nextCheck } from '../run/next-check.js';
import { reachedBy } from '../run/reached-by.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { turnedAt } from '../run/turned.js';
import { watchConfig } from '../run/watch-config.js';
import { samplePlace } from '../web.js';
import type { ChartView } from './chart-view.js';

const WEIGHT = 0.2;
const CONE_STEPS = 8;
const CONE_CHECKS = 3;

/** The chart of one station and axis along the web, as far back as the trail reaches; `window` in metres, null = all of it. */
export const chartView = (
  state: RunState,
  station: string,
  axis: Axis,
  window: { readonly from_m: number; readonly to_m: number } | null,
): ChartView => {
  const { judged } = state;
  const stations = stationsOf(state.press, state.job);
  const index = stations.findIndex((s) => s.id === station);
  const all = judged.trail.flatMap((t) => {
    const mm = t[axis][index] ?? null;
    return mm === null
      ? []
      : [
          {
            web_m: t.web_m,
            mm,
            check: t.check,
            sensor: t.sensor,
            withdrawn: false,
            signal: Math.abs(mm) > toleranceIn(judged, station, axis) + 1e-9,
          },
        ];
  });
  const open = judged.movements.find(
    (m) => m.closed === null && m.axis === axis && reachedBy(m.cause, stations, judged.reference).includes(station),
  );
  const cone = coneOf(state, station, axis);
  // Make-ready is millimetres off: the run as a whole begins at OK.
  const ok_m = judged.ok?.web_m ?? null;
  const kept_m = judged.trail[0]?.web_m ?? ok_m ?? 0;
  const first = ok_m === null ? kept_m : Math.max(kept_m, ok_m);
  const last = Math.max(cone.at(-1)?.web_m ?? -Infinity, judged.last_check?.web_m ?? first);
  const from_m = window?.from_m ?? first;
  const to_m = Math.max(window?.to_m ?? last, from_m + 1);
  const inside = <T extends { readonly web_m: number }>(list: readonly T[]): readonly T[] =>
    list.filter((x) => x.web_m >= from_m && x.web_m <= to_m);
  return {
    station,
    axis,
    from_m,
    to_m,
    aim_mm: judged.aim_mm[station]?.[axis] ?? 0,
    tolerance_mm: toleranceIn(judged, station, axis),
    points: inside(all),
    trend: inside(smoothed(all, carriedAt(state, station, axis, index))),
    limits_mm: limitsOf(state, axis, index),
    began_m: open?.since.web_m ?? null,
    cone: inside(cone),
    rolls: inside(
      judged.marks.flatMap((m) =>
        m.kind === 'finished' || m.kind === 'stock' ? [{ web_m: m.web_m, roll: m.roll, kind: m.kind }] : [],
      ),
    ),
    corrections: inside(
      judged.turns
        .filter((t) => t.axis === axis && (t.station === station || t.station === judged.reference))
        .map((t) => ({ web_m: t.web_m, move_mm: t.station === station ? t.move_mm : -t.move_mm })),
    ),
    washes: inside(
      judged.marks.flatMap((m) =>
        m.kind === 'wash' && (m.station === station || m.station === 'all') ? [{ web_m: m.web_m }] : [],
      ),
    ),
    speeds: inside(
      judged.marks.flatMap((m) => (m.kind === 'speed' ? [{ web_m: m.web_m, m_per_min: m.m_per_min }] : [])),
    ),
    stops: inside(
      judged.marks.flatMap((m) => (m.kind === 'stop' || m.kind === 'start' ? [{ web_m: m.web_m, kind: m.kind }] : [])),
    ),
  };
};

type Sampled = { readonly web_m: number; readonly mm: number; readonly sensor: boolean };

/** What turns of knobs did to the reading of a sample, mm. */
const carriedAt = (state: RunState, station: string, axis: Axis, index: number): ((p: Sampled) => number) => {
  const { judged, press, job } = state;
  const stations = stationsOf(press, job);
  return ({ web_m, sensor }) => {
    const place_m = samplePlace(press, sensor ? 'sensor' : 'keyed', null) ?? press.sample_m;
    return station === judged.reference ? 0 : (turnedAt(judged, stations, axis, web_m, place_m)[index] ?? 0);
  };
};

/**
 * The level as it is followed: an EWMA (weight 0.2, begun at the aim) of the readings less what was turned, to which what each sample
 * carries is put back. So it goes with a knob at once, and lags only what nobody turned.
 */
const smoothed = (points: readonly Sampled[], carried: (p: Sampled) => number): ChartView['trend'] => {
  let level = 0;
  return points.map((p) => {
    const turned = carried(p);
    level += WEIGHT * (p.mm - turned - level);
    return { web_m: p.web_m, mm: level + turned };
  });
};

const limitsOf = (state: RunState, axis: Axis, index: number): ChartView['limits_mm'] => {
  const { latest } = state.judged.watch;
  const watch = state.judged.watch[latest];
  if (watch === null) return null;
  const known = scatter(watchConfig(state.press, state.job, state.judged, latest), watch)[axis];
  const sigma = known.station_mm[index] ?? known.sigma_mm;
  return { lower: -3 * sigma, upper: 3 * sigma };
};

/** Nothing is foreseen of a run that has ended. */
const coneOf = (state: RunState, station: string, axis: Axis): ChartView['cone'] => {
  const { judged } = state;
  const watch = judged.watch[judged.watch.latest];
  const last = judged.last_check;
  if (watch === null || last === null || judged.ok === null || judged.phase === 'ended') return [];
  const config = watchConfig(state.press, state.job, judged, judged.watch.latest);
  const ahead_m =
    Math.max((nextCheck(state.job, judged)?.web_m ?? last.web_m) - last.web_m, judged.spacing_m ?? 0, 1) * CONE_CHECKS;
  return Array.from({ length: CONE_STEPS + 1 }, (_, i) => last.web_m + (ahead_m * i) / CONE_STEPS).flatMap((web_m) => {
    const f = forecast(config, watch, axis, station, web_m, toleranceIn(judged, station, axis));
    return f === null ? [] : [{ web_m, mean_mm: f.mean_mm, low_mm: f.low_mm, high_mm: f.high_mm }];
  });
};
