import type { Check, CheckId, StationReading } from './record.js';
import type { SensorReading } from './sensor-reading.js';
import { addToTally, emptyTally, sayTally, type Tally, type TallySaid } from './sensor-tally.js';

/** How a sensor's repeats become checks. */
export type GatherConfig = {
  readonly by: 'count' | 'metres' | 'seconds';
  /** Repeats, metres or seconds in one check. */
  readonly size: number;
  /** Marks of a station the sensor reads in one repeat (labels around, when it reads every label); 1 = one. */
  readonly marks_per_repeat: number;
  /** Fewest good readings that make a value; below, the station was not read. */
  readonly min_good: number;
  /** A pause this long ends a window: the press stood, and what comes after is another state of it. */
  readonly pause_s: number;
  /** Stations of the job; readings of others are left out. null = all. */
  readonly stations: readonly string[] | null;
};

/** What came off the wire at one moment, with the web position the runtime gives it. */
export type GatherInput = {
  readonly readings: readonly SensorReading[];
  readonly at_ms: number;
  readonly web_m: number;
};

type StationTally = {
  readonly station: string;
  /** All repeats seen, good or bad; tells the place in the repeat too. */
  readonly seen: number;
  readonly bad: number;
  readonly along: Tally;
  readonly across: Tally;
  readonly strength: Sum;
  readonly width: Sum;
};

type Sum = { readonly n: number; readonly sum: number };

export type GatherState = {
  readonly from_web_m: number;
  readonly from_ms: number;
  readonly last_web_m: number;
  readonly last_ms: number;
  /** How many stations the last whole window had; 0 = not known yet. */
  readonly usual: number;
  /** In order of first appearance; empty = no window is open. */
  readonly stations: readonly StationTally[];
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

/** Checks of 50 repeats, one mark a repeat, unless the job says otherwise. */
export const DEFAULT_GATHER: GatherConfig = {
  by: 'count',
  size: 50,
  marks_per_repeat: 1,
  min_good: 5,
  pause_s: 30,
  stations: null,
};

/**
 * Gathers a sensor's repeats into checks: what the operator sees is one value a station with how many repeats stand behind it, not four hundred
 * numbers a second. A pause, a clock set back or a counter set back ends the window early. Streaming: one window is held, not the readings.
 */
export const sensorGather = {
  initial: (_config: GatherConfig): GatherState => nothing(0),

  step: (config: GatherConfig, state: GatherState, input: GatherInput): GatherStep => {
    const readings =
      config.stations === null ? input.readings : input.readings.filter((r) => config.stations?.includes(r.station));
    const open = state.stations.length > 0;
    const broken =
      open &&
      (input.at_ms < state.last_ms ||
        input.at_ms - state.last_ms > config.pause_s * 1000 ||
        input.web_m < state.last_web_m);
    if (!broken && readings.length === 0) return { state, gathered: NONE };
    if (broken || (open && overflows(config, state, readings))) {
      const fresh = nothing(state.stations.length);
      const next = readings.length === 0 ? fresh : add(config, fresh, readings, input);
      const both = next.stations.length > 0 && isFull(config, next);
      return both
        ? { state: nothing(next.stations.length), gathered: [close(config, state), close(config, next)] }
        : { state: next, gathered: [close(config, state)] };
    }
    const added = add(config, state, readings, input);
    return isFull(config, added)
      ? { state: nothing(added.stations.length), gathered: [close(config, added)] }
      : { state: added, gathered: NONE };
  },

  /** What is in the open window, when the sensor goes away, the press stops or the run ends; null = nothing. */
  flush: (config: GatherConfig, state: GatherState): Gathered | null =>
    state.stations.length === 0 ? null : close(config, state),
};

/** A gathered window as the record of a sensor check. Stations with too few good readings stand in it as not read; null when no station was read. */
export const checkOfGathered = (
  gathered: Gathered,
  named: { readonly check: CheckId; readonly roll: string | null; readonly place: string | null },
): Check | null =>
  gathered.stations.every((s) => s.along.mean === null && s.across.mean === null)
    ? null
    : {
        type: 'check',
        check: named.check,
        web_m: gathered.web_m,
        roll: named.roll,
        pulled_at: new Date(gathered.at_ms).toISOString(),
        source: 'sensor',
        place: named.place,
        readings: gathered.stations.map(readingOf),
      };

const NONE: readonly Gathered[] = [];

const nothing = (usual: number): GatherState => ({
  from_web_m: 0,
  from_ms: 0,
  last_web_m: 0,
  last_ms: 0,
  usual,
  stations: [],
});

const add = (
  config: GatherConfig,
  state: GatherState,
  readings: readonly SensorReading[],
  { at_ms, web_m }: GatherInput,
): GatherState => {
  const opens = state.stations.length === 0;
  const stations = [...state.stations];
  for (const reading of readings) {
    let i = placeOf(stations, reading.station);
    if (i < 0) i = stations.push(emptyStation(reading.station, config.marks_per_repeat)) - 1;
    const before = stations[i];
    if (before === undefined) continue;
    const after = addReading(before, reading, config.marks_per_repeat);
    stations[i] = after;
  }
  return {
    from_web_m: opens ? web_m : state.from_web_m,
    from_ms: opens ? at_ms : state.from_ms,
    last_web_m: web_m,
    last_ms: at_ms,
    usual: state.usual,
    stations,
  };
};

const NO_SUM: Sum = { n: 0, sum: 0 };
const plus = (so: Sum, value: number | null): Sum => (value === null ? so : { n: so.n + 1, sum: so.sum + value });
const meanOf = ({ n, sum }: Sum): number | null => (n === 0 ? null : sum / n);

const emptyStation = (station: string, places: number): StationTally => ({
  station,
  seen: 0,
  bad: 0,
  along: emptyTally(places),
  across: emptyTally(places),
  strength: NO_SUM,
  width: NO_SUM,
});

const addReading = (tally: StationTally, reading: SensorReading, places: number): StationTally => {
  const place = tally.seen % places;
  const bad = reading.along_mm === null && reading.across_mm === null;
  return {
    station: tally.station,
    seen: tally.seen + 1,
    bad: bad ? tally.bad + 1 : tally.bad,
    along: reading.along_mm === null ? tally.along : addToTally(tally.along, reading.along_mm, place),
    across: reading.across_mm === null ? tally.across : addToTally(tally.across, reading.across_mm, place),
    strength: plus(tally.strength, reading.strength),
    width: plus(tally.width, reading.width_mm),
  };
};

const perWindow = (config: GatherConfig): number => config.size * config.marks_per_repeat;

/** By count: one of the stations already has its repeats, so the window is over even if others were seen less often. */
const overflows = (config: GatherConfig, state: GatherState, readings: readonly SensorReading[]): boolean =>
  config.by === 'count' &&
  readings.some((r) => (state.stations[placeOf(state.stations, r.station)]?.seen ?? 0) >= perWindow(config));

const placeOf = (stations: readonly StationTally[], id: string): number => {
  for (let i = 0; i < stations.length; i += 1) if (stations[i]?.station === id) return i;
  return -1;
};

const isFull = (config: GatherConfig, state: GatherState): boolean => {
  switch (config.by) {
    case 'count':
      return (
        state.usual > 0 &&
        state.stations.length >= state.usual &&
        state.stations.every((s) => s.seen >= perWindow(config))
      );
    case 'metres':
      return state.last_web_m - state.from_web_m >= config.size;
    case 'seconds':
      return state.last_ms - state.from_ms >= config.size * 1000;
  }
};

const close = (config: GatherConfig, state: GatherState): Gathered => ({
  from_web_m: state.from_web_m,
  web_m: state.last_web_m,
  from_ms: state.from_ms,
  at_ms: state.last_ms,
  stations: state.stations.map((s) => ({
    station: s.station,
    seen: s.seen,
    good: s.seen - s.bad,
    share_bad: s.bad / s.seen,
    along: enough(s.along, config.min_good),
    across: enough(s.across, config.min_good),
    strength: meanOf(s.strength),
    width_mm: meanOf(s.width),
  })),
});

const enough = (tally: Tally, least: number): TallySaid =>
  tally.n >= least ? sayTally(tally) : { ...sayTally(emptyTally(1)), n: tally.n };

const readingOf = (s: GatheredStation): StationReading => ({
  station: s.station,
  along_mm: rounded(s.along.mean),
  across_mm: rounded(s.across.mean),
  look: null,
  edge: null,
  plate: null,
  flaws: null,
  labels: null,
  n: s.good,
  spread_mm: { along: rounded(s.along.spread), across: rounded(s.across.spread) },
  strength: s.strength === null ? null : Math.round(s.strength * 1000) / 1000,
  ...(s.seen > s.good ? { note: `${s.seen - s.good} of ${s.seen} repeats without a usable mark` } : {}),
});

/** A hundredth of a micrometre is beyond any sensor; more digits only fill the log. */
const rounded = (value: number | null): number | null => (value === null ? null : Math.round(value * 1e5) / 1e5 + 0);
