import type { AxisState } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';
import { weighAll } from './weigh.js';

const ROLLS = 3;
const CHECKS_A_ROLL = 4;
/** Each roll's slope by this many of its standard errors, all together by that many. */
const EACH = 1;
const TOGETHER = 4;
/** Share of the way gone within the rolls that is taken back at their changes. */
const SPRINGS_BACK = 0.5;

/**
 * Whether a cause goes the same way within every roll and springs back when the roll is changed: tension that follows the diameter of
 * the unwinding roll, not a knob. Looks at the last rolls of four checks and more in the window; false with fewer than three of them.
 */
export const withinEachRoll = (lines: CauseLines, state: AxisState, cause: number): boolean => {
  const changes = state.marks.filter((m) => m.roll_change).map((m) => m.at);
  if (changes.length < ROLLS - 1) return false;
  const sighted = state.entries.map((e) => ({ ...e, blind: [] }));
  const { score, information } = weighAll(lines, state.known, sighted, false);
  const rolls: { x: number; y: number; w: number }[][] = [[]];
  sighted.forEach((e, t) => {
    if (changes.includes(e.at)) rolls.push([]);
    const w = information[t * (lines.n + 2) + cause] ?? 0;
    if (w > 0)
      rolls[rolls.length - 1]?.push({
        x: e.web_m / state.spacing_m,
        y: (score[t * (lines.n + 2) + cause] ?? 0) / w,
        w,
      });
  });
  const fits = rolls.filter((r) => r.length >= CHECKS_A_ROLL).map(lineOf);
  if (fits.length < ROLLS) return false;
  const sign = Math.sign(fits[0]?.slope ?? 0);
  const same = fits.every((f) => sign * f.slope > EACH * f.error);
  const z = fits.reduce((sum, f) => sum + (sign * f.slope) / f.error, 0) / Math.sqrt(fits.length);
  const rise = fits.slice(1).reduce((sum, f) => sum + (f.last - f.first), 0);
  const spring = fits.slice(1).reduce((sum, f, i) => sum + (f.first - (fits[i]?.last ?? f.first)), 0);
  const springs = sign * spring < -SPRINGS_BACK * sign * rise;
  return same && springs && z > TOGETHER;
};

/** Weighted line through one roll: slope a check, its standard error, and where it begins and ends. */
const lineOf = (
  points: readonly { readonly x: number; readonly y: number; readonly w: number }[],
): { readonly slope: number; readonly error: number; readonly first: number; readonly last: number } => {
  const sw = points.reduce((a, p) => a + p.w, 0);
  const mx = points.reduce((a, p) => a + p.w * p.x, 0) / sw;
  const my = points.reduce((a, p) => a + p.w * p.y, 0) / sw;
  const sxx = points.reduce((a, p) => a + p.w * (p.x - mx) ** 2, 0);
  const slope = sxx > 0 ? points.reduce((a, p) => a + p.w * (p.x - mx) * (p.y - my), 0) / sxx : 0;
  const at = (p: { readonly x: number } | undefined): number => my + slope * ((p?.x ?? mx) - mx);
  return {
    slope,
    error: sxx > 0 ? 1 / Math.sqrt(sxx) : Infinity,
    first: at(points[0]),
    last: at(points[points.length - 1]),
  };
};
