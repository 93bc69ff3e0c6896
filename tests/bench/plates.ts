import { beliefOfLives, chanceDirty } from '../../src/core/plates/life.js';
import {
  initialPlates,
  noteWash,
  type PlateSeen,
  type PlatesConfig,
  plateViews,
  stepPlates,
} from '../../src/core/plates/plates.js';
import { type Seeded, seeded } from '../support/seeded.js';

const STATIONS = ['1', '2', '3', '4', '5', '6'];
const LABELS = 5;
const EVERY_M = 2000;

/** Simulated plates with the truth known: false flags, dirtying found, and whether "dirty before the next check" is calibrated. */
export const benchPlates = async (): Promise<string[]> => {
  const lines = [
    'Plates: six plates, five labels a check, nothing known beforehand (asked: one false flag in 300 checks of the press)',
  ];
  for (const [rate, scatter] of [
    [0.05, 1],
    [0.2, 1],
    [0.5, 1],
    [0.2, 1.5],
  ] as const) {
    const { checks, flags } = falseFlags(rate, scatter, 250);
    const { within3, within4, mean, runs } = found(rate, scatter, 500);
    lines.push(
      `  usual ${rate} flaws a label${scatter > 1 ? `, ${scatter} × Poisson scatter` : ''}: one false flag in ${Math.round(checks / Math.max(1, flags))} checks (${flags} in ${checks}); five times as many found within 3 checks ${percent(within3)}, within 4 ${percent(within4)} (± ${percent(Math.sqrt((within4 * (1 - within4)) / runs))}), mean ${mean.toFixed(1)}`,
    );
  }
  const known = knownRate();
  lines.push(
    `  0.2 to 1.0 with the rate known, exact Poisson CUSUM at the same false flags: within 3 ${percent(known.within3)}, within 4 ${percent(known.within4)}`,
  );
  lines.push('  "dirty before the next check": said / came true, by fifth (asked: within 0.08)');
  for (const row of calibration())
    lines.push(
      `    ${row.from.toFixed(1)}–${row.to.toFixed(1)}: said ${row.said.toFixed(3)}, came true ${row.came.toFixed(3)} (${row.n} checks)`,
    );
  return lines;
};

const config: PlatesConfig = { stations: STATIONS, asked: 300, roll_change: null };

const lookAt = (
  random: Seeded,
  rateOf: (station: string) => number,
  scatter: number,
  web_m: number,
): readonly PlateSeen[] =>
  STATIONS.map((station) => {
    const mean = rateOf(station) * LABELS;
    const drawn = scatter > 1 ? gamma(random, mean / (scatter - 1)) * (scatter - 1) : mean;
    return { station, grade: null, flaws: poisson(random, drawn), labels: LABELS, printed_m: web_m };
  });

/** False flags of clean plates over runs of 100 checks; a flagged plate is washed. */
export const falseFlags = (
  rate: number,
  scatter: number,
  runs: number,
): { readonly checks: number; readonly flags: number } => {
  const random = seeded(20261);
  let flags = 0;
  for (let run = 0; run < runs; run += 1) {
    let state = initialPlates();
    for (let check = 1; check <= 100; check += 1) {
      const web_m = check * EVERY_M;
      const done = stepPlates(config, state, {
        check,
        web_m,
        seen: lookAt(random, () => rate, scatter, web_m),
        next_check_m: null,
        stop: null,
      });
      state = done.state;
      for (const finding of done.findings) {
        flags += 1;
        state = noteWash(state, finding.station, web_m);
      }
    }
  }
  return { checks: runs * 100, flags };
};

/** Checks until a plate whose flaws become five times as many after twenty checks is flagged. */
export const found = (rate: number, scatter: number, runs: number) => {
  const random = seeded(7);
  const delays: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    let state = initialPlates();
    let delay = 40;
    for (let check = 1; check <= 60 && delay === 40; check += 1) {
      const web_m = check * EVERY_M;
      const rateOf = (station: string): number => (check > 20 && station === '3' ? rate * 5 : rate);
      const done = stepPlates(config, state, {
        check,
        web_m,
        seen: lookAt(random, rateOf, scatter, web_m),
        next_check_m: null,
        stop: null,
      });
      state = done.state;
      for (const finding of done.findings) {
        if (finding.station === '3' && check > 20) delay = check - 20;
        else state = noteWash(state, finding.station, web_m);
      }
    }
    delays.push(delay);
  }
  return {
    runs,
    within3: delays.filter((delay) => delay <= 3).length / runs,
    within4: delays.filter((delay) => delay <= 4).length / runs,
    mean: delays.reduce((sum, delay) => sum + delay, 0) / runs,
  };
};

/** The yardstick: tabular CUSUM with both rates known, decision 3.6, one false signal in about 1800 looks of one plate. */
const knownRate = (): { readonly within3: number; readonly within4: number } => {
  const random = seeded(11);
  const slack = 4 / Math.log(5);
  let [within3, within4] = [0, 0];
  const runs = 4000;
  for (let run = 0; run < runs; run += 1) {
    let sum = 0;
    for (let i = 0; i < 20; i += 1) sum = Math.min(3.5, Math.max(0, sum + poisson(random, 1) - slack));
    let delay = 0;
    do {
      delay += 1;
      sum = Math.max(0, sum + poisson(random, 5) - slack);
    } while (sum < 3.6 && delay < 40);
    if (delay <= 3) within3 += 1;
    if (delay <= 4) within4 += 1;
  }
  return { within3: within3 / runs, within4: within4 / runs };
};

/**
 * Plates whose lives are Weibull with a shape and scale of their own, graded clean or dirty at every check, washed when dirty;
 * what was said at a clean check against what the next one saw.
 */
export const calibration = () => {
  const random = seeded(5);
  const said: { readonly p: number; readonly came: boolean }[] = [];
  for (let press = 0; press < 60; press += 1) {
    const shape = Math.exp(Math.log(2.2) + 0.3 * random.normal());
    const scale = Math.exp(Math.log(11000) + 0.5 * random.normal());
    let state = initialPlates();
    let start = 0;
    let life = scale * (-Math.log(1 - random.uniform())) ** (1 / shape);
    let told: number | null = null;
    for (let check = 1; check <= 120; check += 1) {
      const web_m = check * EVERY_M;
      const dirty = web_m - start > life;
      if (told !== null) said.push({ p: told, came: dirty });
      const seen: PlateSeen[] = [
        { station: '1', grade: dirty ? 'dirty' : 'clean', flaws: null, labels: null, printed_m: web_m },
      ];
      state = stepPlates({ ...config, stations: ['1'] }, state, {
        check,
        web_m,
        seen,
        next_check_m: web_m + EVERY_M,
        stop: null,
      }).state;
      told = dirty ? null : (plateViews({ stations: ['1'] }, state)[0]?.p_dirty_next ?? null);
      if (dirty) {
        state = noteWash(state, '1', web_m);
        start = web_m;
        life = scale * (-Math.log(1 - random.uniform())) ** (1 / shape);
        told = chanceDirty(beliefOfLives(state.stations['1']?.lives ?? []), 0, EVERY_M);
      }
    }
  }
  return [0, 0.2, 0.4, 0.6, 0.8].flatMap((from) => {
    const rows = said.filter(({ p }) => p >= from && (p < from + 0.2 || from === 0.8));
    if (rows.length === 0) return [];
    return [
      {
        from,
        to: from + 0.2,
        n: rows.length,
        said: rows.reduce((sum, { p }) => sum + p, 0) / rows.length,
        came: rows.filter(({ came }) => came).length / rows.length,
      },
    ];
  });
};

const poisson = (random: Seeded, mean: number): number => {
  const least = Math.exp(-mean);
  let product = random.uniform();
  let count = 0;
  while (product > least) {
    product *= random.uniform();
    count += 1;
  }
  return count;
};

/** Marsaglia and Tsang (2000), from memory. */
const gamma = (random: Seeded, shape: number): number => {
  if (shape < 1) return gamma(random, shape + 1) * random.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = random.normal();
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(random.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
};

const percent = (share: number): string => `${(share * 100).toFixed(0)} %`;
