import type { SignalWord } from './method.js';
import type { Zone } from './zone.js';

/**
 * The published patterns that say a chart is not steady, called by what they look for. Each is judged at the newest
 * reading and only once its whole window has been read; two-of-three and four-of-five speak only when the newest
 * reading is itself in the zone.
 * Source: Western Electric, Statistical Quality Control Handbook (1956): beyond-limits, two-of-three, four-of-five,
 * eight-one-side. L. S. Nelson (1984), J. Quality Technology 16(4), 237-239: the eight tests (nine-one-side,
 * six-trend, fourteen-alternating, fifteen-near-centre, eight-off-centre besides the first three).
 * Equal neighbours break a trend and an alternation; a reading on the centre line is on neither side.
 */
export type RuleWord = Exclude<SignalWord, 'changed'>;

export const RULE_WORDS: readonly RuleWord[] = [
  'beyond-limits',
  'two-of-three',
  'four-of-five',
  'eight-one-side',
  'nine-one-side',
  'six-trend',
  'fourteen-alternating',
  'fifteen-near-centre',
  'eight-off-centre',
];

/** `need` of the last `of` readings in zone `from` or farther out, all on one side. */
export type SideRule = { readonly need: number; readonly of: number; readonly from: 1 | 2 | 3 | 4 };

export const SIDE_RULES: Readonly<Partial<Record<RuleWord, SideRule>>> = {
  'beyond-limits': { need: 1, of: 1, from: 4 },
  'two-of-three': { need: 2, of: 3, from: 3 },
  'four-of-five': { need: 4, of: 5, from: 2 },
  'eight-one-side': { need: 8, of: 8, from: 1 },
  'nine-one-side': { need: 9, of: 9, from: 1 },
};

export const NEAR_CENTRE_RUN = 15;
export const OFF_CENTRE_RUN = 8;
export const TREND_READINGS = 6;
export const ALTERNATING_READINGS = 14;

/** What the rules need to remember of the readings before: the last zones, and the steps from one to the next. */
export type RuleMemory = {
  /** Newest last, at most 15. */
  readonly zones: readonly Zone[];
  readonly last: number | null;
  /** Steps in a row upward (positive) or downward (negative). */
  readonly trend: number;
  /** Steps in a row that each turned back on the one before, the first step counted. */
  readonly turns: number;
};

export const noMemory: RuleMemory = { zones: [], last: null, trend: 0, turns: 0 };

/** The memory after one more reading. */
export const remember = (memory: RuleMemory, value: number, zone: Zone): RuleMemory => {
  const step = memory.last === null ? 0 : Math.sign(value - memory.last);
  const before = Math.sign(memory.trend);
  return {
    zones: [...memory.zones.slice(1 - NEAR_CENTRE_RUN), zone],
    last: value,
    trend: step === 0 ? 0 : step === before ? memory.trend + step : step,
    turns: step === 0 ? 0 : step === -before ? memory.turns + 1 : 1,
  };
};

/** Whether the rule speaks at the newest reading of the memory. */
export const breaks = (rule: RuleWord, memory: RuleMemory): boolean => {
  const side = SIDE_RULES[rule];
  if (side !== undefined) return breaksSide(side, memory.zones);
  switch (rule) {
    case 'six-trend':
      return Math.abs(memory.trend) >= TREND_READINGS - 1;
    case 'fourteen-alternating':
      return memory.turns >= ALTERNATING_READINGS - 1;
    case 'fifteen-near-centre':
      return run(memory.zones, NEAR_CENTRE_RUN, (zone) => Math.abs(zone) <= 1);
    case 'eight-off-centre': {
      const window = memory.zones.slice(-OFF_CENTRE_RUN);
      return (
        run(window, OFF_CENTRE_RUN, (zone) => Math.abs(zone) >= 2) && Math.min(...window) < 0 && Math.max(...window) > 0
      );
    }
    default:
      return false;
  }
};

const breaksSide = ({ need, of, from }: SideRule, zones: readonly Zone[]): boolean => {
  const newest = zones.at(-1) ?? 0;
  if (zones.length < of || Math.abs(newest) < from) return false;
  const side = Math.sign(newest);
  let count = 0;
  for (let back = 1; back <= of; back += 1) if ((zones.at(-back) ?? 0) * side >= from) count += 1;
  return count >= need;
};

const run = (zones: readonly Zone[], length: number, inside: (zone: Zone) => boolean): boolean => {
  if (zones.length < length) return false;
  for (let back = 1; back <= length; back += 1) if (!inside(zones.at(-back) ?? 0)) return false;
  return true;
};
