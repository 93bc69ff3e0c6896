import type { Finding, Move } from '../../src/core/finding.js';
import type { RecordBody } from '../../src/core/record.js';
import { readPress, SEVEN, sigmaOf } from '../support/press-sim.js';
import { reading } from '../support/reading.js';
import { seeded } from '../support/seeded.js';
import { type TryRun, tryRun } from '../support/try-run.js';

const SIGMA = sigmaOf(SEVEN);
const IDS = SEVEN.at_m.map((_, k) => String(k + 1));
const EVERY_M = 2000;

/** Delays of the prototype that the whole press is held against: mean checks to the first notice, share named right. */
const PROTOTYPE = {
  station: { 1: [11.7, 93], 1.5: [6.0, null], 2: [3.7, 97], 3: [2.0, 98] },
  reference: { 1: [4.6, 84], 1.5: [2.4, null], 2: [1.6, 92], 3: [1.04, 95] },
  web: { 1: [8.1, 74], 1.5: [4.3, null], 2: [2.9, 85], 3: [1.55, 89] },
} as const;
type CauseKind = keyof typeof PROTOTYPE;
type Sizes = 1 | 1.5 | 2 | 3;

/** The same questions as the benches of the watch, asked of records through the whole fold: what a log, a replay and the board say. */
export const benchWholePress = (runs = 60): readonly string[] => [
  'THE WHOLE PRESS, records through the fold (7 stations, sigma 0.04 mm, both axes, scatter learned; tolerance 3.75 sigma)',
  ...quiet(runs * 2),
  'moved         sigma  delay (prototype, ratio)   named right (prototype)',
  ...delays(runs * 5),
  'closed loop, 120 checks, advice obeyed at the next check, knob error 10 %: mean square in sigma^2, true register out, touches',
  ...(['pure scatter', 'step 3', 'ramp 0.1', 'walk 0.1', 'walk 0.2', 'walk 0.4'] as const).map((t) =>
    closedLoop(t, Math.ceil(runs / 2)),
  ),
];

const press = (tolerance_mm: number): TryRun =>
  tryRun({
    press: {
      stations: IDS.map((id, k) => ({ id, kind: k === IDS.length - 1 ? 'die' : 'print', at_m: SEVEN.at_m[k] })),
      knobs: {
        along: { division_mm: 0.005, travel_mm: 9, sense: 1 },
        across: { division_mm: 0.005, travel_mm: 9, sense: 1 },
      },
    },
    job: {
      stations: IDS.map((id) => ({ id })),
      tolerance: {
        print: { along_mm: tolerance_mm, across_mm: tolerance_mm },
        die: { along_mm: tolerance_mm, across_mm: tolerance_mm },
      },
      reading: { resolution_mm: 0.001, spread_mm: 0.04, spread_worth_checks: 10 },
    },
  });

/** One check of the simulated press as a record; `truth` in mm along, the reference's own among it. */
const checkOf = (
  random: ReturnType<typeof seeded>,
  n: number,
  along: (k: number) => number,
  across: (k: number) => number = () => 0,
): RecordBody => {
  const seen = readPress(SEVEN, random, n, { along, across });
  return {
    type: 'check',
    check: n,
    web_m: n * EVERY_M,
    roll: null,
    pulled_at: null,
    source: 'keyed',
    place: null,
    readings: IDS.map((station, k) =>
      reading(station, { along_mm: seen.along.read[k] ?? null, across_mm: seen.across.read[k] ?? null }),
    ),
  };
};

const still = (): number => 0;

const quiet = (runs: number): readonly string[] => {
  let notices = 0;
  let checks = 0;
  for (let run = 0; run < runs; run++) {
    const random = seeded(500 + run);
    const on = press(3.75 * SIGMA);
    const spoken = new Set<number>();
    for (let n = 1; n <= 150; n++) {
      checks += 1;
      for (const f of on.put(checkOf(random, n, still))) {
        if (f.type !== 'event' || spoken.has(f.id)) continue;
        spoken.add(f.id);
        if (f.severity !== 'out') notices += 1;
      }
    }
  }
  const per = checks / Math.max(1, notices);
  return [
    `no movement: one false notice in ${per.toFixed(0)} checks (asked 200; s.e. about ${(per / Math.sqrt(Math.max(1, notices))).toFixed(0)})`,
  ];
};

const delays = (runs: number): readonly string[] => {
  const ratios: number[] = [];
  const lines = (Object.keys(PROTOTYPE) as CauseKind[]).flatMap((cause) =>
    ([1, 1.5, 2, 3] as const).map((size) => {
      const [asked, right] = PROTOTYPE[cause][size];
      const got = delayOf(cause, size, runs);
      ratios.push(got.delay / asked);
      return `${`${cause.padEnd(13)} ${String(size).padEnd(6)} ${got.delay.toFixed(2).padStart(5)} (${asked}, ${(got.delay / asked).toFixed(2)})`.padEnd(
        48,
      )}${got.right.toFixed(0)} % (${right ?? '-'})`;
    }),
  );
  return [
    ...lines,
    `mean of the ratios ${(ratios.reduce((a, b) => a + b, 0) / ratios.length).toFixed(2)} (at most 1.3), largest ${Math.max(...ratios).toFixed(2)} (at most 1.45)`,
  ];
};

const delayOf = (cause: CauseKind, size: Sizes, runs: number): { readonly delay: number; readonly right: number } => {
  let checks = 0;
  let counted = 0;
  let right = 0;
  for (let run = 0; run < runs; run++) {
    const random = seeded(9000 + run * 13 + size * 100);
    const on = press(3.75 * SIGMA);
    const station = 1 + (run % (IDS.length - 1));
    let early = false;
    for (let n = 1; n <= 30; n++) early = on.put(checkOf(random, n, still)).some((f) => f.type === 'event') || early;
    if (early) continue;
    const moved = movedBy(cause, station, size * SIGMA);
    for (let n = 1; n <= 80; n++) {
      const first = on
        .put(checkOf(random, 30 + n, moved))
        .find((f): f is Extract<Finding, { type: 'event' }> => f.type === 'event');
      if (first === undefined && n < 80) continue;
      checks += n;
      counted += 1;
      if (
        first?.axis === 'along' &&
        first.cause.kind === cause &&
        (first.cause.kind !== 'station' || first.cause.station === IDS[station])
      )
        right += 1;
      break;
    }
  }
  return { delay: checks / Math.max(1, counted), right: (100 * right) / Math.max(1, counted) };
};

/** True movement by station; the reference's own is taken off every reading. */
const movedBy = (cause: CauseKind, station: number, mm: number): ((k: number) => number) => {
  if (cause === 'reference') return (k) => (k === SEVEN.reference ? mm : 0);
  if (cause === 'station') return (k) => (k === station ? mm : 0);
  const from = SEVEN.at_m[SEVEN.reference] ?? 0;
  const far = (SEVEN.at_m.at(-1) ?? 1) - from;
  return (k) => (mm * ((SEVEN.at_m[k] ?? 0) - from)) / far;
};

type Trouble = 'pure scatter' | 'step 3' | 'ramp 0.1' | 'walk 0.1' | 'walk 0.2' | 'walk 0.4';
type Outcome = { readonly square: number; readonly out: number; readonly touches: number };
const CHECKS = 120;
const STATION = 2;
const TOLERANCE_MM = 3.75 * SIGMA;
const WEIGHTS = [0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6];

const truthOf = (trouble: Trouble, seed: number): readonly number[] => {
  const random = seeded(seed);
  let walk = 0;
  return Array.from({ length: CHECKS }, (_, n) => {
    if (trouble === 'step 3') return n >= 30 ? 3 * SIGMA : 0;
    if (trouble === 'ramp 0.1') return 0.1 * SIGMA * n;
    if (trouble === 'pure scatter') return 0;
    walk += Number(trouble.slice(5)) * SIGMA * random.normal();
    return walk;
  });
};

const closedLoop = (trouble: Trouble, runs: number): string => {
  const seeds = Array.from({ length: runs }, (_, run) => 300 + run * 17);
  const plain = (weight: number): Outcome =>
    mean(Array.from({ length: 300 }, (_, run) => plainRule(trouble, 300 + run * 17, weight)));
  const never = plain(0);
  const last = plain(1);
  const best = [never, ...WEIGHTS.map(plain)].reduce((a, b) => (b.square < a.square ? b : a));
  const ours = mean(seeds.map((seed) => advised(trouble, seed)));
  const said = (o: Outcome): string => `${o.square.toFixed(2)} ${(100 * o.out).toFixed(2)} % ${o.touches.toFixed(1)}`;
  return `${trouble.padEnd(13)} never ${said(never)} | last reading ${said(last)} | best EWMA ${said(best)} | ours ${said(ours)} | ours / best ${(ours.square / best.square).toFixed(2)}`;
};

/** Integral control of one channel with the weight given: 0 never, 1 always by the last reading. */
const plainRule = (trouble: Trouble, seed: number, weight: number): Outcome => {
  const truth = truthOf(trouble, seed);
  const random = seeded(seed + 1);
  let moved = 0;
  let square = 0;
  let out = 0;
  for (const mm of truth) {
    const level = mm + moved;
    const reading = level + SIGMA * random.normal();
    square += reading * reading;
    if (Math.abs(level) > TOLERANCE_MM) out += 1;
    moved -= weight * reading * (1 + 0.1 * random.normal());
  }
  return { square: square / CHECKS / SIGMA ** 2, out: out / CHECKS, touches: weight === 0 ? 0 : CHECKS };
};

/** Every move that the open movements ask for is made before the next check. */
const advised = (trouble: Trouble, seed: number): Outcome => {
  const truth = truthOf(trouble, seed);
  const random = seeded(seed + 2);
  const knob = seeded(seed + 3);
  const on = press(TOLERANCE_MM);
  const turned = { along: new Map<string, number>(), across: new Map<string, number>() };
  const at = (axis: 'along' | 'across', k: number): number => turned[axis].get(IDS[k] ?? '') ?? 0;
  let square = 0;
  let out = 0;
  let touches = 0;
  truth.forEach((mm, n) => {
    const along = (k: number): number => (k === STATION ? mm : 0) + at('along', k);
    const record = checkOf(random, n + 1, along, (k) => at('across', k));
    const level = along(STATION) - along(SEVEN.reference);
    const reading = record.type === 'check' ? (record.readings[STATION]?.along_mm ?? 0) : 0;
    square += reading * reading;
    if (Math.abs(level) > TOLERANCE_MM) out += 1;
    on.put(record);
    for (const move of asked(on)) {
      touches += 1;
      turned[move.axis].set(
        move.station,
        (turned[move.axis].get(move.station) ?? 0) + move.move_mm * (1 + 0.1 * knob.normal()),
      );
      on.put({
        type: 'correction',
        station: move.station,
        axis: move.axis,
        move_mm: move.move_mm,
        teeth: move.teeth,
        divisions: move.divisions,
        web_m: (n + 1) * EVERY_M + 10,
      });
    }
  });
  return { square: square / CHECKS / SIGMA ** 2, out: out / CHECKS, touches };
};

const asked = (on: TryRun): readonly Move[] =>
  on
    .state()
    .judged.movements.flatMap((m) =>
      m.closed === null && !m.waiting && m.severity !== 'note' ? (m.advice?.moves ?? []) : [],
    );

const mean = (all: readonly Outcome[]): Outcome => ({
  square: all.reduce((sum, o) => sum + o.square, 0) / all.length,
  out: all.reduce((sum, o) => sum + o.out, 0) / all.length,
  touches: all.reduce((sum, o) => sum + o.touches, 0) / all.length,
});
