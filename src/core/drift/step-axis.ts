import type { Axis } from '../axis.js';
import { accept } from './accept.js';
import { afterCorrection } from './after-correction.js';
import { type AxisState, WINDOW } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import { type Evidence, evidence } from './evidence.js';
import { evidenceAsked, isEnough } from './evidence-asked.js';
import { follow } from './follow.js';
import { KNOB_ERROR } from './knob-error.js';
import { type LevelFilter, shiftedBy, startLevel } from './level-filter.js';
import type { AxisFound, Movement } from './movement.js';
import { nextLevel, readLevel } from './next-level.js';
import { stepSwing } from './over-adjusting.js';
import { readCorrections } from './read-corrections.js';
import { restlessness } from './restless.js';
import { scatterOf, stepScatter } from './scatter.js';
import { scatterBelief } from './scatter-belief.js';
import type { Seen, WatchConfig } from './seen.js';
import { sharedShift, takenBack } from './shared-shift.js';
import { spacingOf } from './spacing.js';
import { learnStart } from './start-level.js';
import { togetherMoved } from './together-moved.js';
import { turnedOff } from './turned-off.js';
import { withGone } from './with-gone.js';

const UNREST = 5;
/** First-off set within the reading error: how far off a level may start, in sigmas. */
const START_OFF = 0.4;

/** So much more evidence, ln, than is asked is told whatever it may be: a station a whole sigma off for a whole window is worth a word. */
const SURELY = 14;
/** … and so much less is looked at again with offsets allowed for: they may hide a movement too. */
const NEARLY = 1.3;

/** One check on one axis: levels, scatter, evidence, movements. */
export const stepAxis = (
  config: WatchConfig,
  lines: CauseLines,
  axis: Axis,
  before: AxisState,
  seen: Seen,
  nextKey: number,
): { readonly state: AxisState; readonly found: AxisFound; readonly nextKey: number } => {
  const at = before.count;
  const { read, turned } = seen[axis];
  const belief = scatterBelief(config, axis);
  const value = lines.measured.map((m, k) => {
    const r = read[k] ?? null;
    return m && r !== null ? r - (turned[k] ?? 0) : null;
  });
  const change = lines.measured.map((_, k) => (turned[k] ?? 0) - (before.turned[k] ?? 0));
  const touched = change.map((c) => Math.abs(c) > 1e-9);
  const after = afterCorrection(lines, before, at, change, touched);
  const state = config.stands_off === true ? learnStart(lines, after, belief.sigma) : after;
  const scatterBefore = state.known;
  const last = state.entries[state.entries.length - 1];
  const spacing = spacingOf(state.entries, seen.web_m);
  const steps = last === undefined ? 1 : Math.min(4, Math.max(0.25, (seen.web_m - last.web_m) / spacing));

  // What was turned since each station was last read.
  const due = change.map((c, k) => c + (state.due[k] ?? 0));
  const corrections = readCorrections(lines, state, config, value, due, scatterBefore.sigma);
  const byReference = togetherMoved(lines, due) !== 0 && value.some((z) => z !== null);
  const stirred = seen.settling || seen.roll_change || touched.includes(true) ? UNREST : 1;
  const standing = state.filters.map((f, k): LevelFilter | null => {
    if (f !== null || lines.measured[k] !== true) return f;
    const sigma = scatterBefore.sigma[k] ?? scatterBefore.pooled;
    return startLevel(state.base[k] ?? 0, config.stands_off === true ? sigma : START_OFF * sigma, sigma);
  });
  const again = seen.same_sample === true;
  const shared = again
    ? takenBack(lines, scatterBefore, standing, value, state.shift)
    : sharedShift(lines, scatterBefore, standing, value, stirred);
  const restless = restlessness(state.moved);
  const filters = standing.map((was, k): LevelFilter | null => {
    if (was === null) return null;
    const f = shared === null ? was : shiftedBy(was, shared.mm[k] ?? 0, shared.variance[k] ?? 0);
    const sigma = scatterBefore.sigma[k] ?? scatterBefore.pooled;
    const z = value[k] ?? null;
    const unrest = seen.settling || seen.roll_change || touched[k] === true ? UNREST : 1;
    if (again) return z === null ? f : readLevel(f, sigma, z);
    const loose = touched[k] === true ? (KNOB_ERROR * (change[k] ?? 0)) ** 2 : 0;
    return nextLevel(f, sigma, steps, unrest, loose, z, restless);
  });

  const scatter = seen.settling
    ? { ...state.scatter, recent: state.scatter.recent.map(() => []) }
    : stepScatter(state.scatter, scatterBefore, at, value, touched);
  const entry: Entry = {
    at,
    web_m: seen.web_m,
    value: value.map((z, k) => (z === null || seen.settling ? null : z - (state.base[k] ?? 0))),
    blind: state.open.filter((o) => !o.levelled && !o.settled).flatMap((o) => o.causes),
    ...(again ? { again } : {}),
  };
  const entries = [...state.entries, entry].slice(-WINDOW);
  const oldest = entries[0]?.at ?? at;
  let next: AxisState = {
    ...state,
    count: at + 1,
    entries,
    marks: [...state.marks, { at, check: seen.check, roll_change: seen.roll_change }].filter((m) => m.at >= oldest),
    gone: withGone(lines, scatterBefore, state.gone, [...state.entries, entry].slice(0, -WINDOW)),
    turned: [...turned],
    due: due.map((d, k) => (byReference || (value[k] ?? null) !== null ? 0 : d)),
    swings: state.swings.map((s, k) => stepSwing(s, read[k] ?? null, change[k] ?? 0)),
    scatter,
    spacing_m: spacing,
    filters,
    shift: shared === null ? (again ? state.shift : []) : again ? [] : shared.mm,
    lastRead: state.lastRead.map((l, k) => (value[k] === null || value[k] === undefined ? l : at)),
    open: state.open.filter((o) => !o.settled),
  };
  next = follow(lines, next);

  const readNow = value.filter((z) => z !== null).length;
  // Against aims that are one reading, what reads out says as much of the aim as of the press: no less evidence is asked for it.
  const out = seen.out?.[axis] === true && config.aims_read !== true;
  const asked = evidenceAsked(config.asked, out, readNow);
  const corrected = touchedCauses(lines, due, value);
  const off = turnedOff(lines, scatterBefore, next, seen, axis, corrected, nextKey);
  next = off.state;
  const known = off.nextKey;
  let key = known;
  // Offsets from the start are weighed only when there is something to weigh them against: they cost more than the rest.
  let found: Evidence = evidence(lines, scatterBefore, next.entries, next.offsets, spacing, false, next.gone);
  if (found.ln_total > asked.least - NEARLY && found.ln_total < asked.least + SURELY)
    found = evidence(lines, scatterBefore, next.entries, next.offsets, spacing, true, next.gone);
  const alarm = found.ln_total > asked.least;
  // What reads out of tolerance is explained by the first of them; the others are asked for in full.
  const askedOfOthers = evidenceAsked(config.asked, false, readNow);
  for (let tries = 0; tries < 3 && isEnough(found, tries === 0 ? asked : askedOfOthers); tries++) {
    const accepted = accept(lines, next, found, key);
    if (accepted.state === next) break;
    next = accepted.state;
    key = accepted.nextKey;
    found = evidence(lines, scatterBefore, next.entries, next.offsets, spacing, true, next.gone);
  }
  const moved = { movements: state.moved.movements + key - known, readings: state.moved.readings + readNow };
  next = { ...next, moved, known: scatterOf(next.scatter, belief) };
  return {
    state: next,
    nextKey: key,
    found: { axis, alarm, movements: next.open.map((o) => told(lines, axis, o)), corrections },
  };
};

const told = (lines: CauseLines, axis: Axis, o: AxisState['open'][number]): Movement => {
  const only = o.causes.length === 1 ? lines.names[o.causes[0] ?? 0] : undefined;
  return {
    key: o.key,
    axis,
    cause: only ?? { kind: 'several', stations: o.causes.flatMap((c) => stationsOf(lines, c)) },
    confidence: o.confidence,
    since: o.since,
    moved_mm: o.moved,
    sd_mm: o.sd,
    shape: o.shape,
    slope_mm_per_m: o.slope,
    alternatives: o.alternatives,
    ...(o.pattern === null ? {} : { pattern: o.pattern }),
    settled: o.settled,
  };
};

const stationsOf = (lines: CauseLines, cause: number): readonly string[] => {
  const name = lines.names[cause];
  if (name?.kind === 'station') return [name.station];
  const reference = lines.names[lines.isReference.indexOf(true)];
  if (name?.kind === 'reference' && reference?.kind === 'station') return [reference.station];
  return [];
};

/** Causes whose correction is read for the first time at this check: the reference when all stations changed alike. */
const touchedCauses = (
  lines: CauseLines,
  change: readonly number[],
  value: readonly (number | null)[],
): readonly number[] => {
  const many = lines.measured.filter((m) => m).length > 1;
  if (many && togetherMoved(lines, change) !== 0) return [lines.n];
  return change.flatMap((c, k) => (Math.abs(c) > 1e-9 && (value[k] ?? null) !== null ? [k] : []));
};
