import type { Axis } from '../core/axis.js';
import type { SensorReading } from '../core/sensor-reading.js';

/** What makes register move on the simulated press. Positions are of the web counter, m. */
export type SimulatedCause =
  /** A station (or the reference) creeps: a knob not locked, a cylinder that warms. */
  | {
      readonly kind: 'creep';
      readonly station: string;
      readonly axis: Axis;
      readonly from_m: number;
      readonly to_m: number;
      readonly mm_per_km: number;
    }
  /** A station jumps: a plate that slipped, a knob knocked. */
  | { readonly kind: 'step'; readonly station: string; readonly axis: Axis; readonly at_m: number; readonly mm: number }
  /** The web's strain changes: tension, moisture, heat. Reached over `over_m` (0 = at once). */
  | { readonly kind: 'strain'; readonly at_m: number; readonly strain: number; readonly over_m: number }
  /** Every roll pulls its own way: strain of roll 1, 2, … in turn, reached over `over_m` from the splice; within a roll it grows as the roll gets small. */
  | {
      readonly kind: 'rolls';
      readonly length_m: number;
      readonly strains: readonly number[];
      readonly over_m: number;
      readonly growth: number;
    }
  /** A plate fills in: its mark grows weaker and wider. `washed_m` = when it was washed. */
  | { readonly kind: 'dirt'; readonly station: string; readonly from_m: number; readonly per_km: number };

export type SimulatedStation = {
  readonly id: string;
  /** Metres of web path from the unwind. */
  readonly at_m: number;
  /** Run-out of its cylinder: amplitude once a repeat, mm. */
  readonly run_out_mm: number;
};

export type SimulatedWeb = {
  readonly stations: readonly SimulatedStation[];
  readonly reference: string;
  /** Where on the web path the sensor looks, m. */
  readonly sensor_m: number;
  readonly repeat_m: number;
  readonly marks_per_repeat: number;
  readonly causes: readonly SimulatedCause[];
  /** Scatter from repeat to repeat, 1 sigma, mm. */
  readonly noise_mm: { readonly along: number; readonly across: number };
  /** What the sensor rounds to, mm; 0 = not. */
  readonly resolution_mm: number;
  /** Share of repeats without a usable mark, 0 to 1. */
  readonly share_bad: number;
};

/** A knob turned or a plate washed on the simulated press. */
export type SimulatedAct =
  | {
      readonly kind: 'move';
      readonly station: string;
      readonly axis: Axis;
      readonly mm: number;
      readonly web_m: number;
    }
  | { readonly kind: 'wash'; readonly station: string; readonly web_m: number };

/**
 * Where a station prints at a web position, mm against true: its own movements, the acts done to it so far, and along the web the strain between
 * the unwind and it. A rise of strain by ε makes what is printed L metres of web further lag by L·ε (a web held by in-feed and out-feed only:
 * x = −L·ε, persistent). Example: ε = 1e-4 at 2.4 m is −0.24 mm.
 */
export const printedAt = (
  web: SimulatedWeb,
  acts: readonly SimulatedAct[],
  station: SimulatedStation,
  axis: Axis,
  web_m: number,
): number => {
  let mm = 0;
  for (const cause of web.causes) {
    if (cause.kind === 'creep' && cause.station === station.id && cause.axis === axis) {
      mm += (cause.mm_per_km * Math.max(0, Math.min(web_m, cause.to_m) - cause.from_m)) / 1000;
    } else if (cause.kind === 'step' && cause.station === station.id && cause.axis === axis && web_m >= cause.at_m)
      mm += cause.mm;
    else if (cause.kind === 'strain' && axis === 'along' && web_m > cause.at_m) {
      const reached = cause.over_m <= 0 ? 1 : 1 - Math.exp((-3 * (web_m - cause.at_m)) / cause.over_m);
      mm -= station.at_m * 1000 * cause.strain * reached;
    } else if (cause.kind === 'rolls' && axis === 'along') mm -= station.at_m * 1000 * rollStrain(cause, web_m);
  }
  for (const act of acts)
    if (act.kind === 'move' && act.station === station.id && act.axis === axis && web_m >= act.web_m) mm += act.mm;
  return mm;
};

type Rolls = Extract<SimulatedCause, { kind: 'rolls' }>;

/** Strain of the roll on the unwind: its own, settled after the splice, and more as the unwind's brake pulls harder on a smaller roll. */
const rollStrain = ({ length_m, strains, over_m, growth }: Rolls, web_m: number): number => {
  const roll = Math.max(0, Math.floor(web_m / length_m));
  const of = (k: number): number => strains[k % strains.length] ?? 0;
  const into = Math.max(0, web_m - roll * length_m);
  const settled = over_m <= 0 ? 1 : 1 - Math.exp((-3 * into) / over_m);
  const before = roll === 0 ? of(0) : of(roll - 1) + growth;
  return before + (of(roll) - before) * settled + (growth * into) / length_m;
};

/** How strong a station's mark is at a web position, 0 to 1: dirt takes it away, washing brings it back. */
export const strengthAt = (
  web: SimulatedWeb,
  acts: readonly SimulatedAct[],
  station: string,
  web_m: number,
): number => {
  let lost = 0;
  for (const cause of web.causes) {
    if (cause.kind !== 'dirt' || cause.station !== station) continue;
    const washed = acts.reduce(
      (m, act) => (act.kind === 'wash' && act.station === station && act.web_m <= web_m ? Math.max(m, act.web_m) : m),
      cause.from_m,
    );
    lost += (cause.per_km * Math.max(0, web_m - washed)) / 1000;
  }
  return Math.max(0.05, 0.9 - lost);
};

/**
 * What the sensor reads of every station when mark `mark` (of the repeat) passes it at a web position: each station as it printed when this
 * piece of web was under it, against the reference as it printed then, with run-out, scatter and rounding. `random` gives 0 to 1.
 */
export const sensorReads = (
  web: SimulatedWeb,
  acts: readonly SimulatedAct[],
  web_m: number,
  mark: number,
  random: () => number,
): readonly SensorReading[] => {
  const reference = web.stations.find((s) => s.id === web.reference);
  return web.stations
    .filter((s) => s.id !== web.reference)
    .map((station) => {
      if (random() < web.share_bad)
        return { station: station.id, along_mm: null, across_mm: null, strength: 0, width_mm: null };
      const one = (axis: Axis, noise: number): number => {
        const own = printedAt(web, acts, station, axis, web_m - (web.sensor_m - station.at_m));
        const against =
          reference === undefined ? 0 : printedAt(web, acts, reference, axis, web_m - (web.sensor_m - reference.at_m));
        const turn =
          axis === 'along'
            ? station.run_out_mm * Math.sin((2 * Math.PI * mark) / web.marks_per_repeat + station.at_m)
            : 0;
        const value = own - against + turn + noise * normal(random);
        return web.resolution_mm > 0 ? Math.round(value / web.resolution_mm) * web.resolution_mm : value;
      };
      const strength = strengthAt(web, acts, station.id, web_m - (web.sensor_m - station.at_m));
      return {
        station: station.id,
        along_mm: one('along', web.noise_mm.along),
        across_mm: one('across', web.noise_mm.across),
        strength: Math.min(1, Math.max(0, strength + 0.02 * normal(random))),
        width_mm: 1 + 0.4 * (0.9 - strength),
      };
    });
};

/** One value of the standard normal distribution (Box and Muller 1958). */
const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
