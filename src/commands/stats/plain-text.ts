import type { ChartPoint } from '../../core/spc/chart.js';
import type { StatsDocument } from '../../core/spc/stats/document.js';
import { plainChart } from './plain-chart.js';
import { shown } from './shown.js';

const CHART = { columns: 72, rows: 13 } as const;
const LONGEST_LIST = 12;

/** What one method found, as lines for a terminal or a pipe: the numbers, a chart where there is one, its signals. */
export const plainText = (document: StatsDocument): string => {
  const { method, n, centre, sigma, points, parameters, result } = document;
  const head = [
    method,
    ...(n === null ? [] : [`n ${n}`]),
    ...(centre === null ? [] : [`centre ${shown(centre)}`]),
    ...(sigma === null ? [] : [`sigma ${shown(sigma)}`]),
  ];
  const asked = listed(parameters).map(([name, value]) => `${name} ${value}`);
  const sections = [
    [head.join('   '), ...(asked.length === 0 ? [] : [asked.join('   ')])],
    pictureOf(document),
    method === 'trend' ? [] : signalsOf(points),
    table(
      method === 'runlength' ? runLengths(result) : listed(method === 'capability' ? withoutRefusal(result) : result),
    ),
  ];
  return `${sections
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
};

/** The picture that says it better than numbers: a chart of the points, or how the parts of a gauge study compare. */
const pictureOf = ({ method, points, centre, result, parameters }: StatsDocument): readonly string[] => {
  if (method === 'gauge') return bars(result);
  const middle = method === 'cusum' ? 0 : method === 'trend' || method === 'changepoint' ? null : centre;
  const chart = plainChart(method === 'trend' ? points.map(asRead) : points, middle, CHART);
  const room = method === 'capability' ? roomOf(parameters, result) : [];
  return room.length === 0 || chart.length === 0 ? [...room, ...chart] : [...room, '', ...chart];
};

/** For a trend the readings are drawn between their prediction limits; the line itself is in the numbers. */
const asRead = (point: ChartPoint): ChartPoint => ({ ...point, statistic: point.value });

const bars = (result: Readonly<Record<string, unknown>>): readonly string[] => {
  const total = result.total;
  if (typeof total !== 'number' || !(total > 0)) return [];
  const lines = ['repeatability', 'operator', 'interaction', 'part'].map((name) => {
    const variance = result[name];
    const share = typeof variance === 'number' ? variance / total : 0;
    return `${name.padEnd(14)}${(100 * share).toFixed(1).padStart(6)} % ${'#'.repeat(Math.round(50 * share))}`.trimEnd();
  });
  const used = result.share_of_tolerance;
  if (typeof used !== 'number') return lines;
  const percent = `the reading itself uses ${(100 * used).toFixed(1)} % of the tolerance (6 sigma)`;
  return [...lines, '', `${percent}: below 10 % serves, above 30 % does not (AIAG)`];
};

/** Where mean and +-3 sigma lie in the tolerance. */
const roomOf = (
  { lower, upper }: Readonly<Record<string, unknown>>,
  { mean, sigma_overall: sigma }: Readonly<Record<string, unknown>>,
): readonly string[] => {
  if (typeof lower !== 'number' || typeof upper !== 'number') return [];
  if (typeof mean !== 'number' || typeof sigma !== 'number') return [];
  const from = Math.min(lower, mean - 3 * sigma);
  const to = Math.max(upper, mean + 3 * sigma);
  const cells = new Array<string>(CHART.columns).fill(' ');
  const at = (value: number): number => Math.round(((value - from) / (to - from)) * (CHART.columns - 1));
  for (let cell = at(mean - 3 * sigma); cell <= at(mean + 3 * sigma); cell += 1) cells[cell] = '=';
  cells[at(mean)] = 'o';
  cells[at(lower)] = '|';
  cells[at(upper)] = '|';
  return [`tolerance | ${shown(lower)} to ${shown(upper)}, mean o, 3 sigma each way =`, cells.join('').trimEnd()];
};

const signalsOf = (points: readonly ChartPoint[]): readonly string[] => {
  const found = points.filter(({ signals }) => signals.length > 0);
  if (found.length === 0) return points.some(({ upper }) => upper !== null) ? ['no signals'] : [];
  const lines = found
    .slice(0, 40)
    .map(
      ({ i, statistic, signals }) =>
        `${String(i).padStart(6)}  ${shown(statistic ?? Number.NaN)}  ${signals.join(', ')}`,
    );
  return ['signals', ...lines, ...(found.length > 40 ? [`       and ${found.length - 40} more`] : [])];
};

/** The refusal itself goes to stderr; why the process is not steady stays with the numbers. */
const withoutRefusal = ({
  refusal: _told,
  ...rest
}: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> => rest;

/** One row for each shift or drift. */
const runLengths = (result: Readonly<Record<string, unknown>>): readonly (readonly [string, string])[] => {
  const numbers = (name: string): readonly number[] => {
    const list = result[name];
    return Array.isArray(list) ? list.filter((item) => typeof item === 'number') : [];
  };
  const asked = [
    ...numbers('shift').map((value) => `shift ${shown(value)}`),
    ...numbers('drift').map((value) => `drift ${shown(value)}`),
  ];
  const errors = numbers('standard_error');
  const lines = numbers('run_length').map((length, at): readonly [string, string] => {
    const error = errors[at];
    return [asked[at] ?? '', `${shown(length)} readings${error === undefined ? '' : ` (+- ${shown(error)})`}`];
  });
  const { limit } = result;
  return [...lines, ...(typeof limit === 'number' ? [['limit', shown(limit)] as const] : [])];
};

const table = (rows: readonly (readonly [string, string])[]): readonly string[] => {
  const wide = Math.max(0, ...rows.map(([name]) => name.length));
  return rows.map(([name, value]) => `${name.padEnd(wide)}  ${value}`);
};

/** Names and values as text; nested names joined, long lists left to `--json`. */
const listed = (record: Readonly<Record<string, unknown>>, before = ''): readonly (readonly [string, string])[] =>
  Object.entries(record).flatMap(([name, value]): readonly (readonly [string, string])[] => {
    const full = before + name;
    if (value === null || value === undefined) return [];
    if (Array.isArray(value)) {
      if (value.length === 0 || value.length > LONGEST_LIST) return [];
      return [[full, value.map((item) => (typeof item === 'number' ? shown(item) : String(item))).join(', ')]];
    }
    if (typeof value === 'object') return listed({ ...value }, `${full} `);
    return [[full, typeof value === 'number' ? shown(value) : String(value)]];
  });
