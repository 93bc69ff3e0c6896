import { AXES, type Axis } from '../axis.js';
import type { Place, SuspectFinding } from '../finding.js';
import type { PlateGrade } from '../record.js';
import { goodMarks, type HoldReading, type Limits } from './good-marks.js';
import { type LabelCount, labelsIn } from './labels-in.js';
import { type RollEnd, rollFinished, rollSeen, rollsWithin } from './roll-ends.js';

/** Register on an axis, or the plate's print. */
export type HoldAxis = Axis | 'plate';

export type HoldConfig = Limits & { readonly count: LabelCount };

/** One check as the hold sees it; `place` carries the counter at the sample place. */
export type HoldCheck = {
  readonly place: Place;
  readonly readings: readonly (HoldReading & {
    readonly plate: PlateGrade | null;
    /** Web position at which the station printed this sample. */
    readonly printed_m: number;
  })[];
  /** Web position at which the reference printed this sample. */
  readonly reference_printed_m: number;
  /** What is outside tolerance on this check, by the event it belongs to; both stations of a pair that is out. */
  readonly out: readonly { readonly event: number; readonly station: string; readonly axis: Axis }[];
  /** Events still open for which nothing was turned yet: a good reading does not end their stretch, a correction or their closing does. */
  readonly unfinished: readonly number[];
};

/** A stretch that is still open; `waiting`: what must be good again before it ends. */
export type OpenSpan = {
  readonly event: number | null;
  readonly station: string | null;
  readonly from: Place;
  readonly waiting: readonly string[];
};

/** Plain data, carried by the run. Keys are "station|axis". */
export type HoldState = {
  readonly start: Place;
  readonly last_good: Readonly<Record<string, Place>>;
  readonly corrected_m: Readonly<Record<string, number>>;
  readonly pairs_out: readonly string[];
  readonly rolls: readonly RollEnd[];
  readonly spans: readonly OpenSpan[];
};

export type Suspect = Omit<SuspectFinding, 'type'>;

export const beginHold = (): HoldState => ({
  start: { check: null, web_m: 0, roll: null },
  last_good: {},
  corrected_m: {},
  pairs_out: [],
  rolls: [],
  spans: [],
});

/** OK to run: a full check was passed here, so everything counts as good up to this place. */
export const passHold = (state: HoldState, place: Place): HoldState => ({ ...state, start: place, last_good: {} });

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

/**
 * Product to hold, one check further: the stretch from the last good check (excluded) to the first good one after the correction
 * (included), by station and axis, one stretch an event; a dirty plate from its last clean check to the first clean one after the
 * wash. Says a stretch when it opens (`to` null, counted to this check) and when its end is known. Only what is outside
 * tolerance (or dirty) opens one. A station not measured on this check settles nothing.
 * Source: CONTRACT, good check and hold; TRADE section 6.
 */
export const stepHold = (
  state: HoldState,
  config: HoldConfig,
  check: HoldCheck,
): { readonly state: HoldState; readonly suspects: readonly Suspect[] } => {
  const { marks, pairs_out } = goodMarks(config, check.readings, state.pairs_out);
  const clean = check.readings.flatMap(({ station, plate }) => (plate === 'clean' ? [keyOf(station, 'plate')] : []));
  const good = [...marks.flatMap((mark) => (mark.good ? [keyOf(mark.station, mark.axis)] : [])), ...clean];
  const rolls = rollSeen(state.rolls, check.place.roll, check.place.web_m);
  const opened = openSpans(state, config, check);
  const suspects: Suspect[] = [];
  const say = (span: OpenSpan, to: Place | null): void => {
    suspects.push(suspectOf(span, to, check.place.web_m, rolls, config.count));
  };
  const spans = opened.flatMap((span) => {
    const unfinished = span.event !== null && check.unfinished.includes(span.event);
    const waiting = span.waiting.filter(
      (key) => unfinished || !(good.includes(key) && printedSince(state, config, check, key)),
    );
    if (waiting.length === 0) say(span, check.place);
    else if (!state.spans.some((old) => sameSpan(old, span))) say(span, null);
    return waiting.length === 0 ? [] : [{ ...span, waiting }];
  });
  const last_good = { ...state.last_good };
  for (const key of good) last_good[key] = check.place;
  return { state: { ...state, last_good, pairs_out, rolls, spans }, suspects };
};

const keyOf = (station: string, axis: HoldAxis): string => `${station}|${axis}`;

const sameSpan = (a: OpenSpan, b: OpenSpan): boolean => a.event === b.event && a.station === b.station;

const openSpans = (state: HoldState, config: HoldConfig, check: HoldCheck): readonly OpenSpan[] => {
  const bad: OpenSpan[] = [
    ...check.out.map(({ event, station, axis }) => spanFor(state, event, null, keyOf(station, axis))),
    ...check.readings.flatMap(({ station, plate }) =>
      plate === 'dirty' ? [spanFor(state, null, station, keyOf(station, 'plate'))] : [],
    ),
  ].filter((span) => span.waiting[0] !== undefined && !isReferenceRegister(config, span.waiting[0]));
  const spans = [...state.spans];
  for (const next of bad) {
    const at = spans.findIndex((span) => sameSpan(span, next));
    const old = spans[at];
    if (old === undefined) spans.push(next);
    else {
      const from = old.from.web_m <= next.from.web_m ? old.from : next.from;
      spans[at] = { ...old, from, waiting: [...new Set([...old.waiting, ...next.waiting])] };
    }
  }
  return spans;
};

const spanFor = (state: HoldState, event: number | null, station: string | null, key: string): OpenSpan => ({
  event,
  station,
  from: state.last_good[key] ?? state.start,
  waiting: [key],
});

/** The reference is never measured against itself, so nothing waits for it. */
const isReferenceRegister = (config: HoldConfig, key: string): boolean =>
  AXES.some((axis) => key === keyOf(config.reference, axis));

/** Whether this sample was printed after the last correction that bears on the key. */
const printedSince = (state: HoldState, config: HoldConfig, check: HoldCheck, key: string): boolean => {
  const [station, axis] = [key.slice(0, key.lastIndexOf('|')), key.slice(key.lastIndexOf('|') + 1)];
  const own = check.readings.filter((reading) => reading.station === station).map((reading) => reading.printed_m);
  const since = state.corrected_m[key] ?? Number.NEGATIVE_INFINITY;
  const reference = axis === 'plate' ? undefined : state.corrected_m[`${config.reference}|${axis}`];
  return (
    own.every((printed) => printed >= since) && check.reference_printed_m >= (reference ?? Number.NEGATIVE_INFINITY)
  );
};

const suspectOf = (
  span: OpenSpan,
  to: Place | null,
  now_m: number,
  rolls: readonly RollEnd[],
  count: LabelCount,
): Suspect => {
  const end_m = to?.web_m ?? now_m;
  return {
    event: span.event,
    ...(span.station === null ? {} : { station: span.station }),
    from: span.from,
    to,
    rolls: rollsWithin(rolls, span.from.web_m, end_m),
    labels: labelsIn(end_m - span.from.web_m, count),
  };
};
