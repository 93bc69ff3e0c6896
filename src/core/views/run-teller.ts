import { AXES } from '../axis.js';
import type { Finding } from '../finding.js';
import { learnedPlates } from '../plates/plates.js';
import type { LogRecord } from '../record.js';
import type { RunState } from '../run/state.js';
import { stationsOf } from '../run/stations.js';
import { type CheckRounds, noRounds, roundMade, roundsAtEnd } from './check-rounds.js';
import { type GatheredKept, gatherer } from './gather.js';
import { handoverView } from './handover.js';
import type { HandoverView, WholeRun } from './handover-view.js';
import { withHindsight } from './hindsight-stories.js';
import { knobLessons } from './knob-lessons.js';
import { outOfRegister } from './out-of-register.js';
import { warningRate } from './warning-rate.js';
import { wholeChart } from './whole-chart.js';
import { keepTrail, type TrailKept, type WholeTrail } from './whole-trail.js';

/** Listens while a log is folded, then tells the whole of it: the handover with its charts and what only a whole run can say. */
export type RunTeller = {
  /** One record, the state before (null at the first) and after it, and what it made known. */
  take(record: LogRecord, before: RunState | null, after: RunState, found: readonly Finding[]): void;
  /** The report at `at_ms`, from `since` (ISO; null = since the run began) on; `state` is the one after the last record. `charts` false: none are drawn from it. */
  view(state: RunState, at_ms: number, since: string | null, charts?: boolean): HandoverView;
  /** The same without charts and without what only a whole run can say: all that its words need, at once however long the run. */
  words(state: RunState, at_ms: number, since: string | null): HandoverView;
  kept(): TellerKept;
};

/** All that was heard so far as plain JSON, so that the telling can be gone on with. */
export type TellerKept = {
  readonly trail: TrailKept;
  readonly gathered: GatheredKept;
  readonly rounds: CheckRounds;
  readonly running_ms: number;
  readonly last: { readonly at_ms: number; readonly ran: boolean } | null;
};

/** Costs the same for each record, however long the run. `from`: what was kept, in place of the records up to there. */
export const runTeller = (from: TellerKept | null = null): RunTeller => {
  const trail = keepTrail(from?.trail);
  const gathering = gatherer(from?.gathered);
  let rounds = from?.rounds ?? noRounds;
  let running_ms = from?.running_ms ?? 0;
  let last = from?.last ?? null;

  return {
    take: (record, before, after, found) => {
      gathering.take(record, found);
      trail.take(record, after);
      const at_ms = Date.parse(record.at);
      if (last?.ran === true) running_ms += Math.max(0, at_ms - last.at_ms);
      last = { at_ms, ran: ranAfterOk(after) };
      if (record.type === 'check' && before !== null)
        rounds = roundMade(rounds, after.job, before.judged, record.web_m);
    },
    words: (state, at_ms, since) => {
      const view = handoverView(state, gathering.gathered(), at_ms, since);
      return since === null ? view : { ...view, ...ofShift(view, trail.trail(), since) };
    },
    view: (state, at_ms, since, drawn = true) => {
      const gathered = gathering.gathered();
      const all = trail.trail();
      const passed_m = state.judged.ok === null ? -Infinity : Math.min(0, state.judged.ok.web_m);
      const standing = all.filter((t) => !t.withdrawn && t.web_m >= passed_m);
      const view = handoverView(state, gathered, at_ms, since);
      const still_ms = last?.ran === true ? Math.max(0, at_ms - last.at_ms) : 0;
      const shown = [...gathered.told.values()].map((told) => told.at);
      const whole: WholeRun = {
        running_h: (running_ms + still_ms) / 3_600_000,
        warnings: warningRate(shown, running_ms + still_ms),
        out: outOfRegister(standing),
        rounds: roundsAtEnd(rounds, state.job, state.judged, view.board.position.web_m),
        knobs: knobLessons(state, view.corrections, view.scatter_mm),
        dirty_plates: [
          ...new Set(
            [...state.judged.holds.ended, ...state.judged.holds.open]
              .filter(({ axis }) => axis === 'plate')
              .map(({ station }) => station),
          ),
        ],
        plate_lives: Object.entries(learnedPlates(state.judged.plates)).map(([station, { lives }]) => ({
          station,
          lives,
        })),
      };
      const shift = since === null ? all[0] : all.find((t) => t.at >= since);
      const from_m = Math.max(passed_m, view.since_web_m ?? shift?.web_m ?? 0);
      const stories = withHindsight(state, view.stories, all, gathered);
      const told = { ...view, ...(since === null ? {} : ofShift(view, all, since)), stories, whole };
      if (!drawn) return told;
      const charts = stationsOf(state.press, state.job)
        .filter((s) => s.read === 'measure' && s.id !== state.judged.reference)
        .flatMap((s) => AXES.map((axis) => wholeChart(state, all, gathered, s.id, axis, from_m)));
      return { ...told, charts };
    },
    kept: () => ({ trail: trail.kept(), gathered: gathering.kept(), rounds, running_ms, last }),
  };
};

/** What was made and checked since then, not in the whole run. */
const ofShift = (view: HandoverView, all: WholeTrail, since: string): Pick<HandoverView, 'made_m' | 'checks'> => {
  const own = all.filter((t) => t.at >= since);
  const first_m = Math.min(view.since_web_m ?? Infinity, own[0]?.web_m ?? Infinity);
  const standing = own.filter((t) => !t.withdrawn);
  return {
    made_m: view.made_m === null ? null : Number.isFinite(first_m) ? Math.max(0, view.made_m - first_m) : 0,
    checks: {
      made: standing.length,
      looked_only: standing.filter((t) => [...t.along, ...t.across].every((mm) => mm === null)).length,
      sensor: standing.filter((t) => t.sensor).length,
      withdrawn: own.length - standing.length,
    },
  };
};

const ranAfterOk = ({ judged }: RunState): boolean => judged.ok !== null && judged.phase === 'running';
