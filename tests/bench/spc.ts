import {
  changepoint,
  cusum,
  cusumRunLength,
  ewma,
  ewmaRunLength,
  individuals,
  individualsChart,
  type Method,
  moments,
  RULE_WORDS,
  seededNumbers,
} from '../../src/core/spc/index.js';

/** What the statistics cost, as ratios within one run: the lines to print. */
export async function benchSpc(): Promise<string[]> {
  const values = numbers(4000);
  const without = () => stream(values, false);
  const withChangepoint = () => stream(values, true);
  const ratio = medianRatio(withChangepoint, without, 21);
  const chart = () => individualsChart({}, values.slice(0, 1000));
  const ewmaCost = medianRatio(() => ewmaRunLength({ weight: 0.1, width: 2.814 }), chart, 21);
  const cusumCost = medianRatio(() => cusumRunLength({ slack: 0.5, decision: 5 }), chart, 21);
  const long = numbers(40_000);
  const tenfold = medianRatio(
    () => stream(long, true),
    () => stream(long.slice(0, 4000), true),
    7,
  );
  return [
    `spc: one reading through moments, EWMA, CUSUM, zone rules and changepoint (window 60): ${ratio.toFixed(2)} x the same without changepoint (asked: at most 4)`,
    `spc: run length of an EWMA to 6 digits: ${ewmaCost.toFixed(2)} x a 1,000-point chart; of a CUSUM: ${cusumCost.toFixed(2)} x (asked: under 100)`,
    `spc: 40,000 readings cost ${(tenfold / 10).toFixed(2)} x ten times 4,000 (asked: about 1, the cost of a reading does not grow)`,
  ];
}

const numbers = (count: number): number[] => {
  const { normal } = seededNumbers(1);
  return Array.from({ length: count }, normal);
};

const stream = (values: readonly number[], withChangepoint: boolean): void => {
  const feeds = [
    feed(moments, {}),
    feed(ewma, { target: 0, sigma: 1, weight: 0.2 }),
    feed(cusum, { target: 0, sigma: 1 }),
    feed(individuals, { centre: 0, sigma: 1, rules: RULE_WORDS }),
    ...(withChangepoint ? [feed(changepoint, { aim: 0, sigma: 1, threshold: 4.5 })] : []),
  ];
  for (const value of values) for (const take of feeds) take(value);
};

const feed = <Config, State, Point>(
  method: Method<Config, State, Point>,
  config: Config,
): ((value: number) => void) => {
  let state = method.initial(config);
  return (value) => {
    state = method.step(config, state, value).state;
  };
};

/** The median over several rounds of one cost over the other, each round timing both in turn. */
const medianRatio = (measured: () => unknown, baseline: () => unknown, rounds: number): number => {
  measured();
  baseline();
  const ratios = Array.from({ length: rounds }, () => {
    const base = elapsed(baseline);
    return elapsed(measured) / base;
  });
  return ratios.sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? Number.NaN;
};

const elapsed = (work: () => unknown): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};
