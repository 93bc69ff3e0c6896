/** A number with all its digits and never an exponent, so that any spreadsheet reads it and it reads back the same. Example: 1e-7 → 0.0000001. */
export const decimalText = (value: number): string => {
  const shortest = String(value);
  const found = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(shortest);
  if (found === null) return shortest;
  const [, sign = '', whole = '', part = '', exponent = '0'] = found;
  const digits = whole + part;
  const point = whole.length + Number(exponent);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return point >= digits.length
    ? `${sign}${digits.padEnd(point, '0')}`
    : `${sign}${digits.slice(0, point)}.${digits.slice(point)}`;
};
