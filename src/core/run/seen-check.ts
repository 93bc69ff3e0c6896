import type { Axis, PerAxis } from '../axis.js';
import type { Seen } from '../drift/seen.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { LogRecord } from '../record.js';
import { printedAt, samplePlace } from '../web.js';
import { type Measured, measuredOf } from './measured.js';
import { isOneSample } from './one-sample.js';
import { EDGE_MM, pairsRead } from './pairs.js';
import type { Judged } from './state.js';
import { type Station, stationsOf } from './stations.js';
import { toleranceIn } from './tolerance-in.js';
import { turnedAt } from './turned.js';

export type CheckRecord = Extract<LogRecord, { type: 'check' }>;

/** One check brought into the order of the stations, with what the judgement needs to know of where and when it was printed. */
export type SeenCheck = {
  readonly press: Press;
  readonly job: Job;
  /** The judgement before this check. */
  readonly before: Judged;
  readonly check: CheckRecord;
  readonly stations: readonly Station[];
  readonly measured: readonly Measured[];
  readonly place_m: number;
  /** Printed while register was still settling. */
  readonly settling: boolean;
  /** By station, in order: what known corrections do to its reading, mm. */
  readonly turned: PerAxis<readonly number[]>;
};

export const seenCheck = (press: Press, job: Job, before: Judged, check: CheckRecord): SeenCheck => {
  const stations = stationsOf(press, job);
  const place_m = samplePlace(press, check.source, check.place) ?? press.sample_m;
  const turned = (axis: Axis): readonly number[] => turnedAt(before, stations, axis, check.web_m, place_m);
  return {
    press,
    job,
    before,
    check,
    stations,
    measured: measuredOf(stations, before, check),
    place_m,
    settling: isSettling(
      before,
      stations.map((s) => printedAt(check.web_m, place_m, s.at_m)),
    ),
    turned: { along: turned('along'), across: turned('across') },
  };
};

/** Whether any station printed this sample while register was settling; what was printed before a splice does not settle for it. */
const isSettling = (judged: Pick<Judged, 'settle_from_m' | 'settle_until_m'>, printed: readonly number[]): boolean => {
  const { settle_from_m: from, settle_until_m: until } = judged;
  return from !== null && until !== null && printed.some((m) => m >= from && m < until);
};

/** The same as the watch takes it. */
export const asSeen = (seen: SeenCheck): Seen => {
  const { before, check, measured, settling, turned } = seen;
  return {
    check: check.check,
    web_m: check.web_m,
    roll_change: before.last_check !== null && (before.roll.stock_m ?? -Infinity) > before.last_check.web_m,
    settling,
    same_sample: isSameSample(seen),
    out: { along: anyOut(seen, 'along'), across: anyOut(seen, 'across') },
    along: { read: measured.map((m) => m.mm.along), turned: turned.along },
    across: { read: measured.map((m) => m.mm.across), turned: turned.across },
  };
};

/** Other labels of the sample of the check before: near it in web, and no knob turned in between. */
export const isSameSample = ({ before, check }: SeenCheck): boolean => {
  const last = before.trail.at(-1);
  return (
    last !== undefined &&
    before.ok !== null &&
    !last.sensor &&
    check.source === 'keyed' &&
    isOneSample(before.turns, last.web_m, check.web_m)
  );
};

const anyOut = ({ job, before, measured }: SeenCheck, axis: Axis): boolean =>
  measured.some((m) => Math.abs(m.mm[axis] ?? 0) > toleranceIn(before, m.station, axis) + EDGE_MM) ||
  pairsRead(job, before, measured, axis).some((p) => p.out);
