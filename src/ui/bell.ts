import type { BoardView } from '../core/views/board-view.js';

/** When the terminal bell last rang, and what it has rung for. */
export type Bell = { readonly lastMs: number | null; readonly rungFor: readonly string[] };

export const silentBell: Bell = { lastMs: null, rungFor: [] };

/** Never more than one bell a minute. */
export const BELL_GAP_MS = 60_000;

/**
 * Rings for act and out only; once for an act, and for an out again each minute until it was seen. What falls into the
 * minute after a bell waits for its end, and is dropped when it was seen by then.
 */
export function stepBell(
  bell: Bell,
  view: BoardView,
  nowMs: number,
  muted: boolean,
): { readonly bell: Bell; readonly ring: boolean } {
  const loud = view.events.filter((one) => one.open && !one.seen && one.severity !== 'note');
  const names = loud.map((one) => `${one.id} ${one.severity}`);
  const fresh = names.filter((one) => !bell.rungFor.includes(one));
  const wanted = fresh.length > 0 || loud.some((one) => one.severity === 'out');
  const free = bell.lastMs === null || nowMs - bell.lastMs >= BELL_GAP_MS;
  if (!wanted || !free) return { bell, ring: false };
  return { bell: { lastMs: nowMs, rungFor: names }, ring: !muted };
}
