import type { Axis } from '../axis.js';
import { accept, blindFrom } from './accept.js';
import { type AxisState, WINDOW } from './axis-state.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import { type Evidence, evidence } from './evidence.js';
import { follow } from './follow.js';
import { type LevelFilter, levelOf, startLevel } from './level-filter.js';
import type { AxisFound, CorrectionRead, Movement } from './movement.js';
import { nextLevel, readLevel } from './next-level.js';
import { stepSwing } from './over-adjusting.js';
import { scatterOf, stepScatter } from './scatter.js';
import { scatterBelief } from './scatter-belief.js';
import type { Seen, WatchConfig } from './seen.js';
import { spacingOf } from './spacing.js';
import { turnedOff } from './turned-off.js';

/** A knob gives what was asked within this share, 1 sigma (common practice, no source), until it has been learned. */
export const KNOB_ERROR = 0.1;
const UNREST = 5;
/** First-off set within the reading error: how far off a level may start, in sigmas. */
const START_OFF = 0.4;
/** ln of the summed evidence asked for, against the checks asked between false notices on one axis; fitted by simulation (tests/bench/drift.ts). */
const THRESHOLD_SHARE = 0.36;

/** How much less evidence, ln, is asked when something is outside tolerance. */
const OUT_EASE = Math.log(30);

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
  const state = afterCorrection(lines, before, at, change, touched);
  const scatterBefore = state.known;
  const last = state.entries[state.entries.length - 1];
  const spacing = spacingOf(state.entries, seen.web_m);
  const steps = last === undefined ? 1 : Math.min(4, Math.max(0.25, (seen.web_m - last.web_m) / spacing));

  const corrections = readCorrections(lines, state, config, value, change, scatterBefore.sigma);
  const filters = state.filters.map((f, k): LevelFilter | null => {
    if (lines.measured[k] !== true) return null;
    const sigma = scatterBefore.sigma[k] ?? scatterBefore.pooled;
    const z = value[k] ?? null;
    if (f === null) {
      const first = startLevel(state.base[k] ?? 0, START_OFF * sigma, sigma);
      return z === null ? first : readLevel(first, sigma, z);
    }
    const unrest = seen.settling || seen.roll_change || touched[k] === true ? UNREST : 1;
    const loose = touched[k] === true ? (KNOB_ERROR * (change[k] ?? 0)) ** 2 : 0;
    return nextLevel(f, sigma, steps, unrest, loose, z);
  });

  const scatter = seen.settling
    ? { ...state.scatter, recent: state.scatter.recent.map(() => []) }
    : stepScatter(state.scatter, scatterBefore, at, value, touched);
  const entry: Entry = {
    at,
    web_m: seen.web_m,
    value: value.map((z, k) => (z === null || seen.settling ? null : z - (state.base[k] ?? 0))),
    blind: state.open.filter((o) => !o.levelled && !o.settled).flatMap((o) => o.causes),
  };
  const entries = [...state.entries, entry].slice(-WINDOW);
  const oldest = entries[0]?.at ?? at;
  let next: AxisState = {
    ...state,
    count: at + 1,
    entries,
    marks: [...state.marks, { at, check: seen.check, roll_change: seen.roll_change }].filter((m) => m.at >= oldest),
    turned: [...turned],
    swings: state.swings.map((s, k) => stepSwing(s, read[k] ?? null, change[k] ?? 0)),
    scatter,
    spacing_m: spacing,
    filters,
    lastRead: state.lastRead.map((l, k) => (value[k] === null || value[k] === undefined ? l : at)),
    open: state.open.filter((o) => !o.settled),
  };
  next = follow(lines, next, state.filters, steps);

  const threshold = Math.log(THRESHOLD_SHARE * 2 * config.asked);
  const eased = threshold - (seen.out?.[axis] === true ? OUT_EASE : 0);
  const corrected = touchedCauses(lines, change, touched);
  const off = turnedOff(lines, scatterBefore, next, seen, axis, corrected, nextKey);
  next = off.state;
  let key = off.nextKey;
  let found: Evidence = evidence(lines, scatterBefore, next.entries, next.offsets, spacing);
  const alarm = found.ln_total > eased;
  for (let tries = 0; tries < 3 && found.best !== null && found.ln_total > (tries === 0 ? eased : threshold); tries++) {
    const accepted = accept(lines, next, found, key, state.filters);
    if (accepted.state === next) break;
    next = accepted.state;
    key = accepted.nextKey;
    found = evidence(lines, scatterBefore, next.entries, next.offsets, spacing);
  }
  next = { ...next, known: scatterOf(next.scatter, belief) };
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

/**
 * A correction leaves the level unsure by the knob's error. A station that is not being followed is watched afresh from the level it
 * had; a move of the reference leaves a common constant not quite known.
 */
const afterCorrection = (
  lines: CauseLines,
  state: AxisState,
  at: number,
  change: readonly number[],
  touched: readonly boolean[],
): AxisState => {
  if (!touched.includes(true)) return state;
  const offsets = [...state.offsets];
  const together = togetherMoved(lines, change);
  if (together !== 0 && lines.measured.filter((m) => m).length > 1) {
    const n = lines.n;
    offsets[n] = { from: at, variance: (offsets[n]?.variance ?? 0) + (2 * KNOB_ERROR * together) ** 2 };
    return { ...state, offsets };
  }
  const base = [...state.base];
  const followed = new Set(state.open.filter((o) => !o.levelled && !o.settled).flatMap((o) => o.causes));
  const anew: number[] = [];
  for (let k = 0; k < lines.n; k++) {
    const f = state.filters[k] ?? null;
    if (touched[k] !== true || f === null || followed.has(k)) continue;
    const l = levelOf(f);
    base[k] = l.mean_mm;
    offsets[k] = { from: at, variance: l.sd_mm ** 2 + (2 * KNOB_ERROR * (change[k] ?? 0)) ** 2 };
    anew.push(k);
  }
  const entries = anew.length === 0 ? state.entries : blindFrom(state.entries, anew, 0);
  return { ...state, base, offsets, entries };
};

const touchedCauses = (
  lines: CauseLines,
  change: readonly number[],
  touched: readonly boolean[],
): readonly number[] => {
  if (!touched.includes(true)) return [];
  const many = lines.measured.filter((m) => m).length > 1;
  if (many && togetherMoved(lines, change) !== 0) return [lines.n];
  return touched.flatMap((t, k) => (t && lines.measured[k] === true ? [k] : []));
};

/** The common change of all measured stations, 0 if they did not change alike: a move of the reference. */
const togetherMoved = (lines: CauseLines, change: readonly number[]): number => {
  let common: number | null = null;
  for (let k = 0; k < lines.n; k++) {
    if (lines.measured[k] !== true) continue;
    const c = change[k] ?? 0;
    if (common === null) common = c;
    else if (Math.abs(common - c) > 1e-9) return 0;
  }
  return common ?? 0;
};

/** What a correction asked and what the first sample that carries it shows was got. */
const readCorrections = (
  lines: CauseLines,
  state: AxisState,
  config: WatchConfig,
  value: readonly (number | null)[],
  change: readonly number[],
  sigma: readonly number[],
): readonly CorrectionRead[] => {
  const many = lines.measured.filter((m) => m).length > 1;
  const together = many ? togetherMoved(lines, change) : 0;
  const got = (k: number): { readonly got: number; readonly variance: number } | null => {
    const z = value[k] ?? null;
    const f = state.filters[k] ?? null;
    if (z === null || f === null) return null;
    const before = levelOf(f);
    return { got: z - before.mean_mm + (change[k] ?? 0), variance: before.sd_mm ** 2 + (sigma[k] ?? 0) ** 2 };
  };
  if (together !== 0) {
    let sum = 0;
    let weight = 0;
    for (let k = 0; k < lines.n; k++) {
      const g = got(k);
      if (g === null) continue;
      sum += g.got / g.variance;
      weight += 1 / g.variance;
    }
    const reference = config.stations.find((s) => s.isReference);
    if (weight === 0 || reference === undefined) return [];
    return [{ station: reference.id, asked_mm: -together, got_mm: -sum / weight, sd_mm: Math.sqrt(1 / weight) }];
  }
  return config.stations.flatMap((s, k) => {
    const asked = change[k] ?? 0;
    if (Math.abs(asked) <= 1e-9) return [];
    const g = got(k);
    return g === null ? [] : [{ station: s.id, asked_mm: asked, got_mm: g.got, sd_mm: Math.sqrt(g.variance) }];
  });
};
