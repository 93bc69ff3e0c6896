import { knobFound } from '../adjust/knob-found.js';
import type { KnobResponse } from '../adjust/response.js';
import type { Axis, PerAxis } from '../axis.js';
import { passHold } from '../hold/hold.js';
import type { Job } from '../job.js';
import { platesStart } from '../plates/plates.js';
import type { Press } from '../press.js';
import type { CheckId, LogRecord } from '../record.js';
import { startWeb } from '../web.js';
import { countFromZero } from './from-zero.js';
import { makeReadyPlaces } from './make-ready-places.js';
import type { Judged, LastRead } from './state.js';
import { stationsOf } from './stations.js';

/** OK to run: the aims are set and the web position counts from here; given again, only the aims are. */
export const okGiven = (press: Press, job: Job, before: Judged, record: Extract<LogRecord, { type: 'ok' }>): Judged => {
  const again = before.ok !== null;
  const judged = again || record.zero_m === null ? before : countFromZero(before, record.zero_m);
  const here_m = again || record.zero_m === null ? record.web_m : record.web_m - record.zero_m;
  const aim_mm =
    record.hold_to === 'sample'
      ? firstOffAims(press, job, judged, record.check)
      : Object.fromEntries(stationsOf(press, job).map((station) => [station.id, station.aim_mm]));
  // Against other aims every station stands elsewhere: that is no movement, so it is watched from here on.
  const otherAims = again && (record.hold_to === 'sample' || before.ok.hold_to === 'sample');
  return {
    ...judged,
    phase: 'running',
    plates: again ? judged.plates : passedPlates(judged.plates, here_m),
    holds: passHold(judged.holds, { check: record.check, web_m: here_m, roll: judged.roll.last_off }),
    aim_mm,
    knobs: again ? judged.knobs : knobsFound(press, job, before),
    ok: { passed_by: record.passed_by, web_m: here_m, at: record.at, hold_to: record.hold_to, check: record.check },
    web: startWeb(judged.web, here_m, null, Date.parse(record.at)),
    roll: again ? judged.roll : { ...judged.roll, off_m: judged.roll.off_m ?? here_m },
    watch: otherAims ? { keyed: null, sensor: null, latest: judged.watch.latest } : judged.watch,
    read: readAgainst(judged, aim_mm),
  };
};

/** What the knobs were found to do in make-ready; one whose trial is not concluded tells nothing, as its size is not known. */
const knobsFound = (press: Press, job: Job, judged: Judged): Judged['knobs'] => {
  const places = makeReadyPlaces(press, job, judged, stationsOf(press, job));
  const found = (id: string, axis: Axis, knob: KnobResponse): KnobResponse => {
    const place = places[axis][id];
    const tried = judged.turns.some((t) => t.trial && t.station === id && t.axis === axis);
    return place === undefined || tried ? knob : knobFound(knob, place.filter);
  };
  return Object.fromEntries(
    Object.entries(judged.knobs).map(([id, of]) => [
      id,
      { along: found(id, 'along', of.along), across: found(id, 'across', of.across) },
    ]),
  );
};

/** Plates start their life here, as they were graded on the sample that was passed. */
const passedPlates = (plates: Judged['plates'], here_m: number): Judged['plates'] => {
  const started = platesStart(plates, 'all', here_m);
  const stations = Object.fromEntries(
    Object.entries(started.stations).map(([id, plate]) => {
      const grade = plates.stations[id]?.grade ?? null;
      return [id, { ...plate, grade, clean_m: grade === 'clean' ? here_m : null }];
    }),
  );
  return { ...started, stations };
};

/** Held to the passed sample: what it read is right from here on. */
const firstOffAims = (press: Press, job: Job, judged: Judged, check: CheckId | null): Record<string, PerAxis<number>> =>
  Object.fromEntries(
    stationsOf(press, job).map((station) => {
      const was = judged.aim_mm[station.id] ?? station.aim_mm;
      const first = (axis: Axis): number => {
        const last = judged.read[station.id]?.[axis];
        return last === undefined || last.mm === null || (check !== null && last.check !== check)
          ? was[axis]
          : was[axis] + last.mm;
      };
      return [station.id, { along: first('along'), across: first('across') }];
    }),
  );

/** Last readings told against the new aims. */
const readAgainst = (judged: Judged, aim_mm: Readonly<Record<string, PerAxis<number>>>): Judged['read'] =>
  Object.fromEntries(
    Object.entries(judged.read).map(([id, read]) => {
      const moved = (axis: 'along' | 'across'): LastRead => {
        const by = (aim_mm[id]?.[axis] ?? 0) - (judged.aim_mm[id]?.[axis] ?? 0);
        return read[axis].mm === null ? read[axis] : { ...read[axis], mm: read[axis].mm - by };
      };
      return [id, { along: moved('along'), across: moved('across') }];
    }),
  );
