import { type MakeReadyStep, makeReady } from '../adjust/make-ready.js';
import type { Axis } from '../axis.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import { planInput } from './advise.js';
import type { Levels } from './levels.js';
import type { Judged } from './state.js';
import { stationsOf } from './stations.js';

/** The first step of bringing the job into register, from what was last read of each station; null = nothing to turn. A sample comes after it. */
export const makeReadyStep = (press: Press, job: Job, judged: Judged): MakeReadyStep | null => {
  const stations = stationsOf(press, job);
  const sd_mm = (axis: Axis): number => job.reading.spread_mm[axis];
  const read = (axis: Axis): Levels =>
    Object.fromEntries(
      stations.map((s) => {
        const mm = judged.read[s.id]?.[axis].mm ?? null;
        return [s.id, mm === null ? null : { mean_mm: mm, sd_mm: sd_mm(axis) }];
      }),
    );
  const levels = { along: read('along'), across: read('across') };
  const input = (axis: Axis) => planInput(press, job, judged, stations, axis, levels);
  return makeReady({ along: input('along'), across: input('across') })[0] ?? null;
};
