import type { Axis } from '../axis.js';
import type { Seen, WatchConfig } from '../drift/seen.js';
import { initial, step, type WatchState } from '../drift/watch.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged } from './state.js';
import { turnedAt } from './turned.js';

/**
 * A watch as it begins with this check. What was turned before (in make-ready, or before a sensor was put on) is no move to it: the levels
 * it starts from have it in. The sample that was passed is its first reading, unless the run is held to it: then it says nothing of itself.
 */
export const beginWatch = (config: WatchConfig, seen: SeenCheck): WatchState => {
  const passed = passedSample(seen);
  const from = startingFrom(
    initial(config),
    passed === null ? seen.turned : { along: passed.along.turned, across: passed.across.turned },
  );
  return passed === null ? from : step(config, from, passed).state;
};

const startingFrom = (state: WatchState, turned: SeenCheck['turned']): WatchState => ({
  ...state,
  along: { ...state.along, turned: turned.along, base: turned.along.map((mm) => -mm) },
  across: { ...state.across, turned: turned.across, base: turned.across.map((mm) => -mm) },
});

/** The check on which OK to run was given, as the watch takes it; null when it is not the last that was read. */
const passedSample = ({ press, before, check, stations }: SeenCheck): Seen | null => {
  const { ok, last_check: last } = before;
  if (
    check.source === 'sensor' ||
    ok === null ||
    last === null ||
    ok.hold_to === 'sample' ||
    ok.check === null ||
    last.check !== ok.check ||
    last.web_m >= check.web_m
  )
    return null;
  const on = (axis: Axis): Seen['along'] => ({
    read: stations.map((s) => readAt(before, s.id, axis, last.check)),
    turned: turnedAt(before, stations, axis, last.web_m, press.sample_m),
  });
  return {
    check: last.check,
    web_m: last.web_m,
    roll_change: false,
    settling: false,
    along: on('along'),
    across: on('across'),
  };
};

const readAt = (before: Judged, station: string, axis: Axis, check: number | string): number | null => {
  const read = before.read[station]?.[axis];
  return station === before.reference || read === undefined || read.check !== check ? null : read.mm;
};
