import type { AxisState } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';

/** Checks after which what a station stands at is learned anew, while it is learned. */
const LEARNED_AT: readonly number[] = [4, 8, 16, 32];

/**
 * Where the stations stand, learned from their first readings, when the aims are themselves one reading: movements are then measured from there,
 * and an aim that was read a little off is no movement. A station whose movement is being followed is left as it is. The mean of so many readings
 * counts against one reading of belief that it stands at its aim.
 */
export const learnStart = (lines: CauseLines, state: AxisState): AxisState => {
  if (!LEARNED_AT.includes(state.count)) return state;
  if (state.open.some((o) => !o.settled)) return state;
  const off = lines.measured.map((yes, k): number => {
    const read = state.entries.flatMap((e) => e.value[k] ?? []);
    return yes ? read.reduce((a, b) => a + b, 0) / (read.length + 1) : 0;
  });
  return {
    ...state,
    base: state.base.map((b, k) => b + (off[k] ?? 0)),
    entries: state.entries.map((e) => ({
      ...e,
      value: e.value.map((z, k) => (z === null ? null : z - (off[k] ?? 0))),
    })),
  };
};
