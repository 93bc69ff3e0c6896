import type { BringInDesk, BringInFactory, BringInLayout, BringInScenario, BringInScore } from './bring-in.js';
import { AXES, type Axis } from './crew.js';
import { makeLayout } from './layout.js';
import { between, hashNormal, hashUniform, normal, type Rng, sign, stream } from './prng.js';
import { scenario } from './scenario.js';

const READ_MIN = 0.15;
const TURN_MIN = 0.4;
const STOP_MIN = 8;
const RESTART_M = 10;
/** Metres run past the web path before the labels of a sample are torn off. */
const PAST_M = 5;

type Screw = { readonly gain: number; readonly play: number; hand: number; screw: number };
/** Place of a print (or a cut) on the web, mm, and its two knobs. */
type Unit = { along: number; across: number; readonly sd: number; readonly knob: Record<Axis, Screw> };

const drawScrew = (rng: Rng, s: BringInScenario): Screw => {
  const off = s.knobs === 'unmeasured' ? 0.5 * (2 * rng() - 1) : 0.05 * normal(rng);
  const play = s.knobs === 'play' ? between(rng, [0.05, 0.12]) : between(rng, [0, 0.03]);
  const way = rng() < s.reversedShare ? -1 : 1;
  return { gain: way * (1 + off), play, hand: 0, screw: (sign(rng) * play) / 2 };
};

const drawUnit = (s: BringInScenario, seed: number, k: number): Unit => {
  const rng = stream(seed, `make-ready ${k}`);
  const fine = rng() < s.fineShare;
  const teeth = Math.round(normal(rng) * s.startTeeth);
  const part = rng() - 0.5;
  const across = (2 * rng() - 1) * s.startAcrossMm;
  return {
    along: fine ? part * 0.1 : (teeth + part) * s.toothMm,
    across: fine ? part * 0.1 : across,
    sd: between(rng, s.labelMm),
    knob: { along: drawScrew(rng, s), across: drawScrew(rng, s) },
  };
};

const layoutOf = (s: BringInScenario, stationsN: number): BringInLayout => ({
  ...makeLayout(
    scenario('nothing', {
      dieFixedAlong: s.dieFixedAlong,
      dieFixedAcross: s.dieFixedAcross,
      divisionMm: s.divisionMm,
      graduationMm: s.graduationMm,
      labelMm: s.labelMm,
      speedMPerMin: s.speedMPerMin,
      referenceAt: s.referenceAt ?? 'first',
    }),
    stationsN,
  ),
  toothMm: s.toothMm,
  travelMm: s.travelMm,
  knobs: s.knobs === 'unmeasured' ? 'unmeasured' : 'given',
  helical: s.helical,
  canMesh: (id) => !(s.dieFixedAlong && id === 'D'),
});

/** One make-ready; the same seed hangs the same press for every crew. */
export const playBringIn = (
  s: BringInScenario,
  stationsN: number,
  seed: number,
  factory: BringInFactory,
): BringInScore => {
  const layout = layoutOf(s, stationsN);
  const units = new Map(layout.stations.map((x, k) => [x.id, drawUnit(s, seed, k)]));
  const unitOf = (id: string): Unit => {
    const unit = units.get(id);
    if (unit === undefined) throw new Error(`no station ${id}`);
    return unit;
  };
  const reference = unitOf(layout.referenceId);
  const count = { samples: 0, stops: 0, metres: 0, minutes: 0, turns: 0, readings: 0 };
  let done = false;
  let asked = new Map<string, number>();

  const run = (metres: number): void => {
    count.metres += metres;
    count.minutes += metres / s.speedMPerMin;
  };
  const error = (id: string, axis: Axis): number => unitOf(id)[axis] - reference[axis];
  const readAxis = (id: string, axis: Axis, nth: number): number => {
    const k = layout.stations.findIndex((x) => x.id === id);
    const key = [k, axis === 'along' ? 0 : 1, count.samples, nth] as const;
    const sd = unitOf(id).sd;
    const seen = error(id, axis) + Math.hypot(sd, s.loupeMm) * hashNormal(seed, 41, ...key);
    const keyed = Math.round(Math.round(seen / s.graduationMm) * s.graduationMm * 1e6) / 1e6;
    if (hashUniform(seed, 42, ...key) >= s.misread) return keyed;
    return hashUniform(seed, 43, ...key) < 0.5 ? -keyed || 0 : keyed + 0.1;
  };
  const turn = (id: string, axis: Axis, divisions: number): number => {
    if (done || !layout.hasKnob(id, axis)) return 0;
    const unit = unitOf(id);
    const screw = unit.knob[axis];
    const way = s.travelMm / Math.abs(screw.gain);
    const room = Math.floor((way + 1e-9 - Math.sign(divisions) * screw.hand) / s.divisionMm);
    const turned = Math.sign(divisions) * Math.min(Math.abs(Math.round(divisions)), Math.max(0, room));
    count.minutes += TURN_MIN;
    count.turns++;
    screw.hand += turned * s.divisionMm;
    const was = screw.screw;
    screw.screw = Math.min(screw.hand + screw.play / 2, Math.max(screw.hand - screw.play / 2, screw.screw));
    const moved = (screw.screw - was) * screw.gain;
    unit[axis] += moved;
    if (axis === 'across') unit.along += moved * s.helical;
    return turned || 0;
  };
  const desk: BringInDesk = {
    pull: () => {
      if (done || count.samples >= s.sampleLimit) return false;
      count.samples++;
      asked = new Map();
      run(layout.sampleM + PAST_M);
      return true;
    },
    read: (id) => {
      if (id === layout.referenceId) return { along: 0, across: 0 };
      if (count.samples === 0) return { along: null, across: null };
      const nth = asked.get(id) ?? 0;
      asked.set(id, nth + 1);
      count.minutes += READ_MIN;
      count.readings++;
      return { along: readAxis(id, 'along', nth), across: readAxis(id, 'across', nth) };
    },
    stopAndTeeth: (moves) => {
      if (done) return;
      count.stops++;
      count.minutes += STOP_MIN;
      run(RESTART_M);
      for (const m of moves) if (layout.canMesh(m.station)) unitOf(m.station).along += Math.round(m.teeth) * s.toothMm;
    },
    turn,
    turnMm: (id, axis, mm) => turn(id, axis, Math.round(mm / s.divisionMm)) * s.divisionMm,
    done: () => {
      done = true;
    },
    samples: () => count.samples,
    metres: () => count.metres,
    minutes: () => count.minutes,
  };
  factory(layout).bring(desk);
  const others = layout.stations.filter((x) => x.id !== layout.referenceId);
  const isIn = others.filter((x) => AXES.every((axis) => Math.abs(error(x.id, axis)) <= x.tolerance[axis]));
  const errors = others.flatMap((x) => AXES.map((axis) => [`${x.id}/${axis}`, error(x.id, axis)] as const));
  return { ...count, inShare: isIn.length / others.length, done, errors: Object.fromEntries(errors) };
};
