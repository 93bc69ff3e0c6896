import type { FlawComes } from '../record.js';
import { chanceOfCountLearned, countLimitLearned } from './count-limit.js';
import type { Flag, PlateSeen, PlateState, PlatesCheck, PlatesConfig } from './plate-state.js';
import { knownBefore, ratePast } from './rate-past.js';
import { riseOf } from './rise.js';
import type { Rate } from './usual-rate.js';

/** Share of the allowed false flags spent on the limit for one count; the rest on the gradual rise. */
const LIMIT_SHARE = 0.2;

/**
 * The sum of evidence passes its threshold by a jump, so a lower one already keeps the asked rate; and counts that scatter more
 * than Poisson have a longer tail besides, which weighing them less does not see, so the threshold goes up with a power of the
 * scatter. Both by simulation (tests/bench/plates).
 */
const RISE_FACTOR = 0.18;
const TAIL_POWER = 3.5;

/**
 * Whether the counts of this plate say it is getting dirty: a rise too gradual for limits, or one count past its exact limit.
 * The allowed false flags of the press are shared out over its plates and between the two. null: no, or nothing counted.
 */
export const countFlag = (
  config: PlatesConfig,
  plate: PlateState,
  check: PlatesCheck,
  seen: PlateSeen,
  spread: number,
  others: Rate,
): Flag | null => {
  const at = { check: check.check, web_m: check.web_m };
  const perStation = config.asked * Math.max(1, config.stations.length);
  // A look with no more than the usual adds no evidence: what did not flag before it does not flag now.
  const rise =
    plate.flag === null && addsNothing(plate, others) ? null : riseOf(ratePast(plate, others, 0), plate.looks, spread);
  if (rise !== null && rise.evidence > (perStation * RISE_FACTOR * spread ** TAIL_POWER) / (1 - LIMIT_SHARE)) {
    const since = rise.since === null ? at : { check: rise.since.check, web_m: rise.since.web_m };
    const graded = seen.grade === 'building' ? ', and graded building' : '';
    return {
      state: 'building',
      why: `Flaws are up: about ${tenth(rise.rate)} a label since check ${since.check}, usual ${tenth(usualSeen(plate, since.web_m, others))}${graded}. ${plateOrDebris(plate.flaw.comes)}`,
      since,
      sure: rise.evidence / (rise.evidence + perStation),
    };
  }
  if (rise === null || seen.flaws === null || seen.labels === null || seen.labels <= 0) return null;
  const limit = LIMIT_SHARE / perStation;
  const before = knownBefore(plate, others);
  const mean = (seen.labels * before.flaws) / before.labels;
  // Scatter of the counts and what is not known of the usual rate, as one gamma.
  const shape = 1 / ((spread - 1) / mean + 1 / before.flaws);
  const chance = chanceOfCountLearned(seen.flaws, mean, shape, shape);
  if (chance > limit) return null;
  const most = countLimitLearned(mean, shape, limit);
  return {
    state: 'building',
    why: `${seen.flaws} flaws in ${seen.labels} labels; ${most} or more is past chance on this plate. ${plateOrDebris(plate.flaw.comes)}`,
    since: at,
    sure: 1 - chance,
  };
};

const addsNothing = (plate: PlateState, others: Rate): boolean => {
  const last = plate.looks.at(-1);
  if (last === undefined) return true;
  const before = knownBefore(plate, others);
  return last.grade_evidence <= 0 && last.flaws * before.labels <= last.labels * before.flaws;
};

/** Flaws a label before the rise began. */
const usualSeen = (plate: PlateState, since_m: number, others: Rate): number => {
  const from = plate.looks.findIndex((look) => look.web_m >= since_m);
  const before = ratePast(plate, others, from < 0 ? plate.looks.length : from);
  return before.flaws / before.labels;
};

/** Asked, not guessed; what was answered with the grade is not asked again. */
const plateOrDebris = (comes: FlawComes | null): string =>
  comes === null
    ? 'Does the flaw come back at the same place every repeat? Then it is the plate; if it moves, debris.'
    : comes === 'moves'
      ? 'The flaw moves: debris.'
      : 'The flaw comes back at the same place every repeat: the plate.';

const tenth = (rate: number): string => rate.toFixed(rate < 0.095 ? 2 : 1);
