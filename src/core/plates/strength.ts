import { type ChangepointConfig, type ChangepointState, changepoint } from '../spc/changepoint.js';

/** A lasting change of mark strength (falling) or width (growing): how much, and how many looks ago it began. */
export type MarkChange = { readonly by: number; readonly looks: number };

/** Scatter believed before it is learned: strength is 0–1, width mm. Invented, learned within some ten looks. */
const BELIEVED = { strength: 0.03, width: 0.03 } as const;

/** Changes too small to see on the label are not spoken of. */
const WORTH_SAYING = { strength: 0.08, width: 0.05 } as const;

/** One false notice in 20 000 looks, both directions, scatter known: changepointThreshold(20000, window 30) = 4.48. */
const THRESHOLD = 4.48;

const configOf = (what: 'strength' | 'width'): ChangepointConfig => ({
  threshold: THRESHOLD,
  window: 30,
  prior: { sigma: BELIEVED[what], worth: 10 },
});

/**
 * Mark strength falling, or mark width growing: the plate fills or the anilox plugs before an eye sees it. The changepoint chart
 * of the statistics room, aim unknown, scatter learned; only the bad direction is told. null: nothing, or too few looks.
 * Example: twenty looks at strength 0.80 ± 0.02, then 0.65: told within three.
 */
export const watchMark = (
  what: 'strength' | 'width',
  before: ChangepointState | null,
  value: number,
): { readonly state: ChangepointState; readonly change: MarkChange | null } => {
  const config = configOf(what);
  const { state, point, signal } = changepoint.step(config, before ?? changepoint.initial(config), value);
  const bad = point.size !== null && (what === 'strength' ? -point.size : point.size) >= WORTH_SAYING[what];
  const told = signal !== null && bad && point.length !== null && point.size !== null;
  return { state, change: told ? { by: Math.abs(point.size ?? 0), looks: point.length ?? 1 } : null };
};
