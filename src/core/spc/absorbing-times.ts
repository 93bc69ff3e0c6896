/**
 * How many moves a Markov chain makes on average until it is absorbed, from every state, right to nearly all digits
 * however long that takes.
 * How: states are taken out one by one; the chance of leaving a state is always added up from the chances of going
 * elsewhere and of being absorbed, never taken as one minus the chance of staying, so nothing cancels.
 * In: for every state the chances of going to every other (the one of staying is not used), and of being absorbed; both
 * are overwritten. Out: mean moves, the absorbing one counted; infinity where a state cannot be left.
 * Source: W. K. Grassmann, M. I. Taksar and D. P. Heyman (1985), Operations Research 33, 1107-1116.
 * Example: two states, each going to the other with 0.5 and absorbed with 1e-20: 1e20 moves.
 */
export const absorbingTimes = (moves: readonly Float64Array[], absorbed: Float64Array): Float64Array => {
  const size = absorbed.length;
  const times = new Float64Array(size).fill(1);
  const leaving = new Float64Array(size);
  for (let k = size - 1; k >= 0; k -= 1) {
    const row = moves[k] ?? absorbed;
    let out = absorbed[k] ?? 0;
    for (let j = 0; j < k; j += 1) out += row[j] ?? 0;
    leaving[k] = Math.max(out, Number.MIN_VALUE);
    for (let i = 0; i < k; i += 1) takeOut(moves[i] ?? absorbed, row, i, k, out, absorbed, times);
  }
  for (let k = 0; k < size; k += 1) {
    const row = moves[k] ?? absorbed;
    let sum = times[k] ?? 0;
    for (let j = 0; j < k; j += 1) if ((row[j] ?? 0) > 0) sum += (row[j] ?? 0) * (times[j] ?? 0);
    times[k] = sum / (leaving[k] ?? 1);
  }
  return times;
};

/** Leads what went from state i through state k past it. */
const takeOut = (
  row: Float64Array,
  through: Float64Array,
  i: number,
  k: number,
  out: number,
  absorbed: Float64Array,
  times: Float64Array,
): void => {
  const into = row[k] ?? 0;
  if (into === 0) return;
  if (out === 0) {
    times[i] = Number.POSITIVE_INFINITY;
    return;
  }
  const share = into / out;
  for (let j = 0; j < k; j += 1) row[j] = (row[j] ?? 0) + share * (through[j] ?? 0);
  absorbed[i] = (absorbed[i] ?? 0) + share * (absorbed[k] ?? 0);
  times[i] = (times[i] ?? 0) + share * (times[k] ?? 0);
};
