import { AXES } from '../axis.js';
import type { Job } from '../job.js';
import { EDGE_MM } from '../run/pairs.js';
import type { Judged } from '../run/state.js';
import { toleranceIn } from '../run/tolerance-in.js';

/** How much of the run was outside tolerance: surely (the checks at both ends were out) and at most (one of them was). Metres, minutes. */
export type OutOfRegister = {
  readonly surely: { readonly m: number; readonly min: number };
  readonly at_most: { readonly m: number; readonly min: number };
};

const NOTHING = { m: 0, min: 0 } as const;

/**
 * Checks in the order of the web, each with whether anything was out as last read. Example: good at 1 000 m, out at 3 000 and 5 000 m, good
 * at 7 000 m: surely 2 000 m, at most 6 000 m.
 */
export const outOfRegister = (
  checks: readonly { readonly web_m: number; readonly at: string; readonly out: boolean }[],
): OutOfRegister => {
  let [surely, at_most]: [Stretch, Stretch] = [NOTHING, NOTHING];
  for (const [index, now] of checks.entries()) {
    const last = checks[index - 1];
    if (last === undefined || (!last.out && !now.out) || now.web_m < last.web_m) continue;
    const minutes = (Date.parse(now.at) - Date.parse(last.at)) / 60_000;
    const stretch = { m: now.web_m - last.web_m, min: Math.max(0, minutes) };
    at_most = plus(at_most, stretch);
    if (last.out && now.out) surely = plus(surely, stretch);
  }
  return { surely, at_most };
};

type Stretch = OutOfRegister['surely'];
const plus = (a: Stretch, b: Stretch): Stretch => ({ m: a.m + b.m, min: a.min + b.min });

/** Whether anything is out as last read: a station alone, looked at and off, or a pair. */
export const anyOut = (job: Job, judged: Judged): boolean => {
  for (const [id, read] of Object.entries(judged.read))
    for (const axis of AXES) {
      const last = read[axis];
      if (last.looked === 'off') return true;
      if (last.mm !== null && Math.abs(last.mm) > toleranceIn(judged, id, axis) + EDGE_MM) return true;
    }
  return job.pairs.some(({ stations: [a, b], tolerance_mm }) =>
    AXES.some((axis) => {
      const limit = tolerance_mm[axis];
      const [x, y] = [readOf(judged, a, axis), readOf(judged, b, axis)];
      return limit !== null && x !== null && y !== null && Math.abs(y - x) > limit + EDGE_MM;
    }),
  );
};

const readOf = (judged: Judged, id: string, axis: 'along' | 'across'): number | null =>
  id === judged.reference ? 0 : (judged.read[id]?.[axis].mm ?? null);
