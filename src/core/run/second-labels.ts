import { teethNear } from '../adjust/whole-teeth.js';
import type { Axis } from '../axis.js';
import { levelOf } from '../drift/level-filter.js';
import type { Standing } from '../planner/standing.js';
import { isOneSample } from './one-sample.js';
import type { SeenCheck } from './seen-check.js';
import type { Judged, Trail } from './state.js';
import type { Watching } from './watching.js';

/** Checks that read other labels of one sample. */
export type SampleLabels = readonly Trail[];

const SURPRISE = 1.5;
/** Off by this share of its tolerance or more, a surprising reading is read again. */
export const NEAR_TURNING = 0.35;
/** A reading within so many sigmas (of the job's belief) of whole teeth is a jumped tooth. */
const TOOTH_SIGMAS = 6;
/** Labels of one sample this many sigmas apart contradict each other. */
const CONTRADICT = 5;
/** So many checks back the other labels of a sample are looked for: more are not read off one. */
const LABELS_LOOKED_AT = 6;

/** A reading that nobody expected, of a station that would be turned for it, and that was read on one label only. */
export const isDoubted = (
  seen: SeenCheck,
  { axis, was, now }: Pick<Watching, 'axis' | 'was' | 'now'>,
  k: number,
  sigma: number,
  tolerance_mm: number,
  standing: Standing,
  labels: SampleLabels,
): boolean => {
  const mm = seen.measured[k]?.mm[axis] ?? null;
  if (mm === null || seen.check.source === 'sensor') return false;
  const turned = seen.turned[axis][k] ?? 0;
  const before = was[axis].filters[k] ?? null;
  const expected = before === null ? { mean_mm: -turned, sd_mm: sigma } : levelOf(before);
  const together = now[axis].shift[k] ?? 0;
  const off = Math.abs(mm - turned - expected.mean_mm - together) / Math.hypot(sigma, expected.sd_mm);
  const others = labels.flatMap((t) => t[axis][k] ?? []);
  if (off < SURPRISE && others.length === 0) return false;
  const near =
    Math.abs(mm) > NEAR_TURNING * tolerance_mm ||
    standing.now.some((m, i) => (standing.weight[i] ?? 0) > 0.05 && Math.abs(m) > NEAR_TURNING * tolerance_mm);
  if (!near) return false;
  if (
    others.length === 0 &&
    (jumpedTooth(seen, axis, mm) || knownOut(expected.mean_mm + turned + together, mm, tolerance_mm))
  )
    return false;
  // Two labels of one sample that contradict each other: a third says which was misread.
  return others.length === 0 || (others.length === 1 && Math.abs((others[0] ?? mm) - mm) > CONTRADICT * sigma);
};

/** Off by whole gear teeth, as near as a reading tells: nobody misreads by just that. */
const jumpedTooth = ({ press, job }: SeenCheck, axis: Axis, mm: number): boolean =>
  axis === 'along' && teethNear(mm, press.tooth_mm, TOOTH_SIGMAS * job.reading.spread_mm.along) !== 0;

/** Known to be out already, the same way: another label would say the same. */
const knownOut = (expected_mm: number, mm: number, tolerance_mm: number): boolean =>
  Math.min(Math.abs(expected_mm), Math.abs(mm)) > tolerance_mm && Math.sign(expected_mm) === Math.sign(mm);

/** Earlier checks that read other labels of this sample, no knob of the axis turned in between. */
export const labelsOfSample = (seen: SeenCheck, judged: Judged, axis: Axis): SampleLabels =>
  seen.before.trail
    .slice(-LABELS_LOOKED_AT)
    .filter((t) => t.check !== seen.check.check && isOneSample(judged.turns, t.web_m, seen.check.web_m, axis));
