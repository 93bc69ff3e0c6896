/** One move and the first reading printed wholly after it; mm, as it acts on that reading. */
export type MoveRead = {
  readonly now_mm: number;
  readonly sent_mm: number;
  /** Where the readings before put the station, by now. */
  readonly level: { readonly mm: number; readonly sd: number };
  /** The last reading before the move; null = none. */
  readonly last_mm: number | null;
  /** Scatter of one such reading, 1 sigma. */
  readonly reading_sd_mm: number;
};

/** A knob nearly always gives about what was asked; now and then nothing, seldom the other way (common practice, no source). */
const STATES = [
  { gain: 1, error: 0.1, chance: 0.97, took: true },
  { gain: 0, error: 0, chance: 0.02, took: false },
  { gain: -1, error: 0.1, chance: 0.01, took: false },
] as const;

/**
 * What a move really did: the reading now less where the station stood before it.
 * Where it stood is not quite known: after a sudden reading it is either the level so far (the reading was wrong) or what was last read (it
 * was a step, or a drift that the level lags). Both are weighed together with what the knob may have done (Bayes' theorem on two starting
 * points × three states of the knob); it took when that is the likeliest. Example: level 0.00, last read 0.28, sent −0.24, now 0.01:
 * it stood at 0.28, and took.
 */
export const knobGave = (
  move: MoveRead,
): { readonly got_mm: number; readonly sd_mm: number; readonly took: boolean } => {
  const reading = move.reading_sd_mm ** 2;
  const starts = [
    { mm: move.level.mm, variance: move.level.sd ** 2 + reading },
    ...(move.last_mm === null ? [] : [{ mm: move.last_mm, variance: 2 * reading }]),
  ];
  let all = 0;
  let took = 0;
  let before = 0;
  let variance = 0;
  for (const start of starts) {
    for (const state of STATES) {
      const weight =
        state.chance *
        density(move.now_mm - start.mm - state.gain * move.sent_mm, start.variance + (state.error * move.sent_mm) ** 2);
      all += weight;
      before += weight * start.mm;
      variance += weight * start.variance;
      if (state.took) took += weight;
    }
  }
  // So far from everything that was thought of that no state is likelier than another: it is told by the level alone.
  if (!(all > 0))
    return {
      got_mm: move.now_mm - move.level.mm,
      sd_mm: Math.sqrt(move.level.sd ** 2 + reading),
      took: Math.abs(move.now_mm - move.level.mm - move.sent_mm) < Math.abs(move.now_mm - move.level.mm),
    };
  return {
    got_mm: move.now_mm - before / all,
    sd_mm: Math.sqrt(Math.max(variance / all, 1e-12)),
    took: took / all >= 0.5,
  };
};

const density = (off: number, variance: number): number =>
  Math.exp((-off * off) / (2 * Math.max(variance, 1e-12))) / Math.sqrt(Math.max(variance, 1e-12));
