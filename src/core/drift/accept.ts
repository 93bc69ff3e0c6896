import type { AxisState, Open } from './axis-state.js';
import type { Candidate } from './candidate.js';
import type { CauseLines } from './cause-lines.js';
import type { Entry } from './entry.js';
import { type Evidence, evidence } from './evidence.js';
import { chanceBeyond } from './level-filter.js';
import { excuse } from './scatter.js';
import { shapeOf } from './shape-of.js';
import { sizeOf } from './size-of.js';

/** Evidence of a second cause beginning with the first, ln, for which the movement is called several. */
const SECOND_CAUSE = Math.log(60);
/** Its size is at least so many of its own standard deviations. */
const SHOWS = 2.5;
const BEGIN_TOGETHER = 3;

/** Takes the best explanation as a movement: a new one, or more of the one already open with that cause. */
export const accept = (
  lines: CauseLines,
  state: AxisState,
  found: Evidence,
  key: number,
): { readonly state: AxisState; readonly nextKey: number } => {
  const best = found.best;
  if (best === null) return { state, nextKey: key };
  const scatter = state.known;
  const newest = state.entries[state.entries.length - 1];
  const start = atRollChange(state, found.best_of[best.cause] ?? best);
  const first = state.entries[start];
  if (newest === undefined || first === undefined) return { state, nextKey: key };
  const spacing = state.spacing_m;
  const size = sizeOf(lines, scatter, state.entries, best, spacing);
  // The fit itself must show it: evidence left over by what is only roughly known is no movement.
  if (Math.abs(size.mean) < SHOWS * size.sd) return { state, nextKey: key };
  const again = state.open.find((o) => o.causes.includes(best.cause));
  const alone = first.at === newest.at;

  let entries = blindFrom(state.entries, [best.cause], first.at);
  let second: Candidate | null = null;
  if (again === undefined) {
    const rest = evidence(lines, scatter, entries, state.offsets, spacing, true, state.gone);
    const b = rest.best;
    if (
      b !== null &&
      rest.ln_total > SECOND_CAUSE &&
      Math.abs((state.entries[b.start]?.at ?? 0) - first.at) <= BEGIN_TOGETHER &&
      b.cause < lines.n &&
      best.cause < lines.n
    ) {
      second = b;
      entries = blindFrom(entries, [b.cause], first.at);
    }
  }
  const causes = second === null ? [best.cause] : [best.cause, second.cause].sort((a, b) => a - b);
  const mark = state.marks.find((m) => m.at === first.at);
  const doubt = alone && best.cause < lines.n ? misread(state, best.cause, size.mean) : 0;
  const name = named(lines, found, best.cause, second !== null);
  const open: Open =
    again === undefined
      ? {
          key,
          causes,
          ...name,
          confidence: name.confidence * (1 - 0.5 * doubt),
          start: first.at,
          since: { check: mark?.check ?? 0, web_m: first.web_m },
          found: newest.at,
          shape: shapeOf(lines, scatter, state.entries, best.cause, spacing, found.ramp_share[best.cause] ?? 0),
          slope: size.slope,
          moved: size.mean,
          sd: size.sd,
          from: state.base,
          turnedThen: state.turned,
          levelled: false,
          near: 0,
          byHand: false,
          settled: false,
          pattern: mark?.roll_change === true && best.shape === 'step' ? 'at roll change' : null,
          alone,
        }
      : { ...again, levelled: false, found: newest.at, alone };
  const next: AxisState = {
    ...state,
    entries,
    scatter: excuse(state.scatter, first.at),
    open: again === undefined ? [...state.open, open] : state.open.map((o) => (o.key === open.key ? open : o)),
  };
  return { state: next, nextKey: again === undefined ? key + 1 : key };
};

/** A step that began within two checks of a roll change is taken to have come with it. */
const ROLL_WITHIN = 2;

const atRollChange = (state: AxisState, best: Candidate): number => {
  if (best.shape !== 'step') return best.start;
  const at = state.entries[best.start]?.at ?? 0;
  const near = state.marks
    .filter((m) => m.roll_change && Math.abs(m.at - at) <= ROLL_WITHIN)
    .map((m) => state.entries.findIndex((e) => e.at === m.at))
    .filter((i) => i >= 0);
  return near[0] ?? best.start;
};

export const blindFrom = (entries: readonly Entry[], causes: readonly number[], from: number): readonly Entry[] =>
  entries.map((e) => (e.at < from ? e : { ...e, blind: [...new Set([...e.blind, ...causes])] }));

/** Chance that a jump seen at one check only is a wrong reading: the station's level is thought to have stayed. */
const misread = (state: AxisState, station: number, moved: number): number => {
  const f = state.filters[station] ?? null;
  return f === null ? 0 : 1 - chanceBeyond(f, state.base[station] ?? 0, 0.4 * Math.abs(moved));
};

/** Confidence in the cause and the causes next to it. */
export const named = (
  lines: CauseLines,
  found: Evidence,
  cause: number,
  several: boolean,
): Pick<Open, 'confidence' | 'alternatives'> => {
  const share = found.shares[cause] ?? 0;
  const alternatives = lines.names
    .map((name, j) => ({ cause: name, confidence: found.shares[j] ?? 0, j }))
    .filter((a) => (a.j !== cause || several) && a.confidence >= 0.02)
    .sort((a, b) => b.confidence - a.confidence || a.j - b.j)
    .slice(0, 3)
    .map(({ cause: c, confidence }) => ({ cause: c, confidence }));
  return { confidence: share, alternatives };
};
