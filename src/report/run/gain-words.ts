/** Turns before a knob is said to do this or that (own choice, no source): a single reading error is as large as one small turn. */
export const ENOUGH_TURNS = 3;

/** What 0.10 turned moved the print, or that it is too early to say. */
export const gainWords = (gain: number, turns: number): string =>
  turns < ENOUGH_TURNS ? 'too few to say' : (gain * 0.1).toFixed(3);
