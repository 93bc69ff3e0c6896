/**
 * The step a reading device shows, from the readings themselves: what repeating readings are all whole multiples of.
 * How: readings as whole numbers of their last decimal, and the largest divisor of all of them. It may be coarser than
 * the device when few readings are seen, never finer.
 * In: readings in any unit. Out: the step in that unit; 0 when most readings differ (the step then does not show), or
 * when they have more than 6 decimals.
 * Source: Euclid, Elements VII.2. Example: 0.10, 0.05, 0.05, 0.10 has step 0.05.
 */
export const repeatedStep = (values: readonly number[]): number => {
  if (new Set(values).size > values.length / 2) return 0;
  for (let decimals = 0; decimals <= 6; decimals += 1) {
    const scale = 10 ** decimals;
    const whole = values.map((value) => Math.round(value * scale));
    if (values.some((value, i) => Math.abs(value * scale - (whole[i] ?? 0)) > 1e-6)) continue;
    return whole.reduce(largestDivisor, 0) / scale;
  }
  return 0;
};

const largestDivisor = (a: number, b: number): number => (b === 0 ? Math.abs(a) : largestDivisor(b, a % b));
