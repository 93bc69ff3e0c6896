import { gaussLegendre } from './gauss-legendre.js';
import { normalCdf, normalPdf, normalSurvival } from './normal.js';

/**
 * How far apart the largest and the smallest of n readings lie, in units of their scatter: the chance that this range
 * stays at or below w, and its mean (d2) and standard deviation (d3).
 * How: chance = n x integral of density(x) (Phi(x + w) - Phi(x))^(n - 1), by the trapezoid rule, which converges
 * faster than any power for such integrands; mean and second moment from the chance by Gauss-Legendre.
 * Source: H. L. Harter (1960), Tables of range and studentized range, Ann. Math. Statist. 31, 1122-1147; checked
 * against closed forms d2(2) = 2/sqrt(pi), d3(2) = sqrt(2 - 4/pi) and the tables of Montgomery, Appendix VI.
 * Errors: n below 2 or not whole throws. Example: the mean range of 5 readings is 2.325928947281.
 */
export const rangeCdf = (w: number, n: number): number => {
  if (w <= 0) return 0;
  const step = 0.125;
  let sum = 0;
  for (let x = -9 - w; x <= 9; x += step) sum += normalPdf(x) * gap(x, x + w) ** (n - 1);
  return Math.min(1, n * step * sum);
};

/** Mean and standard deviation of the range of n standard normal readings. */
export const rangeMoments = (n: number): { readonly mean: number; readonly sd: number } => {
  if (!Number.isInteger(n) || n < 2) throw new RangeError(`a range needs at least 2 readings, got ${n}`);
  let mean = 0;
  let second = 0;
  for (let panel = 0; panel < 4; panel += 1) {
    const rule = gaussLegendre(32, panel * 5, panel * 5 + 5);
    rule.nodes.forEach((w, i) => {
      const above = 1 - rangeCdf(w, n);
      mean += (rule.weights[i] ?? 0) * above;
      second += (rule.weights[i] ?? 0) * 2 * w * above;
    });
  }
  return { mean, sd: Math.sqrt(second - mean * mean) };
};

/** Share of readings between a and b, precise in either tail. */
const gap = (a: number, b: number): number =>
  a > 0 ? normalSurvival(a) - normalSurvival(b) : normalCdf(b) - normalCdf(a);
