import { AXES, type Axis } from '../axis.js';
import type { Movement as WatchedMovement } from '../drift/movement.js';
import { scatter } from '../drift/scatter-now.js';
import { step } from '../drift/watch.js';
import type { Job } from '../job.js';
import type { Press } from '../press.js';
import { advise } from './advise.js';
import { beginWatch } from './begin-watch.js';
import { follow } from './follow.js';
import type { Outlook } from './followed.js';
import { holdCheck } from './hold-check.js';
import { judgePlates } from './judge-plates.js';
import { learnKnobs } from './learn-knobs.js';
import { levelsByStation, levelsExpected } from './levels-by-station.js';
import { nextCheck } from './next-check.js';
import { outlookOf } from './outlook.js';
import { pairsRead } from './pairs.js';
import { planAxis } from './plan-axis.js';
import { readResults } from './read-results.js';
import { asSeen, type CheckRecord, seenCheck } from './seen-check.js';
import type { Judged, Movement } from './state.js';
import { takeCheck } from './take-check.js';
import { toleranceIn } from './tolerance-in.js';
import { watchConfig } from './watch-config.js';
import type { Watching } from './watching.js';

const KEPT_MOVEMENTS = 100;

/** One check through the whole judgement: readings, movements, what to turn, product to hold, plates. Costs O(stations). */
export const judgeCheck = (press: Press, job: Job, before: Judged, check: CheckRecord): Judged => {
  const seen = seenCheck(press, job, before, check);
  const taken = takeCheck(seen);
  if (before.ok === null) return judgePlates(press, job, taken, check);

  const kind = check.source;
  const config = watchConfig(press, job, before, kind);
  const was = before.watch[kind] ?? beginWatch(config, seen);
  const stepped = step(config, was, asSeen(seen));
  const turns = readResults(
    seen,
    taken,
    () => levelsExpected(config, was, check.web_m),
    scatter(config, stepped.state),
  );
  const knobs = learnKnobs(taken.knobs, taken.turns, turns);
  const watched: Judged = { ...taken, turns, knobs, watch: { ...taken.watch, [kind]: stepped.state, latest: kind } };

  const levels = levelsByStation(config, stepped.state);
  const next_m = nextCheck(job, watched)?.web_m ?? null;
  const foundOn = (axis: Axis): readonly WatchedMovement[] =>
    stepped.found.find((f) => f.axis === axis)?.movements ?? [];
  const watching = (axis: Axis): Watching => ({
    axis,
    was,
    now: stepped.state,
    stands_off: config.stands_off === true,
    movements: foundOn(axis),
  });
  const plans = {
    along: planAxis(seen, watched, watching('along'), next_m),
    across: planAxis(seen, watched, watching('across'), next_m),
  };
  let followed: Pick<Judged, 'movements' | 'next_key'> = watched;
  for (const axis of AXES) {
    const looked = new Map<string, Outlook>();
    const outlook = (station: string): Outlook => {
      const known = looked.get(station);
      if (known !== undefined) return known;
      const ahead = outlookOf(press, job, watched, axis, station, next_m);
      const seen_ahead = {
        p_out: ahead.next?.p_out ?? 0,
        reach: ahead.reach,
        level_mm: levels[axis][station]?.mean_mm ?? null,
      };
      looked.set(station, seen_ahead);
      return seen_ahead;
    };
    followed = follow(
      {
        axis,
        check: check.check,
        web_m: check.web_m,
        at: check.at,
        stations: seen.stations,
        reference: before.reference,
        found: foundOn(axis),
        measured: seen.measured,
        toleranceOf: (id) => toleranceIn(before, id, axis),
        pairs: pairsRead(job, before, seen.measured, axis),
        outlook,
        turning: [...(plans[axis].reference_mm === 0 ? [] : [before.reference]), ...Object.keys(plans[axis].stations)],
        meets: plans[axis].meets,
        tooth_mm: press.tooth_mm,
        turns,
        watchBase: kind === 'sensor' ? 1 : 0,
      },
      followed.movements,
      followed.next_key,
    );
  }
  const advised = advise(seen, { ...watched, ...followed }, plans);
  const held = holdCheck(seen, advised);
  return judgePlates(press, job, { ...held, movements: trimmed(held.movements) }, check);
};

/** Closed movements are kept for the handover, the oldest let go first. */
const trimmed = (movements: readonly Movement[]): readonly Movement[] => {
  let over = movements.length - KEPT_MOVEMENTS;
  if (over <= 0) return movements;
  return movements.filter((m) => {
    const goes = over > 0 && m.closed !== null && m.suspect?.to !== null;
    if (goes) over -= 1;
    return !goes;
  });
};
