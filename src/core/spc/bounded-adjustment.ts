import { gaussLegendre } from './gauss-legendre.js';
import { solveLinear } from './linear-system.js';
import { normalPdf } from './normal.js';

/**
 * Leave it alone until the estimated error is large enough to pay for a turn of the knob: how often would one turn,
 * and how much wider does the scatter get than with a turn after every reading?
 * How: the disturbance wanders (IMA(1,1) with weight lambda); the forecast error is a random walk with steps lambda x
 * sigma, set back to 0 by a full correction once it reaches the action limit. Mean time between corrections and mean
 * squared forecast error solve two integral equations (Gauss-Legendre points).
 * In: lambda (above 0, at most 1) and the action limit in sigmas of the surprise (above 0). Out: readings between
 * corrections; percent by which the standard deviation exceeds the least possible.
 * Errors: lambda or limit outside throws.
 * Source: G. E. P. Box and A. Luceno (1997), Statistical Control by Monitoring and Feedback Adjustment, 5; table of
 * limits also in Box, Hunter and Hunter, Statistics for Experimenters. Example: lambda 0.2 and limit 1 give 31.4153906
 * readings between corrections and 9.40 % more scatter (tables print 32 and 9).
 */
export type BoundedAdjustment = {
  readonly readingsBetween: number;
  /** Mean squared forecast error over the squared size of its steps. */
  readonly meanSquare: number;
  readonly percentWider: number;
};

export const boundedAdjustment = (lambda: number, limit: number): BoundedAdjustment => {
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`lambda must lie above 0 and at most 1, got ${lambda}`);
  if (!(limit > 0)) throw new RangeError(`the action limit must be above 0, got ${limit}`);
  const reach = limit / lambda;
  const count = Math.max(24, 2 * Math.ceil(6 * reach));
  const { nodes, weights } = gaussLegendre(count, -reach, reach);
  const kernel = (): Float64Array[] =>
    nodes.map((from, i) =>
      Float64Array.from(nodes, (to, j) => (i === j ? 1 : 0) - normalPdf(to - from) * (weights[j] ?? 0)),
    );
  const lengths = solveLinear(kernel(), new Float64Array(count).fill(1));
  const squares = solveLinear(
    kernel(),
    Float64Array.from(nodes, (node) => node * node),
  );
  const fromZero = (solved: Float64Array): number =>
    nodes.reduce((sum, node, j) => sum + normalPdf(node) * (weights[j] ?? 0) * (solved[j] ?? 0), 0);
  const readingsBetween = 1 + fromZero(lengths);
  const meanSquare = fromZero(squares) / readingsBetween;
  return { readingsBetween, meanSquare, percentWider: 100 * (Math.sqrt(1 + lambda * lambda * meanSquare) - 1) };
};
