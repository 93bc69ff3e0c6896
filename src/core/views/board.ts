import { canBeTakenBack } from '../run/admit.js';
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
import { type HoldLine, holdLines } from './hold-lines.js';
import { holdSpans } from './hold-views.js';
import { dueFrom, instructionOf } from './instruction.js';
import { offerTrial } from './offer-trial.js';
import { okToRun } from './ok-to-run.js';
import { rollViews } from './roll-views.js';
import { sayTodos } from './say-todos.js';
import { sensorWords } from './sensor-words.js';
import { stationViews } from './station-views.js';
import { askedFor, todoList } from './todo-list.js';
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
  const spans = holdSpans(state);
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
      counters: judged.counters,
      estimated: now?.counter === 'estimated',
      age_s: now?.age_s ?? null,
      speed_m_min: judged.web.speed_m_per_min,
    },
    finished_roll: rollsNow(judged, web_m),
    rolls: rollViews(state, spans),
    next_check: due,
    pulled: judged.pulls.map((p) => ({
      check: p.check,
      web_m: p.web_m,
      at: p.at,
      roll: p.roll,
      shows_old_setting: notShownYet(judged, stations, press, p.web_m, p.place),
    })),
    ...lastSample(state),
    next_check_id: state.next_check,
    stations: stationViews(state),
    pairs: pairViews(state),
    events,
    trial,
    ...whatToDo(state, events, trial, holdLines(state, spans), due, web_m),
    checks_made: judged.checks.made,
    sensor:
      state.sensor === null
        ? null
        : { state: state.sensor.state, words: sensorWords(state.sensor.state, state.sensor.detail) },
    acts: state.acts.slice(-ACTS_SHOWN).map((a) => ({
      seq: a.seq,
      at: a.at,
      words: actWords(a.record, names),
      withdrawn: a.withdrawn,
      ...(canBeTakenBack(a) ? {} : { stays: true as const }),
    })),
    operator: state.operator,
    ok_to_run: okToRun(state),
  };
};

/** The newest keyed sample that was read: a second label is read off it. */
const lastSample = ({ judged, press, job }: RunState): Pick<BoardView, 'last_sample'> => {
  const last = judged.trail.findLast((t) => !t.sensor);
  if (last === undefined) return {};
  const { check, web_m, roll } = last;
  return {
    last_sample: {
      check,
      web_m,
      roll,
      shows_old_setting: notShownYet(judged, stationsOf(press, job), press, web_m, null),
    },
  };
};

/** The list of what to do, the same in full words, and the product on hold. */
const whatToDo = (
  state: RunState,
  events: BoardView['events'],
  trial: BoardView['trial'],
  hold: readonly HoldLine[],
  due: BoardView['next_check'],
  web_m: number | null,
): Pick<BoardView, 'instruction' | 'todo' | 'hold'> => {
  const asked = state.judged.ok === null ? [] : askedFor(state, events);
  const listed = state.judged.ok === null || state.judged.phase === 'ended' ? [] : todoList(state, asked, hold, due);
  const measuring = trialInstruction(state, trial, events);
  const instruction = measuring ?? offerTrial(state, instructionOf(state, events, asked, listed, web_m, due));
  // While nothing is to be turned, looked to or washed, the list begins with how things stand.
  const acts = listed.some((one) => one.urgency === 'act' || one.urgency === 'out');
  const said = acts && measuring === null ? [] : sayTodos(state, instruction);
  // What it says of a plate is on the list already.
  const twice =
    instruction.urgency === 'note' && instruction.event === null && listed.some((one) => one.kind === 'plate');
  const todo = twice && listed.length > 0 ? listed : [...said, ...listed];
  return { hold, instruction, todo };
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
