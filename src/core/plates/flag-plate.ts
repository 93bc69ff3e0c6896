import type { PlateGrade } from '../record.js';
import { countFlag } from './count-flag.js';
import { type Flaw, NO_FLAW } from './flaw.js';
import type { Flag, PlateSeen, PlateState, PlatesCheck, PlatesConfig } from './plate-state.js';
import { ratePast } from './rate-past.js';
import { type Look, squaresSettled } from './rise.js';
import { judgeWash, settlePlate } from './settle-plate.js';
import { type MarkChange, watchMark } from './strength.js';
import { dispersionOf, learnCount, type Rate, type Squares, squareOf } from './usual-rate.js';

/** How long a beginning is looked for, and how many looks are too fresh to teach the dispersion. */
const WINDOW = 16;

/** Log evidence of a grade that a plate is getting dirty: one "building" is weak; two in a row are flagged outright. */
const GRADE_EVIDENCE: Readonly<Record<PlateGrade, number>> = {
  clean: Math.log(0.95),
  building: Math.log(5),
  dirty: Math.log(200),
};

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
  const looked = seen.grade !== null || counted ? addLook(plate, shared.rate, at, seen) : plate;
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
    flaw: flawAfter(plate.flaw, seen),
  };
  const found =
    findFlag(config, next, check, seen, spread, shared.rate) ??
    markFlag(at, strength?.change ?? null, width?.change ?? null);
  // A sensor's look alone neither clears a plate nor judges a wash: nobody saw the print.
  if (found === null && seen.grade === null && !counted) return next;
  return settlePlate(judgeWash(next, check, seen, found, shared.rate), found, check, seen);
};

/** The newest look in, the oldest out of the window into what is usual. */
const addLook = (
  plate: PlateState,
  others: Rate,
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

/** What was said last stands until it is said anew, or the plate is clean. */
const flawAfter = (before: Flaw, { grade, flaw = NO_FLAW }: PlateSeen): Flaw =>
  grade === 'clean'
    ? NO_FLAW
    : { kind: flaw.kind ?? before.kind, edge: flaw.edge ?? before.edge, comes: flaw.comes ?? before.comes };

const countWords = (seen: PlateSeen): string =>
  seen.flaws === null || seen.labels === null ? '' : `, ${seen.flaws} flaws in ${seen.labels} labels`;
