import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Autoregression,
  changepoint,
  correlatedEwma,
  cusum,
  ewma,
  individuals,
  type Method,
  moments,
  pageHinkley,
  RULE_WORDS,
  runMethod,
  type Signal,
  selfStarting,
  selfStartingCusum,
} from '../../../src/core/spc/index.js';

/**
 * One suite for every streaming method: pure, survives a JSON round trip mid-stream, stream = batch at every prefix,
 * NaN and infinity refused, shift and scale equivariant, nothing signalled when every reading is the aim.
 */
type Trial = {
  readonly name: string;
  /** What the method says of the readings, its settings moved and stretched with them. */
  readonly run: (values: readonly number[], shift?: number, scale?: number) => readonly Said[];
  readonly purely: (values: readonly number[]) => void;
  readonly roundTrip: (values: readonly number[], at: number) => readonly Said[];
  readonly first: (value: number) => void;
  /** Numbers of a point that move with the readings, that stretch with them, that stay. */
  readonly moves: readonly string[];
  readonly stretches: readonly string[];
};
type Said = { readonly point: unknown; readonly signal: Signal | null };

const trial = <Config, State, Point>(
  name: string,
  method: Method<Config, State, Point>,
  config: (shift: number, scale: number) => Config,
  moves: readonly string[],
  stretches: readonly string[],
): Trial => ({
  name,
  moves,
  stretches,
  run: (values, shift = 0, scale = 1) =>
    runMethod(method, config(shift, scale), values).steps.map(({ point, signal }) => ({ point, signal })),
  purely: (values) => {
    const settings = deepFreeze(config(0, 1));
    let state = method.initial(settings);
    for (const value of values) {
      const frozen = deepFreeze(state);
      const next = method.step(settings, frozen, value);
      expect(method.step(settings, frozen, value)).toEqual(next);
      state = next.state;
    }
  },
  roundTrip: (values, at) => {
    const settings = config(0, 1);
    let state = method.initial(settings);
    return values.map((value, i) => {
      if (i === at) state = JSON.parse(JSON.stringify(state)) as State;
      const next = method.step(settings, state, value);
      state = next.state;
      return { point: next.point, signal: next.signal };
    });
  },
  first: (value) => {
    method.step(config(0, 1), method.initial(config(0, 1)), value);
  },
});

const deepFreeze = <T>(value: T): T => {
  if (typeof value === 'object' && value !== null) {
    Object.freeze(value);
    Object.values(value).forEach(deepFreeze);
  }
  return value;
};

const sensor = (shift: number, scale: number): Autoregression => ({
  n: 400,
  mean: shift,
  coefficients: [0.5, 0.1],
  sigma: scale,
  longRunSd: 2.5 * scale,
});
const level = ['statistic', 'lower', 'upper'];
const TRIALS: readonly Trial[] = [
  trial('moments', moments, () => ({}), ['mean', 'min', 'max'], ['sd']),
  trial('individuals', individuals, (centre, sigma) => ({ centre, sigma, rules: RULE_WORDS }), level, []),
  trial('ewma', ewma, (target, sigma) => ({ target, sigma, weight: 0.2, headStart: 0.5 }), level, []),
  trial(
    'one-sided ewma',
    ewma,
    (target, sigma) => ({ target, sigma, weight: 0.3, sides: 1 as const, limits: 'fixed' as const }),
    level,
    [],
  ),
  trial('cusum', cusum, (target, sigma) => ({ target, sigma, headStart: 2 }), [], ['high', 'low', 'limit']),
  trial('changepoint, all known', changepoint, (aim, sigma) => ({ aim, sigma, threshold: 3.4 }), [], ['size', 'slope']),
  trial('changepoint, nothing known', changepoint, () => ({ threshold: 3.4, window: 12 }), [], ['size', 'slope']),
  trial(
    'changepoint, prior scatter',
    changepoint,
    (aim, sigma) => ({ aim, prior: { sigma, worth: 10 }, threshold: 3.4 }),
    [],
    ['size', 'slope'],
  ),
  trial(
    'page-hinkley',
    pageHinkley,
    (_, scale) => ({ delta: 0.5 * scale, threshold: 8 * scale }),
    ['mean'],
    ['up', 'down'],
  ),
  trial('self-starting, nothing known', selfStarting, () => ({}), [], []),
  trial('self-starting, prior and aim', selfStarting, (aim, sigma) => ({ aim, prior: { sigma, worth: 5 } }), [], []),
  trial('self-starting cusum', selfStartingCusum, () => ({}), [], []),
  trial(
    'ewma of a correlated sensor',
    correlatedEwma,
    (shift, scale) => ({ fit: sensor(shift, scale) }),
    ['expectedNext'],
    ['statistic', 'lower', 'upper'],
  ),
];

// Readings on a grid far coarser than rounding, so that moving and stretching them cannot tip one over a limit.
const reading = fc.integer({ min: -6000, max: 6000 }).map((k) => k / 1024 + 1 / 3000);
const readings = fc.array(reading, { minLength: 1, maxLength: 40 });

describe.each(TRIALS)('$name', (method) => {
  it('is pure: the same state and reading give the same step, and nothing it is given is changed', () => {
    fc.assert(
      fc.property(readings, (values) => method.purely(values)),
      { numRuns: 30 },
    );
  });
  it('survives a JSON round trip mid-stream', () => {
    fc.assert(
      fc.property(readings, fc.nat(39), (values, at) => {
        expect(method.roundTrip(values, at % values.length)).toEqual(method.run(values));
      }),
      { numRuns: 50 },
    );
  });
  it('stream = batch at every prefix', () => {
    fc.assert(
      fc.property(readings, (values) => {
        const whole = method.run(values);
        for (let n = 1; n <= values.length; n += 1) expect(method.run(values.slice(0, n)).at(-1)).toEqual(whole[n - 1]);
      }),
      { numRuns: 15 },
    );
  });
  it('refuses NaN and infinity', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() => method.first(bad)).toThrow(RangeError);
    }
  });
  it('moves and stretches with the readings', () => {
    fc.assert(
      fc.property(
        readings,
        fc.integer({ min: -50, max: 50 }),
        fc.constantFrom(0.001, 0.25, 8, 1000),
        (values, move, scale) => {
          const shift = move * scale;
          const plain = method.run(values);
          const moved = method.run(
            values.map((value) => shift + scale * value),
            shift,
            scale,
          );
          moved.forEach((step, i) => {
            expect(step.signal).toEqual(plain[i]?.signal);
            compare(numbersOf(step.point), numbersOf(plain[i]?.point), method, shift, scale);
          });
        },
      ),
      { numRuns: 60 },
    );
  });
  it('says nothing of readings that all equal the aim, but fifteen near the centre', () => {
    const words = method.run(Array.from({ length: 80 }, () => 0)).flatMap((step) => step.signal?.words ?? []);
    expect(new Set(words)).toEqual(new Set(method.name === 'individuals' ? ['fifteen-near-centre'] : []));
  });
});

const numbersOf = (point: unknown): Record<string, number> =>
  Object.fromEntries(
    Object.entries(point as Record<string, unknown>).filter(
      (entry): entry is [string, number] => typeof entry[1] === 'number',
    ),
  );

const compare = (
  got: Record<string, number>,
  plain: Record<string, number>,
  method: Trial,
  shift: number,
  scale: number,
): void => {
  expect(Object.keys(got)).toEqual(Object.keys(plain));
  for (const [name, value] of Object.entries(got)) {
    const before = plain[name] ?? Number.NaN;
    const want = method.moves.includes(name)
      ? shift + scale * before
      : method.stretches.includes(name)
        ? scale * before
        : name === 'variance'
          ? scale * scale * before
          : before;
    const unit =
      method.moves.includes(name) || method.stretches.includes(name) ? scale : name === 'variance' ? scale * scale : 1;
    expect(Math.abs(value - want), `${name}: ${value} for ${want}`).toBeLessThanOrEqual(1e-8 * (Math.abs(want) + unit));
  }
};
