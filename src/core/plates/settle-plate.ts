import { placeWords } from '../counter.js';
import { chanceOfCountLearned } from './count-limit.js';
import { beliefOfLives } from './life.js';
import type { Flag, PlateSeen, PlateState, PlatesCheck } from './plate-state.js';
import { knownBefore } from './rate-past.js';
import type { Rate } from './usual-rate.js';
import { IN_M } from './wash-due.js';

const LIVES_KEPT = 60;
const CALM_ENOUGH = 2;

/** The first look since a wash says whether it helped: still flagged, or one more "building", or as many flaws: it did not. */
export const judgeWash = (
  plate: PlateState,
  check: PlatesCheck,
  seen: PlateSeen,
  found: Flag | null,
  others: Rate,
): PlateState => {
  if (plate.wash === null || plate.wash.helped !== null) return plate;
  const before = knownBefore(plate, others);
  const many =
    seen.flaws !== null && seen.labels !== null && seen.labels > 0 && plate.wash.was !== null
      ? chanceOfCountLearned(seen.flaws, seen.labels, before.flaws, before.labels) < 0.01
      : false;
  const still = found !== null || (seen.grade !== null && seen.grade !== 'clean') || many;
  const washed: PlateState = { ...plate, wash: { ...plate.wash, helped: !still } };
  if (!still || found !== null || plate.wash.was === null) return washed;
  const state = seen.grade === 'dirty' ? 'dirty' : 'building';
  const why = `Washed at ${placeWords(plate.wash.web_m, check.places ?? IN_M)} and still ${seen.grade === 'clean' || seen.grade === null ? 'as many flaws' : seen.grade}: the wash did not help.`;
  return { ...washed, flag: { state, why, since: { check: check.check, web_m: check.web_m }, sure: 0.9 } };
};

/** Keeps, raises, or after two calm looks drops the flag; and closes the life of a plate that was seen dirty. */
export const settlePlate = (plate: PlateState, found: Flag | null, check: PlatesCheck, seen: PlateSeen): PlateState => {
  const held = plate.flag;
  if (found !== null) {
    const failed =
      plate.wash?.helped === false && held === null
        ? ` Washed at ${placeWords(plate.wash.web_m, check.places ?? IN_M)}: it did not help.`
        : '';
    const raised = held === null || (held.state === 'building' && found.state === 'dirty');
    const flag = raised ? { ...found, why: found.why + failed, since: held?.since ?? found.since } : held;
    // Debris says nothing of how long a plate runs clean.
    const flagged = { ...plate, flag, calm: 0 };
    return plate.flaw.comes === 'moves' ? flagged : endLife(flagged, flag.since.web_m);
  }
  if (held !== null) {
    const calm = seen.grade === 'clean' || seen.grade === null ? plate.calm + 1 : 0;
    // Twice nothing found without a wash recorded: it is clean again all the same, and a new life begins.
    return calm < CALM_ENOUGH
      ? { ...plate, calm }
      : { ...plate, flag: null, calm: 0, looks: [], start_m: check.web_m, clean_m: check.web_m, ended: false };
  }
  const cleanNow = seen.grade === 'clean' || (seen.grade === null && plate.unclean === null);
  return cleanNow && !plate.ended ? { ...plate, clean_m: Math.max(check.web_m, plate.clean_m ?? check.web_m) } : plate;
};

const endLife = (plate: PlateState, since_m: number): PlateState => {
  if (plate.ended) return plate;
  const from_m = Math.max(
    0,
    (plate.clean_m === null ? plate.start_m : Math.min(plate.clean_m, since_m)) - plate.start_m,
  );
  const to_m = since_m - plate.start_m;
  if (to_m <= from_m) return { ...plate, ended: true };
  const lives = [...plate.lives, { from_m, to_m }].slice(-LIVES_KEPT);
  return { ...plate, ended: true, lives, belief: beliefOfLives(lives) };
};
