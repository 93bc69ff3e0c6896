import { repeatMm } from '../job.js';
import { nearest } from '../nearest.js';
import { releaseRefusal } from '../people.js';
import type { CheckId, KnobMeasured, RecordBody } from '../record.js';
import { fail, ok, type Result } from '../result.js';
import { formatLength } from '../units.js';
import { handHoldRefusal, holdRefusal } from './held.js';
import type { Act, RunState } from './state.js';
import { stationsOf } from './stations.js';

/** Positions closer than this are the same place: half a repeat never matters to a check, a rounding of the counter does. */
const SLACK_M = 1e-6;

/**
 * Whether a record may be written to this run: the station is in the job, the web does not go back, the run has not ended.
 * Says what is wrong, where, and what to do; nothing changes then. `by`: in whose name it is recorded, where that is known.
 */
export const admit = (state: RunState, body: RecordBody, by: string | null = null): Result<RecordBody> => {
  if (body.type === 'begin') return fail('The run has begun already. Start another run for another job.');
  if (state.judged.phase === 'ended' && !AFTER_THE_END.has(body.type))
    return fail(`Run ${state.run} has ended. Start a new run to go on.`);
  const known = stationsOf(state.press, state.job).map((s) => s.id);
  for (const station of stationsNamed(body)) {
    if (!known.includes(station)) {
      const near = nearest(station, known);
      return fail(
        `Station "${station}" is not in the job "${state.job.name}"${near === null ? '' : `; nearest is "${near}"`}. The job has ${known.join(', ')}.`,
      );
    }
  }
  const web_m = 'web_m' in body ? body.web_m : null;
  if (web_m !== null && !Number.isFinite(web_m)) return fail('The counter must be a number of metres.');
  const late =
    body.type === 'correction' ||
    body.type === 'knob' ||
    body.type === 'wash' ||
    body.type === 'withdraw' ||
    body.type === 'note' ||
    body.type === 'check' ||
    body.type === 'counter';
  // What was only reckoned gives way to what is read off the press; what was keyed does not.
  const reached = state.judged.web.keyed_m;
  if (!late && web_m !== null && reached !== null && web_m < reached - SLACK_M)
    return fail(goesBack(state, web_m, reached));
  return check(state, body, by);
};

/** What was keyed, what stood, and what to press. */
const goesBack = (state: RunState, web_m: number, reached: number): string =>
  `${shown(state, web_m)} would go back: the counter was keyed at ${shown(state, reached)} before. Read it again; if it was set anew, press v and choose "set anew".`;

/** A place as the counter of now would show it: what is refused is held against the number on the press. */
const shown = ({ press, job, judged }: RunState, web_m: number): string =>
  formatLength(web_m - judged.counter_offset_m, job.units.length, repeatMm(press, job));

/** What may still be said of a run that has ended: notes, what is taken back, what became of held product, who signed for it. */
const AFTER_THE_END: ReadonlySet<RecordBody['type']> = new Set(['note', 'withdraw', 'hold', 'held', 'shift']);

const check = (state: RunState, body: RecordBody, by: string | null): Result<RecordBody> => {
  switch (body.type) {
    case 'check': {
      const last = state.judged.last_check;
      const pulled = state.judged.pulls.some((p) => p.check === body.check);
      if (!pulled && last !== null && body.web_m < last.web_m - SLACK_M)
        return fail(
          `Check ${body.check} at ${shown(state, body.web_m)} lies before check ${last.check} at ${shown(state, last.web_m)}. Read the counter again.`,
        );
      if (body.readings.length === 0)
        return fail(`Check ${body.check} holds nothing: measure a station, or say it was looked at.`);
      return ok(body);
    }
    case 'correction':
      if (!Number.isFinite(body.move_mm) || body.move_mm === 0)
        return fail(`A correction needs a movement: how far ${body.station} was turned, and which way.`);
      return fixedThere(state, body.station, body.axis)
        ? fail(`Station ${body.station} cannot be moved ${body.axis}: the press file says it is fixed there.`)
        : ok(body);
    case 'knob':
      return knobAsMeasured(state, body);
    case 'speed':
      return body.m_per_min >= 0 && Number.isFinite(body.m_per_min)
        ? ok(body)
        : fail('The speed must be 0 m/min or more.');
    case 'tolerance':
      return [body.along_mm, body.across_mm].every((t) => t === null || (Number.isFinite(t) && t > 0))
        ? ok(body)
        : fail(`The tolerance of ${body.station} must be more than 0 mm.`);
    case 'reference':
      return referenceFits(state, body.station)
        ? ok(body)
        : fail(`Station ${body.station} cannot be the reference: it has no readable mark, or it is the die.`);
    case 'hold': {
      const why =
        holdRefusal(state, body) ??
        (body.state === 'released' && by !== null ? releaseRefusal(by, body.by_second ?? '', null) : null);
      return why === null ? ok(body) : fail(why);
    }
    case 'held': {
      const why = handHoldRefusal(state, body);
      return why === null ? ok(body) : fail(why);
    }
    case 'withdraw':
      return withdrawable(state, body)
        ? ok(body)
        : fail(
            body.check !== null
              ? `There is no check ${body.check} to take back.`
              : `There is no entry ${body.entry} to take back.`,
          );
    default:
      return ok(body);
  }
};

const stationsNamed = (body: RecordBody): readonly string[] => {
  switch (body.type) {
    case 'check':
      return body.readings.map((r) => r.station);
    case 'correction':
    case 'knob':
    case 'plate':
    case 'reference':
    case 'tolerance':
      return [body.station];
    case 'wash':
      return body.station === 'all' ? [] : [body.station];
    default:
      return [];
  }
};

const fixedThere = (state: RunState, id: string, axis: 'along' | 'across'): boolean =>
  stationsOf(state.press, state.job).some((s) => s.id === id && s.fixed.includes(axis));

const knobAsMeasured = (state: RunState, body: KnobMeasured): Result<RecordBody> => {
  if (fixedThere(state, body.station, body.axis))
    return fail(`Station ${body.station} has no knob ${body.axis}: the press file says it is fixed there.`);
  if (!(body.division_mm > 0 && body.division_mm <= LARGEST_DIVISION_MM) || Math.abs(body.sense) !== 1)
    return fail(
      `One division of ${body.station} must move the print more than 0 mm and at most ${LARGEST_DIVISION_MM} mm, and its mark says the truth (1) or the opposite (-1).`,
    );
  if (!Number.isFinite(body.divisions) || body.divisions === 0)
    return fail(`A knob is measured by turning it: how many divisions was ${body.station} turned?`);
  const read = (id: CheckId): boolean =>
    state.judged.trail.some((t) => t.check === id) && !state.withdrawn_checks.includes(id);
  if (body.before_check === body.after_check || !read(body.before_check) || !read(body.after_check))
    return fail(
      `A knob is measured between two checks of this run, one before and one after the turn; ${body.before_check} and ${body.after_check} are not that.`,
    );
  return ok(body);
};

/** As in a press file. */
const LARGEST_DIVISION_MM = 10;

const referenceFits = (state: RunState, id: string): boolean =>
  stationsOf(state.press, state.job).some((s) => s.id === id && s.kind === 'print' && s.read !== 'never');

const withdrawable = (state: RunState, body: Extract<RecordBody, { type: 'withdraw' }>): boolean => {
  // A sample that was pulled and not read can be thrown away.
  if (body.check !== null && state.judged.pulls.some((p) => p.check === body.check)) return true;
  if (body.check !== null)
    return !state.withdrawn_checks.includes(body.check) && state.judged.trail.some((t) => t.check === body.check)
      ? true
      : state.acts.some((a) => !a.withdrawn && a.record.type === 'check' && a.record.check === body.check);
  return state.acts.some((a) => a.seq === body.entry && canBeTakenBack(a));
};

/** OK to run is given again, not taken back; what was taken back is keyed again. */
export const canBeTakenBack = ({ withdrawn, record }: Act): boolean =>
  !withdrawn && record.type !== 'withdraw' && record.type !== 'ok';
