import { AXES, type Axis, type PerAxis } from '../axis.js';
import { forecast, reach } from '../drift/forecast.js';
import { levels } from '../drift/levels.js';
import type { AxisFound } from '../drift/movement.js';
import { scatter } from '../drift/scatter-now.js';
import type { Seen, WatchConfig } from '../drift/seen.js';
import { initial, step, type WatchState } from '../drift/watch.js';
import type { Place } from '../finding.js';
import { type HoldConfig, stepHold } from '../hold/hold.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import type { LogRecord, PlateGrade } from '../record.js';
import { printedAt, samplePlace } from '../web.js';
import { pastActionLimit } from './action-limit.js';
import { adviceFor, type Hush, type Levels, type PerAxisLevels, reachedBy } from './advise.js';
import { follow, type Outlook } from './follow.js';
import { judgePlates } from './judge-plates.js';
import { countMeasured, type Measured, measuredOf } from './measured.js';
import { nextCheck } from './next-check.js';
import { HORIZON_CHECKS } from './outlook.js';
import { pairsRead } from './pairs.js';
import { readResults } from './read-results.js';
import type { Judged, LastRead, Movement, Trail } from './state.js';
import { type Station, stationsOf } from './stations.js';
import { addReading, type Sums } from './sums.js';
import { toleranceIn } from './tolerance-in.js';
import { turnedAt } from './turned.js';
import { watchConfig } from './watch-config.js';

type CheckRecord = Extract<LogRecord, { type: 'check' }>;

const KEPT_TRAIL = 400;
const KEPT_MOVEMENTS = 200;
const KEPT_PLATE_HOLDS = 100;

/** One check through the whole judgement: readings, movements, what to turn, product to hold, plates. Costs O(stations). */
export const judgeCheck = (press: Press, job: Job, before: Judged, check: CheckRecord): Judged => {
  const stations = stationsOf(press, job);
  const measured = measuredOf(stations, before, check);
  const taken = take(before, stations, check, measured);
  if (before.ok === null) return judgePlates(press, job, taken, check);
  const place_m = samplePlace(press, check.source, check.place) ?? press.sample_m;
  const settling =
    before.settle_until_m !== null && printedAt(check.web_m, place_m, stations[0]?.at_m ?? 0) < before.settle_until_m;
  const kind = check.source;
  const config = watchConfig(press, job, before, kind);
  const watched: WatchState = before.watch[kind] ?? initial(config);
  const levelsBefore = levelsOf(config, watched);
  const seen: Seen = {
    check: check.check,
    web_m: check.web_m,
    roll_change: before.last_check !== null && (before.roll.stock_m ?? -Infinity) > before.last_check.web_m,
    settling,
    along: seenOn('along'),
    across: seenOn('across'),
  };
  const stepped = step(config, watched, seen);
  const watch = { ...taken.watch, [kind]: stepped.state, latest: kind };
  const known = scatter(config, stepped.state);
  const turns = readResults(press, taken, stations, check, measured, levelsBefore, {
    along: { sigma_mm: known.along.sigma_mm, share_of_reference: known.along.share_of_reference },
    across: { sigma_mm: known.across.sigma_mm, share_of_reference: known.across.share_of_reference },
  });
  const levelsNow = levelsOf(config, stepped.state);

  const next_m = nextCheck(job, { ...taken, watch })?.web_m ?? check.web_m;
  let movements: readonly Movement[] = taken.movements;
  let next_key = taken.next_key;
  for (const axis of AXES) {
    const outlook = (station: string): Outlook => {
      const tolerance = toleranceIn(before, station, axis);
      const ahead = forecast(config, stepped.state, axis, station, Math.max(next_m, check.web_m), tolerance);
      return {
        p_out: ahead?.p_out ?? 0,
        reach:
          ahead === null
            ? null
            : reach(
                config,
                stepped.state,
                axis,
                station,
                tolerance,
                HORIZON_CHECKS * Math.max(next_m - check.web_m, taken.spacing_m ?? 0, 1),
              ),
        level_mm: levelsNow[axis][station]?.mean_mm ?? null,
      };
    };
    const done = follow(
      {
        axis,
        check: check.check,
        web_m: check.web_m,
        at: check.at,
        stations,
        reference: before.reference,
        found: stepped.found.find((f) => f.axis === axis) ?? unwatched(axis),
        measured,
        toleranceOf: (id) => toleranceIn(before, id, axis),
        pairs: pairsRead(job, before, measured, axis),
        outlook,
        pastActionLimit: (cause) =>
          pastActionLimit(levelsNow, axis, reachedBy(cause, stations, before.reference), (id) =>
            toleranceIn(before, id, axis),
          ),
        turns,
        watchBase: kind === 'sensor' ? 1 : 0,
      },
      movements,
      next_key,
    );
    movements = done.movements;
    next_key = done.next_key;
  }

  const advised = movements.map((m) =>
    m.closed !== null || m.severity === 'note'
      ? m
      : {
          ...m,
          advice: adviceFor(
            press,
            job,
            { ...taken, turns },
            stations,
            m,
            levelsNow,
            hushFor(m, settling, taken, stations, measured),
          ),
        },
  );
  const held = holdStep({ ...taken, movements: advised });
  const judged: Judged = {
    ...taken,
    watch,
    turns,
    movements: trimmed(held.movements),
    next_key,
    holds: held.holds,
    plate_suspects: held.plates,
  };
  return judgePlates(press, job, judged, check);

  function seenOn(axis: Axis): Seen['along'] {
    return { read: measured.map((m) => m.mm[axis]), turned: turnedAt(before, stations, axis, check.web_m, place_m) };
  }

  function holdStep(now: Judged): {
    readonly holds: Judged['holds'];
    readonly movements: readonly Movement[];
    readonly plates: Judged['plate_suspects'];
  } {
    const holdConfig: HoldConfig = {
      reference: before.reference,
      tolerance_mm: before.tolerance_mm,
      pairs: job.pairs,
      count: {
        repeat_m: (job.repeat_teeth * press.tooth_mm) / 1000,
        around: job.labels_around,
        across: job.labels_across,
      },
    };
    const here: Place = { check: check.check, web_m: check.web_m, roll: check.roll };
    const reference_m = stations.find((s) => s.id === before.reference)?.at_m ?? 0;
    const { state, suspects } = stepHold(now.holds, holdConfig, {
      place: here,
      readings: stations.map((s, i) => ({
        station: s.id,
        along_mm: measured[i]?.mm.along ?? null,
        across_mm: measured[i]?.mm.across ?? null,
        plate: plateOf(check, s.id),
        printed_m: printedAt(check.web_m, place_m, s.at_m),
      })),
      reference_printed_m: printedAt(check.web_m, place_m, reference_m),
      out: now.movements.flatMap((m) => outOf(m)),
    });
    const own = suspects.filter((s) => s.event !== null);
    const movements = now.movements.map((m) => {
      const mine = own.find((s) => s.event === m.key);
      return mine === undefined
        ? m
        : { ...m, suspect: { from: mine.from, to: mine.to, rolls: mine.rolls, labels: mine.labels } };
    });
    const plates = suspects.flatMap((s) =>
      s.event !== null || s.station === undefined
        ? []
        : [
            {
              key: `${s.station}|${s.from.web_m}`,
              station: s.station,
              from: s.from,
              to: s.to,
              rolls: s.rolls,
              labels: s.labels,
            },
          ],
    );
    return {
      holds: state,
      movements,
      plates: [...now.plate_suspects.filter((p) => !plates.some((q) => q.key === p.key)), ...plates].slice(
        -KEPT_PLATE_HOLDS,
      ),
    };
  }

  /** What is outside tolerance on this sample, by the movement it belongs to. */
  function outOf(m: Movement): readonly { event: number; station: string; axis: Axis }[] {
    if (m.closed !== null || !m.been_out) return [];
    const reached = reachedBy(m.cause, stations, before.reference);
    const apart = pairsRead(job, before, measured, m.axis).filter(
      (p) => p.out && p.stations.some((id) => reached.includes(id) || m.pair?.includes(id)),
    );
    const alone = measured.filter((x) => {
      const mm = x.mm[m.axis];
      return reached.includes(x.station) && mm !== null && Math.abs(mm) > toleranceIn(before, x.station, m.axis) + 1e-9;
    });
    const lookedOff = measured.filter((x) => x.look === 'off' && reached.includes(x.station) && x.mm[m.axis] === null);
    return [...new Set([...alone, ...lookedOff].map((x) => x.station).concat(apart.flatMap((p) => p.stations)))].map(
      (station) => ({ event: m.key, station, axis: m.axis }),
    );
  }
};

const levelsOf = (config: WatchConfig, state: WatchState): PerAxisLevels => {
  const by = (axis: Axis): Levels => {
    const all = levels(config, state, axis);
    return Object.fromEntries(config.stations.map((s, k) => [s.id, all[k] ?? null]));
  };
  return { along: by('along'), across: by('across') };
};

const unwatched = (axis: Axis): AxisFound => ({ axis, alarm: false, movements: [], corrections: [] });

const plateOf = (check: CheckRecord, station: string): PlateGrade | null =>
  check.readings.find((r) => r.station === station && r.plate !== null)?.plate ?? null;

/** Why no knob is spoken of at this check. */
const hushFor = (
  m: Movement,
  settling: boolean,
  judged: Judged,
  stations: readonly Station[],
  measured: readonly Measured[],
): Hush => {
  if (settling)
    return {
      why: `Register is still settling after a start, a splice or a change of speed: look, do not turn, until ${Math.round(judged.settle_until_m ?? 0)} m.`,
    };
  if (m.waiting)
    return {
      why: 'It was corrected; no sample printed wholly after the move has been read yet. Leave it alone until then.',
    };
  const reached = reachedBy(m.cause, stations, judged.reference);
  const off = measured.find((x) => x.look === 'off' && reached.includes(x.station) && x.mm[m.axis] === null);
  if (off !== undefined && m.watched === null)
    return {
      why: 'It was looked at and is off, but not measured: measure it along and across on the next sample.',
      read_again: [off.station],
    };
  const edges = measured.find((x) => reached.includes(x.station) && edgesDisagree(judged, x, m.axis));
  if (edges !== undefined)
    return {
      why: `The two edges of the web disagree by ${Math.abs(edges.edges_apart_mm[m.axis] ?? 0).toFixed(2)} mm: the plate is on crooked or the web has changed its width. No register knob cures that.`,
      read_again: [edges.station],
    };
  return null;
};

/** The edges of the web are further apart than half the tolerance band. */
const edgesDisagree = (judged: Judged, x: Measured, axis: Axis): boolean => {
  const apart = x.edges_apart_mm[axis];
  return apart !== null && Math.abs(apart) > toleranceIn(judged, x.station, axis);
};

/** Readings, sums, trail and clock of one check, before anything is judged. */
const take = (
  judged: Judged,
  stations: readonly Station[],
  check: CheckRecord,
  measured: readonly Measured[],
): Judged => {
  const read: Record<string, PerAxis<LastRead>> = { ...judged.read };
  const sums: Record<string, PerAxis<Sums>> = { ...judged.sums };
  for (const m of measured) {
    const was = judged.read[m.station];
    const sum = judged.sums[m.station];
    if (was === undefined || sum === undefined) continue;
    const next = (axis: Axis): LastRead => {
      const mm = m.mm[axis];
      if (mm !== null)
        return { mm, check: check.check, web_m: check.web_m, looked: null, edges_apart_mm: m.edges_apart_mm[axis] };
      return m.look === null ? was[axis] : { ...was[axis], looked: m.look };
    };
    const added = (axis: Axis): Sums => {
      const mm = m.mm[axis];
      return mm === null || judged.ok === null ? sum[axis] : addReading(sum[axis], mm);
    };
    read[m.station] = { along: next('along'), across: next('across') };
    sums[m.station] = { along: added('along'), across: added('across') };
  }
  const count = countMeasured(measured);
  const full = measured.every(
    (m, i) =>
      stations[i]?.read !== 'measure' ||
      m.station === judged.reference ||
      (m.mm.along !== null && m.mm.across !== null),
  );
  const trail: Trail = {
    check: check.check,
    web_m: check.web_m,
    roll: check.roll,
    at: check.pulled_at ?? check.at,
    sensor: check.source === 'sensor',
    along: measured.map((m) => m.mm.along),
    across: measured.map((m) => m.mm.across),
  };
  const gap = judged.last_check === null || judged.ok === null ? null : check.web_m - judged.last_check.web_m;
  return {
    ...judged,
    read,
    sums,
    pulls: judged.pulls.filter((p) => p.check !== check.check),
    trail: [...judged.trail, trail].slice(-KEPT_TRAIL),
    checks: {
      made: judged.checks.made + 1,
      looked_only: judged.checks.looked_only + (count === 0 ? 1 : 0),
      sensor: judged.checks.sensor + (check.source === 'sensor' ? 1 : 0),
      last_full_m: full ? check.web_m : judged.checks.last_full_m,
    },
    last_check:
      judged.last_check !== null && judged.last_check.web_m > check.web_m
        ? judged.last_check
        : { check: check.check, web_m: check.web_m, at: check.pulled_at ?? check.at, roll: check.roll },
    spacing_m:
      gap === null || gap <= 0
        ? judged.spacing_m
        : judged.spacing_m === null
          ? gap
          : judged.spacing_m + 0.25 * (gap - judged.spacing_m),
  };
};

/** Closed movements are kept for the handover, the oldest let go first. */
const trimmed = (movements: readonly Movement[]): readonly Movement[] => {
  const over = movements.length - KEPT_MOVEMENTS;
  if (over <= 0) return movements;
  let let_go = over;
  return movements.filter((m) => m.closed === null || m.suspect?.to === null || let_go-- <= 0);
};
