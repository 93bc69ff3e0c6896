/** What is known of one station (or of the reference, in its own direction) when a move is considered; mm. */
export type RestraintInput = {
  /** True register against the aim, reading scatter taken off. */
  readonly level: { readonly mean_mm: number; readonly sd_mm: number };
  /** Scatter of one reading. */
  readonly sigma_mm: number;
  readonly tolerance_mm: number;
  /** Chance that the true register is outside tolerance at the next check if nothing is done. */
  readonly p_out: number;
  /** Chance that it goes at a steady slope, and that slope. */
  readonly going: number;
  readonly slope_mm_per_check: number;
  /** Smallest move the knob can make; null = not known. */
  readonly step_mm: number | null;
};

export type Restraint = { readonly act: boolean; readonly move_mm: number };

/** Gain in mean square, in sigma², below which a touch is not worth it. */
const WORTH = 1;
/** With less room than this between tolerance and scatter the limit is drawn in. */
const ROOM = 3.2;
/** From this chance of being out at the next check on it is turned, whatever the gain. */
const LIKELY_OUT = 0.1;
const SURELY_GOING = 0.6;
/**
 * One that goes at a steady slope comes back for the next touch anyway: turned at 0.6 of the limit and past the aim it stays in a band about
 * as wide as the scatter, for eight touches in 120 checks of a ramp of 0.1 sigma instead of six. By simulation (tests/bench/whole-press).
 */
const GOING_WORTH = 0.6;

/**
 * Whether turning is expected to help, and by how much to turn.
 *
 * Moving by the estimated level takes its square off the mean square of what follows and leaves the estimate's own uncertainty:
 * it is done when mean² − sd² exceeds one sigma² of reading scatter (bounded adjustment on an estimated level, after Box & Luceño), or
 * when the register is likely to be out by the next check. The whole estimated level is turned, never the last reading. A station that
 * goes at a steady slope is turned sooner, and past the aim, by up to as much again, so that it spends as long before the aim as after it.
 * Never less than half the knob's smallest step. Example: level 0.06 ± 0.01, scatter 0.04 → move −0.06; level 0.03 ± 0.01 → leave.
 */
export const restrain = (input: RestraintInput): Restraint => {
  const { mean_mm: mean, sd_mm: sd } = input.level;
  const still: Restraint = { act: false, move_mm: 0 };
  const limit = Math.min(Math.sqrt(WORTH) * input.sigma_mm, input.tolerance_mm / ROOM);
  const further = input.going >= SURELY_GOING && Math.sign(input.slope_mm_per_check) === Math.sign(mean);
  const worth = (further ? GOING_WORTH : 1) * limit;
  const helps = mean * mean - sd * sd > worth * worth;
  const needed = input.p_out >= LIKELY_OUT && mean * mean > sd * sd;
  if (!helps && !needed) return still;
  const past = further ? Math.min(0.8 * Math.abs(mean), 8 * Math.abs(input.slope_mm_per_check), 0.8 * limit) : 0;
  const move = -Math.sign(mean) * (Math.abs(mean) + past);
  return input.step_mm !== null && Math.abs(move) < 0.5 * input.step_mm ? still : { act: true, move_mm: move };
};
