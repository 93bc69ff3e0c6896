import type { Candidate } from './candidate.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import type { Scatter } from './scatter.js';
import { weighAll } from './weigh.js';

/** Size of one candidate movement now, by weighted least squares shrunk toward none; mm (web: mm per m), slope per m of web. */
export const sizeOf = (
  lines: CauseLines,
  scatter: Scatter,
  entries: readonly Entry[],
  candidate: Candidate,
  spacing_m: number,
): { readonly mean: number; readonly sd: number; readonly slope: number } => {
  const causes = lines.n + 2;
  const { score, information } = weighAll(lines, scatter, entries, false);
  const newest = entries[entries.length - 1]?.web_m ?? 0;
  const first = entries[candidate.start]?.web_m ?? 0;
  const before = entries[candidate.start - 1]?.web_m ?? first - spacing_m;
  const s0 = Math.min((newest - before) / spacing_m, (newest - first) / spacing_m + 2);
  let num = 0;
  let info = 0;
  for (let t = candidate.start; t < entries.length; t++) {
    const e = entries[t];
    if (e === undefined) continue;
    const r = candidate.shape === 'ramp' ? s0 - (newest - e.web_m) / spacing_m : 1;
    num += r * (score[t * causes + candidate.cause] ?? 0);
    info += r * r * (information[t * causes + candidate.cause] ?? 0);
  }
  const sigma2 = scatter.pooled * scatter.pooled;
  const unit = candidate.cause === lines.n + 1 ? sigma2 / (lines.far_m * lines.far_m) : sigma2;
  const variance = (candidate.shape === 'ramp' ? 0.04 : 9) * unit;
  const mean = (num * variance) / (1 + info * variance);
  const sd = Math.sqrt(variance / (1 + info * variance));
  return candidate.shape === 'ramp'
    ? { mean: mean * s0, sd: sd * s0, slope: mean / spacing_m }
    : { mean, sd, slope: 0 };
};
