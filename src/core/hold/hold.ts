import type { Axis } from '../axis.js';
import type { Place, SuspectFinding } from '../finding.js';
import type { CheckId, PlateGrade } from '../record.js';
import { goodMarks, type HoldReading, type Limits, type OutMark } from './good-marks.js';
import { type LabelCount, labelsIn } from './labels-in.js';
import { type RollEnd, rollFinished, rollSeen, rollsWithin } from './roll-ends.js';

/** Register on an axis, or the plate's print. */
export type HoldAxis = Axis | 'plate';

export type HoldConfig = Limits & { readonly count: LabelCount };

/** One check as the hold sees it; `place` carries the counter at the sample place. */
export type HoldCheck = {
  readonly place: Place;
  /** Reads other labels of the sample of the check before. */
  readonly same_sample?: boolean;
  readonly readings: readonly (HoldReading & {
    readonly plate: PlateGrade | null;
    /** Web position at which the station printed this sample. */
    readonly printed_m: number;
    /** Axes on which a number was ever read of it; a look that is off without a number may mean any of them. */
    readonly read_on?: readonly Axis[];
  })[];
  /** Web position at which the reference printed this sample. */
  readonly reference_printed_m: number;
};

/** A reading that was outside; `mm` null = seen off without a number, or a dirty plate. */
export type OutReading = {
  readonly check: CheckId | null;
  readonly web_m: number;
  readonly mm: number | null;
  readonly limit_mm: number | null;
  readonly with: string | null;
};

/** One stretch of product to keep back, for one station on one axis (or its plate); `to` null = it goes on. */
export type Hold = {
  readonly station: string;
  readonly axis: HoldAxis;
  /** The movement it is told under, by key; null = a plate, or no movement was open there. */
  readonly event: number | null;
  /** Last good check, excluded. */
  readonly from: Place;
  /** First good check after, included. */
  readonly to: Place | null;
  /** What was outside, oldest first; of many the first, the worst and the latest. */
  readonly out: readonly OutReading[];
  /** The span it is told in, by key. */
  readonly span: string;
};

/** Holds of one movement that were open together, as they are told; `station`: whose hold came first, said where no movement is named. */
export type ToldSpan = {
  readonly key: string;
  readonly event: number | null;
  readonly station: string;
  readonly from: Place;
  readonly to: Place | null;
  readonly rolls: readonly string[];
  readonly labels: number;
};

/** Plain data, carried by the run. Keys are "station|axis". */
export type HoldState = {
  readonly start: Place;
  readonly last_good: Readonly<Record<string, Place>>;
  /** The same before the newest sample: where one label of a sample is good and another is out, the sample is not its own last good check. */
  readonly good_before: Readonly<Record<string, Place>>;
  readonly corrected_m: Readonly<Record<string, number>>;
  readonly pairs_out: readonly string[];
  readonly rolls: readonly RollEnd[];
  readonly open: readonly Hold[];
  /** Those that ended, oldest first. */
  readonly ended: readonly Hold[];
  readonly spans: readonly ToldSpan[];
};

export type Suspect = Omit<SuspectFinding, 'type'>;

/** Which movement a hold is told under; null = none was open there. */
export type EventFor = (station: string, axis: Axis) => number | null;

export const beginHold = (): HoldState => ({
  start: { check: null, web_m: 0, roll: null },
  last_good: {},
  good_before: {},
  corrected_m: {},
  pairs_out: [],
  rolls: [],
  open: [],
  ended: [],
  spans: [],
});

/** OK to run: a full check was passed here, so everything counts as good up to this place. */
export const passHold = (state: HoldState, place: Place): HoldState => ({
  ...state,
  start: place,
  last_good: {},
  good_before: {},
});

/** A finished roll came off. */
export const holdRollOff = (state: HoldState, roll: string, web_m: number): HoldState => ({
  ...state,
  rolls: rollFinished(state.rolls, roll, web_m),
});

/** A knob was turned or a plate washed here: only a sample printed from here on tells that it is good again. */
export const holdCorrected = (state: HoldState, station: string, axis: HoldAxis, web_m: number): HoldState => {
  const key = keyOf(station, axis);
  return { ...state, corrected_m: { ...state.corrected_m, [key]: Math.max(web_m, state.corrected_m[key] ?? web_m) } };
};

/** Every place that the holds remember, told anew. */
export const movedHolds = (state: HoldState, from: (m: number) => number): HoldState => {
  const moved = (place: Place): Place => ({ ...place, web_m: from(place.web_m) });
  const each = <T>(of: Readonly<Record<string, T>>, change: (value: T) => T): Readonly<Record<string, T>> =>
    Object.fromEntries(Object.entries(of).map(([key, value]) => [key, change(value)]));
  const hold = (one: Hold): Hold => ({ ...one, from: moved(one.from), to: one.to === null ? null : moved(one.to) });
  return {
    ...state,
    start: moved(state.start),
    last_good: each(state.last_good, moved),
    good_before: each(state.good_before, moved),
    corrected_m: each(state.corrected_m, from),
    open: state.open.map(hold),
    ended: state.ended.map(hold),
    rolls: state.rolls.map((end) => ({ ...end, end_m: from(end.end_m) })),
  };
};

/** Closed holds that are remembered; two that touch become one before any is let go. */
const KEPT = 1000;

/**
 * Product to hold, one check further, station by station and axis by axis. A hold opens when a reading, a look or a pair is outside: from
 * that station and axis's last good check (excluded). It ends at the first good check of that station and axis (included) that was printed
 * after the last correction of its knob, the reference's or its pair's; where nothing was turned, at the first good check: a second label
 * that reads inside ends what a misread began. A dirty plate: from its last clean check to the first clean one after the wash.
 * A station not measured settles nothing. Which movement it is told under changes nothing of all this.
 * Source: CONTRACT, good check and hold; ISO 9001:2015, 8.7.1 (from memory): nonconforming output is identified and kept from use.
 */
export const stepHold = (state: HoldState, config: HoldConfig, check: HoldCheck, eventFor: EventFor): HoldState => {
  const { marks, pairs_out, outs } = goodMarks(config, check.readings, state.pairs_out);
  const clean = check.readings.flatMap(({ station, plate }) => (plate === 'clean' ? [keyOf(station, 'plate')] : []));
  const good = new Set([...marks.flatMap((m) => (m.good ? [keyOf(m.station, m.axis)] : [])), ...clean]);
  const rolls = rollSeen(state.rolls, check.place.roll, check.place.web_m);
  const good_before = check.same_sample === true ? state.good_before : state.last_good;
  const opened = withOut(
    { ...state, good_before },
    check,
    [...outs, ...lookedOff(check.readings, config.reference)],
    eventFor,
  );
  const over = (hold: Hold): boolean =>
    good.has(keyOf(hold.station, hold.axis)) && printedSince(state, config, check, hold);
  const open = opened.filter((hold) => !over(hold));
  const ended = opened.flatMap((hold) => (over(hold) ? [{ ...hold, to: check.place }] : []));
  const last_good = { ...state.last_good };
  for (const key of good) last_good[key] = check.place;
  const next = { ...state, last_good, good_before, pairs_out, rolls, open, ended: kept([...state.ended, ...ended]) };
  return { ...next, spans: toldSpans(state, next, check.place.web_m, config.count) };
};

/** Holds with what is outside on this check: an open one gets the reading, a new one is opened. Of one movement they are told together. */
const withOut = (state: HoldState, check: HoldCheck, outs: readonly OutMark[], eventFor: EventFor): readonly Hold[] => {
  const open = [...state.open];
  const found = [
    ...outs.map(({ station, axis, ...out }) => ({
      station,
      axis: axis as HoldAxis,
      // A pair apart is told under whatever moved one of the two.
      event: eventFor(station, axis) ?? (out.with === null ? null : eventFor(out.with, axis)),
      ...out,
    })),
    ...check.readings.flatMap(({ station, plate }) =>
      plate === 'dirty' ? [{ station, axis: 'plate' as const, event: null, mm: null, limit_mm: null, with: null }] : [],
    ),
  ];
  for (const { station, axis, event, ...out } of found) {
    const reading: OutReading = { check: check.place.check, web_m: check.place.web_m, ...out };
    const at = open.findIndex((hold) => hold.station === station && hold.axis === axis);
    const old = open[at];
    if (old !== undefined) open[at] = { ...old, out: keptOut([...old.out, reading]) };
    else {
      const together = event === null ? undefined : open.find((hold) => hold.event === event);
      const span = together?.span ?? `${keyOf(station, axis)}|${check.place.check ?? check.place.web_m}`;
      const from = state.good_before[keyOf(station, axis)] ?? state.start;
      open.push({ station, axis, event, from, to: null, out: [reading], span });
    }
  }
  return open;
};

/** Seen off without a number: which axis is not said, so every axis on which the station is read is held; one never read, along. */
const lookedOff = (readings: HoldCheck['readings'], reference: string): readonly OutMark[] =>
  readings.flatMap((r): OutMark[] => {
    if (r.look !== 'off' || r.along_mm !== null || r.across_mm !== null || r.station === reference) return [];
    const axes: readonly Axis[] = r.read_on === undefined || r.read_on.length === 0 ? ['along'] : r.read_on;
    return axes.map((axis) => ({ station: r.station, axis, mm: null, limit_mm: null, with: null }));
  });

const MOST_OUT = 8;

/** Of many the first, the worst and the latest stay. */
const keptOut = (out: readonly OutReading[]): readonly OutReading[] => {
  if (out.length <= MOST_OUT) return out;
  const size = ({ mm }: OutReading): number => Math.abs(mm ?? 0);
  const between = out.slice(1, -1);
  const least = between.reduce((a, b) => (size(b) < size(a) ? b : a));
  return out.filter((one) => one !== least);
};

export const keyOf = (station: string, axis: HoldAxis): string => `${station}|${axis}`;

/** Whether this sample was printed after the last correction that bears on the hold. */
const printedSince = (state: HoldState, config: HoldConfig, check: HoldCheck, hold: Hold): boolean => {
  const own = [
    hold.station,
    ...hold.out.flatMap((o) => (o.with === null || o.with === config.reference ? [] : [o.with])),
  ];
  const since = (station: string): number => state.corrected_m[keyOf(station, hold.axis)] ?? Number.NEGATIVE_INFINITY;
  const printed = check.readings
    .filter((reading) => own.includes(reading.station))
    .every((reading) => reading.printed_m >= since(reading.station));
  return printed && (hold.axis === 'plate' || check.reference_printed_m >= since(config.reference));
};

/** Bounded: the two oldest of one station and axis become one that covers both, so that more is held, never less. */
const kept = (ended: readonly Hold[]): readonly Hold[] => {
  if (ended.length <= KEPT) return ended;
  const at = ended.findIndex((hold, i) => ended.findIndex((next, j) => j > i && sameKey(hold, next)) > i);
  const first = ended[at];
  const next = ended.findIndex((hold, j) => j > at && first !== undefined && sameKey(first, hold));
  const second = ended[next];
  if (first === undefined || second === undefined) return ended;
  const both: Hold = { ...second, from: first.from, out: keptOut([...first.out, ...second.out].slice(-MOST_OUT)) };
  return ended.with(next, both).toSpliced(at, 1);
};

const sameKey = (a: Hold, b: Hold): boolean => a.station === b.station && a.axis === b.axis;

/** Spans as they are to be told: a new one when its first hold opens, its end when its last hold has ended. */
const toldSpans = (was: HoldState, now: HoldState, now_m: number, count: LabelCount): readonly ToldSpan[] => {
  if (was.open.length === 0 && now.open.length === 0) return was.spans;
  const touched = [...new Set([...was.open, ...now.open].map(({ span }) => span))];
  const changed = touched.flatMap((key): ToldSpan[] => {
    const holds = [...now.ended, ...now.open].filter((hold) => hold.span === key);
    const old = was.spans.find((span) => span.key === key);
    const goes_on = holds.some((hold) => hold.to === null);
    const first = holds[0];
    if (first === undefined || (old !== undefined && goes_on)) return [];
    const from = holds.map((hold) => hold.from).reduce((a, b) => (b.web_m < a.web_m ? b : a));
    const to = goes_on
      ? null
      : holds.map((hold) => hold.to).reduce((a, b) => ((b?.web_m ?? 0) > (a?.web_m ?? 0) ? b : a));
    const end_m = to?.web_m ?? now_m;
    return [
      {
        key,
        event: first.event,
        station: first.station,
        from,
        to,
        rolls: rollsWithin(now.rolls, from.web_m, end_m),
        labels: labelsIn(end_m - from.web_m, count),
      },
    ];
  });
  if (changed.length === 0) return was.spans;
  return [...was.spans.filter((span) => !changed.some(({ key }) => key === span.key)), ...changed].slice(-KEPT);
};
