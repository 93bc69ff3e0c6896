import { caution } from '../adjust/caution.js';
import type { MakeReadyPlan, StationAxis } from '../adjust/make-ready.js';
import { sayRegister } from '../adjust/say-register.js';
import { moveWords, tellsAfter } from '../adjust/words.js';
import { AXES, type Axis } from '../axis.js';
import { capital } from '../capital.js';
import type { Move } from '../finding.js';
import { BRING_IN } from '../job.js';
import { knobOf } from '../run/knob-of.js';
import { planOfMakeReady } from '../run/make-ready-plan.js';
import type { RunState } from '../run/state.js';
import { labelOf, type Station, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { tellsFrom } from '../run/turned.js';
import type { Instruction } from './board-view.js';
import { listWords } from './event-words.js';
import { okToRun } from './ok-to-run.js';

/** One station's turn in make-ready, in the order to turn; `done`: ticked off. */
export type MakeReadyLine = {
  readonly station: string;
  readonly axis: Axis;
  readonly words: string;
  readonly done: boolean;
  /** null once it is done. */
  readonly move: Move | null;
};

/** Make-ready as a list: what one sample asks for, all of it standing until it is done. */
export type MakeReadyView = {
  /** "4 to turn at this stop, then one sample." */
  readonly sum: string;
  readonly lines: readonly MakeReadyLine[];
  /** Labels of stations to be read on a second label before they are turned. */
  readonly read_again: readonly string[];
  /** What else is to be known: what is left alone, what is met, what is stuck. */
  readonly why: string;
  readonly plan: MakeReadyPlan;
};

export const makeReadyView = (state: RunState): MakeReadyView => {
  const stations = stationsOf(state.press, state.job);
  const plan = planOfMakeReady(state);
  const nameOf = (id: string): string => labelIn(stations, id);
  const lines: readonly MakeReadyLine[] = [
    ...plan.moves.map((move) => ({
      station: move.station,
      axis: move.axis,
      words: lineWords(state, stations, move),
      done: false,
      move,
    })),
    ...plan.done.map(({ station, axis }) => ({
      station,
      axis,
      words: `${capital(nameOf(station))} ${axis}: turned.`,
      done: true,
      move: null,
    })),
  ];
  return {
    sum: sumWords(state, stations, plan),
    lines,
    read_again: plan.read_again.map(nameOf),
    why: whyWords(state, stations, plan),
    plan,
  };
};

/** The same as the board's instruction. */
export const makeReadyInstruction = (state: RunState): Instruction => {
  const { press, judged } = state;
  const stations = stationsOf(press, state.job);
  const view = makeReadyView(state);
  const { plan } = view;
  const { moves } = plan;
  const ready = okToRun(state);
  const dies = stations.flatMap((s) => (s.kind === 'die' ? [s.id] : []));
  const pending = judged.turns.filter((t) => plan.done.some((d) => d.station === t.station && d.axis === t.axis));
  const shown: Instruction = {
    urgency: moves.length > 0 || plan.read_again.length > 0 ? 'act' : 'calm',
    sentence: view.sum,
    why: [view.why, moves.length > 0 && ready.possible ? '' : ready.why].filter((w) => w !== '').join(' '),
    hand: view.lines.filter((line) => !line.done).map((line) => line.words),
    after: moves.length === 0 ? '' : afterWords(state, moves),
    tells_from_m:
      moves.length > 0
        ? judged.web.keyed_ms === null
          ? null
          : tellsAfter(moves, stations, judged.web.base_m, press.sample_m)
        : pending.length === 0
          ? null
          : Math.max(...pending.map((t) => tellsFrom(press, stations, [t], t.web_m))),
    caution: caution(moves, dies) ?? '',
    moves,
    read_again: plan.read_again,
    event: null,
  };
  return shown;
};

/** How many and where: what is turned at one stop is told together. */
const sumWords = (state: RunState, stations: readonly Station[], plan: MakeReadyPlan): string => {
  const { moves, read_again, done } = plan;
  const again =
    read_again.length === 0
      ? ''
      : `Read ${listWords(read_again.map((id) => labelIn(stations, id)))} on a second label of this sample first.`;
  if (moves.length > 0)
    return [again, countWords(state, stations, moves, done.length)].filter((w) => w !== '').join(' ');
  if (again !== '') return again;
  if (done.length > 0) return 'All turned. Pull a sample printed after the last move, and key it.';
  if (plan.ready)
    return `Ready: all in${plan.doubtful.length === 0 ? '' : ' as far as can be told'}. Give OK to run when the sample is right.`;
  if (plan.stuck.length > 0)
    return `${capital(listWords(plan.stuck.map((s) => axisWords(stations, s))))} is off, and nothing that can be turned brings it in.`;
  return 'Make-ready: key one full check.';
};

const countWords = (state: RunState, stations: readonly Station[], moves: readonly Move[], done: number): string => {
  const teeth = moves.some((m) => m.teeth !== 0);
  const running = moves.filter((m) => m.when === 'running').length;
  const standing = moves.length - running;
  const unsaid = moves.every((m) => {
    const station = stations.find((s) => s.id === m.station);
    return (
      m.when === 'running' ||
      (station !== undefined && station.kind !== 'die' && knobOf(state.judged, station, m.axis).while_running === null)
    );
  });
  const more = done > 0 ? ' more' : '';
  const parts = [
    ...(standing === 0
      ? []
      : [
          teeth
            ? `${standing}${more} to turn at this stop`
            : `${standing}${more} to turn at a stop${unsaid ? ', or running if your site allows it' : ''}`,
        ]),
    ...(running === 0 ? [] : [standing === 0 ? `${running}${more} to turn, running` : `${running} running`]),
  ];
  return `${parts.join(', ')}, then one sample.`;
};

/** One line a knob: which, how far, which way; a whole tooth is a tooth. */
const lineWords = (state: RunState, stations: readonly Station[], move: Move): string => {
  const station = stations.find((s) => s.id === move.station);
  const unit = state.job.units.register;
  const knob = station === undefined ? null : knobOf(state.judged, station, move.axis);
  const named = {
    id: move.station,
    name: labelIn(stations, move.station),
    word: knob?.word ?? 'divisions',
    sense: move.knob === move.turn ? (1 as const) : (-1 as const),
  };
  if (move.teeth === 0 || move.divisions !== null) return moveWords(move, named, unit);
  const sign = move.move_mm < 0 ? -1 : 1;
  const rest = move.move_mm - sign * move.teeth * state.press.tooth_mm;
  const teeth = moveWords({ ...move, move_mm: sign * move.teeth * state.press.tooth_mm, divisions: 0 }, named, unit);
  return `${teeth.replace(/ Leave the knob.*$/, '')} Then ${rest < 0 ? 'retard' : 'advance'} it ${sayRegister(rest, unit)} by knob.`;
};

const whyWords = (state: RunState, stations: readonly Station[], plan: MakeReadyPlan): string => {
  const { judged } = state;
  const measured = stations.filter(
    (s) =>
      s.read === 'measure' && s.id !== judged.reference && AXES.some((axis) => judged.read[s.id]?.[axis].mm != null),
  );
  const asked = new Set([
    ...plan.moves.map((m) => m.station),
    ...plan.read_again,
    ...[...plan.stuck, ...plan.done, ...plan.unread].map((s) => s.station),
  ]);
  const left = measured.filter((s) => !asked.has(s.id));
  const knobs = plan.moves.some((m) => m.teeth === 0);
  const met =
    plan.met === null
      ? ''
      : `${capital(labelIn(stations, plan.met))} cannot be moved: the reference and all others go to it.`;
  return [
    met,
    plan.moves.some((m) => m.teeth !== 0)
      ? `All teeth at one stop, walking along the press${knobs ? '; knobs after, the farthest first' : ''}.`
      : '',
    left.length === 0 || plan.moves.length === 0 ? '' : `In, leave alone: ${listWords(left.map(labelOf))}.`,
    plan.moves.length === 0 || plan.stuck.length === 0
      ? ''
      : `No way left to bring in: ${listWords(plan.stuck.map((s) => axisWords(stations, s)))}.`,
    plan.doubtful.length === 0 || plan.moves.length > 0
      ? ''
      : `Still doubtful: ${listWords(plan.doubtful.map((s) => axisWords(stations, s)))}.`,
  ]
    .filter((w) => w !== '')
    .join(' ');
};

const afterWords = (state: RunState, moves: readonly Move[]): string => {
  const bands = moves.map((m) => (state.job.bring_in ?? BRING_IN) * toleranceIn(state.judged, m.station, m.axis));
  const widest = Math.max(...bands.filter(Number.isFinite));
  return Number.isFinite(widest)
    ? `The next sample should read what is turned within ${sayRegister(widest, state.job.units.register)}.`
    : '';
};

const labelIn = (stations: readonly Station[], id: string): string => {
  const station = stations.find((s) => s.id === id);
  return station === undefined ? id : labelOf(station);
};

const axisWords = (stations: readonly Station[], { station, axis }: StationAxis): string =>
  `${labelIn(stations, station)} ${axis}`;
