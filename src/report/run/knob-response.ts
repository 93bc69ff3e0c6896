import type { Axis } from '../../core/axis.js';
import type { DoneCorrection } from '../../core/views/handover-view.js';

/** What a knob really did: movement got for each millimetre turned, over so many turns that were read afterwards. */
export type KnobResponse = {
  readonly station: string;
  readonly label: string;
  readonly axis: Axis;
  readonly turns: number;
  readonly gain: number;
};

/**
 * Of all turns of a knob that were read afterwards: sum of what was got times what was asked over the sum of asked squared (least squares
 * through zero, so that a long turn counts more than a short one read with the same error). Example: asked 0.10 got 0.08, asked −0.20 got
 * −0.18 → (0.008 + 0.036) / 0.05 = 0.88.
 */
export function knobResponse(corrections: readonly DoneCorrection[]): readonly KnobResponse[] {
  const read = corrections.filter((done) => !done.withdrawn && done.result !== null && done.move_mm !== 0);
  const names = [...new Map(read.map((done) => [`${done.station} ${done.axis}`, done])).values()];
  return names.map(({ station, label, axis }) => {
    const own = read.flatMap((done) =>
      done.station === station && done.axis === axis && done.result !== null ? [done.result] : [],
    );
    const top = own.reduce((sum, { asked_mm, got_mm }) => sum + asked_mm * got_mm, 0);
    const bottom = own.reduce((sum, { asked_mm }) => sum + asked_mm * asked_mm, 0);
    return { station, label, axis, turns: own.length, gain: top / bottom };
  });
}
