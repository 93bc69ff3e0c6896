/** What one axis of this press has shown of moving: movements found, and station readings in which they could have been. */
export type Moved = { readonly movements: number; readonly readings: number };

export const NOTHING_MOVED: Moved = { movements: 0, readings: 0 };

/** Movements a station reading before anything is known of the press: one in some 170, as the chances in ways.ts are meant for. */
const USUAL_RATE = 0.006;
/** Never less than usual: hours of quiet are no promise. */
const LEAST = 1;
const MOST = 5;

/**
 * How much likelier than usual a station of this press begins to move: some presses stand for a shift, on others a knob creeps every hour,
 * and what three stations did a fourth may do. How: movements a reading are Poisson at a rate of which the usual one is believed as much as
 * one movement seen (gamma prior of shape 1; Gelman et al., Bayesian Data Analysis, section 2.6, from memory): (1 + movements) over
 * (1 + usual rate × readings). Error: a movement that came back by itself counts as one.
 * Example: 3 movements in 100 readings, 0.6 were usual: 2.5 times as likely.
 */
export const restlessness = (moved: Moved): number =>
  Math.min(MOST, Math.max(LEAST, (1 + moved.movements) / (1 + USUAL_RATE * moved.readings)));
