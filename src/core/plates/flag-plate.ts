import type { PlateGrade } from '../record.js';
import { chanceOfCountLearned, countLimit, countsAs } from './count-limit.js';
import { beliefOfLives } from './life.js';
import type { Flag, PlateState } from './plate-state.js';
import type { PlateSeen, PlatesCheck, PlatesConfig } from './plates.js';
import { type Look, riseOf, squaresSettled } from './rise.js';
import { type MarkChange, watchMark } from './strength.js';
import { dispersionOf, learnCount, type Rate, type Squares, squareOf } from './usual-rate.js';

/** How long a beginning is looked for, and how many looks are too fresh to teach the dispersion. */
const WINDOW = 16;
const LIVES_KEPT = 60;
const CALM_ENOUGH = 2;

/** Log evidence of a grade that a plate is getting dirty: one "building" is weak; two in a row are flagged outright. */
const GRADE_EVIDENCE: Readonly<Record<PlateGrade, number>> = {
  clean: Math.log(0.95),
  building: Math.log(5),
  dirty: Math.log(200),
};

/** Share of the allowed false flags spent on the limit for one count; the rest on the gradual rise. */
const LIMIT_SHARE = 0.2;

/** What the whole press teaches of one plate: scatter of counts, and the rate of the other plates. */
export type Shared = { readonly squares: Squares; readonly rate: Rate };

/** One plate, one look further: its grade, its count, whether it is flagged, and how the last wash did. */
export const flagPlate = (
  config: PlatesConfig,
  plate: PlateState,
  check: PlatesCheck,
  seen: PlateSeen,
  shared: Shared,
): PlateState => {
  const counted = seen.flaws !== null && seen.labels !== null && seen.labels > 0;
  const marked = typeof seen.strength === 'number' || typeof seen.width_mm === 'number';
  if (seen.grade === null && !counted && !marked) return plate;
  const at = { check: check.check, web_m: check.web_m };
  const unclean =
    seen.grade === null
      ? plate.unclean
      : seen.grade === 'clean'
        ? null
        : { ...(plate.unclean ?? at), times: (plate.unclean?.times ?? 0) + 1 };
  const spread = dispersionOf(squaresSettled(plate.usual, plate.looks), shared.squares);
  const looked = seen.grade !== null || counted ? addLook(plate, shared.rate, spread, at, seen) : plate;
  const strength = typeof seen.strength === 'number' ? watchMark('strength', plate.strength, seen.strength) : null;
  const width = typeof seen.width_mm === 'number' ? watchMark('width', plate.width, seen.width_mm) : null;
  const next: PlateState = {
    ...plate,
    looks: looked.looks,
    usual: looked.usual,
    strength: strength?.state ?? plate.strength,
    width: width?.state ?? plate.width,
    unclean,
    grade: seen.grade ?? plate.grade,
    kind: seen.kind ?? plate.kind,
  };
  const found =
    findFlag(config, next, check, seen, spread, shared.rate) ??
    markFlag(at, strength?.change ?? null, width?.change ?? null);
  // A sensor's look alone neither clears a plate nor judges a wash: nobody saw the print.
  if (found === null && seen.grade === null && !counted) return next;
  return settle(judgeWash(next, check, seen, found, shared.rate), found, check, seen);
};

/** The newest look in, the oldest out of the window into what is usual. */
const addLook = (
  plate: PlateState,
  others: Rate,
  spread: number,
  at: Flag['since'],
  seen: PlateSeen,
): Pick<PlateState, 'looks' | 'usual'> => {
  const labels = seen.flaws !== null && seen.labels !== null && seen.labels > 0 ? seen.labels : 0;
  const flaws = labels > 0 ? (seen.flaws ?? 0) : 0;
  const known = ratePast(plate, others, plate.looks.length);
  const look: Look = {
    check: at.check,
    web_m: at.web_m,
    flaws,
    labels,
    counts_as: countsAs(flaws, (labels * known.flaws) / known.labels, spread),
    grade_evidence: seen.grade === null ? 0 : GRADE_EVIDENCE[seen.grade],
    square: labels > 0 ? squareOf(known, flaws, labels) : 0,
  };
  const old = plate.looks.length >= WINDOW ? plate.looks[0] : undefined;
  if (old === undefined) return { looks: [...plate.looks, look], usual: plate.usual };
  const usual = old.labels > 0 ? learnCount(plate.usual, old.flaws, old.labels, old.square) : plate.usual;
  return { looks: [...plate.looks.slice(1), look], usual };
};

const findFlag = (
  config: PlatesConfig,
  plate: PlateState,
  check: PlatesCheck,
  seen: PlateSeen,
  spread: number,
  others: Rate,
): Flag | null => {
  const at = { check: check.check, web_m: check.web_m };
  const began = plate.unclean ?? at;
  const since = { check: began.check, web_m: began.web_m };
  if (seen.grade === 'dirty') return { state: 'dirty', why: `Graded dirty${countWords(seen)}.`, since, sure: 1 };
  if (seen.grade === 'building' && (plate.unclean?.times ?? 0) >= 2) {
    return {
      state: 'building',
      why: `Graded building ${plate.unclean?.times} times in a row${countWords(seen)}.`,
      since,
      sure: 1,
    };
  }
  return countFlag(config, plate, check, seen, spread, others);
};

/** Strength falling or width growing, where a sensor sends them. */
const markFlag = (at: Flag['since'], fall: MarkChange | null, growth: MarkChange | null): Flag | null => {
  const change = fall ?? growth;
  if (change === null) return null;
  const what =
    fall !== null
      ? `Mark strength has fallen by ${change.by.toFixed(2)}`
      : `Mark width has grown by ${change.by.toFixed(2)} mm`;
  const why = `${what} over the last ${change.looks} ${change.looks === 1 ? 'look' : 'looks'}: filling in, or the anilox plugging. Look at the plate at the next check.`;
  return { state: 'building', why, since: at, sure: 0.9 };
};

const countFlag = (
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
    plate.flag === null && addsNothing(plate, others) ? null : riseOf(ratePast(plate, others, 0), plate.looks);
  if (rise !== null && rise.evidence > (perStation * RISE_FACTOR * spread ** 2) / (1 - LIMIT_SHARE)) {
    const since = rise.since === null ? at : { check: rise.since.check, web_m: rise.since.web_m };
    const graded = seen.grade === 'building' ? ', and graded building' : '';
    return {
      state: 'building',
      why: `Flaws are up: about ${tenth(rise.rate)} a label since check ${since.check}, usual ${tenth(usualSeen(plate, since.web_m, others))}${graded}. Does the flaw come back at the same place every repeat? Then it is the plate; if it moves, debris.`,
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
  const most = countLimit((seen.labels * before.flaws) / before.labels, limit);
  return {
    state: 'building',
    why: `${seen.flaws} flaws in ${seen.labels} labels; ${most} or more is past chance on this plate. Does the flaw come back at the same place every repeat? Then it is the plate; if it moves, debris.`,
    since: at,
    sure: 1 - chance,
  };
};

/**
 * The sum of evidence passes its threshold by a jump, so a lower one already keeps the asked rate; and a scatter beyond Poisson is
 * itself only learned, so its threshold is higher. Both by simulation (tests/bench/plates).
 */
const RISE_FACTOR = 0.24;

const addsNothing = (plate: PlateState, others: Rate): boolean => {
  const last = plate.looks.at(-1);
  if (last === undefined) return true;
  const before = knownBefore(plate, others);
  return last.grade_evidence <= 0 && last.counts_as * before.labels <= last.labels * before.flaws;
};

/** What was usual up to the look before this one. */
const knownBefore = (plate: PlateState, others: Rate): Rate => ratePast(plate, others, plate.looks.length - 1);

/** The plate's own counts, the first `many` looks of the window among them, beside what the other plates teach. */
const ratePast = (plate: PlateState, others: Rate, many: number): Rate => {
  let flaws = plate.usual.flaws + others.flaws;
  let labels = plate.usual.labels + others.labels;
  for (let i = 0; i < many; i += 1) {
    flaws += plate.looks[i]?.flaws ?? 0;
    labels += plate.looks[i]?.labels ?? 0;
  }
  return { flaws, labels };
};

/** Flaws a label before the rise began. */
const usualSeen = (plate: PlateState, since_m: number, others: Rate): number => {
  const from = plate.looks.findIndex((look) => look.web_m >= since_m);
  const before = ratePast(plate, others, from < 0 ? plate.looks.length : from);
  return before.flaws / before.labels;
};

/** The first look since a wash says whether it helped: still flagged, or one more "building", or as many flaws: it did not. */
const judgeWash = (
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
  const why = `Washed at ${Math.round(plate.wash.web_m)} m and still ${seen.grade === 'clean' || seen.grade === null ? 'as many flaws' : seen.grade}: the wash did not help.`;
  return { ...washed, flag: { state, why, since: { check: check.check, web_m: check.web_m }, sure: 0.9 } };
};

/** Keeps, raises, or after two calm looks drops the flag; and closes the life of a plate that was seen dirty. */
const settle = (plate: PlateState, found: Flag | null, check: PlatesCheck, seen: PlateSeen): PlateState => {
  const held = plate.flag;
  if (found !== null) {
    const failed =
      plate.wash?.helped === false && held === null
        ? ` Washed at ${Math.round(plate.wash.web_m)} m: it did not help.`
        : '';
    const raised = held === null || (held.state === 'building' && found.state === 'dirty');
    const flag = raised ? { ...found, why: found.why + failed, since: held?.since ?? found.since } : held;
    return endLife({ ...plate, flag, calm: 0 }, flag.since.web_m);
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

const countWords = (seen: PlateSeen): string =>
  seen.flaws === null || seen.labels === null ? '' : `, ${seen.flaws} flaws in ${seen.labels} labels`;

const tenth = (rate: number): string => rate.toFixed(rate < 0.095 ? 2 : 1);
