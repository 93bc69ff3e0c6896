import type { PlaceFilter } from './place-filter.js';
import { type KnobResponse, PROVED_LOG_ODDS } from './response.js';

/** A knob seldom gives quite the same both ways, 1 sigma of the difference to their mean; common practice, no source. */
const EACH_WAY_SD = 0.05;
const MOST_LOG_ODDS = 8;

/**
 * What make-ready found a knob to do, as the run knows knobs: so its first advice allows for it. What it gives each way moves by what was found of both
 * together; which way it goes as surely as the two accounts are apart, and a direction that was given is given up where it is proved wrong.
 * Not turned: as it was. Example: taken for 1.00, found to give 0.72 ± 0.02: 0.72 each way, ± 0.05.
 */
export const knobFound = (before: KnobResponse, f: PlaceFilter): KnobResponse => {
  if (f.turns === 0) return before;
  const top = f.accounts.reduce((best, a) => (a.log > best.log ? a : best));
  const shareOf = (sense: 1 | -1): number =>
    f.accounts.reduce((sum, a) => (a.sense === sense ? sum + Math.exp(a.log - top.log) : sum), 0);
  const odds = Math.min(MOST_LOG_ODDS, Math.max(-MOST_LOG_ODDS, Math.log(shareOf(1) / shareOf(-1))));
  const by = top.mean[1] - (before.mean[0] + before.mean[1]) / 2;
  const [, [, gain = 0, both = 0] = [], [, , slack = 0] = []] = top.cov;
  const each = gain + EACH_WAY_SD ** 2;
  const { sense_given, ...rest } = before;
  return {
    ...rest,
    ...(sense_given === undefined || odds < -PROVED_LOG_ODDS ? {} : { sense_given }),
    moves: before.moves + f.turns,
    mean: [before.mean[0] + by, before.mean[1] + by, top.mean[2]],
    cov: [each, gain, both, gain, each, both, both, both, slack],
    sense_log_odds: odds,
    last: f.last === null ? before.last : f.last === top.sense ? 1 : -1,
  };
};
