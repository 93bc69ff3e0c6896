/** Stops a value that is not a finite number at the door: it would poison every sum after it. */
export const finite = (value: number, what = 'reading'): number => {
  if (!Number.isFinite(value)) throw new RangeError(`a ${what} must be a finite number, got ${value}`);
  return value;
};
