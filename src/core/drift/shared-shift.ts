import { type CauseLines, push } from './cause-lines.js';
import { type LevelFilter, levelOf } from './level-filter.js';
import type { Scatter } from './scatter.js';

/** By how much the readings of all stations shifted together at a check: what to add to each station's level, mm, and its variance. */
export type SharedShift = { readonly mm: readonly number[]; readonly variance: readonly number[] };

/** Chance a check that the reference jumps, that the web stretches; and how much likelier after a splice, a start or a touch. */
const REFERENCE_JUMPS = 0.01;
const WEB_STRETCHES = 0.003;
/** A jump, 1 sigma, in sigmas of a reading; a web's at the farthest station. */
const SIZE = 5;
/** Share of stations that do something of their own at the same check, and how widely they then lie, sigmas. */
const OWN = 0.04;
const OWN_WIDTH = 8;
const ROUNDS = 4;
/** Rounds end when the size changes by less than this share of what it may be. */
const SETTLED = 1e-3;
/** The reference scatters by at least this share of a reading's variance, whatever was learned: its scatter looks exactly like a jump. */
const LEAST_SHARED = 0.3;

/**
 * Whether the reference or the web moved at this check, from all readings together.
 *
 * Each way of moving together is a direction in station space: the reference (all alike), the web over its whole path, over its path beyond the
 * middle, and before it. Its size is found by reweighted least squares, stations that do something of their own set aside, and it is weighed
 * against no movement by the likelihood at its best (Laplace). Label by label all readings share the scatter of the reference, which no single
 * station can tell from a jump of its own: taken one by one, seven stations 0.3 off are seven wild readings; together they are one jump.
 * null = no such movement is likelier than not.
 */
export const sharedShift = (
  lines: CauseLines,
  scatter: Scatter,
  filters: readonly (LevelFilter | null)[],
  value: readonly (number | null)[],
  unrest: number,
): SharedShift | null => {
  const shared = Math.max(scatter.shared, LEAST_SHARED * scatter.pooled * scatter.pooled);
  const seen: Seen[] = [];
  for (let k = 0; k < lines.n; k++) {
    const f = filters[k] ?? null;
    const z = value[k] ?? null;
    if (f === null || z === null || lines.isReference[k] === true) continue;
    const level = levelOf(f);
    const sigma = scatter.sigma[k] ?? scatter.pooled;
    seen.push({ k, off: z - level.mean_mm, variance: level.sd_mm ** 2 + (scatter.own[k] ?? sigma * sigma), sigma });
  }
  if (seen.length < 3) return null;
  // Where nothing is farther off than a reading scatters there is nothing to explain.
  if (seen.filter((s) => s.off * s.off > 2 * (s.variance + shared)).length < 2) return null;
  const still = fit(seen, () => -1, shared);
  let best: { readonly ln: number; readonly push: (k: number) => number; readonly fit: Fit } | null = null;
  let total = Math.exp(0);
  for (const way of waysOf(lines)) {
    const far = seen.reduce((m, s) => Math.max(m, Math.abs(way.push(s.k))), 0);
    if (far === 0) continue;
    const found = fit(
      seen,
      way.push,
      ((SIZE * scatter.pooled) / far) ** 2 + (way.web ? 0 : shared),
      way.web ? shared : 0,
    );
    const ln = found.ln - still.ln + Math.log(Math.min(0.3, way.chance * unrest));
    total += Math.exp(Math.min(ln, 200));
    if (best === null || ln > best.ln) best = { ln, push: way.push, fit: found };
  }
  if (best === null || Math.exp(Math.min(best.ln, 200)) / total < 0.5) return null;
  const { size, variance } = best.fit;
  const toward = best.push;
  const moved = lines.measured.map((m, k) => (m && lines.isReference[k] !== true ? toward(k) : 0));
  return { mm: moved.map((p) => p * size), variance: moved.map((p) => p * p * variance) };
};

/** Another label of the sample does not show what the first showed of all stations: it was the first label, or the mark of the reference on it. */
export const takenBack = (
  lines: CauseLines,
  scatter: Scatter,
  filters: readonly (LevelFilter | null)[],
  value: readonly (number | null)[],
  shift: readonly number[],
): SharedShift | null => {
  let stays = 0;
  let goes = 0;
  for (let k = 0; k < lines.n; k++) {
    const f = filters[k] ?? null;
    const z = value[k] ?? null;
    const moved = shift[k] ?? 0;
    if (f === null || z === null || moved === 0) continue;
    const level = levelOf(f);
    const sigma = scatter.sigma[k] ?? scatter.pooled;
    const seen: Seen = { k, off: z - level.mean_mm, variance: level.sd_mm ** 2 + sigma * sigma, sigma };
    stays += Math.log(density(seen, 0, 0));
    goes += Math.log(density(seen, -moved, 0));
  }
  return goes > stays ? { mm: shift.map((mm) => -mm), variance: shift.map(() => 0) } : null;
};

type Seen = { readonly k: number; readonly off: number; readonly variance: number; readonly sigma: number };
type Fit = { readonly size: number; readonly variance: number; readonly ln: number };
type Way = { readonly push: (k: number) => number; readonly chance: number; readonly web: boolean };

const waysOf = (lines: CauseLines): readonly Way[] => {
  const reference: Way = { push: (k) => push(lines, lines.n, k), chance: REFERENCE_JUMPS, web: false };
  if ((lines.prior[lines.n + 1] ?? 0) === 0) return [reference];
  const paths = lines.path_m.filter((_, k) => lines.measured[k] === true || lines.isReference[k] === true);
  const middle = (Math.min(...paths) + Math.max(...paths)) / 2;
  const at = (k: number): number => lines.path_m[k] ?? 0;
  const beyond = (m: number): number => Math.max(0, m - middle);
  const before = (m: number): number => Math.min(m, middle);
  return [
    reference,
    { push: at, chance: WEB_STRETCHES, web: true },
    { push: (k) => beyond(at(k)) - beyond(0), chance: WEB_STRETCHES / 2, web: true },
    { push: (k) => before(at(k)) - before(0), chance: WEB_STRETCHES / 2, web: true },
  ];
};

/** Size along a direction, normal about 0 with `size_variance`; `more`: variance that every reading has beside its own. */
const fit = (seen: readonly Seen[], toward: (k: number) => number, size_variance: number, more = 0): Fit => {
  const ratios = seen.flatMap((s) => (toward(s.k) === 0 ? [] : [s.off / toward(s.k)])).toSorted((a, b) => a - b);
  let best: Fit = { size: 0, variance: size_variance, ln: -Infinity };
  for (const start of [0, ratios[Math.floor(ratios.length / 2)] ?? 0]) {
    let size = start;
    let information = 0;
    for (let round = 0; round < ROUNDS; round++) {
      let score = 0;
      information = 1 / size_variance;
      for (const s of seen) {
        const p = toward(s.k);
        const w = ownShare(s, p * size, more);
        information += ((1 - w) * p * p) / (s.variance + more);
        score += ((1 - w) * p * s.off) / (s.variance + more);
      }
      const before = size;
      size = score / information;
      if (Math.abs(size - before) < SETTLED * Math.sqrt(size_variance)) break;
    }
    const ln =
      seen.reduce((sum, s) => sum + Math.log(density(s, toward(s.k) * size, more)), 0) -
      (size * size) / (2 * size_variance) -
      0.5 * Math.log(size_variance * information);
    if (ln > best.ln) best = { size, variance: 1 / information, ln };
  }
  return best;
};

const together = (s: Seen, at: number, more: number): number =>
  ((1 - OWN) * Math.exp(Math.max(-300, -((s.off - at) ** 2) / (2 * (s.variance + more))))) /
  Math.sqrt(s.variance + more);

const alone = (s: Seen): number => {
  const wide = s.variance + (OWN_WIDTH * s.sigma) ** 2;
  return (OWN * Math.exp(Math.max(-300, -(s.off * s.off) / (2 * wide)))) / Math.sqrt(wide);
};

const density = (s: Seen, at: number, more: number): number => together(s, at, more) + alone(s);
const ownShare = (s: Seen, at: number, more: number): number => alone(s) / density(s, at, more);
