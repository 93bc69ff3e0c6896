import { placeWords } from '../counter.js';
import type { Move } from '../finding.js';
import { knobOf } from '../run/knob-of.js';
import { reachedBy } from '../run/reached-by.js';
import type { Movement, RunState, Turned } from '../run/state.js';
import { labelOf, type Station, stationsOf } from '../run/stations.js';
import { toleranceIn } from '../run/tolerance-in.js';
import { tellsFrom } from '../run/turned.js';
import type { EventView, NextCheckView } from './board-view.js';
import { eventNames } from './event-names.js';
import { listWords } from './event-words.js';
import type { HoldLine } from './hold-lines.js';
import { plateTodos } from './plate-todos.js';
import { type Todo, type TodoKnob, turnBig, turnHead, turnTail } from './todo.js';
import { waitWords } from './wait-words.js';

/** What one open movement asks for: moves that were not made yet, and what was made and has to be read first. */
export type Asked = {
  readonly movement: Movement;
  readonly event: EventView;
  readonly moves: readonly Move[];
  /** Turned since the last check, as advised or not: until a sample printed after it is read nothing more is asked. */
  readonly made: readonly Turned[];
};

/** Open movements that ask for a hand, worst first: out before act, then how far off against what is allowed. */
export const askedFor = (state: RunState, events: readonly EventView[]): readonly Asked[] => {
  const keys = new Map(state.said.events.map((e) => [e.id, e.key]));
  return events
    .filter((e) => e.open && e.severity !== 'note')
    .flatMap((event): Asked[] => {
      const movement = state.judged.movements.find((m) => m.key === (keys.get(event.id) ?? event.id));
      return movement === undefined ? [] : [{ movement, event, ...leftOf(state, movement) }];
    })
    .sort(
      (a, b) =>
        Number(b.event.severity === 'out') - Number(a.event.severity === 'out') ||
        farOff(state, b.movement) - farOff(state, a.movement),
    );
};

/** The list of what to do, worst first. Everything on it is meant to be done at this same check. */
export const todoList = (
  state: RunState,
  asked: readonly Asked[],
  holds: readonly HoldLine[],
  due: NextCheckView | null,
): readonly Todo[] => {
  const plates = plateTodos(state);
  const turns = asked.map((one) => ({ urgency: one.event.severity, lines: movementTodos(state, one) }));
  const register = (urgency: 'out' | 'act'): readonly Todo[] =>
    turns.filter((one) => one.urgency === urgency).flatMap((one) => one.lines);
  return once([
    ...register('out'),
    ...againTodos(state, asked),
    ...plates.filter((one) => one.urgency === 'act'),
    ...register('act'),
    ...checkTodos(state, due),
    ...plates.filter((one) => one.urgency !== 'act'),
    ...holds.map(holdTodo),
  ]);
};

/** Stations whose reading on the last sample is to be taken again, on either axis. */
export const readAgain = ({ judged }: RunState): readonly string[] => [
  ...new Set([...judged.read_again.along, ...judged.read_again.across]),
];

/** Second labels that no line of a movement asks for: of what is not spoken of yet, or of a movement that has something to turn as well. */
const againTodos = (state: RunState, asked: readonly Asked[]): readonly Todo[] => {
  const said = new Set(
    asked.flatMap((one) =>
      one.moves.length === 0 && one.made.length === 0 ? (one.movement.advice?.read_again ?? []) : [],
    ),
  );
  const left = readAgain(state).filter((id) => !said.has(id));
  if (left.length === 0) return [];
  const names = left.map((id) => eventNames(state).labels[id] ?? id);
  return [
    {
      ...NONE,
      kind: 'read again',
      urgency: 'act',
      head: `READ ${listWords(names)} AGAIN, on a second label of the sample`,
      tail: ': it reads otherwise than expected',
      big: `read ${names.join(', ')} again`,
      why: 'It reads otherwise than expected: a step, scatter, or a misreading. Another label of the same sample tells.',
      station: left[0] ?? null,
    },
  ];
};

/** A move that two movements ask for is turned once. */
const once = (todos: readonly Todo[]): readonly Todo[] =>
  todos.filter(
    ({ move }, i) =>
      move === null ||
      todos.findIndex(({ move: other }) => other?.station === move.station && other.axis === move.axis) === i,
  );

/**
 * The advice stands as the last check gave it: what is on record as turned since then is not asked for again. A turn that was not advised
 * changes what the advice was made from: of its own station, of the reference (which every reading is told against), or of any where the
 * advice moves the reference. Obeyed beside it, the old advice would correct twice.
 */
const leftOf = (state: RunState, movement: Movement): Pick<Asked, 'moves' | 'made'> => {
  const { judged } = state;
  const since_m = judged.last_check?.web_m ?? Infinity;
  const turned = judged.turns.filter((t) => t.axis === movement.axis && t.result === null && t.web_m >= since_m);
  const advised = movement.advice?.moves ?? [];
  const asAdvised = (t: Turned): boolean =>
    judged.movements.some(
      (m) =>
        m.closed === null &&
        m.advice?.moves.some(
          (a) => a.station === t.station && a.axis === t.axis && Math.sign(a.move_mm) === Math.sign(t.move_mm),
        ) === true,
    );
  const touches = (move: Move, t: Turned): boolean =>
    t.station === move.station ||
    (!asAdvised(t) && (t.station === judged.reference || move.station === judged.reference));
  const made = turned.filter(
    (t) => advised.some((move) => touches(move, t)) || (advised.length === 0 && t.event === movement.key),
  );
  return { made, moves: advised.filter((move) => !made.some((t) => touches(move, t))) };
};

const farOff = (state: RunState, movement: Movement): number => {
  const { judged } = state;
  const reached = reachedBy(movement.cause, stationsOf(state.press, state.job), judged.reference);
  return Math.max(
    0,
    ...reached.map((id) => Math.abs(judged.read[id]?.[movement.axis].mm ?? 0) / toleranceIn(judged, id, movement.axis)),
  );
};

const NONE = { tail: '', move: null, event: null, station: null } as const;

const movementTodos = (state: RunState, { movement, event, moves, made }: Asked): readonly Todo[] => {
  const names = eventNames(state);
  const { advice } = movement;
  const urgency = event.severity === 'out' ? 'out' : 'act';
  const base = { ...NONE, urgency, event: event.id, why: advice?.why ?? '' } as const;
  const label = (id: string): string => names.labels[id] ?? id;
  const loud = (words: string): string => (urgency === 'out' ? `OUT: ${words}` : words);
  const first = advice?.look_first;
  const look: readonly Todo[] =
    first === undefined
      ? []
      : [{ ...base, kind: 'look', head: `LOOK TO ${first.toUpperCase()} first`, big: loud(`look to ${first}`) }];
  if (moves.length > 0)
    return [
      ...look,
      ...moves.map((move): Todo => {
        const knob = knobIn(state, move);
        return {
          ...base,
          kind: 'turn',
          head: turnHead(move, knob, names.register),
          tail: turnTail(move, knob),
          big: loud(turnBig(move, knob, names.register)),
          move,
          station: move.station,
        };
      }),
    ];
  if (made.length > 0 || movement.waiting) return [sampleTodo(state, made, base)];
  const again = advice?.read_again ?? [];
  if (again.length > 0)
    return [
      ...look,
      {
        ...base,
        kind: 'read again',
        head: `READ ${listWords(again.map(label))} AGAIN, on a second label of the sample`,
        tail: '; turn nothing yet',
        big: loud(`read ${again.map(label).join(', ')} again`),
        station: again[0] ?? null,
      },
    ];
  if (event.cause.kind === 'web') {
    // The cure of a web comes first and whole: it was what fell off the line.
    const where = event.axis === 'along' ? 'tension, dryer, stock' : 'web guide, tension, dryer';
    return [
      {
        ...base,
        kind: 'look',
        head: `LOOK TO ${where.toUpperCase()}; turn no knob`,
        tail: ': it grows with the path, so it is the web',
        big: loud(`look to ${where}`),
      },
    ];
  }
  const stations = reachedBy(movement.cause, stationsOf(state.press, state.job), state.judged.reference);
  const named = movement.cause.kind === 'reference' ? [state.judged.reference] : stations;
  return [
    ...look,
    {
      ...base,
      kind: 'leave',
      head: `Leave ${listWords(named.map(label))} alone for now, ${event.axis}`,
      big: urgency === 'out' ? 'OUT: look' : 'leave it alone',
    },
  ];
};

type Base = Pick<Todo, 'urgency' | 'event' | 'why' | 'tail' | 'move' | 'station'>;

/** What was turned has to be read before anything more is turned: from which counter on a sample shows it. */
const sampleTodo = (state: RunState, made: readonly Turned[], base: Base): Todo => {
  const stations = stationsOf(state.press, state.job);
  const names = eventNames(state);
  const turned = made.length > 0 ? made : state.judged.turns.filter((t) => t.result === null);
  const from_m =
    turned.length === 0 ? null : Math.max(...turned.map((t) => tellsFrom(state.press, stations, [t], t.web_m)));
  const who = listWords([...new Set(turned.map((t) => names.labels[t.station] ?? t.station))]);
  return {
    ...base,
    urgency: 'act',
    kind: 'sample',
    head: from_m === null ? 'SAMPLE: the next one tells' : `SAMPLE from ${placeWords(from_m, names)} on`,
    tail: who === '' ? '; turn nothing until then' : `: tells what the turn of ${who} did; turn nothing until then`,
    big: from_m === null ? 'next sample' : `sample from ${placeWords(from_m, names)}`,
    why: 'No sample printed wholly after the move has been read yet.',
  };
};

/** A check that is overdue, or that something asks for now. One that comes in its time is no line: the head of the board says it. */
const checkTodos = (state: RunState, due: NextCheckView | null): readonly Todo[] => {
  if (due === null || (!due.overdue && due.asked !== true)) return [];
  const names = eventNames(state);
  const by =
    due.in_m === null
      ? ''
      : waitWords(Math.abs(due.in_m), due.in_min === null ? null : Math.abs(due.in_min), names.length, names.repeat_mm);
  const head =
    due.asked === true
      ? `FULL CHECK DUE: ${due.why}`
      : `CHECK OVERDUE${by === '' ? '' : ` by ${by.replace('about ', '')}`}`;
  return [
    {
      ...NONE,
      kind: 'check',
      urgency: 'act',
      head,
      tail: due.asked === true ? '' : `: it was due ${due.why}`,
      big: due.asked === true ? 'full check due' : 'check overdue',
      why: due.why,
    },
  ];
};

const holdTodo = (hold: HoldLine): Todo => ({
  ...NONE,
  kind: 'hold',
  urgency: 'note',
  head: hold.open
    ? hold.sentence.replace(/^Hold /, 'HOLD ').replace(/\.$/, '')
    : `DECIDE on ${hold.sentence.replace(/^Hold /, '').replace(/\.$/, '')}`,
  tail: hold.open ? '' : '; holdreg holds',
  big: hold.open
    ? `hold ${hold.rolls.length === 0 ? 'product' : `roll ${hold.rolls.join(', ')}`}`
    : 'decide on held product',
  why: `${hold.why === '' ? '' : `For ${hold.why}. `}${hold.ends}`,
});

/** What a line about a move has to know of its knob; which way its mark goes is the move's, as the knob may have been found to go the other way. */
export const knobIn = (state: RunState, move: Pick<Move, 'station' | 'axis' | 'turn' | 'knob'>): TodoKnob => {
  const station: Station | undefined = stationsOf(state.press, state.job).find((s) => s.id === move.station);
  const sense = move.knob === move.turn ? 1 : -1;
  const { tooth_mm } = state.press;
  if (station === undefined) return { label: move.station, word: 'divisions', sense, tooth_mm };
  return { label: labelOf(station), word: knobOf(state.judged, station, move.axis).word, sense, tooth_mm };
};
