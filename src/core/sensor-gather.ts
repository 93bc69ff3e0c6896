import { type Job, SENSOR_CHECKS, type SensorChecks } from './job.js';
import type { SensorReading } from './sensor-reading.js';
import { addToTally, NOTHING_SAID, sayTally, type TallyAt, type TallySaid, tallyLength } from './sensor-tally.js';

/** How a sensor's repeats become checks: as the job says, and what the port must take care of. */
export type GatherConfig = SensorChecks & {
  /** A pause this long ends a window: the press stood, and what comes after is another state of it. */
  readonly pause_s: number;
  /** Stations of the job; readings of others are left out. null = all. */
  readonly stations: readonly string[] | null;
  /** Printing repeat, m: so much web a repeat stands for at least, also where the counter does not move because no speed is known. */
  readonly repeat_m: number;
};

/** What came off the wire at one moment, with the web position the runtime gives it. */
export type GatherInput = {
  readonly readings: readonly SensorReading[];
  readonly at_ms: number;
  readonly web_m: number;
  /** Web positions that no window may span: where a knob was turned, and where what was printed then came under the sensor. */
  readonly breaks_m?: readonly number[];
};

export type GatherState = {
  /** Where and when the window began; shared by all its repeats. */
  readonly from: { readonly web_m: number; readonly ms: number };
  readonly last_web_m: number;
  readonly last_ms: number;
  /** How many stations the last whole window had; 0 = not known yet. */
  readonly usual: number;
  /** Stations in order of first appearance; empty = no window is open. */
  readonly ids: readonly string[];
  /** Of each: repeats seen, bad ones, how many strengths and their sum, how many widths and their sum, then the tallies of along and across. */
  readonly sums: readonly (readonly number[])[];
};

/** What was gathered of one station: more than a check carries. */
export type GatheredStation = {
  readonly station: string;
  readonly seen: number;
  readonly good: number;
  /** Share of repeats without a usable mark, 0 to 1. */
  readonly share_bad: number;
  readonly along: TallySaid;
  readonly across: TallySaid;
  readonly strength: number | null;
  readonly width_mm: number | null;
};

/** One window of repeats; `web_m` is where it ended, so positions in a log never go back. */
export type Gathered = {
  readonly from_web_m: number;
  readonly web_m: number;
  readonly from_ms: number;
  readonly at_ms: number;
  readonly stations: readonly GatheredStation[];
};

export type GatherStep = { readonly state: GatherState; readonly gathered: readonly Gathered[] };

/** As the job says, or checks of 50 repeats; a pause of half a minute ends a window (common practice, no source). */
export const gatherConfig = (
  job: Pick<Job, 'sensor_checks'>,
  stations: readonly string[] | null,
  repeat_m = 0,
): GatherConfig => ({
  ...(job.sensor_checks ?? SENSOR_CHECKS),
  pause_s: 30,
  stations,
  repeat_m,
});

/**
 * Gathers a sensor's repeats into checks: what the operator sees is one value a station with how many repeats stand behind it, not four hundred
 * numbers a second. A pause, a clock set back or a counter set back ends the window early. Streaming: one window is held, not the readings.
 */
export const sensorGather = {
  initial: (_config: GatherConfig): GatherState => nothing(0),

  step: (config: GatherConfig, state: GatherState, input: GatherInput): GatherStep => {
    const readings = ofStations(input.readings, config.stations);
    const open = state.ids.length > 0;
    const broken =
      open &&
      (input.at_ms < state.last_ms ||
        input.at_ms - state.last_ms > config.pause_s * 1000 ||
        input.web_m < state.last_web_m ||
        spans(state, input));
    if (!broken && readings.length === 0) return { state, gathered: NONE };
    if (broken || (open && overflows(config, state, readings))) {
      const fresh = nothing(state.ids.length);
      const next = readings.length === 0 ? fresh : add(config, fresh, readings, input);
      const both = next.ids.length > 0 && isFull(config, next);
      return both
        ? { state: nothing(next.ids.length), gathered: [close(config, state), close(config, next)] }
        : { state: next, gathered: [close(config, state)] };
    }
    const added = add(config, state, readings, input);
    return isFull(config, added)
      ? { state: nothing(added.ids.length), gathered: [close(config, added)] }
      : { state: added, gathered: NONE };
  },

  /** What is in the open window, when the sensor goes away, the press stops or the run ends; null = nothing. */
  flush: (config: GatherConfig, state: GatherState): Gathered | null =>
    state.ids.length === 0 ? null : close(config, state),
};

const NONE: readonly Gathered[] = [];

/** Readings of the stations wanted; most often all are, and nothing is copied. */
const ofStations = (readings: readonly SensorReading[], wanted: readonly string[] | null): readonly SensorReading[] => {
  if (wanted === null) return readings;
  for (let i = 0; i < readings.length; i += 1)
    if (!wanted.includes(readings[i]?.station ?? '')) return readings.filter((r) => wanted.includes(r.station));
  return readings;
};

const NOWHERE: GatherState['from'] = { web_m: 0, ms: 0 };

const nothing = (usual: number): GatherState => ({
  from: NOWHERE,
  last_web_m: 0,
  last_ms: 0,
  usual,
  ids: [],
  sums: [],
});

const add = (
  config: GatherConfig,
  state: GatherState,
  readings: readonly SensorReading[],
  { at_ms, web_m }: GatherInput,
): GatherState => {
  const opens = state.ids.length === 0;
  let ids = state.ids;
  const sums = state.sums.slice();
  for (let k = 0; k < readings.length; k += 1) {
    const reading = readings[k];
    if (reading === undefined) continue;
    const i = placeOf(ids, reading.station);
    const before = sums[i];
    const station = before === undefined ? emptySums(config.marks_per_repeat) : before.slice();
    addReading(station, reading, config.marks_per_repeat);
    sums[i] = station;
    // The list of names is shared from one repeat to the next: it grows a few times in a window.
    if (i === ids.length) ids = [...ids, reading.station];
  }
  return {
    from: opens ? { web_m, ms: at_ms } : state.from,
    last_web_m: web_m,
    last_ms: at_ms,
    usual: state.usual,
    ids,
    sums,
  };
};

const SEEN = 0;
const BAD = 1;
const STRENGTHS = 2;
const WIDTHS = 4;
const TALLIES = 6;

const alongAt = (places: number): TallyAt => ({ base: TALLIES, places });
const acrossAt = (places: number): TallyAt => ({ base: TALLIES + tallyLength(places), places });
/** Grown one by one: a list made at its full length is slower to read for ever after. */
const emptySums = (places: number): number[] => {
  const sums: number[] = [];
  for (let i = TALLIES + 2 * tallyLength(places); i > 0; i -= 1) sums.push(0);
  return sums;
};
const up = (sums: number[], i: number, by: number): void => {
  sums[i] = (sums[i] ?? 0) + by;
};

/** Adds a reading to sums that were just copied. */
const addReading = (sums: number[], reading: SensorReading, places: number): void => {
  const place = (sums[SEEN] ?? 0) % places;
  up(sums, SEEN, 1);
  if (reading.along_mm === null && reading.across_mm === null) up(sums, BAD, 1);
  if (reading.along_mm !== null) addToTally(sums, alongAt(places), reading.along_mm, place);
  if (reading.across_mm !== null) addToTally(sums, acrossAt(places), reading.across_mm, place);
  if (reading.strength !== null) {
    up(sums, STRENGTHS, 1);
    up(sums, STRENGTHS + 1, reading.strength);
  }
  if (reading.width_mm !== null) {
    up(sums, WIDTHS, 1);
    up(sums, WIDTHS + 1, reading.width_mm);
  }
};

const spans = (state: GatherState, { web_m, breaks_m }: GatherInput): boolean =>
  breaks_m?.some((b) => state.last_web_m < b && web_m >= b) ?? false;

const perWindow = (config: GatherConfig): number => config.size * config.marks_per_repeat;

/** By repeats: one of the stations already has its repeats, so the window is over even if others were seen less often. */
const overflows = (config: GatherConfig, state: GatherState, readings: readonly SensorReading[]): boolean => {
  if (config.by !== 'repeats') return false;
  for (let k = 0; k < readings.length; k += 1) {
    const i = placeOf(state.ids, readings[k]?.station ?? '');
    if ((state.sums[i]?.[SEEN] ?? 0) >= perWindow(config)) return true;
  }
  return false;
};

const mostRepeats = (config: GatherConfig, { sums }: GatherState): number =>
  sums.reduce((most, of) => Math.max(most, of[SEEN] ?? 0), 0) / config.marks_per_repeat;

/** Where a station stands among those seen; the place behind them when it is new. */
const placeOf = (ids: readonly string[], id: string): number => {
  for (let i = 0; i < ids.length; i += 1) if (ids[i] === id) return i;
  return ids.length;
};

const isFull = (config: GatherConfig, state: GatherState): boolean => {
  switch (config.by) {
    case 'repeats':
      return (
        state.usual > 0 &&
        state.ids.length >= state.usual &&
        state.sums.every((of) => (of[SEEN] ?? 0) >= perWindow(config))
      );
    case 'metres':
      return (
        state.last_web_m - state.from.web_m >= config.size ||
        mostRepeats(config, state) * config.repeat_m >= config.size
      );
    case 'seconds':
      return state.last_ms - state.from.ms >= config.size * 1000;
  }
};

const close = (config: GatherConfig, state: GatherState): Gathered => ({
  from_web_m: state.from.web_m,
  web_m: state.last_web_m,
  from_ms: state.from.ms,
  at_ms: state.last_ms,
  stations: state.ids.map((station, i) => {
    const sums = state.sums[i] ?? [];
    const [seen = 0, bad = 0, strengths = 0, strength = 0, widths = 0, width = 0] = sums;
    return {
      station,
      seen,
      good: seen - bad,
      share_bad: bad / seen,
      along: enough(sayTally(sums, alongAt(config.marks_per_repeat)), config.fewest_good),
      across: enough(sayTally(sums, acrossAt(config.marks_per_repeat)), config.fewest_good),
      strength: strengths === 0 ? null : strength / strengths,
      width_mm: widths === 0 ? null : width / widths,
    };
  }),
});

const enough = (said: TallySaid, least: number): TallySaid => (said.n >= least ? said : { ...NOTHING_SAID, n: said.n });
