import { restrain } from '../../src/core/adjust/restraint.js';
import { forecast } from '../../src/core/drift/forecast.js';
import { motion } from '../../src/core/drift/motion.js';
import { initial, levels, scatter, step } from '../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, sigmaOf } from '../support/press-sim.js';
import { type Seeded, seeded } from '../support/seeded.js';

export const TROUBLES = ['pure scatter', 'step 3', 'ramp 0.1', 'walk 0.1', 'walk 0.2', 'walk 0.4'] as const;
export type Trouble = (typeof TROUBLES)[number];

const CHECKS = 120;
const STATION = 3;
const TOLERANCE = 3.75;
const KNOB_ERROR = 0.1;
const WEIGHTS = [0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5];

/** Mean square of the readings in sigma², share of the true register outside tolerance, touches in a run. */
export type Outcome = {
  readonly square: number;
  readonly squareError: number;
  readonly out: number;
  readonly touches: number;
};

/** A rule sees the reading, sigmas, and says the move for the next check. */
type Rule = (reading: number) => number;

/** Plain rules on one channel: never, always by the last reading, an EWMA kept at zero at every check (integral control of weight `w`). */
export const plainRule = (trouble: Trouble, runs: number, rule: Rule, knobError = KNOB_ERROR): Outcome => {
  const each: Run[] = [];
  for (let run = 0; run < runs; run++) {
    const truth = truthOf(trouble, seeded(7000 + run));
    const random = seeded(100 + run);
    let moved = 0;
    let square = 0;
    let out = 0;
    let touches = 0;
    for (let t = 1; t <= CHECKS; t++) {
      const level = (truth[t] ?? 0) + moved;
      const reading = level + random.normal();
      square += reading * reading;
      if (Math.abs(level) > TOLERANCE) out += 1;
      const move = rule(reading);
      if (move === 0) continue;
      touches += 1;
      moved += move * (1 + knobError * random.normal());
    }
    each.push({ square, out, touches });
  }
  return outcome(each);
};

/** Our advice on the whole press, obeyed at the next check, for the one station that is in trouble. */
export const ours = (trouble: Trouble, runs: number): Outcome => {
  const config = configOf(SEVEN);
  const sigma = sigmaOf(SEVEN);
  const each: Run[] = [];
  for (let run = 0; run < runs; run++) {
    const truth = truthOf(trouble, seeded(7000 + run));
    const random = seeded(100 + run);
    let asked = 0;
    let got = 0;
    let square = 0;
    let out = 0;
    let touches = 0;
    let state = initial(config);
    for (let t = 1; t <= CHECKS; t++) {
      const level = (truth[t] ?? 0) * sigma + got;
      const turned = SEVEN.at_m.map((_, k) => (k === STATION ? asked : 0));
      const seen = readPress(
        SEVEN,
        random,
        t,
        { along: (k) => (k === STATION ? level - asked : 0), across: () => 0 },
        undefined,
        {
          along: turned,
          across: turned.map(() => 0),
        },
      );
      square += ((seen.along.read[STATION] ?? 0) / sigma) ** 2;
      if (Math.abs(level) > TOLERANCE * sigma) out += 1;
      const stepped = step(config, state, seen);
      state = stepped.state;
      const id = String(STATION + 1);
      const open = stepped.found[0]?.movements.some(
        (m) =>
          !m.settled &&
          (m.cause.kind === 'several'
            ? m.cause.stations.includes(id)
            : m.cause.kind === 'station' && m.cause.station === id),
      );
      const now = levels(config, state, 'along')[STATION];
      const going = motion(config, state, 'along', id);
      const next = forecast(config, state, 'along', id, (t + 1) * SEVEN.every_m, TOLERANCE * sigma);
      if (open !== true || now === null || now === undefined || going === null || next === null) continue;
      const advice = restrain({
        level: now,
        sigma_mm: scatter(config, state).along.station_mm[STATION] ?? sigma,
        tolerance_mm: TOLERANCE * sigma,
        p_out: next.p_out,
        going: going.going,
        slope_mm_per_check: going.slope_mm_per_check,
        step_mm: null,
      });
      if (!advice.act) continue;
      touches += 1;
      asked += advice.move_mm;
      got += advice.move_mm * (1 + KNOB_ERROR * random.normal());
    }
    each.push({ square, out, touches });
  }
  return outcome(each);
};

export const benchRestraint = (runs: number): readonly string[] => {
  const lines = [
    'Closed loop, 120 checks, tolerance 3.75 sigma, knob error 10 %: mean square of the readings (sigma²) / true register out (%) / touches',
    'trouble        never                 last reading          EWMA at every check, best   our advice             mean square over best   out over best',
  ];
  for (const trouble of TROUBLES) {
    const never = plainRule(trouble, runs, () => 0);
    const last = plainRule(trouble, runs, (x) => -x);
    const smoothed = WEIGHTS.map((w) => ({ w, o: plainRule(trouble, runs, (x) => -w * x) })).reduce((a, b) =>
      b.o.square < a.o.square ? b : a,
    );
    const mine = ours(trouble, runs);
    const best = [never, last, smoothed.o].reduce((a, b) => (b.square < a.square ? b : a));
    lines.push(
      `${trouble.padEnd(14)} ${tell(never)}   ${tell(last)}   ${tell(smoothed.o)} (w ${smoothed.w})   ${tell(mine)} ± ${mine.squareError.toFixed(3)}   ${(mine.square / best.square).toFixed(2)}   ${(100 * (mine.out - best.out)).toFixed(2)} pp`,
    );
  }
  return lines;
};

type Run = { readonly square: number; readonly out: number; readonly touches: number };

const outcome = (runs: readonly Run[]): Outcome => {
  const mean = (of: (r: Run) => number): number => runs.reduce((a, r) => a + of(r), 0) / runs.length;
  const square = mean((r) => r.square / CHECKS);
  const spread = mean((r) => (r.square / CHECKS - square) ** 2);
  return {
    square,
    squareError: Math.sqrt(spread / runs.length),
    out: mean((r) => r.out / CHECKS),
    touches: mean((r) => r.touches),
  };
};

const tell = (o: Outcome): string =>
  `${o.square.toFixed(2).padStart(6)} / ${(100 * o.out).toFixed(2).padStart(5)} / ${o.touches.toFixed(1).padStart(5)}`;

const truthOf = (trouble: Trouble, random: Seeded): readonly number[] => {
  const size = Number(trouble.split(' ')[1]);
  let walk = 0;
  return Array.from({ length: CHECKS + 1 }, (_, t) => {
    walk += size * random.normal();
    if (trouble === 'pure scatter') return 0;
    if (trouble === 'step 3') return t > 20 ? 3 : 0;
    return trouble === 'ramp 0.1' ? 0.1 * t : walk;
  });
};
