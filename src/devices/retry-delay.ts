/** How long to wait before the port is tried again: doubling from a quarter of a second to two seconds, give or take a fifth. */
export const retryDelayMs = (attempt: number, random: () => number): number =>
  Math.round(Math.min(2000, 250 * 2 ** Math.min(attempt, 10)) * (0.8 + 0.4 * random()));
