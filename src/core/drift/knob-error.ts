/** A knob gives what was asked within this share, 1 sigma (common practice, no source), until it has been learned. */
export const KNOB_ERROR = 0.1;
