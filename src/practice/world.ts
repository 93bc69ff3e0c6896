import type { Axis } from '../core/axis.js';
import type { Job } from '../core/job.js';
import type { Press } from '../core/press.js';
import { type Station, stationsOf } from '../core/run/stations.js';
import type { Exercise } from './exercise.js';
import { practiceSetup } from './practice-press.js';

/** One thing done to the press, where the counter stood. */
export type Done =
  | {
      readonly kind: 'turn';
      readonly web_m: number;
      readonly station: string;
      readonly axis: Axis;
      readonly teeth: number;
      readonly divisions: number;
      /** As turned, with the sign of the print's move by the press file. */
      readonly asked_mm: number;
      /** What the print really did: slack may have eaten some of it. */
      readonly got_mm: number;
    }
  | { readonly kind: 'pull'; readonly web_m: number; readonly check: number }
  /** Another label of sample `of`. */
  | { readonly kind: 'label'; readonly web_m: number; readonly check: number; readonly of: number }
  | { readonly kind: 'wash'; readonly web_m: number; readonly station: string }
  | { readonly kind: 'named'; readonly web_m: number; readonly what: string }
  | { readonly kind: 'tension' | 'stop' | 'safe' | 'start' | 'print off' | 'print on' | 'ok'; readonly web_m: number };

/** The practice press as it stands: the exercise and everything done so far. Plain values; no clock, no chance. */
export type World = {
  readonly exercise: Exercise;
  readonly press: Press;
  readonly job: Job;
  readonly stations: readonly Station[];
  readonly web_m: number;
  readonly running: boolean;
  /** Stopped and made safe. */
  readonly safe: boolean;
  readonly print_on: boolean;
  /** Counter at OK to run; null in make-ready. */
  readonly ok_m: number | null;
  readonly ended: boolean;
  /** Next check's number. */
  readonly next_check: number;
  readonly done: readonly Done[];
};

export const beginWorld = (exercise: Exercise): World => {
  const { press, job } = practiceSetup();
  return {
    exercise,
    press,
    job,
    stations: stationsOf(press, job),
    web_m: 0,
    running: !exercise.standing,
    safe: false,
    print_on: !exercise.standing,
    ok_m: exercise.make_ready ? null : 0,
    ended: false,
    next_check: 1,
    done: [],
  };
};

export const stationOf = (world: Pick<World, 'stations'>, id: string): Station | null =>
  world.stations.find((s) => s.id.toLowerCase() === id.toLowerCase()) ?? null;
