/** A number as it is read by people: six significant digits, whole parts in full, no trailing zeros. */
export const shown = (value: number): string => {
  if (!Number.isFinite(value)) return String(value);
  if (Number.isInteger(value) && Math.abs(value) < 1e9) return String(value);
  const whole = Math.abs(value) < 1e9 ? Math.floor(Math.abs(value)).toString().length : 0;
  return String(Number(value.toPrecision(Math.max(6, whole + 1))));
};
