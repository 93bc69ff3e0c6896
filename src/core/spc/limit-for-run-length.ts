/**
 * The limit that gives an asked mean run length: run lengths the other way round.
 * How: the logarithm of the run length rises almost evenly with the limit, so a bracket is widened from a first guess
 * and closed by the Illinois rule (a secant that cannot stall) until the limit is known to about 12 digits.
 * In: the run length as a function of the limit, the run length asked (above 1). Out: the limit, or null when no limit
 * between 1/1000 and 1000 times the guess gives it.
 * Source: G. Dahlquist and A. Bjorck (1974), Numerical Methods, section 6.4 (Illinois rule).
 * Example: run length 1 / (2 x normalSurvival(limit)) asked 370.398 gives 3.
 */
export const limitForRunLength = (
  runLengthAt: (limit: number) => number,
  asked: number,
  guess: number,
): number | null => {
  const miss = (limit: number): number => Math.log(runLengthAt(limit) / asked);
  let low = guess;
  let high = guess;
  let missLow = miss(guess);
  let missHigh = missLow;
  while (missLow > 0 && low > guess / 1000) {
    [high, missHigh] = [low, missLow];
    low /= 1.3;
    missLow = miss(low);
  }
  while (missHigh < 0 && high < guess * 1000) {
    [low, missLow] = [high, missHigh];
    high *= 1.3;
    missHigh = miss(high);
  }
  if (!(missLow <= 0 && missHigh >= 0)) return null;
  return close(miss, { low, missLow, high, missHigh });
};

type Bracket = { readonly low: number; readonly missLow: number; readonly high: number; readonly missHigh: number };

const close = (miss: (limit: number) => number, bracket: Bracket): number => {
  let { low, missLow, high, missHigh } = bracket;
  let kept = 0;
  for (let turn = 0; turn < 100 && high - low > 1e-13 * high; turn += 1) {
    if (missLow === 0) return low;
    if (missHigh === 0) return high;
    const middle = high - (missHigh * (high - low)) / (missHigh - missLow);
    const found = miss(middle);
    if (Math.abs(found) < 1e-14) return middle;
    if (found < 0) {
      [low, missLow] = [middle, found];
      if (kept < 0) missHigh /= 2;
      kept = -1;
    } else {
      [high, missHigh] = [middle, found];
      if (kept > 0) missLow /= 2;
      kept = 1;
    }
  }
  return (low + high) / 2;
};
