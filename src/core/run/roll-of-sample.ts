import { rollAfter, rollOnRewind } from '../hold/roll-ends.js';
import type { Judged } from './state.js';

/** Finished rolls as far as they tell what a sample is off. */
export type RollsNow = {
  /** On the rewind now; null = rolls are not numbered, so its name is not known yet. */
  readonly running: string | null;
  readonly last_off: string | null;
  /** Metres wound at the pull since the last one came off; null = none came off. */
  readonly since_m: number | null;
};

/** Rolls as they stood when the web was at this place. */
export const rollsNow = ({ roll, holds }: Pick<Judged, 'roll' | 'holds'>, web_m: number | null): RollsNow => {
  const last = holds.rolls.at(-1);
  const named = last === undefined || !last.told || rollAfter(last.roll) !== null;
  return {
    running: named ? rollOnRewind(holds.rolls) : null,
    last_off: roll.last_off,
    since_m: roll.off_m === null || web_m === null ? null : web_m - roll.off_m,
  };
};

/**
 * Which finished roll a sample is off, for board and shell alike. Just after a roll came off, or before it did, the sample is from that roll;
 * later from the one on the rewind (common practice, no source).
 */
export const rollOfSample = ({ running, last_off, since_m }: RollsNow): string | null =>
  since_m !== null && since_m < JUST_OFF_M && last_off !== null ? last_off : running;

/** Which finished roll the sensor looks at: it reads the running web, so the roll on the rewind from the moment that the other came off. */
export const rollUnderSensor = ({ running, last_off, since_m }: RollsNow): string | null =>
  since_m !== null && since_m <= 0 && last_off !== null ? last_off : running;

/** About a minute of a narrow web: sooner nobody has the sample in the hand. */
const JUST_OFF_M = 120;
