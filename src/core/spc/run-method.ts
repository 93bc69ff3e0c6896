import { nearest } from '../nearest.js';
import { quoted } from '../quoted.js';
import { fail, type Result } from '../result.js';
import { capabilityAnswer } from './stats/capability.js';
import { countsOf } from './stats/counts.js';
import type { StatsAnswer } from './stats/document.js';
import { gaugeOf } from './stats/gauge.js';
import type { StatsOptions } from './stats/options.js';
import { runLengthsOf } from './stats/run-lengths.js';
import { summaryOf } from './stats/summary.js';
import type { Table } from './stats/table.js';
import { trendOf } from './stats/trend.js';
import { changeOf, individualsOf, meansOf, runningOf } from './stats/variables.js';

/** The methods of `holdreg stats`, the words they are asked for by. */
export const METHODS = [
  'individuals',
  'xbar-r',
  'xbar-s',
  'ewma',
  'cusum',
  'changepoint',
  'c',
  'u',
  'p',
  'capability',
  'gauge',
  'trend',
  'summary',
  'runlength',
] as const;

export type MethodWord = (typeof METHODS)[number];

/** Options that each method listens to, besides `column`. */
export const LISTENS: Readonly<Record<MethodWord, readonly (keyof StatsOptions)[]>> = {
  individuals: ['target', 'sigma', 'width', 'rules'],
  'xbar-r': ['group', 'target', 'sigma', 'width', 'rules'],
  'xbar-s': ['group', 'target', 'sigma', 'width', 'rules'],
  ewma: ['group', 'target', 'sigma', 'weight', 'width', 'limits', 'sides', 'headStart'],
  cusum: ['group', 'target', 'sigma', 'slack', 'decision', 'headStart', 'sides'],
  changepoint: ['group', 'target', 'sigma', 'width', 'asked'],
  c: ['target', 'width', 'limits', 'rules'],
  u: ['size', 'target', 'width', 'limits', 'rules'],
  p: ['size', 'target', 'width', 'limits', 'rules'],
  capability: ['group', 'target', 'sigma', 'width', 'rules', 'lower', 'upper', 'mean', 'sd', 'n'],
  gauge: ['part', 'operator', 'lower', 'upper'],
  trend: [],
  summary: [],
  runlength: [
    'chart',
    'shift',
    'drift',
    'asked',
    'width',
    'rules',
    'weight',
    'slack',
    'decision',
    'headStart',
    'sides',
    'limits',
    'sigma',
  ],
};

/** The method meant, or a refusal with the nearest right word. */
export const methodWord = (word: string): Result<MethodWord> => {
  const found = METHODS.find((method) => method === word);
  if (found !== undefined) return { ok: true, value: found };
  const near = nearest(word, METHODS);
  return fail(
    `unknown method ${quoted(word)}${near === null ? '' : `, did you mean ${near}?`} (${METHODS.join(', ')})`,
  );
};

/** One method on one table (null when none was read): the answer, or what is wrong and where. */
export const runStatsMethod = (method: MethodWord, options: StatsOptions, table: Table | null): Result<StatsAnswer> => {
  if (method === 'capability') return capabilityAnswer(options, table);
  if (method === 'runlength') return runLengthsOf(options);
  if (table === null) return fail(`${method} needs a FILE.csv`);
  switch (method) {
    case 'individuals':
      return individualsOf(options, table);
    case 'xbar-r':
    case 'xbar-s':
      return meansOf(method, options, table);
    case 'ewma':
    case 'cusum':
      return runningOf(method, options, table);
    case 'c':
    case 'u':
    case 'p':
      return countsOf(method, options, table);
    case 'gauge':
      return gaugeOf(options, table);
    case 'trend':
      return trendOf(options, table);
    case 'summary':
      return summaryOf(options, table);
    case 'changepoint':
      return changeOf(options, table);
  }
};
