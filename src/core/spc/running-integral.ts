import { gaussLegendre } from './gauss-legendre.js';

/**
 * Integrals of a smooth function from the left end of an interval up to each of its Gauss-Legendre points, from its
 * values at those points.
 * How: the polynomial through the values, in Legendre polynomials, integrated term by term.
 * In: how many points. Out: rows of weights for the interval from -1 to 1 (for another, times half its length).
 * Source: C. W. Clenshaw and A. R. Curtis (1960), Numerische Mathematik 2, 197-205, with Legendre polynomials.
 * Example: with 8 points the running integral of x^3 at the point x is (x^4 - 1) / 4 to 15 digits.
 */
export const runningIntegral = (count: number): readonly Float64Array[] => {
  const { nodes, weights } = gaussLegendre(count, -1, 1);
  const values = nodes.map((node) => legendre(node, count));
  return values.map((upTo) => {
    const integrals = upTo.slice(0, count).map((_, k) => integralOf(upTo, k));
    return Float64Array.from(values, (at, i) =>
      integrals.reduce((sum, part, k) => sum + ((2 * k + 1) / 2) * (weights[i] ?? 0) * (at[k] ?? 0) * part, 0),
    );
  });
};

/** P0 to Pcount at x. */
const legendre = (x: number, count: number): readonly number[] => {
  const found = [1, x];
  for (let k = 2; k <= count; k += 1) {
    found.push(((2 * k - 1) * x * (found[k - 1] ?? 0) - (k - 1) * (found[k - 2] ?? 0)) / k);
  }
  return found;
};

/** The integral of Pk from -1 to where the given values were taken. */
const integralOf = (values: readonly number[], k: number): number =>
  k === 0 ? (values[1] ?? 0) + 1 : ((values[k + 1] ?? 0) - (values[k - 1] ?? 0)) / (2 * k + 1);
