/** One explanation: a cause, where it began, how it goes. */
export type Candidate = {
  readonly cause: number;
  /** Index into the window of the first check that carries the movement. */
  readonly start: number;
  readonly shape: 'step' | 'ramp';
  /** Natural logarithm of weight × likelihood ratio. */
  readonly ln: number;
};
