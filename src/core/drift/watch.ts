import { AXES, type Axis } from '../axis.js';
import type { AxisState } from './axis-state.js';
import { causeLines } from './cause-lines.js';
import type { AxisFound } from './movement.js';
import { stillSwing } from './over-adjusting.js';
import { NOTHING_MOVED } from './restless.js';
import { initialScatter, scatterOf } from './scatter.js';
import { scatterBelief } from './scatter-belief.js';
import type { Seen, WatchConfig } from './seen.js';
import { startOffsets } from './start-offsets.js';
import { stepAxis } from './step-axis.js';

/** Plain JSON; its size depends on the number of stations only. */
export type WatchState = { readonly nextKey: number; readonly along: AxisState; readonly across: AxisState };

/** Before the first check. */
export const initial = (config: WatchConfig): WatchState => ({
  nextKey: 1,
  along: initialAxis(config, 'along'),
  across: initialAxis(config, 'across'),
});

/** Takes one check; both axes are watched for movements of every cause. Cost: stations × window, whatever the length of the run. */
export const step = (
  config: WatchConfig,
  state: WatchState,
  seen: Seen,
): { readonly state: WatchState; readonly found: readonly AxisFound[] } => {
  const lines = causeLines(config);
  let nextKey = state.nextKey;
  const next: Partial<Record<Axis, AxisState>> = {};
  const found: AxisFound[] = [];
  for (const axis of AXES) {
    const r = stepAxis(config, lines, axis, state[axis], seen, nextKey);
    nextKey = r.nextKey;
    next[axis] = r.state;
    found.push(r.found);
  }
  return { state: { nextKey, along: next.along ?? state.along, across: next.across ?? state.across }, found };
};

const initialAxis = (config: WatchConfig, axis: Axis): AxisState => {
  const n = config.stations.length;
  const scatter = initialScatter(n);
  const known = scatterOf(scatter, scatterBelief(config, axis));
  return {
    count: 0,
    entries: [],
    marks: [],
    base: new Array<number>(n).fill(0),
    offsets: config.stands_off === true ? startOffsets(causeLines(config), known) : new Array<null>(n + 2).fill(null),
    gone: { score: new Array<number>(n + 2).fill(0), information: new Array<number>(n + 2).fill(0) },
    turned: new Array<number>(n).fill(0),
    due: new Array<number>(n).fill(0),
    scatter,
    known,
    spacing_m: 1,
    filters: new Array<null>(n).fill(null),
    shift: [],
    lastRead: new Array<number>(n).fill(-1),
    swings: config.stations.map(() => stillSwing),
    open: [],
    moved: NOTHING_MOVED,
  };
};
