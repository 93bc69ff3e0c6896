import type { AxisState } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';

/** Checks after which what a station stands at is learned anew, while it is learned. */
const LEARNED_AT: readonly number[] = [4, 8, 16, 32];

/**
 * In sigmas of a reading of the loupe: farther off nobody set it so, and it is told as a movement. So much is what was learned first put right by,
 * each time after.
 */
const SET_WITHIN = 3;
const RIGHTED_BY = 0.5;

/**
 * Where the stations stand, learned from their first readings, when they may stand off their aims (WatchConfig.stands_off): movements are then
 * measured from there, and a station set or read a little off has not moved. While a movement is being followed nothing is learned. The mean of so
 * many readings counts against one reading of belief that it stands at its aim. `loupe_mm`: scatter of one reading as the job believes it.
 */
export const learnStart = (lines: CauseLines, state: AxisState, loupe_mm: number): AxisState => {
  if (!LEARNED_AT.includes(state.count)) return state;
  if (state.open.some((o) => !o.settled)) return state;
  const first = state.count === LEARNED_AT[0];
  const stands = lines.measured.map((yes, k): number => {
    const read = state.entries.flatMap((e) => e.value[k] ?? []);
    return yes ? read.reduce((a, b) => a + b, 0) / (read.length + 1) : 0;
  });
  const tooFar = stands.map((mm) => first && Math.abs(mm) > SET_WITHIN * loupe_mm);
  const most = RIGHTED_BY * loupe_mm;
  const learned = stands.map((mm, k) => {
    if (tooFar[k] === true) return 0;
    return first ? mm : Math.min(most, Math.max(-most, mm));
  });
  return {
    ...state,
    offsets: state.offsets.map((o, cause) => (tooFar[cause] === true ? null : o)),
    base: state.base.map((b, k) => b + (learned[k] ?? 0)),
    entries: state.entries.map((e) => ({
      ...e,
      value: e.value.map((z, k) => (z === null ? null : z - (learned[k] ?? 0))),
    })),
  };
};
