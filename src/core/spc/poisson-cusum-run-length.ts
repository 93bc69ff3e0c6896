import { solveLinear } from './linear-system.js';
import { checkPoissonCusum, type PoissonCusumConfig } from './poisson-cusum.js';

/**
 * How many samples a count CUSUM takes on average to a signal, and how high its sum may go for an asked run length.
 * How: what one flaw adds and what one sample takes away are set in a ratio of small whole numbers (the nearest with a
 * denominator up to 64, fewer where a flaw adds little), so the sum walks on a lattice and its Markov chain is exact. The decision is the smallest
 * step of the lattice whose run length at the steady rate reaches the one asked.
 * In: the chart, the same exposure for every sample, the mean count of a sample; samples asked (above 1). Out: samples;
 * the decision value without unit.
 * Errors: an exposure, mean or run length that makes no sense throws; null when no decision up to 4096 steps suffices.
 * Source: J. M. Lucas (1985), Technometrics 27(2), 129-144 (lattice chain after D. Brook and D. A. Evans, 1972,
 * Biometrika 59, 539-549). Example: rates 1 and 2, exposure 1, decision 3: 153.44 samples with nothing wrong, 8.034
 * at the doubled rate (simulated 152.6 +- 1.1 and 8.05 +- 0.04).
 */
export const poissonCusumRunLength = (config: PoissonCusumConfig, exposure: number, mean: number): number => {
  checkPoissonCusum(config);
  const lattice = latticeOf(config, exposure);
  return chainLength(lattice, Math.floor(config.decision / lattice.unit + 1e-9), mean);
};

export const poissonCusumDecision = (
  rates: { readonly rate: number; readonly changed: number },
  exposure: number,
  asked: number,
): number | null => {
  if (!(asked > 1)) throw new RangeError(`the run length asked must be above 1, got ${asked}`);
  checkPoissonCusum({ ...rates, decision: 1 });
  const lattice = latticeOf(rates, exposure);
  const reaches = (steps: number): boolean => chainLength(lattice, steps, rates.rate * exposure) >= asked;
  let high = 1;
  while (!reaches(high)) {
    if (high >= MOST_STEPS) return null;
    high = Math.min(MOST_STEPS, Math.ceil(high * 1.5) + 1);
  }
  let low = 0;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (reaches(middle)) high = middle;
    else low = middle;
  }
  return (high + 0.5) * lattice.unit;
};

const MOST_STEPS = 4096;
const FINEST = 64;

/** In units of `unit`: a flaw adds `flaw`, a sample takes `sample` away (both negative when a fall is watched for). */
type Lattice = { readonly unit: number; readonly flaw: number; readonly sample: number };

const latticeOf = (
  { rate, changed }: { readonly rate: number; readonly changed: number },
  exposure: number,
): Lattice => {
  if (!(exposure > 0) || !Number.isFinite(exposure)) throw new RangeError(`exposure must be above 0, got ${exposure}`);
  const perFlaw = Math.abs(Math.log(changed / rate));
  const ratio = (Math.abs(changed - rate) * exposure) / perFlaw;
  const side = changed > rate ? 1 : -1;
  const finest = Math.max(1, Math.min(FINEST, Math.round(FINEST * perFlaw)));
  let best = 1;
  for (let q = 1; q <= finest; q += 1) if (miss(ratio, q) < miss(ratio, best) - 1e-12) best = q;
  return { unit: perFlaw / best, flaw: side * best, sample: side * Math.max(1, Math.round(ratio * best)) };
};

const miss = (ratio: number, q: number): number => Math.abs(ratio - Math.max(1, Math.round(ratio * q)) / q);

/** Mean run length from a sum of 0, signalling above `top` steps. */
const chainLength = ({ flaw, sample }: Lattice, top: number, mean: number): number => {
  if (!(mean >= 0) || !Number.isFinite(mean)) throw new RangeError(`a mean count must be 0 or more, got ${mean}`);
  const rows = Array.from({ length: top + 1 }, (_, from) => {
    const row = new Float64Array(top + 1);
    row[from] = 1;
    return row;
  });
  const most = Math.ceil(mean + 12 * Math.sqrt(mean) + 30);
  let chance = Math.exp(-mean);
  for (let count = 0; count <= most; count += 1) {
    for (const [from, row] of rows.entries()) {
      const to = Math.max(0, from + flaw * count - sample);
      if (to <= top) row[to] = (row[to] ?? 0) - chance;
    }
    chance *= mean / (count + 1);
  }
  return solveLinear(rows, new Float64Array(top + 1).fill(1))[0] ?? Number.NaN;
};
