import type { AxisFound, CorrectionRead, Movement } from '../../../src/core/drift/movement.js';
import type { Seen, WatchConfig } from '../../../src/core/drift/seen.js';
import { initial, step, type WatchState } from '../../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, type SimPress, sigmaOf } from '../../support/press-sim.js';
import { type Seeded, seeded } from '../../support/seeded.js';

export const SIGMA = sigmaOf(SEVEN);

/** Everything said on the along axis over a run: a line each time a movement appears, changes its name, or settles. */
export type Told = { readonly check: number; readonly movement: Movement };

export type Watched = {
  readonly state: WatchState;
  readonly told: readonly Told[];
  readonly corrections: readonly (CorrectionRead & { readonly check: number })[];
  readonly last: readonly AxisFound[];
};

/** Folds checks through the watch and notes what is said. */
export const watchRun = (config: WatchConfig, checks: readonly Seen[]): Watched => {
  let state = initial(config);
  let last: readonly AxisFound[] = [];
  const told: Told[] = [];
  const corrections: (CorrectionRead & { check: number })[] = [];
  const said = new Map<number, string>();
  checks.forEach((seen, i) => {
    const r = step(config, state, seen);
    state = r.state;
    last = r.found;
    for (const movement of r.found.flatMap((f) => f.movements)) {
      const now = `${JSON.stringify(movement.cause)} ${movement.settled}`;
      if (said.get(movement.key) === now) continue;
      said.set(movement.key, now);
      told.push({ check: i + 1, movement });
    }
    for (const c of r.found.flatMap((f) => f.corrections)) corrections.push({ ...c, check: i + 1 });
  });
  return { state, told, corrections, last };
};

export type Scene = {
  readonly checks: number;
  /** True movement in sigmas of station `k` (by place) at check `t`, the reference by its own place. */
  readonly moves?: (k: number, t: number) => number;
  /** Known corrections in sigmas as they act on the reading. */
  readonly turns?: (k: number, t: number) => number;
  readonly reads?: (k: number, t: number) => boolean;
  readonly marks?: (t: number) => Partial<Pick<Seen, 'roll_change' | 'settling'>>;
  readonly seed?: number;
  readonly press?: SimPress;
};

/** Checks of a simulated press on which only the along axis moves; what is turned adds to what is read. */
export const scene = (s: Scene): readonly Seen[] => {
  const press = s.press ?? SEVEN;
  const random: Seeded = seeded(s.seed ?? 3);
  return Array.from({ length: s.checks }, (_, i) => {
    const t = i + 1;
    const turned = press.at_m.map((_, k) => (s.turns?.(k, t) ?? 0) * SIGMA);
    const truth = (k: number): number => (s.moves?.(k, t) ?? 0) * SIGMA;
    const seen = readPress(press, random, t, { along: truth, across: () => 0 }, (k) => s.reads?.(k, t) ?? true, {
      along: turned,
      across: turned.map(() => 0),
    });
    return { ...seen, ...s.marks?.(t) };
  });
};

/** One check with the given readings along (null = not read) and 0 across. */
export const plain = (t: number, along: readonly (number | null)[]): Seen => ({
  check: t,
  web_m: 650 * t,
  roll_change: false,
  settling: false,
  along: { read: along, turned: along.map(() => 0) },
  across: { read: along.map((r) => (r === null ? null : 0)), turned: along.map(() => 0) },
});

export const config = configOf(SEVEN);
