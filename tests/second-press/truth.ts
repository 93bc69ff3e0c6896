/** Where every station's print truly lies, from everything that moves it. */
import { type Creep, drawMoves } from './draw-moves.js';
import { type Knob, makeKnob } from './knob.js';
import { makeLayout } from './layout.js';
import { normal, stream } from './prng.js';
import type { Scenario } from './scenario.js';
import { type StepLine, stepLine } from './step-line.js';
import { type Line, wanderLine } from './wander.js';
import { makeWeb, type Web } from './web.js';

export type AxisNo = 0 | 1;

type Place = {
  readonly atM: number;
  readonly lagM: number;
  readonly standing: number;
  readonly slips: StepLine;
  readonly creeps: Creep[];
  readonly wander: Line;
  readonly warm: number;
  readonly knob: Knob;
};

export type Truth = {
  readonly web: Web;
  readonly reference: number;
  readonly places: readonly (readonly [Place, Place])[];
  /** Place of a station's print at the station at a counter, mm. */
  position(station: number, axis: AxisNo, counterM: number): number;
  /** Register error on the label at the sample place at a counter, mm. */
  onLabel(station: number, axis: AxisNo, counterM: number): number;
  /** Register error of what the station prints now, mm. */
  now(station: number, axis: AxisNo, counterM: number): number;
  slope(station: number, axis: AxisNo, counterM: number): number;
  /** What drives the error of that label the way it lies: a cause tag. */
  cause(station: number, axis: AxisNo, counterM: number): string;
};

const crept = (creeps: readonly Creep[], c: number): number => {
  let mm = 0;
  for (const p of creeps) if (c > p.fromM) mm += p.mmPerM * (Math.min(c, p.untilM) - p.fromM);
  return mm;
};

const makePlaces = (s: Scenario, n: number, reference: number, web: Web, seed: number): [Place, Place][] => {
  const layout = makeLayout(s, n);
  const totalM = s.rolls * s.finishedRollM;
  const moves = drawMoves(s, n, reference, web.splices, seed);
  return layout.stations.map((info, k) => {
    const place = (axis: AxisNo): Place => {
      const rng = stream(seed, `place ${k} ${axis}`);
      const slips = stepLine();
      for (const x of moves.slips) if (x.station === k && x.axis === axis) slips.add(x.atM, x.mm);
      return {
        atM: info.atM,
        lagM: layout.sampleM - info.atM,
        standing: k === reference ? 0 : (2 * rng() - 1) * s.standingMm,
        warm: normal(rng) * (axis === 0 ? s.warmMm : s.warmMm / 2),
        wander: wanderLine(
          rng,
          totalM,
          axis === 0 ? s.wanderMm : s.wanderAcrossMm,
          s.wanderM,
          s.walkMmPerRoll,
          s.finishedRollM,
        ),
        slips,
        creeps: moves.creeps.filter((x) => x.station === k && x.axis === axis),
        knob: makeKnob(s, k, axis, seed),
      };
    };
    return [place(0), place(1)];
  });
};

export const makeTruth = (s: Scenario, n: number, seed: number): Truth => {
  const reference = Number(makeLayout(s, n).referenceId) - 1;
  const web = makeWeb(s, ((n - 1) * s.pitchM) / 2, seed);
  const places = makePlaces(s, n, reference, web, seed);
  const at = (k: number, a: AxisNo): Place => {
    const p = places[k]?.[a];
    if (p === undefined) throw new Error(`no station ${k}`);
    return p;
  };
  const warmed = (p: Place, c: number): number => (p.warm === 0 || c <= 0 ? 0 : p.warm * (1 - Math.exp(-c / s.warmM)));
  const ofWeb = (p: Place, a: AxisNo, c: number): number => (a === 0 ? web.along(p.atM, c) : web.across(p.atM, c));
  const position = (k: number, a: AxisNo, c: number): number => {
    const p = at(k, a);
    const creep = p.creeps.length === 0 ? 0 : crept(p.creeps, c);
    return p.standing + p.slips.at(c) + creep + p.wander(c) + warmed(p, c) + p.knob.line.at(c) + ofWeb(p, a, c);
  };
  const onLabel = (k: number, a: AxisNo, c: number): number =>
    position(k, a, c - at(k, a).lagM) - position(reference, a, c - at(reference, a).lagM);
  const creepRate = (k: number, a: AxisNo, c: number): number =>
    at(k, a).creeps.reduce((r, p) => r + (c >= p.fromM && c < p.untilM ? p.mmPerM : 0), 0);
  return {
    web,
    reference,
    places,
    position,
    onLabel,
    now: (k, a, c) => position(k, a, c) - position(reference, a, c),
    slope: (k, a, c) => {
      const own = (j: number): number => creepRate(j, a, c) + (a === 0 ? web.alongRate(at(j, a).atM, c) : 0);
      return own(k) - own(reference);
    },
    cause: (k, a, c) => {
      const way = Math.sign(onLabel(k, a, c));
      const p = at(k, a);
      const r = at(reference, a);
      const cp = c - p.lagM;
      const cr = c - r.lagM;
      const parts: readonly (readonly [string, number])[] = [
        ['standing', p.standing - r.standing],
        ['slip', p.slips.at(cp)],
        ['creep', crept(p.creeps, cp)],
        ['reference', -r.slips.at(cr) - crept(r.creeps, cr)],
        ['wander', p.wander(cp) - r.wander(cr)],
        ['warming', warmed(p, cp) - warmed(r, cr)],
        [a === 0 ? 'tension' : 'skew', ofWeb(p, a, cp) - ofWeb(r, a, cr)],
        ['hand', p.knob.line.at(cp) - r.knob.line.at(cr)],
      ];
      return parts.reduce((best, x) => (x[1] * way > best[1] * way ? x : best))[0];
    },
  };
};
