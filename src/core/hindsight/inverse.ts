/** A square matrix, row by row. */
export type Square = Float64Array;

/** Inverse of a symmetric positive definite matrix by Gauss and Jordan without pivoting (none is needed for such a matrix). */
export const inverseOf = (matrix: Square): Square => {
  const n = Math.sqrt(matrix.length);
  const m = new Float64Array(matrix);
  for (let p = 0; p < n; p += 1) {
    const pivot = m[p * n + p] ?? 0;
    const row = m.slice(p * n, p * n + n);
    for (let i = 0; i < n; i += 1) {
      if (i === p) continue;
      const f = (m[i * n + p] ?? 0) / pivot;
      if (f === 0) continue;
      for (let j = 0; j < n; j += 1) m[i * n + j] = (m[i * n + j] ?? 0) - f * (row[j] ?? 0);
      m[i * n + p] = -f;
    }
    for (let j = 0; j < n; j += 1) m[p * n + j] = (row[j] ?? 0) / pivot;
    m[p * n + p] = 1 / pivot;
  }
  return m;
};
