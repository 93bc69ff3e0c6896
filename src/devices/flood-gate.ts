/** Lets messages through as fast as ten times the expected rate; what comes faster is not looked at. */
export type FloodGate = {
  readonly passes: (atMs: number) => boolean;
  /** Whether something was held back in the last second. */
  readonly flooding: (atMs: number) => boolean;
};

/** This many times the expected rate is a flood. */
export const FLOOD_FACTOR = 10;

/** Messages come in lumps when the computer is busy: a second's worth may come at once. */
const LUMP_S = 1;

/** Messages in one second that are still no flood. */
export const mostPerS = (expectPerS: number): number => Math.max(20, Math.ceil(expectPerS * FLOOD_FACTOR));

/** Every message takes a token; tokens come back at the greatest rate, a little above it so that the rate itself is never a flood. */
export const createFloodGate = (expectPerS: number): FloodGate => {
  const perMs = (mostPerS(expectPerS) * 1.05) / 1000;
  const full = perMs * 1000 * (1 + LUMP_S);
  // In a list of doubles, because a captured number that changes with every message is made anew every time.
  const now = new Float64Array([full, 0, Number.NEGATIVE_INFINITY]);
  return {
    passes: (atMs) => {
      const since = atMs - (now[LAST_MS] ?? 0);
      let tokens = now[TOKENS] ?? 0;
      if (since > 0) {
        tokens = Math.min(full, tokens + since * perMs);
        now[LAST_MS] = atMs;
      }
      now[TOKENS] = tokens >= 1 ? tokens - 1 : tokens;
      if (tokens >= 1) return true;
      now[DROPPED_MS] = atMs;
      return false;
    },
    flooding: (atMs) => atMs - (now[DROPPED_MS] ?? 0) < 1000,
  };
};

const TOKENS = 0;
const LAST_MS = 1;
const DROPPED_MS = 2;
