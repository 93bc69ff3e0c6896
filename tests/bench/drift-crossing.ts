import { reach } from '../../src/core/drift/forecast.js';
import { initial, step } from '../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, sigmaOf } from '../support/press-sim.js';
import { seeded } from '../support/seeded.js';

const CHECKS = 160;
const QUIET = 30;
const TOLERANCE = 3.75;
const HORIZON_CHECKS = 40;
/** Foretellings counted of one run: they say much the same. */
const COUNTED = 6;
const KINDS = ['ramp', 'walk', 'settling'] as const;

/** How often the true register first crossed its limit within the interval foretold for it (80 % wanted), by kind of drift. */
export const benchCrossing = (runs: number): readonly string[] => {
  let all = 0;
  let held = 0;
  const lines = KINDS.map((kind) => {
    const { told, inside } = foretold(kind, runs);
    all += told;
    held += inside;
    return `${kind.padEnd(10)} ${told} foretellings, ${((100 * inside) / Math.max(1, told)).toFixed(0)} % inside`;
  });
  const together = `together   ${((100 * held) / Math.max(1, all)).toFixed(0)} %`;
  return ['Crossing of the limit inside its 80 % interval (75 to 85 wanted over all)', ...lines, together];
};

const foretold = (kind: (typeof KINDS)[number], runs: number): { readonly told: number; readonly inside: number } => {
  const sigma = sigmaOf(SEVEN);
  let told = 0;
  let inside = 0;
  for (let run = 0; run < runs; run++) {
    const random = seeded(900 + run);
    const truth = truthOf(kind, seeded(50 + run * 7)).map((size) => size * sigma);
    const crossed = truth.findIndex((mm) => Math.abs(mm) > TOLERANCE * sigma);
    const at_m = crossed < 0 ? Number.POSITIVE_INFINITY : (crossed + 1) * SEVEN.every_m;
    const config = configOf(SEVEN);
    let state = initial(config);
    let mine = 0;
    for (let t = 0; t < CHECKS && mine < COUNTED && (crossed < 0 || t < crossed); t++) {
      const along = (k: number): number => (k === 3 ? (truth[t] ?? 0) : 0);
      state = step(config, state, readPress(SEVEN, random, t + 1, { along, across: () => 0 })).state;
      if (t % 2 !== 0 || (kind !== 'walk' && t < QUIET - 1)) continue;
      const limit = reach(config, state, 'along', '4', TOLERANCE * sigma, HORIZON_CHECKS * SEVEN.every_m);
      if (limit === null) continue;
      mine += 1;
      told += 1;
      if (at_m >= limit.early_m && (limit.late_m === null || at_m <= limit.late_m)) inside += 1;
    }
  }
  return { told, inside };
};

/** True register in sigmas, check by check. */
const truthOf = (kind: (typeof KINDS)[number], random: ReturnType<typeof seeded>): readonly number[] => {
  const a = random.uniform();
  let walk = 0;
  return Array.from({ length: CHECKS }, (_, t) => {
    if (kind === 'walk') {
      walk += (0.15 + 0.3 * a) * random.normal();
      return walk;
    }
    const since = t - QUIET;
    if (since < 0) return 0;
    return kind === 'ramp' ? Math.min(12, (0.05 + 0.2 * a) * (since + 1)) : 6 * (1 - Math.exp(-since / (4 + 8 * a)));
  });
};
