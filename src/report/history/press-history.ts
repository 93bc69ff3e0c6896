import type { Axis } from '../../core/axis.js';
import type { RunDigest } from './run-digest.js';

export type StationHistory = {
  readonly station: string;
  readonly movements: number;
  /** Movements of this station for each 10 000 m made; null when nothing was made. */
  readonly per_10_km: number | null;
  /** Its rate over the mean rate of the other stations; null when they never moved, or with too little to say (fewer than three movements). */
  readonly times_others: number | null;
  readonly usual: 'step' | 'ramp' | 'as often a step as a drift' | null;
  readonly gain: readonly { readonly axis: Axis; readonly turns: number; readonly gain: number }[];
  readonly dirty_runs: number;
};

export type PressHistory = {
  readonly press: string;
  readonly runs: number;
  readonly made_m: number;
  readonly held_m: number;
  readonly web_movements: number;
  readonly stations: readonly StationHistory[];
  /** Movements for each 10 000 m by month ("2026-05"), oldest first; months in which nothing was made are not there. */
  readonly months: readonly {
    readonly month: string;
    readonly made_m: number;
    readonly movements: number;
    readonly per_10_km: number;
  }[];
};

/**
 * Each press over all its runs: how often each station moves, which way, what its knobs really do, whether it gets better or worse by the
 * month. Rates are movements ÷ metres made × 10 000. Example: 6 movements in 30 000 m → 2 for each 10 000 m.
 */
export const pressHistory = (digests: readonly RunDigest[]): readonly PressHistory[] =>
  [...new Set(digests.map(({ press }) => press))].sort().map((press) =>
    one(
      press,
      digests.filter((digest) => digest.press === press),
    ),
  );

function one(press: string, runs: readonly RunDigest[]): PressHistory {
  const made_m = sum(runs.map((run) => run.made_m));
  const ids = [...new Set(runs.flatMap((run) => run.stations))];
  const counts = new Map(ids.map((id) => [id, own(runs, id).length]));
  return {
    press,
    runs: runs.length,
    made_m,
    held_m: sum(runs.map((run) => run.held_m)),
    web_movements: sum(runs.map((run) => run.movements.filter(({ cause }) => cause === 'web').length)),
    stations: ids.map((id) => stationOf(id, runs, counts)),
    months: monthsOf(runs),
  };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const rate = (count: number, metres: number): number | null => (metres > 0 ? (count / metres) * 10_000 : null);
const own = (runs: readonly RunDigest[], id: string): readonly RunDigest['movements'][number][] =>
  runs.flatMap((run) => run.movements.filter(({ stations }) => stations.includes(id)));

/** Fewer movements than this say nothing about how often (own choice, no source). */
const ENOUGH = 3;

function stationOf(id: string, runs: readonly RunDigest[], counts: ReadonlyMap<string, number>): StationHistory {
  const moved = own(runs, id);
  const there = runs.filter((run) => run.stations.includes(id));
  const per_10_km = rate(moved.length, sum(there.map((run) => run.made_m)));
  const others = [...counts]
    .filter(([other]) => other !== id)
    .map(
      ([other, count]) =>
        rate(count, sum(runs.filter((run) => run.stations.includes(other)).map((run) => run.made_m))) ?? 0,
    );
  const mean = others.length === 0 ? 0 : sum(others) / others.length;
  const steps = moved.filter(({ shape }) => shape === 'step').length;
  const ramps = moved.length - steps;
  return {
    station: id,
    movements: moved.length,
    per_10_km,
    times_others: per_10_km === null || mean === 0 || moved.length < ENOUGH ? null : per_10_km / mean,
    usual: moved.length === 0 ? null : steps > ramps ? 'step' : ramps > steps ? 'ramp' : 'as often a step as a drift',
    gain: (['along', 'across'] as const).flatMap((axis) =>
      gainOf(
        runs.flatMap((run) => run.turns.filter((turn) => turn.station === id && turn.axis === axis)),
        axis,
      ),
    ),
    dirty_runs: there.filter((run) => run.washed.some(({ station, flag }) => station === id && flag === 'dirty'))
      .length,
  };
}

function gainOf(turns: readonly RunDigest['turns'][number][], axis: Axis): StationHistory['gain'] {
  const bottom = sum(turns.map(({ asked_mm }) => asked_mm * asked_mm));
  return bottom === 0
    ? []
    : [{ axis, turns: turns.length, gain: sum(turns.map(({ asked_mm, got_mm }) => asked_mm * got_mm)) / bottom }];
}

function monthsOf(runs: readonly RunDigest[]): PressHistory['months'] {
  const names = [...new Set(runs.map(({ began_at }) => began_at.slice(0, 7)))].sort();
  return names.flatMap((month) => {
    const within = runs.filter(({ began_at }) => began_at.startsWith(month));
    const made_m = sum(within.map((run) => run.made_m));
    const movements = sum(within.map((run) => run.movements.length));
    const per_10_km = rate(movements, made_m);
    return per_10_km === null ? [] : [{ month, made_m, movements, per_10_km }];
  });
}
