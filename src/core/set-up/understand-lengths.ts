import { ok, type Result } from '../result.js';
import { type Length, type LengthAsked, understandLength } from './understand-length.js';

/** Several lengths on one line: `1.2 1.2 2`, `1,2 1,2 2,0`, `4 ft, 4 ft, 6 ft`. The first that is none refuses them all. */
export const understandLengths = (text: string, asked: LengthAsked): Result<readonly Length[]> => {
  // Where numbers have points, or a blank follows, a comma stands between numbers.
  const spaced = (text.includes('.') ? text.replace(/,/g, ' ') : text.replace(/[,;]\s/g, ' ')).replace(/;/g, ' ');
  const parts = spaced
    .trim()
    .replace(/([\d.,])\s+(?=[A-Za-z'"])/g, '$1')
    .split(/\s+/);
  const lengths: Length[] = [];
  for (const part of parts) {
    const length = understandLength(part, asked);
    if (!length.ok) return length;
    lengths.push(length.value);
  }
  return ok(lengths);
};
