import { blindFrom, named } from './accept.js';
import type { AxisState, Open } from './axis-state.js';
import { type CauseLines, push } from './cause-lines.js';
import { along } from './direction.js';
import type { Entry } from './entry.js';
import { evidence } from './evidence.js';
import { chanceOf, GOING, SETTLING, slopeOf, WANDERING } from './level-filter.js';
import { isOverAdjusting, stillSwing } from './over-adjusting.js';
import type { Scatter } from './scatter.js';
import { shapeOf } from './shape-of.js';
import { sizeOf } from './size-of.js';
import { forget } from './with-gone.js';
import { withinEachRoll } from './within-each-roll.js';

/** Checks after which the name of a movement is no longer reconsidered. */
const YOUNG = 12;
/** A new name must be this much likelier than the old. */
const RENAME = 4;
const LEVEL_AFTER = 8;
const BACK_WITHIN = 0.6;
/** A station this likely to be still going or wandering is not settled, however near the aim. */
const RESTLESS = 0.5;
/** … unless it has stayed near this many checks. */
const LONG_NEAR = 8;
const RESTLESS_LONG = 0.85;
const MISREAD_FITS = 2.5;

/** Goes on with the open movements at a new check: name, size, back again, levelled. */
export const follow = (lines: CauseLines, state: AxisState): AxisState => {
  let next = state;
  for (const open of state.open) next = followOne(lines, next, open);
  return next;
};

const followOne = (lines: CauseLines, state: AxisState, open: Open): AxisState => {
  const scatter = state.known;
  const newest = state.entries[state.entries.length - 1];
  if (newest === undefined) return state;
  if (open.alone && returned(lines, scatter, open, newest)) return takeBack(state, open, newest);
  const { state: renamed, open: now } = reconsider(lines, scatter, state, open, newest);
  const sizes = now.causes.map((c) => along(lines, scatter, renamed.filters, now.from, c));
  const left = now.causes.map((c) => along(lines, scatter, read(renamed), new Array<number>(lines.n).fill(0), c));
  const main = sizes.reduce<{ mean: number; sd: number } | null>(
    (a, s) => (s !== null && (a === null || Math.abs(s.mean) > Math.abs(a.mean)) ? s : a),
    null,
  );
  const going = Math.max(...now.causes.map((c) => behaviour(lines, renamed, c, [GOING, SETTLING])));
  const wandering = Math.max(...now.causes.map((c) => behaviour(lines, renamed, c, [GOING, SETTLING, ...WANDERING])));
  const seenNow = now.causes.every((c) => newest.value.some((v, k) => v !== null && push(lines, c, k) !== 0));
  const unit = (c: number): number =>
    c === lines.n + 1 ? scatter.pooled / lines.far_m : (scatter.sigma[c] ?? scatter.pooled);
  const isNear =
    newest.at > now.found &&
    left.every((l, i) => {
      const within = unit(now.causes[i] ?? 0);
      return l !== null && Math.abs(l.mean) < BACK_WITHIN * within && l.sd < 0.7 * within;
    });
  const near = isNear ? now.near + (seenNow ? 1 : 0) : 0;
  const back = seenNow && isNear && (wandering < RESTLESS || (near >= LONG_NEAR && wandering < RESTLESS_LONG));
  const levelled = now.levelled || (newest.at - now.found >= LEVEL_AFTER && wandering < 0.3);
  const updated: Open = {
    ...now,
    moved: main?.mean ?? now.moved,
    sd: main?.sd ?? now.sd,
    shape: newest.at - now.found < YOUNG ? now.shape : going > 0.6 ? 'ramp' : now.shape,
    slope: going > 0.3 ? slopeAlong(lines, renamed, now.causes[0] ?? 0, state.spacing_m) : 0,
    pattern: patternOf(lines, renamed, now),
    levelled: levelled || back,
    near,
    settled: back,
    alone: false,
  };
  const kept: AxisState = { ...renamed, open: renamed.open.map((o) => (o.key === open.key ? updated : o)) };
  const alone = back && !touchedSince(state, open);
  return updated.levelled && !open.levelled && !alone ? rebase(lines, scatter, kept, updated, newest.at) : kept;
};

/** A pattern with a name of its own; what it was called stays unless a stronger one shows. */
const patternOf = (lines: CauseLines, state: AxisState, open: Open): Open['pattern'] => {
  const cause = open.causes[0] ?? 0;
  const stations = lines.measured.flatMap((_, k) => (push(lines, cause, k) !== 0 ? [k] : []));
  if (stations.length > 0 && stations.every((k) => isOverAdjusting(state.swings[k] ?? stillSwing)))
    return 'over-adjusting';
  if (withinEachRoll(lines, state, cause)) return 'within each roll';
  return open.pattern;
};

/** Whether a correction was made since the movement was found. */
const touchedSince = (state: AxisState, open: Open): boolean =>
  open.turnedThen.some((t, k) => Math.abs(t - (state.turned[k] ?? 0)) > 1e-9);

/** The register as read: levels with the known corrections on. */
const read = (state: AxisState): AxisState['filters'] =>
  state.filters.map((f, k) => (f === null ? null : { ...f, level: f.level.map((l) => l + (state.turned[k] ?? 0)) }));

/** Chance that the stations a cause moves behave in one of these ways, weighed by how far it moves them. */
const behaviour = (lines: CauseLines, state: AxisState, cause: number, models: readonly number[]): number => {
  let sum = 0;
  let weight = 0;
  state.filters.forEach((f, k) => {
    const p = Math.abs(push(lines, cause, k));
    if (f === null || p === 0) return;
    weight += p;
    sum += p * chanceOf(f, models);
  });
  return weight === 0 ? 0 : sum / weight;
};

const slopeAlong = (lines: CauseLines, state: AxisState, cause: number, spacing_m: number): number => {
  let num = 0;
  let info = 0;
  state.filters.forEach((f, k) => {
    const p = push(lines, cause, k);
    if (f === null || p === 0) return;
    num += (p * slopeOf(f)) / spacing_m;
    info += p * p;
  });
  return info === 0 ? 0 : num / info;
};

/** From here on new movements of these causes are measured from the level reached. */
const rebase = (lines: CauseLines, scatter: Scatter, state: AxisState, open: Open, at: number): AxisState => {
  const base = [...state.base];
  const offsets = [...state.offsets];
  for (const c of open.causes) {
    const m = along(lines, scatter, state.filters, state.base, c);
    if (m === null) continue;
    for (let k = 0; k < lines.n; k++) base[k] = (base[k] ?? 0) + push(lines, c, k) * m.mean;
    offsets[c] = { from: at + 1, variance: m.sd * m.sd };
  }
  return { ...state, base, offsets, gone: forget(state.gone, open.causes) };
};

/** Whether a movement seen at one check only is gone at the next. */
const returned = (lines: CauseLines, scatter: Scatter, open: Open, newest: Entry): boolean => {
  const cause = open.causes[0];
  if (cause === undefined || open.causes.length > 1) return false;
  if (!newest.value.some((v, k) => v !== null && push(lines, cause, k) !== 0)) return false;
  const entry: Entry = { ...newest, blind: newest.blind.filter((b) => b !== cause) };
  const size = sizeOf(lines, scatter, [entry], { cause, start: 0, shape: 'step', ln: 0 }, 1);
  if (size.sd === 0) return false;
  const near = Math.abs(size.mean) / size.sd;
  const far = Math.abs(size.mean - open.moved) / size.sd;
  return near < MISREAD_FITS && far > near && far > MISREAD_FITS;
};

/** The check that raised it was wrong or has passed: it is no movement. A movement that stood before it stands on. */
const takeBack = (state: AxisState, open: Open, newest: Entry): AxisState => ({
  ...state,
  entries: state.entries.map((e) =>
    e.at === newest.at ? { ...e, blind: e.blind.filter((b) => !open.causes.includes(b)) } : e,
  ),
  open: state.open.map((o) =>
    o.key === open.key ? { ...o, settled: open.start === open.found, levelled: true, alone: false } : o,
  ),
});

/** While it is young the name of a movement may change, when another explains all of it clearly better. */
const reconsider = (
  lines: CauseLines,
  scatter: Scatter,
  state: AxisState,
  open: Open,
  newest: Entry,
): { readonly state: AxisState; readonly open: Open } => {
  if (newest.at - open.found > YOUNG || open.causes.length > 1 || open.levelled || open.byHand) return { state, open };
  const spacing = state.spacing_m;
  const entries = state.entries.map((e) =>
    e.at < open.start ? e : { ...e, blind: e.blind.filter((b) => !open.causes.includes(b)) },
  );
  const found = evidence(lines, scatter, entries, state.offsets, spacing, true, state.gone);
  const best = found.best;
  const mine = open.causes[0] ?? 0;
  if (best === null || found.ln_total < 1) return { state, open };
  const taken = state.open.some((o) => o.key !== open.key && !o.settled && o.causes.includes(best.cause));
  if (best.cause === mine || taken || (found.shares[best.cause] ?? 0) < RENAME * (found.shares[mine] ?? 0)) {
    return {
      state,
      open: {
        ...open,
        ...named(lines, found, mine, false),
        shape: shapeOf(lines, scatter, entries, mine, spacing, found.ramp_share[mine] ?? 0),
      },
    };
  }
  const first = entries[best.start];
  const mark = state.marks.find((m) => m.at === first?.at);
  const size = sizeOf(lines, scatter, entries, best, spacing);
  const renamed: Open = {
    ...open,
    causes: [best.cause],
    ...named(lines, found, best.cause, false),
    start: first?.at ?? open.start,
    since: { check: mark?.check ?? open.since.check, web_m: first?.web_m ?? open.since.web_m },
    shape: shapeOf(lines, scatter, entries, best.cause, spacing, found.ramp_share[best.cause] ?? 0),
    moved: size.mean,
    sd: size.sd,
  };
  return {
    open: renamed,
    state: {
      ...state,
      entries: blindFrom(entries, [best.cause], renamed.start),
      open: state.open.map((o) => (o.key === open.key ? renamed : o)),
    },
  };
};
