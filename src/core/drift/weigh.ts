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
 * check is blind to projected out. A missing reading leaves the sums. What it returns is good until the next call;
 * `withReference` and `withWeb` are made only when `crossings` are asked for.
 */
export const weighAll = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  crossings: boolean,
): Weighed => {
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
  all.score.fill(0, 0, size);
  all.information.fill(0, 0, size);
  if (crossings) {
    all.withReference.fill(0, 0, size);
    all.withWeb.fill(0, 0, size);
  }
  const weight = scatter.own.map((v) => 1 / v);
  let at = 0;
  for (const e of entries) {
    weigh(lines, scatter.shared, weight, e, all, at, crossings);
    at += lines.n + 2;
  }
  return all;
};

/** One check, its blind directions projected out. */
const weigh = (
  lines: CauseLines,
  shared: number,
  weight: readonly number[],
  entry: Entry,
  into: Weighed,
  at: number,
  crossings: boolean,
): void => {
  const n = lines.n;
  const { value, blind } = entry;
  const sighted = blind.length === 0;
  const blindReference = !sighted && blind.includes(n);
  const blindWeb = !sighted && blind.includes(n + 1);
  let sw = 0;
  let swz = 0;
  let swp = 0;
  let swpp = 0;
  let swpz = 0;
  for (let k = 0; k < n; k++) {
    const z = value[k] ?? null;
    if (z === null || !(sighted || !blind.includes(k))) continue;
    const w = weight[k] ?? 0;
    const p = lines.path_m[k] ?? 0;
    const wp = w * p;
    sw += w;
    swz += w * z;
    swp += wp;
    swpp += wp * p;
    swpz += wp * z;
  }
  if (sw === 0) return;
  const g = blindReference ? 1 / sw : 1 / (1 / shared + sw);
  const webInfo = swpp - g * swp * swp;
  const webScore = swpz - g * swp * swz;
  const tells = webInfo > 1e-9 * swpp;
  const h = blindWeb && tells ? 1 / webInfo : 0;
  const ones = swp - g * sw * swp;
  const left = blindReference ? 0 : 1 - g * sw;
  const gz = g * swz;
  const gp = g * swp;
  const { score, information, withReference, withWeb } = into;
  for (let k = 0; k < n; k++) {
    const z = value[k] ?? null;
    if (z === null || !(sighted || !blind.includes(k))) continue;
    const w = weight[k] ?? 0;
    if (h === 0) {
      score[at + k] = w * (z - gz);
      information[at + k] = w - g * w * w;
    } else {
      const v = w * ((lines.path_m[k] ?? 0) - gp);
      score[at + k] = w * (z - gz) - h * v * webScore;
      information[at + k] = Math.max(0, w - g * w * w - h * v * v);
    }
    if (!crossings) continue;
    const v = w * ((lines.path_m[k] ?? 0) - gp);
    withReference[at + k] = blindReference ? 0 : -(w * left - h * v * ones);
    withWeb[at + k] = blindWeb ? 0 : v;
  }
  if (!blindReference) {
    score[at + n] = -(swz * left - h * ones * webScore);
    information[at + n] = Math.max(0, sw * left - h * ones * ones);
    if (crossings) withWeb[at + n] = blindWeb ? 0 : -ones;
  }
  if (!blindWeb) {
    score[at + n + 1] = webScore;
    information[at + n + 1] = tells ? webInfo : 0;
    if (crossings) withReference[at + n + 1] = blindReference ? 0 : -ones;
  }
};
