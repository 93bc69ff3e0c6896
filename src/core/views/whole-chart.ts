import type { Axis } from '../axis.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { chartView } from './chart.js';
import type { ChartView } from './chart-view.js';
import type { Gathered } from './gather.js';
import type { WholeTrail } from './whole-trail.js';

/** The chart of one station and axis from the whole log, not only from what the state still remembers; from `from_m` on. */
export const wholeChart = (
  state: RunState,
  trail: WholeTrail,
  gathered: Gathered,
  station: string,
  axis: Axis,
  from_m: number,
): ChartView => {
  const standing = trail.filter((t) => !t.withdrawn);
  const last_m = standing.reduce((far, t) => Math.max(far, t.web_m), from_m);
  // Every turn of the log: the state itself remembers only the last.
  const turns = gathered.corrections
    .filter(({ record }) => !gathered.withdrawn.has(record.seq))
    .map(({ record }) => ({ ...record, event: null, result: null, got_sd_mm: null, advised: false, trial: false }));
  const folded = { ...state, judged: { ...state.judged, trail: standing, turns, turned_before: {} } };
  const chart = chartView(folded, station, axis, { from_m, to_m: Infinity });
  const to_m = Math.max(last_m, chart.cone.at(-1)?.web_m ?? last_m, from_m + 1);
  return { ...chart, to_m, points: withWithdrawn(chart, state, trail), ...marksOf(state, gathered, chart, to_m) };
};

/** What was taken back stands there too, drawn as such. */
const withWithdrawn = (chart: ChartView, state: RunState, trail: WholeTrail): ChartView['points'] => {
  const index = stationsOf(state.press, state.job).findIndex((s) => s.id === chart.station);
  const gone = trail.flatMap((t): ChartView['points'] => {
    const mm = t[chart.axis][index] ?? null;
    if (!t.withdrawn || mm === null || t.web_m < chart.from_m) return [];
    const signal = Math.abs(mm) > toleranceIn(state.judged, chart.station, chart.axis) + 1e-9;
    return [{ web_m: t.web_m, mm, check: t.check, sensor: t.sensor, withdrawn: true, signal }];
  });
  return gone.length === 0 ? chart.points : [...chart.points, ...gone].sort((a, b) => a.web_m - b.web_m);
};

const marksOf = (
  state: RunState,
  { log, corrections, withdrawn }: Gathered,
  { station, axis, from_m }: ChartView,
  to_m: number,
): Pick<ChartView, 'rolls' | 'corrections' | 'washes' | 'speeds' | 'stops'> => {
  const inside = <T extends { readonly web_m: number }>(list: readonly T[]): readonly T[] =>
    list.filter((x) => x.web_m >= from_m && x.web_m <= to_m);
  const records = log.filter((r) => !withdrawn.has(r.seq));
  const { reference } = state.judged;
  return {
    rolls: inside(
      records.flatMap((r): ChartView['rolls'] => {
        if (r.type === 'finished') return [{ web_m: r.web_m, roll: r.roll, kind: 'finished' }];
        if (r.type !== 'roll') return [];
        return [{ web_m: r.web_m, roll: r.roll ?? null, kind: r.also_finished === true ? 'finished' : 'stock' }];
      }),
    ),
    corrections: inside(
      corrections
        .filter(
          ({ record: r }) =>
            !withdrawn.has(r.seq) && r.axis === axis && (r.station === station || r.station === reference),
        )
        .map(({ record: r }) => ({ web_m: r.web_m, move_mm: r.station === station ? r.move_mm : -r.move_mm })),
    ),
    washes: inside(
      records.flatMap((r) =>
        r.type === 'wash' && (r.station === station || r.station === 'all') ? [{ web_m: r.web_m }] : [],
      ),
    ),
    speeds: inside(records.flatMap((r) => (r.type === 'speed' ? [{ web_m: r.web_m, m_per_min: r.m_per_min }] : []))),
    stops: inside(
      records.flatMap((r) => (r.type === 'stop' || r.type === 'start' ? [{ web_m: r.web_m, kind: r.type }] : [])),
    ),
  };
};
