import fc from 'fast-check';

/**
 * Properties run on the same inputs every time, so that a suite that passed here passes there. `HOLDREG_SEED=n` looks at
 * other inputs and `HOLDREG_RUNS=n` at more of them: what they find becomes an example beside the property.
 */
const { HOLDREG_SEED: seed = '20241', HOLDREG_RUNS: runs } = process.env;

fc.configureGlobal({ seed: Number(seed), ...(runs === undefined ? {} : { numRuns: Number(runs) }) });
