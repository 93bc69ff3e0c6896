import type { Cause } from '../finding.js';
import { type Change, changesIn, grown } from '../hindsight/changes.js';
import type { Readings } from '../hindsight/spread.js';
import type { Correction } from '../record.js';
import type { RunState } from '../run/state.js';
import { axisReadings, comparable } from './axis-readings.js';
import type { EventView } from './board-view.js';
import { eventNames } from './event-names.js';
import { rollAt } from './event-views.js';
import { type EventNames, eventSentence, listWords, takenWords } from './event-words.js';
import type { Gathered } from './gather.js';
import type { EventStory } from './handover-view.js';
import type { WholeTrail } from './whole-trail.js';

/**
 * What the record says of each movement that is over (or of every one, when the run is): not only what could be told at the press, but what
 * the readings since say of it. It stands, or it was something else, or one reading was wrong, or it cannot be told. What was said at the time
 * stays with it: advice and turns were made on that.
 */
export const withHindsight = (
  state: RunState,
  stories: readonly EventStory[],
  trail: WholeTrail,
  gathered: Gathered,
): readonly EventStory[] => {
  const ended = state.judged.phase === 'ended';
  const due = (s: EventStory): boolean =>
    s.event.found_by === 'movement' && s.event.how_closed !== 'withdrawn' && (ended || !s.event.open);
  if (!stories.some(due)) return stories;
  const all = comparable(state, trail, gathered);
  const windows = new Map<string, Window | null>();
  const names = eventNames(state);
  const first = new Map<Change, number>();
  return stories.map((story) => {
    if (!due(story)) return story;
    const window = windowOf(state, all, gathered, story, windows);
    return window === null ? story : { ...story, event: retold(state, story, window, names, first) };
  });
};

/** Checks that were looked at together, and what they say moved. */
type Window = {
  readonly checks: WholeTrail;
  readonly readings: Readings;
  readonly changes: readonly Change[];
  /** Turns on this axis, as recorded. */
  readonly turns: readonly Correction[];
};

/** Readings looked at together: more cost more than they tell. */
const MOST_READINGS = 400;
/** Checks before a movement without which nothing is told of it. */
const BEFORE = 10;

const windowOf = (
  state: RunState,
  all: WholeTrail,
  gathered: Gathered,
  { event, found_check, found_web_m }: EventStory,
  known: Map<string, Window | null>,
): Window | null => {
  const found = all.find((t) => String(t.check) === found_check && Math.abs(t.web_m - found_web_m) < 1);
  if (found === undefined) return null;
  const kind = all.filter((t) => t.sensor === found.sensor);
  const size = Math.max(2 * BEFORE, Math.floor(MOST_READINGS / Math.max(1, found[event.axis].length - 1)));
  const step = size - BEFORE;
  const at = kind.indexOf(found);
  const first = Math.max(0, Math.floor((at - BEFORE) / step)) * step;
  const key = `${event.axis} ${found.sensor} ${first}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const checks = kind.slice(first, first + size + BEFORE);
  const read = axisReadings(state, checks, gathered, event.axis, first === 0 && !found.sensor);
  const window =
    read === null
      ? null
      : {
          checks,
          readings: read.readings,
          changes: changesIn(read.readings, read.turns),
          turns: gathered.corrections
            .map(({ record }) => record)
            .filter((r) => r.axis === event.axis && !gathered.withdrawn.has(r.seq)),
        };
  known.set(key, window);
  return window;
};

/** Sure enough to be written down; less is asked where what was said at the press is borne out (own choice). */
const SURE = 0.65;
const AGREES = 0.4;
/** A change may have begun so many checks before the first that the watch gave. */
const EARLIER = 3;
/** At least this share of what was said must be there. */
const PART = 0.4;

/** `first`: under which movement each change was told already; it is told once. */
const retold = (
  state: RunState,
  story: EventStory,
  window: Window,
  names: EventNames,
  first: Map<Change, number>,
): EventView => {
  const { event } = story;
  const { checks, readings, changes } = window;
  const found = checks.findIndex((t) => String(t.check) === story.found_check);
  const since = checks.findIndex((t) => t.web_m >= event.since.web_m - 1e-6);
  const early = Math.min(found, since === -1 ? found : since) - EARLIER;
  const near = changes.filter((c) => c.from >= early && c.from <= found && c.share >= AGREES);
  const same = near.filter((c) => isOf(event.cause, c, readings) && Math.sign(c.mm) === Math.sign(event.moved_mm));
  const borne = latest(same);
  const taken = takenWords({ ...event, check: story.found_check }, names);
  const again = (change: Change): EventView | null => {
    const id = first.get(change) ?? null;
    if (id === null) first.set(change, event.id);
    return id === null
      ? null
      : { ...event, hindsight: 'again', sentence: `${taken} By all readings since, it was movement ${id} again.` };
  };
  if (borne !== null && (event.cause.kind !== 'several' || allOf(event.cause.stations, same, readings)))
    return again(borne) ?? told(state, story, { hindsight: 'borne out', cause: event.cause }, borne, window, names);
  const other = latest(near.filter((c) => c.share >= SURE && actsAlike(c, event, readings)));
  if (other === null) return { ...event, hindsight: 'not borne out', sentence: `${taken} ${NOT_BORNE_OUT}` };
  const { mover } = other;
  if (mover.kind === 'reading') {
    const label = names.labels[readings.stations[mover.station]?.id ?? ''] ?? '';
    const alone = `By all readings since, that of ${label} at check ${checks[mover.check]?.check ?? ''} stood alone: nothing moved.`;
    return { ...event, hindsight: 'misread', sentence: `${taken} ${alone}` };
  }
  const before = again(other);
  if (before !== null) return before;
  const now = told(state, story, { hindsight: 'other', cause: causeOf(mover, readings) }, other, window, names);
  return { ...now, sentence: `${taken} By all readings since: ${now.sentence}` };
};

const NOT_BORNE_OUT = 'The readings since do not bear it out: what moved, or whether anything did, cannot be told.';

const latest = (changes: readonly Change[]): Change | null =>
  changes.toSorted((a, b) => a.from - b.from).at(-1) ?? null;

const isOf = (cause: Cause, { mover }: Change, { stations }: Readings): boolean => {
  if (mover.kind === 'station') {
    const id = stations[mover.station]?.id ?? '';
    return cause.kind === 'several' ? cause.stations.includes(id) : cause.kind === 'station' && cause.station === id;
  }
  return mover.kind === cause.kind;
};

const allOf = (ids: readonly string[], changes: readonly Change[], { stations }: Readings): boolean =>
  ids.every((id) => changes.some(({ mover }) => mover.kind === 'station' && stations[mover.station]?.id === id));

/** Whether it does to the readings what was said, by at least a part, the same way. */
const actsAlike = (change: Change, event: EventView, { stations }: Readings): boolean => {
  const said = (k: number): number => {
    const { cause, moved_mm } = event;
    if (cause.kind === 'station') return stations[k]?.id === cause.station ? moved_mm : 0;
    if (cause.kind === 'several') return cause.stations.includes(stations[k]?.id ?? '') ? moved_mm : 0;
    return cause.kind === 'reference' ? -moved_mm : moved_mm * (stations[k]?.path_m ?? 0);
  };
  return stations.some((_, k) => said(k) !== 0 && effectOn(change, k, stations) / said(k) >= PART);
};

/** mm that it adds to what a station reads. */
const effectOn = ({ mover, mm }: Change, k: number, stations: Readings['stations']): number => {
  if (mover.kind === 'reference') return -mm;
  if (mover.kind === 'web') return mm * (stations[k]?.path_m ?? 0);
  return mover.station === k ? mm : 0;
};

const reaches = (cause: Cause, station: string): boolean =>
  cause.kind === 'station'
    ? cause.station === station
    : cause.kind === 'several'
      ? cause.stations.includes(station)
      : cause.kind === 'web';

const causeOf = (mover: Exclude<Change['mover'], { kind: 'reading' }>, { stations }: Readings): Cause =>
  mover.kind === 'station' ? { kind: 'station', station: stations[mover.station]?.id ?? '' } : { kind: mover.kind };

/** The event with the numbers that all readings give; of a drift as far as it had gone when it was over. */
const told = (
  state: RunState,
  { event, closed_web_m }: EventStory,
  { hindsight, cause }: { readonly hindsight: 'borne out' | 'other'; readonly cause: Cause },
  change: Change,
  { checks, readings, changes, turns }: Window,
  names: EventNames,
): EventView => {
  const over = checks.findLastIndex((t) => t.web_m <= (closed_web_m ?? Infinity) + 1e-6);
  const part = grown(change.from, change.until, Math.max(over, change.from));
  const stayed = !changes.some(
    (c) =>
      c.from > change.from && c.from <= over && isOf(cause, c, readings) && c.share >= SURE && c.mm * change.mm < 0,
  );
  const first = checks[change.from];
  const now: EventView = {
    ...event,
    hindsight,
    cause,
    since: first === undefined ? event.since : { check: first.check, web_m: first.web_m },
    shape: change.until > change.from ? 'ramp' : 'step',
    moved_mm: change.mm * part,
    shifts_mm: readings.stations.flatMap(({ id }, k) => {
      const mm = effectOn(change, k, readings.stations) * part;
      return mm === 0 ? [] : [{ station: id, mm }];
    }),
  };
  const { turned: then = [], ...worded } = now;
  const bears = turns.filter(
    (t) =>
      (t.station === names.reference || reaches(cause, t.station)) &&
      t.web_m > now.since.web_m &&
      t.web_m <= (closed_web_m ?? Infinity),
  );
  const turned = [...new Set([...then, ...bears.map((t) => names.labels[t.station] ?? t.station)])];
  const also = turned.length === 0 ? {} : { turned: listWords(turned) };
  return {
    ...now,
    sentence: eventSentence({ ...worded, ...also, stayed, roll: rollAt(state, now.since.web_m) }, names),
  };
};
