import type { Shape } from '../finding.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import type { Scatter } from './scatter.js';
import { weighAll } from './weigh.js';

/** How much better, ln of likelihood, a slope must explain it than a step to be called one: a step is what a press does more often. */
const SLOPE_BETTER = 1.5;
/** Two or three readings make a line of anything. */
const RAMP_AT_LEAST = 4;

/**
 * Whether a movement of this cause goes on (ramp) or went at once (step). `share`: the ramp's share of the evidence that it moved at all, which
 * weighs slopes by how likely they are beforehand and so knows slow ones best. A fast one is told by which of the two explains the readings
 * better, each at its best beginning and size. `entries`: not blind to the cause; `spacing_m`: usual distance between checks.
 */
export const shapeOf = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  cause: number,
  spacing_m: number,
  share: number,
): Shape => {
  if (share > 0.5) return 'ramp';
  const causes = lines.n + 2;
  const { score, information } = weighAll(lines, scatter, entries, false);
  const newest = entries[entries.length - 1]?.web_m ?? 0;
  const back = (t: number): number => (newest - (entries[t]?.web_m ?? 0)) / spacing_m;
  let [a0, b0, a1, b1, b2] = [0, 0, 0, 0, 0];
  let step = 0;
  let ramp = 0;
  for (let t = entries.length - 1; t >= 0; t--) {
    const c = score[t * causes + cause] ?? 0;
    const i = information[t * causes + cause] ?? 0;
    if (i === 0) continue;
    const s = back(t);
    a0 += c;
    b0 += i;
    a1 += c * s;
    b1 += i * s;
    b2 += i * s * s;
    step = Math.max(step, (a0 * a0) / b0);
    // A slope begins between this check and the one before it, at most two checks' way back.
    const s0 = t === 0 ? s + 1 : Math.min(s + 2, back(t - 1));
    const num = s0 * a0 - a1;
    const info = s0 * s0 * b0 - 2 * s0 * b1 + b2;
    if (entries.length - t >= RAMP_AT_LEAST && info > 0) ramp = Math.max(ramp, (num * num) / info);
  }
  return ramp / 2 > step / 2 + SLOPE_BETTER ? 'ramp' : 'step';
};
