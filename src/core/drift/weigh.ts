import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import type { Scatter } from './scatter.js';

/** Score and information of every cause at every check, and how the stations' scores go with the reference's and the web's. */
export type Weighed = {
  readonly score: Float64Array;
  readonly information: Float64Array;
  readonly withReference: Float64Array;
  readonly withWeb: Float64Array;
};

/** Information two causes share at one check; one of them is the other itself, the reference or the web. */
export const crossing = (w: Weighed, n: number, t: number, j: number, d: number): number => {
  const causes = n + 2;
  if (j === d) return w.information[t * causes + j] ?? 0;
  if (d < n) return crossing(w, n, t, d, j);
  if (d === n) return w.withReference[t * causes + j] ?? 0;
  return w.withWeb[t * causes + j] ?? 0;
};

/** Room for the weighing of one window, used anew by every call and never read after it: typed arrays made per check are what costs. */
let room: Weighed = {
  score: new Float64Array(0),
  information: new Float64Array(0),
  withReference: new Float64Array(0),
  withWeb: new Float64Array(0),
};

/**
 * Weighs the readings of every check of a window with the covariance between stations, own + shared (Sherman–Morrison), the directions a
 * check is blind to projected out. A missing reading leaves the sums. What it returns is good until the next call.
 */
export const weighAll = (lines: CauseLines, scatter: Scatter, entries: readonly Entry[]): Weighed => {
  const size = entries.length * (lines.n + 2);
  if (room.score.length < size) {
    room = {
      score: new Float64Array(size),
      information: new Float64Array(size),
      withReference: new Float64Array(size),
      withWeb: new Float64Array(size),
    };
  }
  const all = room;
  for (const a of [all.score, all.information, all.withReference, all.withWeb]) a.fill(0, 0, size);
  entries.forEach((e, t) => {
    weigh(lines, scatter, e, all, t * (lines.n + 2));
  });
  return all;
};

/** One check, its blind directions projected out. */
const weigh = (lines: CauseLines, scatter: Scatter, entry: Entry, into: Weighed, at: number): void => {
  const n = lines.n;
  const blindReference = entry.blind.includes(n);
  const blindWeb = entry.blind.includes(n + 1);
  let sw = 0;
  let swz = 0;
  let swp = 0;
  let swpp = 0;
  let swpz = 0;
  for (let k = 0; k < n; k++) {
    const z = entry.value[k] ?? null;
    if (z === null || entry.blind.includes(k)) continue;
    const w = 1 / (scatter.own[k] ?? 1);
    const p = lines.path_m[k] ?? 0;
    sw += w;
    swz += w * z;
    swp += w * p;
    swpp += w * p * p;
    swpz += w * p * z;
  }
  if (sw === 0) return;
  const g = blindReference ? 1 / sw : 1 / (1 / scatter.shared + sw);
  const webInfo = swpp - g * swp * swp;
  const webScore = swpz - g * swp * swz;
  const tells = webInfo > 1e-9 * swpp;
  const h = blindWeb && tells ? 1 / webInfo : 0;
  const ones = swp - g * sw * swp;
  const left = blindReference ? 0 : 1 - g * sw;
  for (let k = 0; k < n; k++) {
    const z = entry.value[k] ?? null;
    if (z === null || entry.blind.includes(k)) continue;
    const w = 1 / (scatter.own[k] ?? 1);
    const v = w * ((lines.path_m[k] ?? 0) - g * swp);
    into.score[at + k] = w * (z - g * swz) - h * v * webScore;
    into.information[at + k] = Math.max(0, w - g * w * w - h * v * v);
    into.withReference[at + k] = blindReference ? 0 : -(w * left - h * v * ones);
    into.withWeb[at + k] = blindWeb ? 0 : v;
  }
  if (!blindReference) {
    into.score[at + n] = -(swz * left - h * ones * webScore);
    into.information[at + n] = Math.max(0, sw * left - h * ones * ones);
    into.withWeb[at + n] = blindWeb ? 0 : -ones;
  }
  if (!blindWeb) {
    into.score[at + n + 1] = webScore;
    into.information[at + n + 1] = tells ? webInfo : 0;
    into.withReference[at + n + 1] = blindReference ? 0 : -ones;
  }
};
