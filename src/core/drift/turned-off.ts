import type { Axis } from '../axis.js';
import { blindFrom } from './accept.js';
import type { AxisState, Open } from './axis-state.js';
import { type CauseLines, push } from './cause-lines.js';
import { along } from './direction.js';
import type { Scatter } from './scatter.js';
import type { Seen } from './seen.js';

/** A correction that leaves the register this many sigmas off its aim, and that many of the estimate's own, was a wrong one. */
const OFF = 1.5;
const SURE = 2.5;

/**
 * Opens a movement where a known correction has put a station, or by the reference all of them, off the aim: the wrong station, or the
 * wrong way. Nothing drifted, yet something has to be brought back. Causes already followed are left to their own movement.
 */
export const turnedOff = (
  lines: CauseLines,
  scatter: Scatter,
  state: AxisState,
  seen: Seen,
  axis: Axis,
  causes: readonly number[],
  key: number,
): { readonly state: AxisState; readonly nextKey: number } => {
  let next = state;
  let nextKey = key;
  const aims = state.turned.map((t) => -t);
  for (const cause of causes) {
    const readNow = seen[axis].read.some((r, k) => r !== null && push(lines, cause, k) !== 0);
    const size = along(lines, scatter, next.filters, aims, cause);
    if (!readNow || size === null || next.open.some((o) => !o.settled && o.causes.includes(cause))) continue;
    const unit = cause < lines.n ? (scatter.sigma[cause] ?? scatter.pooled) : scatter.pooled;
    if (Math.abs(size.mean) < OFF * unit || Math.abs(size.mean) < SURE * size.sd) continue;
    const open: Open = {
      key: nextKey,
      causes: [cause],
      confidence: 0.95,
      alternatives: [],
      start: next.count - 1,
      since: { check: seen.check, web_m: seen.web_m },
      found: next.count - 1,
      shape: 'step',
      slope: 0,
      moved: size.mean,
      sd: size.sd,
      from: aims,
      turnedThen: next.turned,
      levelled: false,
      near: 0,
      byHand: true,
      settled: false,
      pattern: null,
      alone: false,
    };
    next = { ...next, entries: blindFrom(next.entries, [cause], open.start), open: [...next.open, open] };
    nextKey += 1;
  }
  return { state: next, nextKey };
};
