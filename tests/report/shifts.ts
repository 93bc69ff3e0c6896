import type { Axis } from '../../src/core/axis.js';
import type { Cause, Severity, Shape } from '../../src/core/finding.js';
import type {
  BoardView,
  EventView,
  Instruction,
  RegisterState,
  StationAxisView,
  StationView,
} from '../../src/core/views/board-view.js';
import { type EventNames, eventSentence, eventShort, howSure } from '../../src/core/views/event-words.js';
import type { DoneCorrection, EventStory, HandoverView, HeldRoll } from '../../src/core/views/handover-view.js';

/** Invented shifts of the plum-jam lid job, one for each kind of report that is kept as a golden file. */

export const NAMES: EventNames = {
  register: 'mm',
  length: 'm',
  repeat_mm: 304.8,
  labels: {
    '1': '1 opaque white',
    '2': '2 plum',
    '3': '3 leaf',
    '4': '4 grey',
    '5': '5 black',
    '6': '6 varnish',
    D: 'die',
  },
  dies: ['D'],
  reference: '1',
};

type AxisGiven = {
  readonly last?: number | null;
  readonly state?: RegisterState;
  readonly looked?: 'in' | 'off';
  readonly fixed?: boolean;
  readonly p_out?: number;
};

export const axisOf = (given: AxisGiven, tolerance_mm: number): StationAxisView => ({
  tolerance_mm,
  aim_mm: 0,
  last_mm: given.last ?? null,
  last_check: given.last == null ? null : 31,
  looked: given.looked ?? null,
  state: given.state ?? (given.last == null ? 'not read' : 'holding'),
  level_mm: given.last ?? null,
  next:
    given.last == null
      ? null
      : { mean_mm: given.last, low_mm: given.last - 0.03, high_mm: given.last + 0.03, p_out: given.p_out ?? 0.01 },
  reach: null,
  travel_left_mm: given.fixed ? null : { plus: 3 - (given.last ?? 0), minus: 3 + (given.last ?? 0) },
  fixed: given.fixed ?? false,
});

const KNOB = { word: 'divisions', division_mm: 0.05, sense: 1, last_way: null, before: null } as const;

type StationGiven = {
  readonly along?: AxisGiven;
  readonly across?: AxisGiven;
  readonly plate?: Partial<StationView['plate']>;
  readonly worth?: boolean;
};

export const stationOf = (id: string, given: StationGiven): StationView => {
  const die = id === 'D';
  const never = id === '6';
  const tolerance = die ? 0.4 : 0.15;
  return {
    id,
    label: NAMES.labels[id] ?? id,
    kind: die ? 'die' : 'print',
    is_reference: id === '1',
    read: never ? 'never' : 'measure',
    at_m: die ? 8.4 : 1.5 + 1.2 * (Number(id) - 1),
    axes: { along: axisOf(given.along ?? {}, tolerance), across: axisOf({ ...given.across, fixed: die }, tolerance) },
    plate: {
      grade: null,
      flaws: null,
      flag: null,
      why: null,
      flaw: '',
      cause: null,
      last_wash_m: null,
      washed: null,
      ...given.plate,
    },
    traps_with: id === '2' ? ['3'] : id === '3' ? ['2'] : [],
    worth_measuring: given.worth ?? false,
    knob: { along: KNOB, across: KNOB },
  };
};

export const CALM: Instruction = {
  urgency: 'calm',
  sentence: 'Leave it alone.',
  why: 'All holding.',
  hand: [],
  after: '',
  tells_from_m: null,
  caution: '',
  moves: [],
  read_again: [],
  event: null,
};

type EventGiven = {
  readonly id: number;
  readonly cause: Cause;
  readonly axis?: Axis;
  readonly severity: Severity;
  readonly shape?: Shape;
  readonly confidence: number;
  readonly since_m: number;
  readonly since_check: number;
  readonly roll: string;
  readonly moved_mm: number;
  readonly how_closed?: EventView['how_closed'];
  readonly seen?: boolean;
  readonly pair?: readonly [string, string];
  readonly shifts?: EventView['shifts_mm'];
  readonly p_out?: number;
  readonly reach?: EventView['reach'];
  readonly done?: readonly string[];
};

export const eventOf = (given: EventGiven): EventView => {
  const since = { check: given.since_check, web_m: given.since_m };
  const how_closed = given.how_closed ?? null;
  const { cause, severity, confidence, moved_mm } = given;
  const facts = {
    axis: given.axis ?? 'along',
    cause,
    severity,
    shape: given.shape ?? 'step',
    confidence,
    since,
    moved_mm,
  } as const;
  const worded = {
    ...facts,
    ...(given.pair === undefined ? {} : { pair: given.pair }),
    roll: given.roll,
    open: how_closed === null,
    how_closed,
  };
  return {
    ...facts,
    id: given.id,
    how_sure: howSure(confidence),
    open: how_closed === null,
    how_closed,
    seen: given.seen ?? true,
    sentence: eventSentence(worded, NAMES),
    short: eventShort(worded, NAMES),
    shifts_mm: given.shifts ?? [],
    out_before_next_check: given.p_out ?? 0.1,
    reach: given.reach ?? null,
    done: given.done ?? [],
  };
};

export const storyOf = (
  event: EventView,
  given: Partial<EventStory> & Pick<EventStory, 'found_at' | 'found_check' | 'found_web_m'>,
): EventStory => ({
  event,
  advice: [],
  advised: [],
  corrections: [],
  suspects: [],
  closed_web_m: null,
  ...given,
});

export const correctionOf = (
  given: Pick<DoneCorrection, 'at' | 'web_m' | 'station' | 'move_mm'> & Partial<DoneCorrection>,
): DoneCorrection => ({
  by: 'Ada K.',
  label: NAMES.labels[given.station] ?? given.station,
  axis: 'along',
  teeth: 0,
  divisions: Math.round(given.move_mm / 0.05),
  result: null,
  advised: true,
  make_ready: false,
  withdrawn: false,
  ...given,
});

const QUIET_STATIONS: readonly StationView[] = [
  stationOf('1', { plate: { grade: 'clean', last_wash_m: 12_400 } }),
  stationOf('2', {
    along: { last: 0.01 },
    across: { last: -0.01 },
    plate: { grade: 'clean', flaws: { flaws: 1, labels: 12 }, last_wash_m: 12_400 },
  }),
  stationOf('3', { along: { last: -0.02 }, across: { last: 0.01 }, plate: { grade: 'clean' } }),
  stationOf('4', { along: { last: 0.03 }, across: { last: 0 }, plate: { grade: 'clean' } }),
  stationOf('5', { along: { last: 0 }, across: { last: -0.02 }, plate: { grade: 'clean' } }),
  stationOf('6', {}),
  stationOf('D', { along: { last: -0.05 }, across: { last: 0.02 } }),
];

const BOARD: BoardView = {
  run: 'plum-0512',
  job: 'plum jam lid',
  press: 'Line B',
  units: { register: 'mm', length: 'm' },
  repeat_mm: 304.8,
  tooth_mm: 3.175,
  web_runs: 'left-to-right',
  phase: 'running',
  settle_until_m: null,
  position: { web_m: 21_450, counter_minus_web_m: 0, estimated: false, age_s: 20, speed_m_min: 118 },
  finished_roll: { running: '11', last_off: '10', since_m: 1_450 },
  next_check: { why: 'the finished roll comes off', in_m: 620, in_min: 5.3, overdue: false },
  pulled: [],
  next_check_id: 32,
  stations: QUIET_STATIONS,
  pairs: [{ stations: ['2', '3'], axis: 'along', tolerance_mm: 0.12, apart_mm: -0.03, out: false }],
  events: [],
  todo: [],
  rolls: [],
  instruction: CALM,
  hold: [],
  checks_made: 31,
  sensor: null,
  acts: [],
  operator: 'Ada K.',
  ok_to_run: { possible: false, why: 'given' },
  trial: null,
};

/** Nothing moved. */
export const quietShift: HandoverView = {
  board: BOARD,
  time_zone: 'Europe/Vienna',
  made_at: '2026-05-12T12:02:00Z',
  since_at: '2026-05-12T04:00:00Z',
  since_web_m: 8_200,
  made_m: 13_250,
  passed_by: 'J. Orchard',
  operators: ['Ada K.'],
  abnormal: [],
  holds: [],
  stories: [],
  corrections: [],
  log: [
    { at: '2026-05-12T07:10:00Z', by: 'Ada K.', web_m: 12_400, words: '1 opaque white and 2 plum washed' },
    { at: '2026-05-12T09:31:00Z', by: 'Ada K.', web_m: 16_000, words: 'new stock roll spliced in' },
  ],
  notes: [],
  checks: { made: 9, looked_only: 4, sensor: 0, withdrawn: 0 },
  summary: [],
  scatter_mm: { along: 0.031, across: 0.024 },
};

const heldRoll = (roll: string, from_m: number, to_m: number | null, labels: number, why: string): HeldRoll => ({
  roll,
  from_m,
  to_m,
  labels,
  why: [why],
  state: 'hold',
  at: null,
  by: null,
  by_second: null,
  note: null,
});
/** Repeat 304.8 mm, 3 around, 4 across: 1 300 m are 51 182 labels, 250 m are 9 843. */
const DRIFT_PARTS = [
  heldRoll('7', 12_900, 14_200, 51_182, 'movement 1'),
  heldRoll('8', 14_200, 14_450, 9_843, 'movement 1'),
];

const DRIFT = eventOf({
  id: 1,
  cause: { kind: 'station', station: '4' },
  severity: 'out',
  shape: 'ramp',
  confidence: 0.93,
  since_m: 11_300,
  since_check: 24,
  roll: '6',
  moved_mm: 0.17,
  how_closed: 'corrected',
  done: ['08:52 Ada K. retarded 4 grey 3 divisions (0.15 mm) at 14 060 m'],
});

const WEB = eventOf({
  id: 2,
  cause: { kind: 'web' },
  severity: 'note',
  confidence: 0.72,
  since_m: 16_000,
  since_check: 28,
  roll: '8',
  moved_mm: -0.011,
  how_closed: 'recovered',
  done: ['Nothing turned; unwind tension reset at 16 400 m'],
});

const REFERENCE = eventOf({
  id: 3,
  cause: { kind: 'reference' },
  severity: 'act',
  confidence: 0.84,
  since_m: 19_200,
  since_check: 30,
  roll: '10',
  moved_mm: -0.08,
  seen: false,
  p_out: 0.18,
  reach: { likely_m: 24_100, early_m: 22_300, late_m: null },
  shifts: ['2', '3', '4', '5', 'D'].map((station) => ({ station, mm: 0.08 })),
});

const DIE_SIDE = eventOf({
  id: 4,
  cause: { kind: 'station', station: 'D' },
  axis: 'across',
  severity: 'out',
  confidence: 0.55,
  since_m: 20_900,
  since_check: 31,
  roll: '11',
  moved_mm: 0.44,
  seen: false,
  shifts: [{ station: 'D', mm: 0.44 }],
});

const BUSY_CORRECTION = correctionOf({
  at: '2026-05-12T06:52:00Z',
  web_m: 14_060,
  station: '4',
  move_mm: -0.15,
  result: { type: 'correction', event: 1, took: true, station: '4', axis: 'along', asked_mm: -0.15, got_mm: -0.14 },
});

/** Three movements, a hold, a dirty plate, a withdrawn knob entry, an agreed exception. */
export const busyShift: HandoverView = {
  ...quietShift,
  board: {
    ...BOARD,
    phase: 'stopped',
    position: { ...BOARD.position, counter_minus_web_m: 1_200, speed_m_min: null },
    events: [REFERENCE, DRIFT, WEB],
    next_check: { why: 'a correction waits to be read', in_m: 60, in_min: null, overdue: false },
    todo: [],
    rolls: [],
    instruction: {
      ...CALM,
      urgency: 'act',
      sentence: 'ADVANCE 1 opaque white 0.08 mm (2 divisions less a little). Leave the others alone.',
      why: 'The reference moved; every other station reads off by the same.',
      hand: ['1 opaque white, along: knob CLOCKWISE 2 divisions.'],
      after: 'All others read about 0.00.',
      tells_from_m: 21_520,
      caution: 'Turn the knob only.',
      event: 3,
      read_again: ['2'],
    },
    stations: QUIET_STATIONS.map((station) =>
      station.is_reference || station.read === 'never'
        ? station
        : {
            ...station,
            worth_measuring: station.id === '4',
            axes: {
              ...station.axes,
              along: {
                ...axisOf(
                  { last: (station.axes.along.last_mm ?? 0) + 0.08, state: 'moved', p_out: 0.18 },
                  station.axes.along.tolerance_mm,
                ),
              },
            },
            plate:
              station.id === '3'
                ? {
                    grade: 'dirty',
                    flaws: { flaws: 9, labels: 12 },
                    flag: 'dirty',
                    why: 'graded dirty at check 30',
                    flaw: 'Fill-in at the leading edge, same place every repeat.',
                    cause: 'Once a repeat at the same place: it sits on the plate or its cylinder.',
                    last_wash_m: 9_000,
                    washed: { seen: true, words: 'Washed when building: it helped.' },
                  }
                : station.plate,
          },
    ),
    pairs: [{ stations: ['2', '3'], axis: 'along', tolerance_mm: 0.12, apart_mm: -0.14, out: true }],
  },
  operators: ['Ada K.', 'Ben T.'],
  abnormal: [
    'Tolerance of 3 leaf along changed from 0.10 to 0.15 mm at 10 000 m, agreed with the customer by J. Orchard.',
    'Knob of 4 grey has 0.40 mm travel left toward behind.',
  ],
  holds: [
    { from_m: 12_900, to_m: 14_450, rolls: ['7', '8'], labels: 61_024, why: ['movement 1'], parts: DRIFT_PARTS },
    {
      from_m: 20_300,
      to_m: null,
      rolls: ['11'],
      labels: 45_276,
      why: ['plate of 3 leaf dirty'],
      parts: [heldRoll('11', 20_300, null, 45_276, 'plate of 3 leaf dirty')],
    },
  ],
  stories: [
    storyOf(REFERENCE, {
      found_at: '2026-05-12T11:20:00Z',
      found_check: '31',
      found_web_m: 20_900,
      advised: ['Advance 1 opaque white 0.08 mm, leave the others alone.'],
    }),
    storyOf(DRIFT, {
      found_at: '2026-05-12T06:40:00Z',
      found_check: '26',
      found_web_m: 13_800,
      advised: ['Retard 4 grey 3 divisions (0.15 mm).'],
      corrections: BUSY_CORRECTION.result === null ? [] : [BUSY_CORRECTION.result],
      suspects: [
        {
          type: 'suspect',
          event: 1,
          from: { check: 25, web_m: 12_900, roll: '7' },
          to: { check: 27, web_m: 14_450, roll: '8' },
          rolls: ['7', '8'],
          labels: 61_024,
        },
      ],
      closed_web_m: 14_450,
    }),
    storyOf(WEB, { found_at: '2026-05-12T08:20:00Z', found_check: '29', found_web_m: 16_200, closed_web_m: 17_900 }),
  ],
  corrections: [
    BUSY_CORRECTION,
    correctionOf({
      at: '2026-05-12T07:15:00Z',
      by: 'Ben T.',
      web_m: 14_600,
      station: '2',
      move_mm: 0.05,
      advised: false,
      withdrawn: true,
    }),
    correctionOf({ at: '2026-05-12T11:40:00Z', web_m: 21_450, station: '1', move_mm: 0.1 }),
  ],
  notes: [
    {
      at: '2026-05-12T08:05:00Z',
      by: 'Ada K.',
      web_m: 15_800,
      words: 'Guard switch at the unwind sticks; fitter called, comes at 15:00.',
    },
    { at: '2026-05-12T11:45:00Z', by: 'Ben T.', web_m: null, words: 'Tension left at 62 after the splice.' },
  ],
  checks: { made: 9, looked_only: 2, sensor: 0, withdrawn: 1 },
  sign_off: {
    at: '2026-05-12T12:01:00Z',
    outgoing: 'Ada K.',
    incoming: 'Cleo M.',
    note: 'Roll 11 stands by the door.',
  },
};

/** A shift in which nobody recorded anything. */
export const nothingRecorded: HandoverView = {
  ...quietShift,
  board: {
    ...BOARD,
    phase: 'make-ready',
    position: { web_m: null, counter_minus_web_m: 0, estimated: false, age_s: null, speed_m_min: null },
    finished_roll: { running: null, last_off: null, since_m: null },
    next_check: null,
    next_check_id: 1,
    checks_made: 0,
    operator: null,
    pairs: [],
    stations: ['1', '2', '3', '4', '5', '6', 'D'].map((id) => stationOf(id, {})),
  },
  since_web_m: null,
  made_m: null,
  passed_by: null,
  operators: [],
  log: [],
  checks: { made: 0, looked_only: 0, sensor: 0, withdrawn: 0 },
  scatter_mm: { along: null, across: null },
};

/** All readings by a sensor, which was lost at the end. */
export const sensorOnly: HandoverView = {
  ...quietShift,
  board: {
    ...BOARD,
    sensor: {
      state: 'lost',
      words: 'the port went away at 13:40; nothing has been read since, it is tried again every few seconds.',
    },
    next_check: { why: 'the sensor is silent', in_m: null, in_min: null, overdue: true },
    position: { ...BOARD.position, estimated: true, age_s: 1_300 },
    stations: QUIET_STATIONS.map((station) => ({ ...station, plate: stationOf(station.id, {}).plate })),
  },
  operators: [],
  abnormal: ['The sensor has been lost since 13:40 (21 100 m): nobody is reading register.'],
  log: [
    { at: '2026-05-12T04:02:00Z', by: 'program', web_m: 8_230, words: 'sensor attached' },
    { at: '2026-05-12T11:40:00Z', by: 'program', web_m: 21_100, words: 'sensor lost: the port went away' },
  ],
  checks: { made: 1_322, looked_only: 0, sensor: 1_322, withdrawn: 0 },
};

/** Two movements open at once: the reference along, the die across. */
export const twoOpen: HandoverView = {
  ...quietShift,
  board: {
    ...BOARD,
    events: [DIE_SIDE, REFERENCE],
    todo: [],
    rolls: [],
    instruction: {
      ...CALM,
      urgency: 'out',
      sentence: 'Read the die again across before turning anything.',
      why: 'One reading says it is out; it may be a misreading.',
      read_again: ['D'],
      event: 4,
    },
    stations: QUIET_STATIONS.map((station) =>
      station.id === 'D'
        ? stationOf('D', { along: { last: 0.03 }, across: { last: 0.46, state: 'out' }, worth: true })
        : station,
    ),
    pulled: [{ check: 32, web_m: 21_400, at: '2026-05-12T11:58:00Z', roll: '11', shows_old_setting: [] }],
  },
  holds: [
    {
      from_m: 19_900,
      to_m: null,
      rolls: ['10', '11'],
      labels: 61_024,
      why: ['the cut of the die may have been out of tolerance toward the operator side'],
      parts: ['10', '11'].map((roll) =>
        heldRoll(
          roll,
          19_900,
          null,
          61_024,
          'the cut of the die may have been out of tolerance toward the operator side',
        ),
      ),
    },
  ],
  stories: [
    storyOf(REFERENCE, {
      found_at: '2026-05-12T11:20:00Z',
      found_check: '30',
      found_web_m: 19_900,
      advised: ['Wait: read once more.'],
    }),
    storyOf(DIE_SIDE, {
      found_at: '2026-05-12T11:41:00Z',
      found_check: '31',
      found_web_m: 20_900,
      advised: ['Read the die again across before turning anything.'],
      suspects: [
        {
          type: 'suspect',
          event: 4,
          from: { check: 30, web_m: 19_900, roll: '10' },
          to: null,
          rolls: ['10', '11'],
          labels: 61_024,
        },
      ],
    }),
  ],
};

/** A night shift over midnight in which the clocks go back (26 October 2025, Vienna: 03:00 becomes 02:00). */
export const acrossMidnight: HandoverView = {
  ...busyShift,
  board: { ...busyShift.board, run: 'plum-1025' },
  made_at: '2025-10-26T05:00:00Z',
  since_at: '2025-10-25T20:00:00Z',
  stories: busyShift.stories.map((story, index) => ({
    ...story,
    found_at: ['2025-10-26T01:30:00Z', '2025-10-25T21:40:00Z', '2025-10-26T00:30:00Z'][index] ?? null,
  })),
  corrections: busyShift.corrections.map((done, index) => ({
    ...done,
    at: ['2025-10-25T21:50:00Z', '2025-10-26T00:15:00Z', '2025-10-26T01:15:00Z'][index] ?? done.at,
  })),
  log: [{ at: '2025-10-25T22:00:00Z', by: 'Ada K.', web_m: 16_000, words: 'new stock roll spliced in' }],
  notes: [{ at: '2025-10-26T00:59:00Z', by: 'Ada K.', web_m: null, words: 'Quiet.' }],
  sign_off: { at: '2025-10-26T04:58:00Z', outgoing: 'Ada K.', incoming: null, note: null },
};

export const SHIFTS: Readonly<Record<string, HandoverView>> = {
  'quiet-shift': quietShift,
  'busy-shift': busyShift,
  'nothing-recorded': nothingRecorded,
  'sensor-only': sensorOnly,
  'two-open': twoOpen,
  'across-midnight': acrossMidnight,
};

/** The busy shift as a whole run: what only every check of a log can say. */
export const wholeShift: HandoverView = {
  ...busyShift,
  whole: {
    running_h: 7.5,
    warnings: { total: 3, each_hour: 0.4, most_in_10_min: 1 },
    out: { surely: { m: 650, min: 6 }, at_most: { m: 2_700, min: 24 } },
    rounds: {
      made: 31,
      late: 1,
      missed: 2,
      missed_at: [
        { web_m: 9_500, why: 'roll off' },
        { web_m: 17_000, why: 'metres' },
      ],
    },
    knobs: [
      {
        station: '4',
        label: '4 grey',
        axis: 'along',
        known: {
          moves: 4,
          gain: { plus: 0.8, minus: 0.82 },
          gain_sd: { plus: 0.05, minus: 0.05 },
          backlash_mm: 0.05,
          backlash_sd_mm: 0.01,
          sense: 1,
          sense_doubted: false,
          answers: true,
        },
        words: "4 grey along's knob gives 80 % of what its marks say; the advice allows for it.",
      },
    ],
    plate_lives: [{ station: '5', lives: [{ from_m: 9_000, to_m: 11_000 }] }],
  },
};
