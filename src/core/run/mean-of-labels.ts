/**
 * Several labels read of one setting, as one reading. Two that disagree by more than scatter: the one nearer to what was `expected` (with
 * nothing to go by, their mean, known no better than they are apart). Of three and more those far from the middle one are left out.
 * null = none read. Example: 0.02, 0.04 and −0.98 are 0.03.
 */
export const meanOfLabels = (
  labels: readonly number[],
  variance: number,
  expected: number | null,
): { readonly mm: number; readonly variance: number; readonly agree: boolean } | null => {
  const apart = APART * Math.sqrt(variance);
  const [first, second] = labels;
  if (first === undefined) return null;
  if (second === undefined) return { mm: first, variance, agree: true };
  if (labels.length === 2) {
    const far = Math.abs(first - second) > apart * Math.SQRT2;
    if (!far) return { mm: (first + second) / 2, variance: variance / 2, agree: true };
    if (expected === null)
      return { mm: (first + second) / 2, variance: variance / 2 + ((first - second) / 2) ** 2, agree: false };
    const nearer = Math.abs(first - expected) < Math.abs(second - expected) ? first : second;
    return { mm: nearer, variance, agree: false };
  }
  const sorted = labels.toSorted((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)] ?? first;
  const near = labels.filter((mm) => Math.abs(mm - middle) <= apart * Math.SQRT2);
  return { mm: near.reduce((a, b) => a + b, 0) / near.length, variance: variance / near.length, agree: true };
};

const APART = 3.5;
