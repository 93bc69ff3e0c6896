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
  if (end - at > LONGEST) return undefined;
  const mark = decimal === '.' ? 46 : 44;
  const first = text.charCodeAt(at);
  const negative = first === 45;
  let i = negative || first === 43 ? at + 1 : at;
  let value = 0;
  let digits = 0;
  let places = -1;
  for (; i < end; i += 1) {
    const c = text.charCodeAt(i);
    if (c >= 48 && c <= 57) {
      value = value * 10 + (c - 48);
      digits += 1;
      if (places >= 0) places += 1;
    } else if (c === mark && places < 0) places = 0;
    else break;
  }
  if (digits === 0) return undefined;
  // Up to 15 digits over a power of ten below 1e23 is the correctly rounded value; anything else goes the long way.
  if (i < end || digits > 15) return longWay(text.slice(at, end), decimal);
  const size = places > 0 ? value / (POWERS[places] ?? 1) : value;
  return negative ? -size : size;
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
