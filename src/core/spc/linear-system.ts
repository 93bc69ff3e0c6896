/**
 * Solves matrix x = right side for a square matrix given row by row; both are overwritten.
 * How: Gaussian elimination with partial pivoting. A singular matrix gives values that are not finite; the caller, who
 * knows what that means, says so. Source: G. H. Golub and C. F. Van Loan, Matrix Computations, section 3.4.
 * Example: [[2, 1], [1, 3]] x = [3, 5] gives [0.8, 1.4].
 */
export const solveLinear = (matrix: readonly Float64Array[], right: Float64Array): Float64Array => {
  const rows = [...matrix];
  const size = right.length;
  for (let column = 0; column < size; column += 1) {
    exchange(rows, right, column, largestBelow(rows, column));
    const pivotRow = rows[column] ?? right;
    const pivot = pivotRow[column] ?? 0;
    for (let i = column + 1; i < size; i += 1) {
      const row = rows[i] ?? right;
      const factor = (row[column] ?? 0) / pivot;
      if (factor === 0) continue;
      for (let j = column + 1; j < size; j += 1) row[j] = (row[j] ?? 0) - factor * (pivotRow[j] ?? 0);
      right[i] = (right[i] ?? 0) - factor * (right[column] ?? 0);
    }
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    const row = rows[i] ?? right;
    let sum = right[i] ?? 0;
    for (let j = i + 1; j < size; j += 1) sum -= (row[j] ?? 0) * (right[j] ?? 0);
    right[i] = sum / (row[i] ?? 0);
  }
  return right;
};

const largestBelow = (rows: readonly Float64Array[], column: number): number => {
  let best = column;
  for (let i = column + 1; i < rows.length; i += 1) {
    if (Math.abs(rows[i]?.[column] ?? 0) > Math.abs(rows[best]?.[column] ?? 0)) best = i;
  }
  return best;
};

const exchange = (rows: Float64Array[], right: Float64Array, a: number, b: number): void => {
  const rowA = rows[a];
  const rowB = rows[b];
  if (a === b || rowA === undefined || rowB === undefined) return;
  rows[a] = rowB;
  rows[b] = rowA;
  const kept = right[a] ?? 0;
  right[a] = right[b] ?? 0;
  right[b] = kept;
};
