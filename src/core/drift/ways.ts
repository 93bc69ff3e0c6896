/**
 * How a station may behave, in numbers: tuned on simulated steps, ramps, walks and settling (tests/bench/drift-forecast.ts) until the
 * intervals held. Sizes in sigmas of the station's scatter per usual distance between checks.
 */
/** Variance added to the level a check, by kind, in sigma². */
export const ADDED = [0.02 ** 2, 0.1 ** 2, 0.25 ** 2, 0.55 ** 2, 0.03 ** 2, 0.05 ** 2];
/** What a slope changes a check, and what is left of it a check later. */
export const SLOPE_ADDED = [0, 0, 0, 0, 0.008 ** 2, 0.02 ** 2];
export const SETTLING_KEEPS = 0.84;
/** Chance a check that a new account of each kind begins, from where the station now is. */
export const BEGIN = [0.001, 0.004, 0.006, 0.006, 0.006, 0.002];
export const JUMP = 0.003;
export const JUMP_SIZE = 2.5 ** 2;
/** Share of jumps that settle back to where they came from. */
export const SETTLES = 0.1;
export const SETTLES_AFTER_UNREST = 0.5;
/** A wrong reading: how often, and how widely it lies. */
export const WRONG = 0.004;
export const WRONG_SIZE = 6 ** 2;
/** A jumped tooth: this share of jumps, and a smaller one of wrong readings, is of a size without measure. */
export const HUGE_SHARE = 0.1;
export const HUGE_WRONG_SHARE = 0.02;
export const HUGE = 60 ** 2;
