import { caution } from '../adjust/caution.js';
import { instructionWords, tellsAfter } from '../adjust/words.js';
import { AXES } from '../axis.js';
import { placeWords } from '../counter.js';
import type { Move } from '../finding.js';
import { WASH_CAUTION } from '../plates/wash-caution.js';

import { nextCheck } from '../run/next-check.js';
import type { Movement, RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';
import { tellsFrom } from '../run/turned.js';
import type { EventView, Instruction, NextCheckView } from './board-view.js';
import { eventNames } from './event-names.js';
import { listWords, reachSentence } from './event-words.js';
import { knobNames } from './knob-names.js';
import { makeReadyInstruction } from './make-ready-plan.js';
import { signedNumber } from './number-words.js';
import { plateView } from './plate-view.js';
import { stateOf } from './station-views.js';
import { handLine, type Todo } from './todo.js';
import { type Asked, knobIn, readAgain } from './todo-list.js';
import { waitWords } from './wait-words.js';

/** What to do now, in words: all that open movements ask for, worst first; with none, one calm line. `web_m`: where the web stands now. */
export const instructionOf = (
  state: RunState,
  events: readonly EventView[],
  asked: readonly Asked[],
  todos: readonly Todo[],
  web_m: number | null,
  due: NextCheckView | null,
): Instruction => {
  const { judged } = state;
  if (judged.phase === 'ended') return calm('The run has ended.', 'Nothing more is watched.', 'Read the handover.');
  if (judged.ok === null) return makeReadyInstruction(state);
  const note = events.find((e) => e.open) ?? null;
  const worst = asked[0];
  return worst === undefined ? quiet(state, note, web_m, due) : acting(state, worst, asked, todos, web_m);
};

const acting = (
  state: RunState,
  worst: Asked,
  asked: readonly Asked[],
  todos: readonly Todo[],
  web_m: number | null,
): Instruction => {
  const stations = stationsOf(state.press, state.job);
  const names = eventNames(state);
  const lines = todos.filter((one) => one.event !== null);
  const moves = lines.flatMap((one) => (one.move === null ? [] : [one.move]));
  const { event } = asked.find((one) => one.moves.length > 0) ?? worst;
  const mine = lines.filter((one) => one.event === event.id);
  const made = asked.flatMap((one) => one.made);
  // What is out has nothing to foresee.
  const reach = event.severity === 'out' ? '' : reachSentence(event.reach, names, web_m);
  return {
    urgency: worst.event.severity === 'out' ? 'out' : 'act',
    sentence: moves.length > 0 ? turnWords(state, moves) : lines.map((one) => `${one.head}${one.tail}.`).join(' '),
    why: [mine[0]?.why ?? '', mine[0]?.kind === 'sample' ? '' : reach].filter((w) => w !== '').join(' '),
    hand: moves.map((move) => handLine(move, knobIn(state, move), names.register)),
    after: asked
      .filter((one) => one.moves.length > 0)
      .map((one) => afterWords(state, one.movement))
      .filter((one) => one !== '')
      .join(' '),
    tells_from_m:
      moves.length > 0
        ? web_m === null
          ? null
          : tellsAfter(moves, stations, web_m, state.press.sample_m)
        : made.length === 0
          ? null
          : Math.max(...made.map((t) => tellsFrom(state.press, stations, [t], t.web_m))),
    caution: caution(moves, names.dies) ?? '',
    moves,
    read_again: readAgain(state),
    event: event.id,
  };
};

/** All moves in full words, each with its own axis' knob; nothing else is turned. */
const turnWords = (state: RunState, moves: readonly Move[]): string => {
  const lines = moves.map((move) => instructionWords([move], knobNames(state, move.axis), state.job.units.register)[0]);
  return [...lines, 'Touch nothing else.'].join(' ');
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
  const again = readAgain(state);
  if (again.length > 0)
    return {
      ...calm(
        `Read ${listWords(again.map((id) => names.labels[id] ?? id))} again, on a second label of the sample.`,
        'It reads otherwise than expected.',
        next,
        note,
      ),
      urgency: 'note',
      read_again: again,
    };
  if (settling)
    return calm(
      `Look, do not turn, until ${placeWords(judged.settle_until_m ?? 0, names)}.`,
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
  const few = tooFew(state);
  if (few.length > 0)
    return calm(
      'Nothing is out.',
      `Too few readings yet to call ${few.length > 3 ? `${few.length} stations` : listWords(few)} holding.`,
      next,
    );
  return calm('All holding.', next === '' ? 'Nothing to turn.' : next, '');
};

/** Stations of which one reading is all there is: not out, and not yet known to hold. */
const tooFew = (state: RunState): readonly string[] =>
  stationsOf(state.press, state.job)
    .filter((s) => AXES.some((axis) => stateOf(state, s, axis) === 'not enough readings'))
    .map(labelOf);

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

/** The dirtiest plate, when no movement is to be acted on; one that builds is watched, and washed at a stop. */
const plateFirst = (state: RunState, next: string, stopped: boolean): Instruction | null => {
  const names = eventNames(state);
  const flagged = stationsOf(state.press, state.job)
    .map((s) => ({ id: s.id, ...plateView(state, s.id) }))
    .filter((p) => p.flag !== null || (p.grade === 'building' && p.washed?.seen !== false));
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
      [worst.why ?? 'Graded building at the last look.', worst.cause].filter((w) => w !== null).join(' '),
      next,
    ),
    urgency: worst.flag === 'dirty' ? 'act' : 'note',
    caution: washNow ? WASH_CAUTION : '',
  };
};

/** When the next check is due, in metres and minutes from here. What was turned, or newly mounted, is read before anything else is. */
export const dueFrom = (state: RunState, web_m: number | null): NextCheckView | null => {
  const { judged } = state;
  if (judged.ok === null || judged.phase === 'ended') return null;
  const unread = newMounted(state);
  if (unread !== null) return { in_m: null, in_min: null, why: unread, overdue: false, asked: true };
  const next = nextCheck(state.job, judged);
  const tells = tellsOfOut(state);
  if (next === null && tells === null) return null;
  // The plan's own check, if it comes before the sample that tells, is still the one after it.
  const at_m = tells?.from_m ?? next?.web_m ?? 0;
  const in_m = web_m === null ? null : at_m - web_m;
  const speed = judged.web.speed_m_per_min;
  const in_min = in_m === null || speed === null || speed <= 0 ? null : in_m / speed;
  if (tells !== null)
    return {
      in_m: in_m === null ? null : Math.max(0, in_m),
      in_min: in_min === null ? null : Math.max(0, in_min),
      why: `the sample from ${placeWords(tells.from_m, eventNames(state))} on`,
      overdue: next !== null && web_m !== null && web_m > Math.max(next.web_m, tells.from_m),
      from_m: tells.from_m,
    };
  return { in_m, in_min, why: next === null ? '' : DUE[next.why], overdue: in_m !== null && in_m < 0 };
};

/** From where on a sample tells whether something that was out has come in: what was turned for it and not read since. */
const tellsOfOut = (state: RunState): { readonly from_m: number } | null => {
  const { judged, press, job } = state;
  const out = new Set(judged.movements.filter((m) => m.closed === null && m.severity === 'out').map((m) => m.key));
  const turned = judged.turns.filter((t) => t.result === null && t.event !== null && out.has(t.event));
  if (turned.length === 0) return null;
  const stations = stationsOf(press, job);
  return { from_m: Math.max(...turned.map((t) => tellsFrom(press, stations, [t], t.web_m))) };
};

/** "new plate on 4 grey": a plate, die or reference that was changed since it was read last; null = none. */
const newMounted = (state: RunState): string | null => {
  const stations = stationsOf(state.press, state.job);
  const unread = (id: string): boolean =>
    stations.some(
      (s) =>
        s.id === id &&
        s.read !== 'never' &&
        s.id !== state.judged.reference &&
        AXES.every((axis) => {
          const last = state.judged.read[id]?.[axis];
          return last === undefined || (last.mm === null && last.looked === null);
        }),
    );
  const words = state.acts.flatMap(({ record, withdrawn }) => {
    if (withdrawn) return [];
    if (record.type === 'plate' && unread(record.station))
      return [`new plate on ${eventNames(state).labels[record.station] ?? record.station}`];
    if (record.type === 'die' && stations.some((s) => s.kind === 'die' && unread(s.id))) return ['new die'];
    return record.type === 'reference' &&
      record.station === state.judged.reference &&
      stations.every((s) => s.id === record.station || s.read !== 'measure' || unread(s.id))
      ? ['another reference']
      : [];
  });
  return words.length === 0 ? null : listWords([...new Set(words)]);
};

const DUE = {
  'roll off': 'when the roll comes off',
  metres: 'by metres run',
  minutes: 'by the clock',
  'as before': 'as far on as the last ones',
} as const;
