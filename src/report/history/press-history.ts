import { initialResponse, knownOf, learnMove } from '../../core/adjust/response.js';
import type { Axis } from '../../core/axis.js';
import type { RunDigest } from '../../core/views/run-digest.js';
import { medianLife } from './median-life.js';
import { type Tally, type TurnTally, tallyOf } from './tally.js';

export type StationHistory = {
  readonly station: string;
  readonly movements: number;
  /** Movements of this station for each 10 000 m made; null when nothing was made. */
  readonly per_10_km: number | null;
  /** Its rate over the mean rate of the other stations; null when they never moved, or with too little to say (fewer than three movements). */
  readonly times_others: number | null;
  readonly usual: 'step' | 'ramp' | 'as often a step as a drift' | null;
  /** `backlash_mm`: slack when the direction is reversed; null = too few turns to tell it from reading scatter. */
  readonly gain: readonly {
    readonly axis: Axis;
    readonly turns: number;
    readonly gain: number;
    readonly backlash_mm: number | null;
  }[];
  /** Which way it moves on which axis: how often, for each 10 000 m, how far on the mean (+ ahead / + operator side), and the newest runs to look at. */
  readonly ways: readonly {
    readonly axis: Axis;
    readonly way: 'ahead' | 'behind' | 'operator side' | 'gear side';
    readonly movements: number;
    readonly per_10_km: number | null;
    readonly mean_mm: number;
    readonly runs: readonly string[];
  }[];
  readonly dirty_runs: number;
  /** Half of its plates were still clean after so many metres; null = fewer than half were seen to end. */
  readonly plate_life_m: number | null;
};

export type PressHistory = {
  readonly press: string;
  readonly runs: number;
  readonly made_m: number;
  readonly held_m: number;
  readonly web_movements: number;
  /** Movements by what caused them. */
  readonly causes: {
    readonly station: number;
    readonly reference: number;
    readonly web: number;
    readonly several: number;
  };
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
  [...tallyOf(digests)].sort(([a], [b]) => (a < b ? -1 : 1)).map(([press, tally]) => historyOf(press, tally));

/** Fewer movements than this say nothing about how often (own choice, no source). */
const ENOUGH = 3;

const rate = (count: number, metres: number): number | null => (metres > 0 ? (count / metres) * 10_000 : null);

function historyOf(press: string, tally: Tally): PressHistory {
  const rates = new Map(
    [...tally.stations].map(([id, station]) => [id, rate(station.steps + station.ramps, station.made_m) ?? 0]),
  );
  const all = [...rates.values()].reduce((sum, value) => sum + value, 0);
  return {
    press,
    runs: tally.runs,
    made_m: tally.made_m,
    held_m: tally.held_m,
    web_movements: tally.web_movements,
    causes: tally.causes,
    stations: [...tally.stations].map(
      ([station, { steps, ramps, made_m, turns, dirty_runs, lives, ways }]): StationHistory => {
        const movements = steps + ramps;
        const own = rates.get(station) ?? 0;
        const mean = rates.size > 1 ? (all - own) / (rates.size - 1) : 0;
        return {
          station,
          movements,
          per_10_km: rate(movements, made_m),
          times_others: made_m <= 0 || mean <= 1e-12 || movements < ENOUGH ? null : own / mean,
          usual:
            movements === 0 ? null : steps > ramps ? 'step' : ramps > steps ? 'ramp' : 'as often a step as a drift',
          gain: [...gainOf('along', turns.along), ...gainOf('across', turns.across)],
          ways: [...ways].map(([key, { movements: times, sum_mm, runs }]) => {
            const axis = key.startsWith('along') ? 'along' : 'across';
            return {
              axis,
              way: WAYS[axis][key.endsWith('+') ? 0 : 1],
              movements: times,
              per_10_km: rate(times, made_m),
              mean_mm: sum_mm / times,
              runs: runs.slice(-LOOK_AT),
            };
          }),
          dirty_runs,
          plate_life_m: medianLife(lives),
        };
      },
    ),
    months: [...tally.months]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([month, { made_m, movements }]) => {
        const per_10_km = rate(movements, made_m);
        return per_10_km === null ? [] : [{ month, made_m, movements, per_10_km }];
      }),
  };
}

const WAYS = { along: ['ahead', 'behind'], across: ['operator side', 'gear side'] } as const;
/** So many of the newest runs are named. */
const LOOK_AT = 3;

/** Slack is learned from the last turns only: a knob wears. */
const LAST = 60;

const gainOf = (axis: Axis, { turns, product, square, moves }: TurnTally): StationHistory['gain'] => {
  if (square === 0) return [];
  const known = knownOf(moves.slice(-LAST).reduce(learnMove, initialResponse(true)));
  const told = turns >= ENOUGH && known.backlash_mm > 2 * known.backlash_sd_mm;
  return [{ axis, turns, gain: product / square, backlash_mm: told ? known.backlash_mm : null }];
};
