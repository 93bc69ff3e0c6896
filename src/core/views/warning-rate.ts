/** How often the program asked for attention. */
export type WarningRate = {
  readonly total: number;
  /** For each hour that the press ran; null = it ran less than half an hour, too short to say. */
  readonly each_hour: number | null;
  /** Most within any ten minutes. */
  readonly most_in_10_min: number;
};

/** Published guidance for alarms in general: long-run average at most one in 10 minutes, at most 10 in the first 10 minutes of an upset. UK HSE Chemicals Sheet 6. */
export const WARNING_TARGET = { each_hour: 6, most_in_10_min: 10 } as const;

const ENOUGH_HOURS = 0.5;

/** From when each warning first showed (ISO times) and for how long the press ran, ms. Example: 4 in 2 h is 2 an hour. */
export const warningRate = (shown: readonly string[], running_ms: number): WarningRate => {
  const times = shown.map((at) => Date.parse(at)).sort((a, b) => a - b);
  const hours = running_ms / 3_600_000;
  let most = 0;
  let from = 0;
  for (const [index, time] of times.entries()) {
    while (time - (times[from] ?? time) >= 600_000) from += 1;
    most = Math.max(most, index - from + 1);
  }
  return {
    total: times.length,
    each_hour: hours < ENOUGH_HOURS ? null : times.length / hours,
    most_in_10_min: most,
  };
};
