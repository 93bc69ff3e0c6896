import { blindFrom } from './accept.js';
import type { AxisState } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';
import { KNOB_ERROR } from './knob-error.js';
import { levelOf } from './level-filter.js';
import { togetherMoved } from './together-moved.js';
import { forget } from './with-gone.js';

/**
 * A correction leaves the level unsure by the knob's error. A station that is not being followed is watched afresh from the level it
 * had; a move of the reference leaves a common constant not quite known.
 */
export const afterCorrection = (
  lines: CauseLines,
  state: AxisState,
  at: number,
  change: readonly number[],
  touched: readonly boolean[],
): AxisState => {
  if (!touched.includes(true)) return state;
  const offsets = [...state.offsets];
  const together = togetherMoved(lines, change);
  if (together !== 0 && lines.measured.filter((m) => m).length > 1) {
    const n = lines.n;
    offsets[n] = { from: at, variance: (offsets[n]?.variance ?? 0) + (2 * KNOB_ERROR * together) ** 2 };
    return { ...state, offsets };
  }
  const base = [...state.base];
  const followed = new Set(state.open.filter((o) => !o.levelled && !o.settled).flatMap((o) => o.causes));
  const anew: number[] = [];
  for (let k = 0; k < lines.n; k++) {
    const f = state.filters[k] ?? null;
    if (touched[k] !== true || f === null || followed.has(k)) continue;
    const l = levelOf(f);
    base[k] = l.mean_mm;
    offsets[k] = { from: at, variance: l.sd_mm ** 2 + (2 * KNOB_ERROR * (change[k] ?? 0)) ** 2 };
    anew.push(k);
  }
  const entries = anew.length === 0 ? state.entries : blindFrom(state.entries, anew, 0);
  return { ...state, base, offsets, entries, gone: forget(state.gone, anew) };
};
