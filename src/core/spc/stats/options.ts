import { nearest } from '../../nearest.js';
import { quoted } from '../../quoted.js';
import { fail, ok, type Result } from '../../result.js';
import { RULE_WORDS, type RuleWord } from '../zone-rules.js';
import { numberOf } from './table.js';

/** What may be asked of a method, under plain names; anything not asked for is absent. */
export type StatsOptions = {
  readonly column?: string;
  readonly group?: string;
  readonly part?: string;
  readonly operator?: string;
  /** A number, or the name of a column: which one only the file can tell. */
  readonly size?: string;
  readonly target?: number;
  readonly sigma?: number;
  readonly weight?: number;
  readonly width?: number;
  readonly slack?: number;
  readonly decision?: number;
  readonly headStart?: number;
  readonly sides?: 1 | 2;
  readonly rules?: readonly RuleWord[];
  readonly limits?: 'fixed' | 'exact';
  readonly lower?: number;
  readonly upper?: number;
  readonly mean?: number;
  readonly sd?: number;
  readonly n?: number;
  readonly chart?: ChartWord;
  readonly shift?: readonly number[];
  readonly drift?: readonly number[];
  readonly asked?: number;
};

export const CHART_WORDS = ['individuals', 'zone', 'ewma', 'cusum', 'changepoint'] as const;
export type ChartWord = (typeof CHART_WORDS)[number];

/** Reads options as they were typed. The first that makes no sense is refused, with what is allowed. */
export const readOptions = (typed: Readonly<Record<string, unknown>>): Result<StatsOptions> => {
  const read: Record<string, unknown> = {};
  for (const [name, raw] of Object.entries(typed)) {
    const reader = READERS[name];
    if (raw === undefined || reader === undefined) continue;
    const value = reader(String(raw));
    if (!value.ok) return fail(`${flag(name)}: ${value.problem.message}`);
    read[name] = value.value;
  }
  const options: StatsOptions = read;
  const { lower, upper } = options;
  if (lower !== undefined && upper !== undefined && lower >= upper) {
    return fail(`tolerance upside down: --lower ${lower} is not below --upper ${upper}`);
  }
  return ok(options);
};

/** `headStart` as it is typed: `--head-start`. */
export const flag = (name: string): string => `--${name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

type Reader = (text: string) => Result<unknown>;

const text: Reader = (word) => (word.trim() === '' ? fail('must not be blank') : ok(word));

const number =
  (allowed: (value: number) => boolean = () => true, what = 'a number'): Reader =>
  (word) => {
    const value = numberOf(word.trim());
    return value !== null && allowed(value) ? ok(value) : fail(`${quoted(word)} is not ${what}`);
  };

const oneOf =
  <Word extends string>(words: readonly Word[]) =>
  (word: string): Result<Word> => {
    const found = words.find((known) => known === word.trim());
    if (found !== undefined) return ok(found);
    const near = nearest(word.trim(), words);
    return fail(`unknown word ${quoted(word)}${near === null ? '' : `, did you mean ${near}?`} (${words.join(', ')})`);
  };

const listOf =
  <Item>(item: (word: string) => Result<Item>): Reader =>
  (line) => {
    const items: Item[] = [];
    for (const word of line.split(',')) {
      const value = item(word.trim());
      if (!value.ok) return value;
      items.push(value.value);
    }
    return ok(items);
  };

const above0 = number((value) => value > 0, 'a number above 0');
const from0 = number((value) => value >= 0, 'a number from 0 up');

const READERS: Readonly<Record<string, Reader>> = {
  column: text,
  group: text,
  part: text,
  operator: text,
  size: text,
  target: number(),
  sigma: above0,
  weight: number((value) => value > 0 && value <= 1, 'a weight above 0 and at most 1'),
  width: above0,
  slack: from0,
  decision: above0,
  headStart: from0,
  sides: number((value) => value === 1 || value === 2, '1 or 2'),
  rules: listOf(oneOf(RULE_WORDS)),
  limits: oneOf(['exact', 'fixed']),
  lower: number(),
  upper: number(),
  mean: number(),
  sd: above0,
  n: number((value) => Number.isInteger(value) && value >= 2, 'a whole number, 2 or more'),
  chart: oneOf(CHART_WORDS),
  shift: listOf(number()),
  drift: listOf(number()),
  asked: number((value) => value > 1, 'a run length above 1'),
};
