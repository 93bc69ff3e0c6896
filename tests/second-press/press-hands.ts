/** The clock, the knobs and the hands at them: all that a crew can do to the press, and what it costs. */
import type { Axis, Hidden, Layout } from './crew.js';
import { hashUniform } from './prng.js';
import type { Scenario } from './scenario.js';
import type { AxisNo, Truth } from './truth.js';

export const READ_MIN = 0.15;
export const TURN_MIN = 0.4;
export const TENSION_MIN = 3;

export type Turned = { station: string; axis: Axis; asked: number; turned: number; atM: number; movedMm: number };

export type Hands = {
  readonly hidden: Hidden;
  counterM(): number;
  /** The press runs on for so long. */
  spend(minutes: number): void;
  runTo(counterM: number): void;
  turn(station: string, axis: Axis, divisions: number): number;
  look(): boolean;
  readonly log: Turned[];
  count(): { touches: number; worseTurns: number; tensionLooks: number; busyMinutes: number };
};

export const axisNo = (axis: Axis): AxisNo => (axis === 'along' ? 0 : 1);

export const makeHands = (s: Scenario, layout: Layout, truth: Truth, seed: number): Hands => {
  let counter = 0;
  let touches = 0;
  let worseTurns = 0;
  let tensionLooks = 0;
  let busyMinutes = 0;
  const log: Turned[] = [];
  const indexOf = (id: string): number => {
    const k = layout.stations.findIndex((x) => x.id === id);
    if (k < 0) throw new Error(`no station ${id}`);
    return k;
  };
  const spend = (minutes: number): void => {
    counter += minutes * s.speedMPerMin;
  };
  /** Error of the station turned; for the reference the median of all others. */
  const errorNow = (k: number, a: AxisNo): number => {
    if (k !== truth.reference) return Math.abs(truth.now(k, a, counter));
    const all = layout.stations.flatMap((_, j) => (j === k ? [] : [Math.abs(truth.now(j, a, counter))]));
    all.sort((x, y) => x - y);
    const half = all.length / 2;
    return ((all[Math.ceil(half) - 1] ?? 0) + (all[Math.floor(half)] ?? 0)) / 2;
  };
  const act = (id: string, axis: Axis, asked: number, move: (k: number, a: AxisNo) => [number, number]): void => {
    const k = indexOf(id);
    const a = axisNo(axis);
    spend(TURN_MIN);
    busyMinutes += TURN_MIN;
    const before = errorNow(k, a);
    const [turned, movedMm] = move(k, a);
    if (turned !== 0)
      for (const creep of truth.places[k]?.[a].creeps ?? [])
        if (creep.locks && creep.fromM <= counter) creep.untilM = Math.min(creep.untilM, counter);
    touches++;
    if (errorNow(k, a) > before + 0.01) worseTurns++;
    log.push({ station: id, axis, asked, turned, atM: counter, movedMm });
  };
  const knobOf = (k: number, a: AxisNo) => truth.places[k]?.[a].knob;
  return {
    log,
    counterM: () => counter,
    spend,
    runTo: (c) => {
      counter = Math.max(counter, c);
    },
    turn: (id, axis, divisions) => {
      const asked = Math.round(divisions) || 0;
      if (asked === 0 || !layout.hasKnob(id, axis)) return 0;
      const slip = (what: number): number => hashUniform(seed, 21, what, indexOf(id), axisNo(axis), touches);
      const many = slip(1) < s.oneTooMany ? asked + Math.sign(asked) : asked;
      const turned = slip(2) < s.wrongWay ? -many : many;
      act(id, axis, asked, (k, a) => [turned, knobOf(k, a)?.turn(turned, counter) ?? 0]);
      return asked;
    },
    look: () => {
      spend(TENSION_MIN);
      busyMinutes += TENSION_MIN;
      tensionLooks++;
      return truth.web.look(counter);
    },
    count: () => ({ touches, worseTurns, tensionLooks, busyMinutes }),
    hidden: {
      error: (id, axis) => truth.now(indexOf(id), axisNo(axis), counter),
      slope: (id, axis) => truth.slope(indexOf(id), axisNo(axis), counter),
      move: (id, axis, mm) => {
        if (!layout.hasKnob(id, axis)) return;
        act(id, axis, mm / s.divisionMm, (k, a) => {
          knobOf(k, a)?.shift(mm, counter);
          return [mm / s.divisionMm, mm];
        });
      },
    },
  };
};
