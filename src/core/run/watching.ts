import type { Axis } from '../axis.js';
import type { Movement as WatchedMovement } from '../drift/movement.js';
import type { WatchState } from '../drift/watch.js';

/** What the watch makes of one axis: before this check and after it, and the movements it follows. */
export type Watching = {
  readonly axis: Axis;
  readonly was: WatchState;
  readonly now: WatchState;
  /** Stations may stand off their aims from the start: that they do is no reason to turn. */
  readonly stands_off: boolean;
  readonly movements: readonly WatchedMovement[];
};
