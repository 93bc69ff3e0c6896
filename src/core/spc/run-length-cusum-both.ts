import { type CusumScheme, cusumKernel, cusumPoints } from './cusum-kernel.js';
import { gaussLegendre } from './gauss-legendre.js';
import { normalCdf, normalPdf, normalSurvival } from './normal.js';
import { pointsFor, type RunKernel, solveRunLength } from './run-kernel.js';

/**
 * The mean run length of a CUSUM watched on both sides, both sums starting at the same head start.
 * How: while the total of both sums is at most the decision plus twice the slack, one stands at zero whenever the other
 * signals, and L(a, b) = (L+(a) L-(0) + L-(b) L+(0) - L+(0) L-(0)) / (L+(0) + L-(0)). A head start above half the
 * decision plus the slack begins beyond that, where this shortcut is wrong: then both sums stay above zero, their total
 * falls by twice the slack with each reading, and the equation is carried along that line until the shortcut holds;
 * with no slack the total never falls and is an equation of its own.
 * In: all in sigmas. Out: readings, the one that signals counted.
 * Source: K. W. Kemp (1961), JRSS B 23, 149-153; J. M. Lucas and R. B. Crosier (1982), Technometrics 24, 199-205 (the
 * shortcut); the rest is worked out here and checked by simulation.
 * Example: slack 0.5, decision 4, no shift, no head start: 167.68 (Lucas and Crosier print 168).
 */
export const cusumBothSides = (scheme: CusumScheme, shift: number, start: number): number => {
  const { slack, decision } = scheme;
  if (slack === 0 && start > decision / 2) return alongConstantTotal(decision, shift, start);
  const upper = solveRunLength(cusumKernel(scheme, shift), cusumPoints(scheme));
  const lower = solveRunLength(cusumKernel(scheme, -shift), cusumPoints(scheme));
  const upZero = upper(0);
  const downZero = lower(0);
  const inTurn = (up: number, down: number): number => {
    if (upZero > NEVER * downZero) return lower(down);
    if (downZero > NEVER * upZero) return upper(up);
    const share = upZero / (upZero + downZero);
    return upper(up) * (1 - share) + lower(down) * share - upZero * (1 - share);
  };
  if (start <= decision / 2 + slack) return inTurn(start, start);
  return alongFallingTotal(scheme, shift, inTurn, start);
};

/** So many times longer than the other sum that it never signals first. */
const NEVER = 1e18;

/** No slack: whichever sum reaches the limit, the other is above zero, so the upper one alone tells both. */
const alongConstantTotal = (decision: number, shift: number, start: number): number => {
  const from = 2 * start - decision;
  const kernel: RunKernel = {
    from,
    to: decision,
    density: (now, next) => normalPdf(next - now - shift),
    signals: (now) => normalSurvival(decision - now - shift) + normalCdf(from - now - shift),
  };
  return solveRunLength(kernel, pointsFor(from, decision, 1))(start);
};

/** Works back from the first total at which the shortcut holds to the total at the start. */
const alongFallingTotal = (
  { slack, decision }: CusumScheme,
  shift: number,
  inTurn: (up: number, down: number) => number,
  start: number,
): number => {
  const turns = Math.ceil((2 * start - decision) / (2 * slack) - 1 - 1e-12);
  const holds = 2 * start - 2 * slack * turns;
  let after = (up: number): number => inTurn(up, holds - up);
  for (let turn = turns; turn > 0; turn -= 1) {
    const total = 2 * start - 2 * slack * turn;
    const rule = gaussLegendre(pointsFor(total - decision, decision, 1), total - decision, decision);
    const further = after;
    const lasting = rule.nodes.map((place, i) => (rule.weights[i] ?? 0) * further(place));
    after = (up) =>
      rule.nodes.reduce((sum, place, i) => sum + (lasting[i] ?? 0) * normalPdf(place - up + slack - shift), 1);
  }
  return after(start);
};
