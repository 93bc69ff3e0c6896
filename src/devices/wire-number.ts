/** Longest number text looked at. */
const LONGEST = 24;

/**
 * A number as a sensor writes it: blanks around it, a sign, digits, one decimal mark, perhaps an exponent (NR1, NR2, NR3 of IEEE 488.2).
 * null = blank, no value; undefined = no number. NaN, Infinity, hex and thousands separators are no numbers.
 * Example: "+0,012" with a decimal comma is 0.012.
 */
export const wireNumber = (text: string, decimal: '.' | ',', from = 0, to = text.length): number | null | undefined => {
  let at = from;
  let end = to;
  while (at < end && text.charCodeAt(at) === 32) at += 1;
  while (end > at && text.charCodeAt(end - 1) === 32) end -= 1;
  if (at === end) return null;
  const mark = decimal === '.' ? 46 : 44;
  const sign = text.charCodeAt(at);
  const begin = sign === 45 || sign === 43 ? at + 1 : at;
  let value = 0;
  let markAt = -1;
  for (let i = begin; i < end; i += 1) {
    const digit = text.charCodeAt(i) - 48;
    if (digit >= 0 && digit <= 9) value = value * 10 + digit;
    else if (digit + 48 === mark && markAt < 0) markAt = i;
    else return end - at > LONGEST ? undefined : longWay(text.slice(at, end), decimal);
  }
  const digits = end - begin - (markAt < 0 ? 0 : 1);
  if (digits === 0 || end - at > LONGEST) return undefined;
  // Up to 15 digits over a power of ten below 1e23 is the correctly rounded value; more go the long way.
  if (digits > 15) return longWay(text.slice(at, end), decimal);
  if (markAt >= 0 && markAt < end - 1) value /= POWERS[end - 1 - markAt] ?? 1;
  return sign === 45 ? -value : value;
};

const POWERS: readonly number[] = Array.from({ length: 16 }, (_, n) => Number(`1e${n}`));
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/;

const longWay = (text: string, decimal: '.' | ','): number | undefined => {
  if (decimal === ',' && text.includes('.')) return undefined;
  const plain = decimal === ',' ? text.replace(',', '.') : text;
  if (!NUMBER.test(plain)) return undefined;
  const value = Number(plain);
  return Number.isFinite(value) ? value : undefined;
};
