import { finite } from './finite.js';
import { type Method, signalOf } from './method.js';
import { type ZoneLines, zoneOf } from './zone.js';
import { breaks, noMemory, type RuleMemory, type RuleWord, remember } from './zone-rules.js';

/**
 * One reading at a time against fixed limits: is this reading, or the pattern it ends, unlike steady running?
 * How: limits at centre +- width x sigma, and the asked zone rules and run tests (`zone-rules`) on full windows.
 * In: centre and sigma in the unit of the readings; width has none (3 by default); `rules`, beyond-limits by default.
 * Out: the reading between its limits, and the words of the rules it breaks.
 * Too few: a rule stays silent until its window is full.
 * Errors: sigma not above 0 or width not above 0 throws.
 * Source: W. A. Shewhart (1931), Economic Control of Quality; NIST/SEMATECH e-Handbook 6.3.2.2 (individuals).
 * Example: centre 50.81, mean moving range 1.8778 gives limits 45.82 and 55.80 (NIST flow rate).
 */
export type IndividualsConfig = {
  readonly centre: number;
  readonly sigma: number;
  readonly width?: number;
  readonly rules?: readonly RuleWord[];
};

export type IndividualsPoint = { readonly statistic: number; readonly lower: number; readonly upper: number };

export const individuals: Method<IndividualsConfig, RuleMemory, IndividualsPoint> = {
  initial: (config) => {
    linesOf(config);
    return noMemory;
  },
  step: (config, state, value) => {
    const lines = linesOf(config);
    const next = remember(state, finite(value), zoneOf(lines, value));
    const words = (config.rules ?? DEFAULT_RULES).filter((rule) => breaks(rule, next));
    const reach = lines.width * lines.sigma;
    return {
      state: next,
      point: { statistic: value, lower: lines.centre - reach, upper: lines.centre + reach },
      signal: signalOf(words),
    };
  },
};

export const DEFAULT_RULES: readonly RuleWord[] = ['beyond-limits'];

const linesOf = ({ centre, sigma, width = 3 }: IndividualsConfig): ZoneLines => {
  finite(centre, 'centre');
  if (!(sigma > 0) || !(width > 0)) throw new RangeError(`sigma and width must be above 0, got ${sigma} and ${width}`);
  return { centre, sigma, width };
};
