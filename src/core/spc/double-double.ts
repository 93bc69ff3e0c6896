/**
 * Sums carried in two doubles (about 32 digits), so that a small scatter on a large value is not lost in the adding.
 * Source: T. J. Dekker (1971), A floating-point technique for extending the available precision, Numerische Mathematik
 * 18, 224-242; D. E. Knuth, The Art of Computer Programming vol. 2, section 4.2.2 (error of a sum).
 * Example: addDouble([1e16, 0], 1) then minus 1e16 leaves 1, where plain doubles leave 0.
 */
export type DoubleDouble = readonly [high: number, low: number];

const SPLITTER = 134217729; // 2^27 + 1

/** a + b without loss: the rounded sum and what the rounding dropped. */
export const twoSum = (a: number, b: number): DoubleDouble => {
  const sum = a + b;
  const part = sum - a;
  return [sum, a - (sum - part) + (b - part)];
};

/** a x b without loss. */
export const twoProduct = (a: number, b: number): DoubleDouble => {
  const product = a * b;
  const wideA = SPLITTER * a;
  const highA = wideA - (wideA - a);
  const lowA = a - highA;
  const wideB = SPLITTER * b;
  const highB = wideB - (wideB - b);
  const lowB = b - highB;
  return [product, lowA * lowB - (product - highA * highB - lowA * highB - highA * lowB)];
};

export const addDoubleDouble = (a: DoubleDouble, b: DoubleDouble): DoubleDouble => {
  const [high, low] = twoSum(a[0], b[0]);
  return renormalise(high, low + a[1] + b[1]);
};

export const addDouble = (a: DoubleDouble, b: number): DoubleDouble => addDoubleDouble(a, [b, 0]);

export const multiplyDoubleDouble = (a: DoubleDouble, b: DoubleDouble): DoubleDouble => {
  const [high, low] = twoProduct(a[0], b[0]);
  return renormalise(high, low + a[0] * b[1] + a[1] * b[0]);
};

/** a divided by a plain double, one correction step. */
export const divideDoubleDouble = (a: DoubleDouble, divisor: number): DoubleDouble => {
  const first = a[0] / divisor;
  const [back, backLow] = twoProduct(first, divisor);
  return renormalise(first, (a[0] - back - backLow + a[1]) / divisor);
};

const renormalise = (high: number, low: number): DoubleDouble => {
  const sum = high + low;
  return [sum, low - (sum - high)];
};
