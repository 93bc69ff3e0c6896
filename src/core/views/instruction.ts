import { caution } from '../adjust/caution.js';
import { instructionWords, tellsAfter } from '../adjust/words.js';
import type { Axis } from '../axis.js';
import type { Move } from '../finding.js';
import { WASH_CAUTION } from '../plates/wash-caution.js';
import { knobOf } from '../run/knob-of.js';

import { nextCheck } from '../run/next-check.js';
import type { Movement, RunState, Turned } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { tellsFrom } from '../run/turned.js';
import type { EventView, Instruction, NextCheckView } from './board-view.js';
import { eventNames } from './event-names.js';
import { listWords, reachSentence } from './event-words.js';
import { makeReadyInstruction } from './make-ready-plan.js';
import { lengthWords, signedNumber } from './number-words.js';
import { plateView } from './plate-view.js';
import { waitWords } from './wait-words.js';

/** What to do now, in words: the gravest open movement speaks; with none, one calm line. `web_m`: where the web stands now. */
export const instructionOf = (
  state: RunState,
  events: readonly EventView[],
  web_m: number | null,
  due: NextCheckView | null,
): Instruction => {
  const { judged } = state;
  if (judged.phase === 'ended') return calm('The run has ended.', 'Nothing more is watched.', 'Read the handover.');
  if (judged.ok === null) return makeReadyInstruction(state);
  const open = events.filter((e) => e.open);
  const top = open[0];
  if (top === undefined || top.severity === 'note') return quiet(state, top ?? null, web_m, due);
  const ids = new Map(state.said.events.map((e) => [e.id, e.key]));
  const movement = judged.movements.find((m) => m.key === (ids.get(top.id) ?? top.id));
  return movement === undefined ? quiet(state, top, web_m, due) : acting(state, top, movement, web_m);
};

const acting = (state: RunState, event: EventView, movement: Movement, web_m: number | null): Instruction => {
  const stations = stationsOf(state.press, state.job);
  const names = eventNames(state);
  const advice = movement.advice;
  // The advice stands as the last check gave it: what is on record as turned since then is not asked for again.
  const since_m = state.judged.last_check?.web_m ?? Infinity;
  const turned = state.judged.turns.filter((t) => t.result === null && t.web_m >= since_m);
  const advised = advice?.moves ?? [];
  const made = (move: Move): readonly Turned[] =>
    turned.filter((t) => t.station === move.station && t.axis === move.axis);
  const moves = advised.filter((move) => made(move).length === 0);
  const done = advised.length > 0 && moves.length === 0;
  const words = instructionWords(moves, namedStations(state, movement.axis), state.job.units.register);
  const again = advice?.read_again ?? [];
  const reading =
    again.length === 0 ? '' : ` Read ${listWords(again.map((id) => names.labels[id] ?? id))} on a second label.`;
  return {
    urgency: event.severity === 'note' ? 'note' : event.severity,
    sentence:
      words.length > 0 ? words.join(' ') : `${stillSentence(event, movement, again.length > 0, done)}${reading}`,
    why: done
      ? 'No sample printed wholly after the move has been read yet.'
      : [advice?.why ?? '', reachSentence(event.reach, names)].filter((w) => w !== '').join(' '),
    hand: [],
    after: moves.length === 0 ? '' : afterWords(state, movement),
    tells_from_m: done
      ? Math.max(...advised.flatMap(made).map((t) => tellsFrom(state.press, stations, [t], t.web_m)))
      : web_m === null
        ? null
        : tellsAfter(moves, stations, web_m, state.press.sample_m),
    caution: caution(moves, names.dies) ?? '',
    moves,
    read_again: again,
    event: event.id,
  };
};

/** Why nothing is turned, as an instruction: a web is cured at tension, dryer or stock; a doubt by reading again. */
const stillSentence = (event: EventView, movement: Movement, reads_again: boolean, done: boolean): string => {
  if (movement.waiting || done) return 'Leave it alone: it was corrected, and the next sample tells.';
  if (reads_again || event.severity === 'out') return 'Turn nothing yet.';
  if (event.cause.kind === 'web')
    return event.axis === 'along'
      ? 'Turn no knob. Look to tension, dryer and stock first.'
      : 'Turn no knob. Look to the web guide, tension and dryer first.';
  return 'Leave it alone for now.';
};

/** "After: 4 grey -0.01, die +0.02 mm": what the stations named, or all when the reference moves, will read. */
const afterWords = (state: RunState, movement: Movement): string => {
  const names = eventNames(state);
  const { advice, axis } = movement;
  if (advice === null) return '';
  const turned = advice.moves.map((m) => m.station);
  const all = turned.includes(state.judged.reference);
  const left = advice.leaves_mm.filter((l) => all || turned.includes(l.station));
  const parts = left.flatMap((l) => {
    const mm = axis === 'along' ? l.along : l.across;
    return mm === undefined ? [] : [`${names.labels[l.station] ?? l.station} ${signedNumber(mm, names.register)}`];
  });
  return parts.length === 0
    ? ''
    : `After: ${parts.join(', ')} ${names.register === '64ths' ? 'in' : names.register} (+ ${axis === 'along' ? 'ahead' : 'operator side'}).`;
};

const quiet = (
  state: RunState,
  note: EventView | null,
  web_m: number | null,
  due: NextCheckView | null,
): Instruction => {
  const { judged } = state;
  const names = eventNames(state);
  const settling = judged.settle_until_m !== null && web_m !== null && web_m < judged.settle_until_m;
  const next =
    due === null ? '' : due.overdue ? `A check is due now: ${due.why}.` : `Next check: ${due.why}${wait(due, names)}.`;
  // A stop is when a plate can be washed at all: the advice must not go away just then.
  const plate = plateFirst(state, next, judged.phase === 'stopped');
  if (judged.phase === 'stopped' && plate !== null) return plate;
  if (judged.phase === 'stopped')
    return calm('Stopped.', 'Readings settle after the start: look, do not turn, until then.', next, note);
  if (settling)
    return calm(
      `Look, do not turn, until ${lengthWords(judged.settle_until_m ?? 0, names.length, names.repeat_mm)}.`,
      'Register is settling after a start, a splice or a change of speed.',
      next,
      note,
    );
  if (plate !== null && (note === null || plate.urgency === 'act')) return plate;
  if (note !== null)
    return {
      ...calm('Leave it alone.', `${note.sentence} It does not threaten the tolerance.`, next, note),
      urgency: 'note',
    };
  if (judged.checks.made === 0) return calm('Pull a sample.', 'Nothing has been read yet.', next);
  const waiting = judged.turns.filter((t) => t.result === null && t.web_m >= (judged.ok?.web_m ?? 0));
  if (waiting.length > 0)
    return calm(
      'All holding.',
      `A sample printed after the move of ${listWords([...new Set(waiting.map((t) => names.labels[t.station] ?? t.station))])} will tell whether it took.`,
      next,
    );
  return calm('All holding.', next === '' ? 'Nothing to turn.' : next, '');
};

const wait = (due: Pick<NextCheckView, 'in_m' | 'in_min'>, names: ReturnType<typeof eventNames>): string => {
  const words = waitWords(due.in_m, due.in_min, names.length, names.repeat_mm);
  return words === '' ? '' : `, ${words}`;
};

/** Nothing to turn: what to do instead, and why. */
export const calm = (sentence: string, why: string, next: string, note: EventView | null = null): Instruction => ({
  urgency: 'calm',
  sentence,
  why: [why, next].filter((w) => w !== '').join(' '),
  hand: [],
  after: '',
  tells_from_m: null,
  caution: '',
  moves: [],
  read_again: [],
  event: note?.id ?? null,
});

const namedStations = (state: RunState, axis: Axis): Parameters<typeof instructionWords>[1] =>
  stationsOf(state.press, state.job).map((s) => ({
    id: s.id,
    name: labelOf(s),
    word: knobOf(state.judged, s, axis).word,
    sense: knobOf(state.judged, s, axis).sense,
  }));

/** The dirtiest plate, when no movement is to be acted on; one that builds is watched, and washed at a stop. */
const plateFirst = (state: RunState, next: string, stopped: boolean): Instruction | null => {
  const names = eventNames(state);
  const flagged = stationsOf(state.press, state.job)
    .map((s) => ({ id: s.id, ...plateView(state, s.id) }))
    .filter((p) => p.flag !== null);
  const worst = flagged.find((p) => p.flag === 'dirty') ?? flagged[0];
  if (worst === undefined) return null;
  const label = names.labels[worst.id] ?? worst.id;
  const washNow = worst.flag === 'dirty' || stopped;
  // Debris comes back onto a washed plate while it is still about.
  const debris = state.judged.plates.stations[worst.id]?.flaw.comes === 'moves';
  const wash = debris
    ? `Look for debris at ${label}, and wash its plate.`
    : `Wash ${label}${stopped ? ' now, at the stop' : ''}.`;
  return {
    ...calm(
      [washNow ? wash : `Watch the plate of ${label}.`, worst.flaw].filter((w) => w !== '').join(' '),
      [worst.why, worst.cause].filter((w) => w !== null).join(' '),
      next,
    ),
    urgency: worst.flag === 'dirty' ? 'act' : 'note',
    caution: washNow ? WASH_CAUTION : '',
  };
};

/** When the next check is due, in metres and minutes from here. */
export const dueFrom = (state: RunState, web_m: number | null): NextCheckView | null => {
  const { judged } = state;
  const next = judged.ok === null || judged.phase === 'ended' ? null : nextCheck(state.job, judged);
  if (next === null) return null;
  const in_m = web_m === null ? null : next.web_m - web_m;
  const speed = judged.web.speed_m_per_min;
  const in_min = in_m === null || speed === null || speed <= 0 ? null : in_m / speed;
  return { in_m, in_min, why: DUE[next.why], overdue: in_m !== null && in_m < 0 };
};

const DUE = {
  'roll off': 'when the roll comes off',
  metres: 'by metres run',
  minutes: 'by the clock',
  'as before': 'as far on as the last ones',
  'after a correction': 'the sample that tells of the correction',
} as const;
