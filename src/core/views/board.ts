import { openTrial } from '../run/open-trial.js';
import { pairsRead } from '../run/pairs.js';
import { rollsNow } from '../run/roll-of-sample.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { notShownYet } from '../run/turned.js';
import { estimateWeb } from '../web.js';
import { actWords } from './act-words.js';
import type { BoardView, PairView, Phase } from './board-view.js';
import { eventNames } from './event-names.js';
import { eventViews } from './event-views.js';
import { holdSentences } from './hold-views.js';
import { dueFrom, instructionOf } from './instruction.js';
import { offerTrial } from './offer-trial.js';
import { okToRun } from './ok-to-run.js';
import { sensorWords } from './sensor-words.js';
import { stationViews } from './station-views.js';
import { trialInstruction } from './trial-instruction.js';

const ACTS_SHOWN = 40;

/** Everything the board shows of a run at a moment (`at_ms`, from the rim's clock). */
export const boardView = (state: RunState, at_ms: number): BoardView => {
  const { judged, job, press } = state;
  const names = eventNames(state);
  const now = estimateWeb(judged.web, at_ms);
  const web_m = now?.web_m ?? null;
  const events = eventViews(state);
  const due = dueFrom(state, web_m);
  const stations = stationsOf(press, job);
  const settling = judged.settle_until_m !== null && (web_m === null || web_m < judged.settle_until_m);
  const trial = openTrial(state);
  return {
    run: state.run,
    job: job.name,
    press: press.name,
    units: job.units,
    repeat_mm: names.repeat_mm,
    tooth_mm: press.tooth_mm,
    web_runs: press.web_runs,
    phase: phaseOf(judged.phase, settling),
    settle_until_m: settling ? judged.settle_until_m : null,
    position: {
      web_m,
      counter_minus_web_m: -judged.counter_offset_m,
      estimated: now?.counter === 'estimated',
      age_s: now?.age_s ?? null,
      speed_m_min: judged.web.speed_m_per_min,
    },
    finished_roll: rollsNow(judged, web_m),
    next_check: due === null ? null : { why: due.why, in_m: due.in_m, in_min: due.in_min, overdue: due.overdue },
    pulled: judged.pulls.map((p) => ({
      check: p.check,
      web_m: p.web_m,
      at: p.at,
      roll: p.roll,
      shows_old_setting: notShownYet(judged, stations, press, p.web_m, p.place),
    })),
    next_check_id: state.next_check,
    stations: stationViews(state),
    pairs: pairViews(state),
    events,
    trial,
    instruction: trialInstruction(state, trial, events) ?? offerTrial(state, instructionOf(state, events, web_m, due)),
    hold: holdSentences(state),
    checks_made: judged.checks.made,
    sensor:
      state.sensor === null
        ? null
        : { state: state.sensor.state, words: sensorWords(state.sensor.state, state.sensor.detail) },
    acts: state.acts
      .slice(-ACTS_SHOWN)
      .map((a) => ({ seq: a.seq, at: a.at, words: actWords(a.record, names), withdrawn: a.withdrawn })),
    operator: state.operator,
    ok_to_run: okToRun(state),
  };
};

const phaseOf = (phase: RunState['judged']['phase'], settling: boolean): Phase =>
  phase === 'running' && settling ? 'settling' : phase;

const pairViews = (state: RunState): readonly PairView[] =>
  (['along', 'across'] as const).flatMap((axis) =>
    state.job.pairs.flatMap((pair) => {
      const tolerance_mm = pair.tolerance_mm[axis];
      if (tolerance_mm === null) return [];
      const measured = stationsOf(state.press, state.job).map((s) => ({
        station: s.id,
        mm: { along: state.judged.read[s.id]?.along.mm ?? null, across: state.judged.read[s.id]?.across.mm ?? null },
        edges_apart_mm: { along: null, across: null },
        look: null,
      }));
      const read = pairsRead(state.job, state.judged, measured, axis).find((p) => p.stations === pair.stations);
      return [
        { stations: pair.stations, axis, tolerance_mm, apart_mm: read?.apart_mm ?? null, out: read?.out ?? false },
      ];
    }),
  );
