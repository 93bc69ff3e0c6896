import type { Axis } from '../../src/core/axis.js';
import type { Move } from '../../src/core/finding.js';
import type {
  BoardView,
  EventView,
  Instruction,
  KnobView,
  StationAxisView,
  StationView,
} from '../../src/core/views/board-view.js';
import type { ChartView } from '../../src/core/views/chart-view.js';
import { type Todo, type TodoKnob, turnBig, turnHead, turnTail } from '../../src/core/views/todo.js';

/** Hand-made views of the invented plum-jam job, for drawing: 1 opaque white (reference), 2 plum, 3 leaf, 4 grey, 5 black, 6 varnish (looked only), die. */

export type AxisSpec = Partial<StationAxisView>;

export const axisView = (spec: AxisSpec = {}): StationAxisView => ({
  tolerance_mm: 0.15,
  aim_mm: 0,
  last_mm: 0,
  last_check: 11,
  looked: null,
  state: 'holding',
  level_mm: 0,
  next: {
    mean_mm: spec.last_mm ?? 0,
    low_mm: (spec.last_mm ?? 0) - 0.04,
    high_mm: (spec.last_mm ?? 0) + 0.04,
    p_out: 0.001,
  },
  reach: null,
  travel_left_mm: { plus: 2.5, minus: 2.5 },
  fixed: false,
  ...spec,
});

const unread: AxisSpec = { last_mm: null, last_check: null, state: 'not read', level_mm: null, next: null };

export const knobView = (spec: Partial<KnobView> = {}): KnobView => ({
  word: 'divisions',
  division_mm: 0.05,
  sense: 1,
  last_way: null,
  before: { check: 11, mm: 0 },
  ...spec,
});

type StationSpec = Partial<Omit<StationView, 'axes' | 'plate'>> & {
  readonly id: string;
  readonly label: string;
  readonly along?: AxisSpec;
  readonly across?: AxisSpec;
  readonly plate?: Partial<StationView['plate']>;
};

export const station = (spec: StationSpec): StationView => {
  const { along, across, plate, ...rest } = spec;
  return {
    kind: 'print',
    is_reference: false,
    read: 'measure',
    at_m: 1.5,
    traps_with: [],
    worth_measuring: false,
    knob: { along: knobView(), across: knobView() },
    ...rest,
    axes: { along: axisView(along), across: axisView(across) },
    plate: {
      grade: 'clean',
      flaws: null,
      flag: null,
      why: null,
      flaw: '',
      cause: null,
      last_wash_m: 12_000,
      washed: { seen: true, words: '' },
      ...plate,
    },
  };
};

export const calm: Instruction = {
  urgency: 'calm',
  sentence: 'All holding. Leave every knob alone.',
  why: 'No movement beyond the scatter of the readings.',
  hand: [],
  after: '',
  tells_from_m: null,
  caution: '',
  moves: [],
  read_again: [],
  event: null,
};

export const quietStations = (): readonly StationView[] => [
  station({
    id: '1',
    label: '1 opaque white',
    at_m: 1.5,
    is_reference: true,
    along: { ...unread, state: 'holding' },
    across: { ...unread, state: 'holding' },
  }),
  station({
    id: '2',
    label: '2 plum',
    at_m: 2.7,
    traps_with: ['3'],
    along: { last_mm: 0.01 },
    across: { last_mm: -0.01 },
  }),
  station({
    id: '3',
    label: '3 leaf',
    at_m: 3.9,
    traps_with: ['2'],
    along: { last_mm: -0.02, tolerance_mm: 0.1 },
    across: { last_mm: 0.01 },
  }),
  station({
    id: '4',
    label: '4 grey',
    at_m: 5.1,
    worth_measuring: true,
    along: { last_mm: 0.02 },
    across: { last_mm: 0 },
  }),
  station({ id: '5', label: '5 black', at_m: 6.3, along: { last_mm: 0 }, across: { last_mm: -0.02 } }),
  station({
    id: '6',
    label: '6 varnish',
    at_m: 7.5,
    read: 'look',
    along: { ...unread, looked: 'in', state: 'holding' },
    across: { ...unread, looked: 'in', state: 'holding' },
  }),
  station({
    id: 'D',
    label: 'die',
    kind: 'die',
    at_m: 8.4,
    worth_measuring: true,
    along: { last_mm: -0.05, tolerance_mm: 0.4 },
    across: { last_mm: 0, tolerance_mm: 0.4, fixed: true },
    plate: { grade: null },
  }),
];

/** The list as the core makes it from the moves of a hand-made instruction; what else it says is one line. */
const todoOf = ({ moves, urgency, why, sentence, event: id }: Instruction): readonly Todo[] =>
  moves.length === 0
    ? [{ kind: 'say', urgency, head: sentence, tail: '', big: '', why, move: null, event: id, station: null }]
    : moves.map((one): Todo => {
        const label = quietStations().find((s) => s.id === one.station)?.label ?? one.station;
        const knob: TodoKnob = { label, word: 'divisions', sense: 1, tooth_mm: 3.175 };
        return {
          kind: 'turn',
          urgency,
          head: turnHead(one, knob, 'mm'),
          tail: turnTail(one, knob),
          big: `${urgency === 'out' ? 'OUT: ' : ''}${turnBig(one, knob, 'mm')}`,
          why,
          move: one,
          event: id,
          station: one.station,
        };
      });

export const quiet = (over: Partial<BoardView> = {}): BoardView => ({
  run: 'plum-jam-1',
  job: 'plum jam lid',
  press: 'Line B',
  units: { register: 'mm', length: 'm' },
  repeat_mm: 304.8,
  tooth_mm: 3.175,
  web_runs: 'left-to-right',
  phase: 'running',
  settle_until_m: null,
  position: { web_m: 21_450, counter_minus_web_m: 0, estimated: true, age_s: 95, speed_m_min: 118 },
  finished_roll: { running: '10', last_off: '9', since_m: 1_380 },
  rolls: [...['5', '6', '7', '8'].map((roll) => ({ roll, state: 'good' as const })), { roll: '9', state: 'not told' }],
  next_check: { why: 'roll off', in_m: 620, in_min: 5, overdue: false },
  pulled: [],
  next_check_id: 12,
  stations: quietStations(),
  pairs: [
    { stations: ['2', '3'], axis: 'along', tolerance_mm: 0.12, apart_mm: -0.03, out: false },
    { stations: ['2', '3'], axis: 'across', tolerance_mm: 0.12, apart_mm: 0.02, out: false },
  ],
  events: [],
  trial: null,
  instruction: calm,
  hold: [],
  checks_made: 11,
  sensor: null,
  acts: [
    { seq: 31, at: '2026-11-24T12:02:00.000Z', words: 'roll 9 off at 20 070 m', withdrawn: false },
    { seq: 34, at: '2026-11-24T12:05:00.000Z', words: 'check 11 off roll 9: 5 read', withdrawn: false },
  ],
  operator: 'Anna',
  ok_to_run: { possible: true, why: '' },
  todo: todoOf(over.instruction ?? calm),
  ...over,
});

export const event = (over: Partial<EventView> = {}): EventView => ({
  id: 1,
  axis: 'along',
  cause: { kind: 'station', station: '4' },
  severity: 'act',
  shape: 'ramp',
  confidence: 0.83,
  how_sure: 'likely',
  since: { check: 8, web_m: 17_550 },
  moved_mm: 0.09,
  open: true,
  how_closed: null,
  seen: false,
  sentence: '4 grey is drifting ahead: 0.09 mm since roll 7 (17 550 m), likely.',
  short: (over.sentence ?? '4 grey is drifting ahead: 0.09 mm, likely.').replace(/ since [^,]*/, ''),
  shifts_mm: [{ station: '4', mm: 0.09 }],
  out_before_next_check: 0.34,
  reach: { likely_m: 23_400, early_m: 22_300, late_m: null },
  done: [],
  ...over,
});

export const move = (over: Partial<Move> = {}): Move => ({
  station: '4',
  axis: 'along',
  move_mm: -0.1,
  turn: 'retard',
  teeth: 0,
  divisions: 2,
  knob: 'retard',
  hand: 'anticlockwise',
  when: 'running',
  ...over,
});

export const caution = 'Turn the knob only. Hands out of the press. Site rules first.';

const withStation = (id: string, change: (view: StationView) => StationView): readonly StationView[] =>
  quietStations().map((one) => (one.id === id ? change(one) : one));

export const drifting = (): BoardView =>
  quiet({
    stations: withStation('4', (one) => ({
      ...one,
      axes: {
        ...one.axes,
        along: axisView({
          last_mm: 0.09,
          level_mm: 0.088,
          state: 'drifting',
          next: { mean_mm: 0.12, low_mm: 0.08, high_mm: 0.16, p_out: 0.34 },
          reach: { likely_m: 23_400, early_m: 22_300, late_m: null },
        }),
      },
      plate: { ...one.plate, grade: 'building', flag: 'building', why: 'Flaws 2, 4, 5 in the last three checks.' },
    })),
    events: [event()],
    instruction: {
      urgency: 'act',
      sentence: 'RETARD 4 grey 2 divisions (0.10 mm). Leave the others alone.',
      why: 'It will likely be out of tolerance before the next check.',
      hand: ['4 grey: retard knob ANTICLOCKWISE 2 divisions, running.'],
      after: 'After: 4 grey -0.01.',
      tells_from_m: 21_457,
      caution,
      moves: [move()],
      read_again: [],
      event: 1,
    },
  });

export const referenceMoved = (): BoardView =>
  quiet({
    stations: quietStations().map((one) =>
      one.is_reference || one.read !== 'measure'
        ? one
        : {
            ...one,
            axes: {
              ...one.axes,
              along: {
                ...one.axes.along,
                last_mm: (one.axes.along.last_mm ?? 0) - 0.11,
                state: 'moved' as const,
                next: { mean_mm: -0.11, low_mm: -0.15, high_mm: -0.07, p_out: 0.12 },
              },
            },
          },
    ),
    events: [
      event({
        cause: { kind: 'reference' },
        shape: 'step',
        confidence: 0.96,
        how_sure: 'sure',
        moved_mm: 0.11,
        sentence: 'The reference, 1 opaque white, moved ahead: 0.11 mm since roll 9 (20 070 m), sure.',
        shifts_mm: ['2', '3', '4', '5', '6', 'D'].map((id) => ({ station: id, mm: -0.11 })),
      }),
    ],
    instruction: {
      urgency: 'act',
      sentence: 'RETARD 1 opaque white 2 divisions (0.10 mm). Touch nothing else.',
      why: 'All the others read behind by the same: the reference moved, they did not.',
      hand: ['1 opaque white: retard knob ANTICLOCKWISE 2 divisions, running.'],
      after: 'After: 2 plum 0.00, 3 leaf -0.03, 4 grey +0.01, 5 black -0.01, die -0.06.',
      tells_from_m: 21_461,
      caution,
      moves: [move({ station: '1' })],
      read_again: [],
      event: 1,
    },
  });

export const webMoved = (): BoardView =>
  quiet({
    stations: quietStations().map((one) => {
      if (one.is_reference || one.read !== 'measure') return one;
      const mm = -0.02 * (one.at_m - 1.5);
      return {
        ...one,
        axes: {
          ...one.axes,
          along: {
            ...one.axes.along,
            last_mm: mm,
            state: 'moved' as const,
            next: { mean_mm: mm, low_mm: mm - 0.04, high_mm: mm + 0.04, p_out: 0.05 },
          },
        },
      };
    }),
    events: [
      event({
        cause: { kind: 'web' },
        severity: 'note',
        shape: 'step',
        sentence: 'The web moved along: 0.020 mm behind per metre of path since roll 9 (20 070 m), likely.',
        moved_mm: -0.02,
        shifts_mm: quietStations().map((one) => ({ station: one.id, mm: -0.02 * (one.at_m - 1.5) })),
      }),
    ],
    instruction: {
      ...calm,
      urgency: 'note',
      sentence: 'Leave the knobs alone. Look at tension, dryer and the new roll first.',
      why: 'The shift grows with the distance from the reference: that is the web, not a station.',
      event: 1,
    },
  });

export const out = (): BoardView =>
  quiet({
    stations: withStation('4', (one) => ({
      ...one,
      axes: {
        ...one.axes,
        along: axisView({
          last_mm: 0.19,
          level_mm: 0.17,
          state: 'out',
          next: { mean_mm: 0.2, low_mm: 0.15, high_mm: 0.25, p_out: 0.9 },
        }),
      },
    })),
    events: [
      event({
        severity: 'out',
        moved_mm: 0.17,
        confidence: 0.97,
        how_sure: 'sure',
        sentence: '4 grey is drifting ahead: 0.17 mm since roll 7 (17 550 m), sure. OUT of tolerance.',
        shifts_mm: [{ station: '4', mm: 0.17 }],
      }),
    ],
    hold: [{ sentence: 'Hold roll 9 from 18 070 m and roll 10: 92 192 labels, still open.', open: true }],
    instruction: {
      urgency: 'out',
      sentence: 'RETARD 4 grey 4 divisions (0.20 mm). Leave the others alone.',
      why: 'Its last reading is outside tolerance.',
      hand: ['4 grey: retard knob ANTICLOCKWISE 4 divisions, running.'],
      after: 'After: 4 grey -0.01.',
      tells_from_m: 21_457,
      caution,
      moves: [move({ move_mm: -0.2, divisions: 4 })],
      read_again: [],
      event: 1,
    },
  });

export const sensorLost = (): BoardView =>
  quiet({ sensor: { state: 'lost', words: 'Sensor lost since 13:18: check the cable. Keyed checks go on.' } });

export const makeReady = (): BoardView =>
  quiet({
    phase: 'make-ready',
    position: { web_m: null, counter_minus_web_m: 0, estimated: false, age_s: null, speed_m_min: null },
    finished_roll: { running: null, last_off: null, since_m: null },
    next_check: { why: 'OK to run', in_m: null, in_min: null, overdue: false },
    next_check_id: 1,
    checks_made: 0,
    acts: [],
    stations: quietStations().map((one) => ({
      ...one,
      axes: { along: axisView(unread), across: axisView(unread) },
      plate: {
        grade: null,
        flaws: null,
        flag: null,
        why: null,
        flaw: '',
        cause: null,
        last_wash_m: null,
        washed: null,
      },
    })),
    instruction: {
      ...calm,
      sentence: 'Bring the stations in, then read a full check for OK to run.',
      why: 'No check has been read yet.',
    },
    ok_to_run: {
      possible: false,
      why: 'A full check is needed first: every station that is measured, along and across.',
    },
  });

export const pulledTwo = (): BoardView =>
  quiet({
    pulled: [
      { check: 12, web_m: 21_300, at: '2026-11-24T13:12:00.000Z', roll: '10', shows_old_setting: ['4'] },
      { check: 13, web_m: 21_420, at: '2026-11-24T13:18:00.000Z', roll: '10', shows_old_setting: [] },
    ],
    next_check_id: 14,
  });

export const ended = (): BoardView =>
  quiet({
    phase: 'ended',
    position: { web_m: 22_070, counter_minus_web_m: 0, estimated: false, age_s: 30, speed_m_min: null },
    next_check: null,
    instruction: { ...calm, sentence: 'The run has ended. Print the handover with h.', why: '' },
  });

export const chart = (
  stationId = '4',
  axis: Axis = 'along',
  window: { from_m: number; to_m: number } | null = null,
): ChartView => {
  // A creep from 17 550 m on, as a keyed run would show it: one reading a check, read to a hundredth.
  const wander = [0.01, -0.02, 0.02, 0, -0.01, 0.02, 0.01, 0, 0.03, 0.04, 0.05, 0.09];
  const points = wander.map((mm, i) => ({
    web_m: 400 + i * 1_890,
    mm,
    check: i + 1,
    sensor: false,
    withdrawn: i === 4,
    signal: i === 11,
  }));
  return {
    station: stationId,
    axis,
    from_m: window?.from_m ?? 0,
    to_m: window?.to_m ?? 24_000,
    aim_mm: 0,
    tolerance_mm: stationId === 'D' ? 0.4 : 0.15,
    points,
    trend: points.map((p, i) => ({ web_m: p.web_m, mm: i < 8 ? 0.004 : 0.004 + (i - 7) * 0.02 })),
    limits_mm: { lower: -0.1, upper: 0.1 },
    began_m: stationId === '4' ? 17_550 : null,
    cone:
      stationId === '4'
        ? [21_190, 22_000, 23_000, 24_000].map((web_m) => {
            const mean = 0.085 + ((web_m - 21_190) / 1_000) * 0.018;
            const half = 0.01 + ((web_m - 21_190) / 1_000) * 0.02;
            return { web_m, mean_mm: mean, low_mm: mean - half, high_mm: mean + half };
          })
        : [],
    rolls: [2_070, 4_070, 6_070, 8_070, 10_070, 12_070, 14_070, 16_070, 18_070, 20_070].map((web_m, i) => ({
      web_m,
      roll: String(i + 1),
      kind: 'finished' as const,
    })),
    corrections: [{ web_m: 9_800, move_mm: -0.05 }],
    washes: [{ web_m: 12_000 }],
    speeds: [{ web_m: 6_200, m_per_min: 118 }],
    stops: [
      { web_m: 13_900, kind: 'stop' },
      { web_m: 13_900, kind: 'start' },
    ],
  };
};
