/** Lets messages through up to ten times the expected rate in any second (and a tenth more, as they come in lumps), counts the rest. */
export type FloodGate = {
  readonly passes: (atMs: number) => boolean;
  /** Called as time passes: when a second is over, whether it was a flood (then how many came and were dropped) or calm. */
  readonly tick: (
    atMs: number,
  ) => { readonly flooding: boolean; readonly came: number; readonly dropped: number } | null;
};

/** This many times the expected rate is a flood. */
export const FLOOD_FACTOR = 10;
const LUMPS = 1.1;

export const createFloodGate = (expectPerS: number): FloodGate => {
  const most = Math.max(20, Math.ceil(expectPerS * FLOOD_FACTOR * LUMPS));
  let secondMs: number | null = null;
  let came = 0;
  let ended: { flooding: boolean; came: number; dropped: number } | null = null;
  const close = (atMs: number): void => {
    if (secondMs === null || (atMs - secondMs >= 0 && atMs - secondMs < 1000)) return;
    const dropped = Math.max(0, came - most);
    ended = {
      flooding: dropped > 0 || ended?.flooding === true,
      came: came + (ended?.came ?? 0),
      dropped: dropped + (ended?.dropped ?? 0),
    };
    secondMs = null;
    came = 0;
  };
  return {
    passes: (atMs) => {
      close(atMs);
      secondMs ??= atMs;
      came += 1;
      return came <= most;
    },
    tick: (atMs) => {
      close(atMs);
      if (ended === null) return null;
      const told = ended;
      ended = null;
      return told;
    },
  };
};
