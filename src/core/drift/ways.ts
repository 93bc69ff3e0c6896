/**
 * How a station may behave, in numbers. Searched on seeded steps, ramps, walks, settling back and settling at a new level, on presses of 4, 7
 * and 12 stations, scatter half, as and double what the job believed: until the 80 % intervals held, the chances of being out came true, and
 * the truth was as likely as it could be made by what was foretold (tests/bench/drift-forecast.ts prints what came of it). The optimum is
 * flat: two figures are more than it bears. A jump is held no likelier than a wrong reading, so that one wild reading is read again.
 * Sizes in sigmas of the station's scatter per usual distance between checks.
 */
/** Variance added to the level a check, by kind, in sigma². What holds, or has settled, truly holds: what wanders has accounts of its own. */
export const ADDED = [0.003 ** 2, 0.12 ** 2, 0.3 ** 2, 0.5 ** 2, 0.05 ** 2, 0.002 ** 2];
/** What a slope changes a check, and what is left of it a check later. */
export const SLOPE_ADDED = [0, 0, 0, 0, 0.002 ** 2, 0.0007 ** 2];
export const SETTLING_KEEPS = 0.85;
/** Chance a check that a new account of each kind begins, from where the station now is. */
export const BEGIN = [0.0004, 0.0005, 0.0012, 0.002, 0.0022, 0.0007];
/** A slope that may be as fast as knobs creep on a press: a sigma or two a check. */
export const FAST = 0.0015;
export const FAST_SLOPE = 1.2;
export const JUMP = 0.004;
export const JUMP_SIZE = 2.5 ** 2;
/** Share of jumps that settle back to where they came from. */
export const SETTLES = 0.07;
export const SETTLES_AFTER_UNREST = 0.5;
/** A wrong reading: how often, and how widely it lies. */
export const WRONG = 0.004;
export const WRONG_SIZE = 6 ** 2;
/** A jumped tooth: this share of jumps, and a smaller one of wrong readings, is of a size without measure. */
export const HUGE_SHARE = 0.1;
export const HUGE_WRONG_SHARE = 0.02;
export const HUGE = 60 ** 2;
